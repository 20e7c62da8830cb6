"""The demo's walk: lines that can be typed as they stand."""

from __future__ import annotations

import importlib
import os
import shlex
import shutil
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from proofgen import pipeline
from proofgen.pipeline.demo_shop import demo_walk
from proofgen.workshop import open_workshop
from tests.cli.small import make_shop, run

DEMO = importlib.import_module("proofgen.pipeline.demo_shop")  # the name also is a function

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
        [program, "--shop", shop, "orders"],
    ]


def test_the_demo_begins_with_what_to_open(tmp_path, monkeypatch):
    """The list of its orders is left to `orders`; places are told from where one stands."""
    small = tmp_path / "carried"
    shutil.copytree(make_shop(tmp_path, "fenn"), small / "content")
    monkeypatch.setattr(DEMO, "carried", small.joinpath)
    monkeypatch.chdir(tmp_path)
    made = pipeline.demo

    def with_a_notice(*given: Any) -> Any:
        built, workshop = made(*given)
        return replace(built, notices=["Make a backup."]), workshop

    monkeypatch.setattr(pipeline, "demo", with_a_notice)
    ran = run(Path("unused"), "demo", "mine").ended(0)
    out = ran.out
    lines = out.splitlines()
    # It ends with the guide, which is there to open; and what it tells of keys or backups asks
    # nothing of somebody who only looks.
    assert lines[-2] == "The guide, with every field, check and command:"
    assert Path(lines[-1].strip()).is_file() and Path(lines[-1].strip()).suffix == ".html"
    yours = "In a shop of your own this would be yours to do; in the demo, nothing is:"
    told = ran.err.splitlines()
    assert told[told.index(yours) + 1] == "  Make a backup."
    assert lines[0] == "Now walk it yourself."
    assert str(tmp_path) not in out.replace(sys.executable, "")
    assert str(Path("mine/site/index.html")) in lines[2]
    assert "--shop mine orders" in out and "start my-shop" in out
    assert "Odalys" not in out and len(lines) < 22
