"""What pages printed at their true size share: the ruler they are checked with, and their sizes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

RULER_MM = 100


def ruler_ticks(long: float, middle: float, short: float) -> Iterator[tuple[int, float]]:
    """Each whole mm of the ruler and the length of its tick: `long` at tens, `middle` at fives."""
    for mm in range(RULER_MM + 1):
        yield mm, long if mm % 10 == 0 else middle if mm % 5 == 0 else short


def page_style(name: str, width: float, height: float) -> str:
    """CSS for pages called `name`, mm, and for the drawing of that class that fills one."""
    wide, high = f"{width:.4f}mm", f"{height:.4f}mm"
    return (
        f"@page {name} {{ size: {wide} {high}; margin: 0 }}\n"
        f".{name} {{ page: {name}; width: {wide}; height: {high} }}"
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class AtRealSize:
    """A picture shown at its real size (mm) with a ruler under it; `href` is what a page loads."""

    href: str
    alt: str
    width_mm: float
    height_mm: float
    caption: str

    @property
    def marks(self) -> range:
        """The ruler's marks, mm."""
        return range(0, int(self.width_mm) + 1, 5)
