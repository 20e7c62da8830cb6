"""Forgetting: no trace of a customer stays in the shop, and nothing is claimed that is not so."""

from __future__ import annotations

import os
import re
import shutil
import zlib
from pathlib import Path

import pytest

from tests.cli.small import (
    code_seen,
    files,
    id_of,
    make_shop,
    order_text,
    page,
    paint,
    run,
    state,
    write,
)

ORDER, CUSTOMER = "zebedee-harbour", "Zebedee Quirke"
NAMES = (b"zebedee", b"quirke", b"harbourmail", b"otterline", b"pier.jpg")


@pytest.fixture(scope="module")
def ready(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A shop with keys, links and ids of its own, and two orders that share a sheet."""
    shop = make_shop(tmp_path_factory.mktemp("forgetting") / "shop", demo=False)
    text = order_text(design="snap", customer=CUSTOMER)
    text = text.replace("someone@fenn", "harbourmail@fenn")
    text += order_text("Otterline").split("lines:\n")[1]
    write(shop / "orders" / ORDER / "order.yaml", text)
    paint(shop / "orders" / ORDER / "photos" / "pier.jpg")
    write(shop / "orders" / "maren" / "order.yaml", order_text("Maren", customer="Maren Holt"))
    run(shop, "build").ended(0)
    return shop


def _unpacked(content: bytes) -> bytes:
    """A file with what its streams hold, so that a PDF's words are read, too."""
    streams = re.findall(rb"stream\r?\n(.*?)endstream", content, re.DOTALL)
    texts = [content]
    for one in streams:
        try:
            texts.append(zlib.decompress(one))
        except zlib.error:
            continue
    return b"\n".join(texts).lower()


def _traces(shop: Path) -> dict[str, list[bytes]]:
    found = {}
    for name, content in files(shop).items():
        held = [word for word in NAMES if word in _unpacked(content) + name.lower().encode()]
        if held:
            found[name] = held
    for path in shop.rglob("*"):
        if any(word in path.name.lower().encode() for word in NAMES):
            found[str(path)] = []
    return found


def test_no_name_remains_anywhere_in_the_shop(shop: Path) -> None:
    """After an order's whole way: proof, letters, answers, sheets, ticket, evening, tally."""
    run(shop, "letter", ORDER, "--sent").ended(0)
    run(shop, "answer", code_seen(shop, "change", ORDER)).ended(0)
    run(shop, "answer", code_seen(shop, "ok", ORDER)).ended(4)
    run(shop, "proof", ORDER, "--again").ended(0)
    run(shop, "answer", ORDER, "--in-person", CUSTOMER, "--says", "ok").ended(0)
    run(shop, "answer", "maren", "--in-person", "Maren Holt").ended(0)
    run(shop, "press", "--plan").ended(0)
    run(shop, "press").ended(0)
    run(shop, "orders", "--tally")
    run(shop, "press", ORDER, "--spoiled", "1", "--because", f"a ghost beside {CUSTOMER}").ended(0)
    run(shop, "press", ORDER, "--done").ended(0)
    run(shop, "letter", ORDER, "--ready").ended(0)
    run(shop, "build").ended(0)
    assert len(_traces(shop)) > 20  # the test can see them
    one = id_of(shop, ORDER)
    run(shop, "forget", ORDER, "--sure", ORDER).ended(0)
    assert _traces(shop) == {}
    run(shop, "build").ended(0)
    run(shop, "press").ended(0)
    assert _traces(shop) == {}
    told = run(shop, "orders").out + run(shop, "orders", "--json").out
    told += run(shop, "check", "--json").out + run(shop, "orders", "--tally", "--json").out
    assert not [word for word in NAMES if word in told.lower().encode()]
    assert one in told and state(shop, one)["state"] == "forgotten"
    run(shop, "records", "verify").ended(0)
    run(shop, "orders", "--cleared", one).ended(0)


@pytest.mark.parametrize("what", ["orders", "store", "letters", "press", "site", "records"])
def test_what_could_not_be_deleted_is_named_until_it_is_gone(shop: Path, what, monkeypatch) -> None:
    """Files of another user, or held open by another program."""
    run(shop, "answer", "maren", "--in-person", "Maren Holt").ended(0)
    run(shop, "build").ended(0)
    link = state(shop, "maren")["link"].rstrip("/").rpartition("/")[2]
    parts = {
        "orders": shop / "orders",
        "store": shop / "workroom" / "store",
        "letters": shop / "workroom" / "letters",
        "press": shop / "workroom" / "press",
        "site": shop / "site" / "p" / link,
        "records": shop / "records" / "maren",
    }
    real, unlink = shutil.rmtree, Path.unlink

    def is_held(path: object) -> bool:
        return parts[what] == Path(str(path)) or parts[what] in Path(str(path)).parents

    def stuck_tree(path: object, ignore_errors: bool = False, **more: object) -> None:
        if is_held(path) or (what == "store" and Path(str(path)).parent.name == "workroom"):
            if not ignore_errors:
                raise PermissionError(13, "Permission denied", str(path))
            return
        real(path, ignore_errors=ignore_errors, **more)

    def stuck(path: Path, missing_ok: bool = False) -> None:
        if is_held(path) and path.name != "index.html" and os.path.lexists(path):
            raise PermissionError(13, "Permission denied", str(path))
        unlink(path, missing_ok=missing_ok)

    with monkeypatch.context() as patch:
        patch.setattr(shutil, "rmtree", stuck_tree)
        patch.setattr(Path, "unlink", stuck)
        for _ in range(2):  # the second run finds what the first has moved out of sight
            told = run(shop, "forget", "maren", "--sure", "maren").ended(5)
            assert "is forgotten" not in told.out
            assert "maren is not forgotten yet: this could not be deleted: “" in told.err
            assert "proofgen forget maren --sure maren" in told.err
    told = run(shop, "forget", "maren", "--sure", "maren").ended(0)
    assert "maren is forgotten" in told.out
    left = [n for n, content in files(shop).items() if b"Maren Holt" in content or "maren" in n]
    assert left == []
    run(shop, "records", "verify").ended(0)


def _linked(shop: Path, real: Path) -> None:
    shutil.move(shop / "orders" / ORDER, real)
    (shop / "orders" / ORDER).symlink_to(real, target_is_directory=True)


@pytest.mark.skipif(os.name == "nt", reason="links need a right of their own there")
def test_photos_behind_a_link_are_not_called_forgotten(shop: Path, tmp_path: Path) -> None:
    real = tmp_path / "elsewhere"
    _linked(shop, real)
    run(shop, "check").ended(0)
    before = files(shop)
    told = run(shop, "forget", ORDER, "--sure", ORDER).ended(3)
    assert f"“orders/{ORDER}” is a link" in told.err and f"“{real}” (2 files)" in told.err
    assert "nothing was done" in told.err and f"proofgen forget {ORDER}" in told.err
    assert files(shop) == before and len(files(real)) == 2
    shutil.rmtree(real)  # as the maker was told
    told = run(shop, "forget", ORDER, "--sure", ORDER).ended(0)
    assert "is forgotten" in told.out and _traces(shop) == {}


@pytest.mark.skipif(os.name == "nt", reason="links need a right of their own there")
def test_one_photo_behind_a_link_is_told_as_well(shop: Path, tmp_path: Path) -> None:
    real = shutil.move(shop / "orders" / ORDER / "photos" / "pier.jpg", tmp_path / "pier.jpg")
    (shop / "orders" / ORDER / "photos" / "pier.jpg").symlink_to(real)
    told = run(shop, "forget", ORDER, "--sure", ORDER).ended(3)
    assert f"“{real}” (1 file)" in told.err and real.is_file()
    (shop / "orders" / ORDER / "photos" / "pier.jpg").unlink()  # it shall stay where it is
    run(shop, "forget", ORDER, "--sure", ORDER).ended(0)
    assert real.is_file() and _traces(shop) == {}


@pytest.mark.skipif(os.name == "nt", reason="links need a right of their own there")
def test_a_folder_of_orders_on_another_disk_is_named(shop: Path, tmp_path: Path) -> None:
    """There the maker wants what is deleted to be deleted; where that was is said."""
    shutil.move(shop / "orders", tmp_path / "disk")
    (shop / "orders").symlink_to(tmp_path / "disk", target_is_directory=True)
    told = run(shop, "forget", ORDER, "--sure", ORDER).ended(0)
    assert f"orders/ is a link: what went of it lay in “{tmp_path / 'disk'}”" in told.out
    assert not (tmp_path / "disk" / ORDER).exists() and (tmp_path / "disk" / "maren").is_dir()


@pytest.mark.skipif(os.name == "nt", reason="rights are kept otherwise there")
def test_photos_closed_to_writing_are_forgotten_too(shop: Path) -> None:
    photos = shop / "orders" / ORDER / "photos"
    (photos / "pier.jpg").chmod(0o400)
    photos.chmod(0o500)
    photos.parent.chmod(0o500)
    run(shop, "forget", ORDER, "--sure", ORDER).ended(0)
    assert _traces(shop) == {}


def test_a_name_can_be_given_again(shop: Path) -> None:
    before = page(shop, "maren")
    run(shop, "forget", "maren", "--sure", "maren").ended(0)
    write(shop / "orders" / "maren" / "order.yaml", order_text("Maren", customer="Maren Holt"))
    run(shop, "build").ended(0)
    now = state(shop, "maren")
    assert (now["state"], now["edition"]) == ("ready", 1) and page(shop, "maren") != before


def test_forgetting_twice_never_leads_to_another_customer(shop: Path) -> None:
    shutil.copytree(shop / "orders" / "maren", shop / "orders" / "maren-2")
    run(shop, "forget", "maren-2", "--sure", "maren-2").ended(0)
    for more in ((), ("--sure", "maren-2")):
        told = run(shop, "forget", "maren-2", *more).ended(2).err
        assert "nothing was forgotten" in told and "without its name" in told
        assert "did you mean" not in told
    assert (shop / "orders" / "maren" / "order.yaml").exists()
