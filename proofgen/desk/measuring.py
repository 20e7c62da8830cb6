"""A new blank from a tape's measures: asked for or given, judged, drawn, written down."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any, TypeVar

from proofgen import shop as shop_room
from proofgen import store
from proofgen.desk.looks import blank_document
from proofgen.desk.ordering import TRIES, Ask
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
class Question:
    """One measure: the option's name, what to ask, and what Enter means (None: it is needed)."""

    key: str
    asks: str
    enter: str | None = None


# Bleed, safe and the shortest overlap: common practice, no source; the shop changes them.
_ENDS = (
    Question("bleed", "How far may ink run past the edge?", "6 mm"),
    Question("safe", "How far from the edge do words stay?", "5 mm"),
)
_THICK = Question("thickness", "How thick is the cloth? Fold it to four layers, take a quarter.")
_WRAP = (
    Question("vessel", _CAN),
    Question("length", "How long is the cloth, lying flat, from end to end?"),
    Question("height", "How high is the cloth?"),
    _THICK,
    Question("closure", "How wide is the hook-and-loop strip, measured across it?"),
    Question("shortest", "How much must the ends overlap to hold?", "10 mm"),
)
_FOLD = (
    Question("width", "How wide is the flat cloth, across the opening?"),
    Question("height", "How high is the whole flat cloth, front and back together?"),
    Question("seam", "How much cloth goes into the seam at each side?"),
    Question("fold", "How wide is the strip round the bottom, between front and back?", "0 mm"),
    Question("hem", "How much is turned over at each opening?", "0 mm"),
    Question("base", "How much of each face lies under the can?", "0 mm"),
)
_SEWN = (
    Question("width", "How wide is one face, lying flat, from seam to seam?"),
    Question("height", "How high is one face?"),
    Question("gap", "How far from the seam does the press stop, each side?"),
)
_SIDES = (
    Question("width", "How wide is it?"),
    Question("height", "How high is it?"),
)
_FLAT = {
    "rectangle": _SIDES,
    "rounded": (*_SIDES, Question("corner", "What is the radius of a corner?")),
    "round": (Question("diameter", "How wide is it across the middle?"),),
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


def _ask_length(question: Question, given: str | None, ask: Ask | None) -> float:
    option = f"--{question.key}"
    text, why = given, ""
    for _ in range(TRIES):
        if text is None and ask is None:
            if question.enter is None:
                raise UsageError(f"one measure is missing: {question.asks}", f"add {option} LENGTH")
            text = question.enter
        if text is None and ask is not None:
            hint = f" (Enter: {question.enter})" if question.enter else " (in mm or in)"
            text = ask(f"{why}{question.asks}{hint}") or question.enter
        try:
            if text is None:
                raise ValueError("a length is needed here; write it like 66.1 mm or 9.5 in")
            return length_of(question.key, text)
        except ValueError as error:
            problem, _, cure = str(error).partition("; ")
            if ask is None:
                raise UsageError(f"{option}: {problem}", cure) from None
            text, why = None, f"{problem}; {cure}. "
    raise UsageError(f"no length was given for {option}", "write it like 66.1 mm or 9.5 in")


def _choice(
    given: str | None,
    what: str,
    option: str,
    known: Sequence[Option],
    ask: Ask | None,
    enter: Option | None,
) -> Option:
    """One of `known`; `enter` when nothing is said, unless it is None."""
    listed = ", ".join(known)
    hint = f" (one of {listed}; Enter: {enter})" if enter else f" (one of {listed})"
    why = ""
    for _ in range(TRIES):
        if given is None:
            given = (ask(f"{why}{what}{hint}") if ask else "") or enter or ""
        for one in known:
            if given == one:
                return one
        if ask is None:
            raise UsageError(
                f"{option}: “{given}” is not one of {listed}" if given else what,
                did_you_mean(given, known, typed=True) or f"add {option} with one of: {listed}",
            )
        why = f"“{given}” is none of them. " if given else ""
        given = None
    raise UsageError(f"nothing was chosen: {what}", f"add {option} with one of: {listed}")


def _questions(construction: str, shape: str) -> tuple[Question, ...]:
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


def _lengths(
    tape: Tape, made: tuple[Construction, Shape], like: Blank | None, ask: Ask | None
) -> Measures:
    """Every measure of the construction, in mm."""
    questions, before = _questions(*made), _written(like)
    known = dict.fromkeys((*(q.key for q in questions), *_OPTIONAL))
    for key in tape.lengths:
        if key not in known:
            raise UsageError(f"{made[0]} has no --{key}", f"it has: {', '.join(known)}")
    found = {}
    for question in questions:
        enter = before.get(question.key, question.enter)
        found[question.key] = _ask_length(
            replace(question, enter=enter), tape.lengths.get(question.key), ask
        )
    for key in _OPTIONAL:
        text = tape.lengths.get(key, before.get(key))
        if key not in found and text:
            found[key] = _ask_length(Question(key, key), text, None)
    return found


def _cloth(tape: Tape, like: Blank | None, ask: Ask | None) -> Cloth:
    what = "How does the cloth look?"
    enter = like.cloth.finish if like else FINISHES[0]
    finish = _choice(tape.finish, what, "--finish", FINISHES, ask, enter)
    if like and not tape.colours:
        return replace(like.cloth, finish=finish)
    return Cloth(
        finish=finish,
        colours=_colours(tape.colours),
        polyester=like.cloth.polyester if like else None,
    )


def _blank(
    name: str, tape: Tape, made: tuple[Construction, Shape], like: Blank | None, ask: Ask | None
) -> Blank:
    """The blank as measured, by its construction and shape; nothing is judged yet."""
    found = _lengths(tape, made, like, ask)
    closure = None
    if made[0] == "wrap":
        what = "Which end lies on top when it is closed, seen print side up?"
        enter = like.closure.on_top if like and like.closure else "right"
        closure = Closure(
            width_mm=found["closure"],
            shortest_mm=found["shortest"],
            on_top=_choice(tape.on_top, what, "--on-top", SIDES, ask, enter),
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
        cloth=_cloth(tape, like, ask),
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


def _judged(blank: Blank) -> list[ProofgenError]:
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


def _again(blank: Blank, problems: list[ProofgenError], ask: Ask | None) -> Blank:
    """A wrap that does not fit its can may have been measured wrong: ask for its length anew."""
    for _ in range(TRIES):
        if not problems:
            return blank
        if ask is None or not isinstance(problems[0], StopError):
            raise problems[0]
        said = ask(
            f"{problems[0].sentence()}\nHow long is the cloth, measured again? (Enter to stop)"
        )
        if not said:
            raise problems[0]
        try:
            blank = replace(blank, width_mm=length_of("length", said))
        except ValueError:
            continue
        problems = _judged(blank)
    raise problems[0]


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
    made = _made(tape, like, ask)
    if like is not None and made != (like.construction, like.shape):
        raise UsageError(f"“{like.id}” is another kind of blank", "choose another name")
    title = tape.title
    if title is None and like is None and ask:
        title = ask("What do you call it? (Enter: a plain name)") or None
    name = tape.name or shop_room.slug(title or f"my-{made[0]}", "blank")
    blank = _blank(name, replace(tape, title=title), made, like, ask)
    blank = _again(blank, _judged(blank), ask)
    remarks = [f"Measured with a tape on {workshop.today.isoformat()}, before the press."]
    remarks += _still_to_write(blank)
    file = shop_room.write_blank(workshop.folder, blank, tuple(remarks))
    drawing = workshop.workroom / "blanks" / f"{name}.svg"
    store.write(drawing, _drawn(blank))
    return Measured(name=name, file=file, drawing=drawing, document=blank_document(blank))


def _made(tape: Tape, like: Blank | None, ask: Ask | None) -> tuple[Construction, Shape]:
    """Construction and, of a flat blank, its shape."""
    known = tape.construction or (like.construction if like else None)
    made = _choice(known, _MADE, "--construction", CONSTRUCTIONS, ask, None)
    if made != "flat":
        return made, "rectangle"
    known = tape.shape or (like.shape if like else None)
    return made, _choice(known, "Which shape is it?", "--shape", SHAPES, ask, "rectangle")


def _drawn(blank: Blank) -> str:
    plan = blank.plan()
    svg = blank_svg(
        plan,
        next(iter(plan.panels)),  # two faces of a sewn blank look alike
        title=f"{blank.name}, laid flat",
        desc=f"{number(blank.width_mm)} × {number(blank.height_mm)} mm, print side up.",
    )
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{svg}\n'
