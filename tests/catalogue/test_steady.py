"""Nothing on the season's pages moves while they come in, and no picture comes larger than it is
drawn: pages in small parts, pictures and letters late."""

from __future__ import annotations

import contextlib
import functools
import http.server
import io
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import Browser

from proofgen.catalogue import Entry, Plate, Scaled, build
from proofgen.render import Theme
from tests.catalogue.season import FITTING, entry, offer, season, with_form

# Google's "good" is 0.1 (web.dev, Cumulative Layout Shift); ours is a fifth of that.
MOST_SHIFT = 0.02
PARTS, LATE_S = 8, 0.06
SIZE = (640, 969)  # px, as a design's first picture
_WATCH = """
window.moved = [];
new PerformanceObserver((list) => list.getEntries().forEach((e) => window.moved.push(
  [e.value, ...e.sources.map((s) => s.node ? (s.node.outerHTML || s.node.data).slice(0, 80) : "")]
))).observe({ type: "layout-shift", buffered: true });
"""


def picture(width: int) -> bytes:
    stream = io.BytesIO()
    Image.new("RGB", (width, width * SIZE[1] // SIZE[0]), "#7090a8").save(stream, "WEBP")
    return stream.getvalue()


def in_sizes(plate: Plate) -> Plate:
    """A plate as the shop's are: of a common size, and slimmer ones beside it."""
    scaled = tuple(
        Scaled(name=f"pictures/w{width}.webp", content=picture(width), width_px=width)
        for width in (320, 640, 960)
    )
    return replace(plate, width_px=SIZE[0], height_px=SIZE[1], scaled=scaled)


def design(number: int) -> Entry:
    title = f"Design number {number}"
    steps = ((1, "14.50"), (6, "13.00"))
    one = offer(title, prices=steps)
    one = replace(one, plates=tuple(map(in_sizes, one.plates)))
    made = with_form(entry(f"d{number}", title, one))
    return replace(made, fitting=FITTING) if number == 0 else made


class _Slow(http.server.SimpleHTTPRequestHandler):
    """Pages in parts, so that a browser draws what it has; everything else later than they are."""

    def log_message(self, *_: object) -> None:
        pass

    def do_GET(self) -> None:
        with contextlib.suppress(ConnectionError):
            if not self.path.endswith(".html"):
                time.sleep(PARTS * LATE_S)
                return super().do_GET()
            content = Path(self.translate_path(self.path)).read_bytes()
            body = content.find(b"<body")
            step = (len(content) - body) // PARTS + 1
            self.send_response(200)
            self.send_header("Content-Type", "text/html; charset=utf-8")
            self.send_header("Content-Length", str(len(content)))
            self.end_headers()
            self.wfile.write(content[:body])
            for at in range(body, len(content), step):
                self.wfile.write(content[at : at + step])
                self.wfile.flush()
                time.sleep(LATE_S)
        return None


@contextmanager
def slowly(folder: Path) -> Iterator[str]:
    handler = functools.partial(_Slow, directory=str(folder))
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        server.daemon_threads = True
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{server.server_port}"
        server.shutdown()


def written(folder: Path, theme: str) -> Path:
    every = tuple(design(number) for number in range(7))
    for name, content in build(season(every), Theme(theme), with_pdf=False).items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(content)
    return folder


@pytest.mark.parametrize("theme", ["quay", "kite"])
def test_nothing_moves_while_a_page_comes_in(browser: Browser, tmp_path: Path, theme: str) -> None:
    with slowly(written(tmp_path, theme)) as address:
        for width, height in ((390, 844), (1440, 900)):
            for name in ("index.html", "designs/d0.html", "for/gift.html"):
                context = browser.new_context(viewport={"width": width, "height": height})
                page = context.new_page()
                page.add_init_script(_WATCH)
                page.goto(f"{address}/{name}", wait_until="load", timeout=120_000)
                page.wait_for_timeout(500)
                moved = page.evaluate("window.moved")
                context.close()
                assert sum(one[0] for one in moved) <= MOST_SHIFT, (name, width, moved)


def test_the_watch_sees_what_moves(browser: Browser) -> None:
    page = browser.new_page(viewport={"width": 390, "height": 844})
    page.add_init_script(_WATCH)
    page.goto("data:text/html,<p id=a></p><h1>Down</h1><p style='height:300px'>It goes</p>")
    page.wait_for_timeout(300)
    page.evaluate("document.getElementById('a').style.height = '200px'")
    page.wait_for_timeout(300)
    assert sum(one[0] for one in page.evaluate("window.moved")) > MOST_SHIFT
    page.close()


def test_a_phone_fetches_no_more_than_it_draws(browser: Browser, tmp_path: Path) -> None:
    """`naturalWidth` of a picture chosen by `sizes` is the width that these said (HTML, "density-
    corrected natural width")."""
    folder = written(tmp_path, "kite")
    context = browser.new_context(viewport={"width": 412, "height": 823}, device_scale_factor=1.75)
    page = context.new_page()
    page.goto((folder / "index.html").as_uri())
    page.evaluate("document.querySelectorAll('img').forEach((i) => { i.loading = 'eager'; })")
    page.evaluate("Promise.all([...document.images].map((i) => i.decode()))")
    seen = page.evaluate(
        """() => [...document.querySelectorAll('.mosaic img')].map((img) => {
             const box = img.getBoundingClientRect();
             const ratio = img.getAttribute('width') / img.getAttribute('height');
             return [Math.min(box.width, box.height * ratio), img.naturalWidth];
           })"""
    )
    context.close()
    assert len(seen) == 7
    for drawn, said in seen:
        assert 0.9 * drawn <= said <= 1.2 * drawn, seen
