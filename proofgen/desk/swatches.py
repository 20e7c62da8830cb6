"""Swatches of a blank: the sheet to press, and what was read off it put into the blank's file."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime
from pathlib import Path

import numpy as np

from proofgen import press, store
from proofgen import shop as shop_room
from proofgen.colour import (
    Correction,
    ciede2000,
    correction_from,
    hex_to_rgb8,
    lab_to_linear,
    linear_to_lab,
    linear_to_srgb,
    rgb8_to_hex,
    srgb_to_linear,
)
from proofgen.colour.chart import CHART, Patch
from proofgen.desk.looks import chosen_blank, shop_or_built_in
from proofgen.errors import Place, ShopError, UsageError
from proofgen.model import Blank
from proofgen.render import Theme
from proofgen.say import did_you_mean, number
from proofgen.say.tongue import english_of
from proofgen.shop import Reading, standard_paper
from proofgen.workshop import Workshop

# CIEDE2000; common practice at best, no source. Readings whose mean is a different colour were
# taken off other swatches, or in another order.
NONSENSE = 12.0
ANOTHER_SHADE = 5.0
# A swatch that lies this far off, and this many times as far as the middle one, is told as odd.
# On the readings of tests/data/press_readings.csv and six more presses 43 of 60 readings wrong by
# 60 codes and 25 of 30 swaps are found so, and 1 of 360 right readings is asked for again.
ODD, TIMES = 8.0, 3.0
_OUTSIDE = 1e-3  # linear light beyond sRGB that rounding explains


def _colour_of(blank: Blank, given: str | None, *, needed: bool) -> str:
    """The name of one of the blank's colours; '' when none was given and none is needed."""
    colours = list(blank.cloth.colours)
    if given is None:
        if not needed or len(colours) == 1:
            return colours[0] if len(colours) == 1 else ""
        raise UsageError(
            f"“{blank.id}” comes in {', '.join(colours)}", "add --cloth with the one you pressed"
        )
    if given not in colours:
        meant = did_you_mean(given, colours, typed=True)
        raise UsageError(
            f"“{blank.id}” has no cloth “{given}”",
            meant or f"write --cloth with one of: {', '.join(colours)}",
        )
    return given


def make_swatches(folder: Path, name: str, file: Path, cloth: str | None) -> Path:
    """Write the sheet of swatches of a blank: one page to press, one to read by.

    Errors: UsageError for an unknown blank or cloth, or a file that is no PDF's; StopError for a
    blank that says no heat and time or is too small; MachineError where PDFs cannot be made.
    """
    if file.suffix.lower() != ".pdf":
        raise UsageError(f"“{file.name}” is not a name for a PDF", f"write {file.stem}.pdf")
    blanks, settings, faults = shop_or_built_in(folder)
    blank = chosen_blank(blanks, name, faults)
    colour = _colour_of(blank, cloth, needed=False)
    if not settings.papers:
        settings = replace(settings, papers=(standard_paper("A4"), standard_paper("A3")))
    theme = Theme(settings.theme, english_of(settings.language), settings.currency)
    made: date = settings.today or datetime.now(UTC).date()
    store.write(file, press.swatch_pdf(blank, settings, theme, cloth=colour, made=made))
    return file


@dataclass(frozen=True, slots=True, kw_only=True)
class Read:
    """Readings that are in the blank's file now. Differences are CIEDE2000.

    `each` says of every inked swatch how far it lies off, `odd` lie unlike the rest, `bare` is how
    far the bare cloth reads from the colour in the file, `outside` counts readings that sRGB does
    not hold.
    """

    file: Path
    cloth: str
    swatches: int
    mean: float
    worst: float
    each: tuple[tuple[Patch, float], ...]
    odd: tuple[Patch, ...]
    outside: int
    bare: float | None
    says: tuple[str, ...]


def take_readings(
    workshop: Workshop, name: str, file: Path, cloth: str | None, leave_out: str | None = None
) -> Read:
    """Fit the correction of one cloth to what was read and write the readings down.

    `leave_out` are the numbers of swatches not to be believed, like "9, 14".

    Errors: UsageError for an unknown blank, cloth or file; ShopFaults with the bad lines of the
    file, ShopError for readings that prove nothing or belong to other swatches: nothing written.
    """
    if not file.is_file():
        raise UsageError(f"there is no file “{file}”", "check its name and folder")
    blank = chosen_blank(workshop.shop.blanks, name, workshop.shop.faults)
    colour = _colour_of(blank, cloth, needed=True)
    readings = _believed(shop_room.read_readings(file, [p.number for p in CHART]), leave_out)
    patches = {p.number: p for p in CHART}
    light = np.array([lab_to_linear(r.lab) for r in readings])
    pairs = tuple(
        (patches[r.number].colour, rgb8_to_hex(code))
        for r, code in zip(readings, _codes(light), strict=True)
    )
    try:
        fitted = correction_from(pairs, blank.cloth.colours[colour])
    except ValueError as error:
        raise ShopError(f"{error}", "read more of the swatches", Place(file.name)) from None
    off = _off(fitted, pairs, readings)
    each = {patches[r.number]: float(o) for r, o in zip(readings, off, strict=True)}
    bare = next((each.pop(p) for p in list(each) if p.colour == "#ffffff"), None)
    worst = max(each, key=lambda patch: each[patch])
    mean = float(np.mean(list(each.values())))
    if mean > NONSENSE:
        raise ShopError(
            f"these readings do not belong to these swatches: on average they lie {number(mean)} "
            f"from any colour the ink could give, swatch {worst.number} {number(each[worst])}",
            "read the cloth, not the paper, in the order of the list, and check each number",
            Place(file.name, next(r.line for r in readings if r.number == worst.number)),
        )
    # Judged by the nearest colour a screen shows, so that a strong cyan is not blamed.
    least = max(ODD, TIMES * float(np.median(fitted.off)))
    unlike = [p for p, o in zip(each, fitted.off, strict=True) if o > least]
    path = shop_room.write_readings(workshop.folder, blank, colour, pairs)
    read = Read(
        file=path,
        cloth=colour,
        swatches=len(each),
        mean=mean,
        worst=each[worst],
        each=tuple(each.items()),
        odd=tuple(unlike),
        outside=int(((light < -_OUTSIDE) | (light > 1 + _OUTSIDE)).any(axis=1).sum()),
        bare=bare,
        says=(),
    )
    return replace(read, says=_sentences(read, blank))


def _believed(readings: tuple[Reading, ...], leave_out: str | None) -> tuple[Reading, ...]:
    """The readings without the numbers that were left out. UsageError for one that is not there."""
    left = {text.strip() for text in (leave_out or "").split(",") if text.strip()}
    if strange := left - {str(r.number) for r in readings}:
        raise UsageError(
            f"--leave-out names {', '.join(sorted(strange))}, which no line of the readings has",
            "give the swatches' numbers with commas between, like --leave-out 9,14",
        )
    return tuple(r for r in readings if str(r.number) not in left)


def _codes(light: np.ndarray) -> np.ndarray:
    return np.rint(linear_to_srgb(np.clip(light, 0, 1)) * 255).astype(np.uint8)


def _off(
    fitted: Correction, pairs: Sequence[tuple[str, str]], readings: Sequence[Reading]
) -> np.ndarray:
    """CIEDE2000 between what was read and what the shop will show from now on."""
    asked = srgb_to_linear(np.array([hex_to_rgb8(a) for a, _ in pairs]) / 255)
    shown = np.clip(fitted.light(asked), 0, 1)
    return ciede2000(linear_to_lab(shown), np.array([r.lab for r in readings]))


def _sentences(read: Read, blank: Blank) -> tuple[str, ...]:
    sentences = [
        f"{read.swatches} swatches on {read.cloth}: what is shown from now on lies "
        f"{number(read.mean)} from what was read, on average, at most {number(read.worst)}.",
        "(1 is just seen side by side, 5 is another shade: CIEDE2000.)",
        "Swatch by swatch: " + "; ".join(f"{p.number} {p.name} {number(o)}" for p, o in read.each),
    ]
    if read.odd:
        odd = ", ".join(f"{p.number} {p.name}" for p in read.odd)
        only = ",".join(str(p.number) for p in read.odd)
        sentences.append(
            f"Unlike the rest: {odd}. Read again, and see that no two lines were swapped; or leave "
            f"out what you cannot read: the same command with --leave-out {only}"
        )
    elif read.mean > ANOTHER_SHADE:
        sentences.append("That is much. Read the furthest again, or press the sheet anew.")
    if read.outside:
        sentences.append(
            f"{read.outside} of the readings lie outside what a screen can show and were taken to "
            "its nearest colour."
        )
    if read.bare is not None and read.bare > ANOTHER_SHADE:
        sentences.append(
            f"The bare cloth reads {number(read.bare)} from {blank.cloth.colours[read.cloth]}, its "
            "colour in the file: write there what was read, then take the readings again."
        )
    if blank.built_in:
        sentences.append(f"“{blank.id}” was built in; it is a blank of your own now.")
    return tuple(sentences)
