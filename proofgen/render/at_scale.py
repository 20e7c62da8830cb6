"""What pages printed at their true size share: the ruler they are checked with, and their sizes."""

from __future__ import annotations

from collections.abc import Iterator

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
