"""A press trial of a blank: its sheets, and what they showed put into the blank's file."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from proofgen import store
from proofgen.desk.figures import figure
from proofgen.desk.looks import chosen_blank
from proofgen.errors import UsageError
from proofgen.model import Blank, PressSetting
from proofgen.press.trial import (
    Span,
    drawn_cells,
    exactness,
    grid_of,
    ladder,
    shrink_from,
    trial_pdf,
)
from proofgen.say import heat, number
from proofgen.shop import Found, practice_press, standard_paper, write_trial
from proofgen.units import Temperature, parse_length
from proofgen.workshop import Workshop

_SAME_C = 0.6  # °C; the sheet says each heat in whole °C and °F


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """What was typed after a trial: the heat and time of the best cell, and the readings of the
    grid's lines in mm, with commas between; None where it was left out."""

    heat: str | None = None
    time: str | None = None
    along: str | None = None
    across: str | None = None


def make_trial(workshop: Workshop, name: str) -> Path:
    """Write the sheets of a blank's trial into the workroom; their file.

    Errors: UsageError for an unknown blank; StopError for one too small or too large; MachineError
    where PDFs cannot be made.
    """
    blank = chosen_blank(workshop.shop.blanks, name, workshop.shop.faults)
    settings = workshop.shop.settings
    if not settings.papers:
        settings = replace(settings, papers=(standard_paper("A4"), standard_paper("A3")))
    blank = replace(blank, press=_before(blank))
    file = _sheet(workshop, blank)
    store.write(file, trial_pdf(blank, settings, workshop.theme, made=workshop.today))
    return file


def _sheet(workshop: Workshop, blank: Blank) -> Path:
    return workshop.workroom / "blanks" / f"{blank.id}-trial.pdf"


def _before(blank: Blank) -> PressSetting:
    """The figures that a trial lies round."""
    return blank.press or practice_press(blank.construction, blank.cloth.finish)


def _was_tried(workshop: Workshop, blank: Blank, found: Found) -> None:
    """UsageError for a heat and time of which the sheet in the workroom, or one drawn now, has no
    cell: nobody saw what they do."""
    file = _sheet(workshop, blank)
    cells = drawn_cells(file.read_bytes()) if file.is_file() else []
    cells = cells or [(c.heat, c.time_s) for strip in ladder(_before(blank)) for c in strip]
    for typed, time in cells:
        off = found.heat and abs(temperature_of(typed).celsius - found.heat.celsius)
        if (off or 0) < _SAME_C and found.time_s in (None, time):
            return
    heats, times = dict.fromkeys(h for h, _ in cells), dict.fromkeys(t for _, t in cells)
    raise UsageError(
        "this trial had no cell of that heat and time",
        f"its heats were {', '.join(heats)}, each for {', '.join(map(number, times))} s; heat and "
        f"time of the blank’s maker go into blanks/{blank.id}.yaml, under press, with from: maker",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """What a blank's file says now, and that in words."""

    file: Path
    says: tuple[str, ...]


def take_trial(workshop: Workshop, name: str, chosen: Chosen) -> Taken:
    """Write what a trial showed into the blank's file.

    Errors: UsageError for an unknown blank, a figure that cannot be or was not tried, readings
    that do not go together; StopError for a blank too small for a grid; ShopError where its file
    cannot be changed: nothing is written then.
    """
    blank = chosen_blank(workshop.shop.blanks, name, workshop.shop.faults)
    found = Found(
        day=workshop.today,
        heat=None if chosen.heat is None else temperature_of(chosen.heat),
        time_s=None if chosen.time is None else seconds_of(chosen.time),
        shrink=_shrink(blank, chosen),
    )
    if found.heat is not None or found.time_s is not None:
        _was_tried(workshop, blank, found)
    file = write_trial(workshop.folder, blank, found)
    return Taken(file=file, says=tuple(_says(blank, found)))


def temperature_of(text: str) -> Temperature:
    value = figure("heat", text)
    assert isinstance(value, Temperature)
    return value


def seconds_of(text: str) -> float:
    value = figure("time", text)
    assert isinstance(value, float)
    return value


def _shrink(blank: Blank, chosen: Chosen) -> tuple[float | None, float | None]:
    if chosen.along is None and chosen.across is None:
        return None, None
    grid = grid_of(blank)
    x = None if chosen.along is None else shrink_from(grid.along, _readings("along", chosen.along))
    y = None
    if chosen.across is not None:
        y = shrink_from(grid.across, _readings("across", chosen.across))
    return x, y


def _readings(option: str, text: str) -> list[float]:
    """Lengths with commas between, in mm where no unit is written."""
    readings = []
    for part in text.replace(";", ",").split(","):
        part = part.strip()
        try:
            readings.append(parse_length(part if part[-1:].isalpha() else f"{part} mm"))
        except ValueError:
            raise UsageError(
                f"--{option}: “{part}” is no length",
                "write the readings of all lines with commas between: 224.5,224,224.5",
            ) from None
    return readings


def _says(blank: Blank, found: Found) -> list[str]:
    said = []
    if found.heat is not None:
        said.append("Heat: {} ({}).".format(*heat(found.heat.celsius)))
    if found.time_s is not None:
        said.append(f"Time: {number(found.time_s)} s.")
    for way, share, spans in zip(
        ("along", "across"), found.shrink, _spans(blank, found), strict=True
    ):
        if share is not None:
            said.append(
                f"It shrinks by {number(share * 100, 2)} % {way}, read to "
                f"{number(exactness(spans) * 100, 2)} %."
            )
    if any(share is not None for share in found.shrink):
        said.append(
            "Its finished size is another now: proofs of it are made anew, and what was signed for "
            "the old size must be signed again."
        )
    if blank.built_in:
        said.append(f"“{blank.id}” was built in; it is a blank of your own now.")
    return said


def _spans(blank: Blank, found: Found) -> tuple[Sequence[Span], Sequence[Span]]:
    if found.shrink == (None, None):
        return (), ()
    grid = grid_of(blank)
    return grid.along, grid.across
