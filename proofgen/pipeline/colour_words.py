"""The colour report in plain words, as a customer reads it on the proof."""

from __future__ import annotations

from proofgen.colour import plain_name
from proofgen.model import ColourReport, InkLook
from proofgen.say import number

MOST = 5  # colours told in one sentence; more is a table nobody reads
LEAST_SHARE = 0.005  # of a picture out of the printer's reach: less is not told
READS_WELL = 3.0  # WCAG 2.2, 1.4.3, large text


def _name(colour: str) -> str:
    return plain_name(colour).removeprefix("greyish ")


def _joined(parts: list[str]) -> str:
    return " and ".join([", ".join(parts[:-1]), parts[-1]] if len(parts) > 1 else parts)


def _does(names: list[str], one: str, several: str) -> str:
    return f"{_joined(names)} {one if len(names) == 1 else several}"


def _fate(ink: InkLook) -> str:
    """What is told of a colour: '' it stays, 'vanishes', 'darker', or the name it turns into."""
    before, after = _name(ink.ink), _name(ink.on_cloth)
    if ink.fate == "vanishes":
        return "vanishes"
    if ink.fate == "keeps" or (ink.fate == "shifts" and before == after):
        return ""
    return "darker" if before == after else after


def say_colours(report: ColourReport) -> tuple[str, ...]:
    """What the cloth does to the main colours, largest first: at most four sentences; none on
    white cloth."""
    if report.cloth_hex.lower() == "#ffffff" or not report.inks:
        return ()
    told: dict[str, list[str]] = {}  # what happens to each colour's name, once a name
    for ink in report.inks:
        name = _name(ink.ink)
        if not any(name in names for names in told.values()):
            told.setdefault(_fate(ink), []).append(name)
    stay, lost = told.pop("", [])[:MOST], told.pop("vanishes", [])[:MOST]
    clauses = [
        _does(names[:MOST], "gets darker", "get darker")
        if fate == "darker"
        else _does(names[:MOST], f"turns {fate}", f"turn {fate}")
        for fate, names in told.items()
    ]
    says = [_does(stay, "stays much as on white", "stay much as on white")] if stay else []
    says += ["; ".join(clauses[:MOST])] if clauses else []
    says += [f"{_joined(lost)} can hardly be told from the bare cloth"] if lost else []
    found = [f"{text[0].upper()}{text[1:]}." for text in says]
    words = [i for i in report.inks if i.contrast is not None]
    if words:
        weakest = min(words, key=lambda i: i.contrast or 0.0)
        found.append(_words(weakest.contrast or 0.0, weakest.contrast_on_white or 0.0))
    return tuple(found)


def _words(here: float, on_white: float) -> str:
    # Cut, not rounded: 2.96 is not 3.
    figures = [number(int(v * 10) / 10, 1) for v in (here, on_white)]
    verdict = "they read well" if here >= READS_WELL else "they are hard to read"
    return (
        f"The words stand out {figures[0]} to 1 from what is behind them, {figures[1]} to 1 on "
        f"white; {verdict}."
    )


def say_reach(share: float) -> str:
    """What part of the picture (0..1) the printer cannot reach."""
    part = "Less than 1 %" if share < 0.01 else f"{number(share * 100, 0)} %"
    return f"{part} of the picture holds colours this printer cannot reach; they are hatched."
