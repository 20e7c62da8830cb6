"""What several files of this room begin with."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from proofgen import again, cli
from proofgen.store import Gathered, Store

_RECALL, _FOUND = (
    Store.recall,
    Gathered.found,
)  # before tests in one process were kept from what earlier runs remember


@pytest.fixture
def remembers(monkeypatch: pytest.MonkeyPatch) -> None:
    """Commands in this process take over what earlier ones remember, as in one of their own."""
    monkeypatch.setattr(Store, "recall", _RECALL)
    monkeypatch.setattr(Gathered, "found", _FOUND)
    monkeypatch.setattr(cli, "say_again", again.say_again)


@pytest.fixture
def shop(ready: Path, tmp_path: Path) -> Path:
    """A copy of the shop that a file of tests makes `ready` once."""
    return Path(shutil.copytree(ready, tmp_path / "shop"))
