"""Writes down what is installed: `python tests/lock.py` asks the package index anew.

proofgen/locked.txt   the shop's packages and what builds them, with the digests of every file of
                      each release, so that any system and any mirror of the same files will do
tests/locked.txt      what the tests need beside them
proofgen/constraints.txt   the same releases without digests, for `pip install -c`, which takes no
                      digests beside a folder

The floors stand in pyproject.toml. The resolving is uv's, fetched for it into a temporary folder;
it looks for every system and every Python from the oldest that pyproject.toml names.
"""

from __future__ import annotations

import re
import subprocess
import sys
import tempfile
import tomllib
import venv
from pathlib import Path

HOUSE = Path(__file__).parent.parent
SHOP, TESTS = HOUSE / "proofgen" / "locked.txt", HOUSE / "tests" / "locked.txt"
CONSTRAINTS = HOUSE / "proofgen" / "constraints.txt"
BUILDERS = ("hatchling", "editables")  # so that nothing is fetched beside the files to build it
HEAD = "# Written by tests/lock.py.\n"

_PINNED = re.compile(r"^([A-Za-z0-9._-]+)==(\S+)(?: ; ([^\\\n]+?))?(?: \\)?$", re.M)


def pins(text: str) -> list[tuple[str, str, str]]:
    """Name, version and marker ('' for everywhere) of every release in a file."""
    return [(name, version, marker or "") for name, version, marker in _PINNED.findall(text)]


def blocks(text: str) -> list[str]:
    """Each release with its digests."""
    return [b for b in re.split(r"^(?=[A-Za-z0-9])", text, flags=re.M) if b[:1].isalnum()]


def constraints(*texts: str) -> str:
    """The releases of the files without digests."""
    lines = {f"{n}=={v}" + (f" ; {m}" if m else "") for text in texts for n, v, m in pins(text)}
    return HEAD + "".join(f"{line}\n" for line in sorted(lines))


def index() -> list[str]:
    """The index that pip is set up to ask."""
    asked = [sys.executable, "-m", "pip", "config", "get", "global.index-url"]
    told = subprocess.run(asked, capture_output=True, text=True, check=False)
    return ["--default-index", told.stdout.strip()] if told.stdout.strip() else []


def main() -> None:
    oldest = tomllib.loads((HOUSE / "pyproject.toml").read_text("utf-8"))["project"]
    with tempfile.TemporaryDirectory() as folder:
        room = Path(folder)
        venv.create(room, with_pip=True)
        programs = room / ("Scripts" if sys.platform == "win32" else "bin")
        subprocess.run([programs / "python", "-m", "pip", "install", "-q", "uv"], check=True)
        (room / "builders.in").write_text("\n".join(BUILDERS))

        def resolved(*more: str) -> str:
            asked = [programs / "uv", "pip", "compile", "-q", "pyproject.toml"]
            asked += [room / "builders.in", "--universal", "--generate-hashes", "--no-header"]
            asked += ["--no-annotate", "--python-version", oldest["requires-python"].strip(">=")]
            done = subprocess.run(
                [*asked, *index(), *more], cwd=HOUSE, stdout=subprocess.PIPE, text=True, check=True
            )
            return done.stdout

        shop = resolved()
        (room / "shop.txt").write_text(shop)
        both = resolved("--extra", "test", "-c", str(room / "shop.txt"))
    SHOP.write_text(HEAD + shop)
    known = {block.split("==")[0] for block in blocks(shop)}
    rest = [block for block in blocks(both) if block.split("==")[0] not in known]
    TESTS.write_text(HEAD + "".join(rest))
    CONSTRAINTS.write_text(constraints(shop, *rest))


if __name__ == "__main__":
    main()
