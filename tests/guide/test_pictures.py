"""The pictures of README and guide: small, ours, and no older than what they show."""

from __future__ import annotations

import json

import pytest

from tests.demo.guide_pictures import (
    DRAWN,
    MADE_FROM,
    MOST_BYTES,
    PICTURES,
    SHOWN,
    digest,
    drawing,
    page_text,
    proof_of,
)
from tests.guide.reading import HOUSE, WRITTEN, links

AGAIN = "the demo looks otherwise than this picture: python tests/demo/guide_pictures.py"


def test_all_pictures_together_are_small() -> None:
    assert sum(path.stat().st_size for path in PICTURES.iterdir()) <= MOST_BYTES


def test_every_picture_is_shown_and_made_by_the_command() -> None:
    shown = {lead.split("/")[-1] for path in WRITTEN for lead in links(path) if "pictures/" in lead}
    assert shown == {*SHOWN, *(f"{kind}.svg" for kind in DRAWN)}
    assert shown | {MADE_FROM.name} == {path.name for path in PICTURES.iterdir()}
    assert set(json.loads(MADE_FROM.read_text("utf-8"))) == set(SHOWN)


@pytest.mark.parametrize("kind", DRAWN)
def test_a_drawing_is_as_it_is_drawn_now(kind: str) -> None:
    assert (PICTURES / f"{kind}.svg").read_text("utf-8") == drawing(kind), AGAIN


def test_the_proof_is_as_the_demo_site_has_it() -> None:
    made = json.loads(MADE_FROM.read_text("utf-8"))
    assert made["proof.jpg"] == digest(page_text(proof_of(HOUSE / "site_demo"), HOUSE)), AGAIN
