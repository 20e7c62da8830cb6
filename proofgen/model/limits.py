"""What a shop asks before it is content: the limits of the checks, each with what it means and
where its usual value comes from."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TypeVar

from proofgen.model.documents import Verdict

PRACTICE = "common practice, no source"
MEASURED = "measured on real photographs"  # tests/bench/calibrate_photo.py

Amount = TypeVar("Amount", int, float)


def _usual(value: Amount, says: str, origin: str = PRACTICE) -> Amount:
    return field(default=value, metadata={"says": says, "origin": origin})


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """Lengths in mm, heat in °C, time in s, shares 0 to 1; edges are sigma in px of the press
    raster, lightness is CIE L* (0 to 100), colour differences are CIEDE2000."""

    good_ppi: float = _usual(200.0, "pixels per inch below which a photo is called soft")
    floor_ppi: float = _usual(120.0, "pixels per inch below which it is called coarse and stopped")
    soft_edges: float = _usual(
        1.0, "width of a photo’s sharpest edges from which it is called soft", MEASURED
    )
    blurred_edges: float = _usual(1.4, "the same, from which it is called blurred", MEASURED)
    jpeg_quality: int = _usual(60, "quality below which a JPEG is called squeezed")
    dark: float = _usual(
        12.0, "lightness: if half of a photo is darker, it may be too dark", MEASURED
    )
    too_dark: float = _usual(24.0, "if nearly all of it is darker, it is too dark", MEASURED)
    pale: float = _usual(88.0, "if half of a photo is lighter, it may be too pale", MEASURED)
    too_pale: float = _usual(85.0, "if nearly all of it is lighter, it is too pale", MEASURED)
    dull: float = _usual(
        30.0, "lightness between its dark and its light: below it is dull", MEASURED
    )
    flat: float = _usual(15.0, "the same: below it is called flat", MEASURED)
    plain: float = _usual(0.25, "share of plain white or plain black that is told")
    strong_colours: float = _usual(0.01, "share of colours too strong for sRGB that is told")
    letter_height_mm: float = _usual(3.0, "height of letters below which they are warned of")
    contrast: float = _usual(
        3.0, "times words must be lighter or darker than what is behind", "WCAG 2.2, 1.4.3"
    )
    polyester: float = _usual(0.5, "share of polyester below which a blank is stopped")
    least_heat_c: float = _usual(170.0, "heat below which a blank’s setting is doubted")
    most_heat_c: float = _usual(220.0, "heat above which it is doubted")
    least_time_s: float = _usual(20.0, "pressing time below which it is doubted")
    most_time_s: float = _usual(120.0, "pressing time above which it is doubted")
    dark_cloth: float = _usual(0.2, "light a cloth throws back (1 all) below which it is dark")
    strong_cloth: float = _usual(12.0, "colourfulness (CIE chroma) above which cloth tints")
    colour_change: float = _usual(20.0, "change by the cloth above which colours become others")
    pattern_gap_mm: float = _usual(0.5, "by how much a pattern may miss itself at the join")
    busy_join: float = _usual(0.2, "share of what is busy in a photo that may lie at the join")
    face_cut: float = _usual(0.1, "share of a face’s width that may be cut or hidden")

    def verdict(self, ppi: float) -> Verdict:
        """What so many pixels per inch are, unrounded; a limit that is met is met."""
        if ppi >= self.good_ppi:
            return "good"
        return "soft" if ppi >= self.floor_ppi else "coarse"
