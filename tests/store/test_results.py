"""The store of worked-out results: made once, made again when damaged, never in the way."""

from __future__ import annotations

import json
import os
import time
from pathlib import Path

import pytest

from proofgen.errors import MachineError, ProofgenError
from proofgen.store import Lazy, NoStore, Recent, Store, dump_json, results


class Counted:
    """Makes a value, and counts how often."""

    def __init__(self, value: object = ("pier", 3)) -> None:
        self.value, self.made = value, 0

    def __call__(self) -> object:
        self.made += 1
        return self.value


def numbers(content: bytes) -> tuple[str, int]:
    name, count = json.loads(content)
    return name, count


def kept_files(folder: Path) -> list[Path]:
    return sorted(p for p in folder.rglob("*") if p.is_file())


def ask(store: Store, make: Counted, kind: str = "piers/1", key: str = "a") -> object:
    return store.remember(kind, key, make, numbers, dump_json)


def test_made_once_and_read_after(tmp_path: Path) -> None:
    make = Counted()
    assert ask(Store(tmp_path), make) == ask(Store(tmp_path), make) == ("pier", 3)
    assert make.made == 1


@pytest.mark.parametrize(("kind", "key"), [("piers/2", "a"), ("piers/1", "b"), ("piers/1a", "")])
def test_another_kind_or_key_is_another_entry(tmp_path: Path, kind: str, key: str) -> None:
    ask(Store(tmp_path), Counted())
    other = Counted(("quay", 1))
    assert ask(Store(tmp_path), other, kind, key) == ("quay", 1)
    assert other.made == 1


DAMAGE = {
    "empty": lambda whole: b"",
    "cut": lambda whole: whole[:-1],
    "one letter": lambda whole: whole.replace(b"pier", b"pies"),
    "written by an older proofgen, bare": lambda whole: whole[32:],
    "something else": lambda whole: b"\x89PNG" * 40,
}


@pytest.mark.parametrize("way", DAMAGE)
def test_a_damaged_entry_is_made_again_and_mended(tmp_path: Path, way: str) -> None:
    ask(Store(tmp_path), Counted())
    [file] = kept_files(tmp_path)
    whole = file.read_bytes()
    file.write_bytes(DAMAGE[way](whole))
    make = Counted()
    assert ask(Store(tmp_path), make) == ("pier", 3)
    assert make.made == 1 and file.read_bytes() == whole


def test_an_entry_that_cannot_be_opened_is_made_again(tmp_path: Path) -> None:
    ask(Store(tmp_path), Counted())
    [file] = kept_files(tmp_path)
    file.unlink()
    file.mkdir()  # neither read nor written as a file
    make = Counted()
    assert ask(Store(tmp_path), make) == ("pier", 3) and make.made == 1


@pytest.mark.parametrize(
    "trouble", [ValueError, KeyError, IndexError, TypeError, AttributeError, ProofgenError]
)
def test_an_entry_the_reader_refuses_is_made_again(
    tmp_path: Path, trouble: type[Exception]
) -> None:
    ask(Store(tmp_path), Counted())

    def refuse(_: bytes) -> object:
        raise trouble("not what I know")

    make = Counted(("quay", 1))
    store = Store(tmp_path)
    assert store.remember("piers/1", "a", make, refuse, dump_json) == ("quay", 1)
    assert make.made == 1
    assert ask(store, Counted()) == ("quay", 1)  # and what was made stands in its place


def test_what_is_not_worth_keeping_is_made_each_time(tmp_path: Path) -> None:
    make = Counted(None)
    for _ in range(2):
        assert Store(tmp_path).remember("piers/1", "a", make, numbers, lambda _: None) is None
    assert make.made == 2 and not kept_files(tmp_path)


def test_trouble_while_making_is_told_and_nothing_is_kept(tmp_path: Path) -> None:
    def fail() -> object:
        raise ValueError("the photo went bad")

    with pytest.raises(ValueError, match="went bad"):
        Store(tmp_path).remember("piers/1", "a", fail, numbers, dump_json)
    assert not kept_files(tmp_path)


def test_a_disk_that_takes_nothing_stops_nobody(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object, **__: object) -> bool:
        raise MachineError("the disk is full", "free some space", tmp_path)

    monkeypatch.setattr(results, "write", full)
    make = Counted()
    assert [ask(Store(tmp_path), make) for _ in range(2)] == [("pier", 3)] * 2
    assert make.made == 2


def test_no_store_makes_everything_anew(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    store, make = NoStore(), Counted()
    assert ask(store, make) == ask(store, make) == ("pier", 3)
    store.keep("pages", "a", b"stamp")
    assert make.made == 2 and store.recall("pages", "a") is None and not kept_files(tmp_path)


def test_what_is_kept_under_a_key_is_what_was_kept_last(tmp_path: Path) -> None:
    store = Store(tmp_path)
    assert store.recall("pages", "a") is None
    store.keep("pages", "a", b"first")
    store.keep("pages", "a", b"")
    assert Store(tmp_path).recall("pages", "a") == b""


def test_the_last_few_are_kept_in_memory() -> None:
    recent: Recent[str] = Recent(2)
    made: list[str] = []

    def ask_for(key: str) -> str:
        return recent.remember(key, lambda: made.append(key) or key.upper())

    for key in ("a", "b", "a", "c", "a", "b"):  # c pushes b out, which was asked for before a
        assert ask_for(key) == key.upper()
    assert made == ["a", "b", "c", "b"]


def test_trouble_while_making_is_not_kept_in_memory() -> None:
    recent: Recent[object] = Recent(2)

    def fail() -> object:
        raise ValueError("the photo went bad")

    for make in (fail, fail):
        with pytest.raises(ValueError, match="went bad"):
            recent.remember("a", make)
    assert recent.remember("a", Counted()) == ("pier", 3)


def test_things_by_name_are_made_when_asked_for_and_the_last_stay() -> None:
    made: list[str] = []
    lazy = Lazy(["a", "b", "c"], lambda name: made.append(name) or name.upper(), 1)
    assert len(lazy) == 3 and list(lazy) == ["a", "b", "c"] and "b" in lazy
    assert made == []
    assert (lazy["b"], lazy["b"], lazy["a"], lazy["b"]) == ("B", "B", "A", "B")
    assert made == ["b", "a", "b"]
    with pytest.raises(KeyError):
        lazy["d"]


def aged(path: Path, days: float) -> Path:
    then = time.time() - days * 86_400
    os.utime(path, (then, then))
    return path


def test_what_was_used_longest_ago_goes_where_there_is_too_much(tmp_path: Path) -> None:
    raster = tmp_path / "raster.png"
    raster.write_bytes(b"signed")
    folder = tmp_path / "store"
    store = Store(folder)
    for days, key in enumerate("abcd"):
        store.keep("piers/1", key, bytes(1000))
        aged(store._path("piers/1", key), days + 2)
    (store._path("piers/1", "a").parent / "link").symlink_to(raster)
    (folder / "said").mkdir()
    (folder / "said" / "world").write_bytes(bytes(9000))
    assert Store(folder).recall("piers/1", "d")  # used now, however old it is
    store.trim(3 * 1032)
    assert [key for key in "abcd" if Store(folder).recall("piers/1", key)] == ["a", "b", "d"]
    assert raster.read_bytes() == b"signed" and (folder / "said" / "world").is_file()


def test_what_nobody_used_for_half_a_year_goes(tmp_path: Path) -> None:
    store = Store(tmp_path)
    for key in "ab":
        store.keep("piers of an older version/1", key, b"x")
    aged(store._path("piers of an older version/1", "a"), 200)
    store.trim(10**9)
    assert len(kept_files(tmp_path)) == 2  # the other one, and when this was looked at


def test_the_store_is_not_gone_through_by_every_run(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    Store(tmp_path).trim(100)
    assert not kept_files(tmp_path), "a run that kept nothing has nothing to look for"
    looked = []
    monkeypatch.setattr(Store, "_entries", lambda self: looked.append(self) or iter(()))
    for most in (10**9, 10**9, 100):  # the first run of a day; little was kept; a good part was
        store = Store(tmp_path)
        store.keep("piers/1", "a", bytes(50))
        store.trim(most)
    assert len(looked) == 2
