"""What customers call a blank and the colours of its cloth, in their language."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Mapping
from dataclasses import replace

from proofgen.model.blank import Blank
from proofgen.model.design import Design
from proofgen.say import joined
from proofgen.say.parts import FINISH_WORDS, PIECES
from proofgen.say.tongue import Tongue

# A wrap for cans narrower than the one, or higher than the other, is called by it, mm: between a
# slim can's 53 to 58 and a common one's 66, between their wraps' 100 and 140. Common practice, no
# source.
_SLIM, _TALL = 60.0, 120.0


def called_in(blank: Blank, tongue: Tongue) -> str:
    """The maker's own word for it; else what it is, its cloth and, of a flat one, its size. One
    that would be called like another (`told_apart`) has its size too."""
    if blank.called:
        name = tongue.message(blank.called)  # those of built-in blanks are translated
        if blank.sized is None:
            return name
        return tongue("{piece}, {finish}", piece=name, finish=_size(blank, tongue))
    piece, finish = tongue(PIECES[_kind(blank)]), finish_in(blank, tongue)
    size = _size(blank, tongue) if blank.construction == "flat" or blank.sized is not None else ""
    if finish and size:
        return tongue("{piece}, {finish}, {size}", piece=piece, finish=finish, size=size)
    more = finish or size
    return tongue("{piece}, {finish}", piece=piece, finish=more) if more else piece


def finish_in(blank: Blank, tongue: Tongue) -> str:
    """How its cloth looks, for customers; '' where nobody said."""
    finish = blank.cloth.finish
    return tongue(FINISH_WORDS[finish]) if finish else ""


def _size(blank: Blank, tongue: Tongue) -> str:
    """Its finished size, lying flat: '225 × 101 mm'."""
    size, places = next(iter(blank.plan().panels.values())), blank.sized or 0
    measure = tongue.mm(size.height, places)
    if blank.construction == "flat" and blank.shape == "round":
        return measure
    return f"{tongue.number(size.width, places)} × {measure}"


def offered_by(designs: Mapping[str, Design]) -> tuple[str, ...]:
    """The ids of the blanks that any of the designs is offered on, once each."""
    return tuple(dict.fromkeys(blank for one in designs.values() for blank in one.offered))


def told_apart(
    blanks: Mapping[str, Blank], offered: Collection[str], language: str
) -> dict[str, Blank]:
    """The blanks, those that are `offered` under one name each with its size where that tells it
    from the others: in whole mm, else in tenths. Names are those of the shop's `language`."""
    shown = [name for name in offered if name in blanks]
    told = dict(blanks)
    if all(blanks[name].built_in for name in shown):
        return told  # each of them has its own
    tongue = Tongue.of(language)
    for places in (None, 0, 1):
        alike = _alike({name: replace(told[name], sized=None) for name in shown}, tongue)
        for group in alike:
            names = {called_in(told[name], tongue) for name in group}
            tried = {name: replace(told[name], sized=places) for name in group}
            if len({called_in(one, tongue) for one in tried.values()}) > len(names):
                told |= tried
    return told


def _alike(blanks: Mapping[str, Blank], tongue: Tongue) -> list[list[str]]:
    """The blanks' ids that go by one name, together."""
    called = {name: called_in(blank, tongue).casefold() for name, blank in blanks.items()}
    many = Counter(called.values())
    return [
        [name for name, one in called.items() if one == word]
        for word, count in many.items()
        if count > 1
    ]


def still_alike(blanks: Mapping[str, Blank], offered: Collection[str], tongue: Tongue) -> list[str]:
    """A sentence for each name that several offered blanks share, as large as each other."""
    shown = {name: blanks[name] for name in offered if name in blanks}
    return [
        f"{joined(group, 'and')} have one name for customers, “{called_in(shown[group[0]], tongue)}"
        f"”, and one size; tell them apart in blanks/{_own(shown, group)}.yaml with a line like "
        "called: Wrap sleeve with a red seam"
        for group in _alike(shown, tongue)
    ]


def _own(blanks: Mapping[str, Blank], group: list[str]) -> str:
    """The one of them to give a name to: the shop's own rather than one that came with the tool."""
    return next((name for name in group if not blanks[name].built_in), group[0])


def _kind(blank: Blank) -> str:
    """A key of PIECES."""
    if blank.construction == "flat":
        return blank.shape
    if blank.construction == "wrap" and blank.vessel_mm is not None:
        if blank.vessel_mm < _SLIM:
            return "slim"
        if blank.height_mm > _TALL:
            return "tall"
    return blank.construction


def cloths_in(blank: Blank, tongue: Tongue) -> tuple[tuple[str, str], ...]:
    """The colours of its cloth by name, each with its '#rrggbb'; common names are translated."""
    return tuple((tongue.message(name), shade) for name, shade in blank.cloth.colours.items())
