"""A new blank from a tape's measures: asked for or given, judged, drawn, written down."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any, TypeVar

from proofgen import shop as shop_room
from proofgen import store
from proofgen.desk.looks import blank_document
from proofgen.desk.questions import Ask, Asker, Question, Refused
from proofgen.errors import ProofgenError, ShopFaults, StopError, UsageError
from proofgen.geometry import CONSTRUCTIONS, SHAPES, SIDES, Construction, Shape
from proofgen.model import FINISHES, Blank, Closure, Cloth
from proofgen.model.documents import BlankDocument
from proofgen.render.drawing import blank_svg
from proofgen.say import did_you_mean, number
from proofgen.units import parse_length
from proofgen.workshop import Workshop

PLACES = 3  # of a mm: finer than any tape
ROUND = "round"  # “round 207.6 mm”: a tape laid once round the can
_MADE = (
    "How is it made? wrap: one flat piece, closed round the can; fold: pressed flat, then folded "
    "and sewn; sewn: sewn already; flat: one face."
)
_CAN = "How wide is the can? Write it like 66.1 mm, or “round 207.6 mm” for a tape laid round it."


@dataclass(frozen=True, slots=True)
class Measure:
    """One measure: the option's name, what to ask, and what Enter means (None: it is needed)."""

    key: str
    asks: str
    enter: str | None = None


# Bleed, safe and the shortest overlap: common practice, no source; the shop changes them.
_ENDS = (
    Measure("bleed", "How far may ink run past the edge?", "6 mm"),
    Measure("safe", "How far from the edge do words stay?", "5 mm"),
)
_THICK = Measure("thickness", "How thick is the cloth? Fold it to four layers, take a quarter.")
_WRAP = (
    Measure("vessel", _CAN),
    Measure("length", "How long is the cloth, lying flat, from end to end?"),
    Measure("height", "How high is the cloth?"),
    _THICK,
    Measure("closure", "How wide is the hook-and-loop strip, measured across it?"),
    Measure("shortest", "How much must the ends overlap to hold?", "10 mm"),
)
_FOLD = (
    Measure("width", "How wide is the flat cloth, across the opening?"),
    Measure("height", "How high is the whole flat cloth, front and back together?"),
    Measure("seam", "How much cloth goes into the seam at each side?"),
    Measure("fold", "How wide is the strip round the bottom, between front and back?", "0 mm"),
    Measure("hem", "How much is turned over at each opening?", "0 mm"),
    Measure("base", "How much of each face lies under the can?", "0 mm"),
)
_SEWN = (
    Measure("width", "How wide is one face, lying flat, from seam to seam?"),
    Measure("height", "How high is one face?"),
    Measure("gap", "How far from the seam does the press stop, each side?"),
)
_SIDES = (
    Measure("width", "How wide is it?"),
    Measure("height", "How high is it?"),
)
_FLAT = {
    "rectangle": _SIDES,
    "rounded": (*_SIDES, Measure("corner", "What is the radius of a corner?")),
    "round": (Measure("diameter", "How wide is it across the middle?"),),
}
Option = TypeVar("Option", bound=str)
_OPTIONAL = ("vessel", "thickness")  # told where they are known, never asked for
LENGTHS = (
    *dict.fromkeys(q.key for q in (*_WRAP, *_FOLD, *_SEWN, *_FLAT["rounded"], *_FLAT["round"])),
    "bleed",
    "safe",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tape:
    """What was given; None where it was left out. `lengths` are texts by the names in LENGTHS."""

    construction: str | None = None
    shape: str | None = None
    on_top: str | None = None
    finish: str | None = None
    title: str | None = None
    name: str | None = None
    colours: Sequence[str] = ()
    lengths: Mapping[str, str] = field(default_factory=dict)


Measures = dict[str, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """A blank that is in the shop now."""

    name: str
    file: Path
    drawing: Path
    document: BlankDocument


def length_of(key: str, text: str) -> float:
    """A length in mm, to a thousandth; of a can also what a tape round it shows. ValueError."""
    text = " ".join(text.split())
    if key == "vessel" and text.lower().startswith(f"{ROUND} "):
        return round(parse_length(text[len(ROUND) :]) / math.pi, PLACES)
    value = parse_length(text)
    return value if key != "vessel" else round(value, PLACES)


def _length(asker: Asker, measure: Measure, given: str | None) -> float:
    """A length in mm, given or asked for."""
    option = f"--{measure.key}"

    def parse(text: str) -> float:
        try:
            return length_of(measure.key, text)
        except ValueError as error:
            problem, _, cure = str(error).partition("; ")
            raise Refused(UsageError(f"{option}: {problem}", cure), f"{error}. ") from None

    needed = "a length is needed here; write it like 66.1 mm or 9.5 in"
    missing = UsageError(f"one measure is missing: {measure.asks}", f"add {option} LENGTH")
    hint = f" (Enter: {measure.enter})" if measure.enter else " (in mm or in)"
    return asker.answer(
        Question(
            asks=f"{measure.asks}{hint}",
            parse=parse,
            enter=measure.enter or Refused(missing, f"{needed}. "),
            gave_up=UsageError(f"no length was given for {option}", needed.partition("; ")[2]),
        ),
        given,
    )


def _choice(
    asker: Asker,
    asks: str,
    option: str,
    known: Sequence[Option],
    given: str | None,
    enter: Option | None = None,
) -> Option:
    """One of `known`; `enter` when nothing is said, unless it is None."""
    listed = ", ".join(known)
    add = f"add {option} with one of: {listed}"

    def parse(text: str) -> Option:
        for one in known:
            if text == one:
                return one
        cure = did_you_mean(text, known, typed=True) or add
        if not text:
            raise Refused(UsageError(asks, add))
        raise Refused(
            UsageError(f"{option}: “{text}” is not one of {listed}", cure),
            f"“{text}” is none of them. ",
        )

    return asker.answer(
        Question(
            asks=f"{asks} (one of {listed}{f'; Enter: {enter}' if enter else ''})",
            parse=parse,
            enter=enter or "",
            gave_up=UsageError(f"nothing was chosen: {asks}", add),
        ),
        given,
    )


def _questions(construction: str, shape: str) -> tuple[Measure, ...]:
    if construction == "wrap":
        return (*_WRAP, *_ENDS)
    if construction == "flat":
        return (*_FLAT[shape], *_ENDS)
    return (*(_FOLD if construction == "fold" else _SEWN), *_ENDS)


def _colours(given: Sequence[str]) -> dict[str, str]:
    """White unless told; 'sky=#6fb7e9' for others. Their sense is judged with the blank."""
    found = {}
    for item in given:
        name, sign, shade = item.partition("=")
        if not sign:
            raise UsageError(
                f"--colour {item} has no shade", 'write it like --colour "sky=#6fb7e9"'
            )
        found[name.strip()] = shade.strip()
    return found or {"white": "#ffffff"}


def _written(like: Blank | None) -> dict[str, str]:
    """What a blank says already, by the names in LENGTHS."""
    if like is None:
        return {}
    values = {key: getattr(like, f"{key}_mm", None) for key in LENGTHS}
    values |= {"length": like.width_mm, "diameter": like.width_mm}
    if like.closure:
        values |= {"closure": like.closure.width_mm, "shortest": like.closure.shortest_mm}
    return {key: f"{number(v, PLACES)} mm" for key, v in values.items() if v is not None}


def _lengths(asker: Asker, tape: Tape, made: tuple[str, str], like: Blank | None) -> Measures:
    """Every measure of the construction, in mm."""
    questions, before = _questions(*made), _written(like)
    known = dict.fromkeys((*(q.key for q in questions), *_OPTIONAL))
    for key in tape.lengths:
        if key not in known:
            raise UsageError(f"{made[0]} has no --{key}", f"it has: {', '.join(known)}")
    lengths = {}
    for measure in questions:
        enter = before.get(measure.key, measure.enter)
        lengths[measure.key] = _length(
            asker, replace(measure, enter=enter), tape.lengths.get(measure.key)
        )
    for key in _OPTIONAL:
        text = tape.lengths.get(key, before.get(key))
        if key not in lengths and text:
            lengths[key] = _length(Asker(None), Measure(key, key), text)
    return lengths


def _cloth(asker: Asker, tape: Tape, like: Blank | None) -> Cloth:
    what = "How does the cloth look?"
    enter = like.cloth.finish if like else FINISHES[0]
    finish = _choice(asker, what, "--finish", FINISHES, tape.finish, enter)
    if like and not tape.colours:
        return replace(like.cloth, finish=finish)
    return Cloth(
        finish=finish,
        colours=_colours(tape.colours),
        polyester=like.cloth.polyester if like else None,
    )


def _blank(
    asker: Asker, name: str, tape: Tape, made: tuple[Construction, Shape], like: Blank | None
) -> Blank:
    """The blank as measured, by its construction and shape; nothing is judged yet."""
    found = _lengths(asker, tape, made, like)
    closure = None
    if made[0] == "wrap":
        what = "Which end lies on top when it is closed, seen print side up?"
        enter = like.closure.on_top if like and like.closure else "right"
        closure = Closure(
            width_mm=found["closure"],
            shortest_mm=found["shortest"],
            on_top=_choice(asker, what, "--on-top", SIDES, tape.on_top, enter),
        )
    across = next(found[key] for key in ("length", "diameter", "width") if key in found)
    strips: dict[str, Any] = {
        f"{k}_mm": found.get(k, 0.0) for k in ("seam", "fold", "hem", "base", "gap")
    }
    return Blank(
        id=name,
        name=tape.title or (like.name if like else name.replace("-", " ").capitalize()),
        construction=made[0],
        width_mm=across,
        height_mm=found.get("height", across),
        cloth=_cloth(asker, tape, like),
        bleed_mm=found["bleed"],
        safe_mm=found["safe"],
        thickness_mm=found.get("thickness", 0.0),
        vessel_mm=found.get("vessel"),
        closure=closure,
        shape=made[1],
        corner_mm=found.get("corner", 0.0),
        press=like.press if like else None,
        **strips,
    )


def _problems(blank: Blank) -> list[ProofgenError]:
    """What speaks against the blank, as sentences without a place: there is no file yet."""
    try:
        shop_room.check_blank(shop_room.blank_text(blank), blank.id)
    except ShopFaults as faults:
        return [UsageError(f.problem, f.cure) for f in faults.faults]
    told: list[ProofgenError] = []
    for _, problem, cure in blank.plan().problems:
        told.append(StopError(problem, f"measure again; {cure}{_cans(blank)}"))
    return told


def _cans(blank: Blank) -> str:
    """Which cans a wrap that does not fit its own would go round."""
    allowance = blank_document(blank)["allowance"]
    if allowance is None or "cans_mm" not in allowance:
        return ""
    least, most = allowance["cans_mm"]
    if most <= 0:
        return ""
    return f" (this one closes round cans from {number(max(least, 0))} to {number(most)} mm across)"


def _that_closes(asker: Asker, blank: Blank) -> Blank:
    """The blank when nothing speaks against it. A wrap that does not fit its can may have been
    measured wrong: its length is asked for anew, until nothing is typed."""

    def parse(text: str) -> Blank:
        nonlocal blank
        with suppress(ValueError):
            blank = replace(blank, width_mm=length_of("length", text)) if text else blank
        for problem in _problems(blank):
            if text and isinstance(problem, StopError):
                raise Refused(problem, f"{problem.sentence()}\n")
            raise problem
        return blank

    try:
        return parse("")
    except StopError as problem:
        asks = "How long is the cloth, measured again? (Enter to stop)"
        question = Question(asks=asks, parse=parse, enter="")
        return asker.answer(question, before=f"{problem.sentence()}\n")


def _still_to_write(blank: Blank) -> list[str]:
    """What no tape shows, as remarks for the file. No figure for the press: it would be copied."""
    told = []
    if blank.press is None:
        told.append(
            "To be written here, from the maker’s sheet or a trial: "
            "press: {heat: … C, time: … s, pressure: medium, from: maker}"
        )
    if blank.cloth.polyester is None:
        told.append("To be written under cloth, from its label: polyester: 100 %")
    return told


def measure(workshop: Workshop, tape: Tape, ask: Ask | None) -> Measured:
    """Write blanks/NAME.yaml from measures and draw it; nothing is written when they make no sense.

    A name of a built-in blank takes from it what is left out. Errors: UsageError for a measure
    that is missing or impossible, StopError for a wrap whose ends do not meet as they should.
    """
    like = workshop.shop.blanks.get(tape.name or "")
    if like is not None and not like.built_in:
        raise UsageError(
            f"there is a blank called “{tape.name}” already",
            f"choose another name, or change blanks/{tape.name}.yaml",
        )
    asker = Asker(ask)
    made = _made(asker, tape, like)
    if like is not None and made != (like.construction, like.shape):
        raise UsageError(f"“{like.id}” is another kind of blank", "choose another name")
    title = tape.title
    if title is None and like is None and ask:
        title = ask("What do you call it? (Enter: a plain name)") or None
    name = tape.name or shop_room.slug(title or f"my-{made[0]}", "blank")
    blank = _that_closes(asker, _blank(asker, name, replace(tape, title=title), made, like))
    remarks = [f"Measured with a tape on {workshop.today.isoformat()}, before the press."]
    remarks += _still_to_write(blank)
    file = shop_room.write_blank(workshop.folder, blank, tuple(remarks))
    drawing = workshop.workroom / "blanks" / f"{name}.svg"
    store.write(drawing, _drawn(blank))
    return Measured(name=name, file=file, drawing=drawing, document=blank_document(blank))


def _made(asker: Asker, tape: Tape, like: Blank | None) -> tuple[Construction, Shape]:
    """Construction and, of a flat blank, its shape."""
    known = tape.construction or (like.construction if like else None)
    made = _choice(asker, _MADE, "--construction", CONSTRUCTIONS, known)
    if made != "flat":
        return made, "rectangle"
    known = tape.shape or (like.shape if like else None)
    return made, _choice(asker, "Which shape is it?", "--shape", SHAPES, known, "rectangle")


def _drawn(blank: Blank) -> str:
    plan = blank.plan()
    svg = blank_svg(
        plan,
        next(iter(plan.panels)),  # two faces of a sewn blank look alike
        title=f"{blank.name}, laid flat",
        desc=f"{number(blank.width_mm)} × {number(blank.height_mm)} mm, print side up.",
    )
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{svg}\n'
