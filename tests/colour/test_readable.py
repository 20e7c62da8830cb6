"""A colour that can be read on its ground, and is as near to itself as that lets."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from proofgen.colour import readable_on
from proofgen.colour.spaces import hex_to_rgb8, lab_of

COLOURS = ["#000000", "#ffffff", "#777777", "#c80000", "#2255aa", "#6fb7e9", "#ffd400", "#123456"]


def luminance(colour: str) -> float:
    """WCAG 2.2, “relative luminance”, written from the standard's text."""
    parts = [value / 255 for value in hex_to_rgb8(colour)]
    r, g, b = (v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4 for v in parts)
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


def contrast(one: str, other: str) -> float:
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize(("colour", "ground"), list(itertools.product(COLOURS, COLOURS)))
@pytest.mark.parametrize("least", [3.0, 4.5])
def test_it_can_be_read_and_keeps_its_hue(colour: str, ground: str, least: float) -> None:
    got = readable_on(colour, ground, least)
    assert contrast(got, ground) >= least - 0.01
    if contrast(colour, ground) >= least + 0.01:
        assert got == colour
    elif got not in ("#000000", "#ffffff"):
        _, *before = lab_of(hex_to_rgb8(colour))
        _, *after = lab_of(hex_to_rgb8(got))
        # Clipped into sRGB a colour may grow paler, and turns by no quarter.
        assert np.dot(before, after) >= -1e-6


def test_more_than_any_colour_has_gives_what_has_most() -> None:
    assert readable_on("#777777", "#767676", 21) == "#000000"
    assert readable_on("#808080", "#000000", 30) == "#ffffff"
