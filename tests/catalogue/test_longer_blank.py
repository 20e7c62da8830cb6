"""A blank that is 10 mm longer in the shop's folder changes what its pages, the booklet, the slip
and the verdict say, all by the same measure; numbers are worked out by hand."""

from __future__ import annotations

import io
import math
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import Browser

from proofgen import catalogue
from proofgen.intake import Taken, add_photo, photo_from, take
from proofgen.pipeline.preflight import prepare_all
from proofgen.pipeline.season_days import current_season
from proofgen.pipeline.seasons import season_content
from proofgen.signoff.order_slip import slips_in
from proofgen.workshop import Workshop, at_work, open_workshop
from tests.catalogue.fitted import COLOURS, choose, hosted, listen, write_shop
from tests.catalogue.reading import Page as Read
from tests.catalogue.test_booklet import needs_poppler
from tests.catalogue.test_published import WRAP

pytestmark = pytest.mark.browser
LENGTHS = (240, 250)  # mm of cloth; 6 mm of bleed at each end, 100 mm high
PHOTO = (2000, 1100)  # px: enough for the shorter, not for the longer


@dataclass(frozen=True, slots=True)
class Told:
    """What is said of a wrap of one length."""

    blanks: str
    page: str
    booklet: str
    verdict: tuple[str, str]  # pixels per inch, the sentence
    focus: list[float]
    finding: str


def pages_of(workshop: Workshop) -> Path:
    chosen = current_season(workshop)
    assert chosen
    made = catalogue.build(season_content(workshop, chosen[0]), workshop.theme_for(None))
    for name, content in made.items():
        (workshop.site / name).parent.mkdir(parents=True, exist_ok=True)
        (workshop.site / name).write_bytes(content)
    return workshop.site


def photo() -> bytes:
    out = io.BytesIO()
    Image.linear_gradient("L").resize(PHOTO).convert("RGB").save(out, "JPEG")  # in memory
    return out.getvalue()


def slip_of(browser: Browser, site: Path) -> tuple[tuple[str, str], str]:
    """The verdict of the page, and a slip with the photo's upper edge at the upper edge."""
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    page = context.new_page()
    listen(page)
    with hosted(site) as host:
        page.goto(f"{host}/designs/round.html")
        choose(page, {"name": "pier.jpg", "mimeType": "image/jpeg", "buffer": photo()})
        page.fill(".fit-down", "0")
        page.wait_for_timeout(300)
        verdict = page.text_content(".fit-ppi"), page.inner_text(".fit-sentence")
        page.fill("#order-words-1", "Wren")
        page.fill("#order-name", "Odalys Fenn")
        page.fill("#order-mail", "odalys@example.org")
        page.check("#order-print")
        page.click("#order-form button[type=submit]")
        page.wait_for_selector("#order-result:not([hidden])")
        slip = page.input_value("#order-text")
    context.close()
    return verdict, slip


def told(browser: Browser, folder: Path, length: int) -> Told:
    wrap = WRAP.replace('colours: {white: "#ffffff"}', COLOURS)
    write_shop(folder, wrap=wrap.replace("length: 240 mm", f"length: {length} mm"))
    with open_workshop(folder) as workshop, at_work(workshop):
        site = pages_of(workshop)
    said = subprocess.run(
        ["pdftotext", "-layout", site / "catalogue.pdf", "-"], capture_output=True, check=True
    ).stdout.decode()
    verdict, slip = slip_of(browser, site)
    (payload,) = slips_in(slip)
    assert payload and payload["blank"] == "my-wrap"
    with open_workshop(folder) as workshop, at_work(workshop):
        (taken,) = take(workshop, slip.encode())
        assert isinstance(taken, Taken)
    return Told(
        blanks=Read((site / "blanks.html").read_text("utf-8")).words,
        page=Read((site / "designs" / "round.html").read_text("utf-8")).words,
        booklet=" ".join(said.split()),
        verdict=verdict,
        focus=payload["photos"]["photo"]["focus"],
        finding=_found_with_photo(folder, taken.order),
    )


def _found_with_photo(folder: Path, order: str) -> str:
    """What is found of the order once its photo came."""
    file = folder.parent / f"{folder.name}-pier.jpg"
    file.write_bytes(photo())
    with open_workshop(folder) as workshop, at_work(workshop):
        add_photo(workshop, order, photo_from(file))
    with open_workshop(folder) as workshop, at_work(workshop):
        (prepared,) = prepare_all(workshop, [])
    return " ".join(f.says for f in prepared.findings if f.code == "soft")


@pytest.fixture(scope="module")
def both(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[list[Told]]:
    home = tmp_path_factory.mktemp("longer")
    yield [told(browser, home / str(length), length) for length in LENGTHS]


@needs_poppler
def test_ten_millimetres_change_all_that_is_said(both: list[Told]) -> None:
    for length, one, other in zip(LENGTHS, both, both[::-1], strict=True):
        wide, high = length + 12, 112  # mm of print, with its bleed
        needs = f"{math.ceil(wide / 25.4 * 200):,} × 882"
        for here, there in ((one.page, other.page), (one.booklet, other.booklet)):
            assert needs in here and needs not in there, needs
        assert f"{length} × 100" in one.blanks and f"{length} × 100" not in other.blanks
        ppi = PHOTO[0] / (wide / 25.4)
        assert one.verdict[0] == str(math.floor(ppi))
        assert ("enough pixels" in one.verdict[1]) == (ppi >= 200)
        # The crop is as wide as the photo, and begins at its upper edge.
        middle = PHOTO[0] * high / wide / 2 / PHOTO[1]
        assert one.focus[1] == pytest.approx(middle, abs=0.0006)
        said = f"{wide} × {high} mm this photo gives {math.floor(ppi)}"
        assert (said in one.finding) == (ppi < 200), one.finding
    assert both[0].verdict[1] != both[1].verdict[1] and both[0].finding != both[1].finding
