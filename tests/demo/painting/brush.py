"""A canvas that paints flat, gouache-like shapes: drawn twice as large, then halved."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from contextlib import contextmanager

import numpy as np
from PIL import Image, ImageColor, ImageDraw

Point = tuple[float, float]
Points = Sequence[Point]
FINER = 2  # drawn so many times larger than wanted, for smooth edges


def smooth(points: Points, closed: bool = False, steps: int = 10) -> list[Point]:
    """A Catmull-Rom curve through the points."""
    dots = [np.array(p, dtype=float) for p in points]
    if len(dots) < 3:
        return [(float(p[0]), float(p[1])) for p in dots]
    ring = [dots[-1], *dots, dots[0], dots[1]] if closed else [dots[0], *dots, dots[-1]]
    found: list[Point] = []
    for a, b, c, d in zip(ring, ring[1:], ring[2:], ring[3:], strict=False):
        for i in range(steps):
            t = i / steps
            p = 0.5 * (
                2 * b
                + (c - a) * t
                + (2 * a - 5 * b + 4 * c - d) * t**2
                + (3 * b - a - 3 * c + d) * t**3
            )
            found.append((float(p[0]), float(p[1])))
    if not closed:
        found.append((float(dots[-1][0]), float(dots[-1][1])))
    return found


def pts(text: str) -> list[Point]:
    """Points written as in SVG: "10,20 30,40"."""
    return [(float(x), float(y)) for x, y in (pair.split(",") for pair in text.split())]


def mix(one: str, other: str, share: float) -> str:
    """A colour between two; share 0 gives the first."""
    a, b = ImageColor.getrgb(one)[:3], ImageColor.getrgb(other)[:3]
    return "#" + "".join(f"{round(p + (q - p) * share):02x}" for p, q in zip(a, b, strict=True))


def ramp(colours: Sequence[str], count: int) -> list[str]:
    """So many colours spread evenly along a row of them."""
    if count == 1:
        return [colours[0]]
    found = []
    for i in range(count):
        at = i / (count - 1) * (len(colours) - 1)
        low = min(int(at), len(colours) - 2)
        found.append(mix(colours[low], colours[low + 1], at - low))
    return found


class Canvas:
    """Paints in the units of the finished picture; `scale` makes the same picture smaller.

    `clear` starts from nothing (for art with a see-through ground) instead of paper.
    """

    def __init__(
        self, width: int, height: int, rng_start: int, *, scale: float = 1.0, clear: bool = False
    ) -> None:
        self.width, self.height = width, height
        self.finer = 4 if clear else FINER
        self.k = scale * self.finer
        self.size = (max(1, round(width * scale)), max(1, round(height * scale)))
        big = (self.size[0] * self.finer, self.size[1] * self.finer)
        self.image = Image.new("RGBA", big, (0, 0, 0, 0)) if clear else Image.new("RGB", big)
        self.draw = ImageDraw.Draw(self.image, "RGBA" if not clear else None)
        self.rng = np.random.default_rng(rng_start)
        self.shrink, self.about = 1.0, (0.0, 0.0)

    # shapes -----------------------------------------------------------------------------------
    def poly(self, points: Points, colour: str, alpha: float = 1.0) -> None:
        rgb = ImageColor.getrgb(colour)[:3]
        (ax, ay), by = self.about, self.shrink
        scaled = [((ax + (x - ax) * by) * self.k, (ay + (y - ay) * by) * self.k) for x, y in points]
        self.draw.polygon(scaled, fill=(*rgb, round(255 * alpha)))

    def blob(self, points: Points, colour: str, alpha: float = 1.0) -> None:
        """A smooth closed shape."""
        self.poly(smooth(points, closed=True), colour, alpha)

    def rect(self, x: float, y: float, w: float, h: float, colour: str, alpha: float = 1.0) -> None:
        self.poly([(x, y), (x + w, y), (x + w, y + h), (x, y + h)], colour, alpha)

    def oval(
        self,
        x: float,
        y: float,
        rx: float,
        ry: float,
        colour: str,
        alpha: float = 1.0,
        turn: float = 0.0,
    ) -> None:
        """An ellipse about (x, y), turned by degrees."""
        count = max(16, min(90, int(max(rx, ry) * self.k / 2)))
        cos, sin = math.cos(math.radians(turn)), math.sin(math.radians(turn))
        ring = []
        for i in range(count):
            a = 2 * math.pi * i / count
            u, v = rx * math.cos(a), ry * math.sin(a)
            ring.append((x + u * cos - v * sin, y + u * sin + v * cos))
        self.poly(ring, colour, alpha)

    def stroke(
        self,
        points: Points,
        colour: str,
        start: float,
        end: float | None = None,
        alpha: float = 1.0,
    ) -> None:
        """A brush line through the points, from one width to another, with round ends."""
        end = start if end is None else end
        path = smooth(points) if len(points) > 2 else list(points)
        left, right = [], []
        count = len(path)
        for i, (x, y) in enumerate(path):
            ax, ay = path[max(i - 1, 0)]
            bx, by = path[min(i + 1, count - 1)]
            length = math.hypot(bx - ax, by - ay) or 1.0
            half = (start + (end - start) * i / max(count - 1, 1)) / 2
            nx, ny = -(by - ay) / length * half, (bx - ax) / length * half
            left.append((x + nx, y + ny))
            right.append((x - nx, y - ny))
        self.poly(left + right[::-1], colour, alpha)
        if alpha == 1.0:
            for (x, y), width in ((path[0], start), (path[-1], end)):
                if width * self.k > 3:
                    self.oval(x, y, width / 2, width / 2, colour)

    def dash(self, x: float, y: float, long: float, high: float, colour: str, alpha: float) -> None:
        """One level touch of a flat brush, thick in the middle."""
        lift = self.rng.uniform(-0.3, 0.3) * high
        self.poly(
            smooth(
                [
                    (x - long / 2, y),
                    (x - long / 5, y - high / 2 + lift),
                    (x + long / 4, y - high / 2),
                    (x + long / 2, y + lift),
                    (x + long / 5, y + high / 2),
                    (x - long / 4, y + high / 2 + lift),
                ],
                closed=True,
                steps=5,
            ),
            colour,
            alpha,
        )

    # grounds ----------------------------------------------------------------------------------
    def edge(
        self, y: float, wave: float, start: float = 0, stop: float | None = None
    ) -> list[Point]:
        """A level line across the picture that a hand might have drawn."""
        stop = self.width if stop is None else stop
        count = 9
        xs = np.linspace(start - 20, stop + 20, count)
        return smooth([(float(x), y + float(self.rng.normal(0, wave))) for x in xs], steps=12)

    def wash(
        self, top: float, bottom: float, colours: Sequence[str], bands: int, wave: float = 8.0
    ) -> None:
        """From colour to colour in flat bands with soft hand-drawn edges: small when stored."""
        tints = ramp(colours, bands)
        self.rect(-5, top, self.width + 10, bottom - top, tints[0])
        for i in range(1, bands):
            y = top + (bottom - top) * i / bands
            line = self.edge(y, wave)
            self.poly([*line, (self.width + 30, bottom), (-30, bottom)], tints[i])

    def land(self, points: Points, colour: str) -> list[Point]:
        """Ground below a smooth skyline; gives back its outline for a clip."""
        line = smooth(points)
        outline = [*line, (line[-1][0], self.height + 10), (line[0][0], self.height + 10)]
        self.poly(outline, colour)
        return outline

    @contextmanager
    def clip(self, outline: Points) -> Iterator[None]:
        """What is painted inside stays inside the outline."""
        before = self.image.copy()
        yield
        mask = Image.new("L", self.image.size, 255)
        scaled = [(x * self.k, y * self.k) for x, y in outline]
        ImageDraw.Draw(mask).polygon(scaled, fill=0)
        self.image.paste(before, (0, 0), mask)

    @contextmanager
    def smaller(self, by: float, about: Point) -> Iterator[None]:
        """What is painted inside is drawn smaller, toward a point that stays."""
        self.shrink, self.about = by, about
        yield
        self.shrink, self.about = 1.0, (0.0, 0.0)

    # tools ------------------------------------------------------------------------------------
    def between(self, low: float, high: float) -> float:
        return float(self.rng.uniform(low, high))

    def pick(self, options: Sequence[str]) -> str:
        return options[int(self.rng.integers(len(options)))]

    def finished(self) -> Image.Image:
        """The picture at its own size."""
        return self.image.resize(self.size, Image.Resampling.BOX)
