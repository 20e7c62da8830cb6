"""The page's pixels per inch and verdict are the workroom's, to the last digit."""

from __future__ import annotations

import json
import random
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from proofgen import checks
from proofgen.artwork import placing
from proofgen.artwork.layout import lay_out
from proofgen.artwork.placing import Filling
from proofgen.model import Layout, PhotoFacts, PhotoUse, PlacedPhoto
from proofgen.pipeline.seasons import entry, sample_layout
from proofgen.render import carried
from proofgen.workshop import Workshop
from tests.catalogue.fitted import shop_of, write_shop
from tests.catalogue.test_published import SHOP, WRAP

pytestmark = pytest.mark.browser
CASES = 240  # of each shop
SHOPS = {
    "as it was": {},
    "a wrap 10 mm longer": {"wrap": WRAP.replace("length: 240 mm", "length: 250 mm")},
    "stricter limits": {"shop": SHOP.replace("good_ppi: 200", "good_ppi: 262, floor_ppi: 171")},
}
_JUDGE = """([doc, cases]) => cases.map(([blank, slot, width, height, focus, zoom]) => {
  const offer = doc.offers.find((it) => it.blank === blank);
  const spots = offer.spots.filter((it) => it.slot === slot);
  const found = fittings.judged({ width, height }, spots, focus, zoom, doc);
  const { x, y, width: across, height: down } = found.crop;
  return [x, y, across, down, found.ppi, found.verdict];
})"""


@pytest.fixture(scope="module")
def rules(browser: Browser) -> Iterator[Page]:
    """An empty page with the script's rules."""
    context = browser.new_context()
    page = context.new_page()
    page.add_script_tag(content=(carried("themes") / "base" / "fitting.js").read_text("utf-8"))
    yield page
    context.close()


def document(workshop: Workshop, design: str) -> dict[str, Any]:
    """What a design's page carries, as the page has it."""
    fitting = entry(workshop, workshop.shop.designs[design]).fitting
    assert fitting
    told: dict[str, Any] = json.loads(json.dumps(fitting.document("../")))
    return told


def drawn(chance: random.Random) -> tuple[int, int, list[float], float]:
    """Some photo's pixels, a focus and a zoom; sizes that just meet a limit among them."""
    wide, high = (round(10 ** chance.uniform(1.5, 4.1)) for _ in range(2))
    if chance.random() < 0.3:
        wide, high = chance.choice([(1985, 882), (1191, 530), (2000, 1500), (4032, 3024), (1, 1)])
    focus = [round(chance.random(), 4) for _ in range(2)]
    zoom = 1.0 if chance.random() < 0.4 else round(chance.uniform(1, 4), 2)
    return wide, high, focus, zoom


def placed(
    workshop: Workshop, layout: Layout, design: str, use: PhotoUse, facts: PhotoFacts, slot: str
) -> PlacedPhoto:
    """The photo as an order of that piece has it, of several places the coarsest."""
    found = workshop.shop.designs[design]
    pictures = SimpleNamespace(inspect=lambda _: facts)
    materials = SimpleNamespace(
        pictures=pictures, fonts=workshop.materials.fonts, typeface=workshop.materials.typeface
    )
    laid = lay_out(
        found,
        layout.blank,
        Filling(photos={slot: use}, words=found.sample_words, least_letter_mm=3),
        cloth=layout.cloth,
        materials=materials,  # type: ignore[arg-type]
        place=found.place,
    )
    photos = [p for p in laid.layers if isinstance(p, PlacedPhoto) and p.photo]
    return min(photos, key=lambda p: p.ppi or 0)


@pytest.mark.parametrize("changed", SHOPS.values(), ids=SHOPS)
def test_page_and_workroom_agree(
    rules: Page, tmp_path: Path, changed: dict[str, str], monkeypatch: pytest.MonkeyPatch
) -> None:
    # What a photo of so many pixels would be is asked, without one; its join looks at pixels.
    monkeypatch.setattr(placing, "join_of", lambda *_: None)
    monkeypatch.setattr(placing, "under_can", lambda *_: None)
    chance = random.Random(20261130)
    told: set[str] = set()
    with shop_of(write_shop(tmp_path, **changed)) as workshop:
        limits = workshop.shop.settings.limits
        for design, slots in (("round", ["photo"]), ("front", ["large", "small"])):
            page = document(workshop, design)
            layouts = {
                name: sample_layout(
                    workshop, workshop.shop.designs[design], workshop.shop.blanks[name]
                )
                for name in workshop.shop.designs[design].offered
            }
            facts = PhotoFacts(file=tmp_path / "photo.jpg", format="JPEG")
            cases, expected = [], []
            for _ in range(CASES // 2):
                wide, high, focus, zoom = drawn(chance)
                blank, slot = chance.choice([*layouts]), chance.choice(slots)
                use = PhotoUse(file=facts.file, focus=(focus[0], focus[1]), zoom=zoom)
                sized = replace(facts, width_px=wide, height_px=high)
                found = placed(workshop, layouts[blank], design, use, sized, slot)
                assert found.crop and found.ppi is not None
                cases.append([blank, slot, wide, high, focus, zoom])
                crop = found.crop
                verdict = limits.verdict(found.ppi)
                expected.append([crop.x, crop.y, crop.width, crop.height, found.ppi, verdict])
                told.add(verdict)
            assert rules.evaluate(_JUDGE, [page, cases]) == expected
    assert told == {"good", "soft", "coarse"}


def test_it_is_what_look_says(rules: Page, tmp_path: Path) -> None:
    """Of a face with its bleed, the whole photo, nobody having chosen a part."""
    chance, compared = random.Random(7), 0
    with shop_of(write_shop(tmp_path)) as workshop:
        page = document(workshop, "round")
        for _ in range(60):
            wide, high, _, _ = drawn(chance)
            facts = PhotoFacts(file=tmp_path / "p.jpg", width_px=wide, height_px=high)
            blanks = [workshop.shop.blanks[offer["blank"]] for offer in page["offers"]]
            rows = checks.fits(facts, blanks, workshop.shop.settings.limits)
            for offer in page["offers"]:
                case = [offer["blank"], "photo", wide, high, [0.5, 0.5], 1]
                ((*_, ppi, verdict),) = rules.evaluate(_JUDGE, [page, [case]])
                spot = offer["spots"][0]
                for row in rows:
                    same = (row["width_mm"], row["height_mm"]) == (spot["width"], spot["height"])
                    if row["blank"] == offer["blank"] and same:
                        assert (row["ppi"], row["verdict"]) == (ppi, verdict)
                        compared += 1
    assert compared >= 60


def test_a_longer_wrap_and_other_limits_change_what_the_page_carries(tmp_path: Path) -> None:
    read = {}
    for number, changed in enumerate(SHOPS.values()):
        with shop_of(write_shop(tmp_path / str(number), **changed)) as workshop:
            page = document(workshop, "round")
            read[number] = (page["offers"][0]["spots"][0]["width"], page["good_ppi"])
    assert read == {0: (252.0, 200.0), 1: (262.0, 200.0), 2: (252.0, 262.0)}
