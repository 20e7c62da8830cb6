"""What a press needs to know of a blank, asked for or given: its fibre, heat, time and the rest."""

from __future__ import annotations

from collections.abc import Mapping

from proofgen.desk.questions import Asker, Question, Refused
from proofgen.errors import UsageError
from proofgen.geometry import Construction
from proofgen.model import PressSetting
from proofgen.say import did_you_mean, joined, number
from proofgen.shop.blank_fields import ONE_FACE, PRESS, TWO_FACES, has_sides
from proofgen.shop.cloth import POLYESTER
from proofgen.shop.fields import AnyEntry, Choice, Entry
from proofgen.shop.values import Kind
from proofgen.units import Temperature, c_to_f

FIBRE, SIDES, SOURCE = "polyester", "sides", "from"
_ENTRIES: Mapping[str, AnyEntry] = {
    FIBRE: Entry(key=FIBRE, value=POLYESTER),
    **{entry.key: entry for entry in PRESS.entries},
}
# What is asked, in this order; nothing typed stands for practice, or for not known.
_ASKS = {
    FIBRE: "How much of the fibre is polyester, by its label? (like 100 %; Enter: not known)",
    "heat": "How hot is it pressed? (like 200 C or 400 F; Enter: {from_whom}{usual})",
    "time": "For how long? (like 60 s; Enter: {from_whom}{usual})",
    "pressure": "With which pressure? (light, medium or firm; Enter: {usual})",
    SIDES: "On how many sides is it pressed? (1 or 2; Enter: {usual})",
    "preheat": "For how long is the bare cloth pressed before? (Enter: {from_whom}{usual})",
    "peel": "Does the paper come off hot or cold? (Enter: not known)",
    "edge": "Are the paper’s edges torn or cut? (Enter: common practice)",
    "hold": "Is the paper held by spray or by tape? (Enter: common practice)",
    SOURCE: "Where do heat and time come from? (maker: the blank’s own maker; ink: the "
    "ink’s maker; trial; practice; "
    "Enter: {usual})",
}
FIGURES = tuple(_ASKS)
_SETTING = frozenset(("heat", "time"))


def figure(key: str, text: str, option: str = "") -> object:
    """The value of one of FIGURES that was typed. UsageError, naming the option, where it is none;
    '' is given back as it is where the file need not say it."""
    option = option or f"--{key}"
    value, text = _ENTRIES[key].value, " ".join(text.split())
    if isinstance(value, Choice):
        if text in value.options:
            return text
        listed = ", ".join(value.options)
        meant = did_you_mean(text, value.options, typed=True)
        raise UsageError(
            f"{option}: “{text}” is not one of {listed}", meant or f"write one of: {listed}"
        )
    if not isinstance(value, Kind):
        return text
    try:
        made: object = value.parse(text)
    except ValueError as error:
        problem, _, cure = str(error).partition("; ")
        raise UsageError(f"{option}: {problem}", cure or value.cure) from None
    if isinstance(made, Temperature) and not made.agrees:
        raise UsageError(
            f"{option}: “{text}” is two heats: {number(made.celsius)} °C is "
            f"{number(c_to_f(made.celsius))} °F",
            "look at the maker’s sheet and write the right one alone",
        )
    return made


def figure_on(made: Construction, key: str, text: str) -> object:
    """The same of a blank that is so made."""
    value = figure(key, text)
    if key == SIDES and not has_sides(made, value):
        raise UsageError(f"--{key}: {ONE_FACE}", f"leave --{key} out; {TWO_FACES}")
    return value


def _ask(
    asker: Asker,
    made: Construction,
    key: str,
    given: str | None,
    usual: str,
    from_whom: str = "",
) -> tuple[object, bool]:
    """The value that was given or typed, else the usual one ('' where there is none); whether
    somebody said it."""

    def parse(text: str) -> tuple[object, bool]:
        if not text:
            return (figure(key, usual) if usual else ""), False
        try:
            return figure_on(made, key, text), True
        except UsageError as error:
            plain = error.problem.removeprefix(f"--{key}: ")
            cure = error.cure.replace(f"leave --{key} out", "press Enter")  # no option was typed
            raise Refused(error, f"{plain}; {cure}. ") from None

    asks = _ASKS[key].format(usual=usual, from_whom=from_whom)
    return asker.answer(Question(asks=asks, parse=parse, enter=""), given)


def press_figures(
    asker: Asker, made: Construction, given: Mapping[str, str], usual: PressSetting
) -> tuple[float | None, PressSetting]:
    """Share of polyester (None: not known) and press setting. What nobody says is as `usual`; heat
    and time are the maker's only where somebody says so. Errors: UsageError for what cannot be, and
    where nobody is there to say whose heat and time were given."""
    parts = dict(zip((entry.key for entry in PRESS.entries), PRESS.parts(usual), strict=True))
    before = {e.key: _written(e, parts[e.key]) for e in PRESS.entries}

    def said(key: str) -> tuple[object, bool]:
        from_whom = "common practice, " if usual.source == "practice" else ""
        return _ask(asker, made, key, given.get(key), before.get(key, ""), from_whom)

    fibre, _ = said(FIBRE)
    told = set[str]()
    for key in FIGURES[1:-1]:
        parts[key], by_somebody = said(key)
        told |= {key} if by_somebody else set()
    both = told >= _SETTING
    unsaid = both or bool(told & _SETTING and usual.source != "practice")
    if unsaid and asker.ask is None and SOURCE not in given:
        raise UsageError(
            f"{joined(sorted(f'--{key}' for key in told & _SETTING))}: whose they are was not said",
            "add --from maker where the blank’s own maker says so, else --from ink, trial or "
            "practice",
        )
    before[SOURCE] = "maker" if both else "practice" if unsaid else before[SOURCE]
    source = asker if unsaid else Asker(None)
    parts[SOURCE], _ = _ask(source, made, SOURCE, given.get(SOURCE), before[SOURCE])
    return (fibre if isinstance(fibre, float) else None), PRESS.make(*parts.values())


def _written(entry: AnyEntry, value: object) -> str:
    """A value as it would be typed; '' where the file need not say it."""
    if value == "":
        return ""
    return str(value) if entry.key == "pressure" else entry.value.write(value)
