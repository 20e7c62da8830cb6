"""The colour report in plain words, as a customer reads it on the proof."""

from __future__ import annotations

from proofgen.colour import plain_name
from proofgen.model import ColourReport, InkLook
from proofgen.say import capital, joined, number

MOST = 5  # colours in one sentence; more is a table nobody reads
READS_WELL = 3.0  # WCAG 2.2, 1.4.3, large text

# What becomes of one colour, and of several.
_STAYS = ("{colours} stays much as on white.", "{colours} stay much as on white.")
_LOST = ("{colours} can hardly be told from the bare cloth.",) * 2
# These stand side by side.
_DARKER = ("{colours} gets darker", "{colours} get darker")
_TURNS = ("{colours} turns {into}", "{colours} turn {into}")


def _name(colour: str) -> str:
    return plain_name(colour).removeprefix("greyish ")


def _of(names: list[str], sentence: tuple[str, str], into: str = "") -> str:
    return sentence[len(names) > 1].format(colours=joined(names[:MOST]), into=into)


def _fate(ink: InkLook) -> str:
    """What becomes of a colour: '' it stays, 'vanishes', 'darker', or the name it turns into."""
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
    fates: dict[str, list[str]] = {}  # the colours that meet each fate, every name once
    for ink in report.inks:
        name = _name(ink.ink)
        if not any(name in names for names in fates.values()):
            fates.setdefault(_fate(ink), []).append(name)
    stay, lost = fates.pop("", []), fates.pop("vanishes", [])
    changes = [
        _of(names, _DARKER) if fate == "darker" else _of(names, _TURNS, fate)
        for fate, names in fates.items()
    ]
    sentences = [capital(_of(stay, _STAYS))] if stay else []
    sentences += [f"{capital('; '.join(changes[:MOST]))}."] if changes else []
    sentences += [capital(_of(lost, _LOST))] if lost else []
    words = [ink for ink in report.inks if ink.contrast is not None]
    if words:
        weakest = min(words, key=lambda ink: ink.contrast or 0.0)
        sentences.append(_words(weakest.contrast or 0.0, weakest.contrast_on_white or 0.0))
    return tuple(sentences)


def _words(here: float, on_white: float) -> str:
    # Cut, not rounded: 2.96 is not 3.
    cloth, white = (number(int(v * 10) / 10, 1) for v in (here, on_white))
    if here >= READS_WELL:
        return (
            f"The words stand out {cloth} to 1 from what is behind them, {white} to 1 on white; "
            "they read well."
        )
    return (
        f"The words stand out {cloth} to 1 from what is behind them, {white} to 1 on white; "
        "they are hard to read."
    )


def say_reach(share: float) -> str:
    """What part of the picture (0..1) the printer cannot reach."""
    if share < 0.01:
        return (
            "Less than 1 % of the picture holds colours this printer cannot reach; they are "
            "hatched."
        )
    return (
        f"{number(share * 100, 0)} % of the picture holds colours this printer cannot reach; they "
        "are hatched."
    )
