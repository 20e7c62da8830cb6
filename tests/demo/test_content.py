"""The demo shop reads without a fault, and every order but one is free of stops."""

from __future__ import annotations

from pathlib import Path

import pytest

from proofgen import checks
from proofgen.artwork.layout import variants
from proofgen.shop import read_shop
from tests.materials import MATERIALS, PICTURES

CONTENT = Path(__file__).resolve().parents[2] / "content"
SHOP = read_shop(CONTENT)
TOO_SMALL = "thistle-sill"


def test_content_has_no_fault():
    assert SHOP.faults == ()
    assert SHOP.settings.demo
    assert len(SHOP.orders) == 15


def test_every_construction_is_shown():
    offered = {b for design in SHOP.designs.values() for b in design.offered}
    assert {SHOP.blanks[b].construction for b in offered} == {"wrap", "fold", "sewn", "flat"}
    assert set(SHOP.seasons[0].designs) == set(SHOP.designs)


@pytest.mark.parametrize("name", SHOP.orders)
def test_only_the_small_photo_stops(name):
    order = SHOP.orders[name]
    used = [use.file for line in order.lines for use in line.photos.values()]
    given = checks.CheckInput(
        shop=SHOP,
        order=order,
        variants=variants(SHOP, order, MATERIALS),
        photos={str(file): PICTURES.inspect(file) for file in used},
        today=SHOP.settings.today,
        twins=checks.Twins(SHOP.orders.values(), MATERIALS.store),
        materials=MATERIALS,
        rights=order.rights,
    )
    found = checks.run(given, {})
    bad = {f.check for f in found if f.status in ("stop", "broken", "warn")}
    assert bad == ({"photo/effective-resolution"} if name == TOO_SMALL else set())
