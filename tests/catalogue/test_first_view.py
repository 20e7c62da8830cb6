"""What a phone fetches of a season's front before anybody scrolls: sixty designs on five pieces
each, with the real pictures of the demo's pages, below a host's root and in a sub-folder."""

from __future__ import annotations

import posixpath
from collections.abc import Iterator
from dataclasses import replace
from itertools import cycle, islice
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Response

from proofgen.catalogue import Entry, Plate, Scaled, build
from proofgen.render import Theme
from tests.catalogue.fitted import hosted
from tests.catalogue.reading import Page
from tests.catalogue.season import entry, offer, season
from tests.test_demo import SITE

pytestmark = pytest.mark.browser
MOST = 900_000  # bytes; an aim of ours
DESIGNS, PIECES = 60, 5


def plates_on(page: str) -> list[Plate]:
    """The pictures of one of the demo's pages that come in several sizes, as they are there."""
    home = posixpath.dirname(page)
    return [_plate(home, one) for one in _read(page).every("img") if one.get("srcset")]


def _read(page: str) -> Page:
    return Page((SITE / page).read_text("utf-8"))


def _plate(home: str, image: dict[str, str]) -> Plate:
    def file(address: str) -> tuple[str, bytes]:
        name = posixpath.normpath(posixpath.join(home, address))
        return name, (SITE / name).read_bytes()

    scaled = []
    for address, width in (part.split() for part in image["srcset"].split(",")):
        name, content = file(address)
        scaled.append(Scaled(name=name, content=content, width_px=int(width.removesuffix("w"))))
    name, content = file(image["src"])
    size = (int(image["width"]), int(image["height"]))
    return Plate(
        name=name, content=content, alt=image["alt"], width_px=size[0], height_px=size[1],
        label="Front", side="front", scaled=tuple(scaled),
    )  # fmt: skip


def designs() -> Iterator[Entry]:
    """Each design's first picture is another one for as long as there are others."""
    pages = [f"designs/{one.name}" for one in sorted((SITE / "designs").glob("*.html"))]
    plates = cycle({p.name: p for page in pages for p in plates_on(page)}.values())
    for number in range(DESIGNS):
        title = f"Design number {number}"
        offers = tuple(
            replace(
                offer(title, f"blank-{k}", f"Sleeve {k}", prices=((1, f"{9 + k}.50"),)),
                plates=(plate,),
            )
            for k, plate in enumerate(islice(plates, PIECES))
        )
        yield entry(f"d{number}", title, *offers)


@pytest.mark.parametrize("theme", ["quay", "kite"])
def test_a_phone_s_first_view_is_light(browser: Browser, tmp_path: Path, theme: str) -> None:
    """Counted as sent, nothing squeezed by the host, on a screen of three dots for a pixel."""
    scene = plates_on("index.html")[0]
    made = build(season(tuple(designs()), scene=scene), Theme(theme), with_pdf=False)
    for name, content in made.items():
        (tmp_path / "shop" / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / "shop" / name).write_bytes(content)
    for home in (tmp_path, tmp_path / "shop"):
        below = "/shop" if home == tmp_path else ""
        context = browser.new_context(
            viewport={"width": 390, "height": 844}, device_scale_factor=3, is_mobile=True
        )
        page = context.new_page()
        came: list[Response] = []
        page.on("response", lambda response, kept=came: kept.append(response))
        with hosted(home) as host:
            page.goto(f"{host}{below}/index.html", wait_until="networkidle")
            page.wait_for_timeout(1500)
            assert [one.url for one in came if one.status != 200] == []
            weight = {one.url.removeprefix(host): len(one.body()) for one in came}
        context.close()
        assert all(name.removeprefix(f"{below}/") in made for name in weight)
        pictures = [name for name in weight if "/pictures/" in name]
        assert 3 <= len(pictures) < DESIGNS, weight
        assert sum(weight[name] for name in pictures) > 60_000, "real pictures, not painted ones"
        assert any(one.name in "".join(pictures) for one in scene.scaled), pictures
        assert sum(weight.values()) <= MOST, weight
