"""What a proof's page weighs and whether it moves: one piece with each real photograph, and a list.

    python tests/bench/pages.py [--names 120] [--keep FOLDER]

Opened in Chromium as a phone of 390 px whose processor is slowed four times and whose pictures
come late by a second. Bytes are those of all that is loaded on opening, and after scrolling to the
end; the largest picture's time is a ratio to a bare page that holds it alone. Prints a table;
nothing here passes or fails.
"""

from __future__ import annotations

import argparse
import contextlib
import functools
import http.server
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import Browser

HOUSE = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(HOUSE))

from tests.bench.proofs import measured, shop_of  # noqa: E402
from tests.browsers import running_browser  # noqa: E402
from tests.real_photos import real_photo  # noqa: E402

PHOTOS = ("seeding.jpg", "sunset.jpg", "dragonfly.jpg", "pug.heic")
LATE = 1.0  # seconds
SLOWED = 4
_WATCH = """
window.shift = 0; window.largest = 0;
new PerformanceObserver(list => list.getEntries().forEach(e => { window.shift += e.value; }))
  .observe({ type: "layout-shift", buffered: true });
new PerformanceObserver(list => list.getEntries().forEach(e => { window.largest = e.startTime; }))
  .observe({ type: "largest-contentful-paint", buffered: true });
"""


class _Late(http.server.SimpleHTTPRequestHandler):
    def log_message(self, *_: object) -> None:
        pass

    def do_GET(self) -> None:
        if self.path.endswith((".jpg", ".png")):
            time.sleep(LATE)
        with contextlib.suppress(ConnectionError):  # a page that was closed asks no more
            super().do_GET()


@contextmanager
def served(folder: Path) -> Iterator[str]:
    """The folder's address, its pictures late."""
    handler = functools.partial(_Late, directory=str(folder))
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{server.server_port}/"
        server.shutdown()


def opened(browser: Browser, address: str) -> dict[str, float]:
    """What opening a page and scrolling through it costs."""
    context = browser.new_context(viewport={"width": 390, "height": 844}, device_scale_factor=2)
    page = context.new_page()
    told = {"bytes": 0.0}
    devtools = context.new_cdp_session(page)
    devtools.send("Network.enable")
    devtools.send("Emulation.setCPUThrottlingRate", {"rate": SLOWED})

    def done(event: dict[str, float]) -> None:
        told["bytes"] += event["encodedDataLength"]

    devtools.on("Network.loadingFinished", done)
    page.add_init_script(_WATCH)
    page.goto(address, wait_until="load")
    page.wait_for_timeout(2000)
    told["opening"], told["largest"] = told["bytes"], page.evaluate("window.largest")
    for _ in range(0, page.evaluate("document.documentElement.scrollHeight"), 500):
        page.mouse.wheel(0, 500)
        page.wait_for_timeout(150)
    page.wait_for_timeout(2000)
    told["shift"] = page.evaluate("window.shift")
    context.close()
    return told


def bare(folder: Path) -> None:
    """A page that holds the first large picture alone, beside the proof."""
    first = next(folder.glob("view-1-front-*"))
    (folder / "bare.html").write_text(
        '<!DOCTYPE html><html lang="en"><meta name="viewport" content="width=device-width">'
        f'<title>Bare</title><img alt="" src="{first.name}" style="width: 100%">',
        "utf-8",
    )


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--names", type=int, default=120)
    asked.add_argument("--keep", type=Path, help="leave the shops here to look at")
    given = asked.parse_args()
    browser = running_browser()
    with tempfile.TemporaryDirectory() as scratch:
        for photo in PHOTOS:
            folder = (given.keep or Path(scratch)) / photo.replace(".", "-")
            lists = {"one": 1, "many": given.names} if photo == PHOTOS[0] else {"one": 1}
            shop_of(folder, real_photo(photo), lists)
            for order in lists:
                before = set(folder.glob("site/p/*/index.html"))
                measured(folder, "proof", order)
                (page,) = set(folder.glob("site/p/*/index.html")) - before - {folder / "site/p"}
                bare(page.parent)
                with served(page.parent) as address:
                    told = opened(browser, address)
                    alone = opened(browser, address + "bare.html")
                print(
                    f"{photo}, {lists[order]} names: {told['opening'] / 1000:.0f} KB on opening, "
                    f"{told['bytes'] / 1000:.0f} KB in all; shift {told['shift']:.4f}; "
                    f"largest picture {told['largest'] / alone['largest']:.2f} of a bare page’s"
                )


if __name__ == "__main__":
    main()
