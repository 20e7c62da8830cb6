"""People, houses, birds and trees for the painted scenes."""

from __future__ import annotations

import math

from painting.brush import Canvas, Point, mix, pts


class Person:
    """A standing figure in hundredths of its height: x to the right, up from the feet."""

    def __init__(
        self, canvas: Canvas, x: float, foot: float, tall: float, *, skin: str, hair: str, top: str
    ) -> None:
        self.c, self.x, self.foot, self.u = canvas, x, foot, tall / 100
        self.skin, self.hair, self.top = skin, hair, top

    def p(self, dx: float, up: float) -> Point:
        return self.x + dx * self.u, self.foot - up * self.u

    def blob(self, points: list[Point], colour: str, alpha: float = 1.0) -> None:
        self.c.blob([self.p(*q) for q in points], colour, alpha)

    def limb(self, points: list[Point], colour: str, start: float, end: float) -> None:
        self.c.stroke([self.p(*q) for q in points], colour, start * self.u, end * self.u)

    def dot(
        self, dx: float, up: float, rx: float, ry: float, colour: str, alpha: float = 1
    ) -> None:
        x, y = self.p(dx, up)
        self.c.oval(x, y, rx * self.u, ry * self.u, colour, alpha)

    def trousers(self, colour: str, shoe: str = "#3b322e") -> None:
        self.limb([(-4.2, 50), (-5, 26), (-5.4, 3)], colour, 9.5, 6)
        self.limb([(4.2, 50), (5, 26), (5.4, 3)], mix(colour, "#000000", 0.12), 9.5, 6)
        self.dot(-6.4, 1.4, 4.4, 2, shoe)
        self.dot(6.4, 1.4, 4.4, 2, shoe)

    def legs(self, shoe: str = "#7a3b30") -> None:
        self.limb([(-3, 26), (-3.4, 3)], self.skin, 4.6, 3)
        self.limb([(3, 26), (3.4, 3)], mix(self.skin, "#000000", 0.1), 4.6, 3)
        self.dot(-4.4, 1.4, 3.8, 1.8, shoe)
        self.dot(4.4, 1.4, 3.8, 1.8, shoe)

    def shirt(self) -> None:
        self.blob(
            pts("-6,81 6,81 11.5,77 10,62 9.6,47 -9.6,47 -10,62 -11.5,77"),
            self.top,
        )
        shade = mix(self.top, "#1d2a44", 0.2)
        self.blob(pts("4,81 11.5,77 10,62 9.6,47 3,47 6,62"), shade)

    def dress(self, hem: float = 20, wide: float = 17) -> None:
        self.blob(
            [
                (-5, 81),
                (5, 81),
                (9.6, 77),
                (7.4, 63),
                (wide * 0.72, 40),
                (wide, hem),
                (0, hem - 2),
                (-wide, hem),
                (-wide * 0.72, 40),
                (-7.4, 63),
                (-9.6, 77),
            ],
            self.top,
        )
        shade = mix(self.top, "#1d2a44", 0.17)
        self.blob(
            [
                (4, 80),
                (9.6, 77),
                (7.4, 63),
                (wide * 0.72, 40),
                (wide, hem),
                (wide * 0.5, hem - 1.5),
                (5, 44),
                (4, 63),
            ],
            shade,
        )

    def arm(self, points: list[Point], sleeve: float = 0.55) -> None:
        """Shoulder, elbow, hand; the sleeve covers that share of it."""
        (sx, sy), (ex, ey), (hx, hy) = points
        self.limb(points, self.skin, 5.6, 3.8)
        self.dot(hx, hy, 2.7, 2.7, self.skin)
        cloth = mix(self.top, "#1d2a44", 0.1)
        if sleeve >= 1:
            self.limb(points, cloth, 7.2, 5.4)
            self.dot(hx, hy, 2.7, 2.7, self.skin)
        else:
            share = sleeve * 1.6
            self.limb([(sx, sy), (sx + (ex - sx) * share, sy + (ey - sy) * share)], cloth, 7.4, 6.6)

    def head(self, style: str = "short", face: bool = True) -> None:
        if style == "long":
            self.blob(pts("-8,95 0,101 8,95 9.4,84 7.6,77.5 -7.6,77.5 -9.4,84"), self.hair)
        self.limb([(0, 79), (0, 87)], mix(self.skin, "#5a2d1d", 0.16), 5, 4.6)
        if style == "long":
            self.blob([(-3.4, 80), (3.4, 80), (0, 76)], mix(self.skin, "#5a2d1d", 0.16))
        if style == "afro":
            self.dot(0, 94.5, 10.5, 10, self.hair)
        if style == "bun":
            self.dot(0, 102, 4, 3.8, self.hair)
        if style == "tails":
            self.dot(-9.5, 90, 3.4, 5.6, self.hair)
            self.dot(9.5, 90, 3.4, 5.6, self.hair)
        self.dot(0, 91, 6.8, 8.2, self.skin)
        if style == "beard":
            self.blob(pts("-6.8,91 -5,87.5 0,88.6 5,87.5 6.8,91 5,83 0,80.6 -5,83"), self.hair)
        if style == "afro":
            self.blob(pts("-7,93 -4,98 4,98 7,93 8,99 0,103 -8,99"), self.hair)
        elif style != "bald":
            self.blob(
                pts("-7.4,90 -6.2,95 -1,96.6 5,95.4 7.4,90 7.6,96 3,100.4 -3,100.4 -7.6,96"),
                self.hair,
            )
        if face:
            ink = "#3a2622"
            self.dot(-2.6, 91, 0.75, 0.95, ink)
            self.dot(2.6, 91, 0.75, 0.95, ink)
            self.dot(-4.2, 88.4, 1.5, 1, "#e07a5f", 0.45)
            self.dot(4.2, 88.4, 1.5, 1, "#e07a5f", 0.45)
            if style != "beard":
                self.limb([(-2, 87.2), (0, 86.4), (2, 87.2)], ink, 0.7, 0.7)


def gull(c: Canvas, x: float, y: float, span: float, colour: str, tip: str) -> None:
    """A gull seen from afar, wings up."""
    s = span / 2
    c.poly(
        [
            (x - s, y - s * 0.28),
            (x - s * 0.55, y - s * 0.5),
            (x, y),
            (x + s * 0.6, y - s * 0.46),
            (x + s, y - s * 0.2),
            (x + s * 0.55, y - s * 0.26),
            (x, y + s * 0.16),
            (x - s * 0.5, y - s * 0.28),
        ],
        colour,
    )
    c.oval(x, y + s * 0.06, s * 0.26, s * 0.1, colour, turn=8)
    c.poly([(x - s, y - s * 0.28), (x - s * 0.8, y - s * 0.41), (x - s * 0.74, y - s * 0.3)], tip)
    c.poly([(x + s, y - s * 0.2), (x + s * 0.8, y - s * 0.36), (x + s * 0.76, y - s * 0.24)], tip)


def house(
    c: Canvas,
    x: float,
    foot: float,
    wide: float,
    high: float,
    wall: str,
    roof: str,
    pane: str,
    *,
    rows: int = 2,
    snow: str = "",
    lit: float = 0.0,
) -> None:
    """A gable house seen from the front, standing at `foot`."""
    shade = mix(wall, "#27304a", 0.16)
    c.rect(x, foot - high, wide, high, wall)
    c.rect(x + wide * 0.82, foot - high, wide * 0.18, high, shade)
    peak = foot - high - wide * 0.42
    over = wide * 0.06
    c.poly([(x, foot - high), (x + wide / 2, peak - over), (x + wide, foot - high)], wall)
    cap = snow or roof
    c.poly(
        [
            (x - over, foot - high + over),
            (x + wide / 2, peak - over),
            (x + wide + over, foot - high + over),
            (x + wide + over, foot - high - over * 0.9),
            (x + wide / 2, peak - over * 2.9),
            (x - over, foot - high - over * 0.9),
        ],
        cap,
    )
    c.rect(x + wide * 0.68, peak - wide * 0.08, wide * 0.1, wide * 0.26, mix(roof, "#402020", 0.3))
    pane_w = wide * 0.17
    step = high / (rows + 0.25)
    for row in range(rows):
        for col in range(2):
            wx = x + wide * (0.2 + col * 0.4)
            wy = foot - high + step * (row + 0.16)
            if row == rows - 1 and col == 1:
                c.rect(
                    wx,
                    wy + step * 0.1,
                    pane_w * 1.15,
                    foot - wy - step * 0.1,
                    mix(roof, "#1d2733", 0.35),
                )
                continue
            tint = "#ffd98a" if c.rng.random() < lit else pane
            c.rect(wx - 3, wy - 3, pane_w + 6, step * 0.5 + 6, mix(wall, "#ffffff", 0.6))
            c.rect(wx, wy, pane_w, step * 0.5, tint)
            c.rect(wx + pane_w / 2 - 1.5, wy, 3, step * 0.5, mix(wall, "#ffffff", 0.6))


def bare_tree(
    c: Canvas, x: float, y: float, length: float, lean: float, width: float, colour: str, depth: int
) -> None:
    """A winter tree: each branch parts in two or three."""
    ex, ey = x + math.sin(lean) * length, y - math.cos(lean) * length
    c.stroke(
        [(x, y), ((x + ex) / 2 + c.between(-1, 1) * length * 0.06, (y + ey) / 2), (ex, ey)],
        colour,
        width,
        width * 0.68,
    )
    if depth == 0:
        return
    for turn in (-1, 1) if c.rng.random() < 0.7 else (-1, 0.1, 1):
        bare_tree(
            c,
            ex,
            ey,
            length * c.between(0.66, 0.82),
            lean + turn * c.between(0.24, 0.55),
            width * 0.66,
            colour,
            depth - 1,
        )


def crown(c: Canvas, x: float, y: float, r: float, tints: list[str], touches: int = 60) -> None:
    """The leafy head of a tree: broad dabs from dark below to small light ones above."""
    for i in range(touches):
        share = i / touches
        a, d = c.between(0, 2 * math.pi), r * math.sqrt(c.between(0, 1)) * (1 - 0.12 * share)
        tint = tints[min(int(share * len(tints)), len(tints) - 1)]
        size = r * c.between(0.2, 0.34) * (1 - 0.72 * share)
        c.oval(
            x + math.cos(a) * d - share * r * 0.12,
            y + math.sin(a) * d * 0.78 - share * r * 0.16,
            size,
            size * 0.66,
            tint,
            turn=c.between(-35, 20),
        )


def bunting(
    c: Canvas, x0: float, y0: float, x1: float, y1: float, sag: float, flag: float, tints: list[str]
) -> None:
    """Paper flags on a string."""

    def at(t: float) -> tuple[float, float]:
        return x0 + (x1 - x0) * t, y0 + (y1 - y0) * t + 4 * sag * t * (1 - t)

    count = int(abs(x1 - x0) / (flag * 1.25))
    for i in range(count):
        (ax, ay), (bx, by) = at((i + 0.12) / count), at((i + 0.88) / count)
        mx, my = (ax + bx) / 2, (ay + by) / 2 + flag * 1.15
        tint = tints[i % len(tints)]
        c.poly([(ax, ay), (bx, by), (mx, my)], tint)
        c.poly([((ax + bx) / 2, (ay + by) / 2), (bx, by), (mx, my)], mix(tint, "#1d2733", 0.12))
    c.stroke([at(i / 24) for i in range(25)], "#6b4b3a", flag * 0.07)
