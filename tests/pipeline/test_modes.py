"""Who may read what, under any umask: a shop's papers their owner alone, its site every host."""

from __future__ import annotations

import os
import stat
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.cli.small import make_shop, order_text, paint, run, write

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="Windows has no such permissions")

# What holds customers' names, words, pictures, keys and links.
OWNERS = ("records", "workroom", "orders/odalys-fenn", "b.zip")


@pytest.fixture(params=[0o000, 0o022, 0o077, 0o177], ids="umask {:03o}".format)
def umask(request: pytest.FixtureRequest) -> Iterator[int]:
    before = os.umask(request.param)
    yield request.param
    os.umask(before)


def mode(path: Path) -> int:
    return stat.S_IMODE(path.lstat().st_mode)


def all_in(top: Path) -> list[Path]:
    return [top, *top.rglob("*")]


def walked(folder: Path) -> Path:
    """A shop in which everything that writes has written."""
    before = os.umask(0o022)  # the maker's own files
    shop = make_shop(folder, "fenn", "done", season=True)
    photo = paint(folder.parent / "pier.jpg")
    os.umask(before)
    asked = "--customer", "Odalys Fenn", "--due", "2026-12-20", "--design", "snap"
    more = "--blank", "coaster-round", "--cloth", "white", "--quantity", "2", "--photo", photo
    run(shop, "order", *asked, *more).ended(0)
    run(shop, "build").ended(0)
    run(shop, "letter", "fenn", "--sent").ended(0)
    for name in ("fenn", "done"):
        run(shop, "answer", name, "--in-person", "Odalys Fenn").ended(0)
    run(shop, "proof", "fenn", "--one-file").ended(0)
    run(shop, "press", "--png", "--contact").ended(0)
    run(shop, "press", "--plan").ended(0)
    run(shop, "press", "done", "--done").ended(0)
    run(shop, "press", "done", "--spoiled", "1", "--because", "a ghost").ended(0)
    run(shop, "letter", "done", "--ready").ended(0)
    run(shop, "orders", "--tally").ended(0)
    run(shop, "build").ended(0)
    run(shop, "backup", shop / "b.zip").ended(0)
    return shop


def test_papers_are_their_owners_and_the_site_is_everybodys(tmp_path: Path, umask: int) -> None:
    shop = walked(tmp_path / "shop")
    assert {"letters", "press", "store", "orders", "pages"} <= {
        path.name for path in (shop / "workroom").iterdir()
    }
    for part in OWNERS:
        for path in all_in(shop / part):
            wanted = 0o700 if path.is_dir() else 0o600
            assert mode(path) == wanted, f"{path}: {mode(path):o}"
    site = all_in(shop / "site")
    assert len(site) > 20
    for path in site:
        wanted = 0o755 if path.is_dir() else 0o644
        assert mode(path) == wanted, f"{path}: {mode(path):o}"


def test_what_a_looser_version_left_is_closed(tmp_path: Path) -> None:
    shop = make_shop(tmp_path / "shop", "fenn")
    run(shop, "proof").ended(0)
    for path in (*all_in(shop / "records"), *all_in(shop / "workroom")):
        path.chmod(0o777 if path.is_dir() else 0o666)
    write(shop / "orders" / "fenn" / "order.yaml", order_text("Odalys & Bran"))
    run(shop, "proof", "fenn").ended(0)
    for part in ("records", "workroom"):
        assert mode(shop / part) == 0o700, part
    assert mode(shop / "records" / "journal.jsonl") == 0o600


def test_a_site_that_was_closed_to_the_host_is_opened(tmp_path: Path) -> None:
    shop = make_shop(tmp_path / "shop", "fenn", season=True)
    run(shop, "-q", "build").ended(0)
    for path in all_in(shop / "site"):
        path.chmod(0o700 if path.is_dir() else 0o600)
    run(shop, "-q", "build").ended(0)
    for path in all_in(shop / "site"):
        assert mode(path) == (0o755 if path.is_dir() else 0o644), path
