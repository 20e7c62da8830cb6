"""What was worked out of many things lies in one file, and what was kept beside it counts too."""

from __future__ import annotations

from pathlib import Path

import pytest

from proofgen.store import Gathered, Store

NAMES = [f"order-{number}" for number in range(20)]


def files(folder: Path) -> list[Path]:
    return [path for path in folder.rglob("*") if path.is_file()]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Twenty results of two kinds, gathered."""
    made = Gathered(Store(tmp_path))
    for name in NAMES:
        for kind in ("checked", "standing"):
            made.keep(kind, name, f"{kind} {name}".encode())
    assert len(files(tmp_path)) == 40, "a killed run loses none"
    made.gather(NAMES)
    return tmp_path


def test_all_of_them_are_one_file(folder: Path) -> None:
    assert len(files(folder)) == 1
    again = Gathered(Store(folder))
    for name in NAMES:
        for kind in ("checked", "standing"):
            assert [*again.found(kind, name)] == [f"{kind} {name}".encode()]
    assert [*again.found("other", NAMES[0])] == []


def test_what_somebody_beside_kept_since_is_found_and_gathered(folder: Path) -> None:
    Store(folder).keep("checked", "order-3", b"newer")
    again = Gathered(Store(folder))
    assert [*again.found("checked", "order-3")] == [b"checked order-3", b"newer"]
    again.holds("checked", "order-3", b"newer")
    again.gather(NAMES)
    assert len(files(folder)) == 1
    assert [*Gathered(Store(folder)).found("checked", "order-3")] == [b"newer"]


def test_what_changed_takes_the_place_of_what_was(folder: Path) -> None:
    again = Gathered(Store(folder))
    again.keep("standing", "order-5", b"other")
    assert next(iter(again.found("standing", "order-5"))) == b"other"
    again.gather(NAMES)
    assert [*Gathered(Store(folder)).found("standing", "order-5")] == [b"other"]


def test_what_is_large_stays_a_file_of_its_own(folder: Path) -> None:
    again = Gathered(Store(folder))
    again.keep("checked", "order-5", b"x" * 200_000)
    again.keep("standing", "order-5", b"small")
    again.gather(NAMES)
    assert len(files(folder)) == 2
    assert [*Gathered(Store(folder)).found("checked", "order-5")] == [b"x" * 200_000]


def test_nothing_is_written_where_nothing_is_new(folder: Path) -> None:
    (one,) = files(folder)
    before = one.stat()
    again = Gathered(Store(folder))
    assert [*again.found("checked", "order-3")]
    again.holds("checked", "order-3", b"checked order-3")
    again.gather(NAMES)
    after = one.stat()
    assert (after.st_mtime_ns, after.st_ino) == (before.st_mtime_ns, before.st_ino)


def test_who_is_no_more_is_let_go_and_so_is_all_that_was_deleted(folder: Path) -> None:
    again = Gathered(Store(folder))
    again.keep("checked", "order-1", b"new")
    again.gather(NAMES[:5])
    left = Gathered(Store(folder))
    assert [*left.found("checked", "order-1")] == [b"new"]
    assert [*left.found("checked", "order-9")] == []
    left.let_go()
    for path in files(folder):
        path.unlink()
    left.keep("checked", "order-2", b"last")
    left.gather(NAMES)
    assert b"order-1" not in b"".join(path.read_bytes() for path in files(folder))


@pytest.mark.parametrize("damage", [b"", b"[[1]]\n", b'["a"]', b"\xff" * 40])
def test_what_is_damaged_counts_for_nothing(folder: Path, damage: bytes) -> None:
    (one,) = files(folder)
    one.write_bytes(damage)
    assert [*Gathered(Store(folder)).found("checked", "order-3")] == []
    Store(folder).keep("gathered/1", "", damage)
    again = Gathered(Store(folder))
    assert [*again.found("checked", "order-3")] == []
    again.keep("checked", "order-3", b"made again")
    again.gather(NAMES)
    assert [*Gathered(Store(folder)).found("checked", "order-3")] == [b"made again"]
