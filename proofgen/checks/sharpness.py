"""Pixels per inch against the shop's limits, and what would mend a shortfall."""

from __future__ import annotations

import math

from proofgen.checks.phrases import at_most, count, size
from proofgen.checks.registry import Said, stop, warn
from proofgen.model import Limits
from proofgen.units import number, pixels


def verdict(ppi: float, limits: Limits) -> str:
    """'good', 'soft' or 'coarse'; unrounded, and a limit that is met is met."""
    if ppi >= limits.good_ppi:
        return "good"
    return "soft" if ppi >= limits.floor_ppi else "coarse"


def _widest(width_mm: float, ppi: float, limit: float) -> int:
    """Whole mm of width at which the same pixels give `limit` ppi."""
    return math.floor(width_mm * ppi / limit + 1e-9)


def needed(width_mm: float, height_mm: float, zoom: float, limits: Limits) -> tuple[int, int]:
    """The pixels (width, height) a photo needs at least to be sharp on so many mm at that zoom."""
    wide, high = (pixels(s * max(zoom, 1.0), limits.good_ppi) for s in (width_mm, height_mm))
    return wide, high


def largest_zoom(ppi: float, zoom: float, limits: Limits) -> float | None:
    """The largest zoom at which a photo of `ppi` at `zoom` is still sharp, in hundredths rounded
    down; None where not even the whole of it is."""
    most = math.floor(ppi * max(zoom, 1.0) / limits.good_ppi * 100 + 1e-9) / 100
    return most if most >= 1 else None


def told(width_mm: float, height_mm: float, ppi: float, zoom: float, limits: Limits) -> Said | None:
    """The sentence for a photo of `ppi` on so many mm, or None when it is sharp."""
    judged = verdict(ppi, limits)
    if judged == "good":
        return None
    coarse = judged == "coarse"
    limit = limits.floor_ppi if coarse else limits.good_ppi
    says = (
        f"At {size(width_mm, height_mm)} this photo gives {at_most(ppi)} pixels per inch; "
        f"below {number(limit, 3)} it looks {'coarse' if coarse else 'soft'}."
    )
    need = needed(width_mm, height_mm, zoom, limits)
    ways = ["Ask for the original, at least " + " × ".join(count(n) for n in need) + " pixels"]
    if zoom > 1 and verdict(ppi * zoom, limits) != judged:
        most = largest_zoom(ppi, zoom, limits)
        whole = f"without zoom it gives {at_most(ppi * zoom)}"
        ways.append(
            f"show more of it ({f'zoom {number(most, 2)} is still sharp' if most else whole})"
        )
    sharp = _widest(width_mm, ppi, limits.good_ppi)
    if coarse:
        widest = _widest(width_mm, ppi, limits.floor_ppi)
        ways.append(f"use it at most {count(widest)} mm wide ({count(sharp)} mm to be sharp)")
    else:
        ways.append(f"use it at most {count(sharp)} mm wide to be sharp")
    make = stop if coarse else warn
    return make(
        "too-coarse" if coarse else "soft",
        says,
        "; or ".join(ways) + ".",
        measure=ppi,
        limit=limit,
    )
