"""Colours in plain words. What each is called was judged by eye, on swatches."""

from __future__ import annotations

import pytest

from proofgen.colour import plain_name

NAMES = {
    "#ffffff": "white",
    "#e8e6e1": "off-white",
    "#808080": "grey",
    "#33363b": "dark grey",
    "#000000": "black",
    "#ff0000": "red",
    "#9a3324": "red",
    "#ffc0cb": "pink",
    "#e8823a": "orange",
    "#8b4513": "brown",
    "#8a4a3c": "brown",
    "#ffff00": "yellow",
    "#fdf6e6": "cream",
    "#d9b98a": "sand",
    "#808000": "olive",
    "#008000": "green",
    "#bfe3d0": "pale green",
    "#3b4a35": "dark green",
    "#2f7a6d": "teal",
    "#0000ff": "blue",
    "#6fb7e9": "blue",
    "#1b2a41": "dark blue",
    "#708090": "greyish blue",
    "#800080": "dark purple",
}


@pytest.mark.parametrize(("colour", "said"), NAMES.items())
def test_a_colour_has_its_everyday_name(colour: str, said: str) -> None:
    assert plain_name(colour) == said


def test_every_colour_has_a_name() -> None:
    steps = range(0, 256, 51)
    names = {plain_name(f"#{r:02x}{g:02x}{b:02x}") for r in steps for g in steps for b in steps}
    assert "" not in names and len(names) > 20
