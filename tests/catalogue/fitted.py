"""A small shop whose designs take photos, its pages made, and what its browser pages say."""

from __future__ import annotations

import functools
import http.server
import io
import threading
from base64 import b64decode
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path

from PIL import Image
from playwright.sync_api import Page

from proofgen import catalogue
from proofgen.pipeline.season_days import current_season
from proofgen.pipeline.seasons import season_content
from proofgen.shop import read_shop
from proofgen.workshop import Workshop
from tests.catalogue.test_published import SEASON, SHOP, WRAP

COLOURS = 'colours: {white: "#ffffff", sky: "#6fb7e9"}'
ROUND = """\
---
title: Round photo
offered: {my-wrap: 14.50, can-fold: 12.00, can-sewn-linen: 12.00}
faces:
  round:
    - photo: {slot: photo, at: fill}
  front:
    - colour: {colour: "#fdf6e6", at: [20 %, 74 %, 60 %, 14 %]}
    - words: {slot: name, at: [22 %, 75 %, 56 %, 12 %], size: 9 mm, colour: "#9a3324"}
sample: {photos: {photo: sample.png}, words: {name: Wren}}
---
All the way.
"""
FRONT = """\
---
title: Two photos
offered: {coaster-round: 6.50, my-wrap: 14.50, can-fold: 12.00}
faces:
  front:
    - colour: "#22366b"
    - photo: {slot: large, at: [-3 mm, 0 mm, 110 %, 60 %]}
    - colour: {colour: "#f2b93b", at: [10 %, 50 %, 80 %, 20 %]}
    - photo: {slot: small, at: [35 %, 55 %, 30 mm, 30 mm]}
labels: {large: the crew}
sample: {photos: {large: sample.png, small: sample.png}}
---
Two.
"""


def write_shop(folder: Path, **changed: str) -> Path:
    """The shop on disk; `changed` are other texts for `shop` and `wrap`."""
    for name, text in {
        "shop.yaml": changed.get("shop", SHOP),
        "blanks/my-wrap.yaml": changed.get(
            "wrap", WRAP.replace('colours: {white: "#ffffff"}', COLOURS)
        ),
        "designs/round/design.md": ROUND,
        "designs/front/design.md": FRONT,
        "seasons/spring.md": SEASON.format("Spring", "round, front"),
    }.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text, "utf-8")
    for design in ("round", "front"):
        Image.new("RGB", (400, 300), "#7090a8").save(folder / "designs" / design / "sample.png")
    return folder


@contextmanager
def shop_of(folder: Path) -> Iterator[Workshop]:
    """The shop opened."""
    shop = read_shop(folder)
    assert not shop.faults, [str(f) for f in shop.faults]
    with Workshop(folder, shop) as workshop:
        yield workshop


def publish(workshop: Workshop) -> Path:
    """Its season's pages on disk; where they are."""
    chosen = current_season(workshop)
    assert chosen
    content = season_content(workshop, chosen[0])
    assert not workshop.trouble, workshop.trouble
    made = catalogue.build(content, workshop.theme_for(None), with_pdf=False)
    for name, data in made.items():
        path = workshop.site / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)
    return workshop.site


class _Quiet(http.server.SimpleHTTPRequestHandler):
    def log_message(self, *_: object) -> None:
        pass


@contextmanager
def hosted(site: Path) -> Iterator[str]:
    """The site on a host of its own, where a page may read back what it drew; its address."""
    server = http.server.ThreadingHTTPServer(
        ("127.0.0.1", 0), functools.partial(_Quiet, directory=str(site))
    )
    with ExitStack() as ended:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        ended.callback(server.server_close)
        ended.callback(server.shutdown)
        yield f"http://127.0.0.1:{server.server_port}"


def listen(page: Page) -> None:
    """Keep what the page tells of a tried photo; before it is opened."""
    page.add_init_script(
        "window.tried = []; document.addEventListener('photo-tried', (e) => tried.push(e.detail));"
    )


def tried(page: Page) -> dict[str, object] | None:
    """The last that it told."""
    told: dict[str, object] | None = page.evaluate("tried[tried.length - 1]")
    return told


def choose(page: Page, photo: Path | dict[str, object]) -> None:
    """Choose a photo and wait until the page tells of it."""
    before = page.evaluate("tried.length")
    page.set_input_files("#fit-file", photo)  # type: ignore[arg-type]
    settled(page, before)


def settled(page: Page, before: int = -1) -> None:
    """Wait until the page told more than `before`, and drew what it had to."""
    for _ in range(200):
        page.wait_for_timeout(50)
        says = page.inner_text(".fit-says")
        if page.evaluate("tried.length") > before or (says and "…" not in says):
            break
    page.wait_for_timeout(600)


_AT_REST = """async () => {
    const frame = () => new Promise((next) => requestAnimationFrame(() => setTimeout(next, 150)));
    const canvas = document.querySelector(".fit-stage canvas");
    let [before, same] = ["", 0];
    for (let looks = 0; looks < 150 && same < 3; looks += 1) {
        await frame();
        const now = canvas.toDataURL();
        same = now === before ? same + 1 : 0;
        before = now;
    }
}"""


def at_rest(page: Page) -> None:
    """Wait until what the canvas shows moves no more, however long a busy machine takes; of a page
    on a host."""
    page.evaluate(_AT_REST)


def seen_on(page: Page, selector: str = ".fit-stage canvas") -> Image.Image:
    """What a canvas of the page shows; of a page on a host."""
    url = page.evaluate("(s) => document.querySelector(s).toDataURL()", selector)
    return Image.open(io.BytesIO(b64decode(url.split(",")[1]))).convert("RGB")
