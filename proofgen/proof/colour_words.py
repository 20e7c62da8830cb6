"""The colour report in plain words, as a customer reads it on the proof."""

from __future__ import annotations

import numpy as np

from proofgen.colour import (
    Correction,
    ciede2000,
    hex_to_rgb8,
    ink_on_cloth,
    lab_of,
    plain_name,
    rgb8_to_hex,
)
from proofgen.model import ColourReport, InkLook
from proofgen.say import capital
from proofgen.say.tongue import Tongue, to_say
from proofgen.views.colours import SHIFTS

MOST = 5  # colours in one sentence, and changes; more is a table nobody reads
READS_WELL = 3.0  # WCAG 2.2, 1.4.3, large text

# All that `colour.plain_name` may say, without 'greyish'.
NAMES = (
    to_say("black"), to_say("white"), to_say("off-white"),
    to_say("grey"), to_say("dark grey"), to_say("pale grey"),
    to_say("cream"), to_say("sand"), to_say("olive"), to_say("pink"),
    to_say("red"), to_say("orange"), to_say("yellow"), to_say("green"), to_say("teal"),
    to_say("blue"), to_say("purple"), to_say("brown"),
    to_say("dark red"), to_say("dark orange"), to_say("dark yellow"), to_say("dark green"),
    to_say("dark teal"), to_say("dark blue"), to_say("dark purple"), to_say("dark brown"),
    to_say("dark pink"),
    to_say("pale red"), to_say("pale orange"), to_say("pale yellow"), to_say("pale green"),
    to_say("pale teal"), to_say("pale blue"), to_say("pale purple"), to_say("pale brown"),
)  # fmt: skip


def _name(colour: str) -> str:
    return plain_name(colour).removeprefix("greyish ")


def colour_name(colour: str, tongue: Tongue) -> str:
    """The everyday name of '#rrggbb' in a customer's language, as a noun in a sentence."""
    return tongue(_name(colour))


def _fate(ink: InkLook) -> str:
    """What becomes of a colour: '' it stays, 'vanishes', 'darker', or the name it turns into."""
    before, after = _name(ink.ink), _name(ink.on_cloth)
    if ink.fate == "vanishes":
        return "vanishes"
    if ink.fate == "keeps" or (ink.fate == "shifts" and before == after):
        return ""
    return "darker" if before == after else after


def _sentence(fate: str, names: list[str], tongue: Tongue) -> str:
    """What becomes of some colours, as a sentence."""
    many = len(names)
    colours = tongue.joined([tongue(name) for name in names[:MOST]])
    if fate == "vanishes":
        said = tongue.several(
            "{colours} can hardly be told from the bare cloth.",
            "{colours} can hardly be told from the bare cloth.",
            many,
            colours=colours,
        )
    elif fate == "darker":
        said = tongue.several(
            "{colours} gets darker.", "{colours} get darker.", many, colours=colours
        )
    elif fate:
        said = tongue.several(
            "{colours} turns {into}.",
            "{colours} turn {into}.",
            many,
            colours=colours,
            into=tongue(fate),
        )
    else:
        said = tongue.several(
            "{colours} stays much as on white.",
            "{colours} stay much as on white.",
            many,
            colours=colours,
        )
    return capital(said)


def say_colours(report: ColourReport, tongue: Tongue) -> tuple[str, ...]:
    """What the cloth does to the main colours: what stays, what changes (largest first), what
    vanishes, how the words stand out; nothing on white cloth."""
    if report.cloth_hex.lower() == "#ffffff" or not report.inks:
        return ()
    fates: dict[str, list[str]] = {}  # the colours that meet each fate, every name once
    for ink in report.inks:
        name = _name(ink.ink)
        if not any(name in names for names in fates.values()):
            fates.setdefault(_fate(ink), []).append(name)
    changes = [fate for fate in fates if fate not in ("", "vanishes")]
    told = [fate for fate in ("", *changes[:MOST], "vanishes") if fate in fates]
    sentences = [_sentence(fate, fates[fate], tongue) for fate in told]
    contrast = report.fit.contrast  # of all words: those left bare are no ink
    if contrast is not None:
        sentences.append(_words(contrast, tongue))
    return tuple(sentences)


_LIGHT = "#c8c8c8"  # a light part of a photo, of no hue of its own


def say_photo(cloth_hex: str, correction: Correction | None, tongue: Tongue) -> str:
    """What a cloth ('#rrggbb') makes of any photo: '' where its light parts stay the colour that
    they are, else a sentence that names what they turn into."""
    ink = np.array([hex_to_rgb8(_LIGHT)], dtype=np.uint8)
    seen = ink_on_cloth(ink, cloth_hex, correction)
    if float(ciede2000(lab_of(ink), lab_of(seen))[0]) <= SHIFTS:
        return ""
    return tongue(
        "The ink is see-through: on this cloth the light parts of a photo turn {into}.",
        into=colour_name(rgb8_to_hex(seen[0]), tongue),
    )


def _words(contrast: float, tongue: Tongue) -> str:
    if contrast >= READS_WELL:
        return tongue("Your words read well on this cloth.")
    return tongue("Your words are hard to read on this cloth.")


def say_reach(share: float, tongue: Tongue) -> str:
    """What part of the picture (0..1) the printer cannot reach."""
    if share < 0.01:
        return tongue(
            "Less than 1 % of the picture holds colours this printer cannot reach; they are "
            "hatched."
        )
    return tongue(
        "{number} % of the picture holds colours this printer cannot reach; they are hatched.",
        number=tongue.number(share * 100, 0),
    )
