"""The site on this machine: made anew when a file changes, told to open pages, kept from others."""

from __future__ import annotations

import http.client
import socket
import struct
import time
import urllib.request
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest

from tests.cli.small import make_shop, run, write
from tests.serving import served

SECONDS = 120  # a busy machine draws slowly


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = make_shop(tmp_path_factory.mktemp("served") / "shop", "fenn", season=True)
    run(made, "-q", "build").ended(0)
    return made


@pytest.fixture(scope="module")
def address(shop: Path) -> Iterator[str]:
    with served(shop) as (site, _):
        yield site


def got(address: str, path: str, host: str = "") -> tuple[int, bytes]:
    place = urlsplit(address).netloc
    asked = http.client.HTTPConnection(place, timeout=SECONDS)
    asked.request("GET", path, headers={"Host": host or place})
    answer = asked.getresponse()
    found = answer.status, answer.read()
    asked.close()
    return found


def test_a_page_asks_to_come_again_before_its_policy_stands(shop: Path, address: str) -> None:
    status, page = got(address, "/index.html")
    assert status == 200
    assert page.index(b"EventSource") < page.index(b"Content-Security-Policy")
    file = (shop / "site" / "index.html").read_bytes()
    assert b"EventSource" not in file, "it stands in no file"
    assert page.replace(page[page.index(b"<head>") + 6 : page.index(b"</script>") + 9], b"") == file


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("a.glb", "model/gltf-binary"), ("a.usdz", "model/vnd.usdz+zip"),
        ("a.webp", "image/webp"), ("a.woff2", "font/woff2"),
    ],
)  # fmt: skip
def test_a_file_is_called_by_its_registered_media_type(
    shop: Path, address: str, name: str, kind: str
) -> None:
    file = shop / "site" / "pictures" / name
    file.write_bytes(b"any")
    try:
        with urllib.request.urlopen(f"{address}/pictures/{name}", timeout=SECONDS) as answer:
            assert answer.headers["Content-Type"] == kind
    finally:
        file.unlink()


def test_a_private_page_is_shown_as_it_is(shop: Path, address: str) -> None:
    (home,) = (p for p in (shop / "site" / "p").iterdir() if p.is_dir())
    path = f"p/{home.name}/index.html"
    assert got(address, f"/{path}")[1] == (shop / "site" / path).read_bytes()


@pytest.mark.parametrize("path", ["/index.html", "/-changes", "/"])
def test_another_name_is_refused(address: str, path: str) -> None:
    """DNS rebinding: a page of somebody else's reaches this address under its own name."""
    status, body = got(address, path, "evil.example")
    assert status == 403 and b"Tern" not in body


@pytest.mark.parametrize(
    "path",
    [
        "/../records/journal.jsonl", "/%2e%2e/records/journal.jsonl", "/records/journal.jsonl",
        "/../shop.yaml", "/link/journal.jsonl",
    ],
)  # fmt: skip
def test_nothing_beside_the_site_is_shown(shop: Path, address: str, path: str) -> None:
    link = shop / "site" / "link"
    if not link.is_symlink():
        link.symlink_to(shop / "records")
    try:
        assert got(address, path)[0] == 404
    finally:
        link.unlink()


def test_what_changed_is_made_anew_and_told(shop: Path, address: str) -> None:
    with urllib.request.urlopen(f"{address}/-changes", timeout=SECONDS) as told:
        (season,) = (shop / "seasons").iterdir()
        before = season.read_text("utf-8")
        title = next(line for line in before.splitlines() if line.startswith("title:"))
        write(season, before.replace(title, "title: A season of another name"))
        until = time.monotonic() + SECONDS
        line = b""
        while line != b"data: again\n" and time.monotonic() < until:
            line = told.readline()
        assert line == b"data: again\n"
    assert b"A season of another name" in got(address, "/index.html")[1]


def test_a_fault_leaves_what_is_there(shop: Path, address: str) -> None:
    (season,) = (shop / "seasons").iterdir()
    before, page = season.read_text("utf-8"), got(address, "/index.html")[1]
    with urllib.request.urlopen(f"{address}/-changes", timeout=SECONDS) as told:
        write(season, before.replace("title:", "titel:"))
        while told.readline() != b"data: again\n":
            pass
    assert got(address, "/index.html") == (200, page)
    write(season, before)


def test_a_browser_that_goes_away_half_way_is_no_fault(shop: Path) -> None:
    """Nothing is said of it: the server's end, which the helper reads, was a page of Python's."""
    big = shop / "site" / "big.bin"
    big.write_bytes(bytes(30_000_000))  # more than any system keeps ready in between
    try:
        with served(shop) as (site, _):
            for _ in range(3):
                port = int(site.rpartition(":")[2])
                with socket.create_connection(("127.0.0.1", port)) as line:
                    hard = struct.pack("ii", 1, 0)  # it does not say goodbye
                    line.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, hard)
                    line.sendall(b"GET /big.bin HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n")
                    assert line.recv(20).startswith(b"HTTP/1.0 200")
            assert got(site, "/index.html")[0] == 200
    finally:
        big.unlink()
