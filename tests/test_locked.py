"""What is written down to be installed fits what is asked for, and could come from any index."""

from __future__ import annotations

import re
import tomllib
from importlib.metadata import PackageNotFoundError, requires, version

import pytest
from packaging.markers import default_environment
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from tests.lock import BUILDERS, CONSTRAINTS, HOUSE, SHOP, TESTS, blocks, constraints, pins

FILES = (SHOP, TESTS)
PROJECT = tomllib.loads((HOUSE / "pyproject.toml").read_text("utf-8"))["project"]
SYSTEMS = [
    {"sys_platform": system, "platform_system": name, "python_version": version,
     "python_full_version": f"{version}.0", "platform_python_implementation": "CPython",
     "implementation_name": "cpython", "extra": ""}
    for system, name in (("linux", "Linux"), ("darwin", "Darwin"), ("win32", "Windows"))
    for version in ("3.11", "3.12", "3.13")
]  # fmt: skip


def holds(marker: object, system: dict[str, str]) -> bool:
    return not marker or Requirement(f"x ; {marker}").marker.evaluate(system)  # type: ignore[union-attr]


def locked(system: dict[str, str], *files: str) -> dict[str, str]:
    """The releases for one system; each once."""
    found: dict[str, str] = {}
    for file in files:
        for name, release, marker in pins(file):
            if holds(marker, system):
                assert name not in found, f"{name} twice on {system['sys_platform']}"
                found[name] = release
    return found


@pytest.mark.parametrize(
    "system", SYSTEMS, ids=lambda s: f"{s['sys_platform']} {s['python_version']}"
)
def test_on_every_system_all_that_is_asked_for_is_written_down_above_its_floor(system):
    shop = locked(system, SHOP.read_text())
    both = locked(system, SHOP.read_text(), TESTS.read_text())
    tests = PROJECT["optional-dependencies"]["test"]
    asked = [(line, shop) for line in (*PROJECT["dependencies"], *BUILDERS)]
    for line, there in [*asked, *((line, both) for line in tests)]:
        one = Requirement(line)
        if holds(one.marker, system):
            assert one.specifier.contains(there[canonicalize_name(one.name)]), line


def standing(name: str) -> str:
    """The release that is installed here; '' for none."""
    try:
        return version(name)
    except PackageNotFoundError:
        return ""


def test_nothing_that_one_of_them_needs_is_left_out():
    """As those that are installed here say it, for this system: pip is told to fetch no more."""
    here = {**default_environment(), "extra": ""}
    there = locked(here, SHOP.read_text(), TESTS.read_text())
    same = {n for n, release in there.items() if standing(n) == release}
    assert len(same) > len(there) / 2 or not standing("editables"), "made from other releases"
    for name in same:
        for line in requires(name) or ():
            one = Requirement(line)
            if holds(one.marker, here):
                assert canonicalize_name(one.name) in there, f"{name} needs {line}"


def test_every_release_has_the_digests_of_files_for_several_systems():
    """A release of several wheels has one for each; what has one file for all has its source."""
    for file in FILES:
        for block in blocks(file.read_text()):
            digests = re.findall(r"--hash=sha256:[0-9a-f]{64}\b", block)
            assert digests and len(digests) == len(set(digests)), block[:60]
    many = {b.split("==")[0]: b.count("--hash") for b in blocks(SHOP.read_text())}
    for name in ("numpy", "pillow", "lxml", "pikepdf", "nh3", "rapidfuzz"):
        assert many[name] > 12, name


def test_they_name_no_index():
    for file in (*FILES, CONSTRAINTS):
        text = file.read_text()
        assert not re.search(r"://|index|find-links|trusted", text), file


def test_constraints_are_the_same_releases():
    assert CONSTRAINTS.read_text() == constraints(*(file.read_text() for file in FILES))
