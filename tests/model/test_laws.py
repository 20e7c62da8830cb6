"""Small laws of the records that travel between rooms: prices, what was accepted, what is asked."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from proofgen.geometry import Rect
from proofgen.model import Acceptance, Finding, PhotoFacts, PlacedPhoto
from proofgen.model.asked import AskedChange
from proofgen.model.bill import unit_price
from proofgen.model.measures import FINEST_PPI, key_of
from tests.checks.factory import design, line

COARSE = Finding(
    check="photo/effective-resolution", code="too-coarse", status="stop",
    says="This photo is too coarse.", measure=90.0, limit=120.0, cure="Ask for a larger one.",
)  # fmt: skip


@pytest.mark.parametrize(
    ("now", "stands"), [(90.0, True), (100.0, True), (89.98, True), (89.0, False), (None, True)]
)
def test_what_was_accepted_stands_while_it_is_no_worse(now: float | None, stands: bool) -> None:
    kept = Acceptance("she wants it so", measure=90.0)
    seen = kept.of(replace(COARSE, measure=now))
    assert (seen.accepted == "she wants it so") is stands
    document = seen.as_json()
    assert ("accepted" in document) is stands
    worse = "Ask for a larger one. It was accepted at 90 and is 89 now."
    assert document["cure"] == ("Ask for a larger one." if stands else worse)


def test_what_was_accepted_without_a_measure_stands() -> None:
    assert Acceptance("so be it").of(COARSE).accepted == "so be it"


def test_a_price_that_was_agreed_on_goes_before_the_designs() -> None:
    offered = {"can-wrap": ((10, Decimal("12.00")), (1, Decimal("14.50")))}
    ours, asked = replace(design(), offered=offered), replace(line(), quantity=9)
    assert unit_price(ours, asked) == Decimal("14.50")
    assert unit_price(ours, replace(asked, quantity=10)) == Decimal("12.00")
    assert unit_price(ours, replace(asked, price=Decimal("9.00"))) == Decimal("9.00")
    assert unit_price(None, replace(asked, price=Decimal("9.00"))) == Decimal("9.00")
    assert unit_price(None, asked) is None
    assert unit_price(ours, replace(asked, blank="elsewhere")) is None
    assert ours.price("can-wrap", 0) is None


def test_a_text_that_is_only_marked_says_that_the_right_one_is_not_known() -> None:
    change = AskedChange(pieces=(3, 4), slot="Name", line=1, old="Odalis", new="Odalys")
    assert change.said == "Name, pieces 3 and 4: “Odalis” → “Odalys”"
    marked = replace(change, new="")
    assert marked.said.endswith("“Odalis” is wrong, and it does not say what it should be")


def test_where_a_photo_is_shown_its_parts_lie_on_the_face_and_nowhere_else() -> None:
    facts = PhotoFacts(file=Path("pier.jpg"), sha256="3f" * 32, width_px=4000, height_px=3000)
    placed = PlacedPhoto(
        rect=Rect(10, 20, 80, 60), face="front", slot="photo", photo=facts,
        crop=Rect(1000, 0, 2000, 1500), focus=(0.5, 0.25),
    )  # fmt: skip
    assert placed.on_face(Rect(1500, 750, 100, 50)) == Rect(30, 50, 4, 2)
    assert placed.focus_on_face == (50, 50)
    key = key_of(placed, 10 * FINEST_PPI)
    assert key is not None and key == key_of(placed, FINEST_PPI) != key_of(placed, 72)
    for empty in (replace(placed, crop=None), replace(placed, photo=None)):
        assert key_of(empty, 300) is None
        assert empty.focus_on_face is None
    assert replace(placed, crop=None).on_face(Rect(1500, 750, 100, 50)) is None
