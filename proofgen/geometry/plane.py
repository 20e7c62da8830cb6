"""Rectangles and sizes in mm: origin top left, x to the right, y down."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Size:
    """Width and height in mm."""

    width: float
    height: float

    @property
    def turned(self) -> Size:
        """After a quarter turn."""
        return Size(self.height, self.width)

    @property
    def rect(self) -> Rect:
        """Lying at the origin."""
        return Rect(0.0, 0.0, self.width, self.height)


@dataclass(frozen=True, slots=True)
class Rect:
    """A rectangle in mm, by its top left corner and its size."""

    x: float
    y: float
    width: float
    height: float

    @property
    def right(self) -> float:
        return self.x + self.width

    @property
    def bottom(self) -> float:
        return self.y + self.height

    @property
    def size(self) -> Size:
        return Size(self.width, self.height)

    @property
    def centre_x(self) -> float:
        return self.x + self.width / 2

    @property
    def centre_y(self) -> float:
        return self.y + self.height / 2

    def grown(self, left: float, top: float, right: float, bottom: float) -> Rect:
        """The rectangle with each side moved outward by so many mm (inward if negative)."""
        return Rect(
            self.x - left, self.y - top, self.width + left + right, self.height + top + bottom
        )

    def inset(self, by: float) -> Rect:
        """The rectangle with every side moved inward by `by` mm."""
        return self.grown(-by, -by, -by, -by)

    def moved(self, dx: float, dy: float) -> Rect:
        return Rect(self.x + dx, self.y + dy, self.width, self.height)

    def overlap(self, other: Rect) -> Rect | None:
        """What both cover, or None where they do not meet (touching edges do not meet)."""
        x, y = max(self.x, other.x), max(self.y, other.y)
        width, height = min(self.right, other.right) - x, min(self.bottom, other.bottom) - y
        return Rect(x, y, width, height) if width > 1e-9 and height > 1e-9 else None

    def without(self, strip: Rect) -> Rect:
        """What is left beside a strip that lies along one whole side; itself where none does."""
        shared = self.overlap(strip)
        if shared is None:
            return self
        if shared.height >= self.height - 1e-6:
            if shared.x <= self.x + 1e-6:
                return self.grown(self.x - shared.right, 0, 0, 0)
            if shared.right >= self.right - 1e-6:
                return self.grown(0, 0, shared.x - self.right, 0)
        elif shared.width >= self.width - 1e-6:
            if shared.y <= self.y + 1e-6:
                return self.grown(0, self.y - shared.bottom, 0, 0)
            if shared.bottom >= self.bottom - 1e-6:
                return self.grown(0, 0, 0, shared.y - self.bottom)
        return self

    def holds(self, other: Rect, slack: float = 1e-6) -> bool:
        """Whether `other` lies inside, to `slack` mm."""
        return (
            other.x >= self.x - slack
            and other.y >= self.y - slack
            and other.right <= self.right + slack
            and other.bottom <= self.bottom + slack
        )

    def turned_half(self, within: Rect) -> Rect:
        """Where the rectangle lies after `within` is turned by 180° about its own centre."""
        return Rect(
            within.x + within.right - self.right,
            within.y + within.bottom - self.bottom,
            self.width,
            self.height,
        )


def around(rects: Iterable[Rect]) -> Rect:
    """The smallest rectangle that holds all of them. ValueError for none."""
    every = list(rects)
    x, y = min(r.x for r in every), min(r.y for r in every)
    return Rect(x, y, max(r.right for r in every) - x, max(r.bottom for r in every) - y)
