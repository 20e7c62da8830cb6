"""What to do at the press, step by step for each construction, and what can hurt there."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from proofgen.geometry import Construction, Shape
from proofgen.model import Blank, Closure, PressSetting
from proofgen.model.blank import Hold, PaperEdge, Peel
from proofgen.press.pieces import press_of, setting_of, sides_of
from proofgen.say import number, sentences

# Where a blank's figures come from, for the person at the press.
SOURCES = {
    "maker": "These figures are from the blank’s own maker.",
    "ink": "These figures are from the ink’s maker. Those of the blank’s own maker come first, and "
    "a trial of your own.",
    "trial": "These figures are from your own press trial.",
    "practice": "These figures are common practice, with no source. The blank’s own maker comes "
    "first: if its sheet says otherwise, follow that and write it in the blank’s file.",
}


def source_of(press: PressSetting) -> str:
    """Where a blank's figures come from, in a sentence; of a trial with its day."""
    said = SOURCES[press.source]
    return said if press.tried is None else f"{said.rstrip('.')} of {press.tried.isoformat()}."


# The small drawings of the theme's press_drawings.html.
StepDrawing = Literal[
    "heat",
    "clean",
    "preheat",
    "lay",
    "protect",
    "edge",
    "press",
    "turn",
    "wrap",
    "hem",
    "sew",
    "cool",
]


@dataclass(frozen=True, slots=True)
class Step:
    """One numbered step: a few words, what to do, and its small drawing."""

    title: str
    says: str
    drawing: StepDrawing


@dataclass(frozen=True, slots=True)
class Caution:
    """A signal word of ANSI Z535.4, what can happen, and how to keep it from happening."""

    word: str
    title: str
    says: str


@dataclass(frozen=True, slots=True, kw_only=True)
class _Habits:
    """What a construction asks for at the press, beside what all ask for. `{seam}` in `after`
    stands for the blank's own, mm."""

    thick_parts: str  # how they are kept off the platen
    after: Step
    protect: str = ""  # more about protective paper
    is_sewn: bool = False  # with needles and pins, by the maker


_COOL = Step("Cool", "Let it cool lying flat before you stack it.", "cool")
# A new construction begins here at the press.
_HABITS: Mapping[Construction, _Habits] = {
    "wrap": _Habits(
        thick_parts="Keep the hook-and-loop off the platen: let that end hang over the pad’s edge, "
        "or lay the rest on a pad that stops short of it.",
        after=Step(
            "Cool and close",
            "Let it cool lying flat. Close it round a can and look at the join.",
            "wrap",
        ),
    ),
    "fold": _Habits(
        thick_parts="Nothing is sewn yet, so it lies flat. Thick hems hang over the pad’s edge.",
        after=Step(
            "Cool, fold, sew, turn",
            "Let it cool lying flat. Fold it right sides together, sew both sides {seam} mm from "
            "the edge, turn it out.",
            "sew",
        ),
        is_sewn=True,
    ),
    "sewn": _Habits(
        thick_parts="Keep thick seams off the platen: lay the face on a pad a little smaller than "
        "it, so that the seams hang over the edge and the pressure is even.",
        protect="Put a sheet inside too, so that ink cannot reach the other face.",
        after=_COOL,
        is_sewn=True,
    ),
    "flat": _Habits(
        thick_parts="Where it has a zip, a ring or a thick seam, let that hang over the pad’s "
        "edge.",
        after=_COOL,
    ),
}


def press_steps(blank: Blank, panels: Sequence[str]) -> list[Step]:
    """The steps for one blank; `panels` are those that get ink.

    Order and advice: common practice, no source, unless the blank's maker says otherwise.
    StopError for a blank without heat and time.
    """
    press, habits = press_of(blank), _HABITS[blank.construction]
    both = sides_of(blank, panels) > 1
    time = f"{number(press.time_s)} s"
    steps = [
        Step(
            "Heat up",
            f"Set {setting_of(blank).heat_in_words}, {time}, {press.pressure} pressure. Wait "
            "until the heat is steady.",
            "heat",
        ),
        Step("Clean", "Roll every thread and speck of lint off the cloth.", "clean"),
    ]
    if press.preheat_s:
        side = "each side that will be pressed" if both else "the side that will be pressed"
        steps.append(
            Step(
                "Preheat",
                f"Press {side} bare for {number(press.preheat_s)} s. This dries the cloth and "
                "lets it shrink first.",
                "preheat",
            )
        )
    steps += [
        Step("Lay the paper", _lay(blank, press), "lay"),
        Step("Protect", _protect(blank, habits), "protect"),
    ]
    if blank.shape != "round":  # a round one is even all over
        thick = sentences(habits.thick_parts, _closure(blank))
        steps.append(Step("Thick parts off the platen", thick, "edge"))
    steps.append(
        Step(
            "Press",
            f"Close the press for {time}, then open it. {_PEEL[press.peel]} Hold the blank and "
            "lift the paper straight up: if it slides, the picture doubles.",
            "press",
        )
    )
    if both:
        steps.append(Step("The other side", _other_side(time, panels), "turn"))
    if blank.hem_mm:
        steps.append(
            Step(
                "Cool and hem",
                f"Let it cool lying flat. At each opening turn {number(blank.hem_mm)} mm of cloth "
                "over to the back and stitch it down, before the sides are sewn.",
                "hem",
            )
        )
    after = habits.after
    return [*steps, replace(after, says=after.says.format(seam=number(blank.seam_mm)))]


# Each with where it comes from.
_FILE, _PRACTICE = "(the blank’s file)", "(common practice, no source)"
_PEEL: Mapping[Peel, str] = {
    "hot": f"Take the paper off while it is hot {_FILE}.",
    "cold": f"Leave the paper on until all is cold {_FILE}.",
    "": "The blank’s file does not say whether the paper comes off hot or cold: ask its maker.",
}
_HOLD: Mapping[Hold, str] = {
    "spray": f"Hold it with a light mist of tacky spray on the paper {_FILE}.",
    "tape": f"Tape it beyond the blank or at the back, not on the face {_FILE}.",
    "": f"Tape it beyond the blank or at the back, not on the face {_PRACTICE}.",
}
_EDGE: Mapping[PaperEdge, str] = {
    "torn": f"Tear the paper’s edges, do not cut them {_FILE}.",
    "cut": f"Cut the paper’s edges {_FILE}.",
    "": "Where an edge must lie on the face, torn paper or a light tacky spray lessens its mark; "
    f"that of a small print can still show on foam {_PRACTICE}.",
}


_TICKS = "its middle comes where lines between the ticks in the middle of the paper’s sides cross"
_MARKS: Mapping[Shape, str] = {
    "rectangle": "The corner marks are the blank’s corners.",
    "rounded": f"The corner marks are where its straight sides would meet; {_TICKS}.",
    "round": f"The blank is round: {_TICKS}.",
}


def _lay(blank: Blank, press: PressSetting) -> str:
    return sentences(
        "Read the number of the paper’s piece, then lay the paper face down on the blank: printed "
        "side on the cloth, bare side towards the heat. The small arrow is at the blank’s top.",
        _MARKS[blank.shape],
        f"The ink then shows about {number(blank.bleed_mm)} mm past its top, bottom, left and "
        "right alike."
        if blank.bleed_mm > 0 and blank.shape != "rectangle"
        else "",
        "Foam keeps the mark of a paper edge or of tape: the paper must reach past the blank "
        "on every side."
        if blank.cloth.finish == "foam"
        else "",
        _HOLD[press.hold],
        _EDGE[press.edge],
    )


def _closure(blank: Blank) -> str:
    """Which end of a wrap carries which side of its closure, and where; the ends are named as they
    lie under the press, print side up."""
    closure = blank.closure
    if closure is None:
        return ""
    wide = f"{number(closure.width_mm)} mm"
    if closure.on_top == "neither":
        return _strip_over(blank, closure)
    above, under = ("right", "left") if closure.on_top == "right" else ("left", "right")
    if closure.on == "front":
        return (
            f"Print side up, the {under} end, which lies under, carries its strip on the front, "
            f"within {wide} of that end: ink spoils its hold, so keep the printed paper off it. "
            f"The {above} end, which lies on top, carries its strip on the back {_FILE}."
        )
    if closure.on == "back":
        return (
            f"Print side up, the {above} end, which lies on top, carries its strip on the back, "
            f"within {wide} of that end; no strip is on the front {_FILE}."
        )
    return (
        "Ink under hook-and-loop spoils it. The blank’s file does not say which side its strips "
        "are on: look, or ask its maker, and write closure: on: back or front."
    )


def _strip_over(blank: Blank, closure: Closure) -> str:
    """The strip over the ends of a wrap that meet."""
    half = number(closure.width_mm / 2)
    meets = (
        f"The ends meet, and a strip {number(closure.width_mm)} mm wide lies over both: what is "
        f"pressed within {half} mm of either end is not seen."
    )
    if closure.on == "back":
        return sentences(meets, f"No strip is on the front {_FILE}.")
    if closure.on == "front":
        return sentences(
            meets,
            f"Print side up, both ends carry hook-and-loop on the front, within {half} mm: ink "
            f"spoils its hold, so keep the printed paper off it {_FILE}.",
        )
    return sentences(
        meets,
        "Ink under hook-and-loop spoils it. The blank’s file does not say which side it is on: "
        "look, or ask its maker, and write closure: on: back or front.",
    )


def _protect(blank: Blank, habits: _Habits) -> str:
    return sentences(
        "Fresh protective paper under the blank and over it, larger than the printed paper.",
        f"The ink runs {number(blank.bleed_mm)} mm past the edge of the cloth and would stain the "
        "pad and the next blank: change the lower sheet every time."
        if blank.bleed_mm > 0
        else "",
        habits.protect,
    )


def _other_side(time: str, panels: Sequence[str]) -> str:
    press = f"take fresh protective paper and press this side for the full {time} too."
    if len(panels) > 1:
        return f"Turn the blank over. Lay on the paper marked “back” with the same number; {press}"
    return f"Turn the blank over; {press}"


def cautions(constructions: set[Construction]) -> list[Caution]:
    """Cautions for what is pressed. Signal words: ANSI Z535.4-2007, 4.14 (WARNING: could result in
    death or serious injury; CAUTION: could result in minor or moderate injury). The sentences are
    ours. That skin burns at far less than a platen's heat: ISO 13732-1:2006.
    """
    dangers = [
        Caution(
            "WARNING",
            "Hot platen",
            "The platen burns skin at a touch. Keep hands, hair and sleeves clear, wear "
            "heat-proof gloves, and never leave the press closed and alone.",
        ),
        Caution(
            "WARNING",
            "Spray adhesive near heat",
            "Many spray adhesives and their gas burn or explode near heat. Spray in another, "
            "aired place, let it dry, and keep the can away from the press. Read the can’s label.",
        ),
        Caution(
            "CAUTION",
            "Fumes",
            "Hot ink, paper and cloth give off fumes. Open a window or run an extractor, and stop "
            "if your eyes or throat sting.",
        ),
    ]
    if any(_HABITS[construction].is_sewn for construction in constructions):
        dangers.append(
            Caution(
                "CAUTION",
                "Needles",
                "Needles and pins go through fingers. Switch the machine off before you thread "
                "it, and count pins before a blank goes under the press: metal in it gets hot.",
            )
        )
    return dangers


DEFERS = (
    "The instructions of the makers of press, blank, ink and spray, the rules where you work, "
    "and the practice of licensed people come before anything on this page."
)
