"""A new blank from a tape's measures: asked for or given, judged, drawn, written down."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TypeVar

from proofgen import store
from proofgen.desk.choosing import to_offer
from proofgen.desk.closing import that_closes
from proofgen.desk.drafts import draft_of, drafted
from proofgen.desk.figures import SIDES, figure_on, press_figures
from proofgen.desk.lengths import PLACES, doubt, length_of, taken_for
from proofgen.desk.looks import blank_document
from proofgen.desk.naming import a_name, called_by_customers, given_name
from proofgen.desk.punched import punched
from proofgen.desk.questions import TRIES, Ask, Asker, Question, Refused
from proofgen.desk.shades import cloth_colours
from proofgen.errors import StopError, UsageError
from proofgen.geometry import CONSTRUCTIONS, SHAPES, Construction, Shape
from proofgen.model import FINISHES, Blank, Cloth, PressSetting
from proofgen.model.blank import Finish
from proofgen.model.documents import BlankDocument
from proofgen.render.drawing import blank_svg
from proofgen.say import did_you_mean, file_name, number
from proofgen.shop import practice_press, write_blank
from proofgen.shop.blank_fields import FIELDS, Field, kind_of
from proofgen.shop.blank_writer import free_for_blank, still_to_write
from proofgen.shop.fields import AnyEntry, Choice, Map
from proofgen.shop.yaml_text import flow_map
from proofgen.workshop import Workshop

_MADE = (
    "How is it made? wrap: one flat piece, closed round the can; fold: pressed flat, then folded "
    "and sewn; sewn: sewn already; flat: one face."
)
_AS_BOX = "only these are known; measure another shape as the rectangle round it"
_ONCE_MORE = "Each measure is asked once more: Enter keeps it, or type it as it should be."
LENGTHS = tuple(
    name
    for one in FIELDS.values()
    for name, entry in one.measured()
    if not isinstance(entry.value, Choice)
)

Option = TypeVar("Option", bound=str)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tape:
    """What was given; None where it was left out. `lengths` are texts by the names in LENGTHS,
    `figures` by those in FIGURES, `ends` what is chosen of a wrap's ends."""

    construction: str | None = None
    shape: str | None = None
    finish: str | None = None
    title: str | None = None
    called: str | None = None  # what customers call it
    name: str | None = None
    colours: Sequence[str] = ()
    lengths: Mapping[str, str] = field(default_factory=dict)
    figures: Mapping[str, str] = field(default_factory=dict)
    ends: Mapping[str, str | None] = field(default_factory=dict)
    holes: Sequence[str] = ()

    def of(self, name: str) -> str | None:
        return self.ends.get(name) or self.lengths.get(name)


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """A blank that is in the shop now."""

    name: str
    file: Path
    drawing: Path
    document: BlankDocument
    copied: str = ""  # the built-in blank from which the rest was taken
    to_offer: tuple[str, ...] = ()  # how a design is offered on it
    told: tuple[str, ...] = ()  # what was taken otherwise than measured


def _length(
    asker: Asker, name: str, asks: str, given: str | None, enter: str, kind: str = ""
) -> float:
    """A length in mm, given or asked for; a strange one is asked for twice."""
    option, doubted = f"--{name}", set[float]()

    def parse(text: str) -> float:
        try:
            value = length_of(name, text)
        except ValueError as error:
            problem, _, cure = str(error).partition("; ")
            raise Refused(UsageError(f"{option}: {problem}", cure), f"{error}. ") from None
        strange = doubt(kind, name, value) if asker.ask and given is None else ""
        if strange and value not in doubted:
            doubted.add(value)
            again = f"{strange} Then type it again; else measure again. "
            raise Refused(UsageError(f"{option}: {strange}", "measure again"), again)
        if asker.ask and (told := taken_for(name, text)):
            asker.notes.append(told)
        return value

    cure = "write it like 66.1 mm, 6.6 cm, 9.5 in or 9 1/2 in"
    missing = UsageError(f"one measure is missing: {asks}", f"add {option} LENGTH")
    return asker.answer(
        Question(
            asks=f"{asks} (Enter: {enter})" if enter else f"{asks} (in mm, cm or in)",
            parse=parse,
            enter=enter or Refused(missing, f"a length is needed here; {cure}. "),
            gave_up=UsageError(f"no length was given: {asks}", cure),
        ),
        given,
    )


def _units(enter: str) -> str:
    return f"Enter: {enter}" if enter else "like 5 mm, 0.5 cm or 1/4 in; Enter: not known"


def _if_known(asker: Asker, name: str, asks: str, given: str | None, enter: str) -> float:
    """A length in mm that a blank is whole without; 0 where nobody says it, and none was known."""

    def parse(text: str) -> float:
        try:
            return length_of(name, text) if text else 0.0
        except ValueError as error:
            problem, _, cure = str(error).partition("; ")
            raise Refused(UsageError(f"--{name}: {problem}", cure), f"{error}. ") from None

    question = Question(asks=f"{asks} ({_units(enter)})", parse=parse, enter=enter)
    return asker.answer(question, given)


def _choice(
    asker: Asker,
    name: str,
    asks: str,
    known: Sequence[Option],
    given: str | None,
    enter: Option | None = None,
    else_: str = "",
) -> Option:
    """One of `known`; `enter` when nothing is said, unless it is None; `else_` says what to do
    where it is none of them."""
    option = f"--{name.replace('_', '-')}"
    listed = ", ".join(known)
    add = f"add {option} with one of: {listed}"

    def parse(text: str) -> Option:
        for one in known:
            if text == one:
                return one
        if not text and enter is not None:
            return enter
        if not text:
            raise Refused(UsageError(asks, add))
        raise Refused(
            UsageError(
                f"{option}: “{text}” is not one of {listed}",
                else_ or did_you_mean(text, known, typed=True) or f"write one of: {listed}",
            ),
            f"“{text}” is none of them{else_ and f'; {else_}'}. ",
        )

    return asker.answer(
        Question(
            asks=f"{asks.partition('?')[0]}? (one of {listed}{_enter(enter)})",
            first=f"{asks} (one of {listed}{_enter(enter)})",
            parse=parse,
            enter=enter or "",
            gave_up=UsageError(f"nothing was chosen: {asks}", f"choose one of: {listed}"),
        ),
        given,
    )


def _enter(value: str | None) -> str:
    return "" if value is None else f"; Enter: {value or 'not known'}"


def _answers_of(like: Blank | None) -> dict[str, str]:
    """What a blank says already, as answers."""
    answers = {}
    for one in FIELDS.values():
        value = getattr(like, one.attr) if like else None
        if value is None or value == one.usual:
            continue
        parts = one.value.parts(value) if isinstance(one.value, Map) else (value,)
        for (name, entry), part in zip(one.measured(), parts, strict=False):
            is_length = not isinstance(entry.value, Choice)
            answers[name] = f"{number(part, PLACES)} mm" if is_length else str(part)
    return answers


def _answers(
    asker: Asker, tape: Tape, made: tuple[Construction, Shape], like: Blank | None
) -> dict[str, object]:
    """What is measured of this kind of blank, by the names of the options: lengths in mm first,
    then what is chosen."""
    kind, before = kind_of(*made), _answers_of(like)
    asked, known = dict[str, AnyEntry](), dict[str, AnyEntry]()
    for one in FIELDS.values():
        for name, entry in one.measured():
            if kind in entry.asks:
                asked[name] = entry
            elif one.known:
                known[name] = entry
    lengths = {n: e for n, e in asked.items() if not isinstance(e.value, Choice)}
    for name in tape.lengths:
        if name not in lengths and name not in known:
            has = ", ".join((*lengths, *known))
            raise UsageError(f"{made[0]} has no --{name}", f"it has: {has}")
    answers: dict[str, object] = {}
    for name, entry in (lengths | asked).items():
        asks, given, enter = entry.asks[kind], tape.of(name), before.get(name, entry.enter)
        if isinstance(entry.value, Choice):
            known_ends = entry.value.options
            answers[name] = _choice(asker, name, asks, known_ends, given, enter or entry.usual)
        elif isinstance(entry, Field) and entry.may_stay_open(kind):
            if length := _if_known(asker, name, asks, given, enter):
                answers[name] = length
        else:
            answers[name] = _length(asker, name, asks, given, enter, kind)
    for name in known:
        if text := tape.lengths.get(name, before.get(name)):
            answers[name] = _length(Asker(None), name, "", text, "")
            if asker.ask and name not in tape.lengths:  # else all that is taken over is told
                asker.notes.append(
                    f"From the built-in blank: {name} {text} (--{name} gives another).\n"
                )
    return answers


def _cloth(asker: Asker, tape: Tape, like: Blank | None) -> Cloth:
    enter: Finish = like.cloth.finish if like else ""
    finish = _choice(asker, "finish", "How does the cloth look?", FINISHES, tape.finish, enter)
    if like and not tape.colours:
        return replace(like.cloth, finish=finish)
    return Cloth(
        finish=finish,
        colours=cloth_colours(asker, tape.colours),
        polyester=like.cloth.polyester if like else None,
    )


def _texts(
    asker: Asker, tape: Tape, title: str, made: tuple[Construction, Shape], like: Blank | None
) -> dict[str, str]:
    """What will stand in the blank's file, by key; nothing is judged yet."""
    texts = _measures_that_fit(asker, tape, title, made, like)
    cloth = _cloth(asker, tape, like)
    usual = like.press if like and like.press else practice_press(made[0], cloth.finish)
    fibre, press = press_figures(asker, made[0], tape.figures, usual)
    cloth = cloth if fibre is None else replace(cloth, polyester=fibre)
    return texts | _rest(title, made, cloth, press)


def _rest(
    title: str, made: tuple[Construction, Shape], cloth: Cloth, press: PressSetting
) -> dict[str, str]:
    """What stands in the file beside the measures."""
    chosen = {"name": title, "construction": made[0], "cloth": cloth, "press": press}
    if made[0] == "flat":
        chosen["shape"] = made[1]
    return {key: FIELDS[key].value.write(value) for key, value in chosen.items()}


def _measures_that_fit(
    asker: Asker, tape: Tape, title: str, made: tuple[Construction, Shape], like: Blank | None
) -> dict[str, str]:
    """The measures, by key. Where a person is asked they are judged as soon as the last of them is
    known, and asked anew while together they make no sense: not after twenty questions more. The
    same measures once more are not asked about again."""
    plain = Cloth(finish="", colours={"white": "#ffffff"}, polyester=None)
    rest = _rest(title, made, plain, practice_press(made[0], plain.finish))
    tries, refused = 0, None
    while True:
        tries += 1
        measured = _measures(asker, tape, made, like)
        if asker.ask is None:
            return measured | punched(asker, tape.holes, measured)
        try:
            that_closes(asker, both := measured | rest, "it")
        except UsageError as problem:
            if tries == TRIES or measured == refused:
                raise
            refused = measured
            asker.notes.append(f"{problem.sentence()}\n{_ONCE_MORE}\n")
            tape = replace(tape, lengths={}, ends={})
        else:
            both |= punched(asker, tape.holes, both)
            return {key: text for key, text in both.items() if key not in rest}


def _measures(
    asker: Asker, tape: Tape, made: tuple[Construction, Shape], like: Blank | None
) -> dict[str, str]:
    """What was measured of this kind of blank, as its file will say it."""
    kind, answers = kind_of(*made), _answers(asker, tape, made, like)
    texts = {}
    for one in FIELDS.values():
        measured = [(e, answers[name]) for name, e in one.measured() if name in answers]
        if isinstance(one.value, Map) and measured:
            said = [(e.key, e.value.write(value)) for e, value in measured if value != ""]
            texts[one.key] = flow_map(said)
        elif measured and not one.is_silent(kind, measured[0][1]):
            texts[one.key] = one.value.write(measured[0][1])
    return texts


def measure(workshop: Workshop, tape: Tape, ask: Ask | None) -> Measured:
    """Write blanks/NAME.yaml from measures and draw it; nothing is written when they make no sense.

    A name of a built-in blank takes from it what is left out. Errors: UsageError for a measure
    that is missing or impossible, or where a wrap's ends do not meet as they should.
    """
    like = workshop.shop.blanks.get(tape.name or "")
    if like is not None and not like.built_in:
        raise UsageError(
            f"there is a blank called “{tape.name}” already",
            f"choose another name, or change blanks/{tape.name}.yaml",
        )
    # Answers that were stopped belong to the blank that was named with them.
    about = like.id if like else file_name(tape.name, "new") if tape.name else "new"
    file = draft_of(workshop.workroom, f"measure-{about}")
    try:
        with drafted(file, ask) as asker:
            return _measured(workshop, tape, asker, like)
    except StopError as problem:  # nothing is there that could be let through
        raise UsageError(problem.problem, problem.cure) from None


def _measured(workshop: Workshop, tape: Tape, asker: Asker, like: Blank | None) -> Measured:
    free_for_blank(workshop.folder, tape.name)  # nobody should answer questions for nothing
    made = _made(asker, tape, like)
    if like is not None and made != (like.construction, like.shape):
        raise UsageError(f"“{like.id}” is another kind of blank", "choose another name")
    if sides := tape.figures.get(SIDES):
        figure_on(made[0], SIDES, sides)  # before a question more
    title = None if tape.title is None else given_name(tape.title)
    if title is None and like is None and asker.ask:
        asks = "What do you call it? (Enter: a plain name)"
        title = asker.answer(Question(asks=asks, parse=a_name, enter="")) or None
    name = tape.name or file_name(title or f"my-{made[0]}", "blank")
    called = called_by_customers(asker, tape.called, like)
    title = title or (like.name if like else name.replace("-", " ").capitalize())
    texts = _texts(asker, tape, title, made, like)
    if called:
        texts["called"] = FIELDS["called"].value.write(called)
    blank = that_closes(asker, texts, name)
    remarks = [f"Measured with a tape on {workshop.today.isoformat()}, before the press."]
    remarks += still_to_write(blank)
    file = write_blank(workshop.folder, blank, tuple(remarks))
    drawing = workshop.workroom / "blanks" / f"{name}.svg"
    store.write(drawing, _drawn(blank))
    told = tuple(note.strip() for note in asker.notes)
    asker.notes.clear()
    return Measured(
        name=name,
        told=told,
        file=file,
        drawing=drawing,
        document=blank_document(blank),
        copied=like.id if like else "",
        to_offer=to_offer(workshop.shop.designs.values(), name),
    )


def _made(asker: Asker, tape: Tape, like: Blank | None) -> tuple[Construction, Shape]:
    """Construction and, of a flat blank, its shape."""
    known = tape.construction or (like.construction if like else None)
    made = _choice(asker, "construction", _MADE, CONSTRUCTIONS, known)
    if made != "flat":
        return made, "rectangle"
    known = tape.shape or (like.shape if like else None)
    return made, _choice(asker, "shape", "Which shape is it?", SHAPES, known, "rectangle", _AS_BOX)


def _drawn(blank: Blank) -> str:
    plan = blank.plan()
    svg = blank_svg(
        plan,
        next(iter(plan.panels)),  # two faces of a sewn blank look alike
        title=f"{blank.name}, laid flat",
        desc=f"{number(blank.width_mm)} × {number(blank.height_mm)} mm, print side up.",
    )
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{svg}\n'
