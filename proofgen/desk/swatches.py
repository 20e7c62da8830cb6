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
from proofgen.say import did_you_mean, number, sentences
from proofgen.say.tongue import english_of
from proofgen.shop import Reading, standard_paper
from proofgen.workshop import Workshop

# CIEDE2000; common practice at best, no source. Readings whose mean is a different colour were
# taken off other swatches, or in another order.
NONSENSE = 12.0
SEEN, ANOTHER_SHADE = 1.0, 5.0
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
            sentences(meant, f"It comes in: {', '.join(colours)}"),
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

    `worst_patch` lies furthest off, `bare` is how far the bare cloth reads from the colour in the
    file, `outside` counts readings that sRGB does not hold.
    """

    file: Path
    cloth: str
    swatches: int
    mean: float
    worst: float
    worst_patch: Patch
    outside: int
    bare: float | None
    says: tuple[str, ...]


def take_readings(workshop: Workshop, name: str, file: Path, cloth: str | None) -> Read:
    """Fit the correction of one cloth to what was read and write the readings down.

    Errors: UsageError for an unknown blank, cloth or file; ShopFaults with the bad lines of the
    file, ShopError for readings that prove nothing or belong to other swatches: nothing written.
    """
    if not file.is_file():
        raise UsageError(f"there is no file “{file}”", "check its name and folder")
    blank = chosen_blank(workshop.shop.blanks, name, workshop.shop.faults)
    colour = _colour_of(blank, cloth, needed=True)
    readings = shop_room.read_readings(file, [p.number for p in CHART])
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
    inked = [i for i, (asked, _) in enumerate(pairs) if asked != "#ffffff"]
    worst = max(inked, key=lambda i: off[i])
    mean = float(off[inked].mean())
    if mean > NONSENSE:
        raise ShopError(
            f"these readings do not belong to these swatches: on average they lie {number(mean)} "
            f"from any colour the ink could give, swatch {readings[worst].number} "
            f"{number(float(off[worst]))}",
            "read the cloth, not the paper, in the order of the list, and check each number",
            Place(file.name, readings[worst].line),
        )
    bare = [float(off[i]) for i, (asked, _) in enumerate(pairs) if asked == "#ffffff"]
    path = shop_room.write_readings(workshop.folder, blank, colour, pairs)
    read = Read(
        file=path,
        cloth=colour,
        swatches=len(inked),
        mean=mean,
        worst=float(off[worst]),
        worst_patch=patches[readings[worst].number],
        outside=int(((light < -_OUTSIDE) | (light > 1 + _OUTSIDE)).any(axis=1).sum()),
        bare=bare[0] if bare else None,
        says=(),
    )
    copied = blank.built_in
    return replace(read, says=_sentences(read, blank, copied=copied))


def _codes(light: np.ndarray) -> np.ndarray:
    return np.rint(linear_to_srgb(np.clip(light, 0, 1)) * 255).astype(np.uint8)


def _off(
    fitted: Correction, pairs: Sequence[tuple[str, str]], readings: Sequence[Reading]
) -> np.ndarray:
    """CIEDE2000 between what was read and what the shop will show from now on."""
    asked = srgb_to_linear(np.array([hex_to_rgb8(a) for a, _ in pairs]) / 255)
    return ciede2000(linear_to_lab(fitted.light(asked)), np.array([r.lab for r in readings]))


def _sentences(read: Read, blank: Blank, *, copied: bool) -> tuple[str, ...]:
    patch = read.worst_patch
    sentences = [
        f"{read.swatches} swatches on {read.cloth}: what is shown from now on lies "
        f"{number(read.mean)} from what was read, on average; swatch {patch.number}, {patch.name}, "
        f"lies furthest off, by {number(read.worst)}.",
        "(1 is just seen side by side, 5 is another shade: CIEDE2000.)",
    ]
    if read.mean > ANOTHER_SHADE or read.worst > NONSENSE:
        sentences.append(
            f"That is much. Read swatch {patch.number} again, or press the sheet anew."
        )
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
    if copied:
        sentences.append(f"“{blank.id}” was built in; it is a blank of your own now.")
    return tuple(sentences)
