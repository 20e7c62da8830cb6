"""The demo's walk: lines that can be typed as they stand."""

from __future__ import annotations

import os
import shlex
from pathlib import Path

import pytest

from proofgen.pipeline.demo_shop import demo_walk
from proofgen.workshop import open_workshop

CONTENT = Path(__file__).parent.parent.parent / "content"


@pytest.mark.skipif(os.name == "nt", reason="shlex speaks of the shells of Unix")
def test_a_folder_with_spaces_is_one_word_of_the_line(tmp_path, monkeypatch):
    place = tmp_path / "Vera’s [new] shop" / "bin"
    place.mkdir(parents=True)
    for name in ("python", "proofgen"):
        (place / name).touch()
    monkeypatch.setattr("sys.executable", str(place / "python"))
    monkeypatch.setenv("PATH", str(tmp_path))
    workshop = open_workshop(CONTENT)
    told = demo_walk(workshop, [{"state": "out", "order": "fenn-harbour"}])
    lines = [shlex.split(line) for line in told if " --shop " in line]
    program, shop = str(place / "proofgen"), str(workshop.folder)
    assert lines == [
        [program, "--shop", shop, "answer", "-"],
        [program, "--shop", shop, "press", "fenn-harbour"],
    ]
