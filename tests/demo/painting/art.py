"""Boards, ribbons and labels of the demo designs, drawn in tenths of a millimetre."""

from __future__ import annotations

import math

from painting.brush import Canvas, Point, mix, pts, smooth
from PIL import Image

PPI = 300
NAVY, CREAM, MADDER, SUN, TEAL, ROSE = (
    "#1d2f4f",
    "#fdf6e6",
    "#b23a2c",
    "#f2b93b",
    "#2b7a80",
    "#e2808c",
)


def sheet(wide_mm: float, high_mm: float, start: int, *, clear: bool = True) -> Canvas:
    """A canvas of so many mm at 300 ppi; its units are 0.1 mm."""
    return Canvas(round(wide_mm * 10), round(high_mm * 10), start, scale=PPI / 254, clear=clear)


def plate(x: float, y: float, w: float, h: float, r: float) -> list[Point]:
    """A rectangle with its corners scooped out, like a ship's name board."""
    ring: list[Point] = []
    for cx, cy, a in ((x, y, 90), (x + w, y, 180), (x + w, y + h, 270), (x, y + h, 360)):
        for i in range(13):
            b = math.radians(a - 90 * i / 12)
            ring.append((cx + r * math.cos(b), cy + r * math.sin(b)))
    return ring


def rounded(x: float, y: float, w: float, h: float, r: float) -> list[Point]:
    ring: list[Point] = []
    for cx, cy, a in (
        (x + w - r, y + r, 270),
        (x + w - r, y + h - r, 0),
        (x + r, y + h - r, 90),
        (x + r, y + r, 180),
    ):
        for i in range(13):
            b = math.radians(a + 90 * i / 12)
            ring.append((cx + r * math.cos(b), cy + r * math.sin(b)))
    return ring


def scallops(
    x: float, y: float, w: float, h: float, across: int, down: int, r: float
) -> list[Point]:
    """A card whose edge is cut in little half rounds."""
    ring: list[Point] = []
    corners = [
        ((x, y), (x + w, y), across),
        ((x + w, y), (x + w, y + h), down),
        ((x + w, y + h), (x, y + h), across),
        ((x, y + h), (x, y), down),
    ]
    for (ax, ay), (bx, by), count in corners:
        for i in range(count):
            for k in range(9):
                t = (i + k / 9) / count
                out = math.sin(math.pi * k / 9) * r
                length = math.hypot(bx - ax, by - ay)
                nx, ny = (by - ay) / length, -(bx - ax) / length
                ring.append((ax + (bx - ax) * t + nx * out, ay + (by - ay) * t + ny * out))
    return ring


def star(c: Canvas, x: float, y: float, r: float, tint: str, turn: float = 0.0) -> None:
    """A folded paper star: each arm has a light and a dark side."""

    def at(i: int) -> Point:
        a = math.radians(turn - 90 + i * 36)
        d = r if i % 2 == 0 else r * 0.46
        return x + d * math.cos(a), y + d * math.sin(a)

    for i in range(10):
        c.poly(
            [(x, y), at(i), at(i + 1)],
            mix(tint, "#ffffff", 0.12) if i % 2 else mix(tint, "#20203a", 0.16),
        )


def leaf(c: Canvas, x: float, y: float, long: float, turn: float, tint: str) -> None:
    a = math.radians(turn)
    ex, ey = x + long * math.cos(a), y + long * math.sin(a)
    nx, ny = -math.sin(a) * long * 0.2, math.cos(a) * long * 0.2
    mx, my = (x + ex) / 2, (y + ey) / 2
    c.poly(smooth([(x, y), (mx + nx, my + ny), (ex, ey), (mx - nx, my - ny)], closed=True), tint)


def name_board() -> Image.Image:
    """Cream board with a navy edge, for a name and a date."""
    c = sheet(90, 27, 101)
    c.poly(plate(6, 6, 888, 258, 40), NAVY)
    c.poly(plate(16, 16, 868, 238, 38), CREAM)
    c.poly(plate(27, 27, 846, 216, 36), MADDER)
    c.poly(plate(30, 30, 840, 210, 36), CREAM)
    for x in (62, 838):
        star(c, x, 135, 19, MADDER)
    return c.finished()


def string_of_flags() -> Image.Image:
    """Two strings of paper flags that hang from beyond both edges."""
    c = sheet(124, 38, 102)
    tints = [MADDER, SUN, CREAM, TEAL, ROSE]
    for y0, sag, flag, shift in ((40, 34, 96, 0), (6, 150, 84, 2)):
        count = int(1300 / (flag * 1.12))

        def at(t: float, y0: float = y0, sag: float = sag) -> Point:
            return -30 + 1300 * t, y0 + 4 * sag * t * (1 - t)

        for i in range(count):
            (ax, ay), (bx, by) = at((i + 0.08) / count), at((i + 0.92) / count)
            mx, my = (ax + bx) / 2, (ay + by) / 2 + flag * 1.2
            tint = tints[(i * 2 + shift) % 5]
            c.poly([(ax, ay), (bx, by), (mx, my)], tint)
            c.poly([((ax + bx) / 2, (ay + by) / 2), (bx, by), (mx, my)], mix(tint, NAVY, 0.14))
            if i % 3 == 0:
                for dx, dy in ((-0.2, 0.22), (0.2, 0.22), (0, 0.52)):
                    c.oval(
                        mx + dx * flag,
                        ay + dy * flag,
                        flag * 0.075,
                        flag * 0.075,
                        CREAM if tint != CREAM else MADDER,
                    )
        c.stroke([at(i / 30) for i in range(31)], NAVY, 7)
    return c.finished()


def ribbon() -> Image.Image:
    """A sun-coloured ribbon with folded ends."""
    c = sheet(100, 26, 103)
    for side in (0, 1):

        def f(x: float, side: int = side) -> float:
            return 1000 - x if side else x

        c.poly([(f(4), 74), (f(150), 74), (f(150), 250), (f(4), 250), (f(52), 162)], "#d79a22")
        c.poly([(f(92), 214), (f(150), 214), (f(150), 250)], "#9c6a12")
    c.poly(pts("92,24 908,24 908,214 92,214"), SUN)
    for y in (38, 194):
        c.rect(92, y, 816, 6, CREAM)
    return c.finished()


def card() -> Image.Image:
    """A cream card with a scalloped edge, for a few words on the back."""
    c = sheet(88, 50, 105)
    c.poly(scallops(24, 24, 832, 452, 20, 11, 17), MADDER)
    c.poly(rounded(30, 30, 820, 440, 12), CREAM)
    c.poly(rounded(46, 46, 788, 408, 8), TEAL)
    c.poly(rounded(50, 50, 780, 400, 6), CREAM)
    return c.finished()


def star_badge() -> Image.Image:
    """A cream badge with a coral rim and a star on top."""
    c = sheet(86, 54, 107)
    ring = []
    for i in range(240):
        a = 2 * math.pi * i / 240
        out = 1 + 0.02 * math.cos(24 * a)
        ring.append(
            (
                430 + 414 * out * math.copysign(abs(math.cos(a)) ** 0.72, math.cos(a)),
                292 + 232 * out * math.copysign(abs(math.sin(a)) ** 0.72, math.sin(a)),
            )
        )
    c.poly(ring, "#f08a6b")
    for grow, tint in ((0.955, "#fdf6e6"), (0.915, "#22366b"), (0.905, "#fdf6e6")):
        c.poly(
            [
                (430 + (x - 430) * grow, 292 + (y - 292) * (grow - (1 - grow) * 0.7))
                for x, y in ring
            ],
            tint,
        )
    star(c, 430, 70, 64, SUN)
    for x, y, r, tint in ((92, 124, 30, "#5cb3ad"), (768, 124, 30, "#e78ba0")):
        star(c, x, y, r, tint, 14)
    return c.finished()


def sprig_label() -> Image.Image:
    """A soft white label between two sprigs, for a guest's name, the couple and the day."""
    c = sheet(96, 36, 108)
    c.poly(rounded(20, 26, 920, 316, 150), "#b58a4a")
    c.poly(rounded(26, 32, 908, 304, 146), "#fffaf0")
    c.poly(rounded(40, 46, 880, 276, 134), "#d9b67c")
    c.poly(rounded(43, 49, 874, 270, 131), "#fffaf0")
    greens = ["#6f8a5a", "#87a06c", "#587548"]
    for side in (0, 1):
        for i in range(8):
            t = i / 7
            a = math.radians(130 + 100 * t)
            x, y = 190 + 142 * math.cos(a), 184 + 128 * math.sin(a)
            for turn in (-48, 38):
                d = math.degrees(a) - 90 + turn if t > 0.5 else math.degrees(a) + 90 + turn
                d = 180 - d if side else d
                leaf(c, 960 - x if side else x, y, 52, d, greens[(i + (turn > 0)) % 3])
        for t, tint in ((0.5, "#e08c86"), (0.28, "#f0c16c"), (0.74, "#f0c16c")):
            a = math.radians(130 + 100 * t)
            x, y = 190 + 142 * math.cos(a), 184 + 128 * math.sin(a)
            x = 960 - x if side else x
            r = 20 if t == 0.5 else 14
            for k in range(5):
                b = k * 2 * math.pi / 5
                c.oval(
                    x + r * 0.8 * math.cos(b), y + r * 0.8 * math.sin(b), r * 0.62, r * 0.62, tint
                )
            c.oval(x, y, r * 0.5, r * 0.5, "#fffaf0")
    return c.finished()


def woven_label() -> Image.Image:
    """A cloth label sewn on with four red stitches."""
    c = sheet(84, 34, 110)
    c.poly(rounded(12, 12, 816, 316, 10), "#e2d3b3")
    c.poly(rounded(12, 12, 816, 306, 10), "#fbf3e0")
    for y in (34, 288):
        c.rect(30, y, 780, 8, "#b8402f")
    for x, y in ((18, 18), (822, 18), (18, 312), (822, 312)):
        sx = 1 if x < 400 else -1
        sy = 1 if y < 170 else -1
        c.stroke([(x - 10 * sx, y - 10 * sy), (x + 22 * sx, y + 22 * sy)], "#b8402f", 9)
        c.stroke([(x + 22 * sx, y - 10 * sy), (x - 10 * sx, y + 22 * sy)], "#b8402f", 9)
    return c.finished()


def slate() -> Image.Image:
    """A slate in a wooden frame, for chalk words."""
    c = sheet(96, 28, 114)
    c.poly(rounded(8, 8, 944, 264, 16), "#7d5534")
    c.poly(rounded(8, 8, 944, 252, 16), "#a9764a")
    c.poly(rounded(34, 32, 892, 202, 8), "#20303a")
    for x in (24, 936):
        for y in (20, 248):
            c.oval(x, y, 6, 6, "#5b3b22")
    return c.finished()
