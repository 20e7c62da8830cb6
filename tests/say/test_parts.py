"""Every part of every blank has its words, wherever it is said."""

from __future__ import annotations

from typing import get_args

from proofgen.geometry import CONSTRUCTIONS, FACES, ZoneKind
from proofgen.say import parts
from proofgen.shop import built_in_blanks


def test_each_face_construction_and_zone_has_words() -> None:
    assert set(parts.FACES) == set(parts.ON_FACES) == set(FACES)
    assert set(parts.CONSTRUCTIONS) == set(CONSTRUCTIONS)
    zones = set(get_args(ZoneKind))
    assert set(parts.ZONES) == set(parts.IN_ZONES) == set(parts.LETTERS_IN_ZONES) == zones
    assert zones <= set(parts.ON_DRAWINGS)
    assert {panel for b in built_in_blanks().values() for panel in b.plan().panels} <= set(
        parts.PANELS
    )
