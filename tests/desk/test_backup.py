"""A backup is whole, says what it leaves out, and comes back as the shop it was; one that would
write where it must not, or unpack to more than a shop, is refused and nothing appears."""

from __future__ import annotations

import os
import re
import shutil
import signal
import stat
import subprocess
import sys
import time
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest

from proofgen.signoff import Records
from tests.cli.small import (
    SHOP,
    files,
    make_shop,
    order_text,
    paint,
    run,
    state,
    write,
)  # fmt: skip
from tests.colour.made_profile import made_profile

HOUSE = Path(__file__).parents[2]
posix = pytest.mark.skipif(os.name == "nt", reason="this system has none of these")


@pytest.fixture(scope="module")
def ready(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two orders, one with a photo, one signed, and a printer's profile."""
    shop = make_shop(tmp_path_factory.mktemp("kept") / "shop", "fenn", demo=False)
    write(shop / "shop.yaml", SHOP.replace("margin: 5 mm", "margin: 5 mm, icc: press/our.icc"))
    (shop / "press").mkdir()
    (shop / "press" / "our.icc").write_bytes(made_profile())
    write(shop / "orders" / "pic" / "order.yaml", order_text(design="snap"))
    paint(shop / "orders" / "pic" / "photos" / "pier.jpg")
    run(shop, "build").ended(0)
    run(shop, "answer", "fenn", "--in-person", "Odalys").ended(0)
    return shop


@pytest.fixture
def shop(ready: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(ready, tmp_path / "shop", symlinks=True))


@pytest.fixture
def packed(ready: Path, tmp_path: Path) -> Path:
    run(ready, "backup", tmp_path / "b.zip").ended(0)
    return tmp_path / "b.zip"


def kept(shop: Path) -> dict[str, bytes]:
    made = ("site/", "workroom/", "records/.lock")
    return {n: content for n, content in files(shop).items() if not n.startswith(made)}


# -- packing


def test_what_comes_back_is_the_shop_as_it_was(ready, packed, tmp_path):
    back = tmp_path / "my shop again"
    told = run(tmp_path, "restore", packed, back).ended(0)
    assert kept(back) == kept(ready)
    for path in back.rglob("*.*"):
        assert path.is_dir() or path.stat().st_mode & 0o077 == 0, path
    assert f"Next: proofgen --shop {back} build" in told.out
    assert "The records are whole" in told.out
    assert re.search(r"They end on \d{4}-\d\d-\d\d at \d\d:\d\d\.", told.out)
    assert (
        f"remove it again, before anything is uploaded: proofgen --shop {back} forget" in told.out
    )
    run(back, "orders").ended(0)
    old, new = (run(s, "orders", "--json").document["orders"] for s in (ready, back))
    assert [o["state"] for o in old] == [o["state"] for o in new]
    run(back, "build").ended(0)


def test_the_printers_profile_goes_along(packed):
    with zipfile.ZipFile(packed) as pack:
        assert "press/our.icc" in pack.namelist()


def test_damaged_records_are_not_packed(shop, tmp_path):
    (payload,) = (shop / "records" / "fenn").glob("answer-1-*.json")
    payload.write_bytes(payload.read_bytes().replace(b"Odalys", b"Odalyx"))
    told = run(shop, "backup", tmp_path / "b.zip").ended(4)
    assert "records verify" in told.err and payload.name in told.err
    assert list(tmp_path.glob("*.zip")) == []


@pytest.mark.parametrize("name", ["shop.yaml", "orders/pic/photos/pier.jpg"])
def test_what_reads_back_otherwise_is_not_kept(shop, tmp_path, monkeypatch, name):
    """A disk that lies: one block of one file arrives otherwise than it was read."""
    add = zipfile._ZipWriteFile.write

    def lying(self, block: bytes) -> int:
        if self._zinfo.filename == name:
            block = bytes([block[0] ^ 1]) + block[1:]
        return add(self, block)

    monkeypatch.setattr(zipfile._ZipWriteFile, "write", lying)
    told = run(shop, "backup", tmp_path / "b.zip").ended(5)
    assert "reads back otherwise" in told.err
    assert [p.name for p in tmp_path.iterdir()] == ["shop"]


@posix
def test_links_and_what_is_no_file_are_told(shop, tmp_path):
    away = tmp_path / "away"
    shutil.move(shop / "orders" / "pic", away)
    (shop / "orders" / "pic").symlink_to(away, target_is_directory=True)
    (shop / "orders" / "fenn" / "rose.jpg").symlink_to(away / "photos" / "pier.jpg")
    os.mkfifo(shop / "words.pipe")
    os.mkfifo(shop / "designs" / "tag" / "pipe")
    write(shop / "shopping.txt", "milk")
    told = run(shop, "backup", tmp_path / "b.zip").ended(1)
    for lost in ("orders/pic: it is a link", "orders/fenn/rose.jpg: it is a link"):
        assert f"NOT in the backup: {lost}" in told.err
    assert "NOT in the backup: designs/tag/pipe: it is no file" in told.err
    assert "3 things of the shop could not go in" in told.out
    assert "no part of the shop (2): shopping.txt and words.pipe" in told.err
    with zipfile.ZipFile(tmp_path / "b.zip") as pack:
        assert not any("pier" in name or "rose" in name for name in pack.namelist())
        assert "press/our.icc" in pack.namelist()


@posix
def test_a_part_of_the_shop_on_another_disk_is_followed(shop, tmp_path):
    shutil.move(shop / "orders", tmp_path / "other")
    (shop / "orders").symlink_to(tmp_path / "other", target_is_directory=True)
    run(shop, "backup", tmp_path / "b.zip").ended(0)
    with zipfile.ZipFile(tmp_path / "b.zip") as pack:
        assert "orders/pic/photos/pier.jpg" in pack.namelist()


@posix
def test_names_that_other_machines_cannot_write_go_in_under_plain_ones(shop, tmp_path):
    photos = shop / "orders" / "pic" / "photos"
    try:
        for name in (b"caf\xe9.jpg", b"a:b.jpg", b"con.jpg", b"end.", "gpj\u202e.exe".encode()):
            (photos / os.fsdecode(name)).write_bytes(name)
    except OSError:
        pytest.skip("this disk takes no such names")
    told = run(shop, "backup", tmp_path / "b.zip").ended(0)
    assert "\u202e" not in told.err + told.out
    assert "caf%E9.jpg there" in told.err
    run(tmp_path, "restore", tmp_path / "b.zip", tmp_path / "back").ended(0)
    back = files(tmp_path / "back" / "orders" / "pic" / "photos")
    names = {"caf%E9.jpg", "a%3Ab.jpg", "%63on.jpg", "end%2E", "gpj%E2%80%AE.exe", "pier.jpg"}
    assert set(back) == names and back["caf%E9.jpg"] == b"caf\xe9.jpg"


@pytest.mark.parametrize("place", ["site", "site/p", "records", "orders/pic", "workroom/press"])
def test_a_backup_lies_neither_in_the_site_nor_in_what_it_packs(shop, place):
    told = run(shop, "backup", shop / place / "b.zip").ended(2)
    assert f"must not lie in {place.split('/')[0]}/" in told.err
    assert not (shop / place / "b.zip").exists()


@posix
def test_nor_by_a_link(shop, tmp_path):
    (tmp_path / "stick").symlink_to(shop / "site", target_is_directory=True)
    assert "published" in run(shop, "backup", tmp_path / "stick" / "b.zip").ended(2).err


@posix
@pytest.mark.parametrize("where", ["shop", "stick"])
def test_what_a_killed_backup_left_is_swept(shop, tmp_path, where):
    """In the shop by whatever works there next; elsewhere by the next backup, which leaves alone
    what another shop is just writing there."""
    folder = tmp_path / where
    folder.mkdir(exist_ok=True)
    others = write(tmp_path / "stick" / ".part-0123456789ab", "another shop's")
    program = (
        "import sys; sys.path.insert(0, sys.argv.pop(1)); from proofgen import cli; cli.main()"
    )
    slow = (
        "import time, zipfile; z = zipfile._ZipWriteFile; w = z.write;"
        "z.write = lambda s, b: (print('at', flush=True), time.sleep(60), w(s, b))[2];"
    )
    child = subprocess.Popen(
        [sys.executable, "-c", slow + program, str(HOUSE), "--shop", str(shop), "backup",
         str(folder / "b.zip")], stdout=subprocess.PIPE,
    )  # fmt: skip
    assert child.stdout is not None and child.stdout.readline() == b"at\n"
    child.send_signal(signal.SIGKILL)
    child.communicate()
    left = [p for p in folder.glob(".part-*") if p != others]
    assert len(left) == 1 and stat.S_IMODE(left[0].stat().st_mode) == 0o600
    if where == "shop":
        run(shop, "proof", "fenn")
    else:
        run(shop, "backup", folder / "c.zip").ended(0)
    assert not left[0].exists() and others.exists()


def test_the_same_shop_gives_the_same_backup(ready, packed, tmp_path):
    time.sleep(0.01)
    run(ready, "backup", tmp_path / "c.zip").ended(0)
    assert packed.read_bytes() == (tmp_path / "c.zip").read_bytes()


# -- restoring


def test_a_folder_that_holds_something_is_left_alone(packed, tmp_path):
    write(tmp_path / "busy" / "note.txt", "mine")
    told = run(tmp_path, "restore", packed, tmp_path / "busy").ended(2)
    assert "is not empty" in told.err
    assert files(tmp_path / "busy") == {"note.txt": b"mine"}
    run(tmp_path, "restore", packed, tmp_path / "back").ended(0)
    told = run(tmp_path, "restore", packed, tmp_path / "back").ended(2)
    assert "is a shop already" in told.err and f"{tmp_path / 'back'} orders" in told.err
    (tmp_path / "empty").mkdir()
    run(tmp_path, "restore", packed, tmp_path / "empty").ended(0)


Change = Callable[[zipfile.ZipFile, zipfile.ZipFile], None]


def remade(packed: Path, change: Change, comment: bool = False) -> Path:
    """The same backup with something else in it."""
    with zipfile.ZipFile(packed) as old, zipfile.ZipFile(packed.with_name("x.zip"), "w") as new:
        change(old, new)
        new.comment = old.comment if comment else b""
    return packed.with_name("x.zip")


def all_and(name: str, content: bytes = b"x", mode: int = 0o600, **more: int) -> Change:
    def change(old: zipfile.ZipFile, new: zipfile.ZipFile) -> None:
        for entry in old.infolist():
            new.writestr(entry, old.read(entry))
        entry = zipfile.ZipInfo("x")
        entry.filename = name  # as it is: ZipInfo would mend some
        entry.external_attr = mode << 16
        entry.compress_type = zipfile.ZIP_DEFLATED
        for key, value in more.items():
            setattr(entry, key, value)
        new.writestr(entry, content)

    return change


HOSTILE = {
    "up": all_and("../evil.txt"),
    "up inside": all_and("orders/../../evil.txt"),
    "absolute": all_and("/tmp/evil.txt"),
    "drive": all_and("C:/evil.txt"),
    "drive, no slash": all_and("C:evil.txt"),
    "backslash": all_and("orders\\..\\..\\evil.txt"),
    "network": all_and("//host/share/evil.txt"),
    "home": all_and("~/evil.txt"),
    "dot": all_and("orders/./evil.txt"),
    "device": all_and("orders/fenn/NUL.txt"),
    "turned": all_and("orders/gpj\u202e.txt"),
    "NUL": all_and("orders/a.txt\0.jpg"),
    "trailing dot": all_and("orders./evil.txt"),
    "link": all_and("orders/link", b"/etc/passwd", stat.S_IFLNK | 0o777),
    "device node": all_and("orders/dev", b"", stat.S_IFCHR | 0o600),
    "published": all_and("site/p/index.html"),
    "published, other letters": all_and("SITE/index.html"),
    "a file as a folder": all_and("shop.yaml/evil.txt"),
    "bomb": all_and("orders/bomb.bin", bytes(300_000_000)),
}


@pytest.mark.filterwarnings("ignore:Duplicate name")
@pytest.mark.parametrize("change", [*HOSTILE.values(), all_and("shop.yaml")], ids=[*HOSTILE, "2"])
def test_what_would_write_where_it_must_not_is_refused(packed, tmp_path, change):
    deep = tmp_path / "a" / "b"
    deep.mkdir(parents=True)
    before = set(tmp_path.rglob("*"))
    file = remade(packed, change)
    told = run(tmp_path, "restore", file, deep / "back")
    assert told.code in (3, 5), told
    told.ended(told.code)
    assert "\u202e" not in told.err
    assert set(tmp_path.rglob("*")) - before == {file}


def without(name: str) -> Change:
    def change(old: zipfile.ZipFile, new: zipfile.ZipFile) -> None:
        for entry in old.infolist():
            if entry.filename != name:
                new.writestr(entry, old.read(entry))

    return change


def changed(name: str) -> Change:
    def change(old: zipfile.ZipFile, new: zipfile.ZipFile) -> None:
        for entry in old.infolist():
            content = old.read(entry)
            new.writestr(entry, content + b" " if entry.filename == name else content)

    return change


@pytest.mark.parametrize("change", [without, changed])
def test_a_file_lacking_or_changed_is_told_by_the_digest_at_its_end(packed, tmp_path, change):
    file = remade(packed, change("orders/fenn/order.yaml"), comment=True)
    told = run(tmp_path, "restore", file, tmp_path / "back").ended(3)
    assert "packed" in told.err and not (tmp_path / "back").exists()


def test_no_backup_of_a_shop(packed, tmp_path):
    for file in (
        remade(packed, without("shop.yaml")),
        write(tmp_path / "note.zip", "no zip"),
        write(tmp_path / "empty.zip", ""),
    ):
        run(tmp_path, "restore", file, tmp_path / "back").ended(3)
    run(tmp_path, "restore", tmp_path / "none.zip", tmp_path / "back").ended(2)
    assert not (tmp_path / "back").exists()


def test_cut_short_or_with_a_bit_turned(packed, tmp_path):
    """Wherever a bit is turned, either nothing appears or all is as it was."""
    content, file = packed.read_bytes(), tmp_path / "bad.zip"
    run(tmp_path, "restore", packed, tmp_path / "good").ended(0)
    good = kept(tmp_path / "good")
    for n in range(30):
        at = len(content) * n // 30
        turned = content[:at] + bytes([content[at] ^ 16]) + content[at + 1 :]
        for bad in (content[:at], turned):
            file.write_bytes(bad)
            told = run(tmp_path, "restore", file, tmp_path / "back")
            told.ended(told.code)
            if told.code == 0:
                assert bad is turned and kept(tmp_path / "back") == good, at
                shutil.rmtree(tmp_path / "back")
            assert not (tmp_path / "back").exists()
    assert not list(tmp_path.rglob(".part-*"))


def test_records_damaged_before_backups_were_verified_come_back_and_are_told(packed, tmp_path):
    with zipfile.ZipFile(packed) as pack:
        name = next(n for n in pack.namelist() if n.startswith("records/fenn/answer-1"))
    file = remade(packed, changed(name))
    told = run(tmp_path, "restore", file, tmp_path / "back").ended(4)
    assert "records in this backup are not whole" in told.out and Path(name).name in told.err
    assert (tmp_path / "back" / name).is_file()


def test_a_backup_older_than_the_digest_at_its_end_is_restored(ready, packed, tmp_path):
    file = remade(packed, without("none"))
    run(tmp_path, "restore", file, tmp_path / "back").ended(0)
    assert kept(tmp_path / "back") == kept(ready)


def test_keys_are_said_and_left_out_with_a_word(tmp_path):
    """What is given to somebody who helps holds no key: nobody can answer for a customer with
    it."""
    shop = make_shop(tmp_path / "shop", "fenn")
    run(shop, "proof", "fenn").ended(0)
    told = run(shop, "backup", tmp_path / "all.zip").ended(0).out
    assert "the keys of your proofs" in told and "--without-keys" in told
    told = run(shop, "backup", tmp_path / "some.zip", "--without-keys").ended(0).out
    assert "knows of no proof" in told and "Records: " not in told
    with zipfile.ZipFile(tmp_path / "some.zip") as pack:
        names = pack.namelist()
        held = b"".join(pack.read(name) for name in names)
    assert "orders/fenn/order.yaml" in names and not [n for n in names if n.startswith("records")]
    assert Records(shop / "records").heads("fenn")[-1]["key"].encode() not in held
    back = tmp_path / "back"
    run(tmp_path, "restore", tmp_path / "some.zip", back).ended(0)
    assert state(back, "fenn")["state"] == "draft"
