"""Folders that appear whole, and what vanishes."""

from __future__ import annotations

import errno
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from proofgen import store
from proofgen.errors import MachineError
from proofgen.store import files

PAGE = {"index.html": b"<img src=a.jpg>", "a.jpg": b"\xff\xd8", "proof.pdf": b"%PDF"}


def listing(folder: Path) -> dict[str, bytes]:
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*.*")}


@pytest.fixture
def renamed(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The names that things were given by a rename, in order."""
    seen: list[str] = []
    plain = files.replace

    def replace(source: Path, target: Path) -> None:
        plain(source, target)
        seen.append(target.name)

    monkeypatch.setattr(files, "replace", replace)
    return seen


def test_a_new_folder_appears_whole(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Before the last rename nothing of it is there, after it everything is."""
    target = tmp_path / "p" / "token"
    plain = files.replace

    def replace(source: Path, to: Path) -> None:
        assert not target.exists()
        plain(source, to)

    monkeypatch.setattr(files, "replace", replace)
    assert store.write_folder(target, PAGE, last="index.html")
    assert listing(target) == PAGE and list(target.parent.iterdir()) == [target]


def test_what_a_page_shows_is_there_before_it_and_goes_after_it(
    tmp_path: Path, renamed: list[str]
) -> None:
    target = tmp_path / "token"
    store.write_folder(target, PAGE, last="index.html")
    del renamed[:]
    now = {"index.html": b"<img src=b.jpg>", "b.jpg": b"\xff\xd9", "proof.pdf": b"%PDF"}
    assert store.write_folder(target, now, last="index.html")
    assert renamed == ["b.jpg", "index.html"] and listing(target) == now
    assert not store.write_folder(target, now, last="index.html")
    assert store.write_folder(target, {"index.html": b"notice"}, last="index.html")
    assert listing(target) == {"index.html": b"notice"}


@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EIO])
def test_a_folder_that_cannot_be_filled_leaves_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int
) -> None:
    plain, count = files.replace, iter(range(2))

    def replace(source: Path, target: Path) -> None:
        if next(count, None) is None:
            raise OSError(number, "no")
        plain(source, target)

    monkeypatch.setattr(files, "replace", replace)
    with pytest.raises(MachineError):
        store.write_folder(tmp_path / "token", PAGE, last="index.html")
    assert list(tmp_path.iterdir()) == []


def test_a_folder_with_something_in_it_is_not_replaced(tmp_path: Path) -> None:
    target = tmp_path / "shop"
    target.mkdir()
    with store.appearing(target) as side:  # an empty one is
        store.write(side / "mine.txt", "first")
    with pytest.raises(MachineError, match="cannot be made"), store.appearing(target) as side:
        store.write(side / "theirs.txt", "second")
    assert listing(tmp_path) == {"shop/mine.txt": b"first"}


def test_a_folder_goes_out_of_sight_at_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    gone = tmp_path / "order"
    store.write(gone / "photos" / "pier.jpg", b"x")

    def dies(_: Path, **more: object) -> None:
        assert not gone.exists()
        raise KeyboardInterrupt

    with monkeypatch.context() as patch:
        patch.setattr(shutil, "rmtree", dies)
        with pytest.raises(KeyboardInterrupt):
            store.remove_folder(gone)
    assert store.sweep(tmp_path) == 1 and list(tmp_path.iterdir()) == []
    store.remove_folder(gone)  # what is not there need not go


def test_sweeping_takes_half_made_files_and_folders_alone(tmp_path: Path) -> None:
    store.write(tmp_path / "p" / ".part-0a" / "photos" / "pier.jpg", b"x")
    store.write(tmp_path / "p" / "token" / ".part-0b", b"x")
    store.write(tmp_path / "p" / "token" / "a.part-0c", b"x")
    assert store.sweep(tmp_path) == 2 and store.sweep(tmp_path) == 0
    assert list(listing(tmp_path)) == ["p/token/a.part-0c"]


@pytest.mark.skipif(not shutil.which("strace"), reason="strace is not installed")
def test_a_durable_folder_is_flushed_with_its_name(tmp_path: Path) -> None:
    """Its files before the rename that shows them, its name after."""
    script = (
        "import sys; from pathlib import Path; from proofgen import store\n"
        "with store.appearing(Path(sys.argv[1]), durable=True) as side:\n"
        "    store.write(side / 'order.yaml', 'x', durable=True)\n"
    )
    log = tmp_path / "calls"
    watch = ["strace", "-f", "-y", "-e", "trace=fsync,rename,renameat,renameat2", "-o", str(log)]
    run = [sys.executable, "-c", script, str(tmp_path / "orders" / "fenn")]
    subprocess.run([*watch, *run], check=True)
    calls = [line.split(maxsplit=1)[1] for line in log.read_text().splitlines() if "(" in line]
    shown = next(i for i, c in enumerate(calls) if "rename" in c and '/fenn"' in c)
    assert any("fsync" in c and ".part-" in c for c in calls[:shown])
    assert any("fsync" in c and c.rstrip().split(">")[0].endswith("/orders") for c in calls[shown:])
