"""Checks of the blank: does it close, does it take the dye, how is it pressed, what does its cloth
do to the colours."""

from __future__ import annotations

import numpy as np

from proofgen.checks.frame import Remarks, check, note, skipped, stop, warn
from proofgen.checks.mending import paler_cloth
from proofgen.checks.phrases import sentence
from proofgen.checks.subjects import (
    LaidVariant,
    OrderedLine,
    blanks,
    lines,
    pressed_blanks,
    variants,
)
from proofgen.colour import hex_to_rgb8, lab_of, luminance, plain_name
from proofgen.errors import ProofgenError
from proofgen.model import FINISHES, Blank, ColourReport, Limits, NoRoom
from proofgen.model.limits import PRACTICE
from proofgen.say import joined, number, visible
from proofgen.units import Temperature, c_to_f, f_to_c
from proofgen.views.colours import kept_report


@check(
    "blank/closes",
    blanks,
    why="A wrap that is too short does not hold; one that is too long has nothing to hold on to.",
    source=f"the blank's measures: overlap = length - pi (diameter + thickness); the shortest "
    f"overlap is {PRACTICE}",
    codes={
        "does-not-close": "the ends overlap by too little or too much",
        "no-measures": "the measures are not enough to draw the blank",
    },
)
def closes(blank: Blank, _: Limits) -> Remarks:
    """Every blank closes."""
    try:
        problems = blank.plan().problems
    except ValueError as error:
        yield stop(
            "no-measures",
            f"{blank.name} cannot be drawn: {error}.",
            f"Measure it again, and correct blanks/{blank.id}.yaml.",
        )
        return
    for key, problem, cure in problems:
        yield stop(
            "does-not-close",
            f"{blank.name}: {problem}.",
            sentence(cure),
            where=str(blank.place_of(key)),
            about=f"{blank.id}-{key}",
        )


@check(
    "blank/fits-press",
    pressed_blanks,
    why="A piece that the press or every paper is too small for can be sold and signed, and never "
    "made.",
    source="platen, paper, printer's margin and cover in shop.yaml",
    codes={
        "platen": "the hot plate is too small for the ink",
        "paper": "every paper is too small for the piece and its cover",
    },
)
def fits_press(lacks: NoRoom | None, _: Limits) -> Remarks:
    """The press and a paper are large enough for every blank."""
    if lacks:
        yield stop(lacks.code, sentence(lacks.says), sentence(lacks.cure))


_FULL = 1.0


@check(
    "blank/dye-takes",
    blanks,
    why="The dye goes into polyester and nowhere else; on other fibre the picture stays pale and "
    "washes out.",
    source=f"{PRACTICE} (100 % takes the dye fully); that cotton is not dyed: from memory (Miles, "
    "Textile Printing, 2003)",
    codes={
        "not-told": "the share of polyester is not told",
        "little": "less is polyester than a blank should have",
        "part": "not all of it is polyester",
    },
)
def dye_takes(blank: Blank, limits: Limits) -> Remarks:
    """Every blank is polyester, which takes the dye."""
    share = blank.cloth.polyester
    where = str(blank.place_of("cloth.polyester", "cloth"))
    if share is None:
        look = f"finish: {blank.cloth.finish}, " if blank.cloth.finish else ""
        yield warn(
            "not-told",
            f"How much polyester {blank.name} holds is not told.",
            "Look at its label, and write it into its file under cloth, the rest as it is: "
            f"cloth: {{{look}polyester: 100 %, colours: {{…}}}}.",
            where=where,
        )
    elif share < limits.polyester:
        yield stop(
            "little",
            f"{blank.name} is {number(share * 100)} % polyester; only that part takes the dye, so "
            "colours come out very pale.",
            "Choose a blank of 100 % polyester.",
            measure=share,
            limit=limits.polyester,
            where=where,
        )
    elif share < _FULL:
        yield warn(
            "part",
            f"{blank.name} is {number(share * 100)} % polyester; only that part takes the dye, so "
            "colours come out pale.",
            "Choose a blank of 100 % polyester, or press a trial first.",
            measure=share,
            limit=_FULL,
            where=where,
        )


@check(
    "blank/finish",
    blanks,
    why="How cloth looks and feels is told and shown to customers; a guess promises them another.",
    source="cloth: in the blank's file",
    codes={"not-told": "how the cloth looks is not told"},
)
def finish(blank: Blank, _: Limits) -> Remarks:
    """How the cloth looks is told."""
    if not blank.cloth.finish:
        yield note(
            "not-told",
            f"finish: is not said for {blank.name}: customers read no word of its cloth, and "
            "pictures show it plain.",
            f"If it is {joined(FINISHES, 'or')}, write that as finish: under cloth in its file.",
            where=str(blank.place_of("cloth.finish", "cloth")),
        )


# 180 to 210 °C is what a textile mill's page gives, up to 200 °C for 30 s another; 180 to 220 °C
# and 20 to 60 s are from memory (Miles, Textile Printing, 2003). Foam takes up to 65 s in
# practice. The usual limits are a little wider: they are to catch slips, not to teach.


@check(
    "blank/heat",
    blanks,
    why="Heat and time differ between blanks that look alike; a guess costs the blank.",
    source=f"the blank maker's figures come first, then a trial, then {PRACTICE}",
    codes={
        "none": "no heat and time are written for this blank",
        "practice": "the figures are common practice, not the maker's nor from a trial",
        "unusual-heat": "hotter or cooler than dyes for cloth are pressed",
        "unusual-time": "longer or shorter than cloth is pressed",
    },
)
def heat(blank: Blank, limits: Limits) -> Remarks:
    """Heat and time are known for every blank."""
    press, where = blank.press, str(blank.place_of("press.heat", "press"))
    trial = "Look at the maker’s sheet, or press a trial, then write"
    # No figure stands in the sentence: it would be copied.
    if press is None:
        yield stop(
            "none",
            f"Nobody wrote how hot and how long {blank.name} is pressed.",
            f"{trial} press: {{heat: … C, time: … s, pressure: medium, from: maker}} into its "
            "file.",
            where=where,
        )
        return
    figures = (
        f"{number(press.heat_c)} °C ({number(c_to_f(press.heat_c), 0)} °F) for "
        f"{number(press.time_s)} s"
    )
    if press.source == "practice":
        yield note(
            "practice",
            f"{blank.name}: {figures} is common practice, with no source; the maker’s own figures "
            "come first.",
            f"{trial} press: into blanks/{blank.id}.yaml, which `proofgen measure {blank.id}` "
            "makes."
            if blank.built_in
            else f"{trial} its press: line.",
            where=where,
            measure=press.source,
        )
    if not limits.least_heat_c <= press.heat_c <= limits.most_heat_c:
        yield warn(
            "unusual-heat",
            f"{blank.name} would be pressed at {figures}; between {number(limits.least_heat_c)} "
            f"and {number(limits.most_heat_c)} °C is usual.",
            "Look at the figure again; perhaps °C and °F were mixed up.",
            where=where,
            measure=press.heat_c,
            limit=limits.least_heat_c if press.heat_c < limits.least_heat_c else limits.most_heat_c,
        )
    if not limits.least_time_s <= press.time_s <= limits.most_time_s:
        yield warn(
            "unusual-time",
            f"{blank.name} would be pressed at {figures}; between {number(limits.least_time_s)} "
            f"and {number(limits.most_time_s)} s is usual.",
            "Look at the figure again.",
            where=str(blank.place_of("press.time", "press")),
            measure=press.time_s,
            limit=limits.least_time_s if press.time_s < limits.least_time_s else limits.most_time_s,
        )


@check(
    "blank/heat-agrees",
    blanks,
    why="Sheets print °C and °F side by side, and a published one prints 424 °F for 200 °C: the "
    "wrong one of the two scorches or stays pale.",
    source="°F = °C × 9/5 + 32; a course page found in print with “424 F or 200 C”",
    codes={"differ": "the written °C and °F are not the same heat, to 1 °C"},
)
def heat_agrees(blank: Blank, _: Limits) -> Remarks:
    """Where °C and °F are both written, they are the same heat."""
    press = blank.press
    if press is None or press.heat_f_written is None:
        return
    if not Temperature(press.heat_c, press.heat_f_written).agrees:
        written = f_to_c(press.heat_f_written)
        yield stop(
            "differ",
            f"{blank.name}: {number(press.heat_f_written)} °F is {number(written)} °C, not "
            f"{number(press.heat_c)} °C.",
            f"Look at the maker’s sheet and keep the right one ({number(press.heat_c)} °C would be "
            f"{number(c_to_f(press.heat_c))} °F).",
            measure=abs(written - press.heat_c),
            limit=1.0,
            where=str(blank.place_of("press.heat", "press")),
        )


@check(
    "blank/two-sides-foam",
    variants,
    why="Heat flattens foam for good; the side that is not pressed keeps its feel.",
    source=f"{PRACTICE}: pressing both sides of sewn foam flattens it, one side keeps the feel",
    codes={"flattened": "both sides of a sewn foam blank are pressed"},
)
def two_sides_foam(laid: LaidVariant, _: Limits) -> Remarks:
    """No sewn foam is pressed on both sides."""
    layout = laid.layout
    if layout.plan.construction != "sewn" or layout.blank.cloth.finish != "foam":
        return
    pressed = {panel for layer in layout.layers for panel, _ in layout.on_panel(layer)}
    if len(pressed) > 1:
        yield note(
            "flattened",
            "Both sides of this foam are pressed, which makes it thinner and firmer.",
            "Choose a design for one side, if it should stay soft.",
            measure=len(pressed),
            limit=1,
        )


@check(
    "blank/strong-cloth",
    lines,
    why="Ink is see-through: the cloth shows through every colour, and nothing gets paler than it.",
    source=f"{PRACTICE}; luminance as in WCAG 2.2, chroma in CIE Lab",
    codes={
        "dark": "the cloth is so dark that pale colours vanish",
        "tints": "the cloth is colourful and tints what is pressed on it",
        "unknown": "the blank has no cloth of that name",
    },
)
def strong_cloth(ordered: OrderedLine, limits: Limits) -> Remarks:
    """The cloth is pale and plain enough not to change the picture much."""
    name, blank = ordered.line.cloth, ordered.blank
    where = str(ordered.line.place_of("cloth"))
    colour = blank.cloth.colours.get(name) if blank else None
    if blank is None or colour is None:
        yield skipped("unknown", f"The blank has no cloth called “{visible(name)}”.", where=where)
        return
    light = float(luminance(hex_to_rgb8(colour)))
    if light < limits.dark_cloth:
        yield warn(
            "dark",
            f"The cloth {visible(name)} is dark: pale colours vanish on it, and white parts show "
            "the cloth.",
            f"{paler_cloth(blank, limits)}, or a picture of dark and strong colours.",
            measure=light,
            limit=limits.dark_cloth,
            where=where,
        )
    elif (strong := _chroma(colour)) > limits.strong_cloth:
        yield note(
            "tints",
            f"The cloth {visible(name)} shows through: it tints every colour, and white parts show "
            "the cloth.",
            "Compare the two pictures on the proof, on white and on this cloth.",
            measure=strong,
            limit=limits.strong_cloth,
            where=where,
        )


def _chroma(colour: str) -> float:
    """How colourful a colour is: CIE Lab chroma, grey 0."""
    lab = lab_of(hex_to_rgb8(colour))
    return float(np.hypot(lab[1], lab[2]))


@check(
    "blank/cloth-suits",
    lines,
    why="Cloth shows through clear ink: a design of dark and strong colours keeps its look on "
    "coloured cloth, a pale one turns into another.",
    source=f"CIEDE2000 between ink on white and ink on the cloth; that a mean of 8 suits and one "
    f"of 20 does not is {PRACTICE}",
    codes={
        "shifts": "the design's colours are seen to change on this cloth",
        "turns": "most of the design's colours become others on this cloth",
        "unknown": "the design cannot be painted",
    },
)
def cloth_suits(ordered: OrderedLine, limits: Limits) -> Remarks:
    """The cloth leaves the design's colours much as they are."""
    if not ordered.variants or ordered.variants[0].layout.cloth_hex.lower() == "#ffffff":
        return
    where = str(ordered.line.place_of("cloth"))
    try:
        report = kept_report(ordered.variants[0].layout, ordered.materials)
    except ProofgenError:
        yield skipped("unknown", "A picture of this design cannot be read.", where=where)
        return
    fit = report.fit
    if fit.suits:
        return
    if fit.difference > limits.colour_change:
        yield warn(
            "turns",
            f"On the cloth {visible(fit.name)} this design’s colours change into others: "
            f"{_kept(report)}.",
            _other_cloths(report),
            measure=fit.difference,
            limit=limits.colour_change,
            where=where,
        )
    else:
        yield note(
            "shifts",
            f"On the cloth {visible(fit.name)} this design’s colours change: {_kept(report)}.",
            _other_cloths(report),
            measure=fit.difference,
            where=where,
        )


def _kept(report: ColourReport) -> str:
    """'only dark blue stays much as on white'."""
    names = [plain_name(i.ink) for i in report.inks if i.fate in ("keeps", "shifts")]
    names = list(dict.fromkeys(names))[:4]
    if not names:
        return "none of its main colours stays what it is"
    stays = "stays" if len(names) == 1 else "stay"
    return f"only {joined(names)} {stays} much as on white"


def _other_cloths(report: ColourReport) -> str:
    suit = [visible(fit.name) for fit in report.cloths if fit.suits and fit.name != report.cloth]
    if not suit:
        return "Look at the proof: no other cloth of this blank suits the design better."
    return f"Write another cloth: into order.yaml. These suit the design: {joined(suit, 'or')}."
