"""Every limit of shop.yaml is heeded by the check it is for, and told in the guide."""

from __future__ import annotations

import re
from dataclasses import fields, replace

import pytest

from proofgen.checks import CheckInput
from proofgen.checks.listed import CHECKS
from proofgen.checks.runner import run_check
from proofgen.guide.reference import reference
from proofgen.model import Limits
from proofgen.shop.limits_reader import key_of
from tests.checks.test_checks import CASES

# The check that heeds it, and a value that changes what that check says in one of its cases.
HEEDED = {
    "good_ppi": ("photo/effective-resolution", 400.0),
    "floor_ppi": ("photo/effective-resolution", 199.0),
    "soft_edges": ("photo/blur", 0.5),
    "blurred_edges": ("photo/blur", 1.2),
    "jpeg_quality": ("photo/jpeg-quality", 90),
    "dark": ("photo/exposure", 5.0),
    "too_dark": ("photo/exposure", 30.0),
    "pale": ("photo/exposure", 95.0),
    "too_pale": ("photo/exposure", 80.0),
    "dull": ("photo/exposure", 20.0),
    "flat": ("photo/exposure", 20.0),
    "plain": ("photo/exposure", 0.2),
    "strong_colours": ("photo/strong-colours", 0.5),
    "letter_height_mm": ("words/letter-height", 30.0),
    "contrast": ("words/contrast", 21.0),
    "polyester": ("blank/dye-takes", 0.9),
    "least_heat_c": ("blank/heat", 215.0),
    "most_heat_c": ("blank/heat", 171.0),
    "least_time_s": ("blank/heat", 100.0),
    "most_time_s": ("blank/heat", 21.0),
    "dark_cloth": ("blank/strong-cloth", 0.9),
    "strong_cloth": ("blank/strong-cloth", 100.0),
    "colour_change": ("blank/cloth-suits", 9.0),
    "pattern_gap_mm": ("layout/pattern", 0.0),
    "busy_join": ("layout/join", 0.9),
    "face_cut": ("layout/faces", 1.0),
}


def told(check: str, given: CheckInput) -> list[tuple[str, str, object]]:
    return [(f.status, f.code, f.limit) for f in run_check(CHECKS[check], given)]


def with_limit(given: CheckInput, **change: float) -> CheckInput:
    settings = given.shop.settings
    limits = replace(settings.limits, **change)
    return replace(given, shop=replace(given.shop, settings=replace(settings, limits=limits)))


@pytest.mark.parametrize("name", [f.name for f in fields(Limits)])
def test_the_limit_is_heeded(name):
    check, value = HEEDED[name]
    cases = [case for case in CASES if case.check == check]
    changed = [
        (before, after)
        for case in cases
        if (before := told(check, case.given))
        != (after := told(check, with_limit(case.given, **{name: value})))
    ]
    verdicts = [([f[:2] for f in before], [f[:2] for f in after]) for before, after in changed]
    assert any(before != after for before, after in verdicts)


def test_the_guide_tells_every_limit_with_its_usual_value():
    (page,) = [one for one in reference((), ()) if one.name == "limits"]
    rows = re.findall(r"(?m)^\| `(\w+)` \| ([^|]+) \| ([^|]+) \| ([^|]+) \|$", page.text)
    told_of = {key: (value, says, origin) for key, value, says, origin in rows}
    for one in fields(Limits):
        value, says, origin = told_of.pop(key_of(one.name))
        amount = float(value.split()[0]) / (100 if value.endswith("%") else 1)
        assert amount == pytest.approx(one.default), one.name
        assert (says, origin) == (one.metadata["says"], one.metadata["origin"])
    assert not told_of
