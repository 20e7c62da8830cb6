"""A file too large for the memory is written whole or not at all."""

from __future__ import annotations

from pathlib import Path
from typing import BinaryIO

import pytest

from proofgen import store
from proofgen.errors import StopError


def test_saved_whole_once_and_not_again(tmp_path: Path) -> None:
    path = tmp_path / "press" / "sheets.pdf"
    assert store.saved(path, lambda stream: (stream.write(b"one"), None)[1])
    seen = path.stat().st_mtime_ns
    assert not store.saved(path, lambda stream: (stream.write(b"one"), None)[1])
    assert (path.read_bytes(), path.stat().st_mtime_ns) == (b"one", seen)
    assert [one.name for one in path.parent.iterdir()] == ["sheets.pdf"]


def test_what_stops_half_way_leaves_the_old_file(tmp_path: Path) -> None:
    path = tmp_path / "sheets.pdf"
    path.write_bytes(b"old")

    def half(stream: BinaryIO) -> None:
        stream.write(b"half")
        raise StopError("a picture is not the signed one", "make a new proof")

    with pytest.raises(StopError):
        store.saved(path, half)
    assert path.read_bytes() == b"old"
    assert [one.name for one in tmp_path.iterdir()] == ["sheets.pdf"]
