"""Tables by kind have a row for every kind there is."""

from __future__ import annotations

from typing import get_args

from proofgen.checks import edges
from proofgen.checks.listed import CHECKS
from proofgen.geometry import ZoneKind
from proofgen.model import LAYER_KINDS


def test_letters_in_every_kind_of_strip_have_a_code():
    assert set(CHECKS["layout/zones"].codes) == {f"in-{kind}" for kind in get_args(ZoneKind)}


def test_every_layer_but_words_has_its_bleed_checked():
    assert set(edges._NAMES) == set(LAYER_KINDS) - {"words"}
