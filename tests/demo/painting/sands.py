"""A dog on a wide beach, with a ball."""

from __future__ import annotations

import math

from painting.brush import Canvas, pts, ramp
from painting.figures import gull
from PIL import Image


def _dog(c: Canvas, x: float, foot: float, s: float) -> None:
    """A brown and white dog at a run, a red ball ahead."""
    coat, dark, white = "#a8623a", "#7d4527", "#fff3e0"

    def p(dx: float, up: float) -> tuple[float, float]:
        return x + dx * s, foot - up * s

    def limb(points: list[tuple[float, float]], tint: str, a: float, b: float) -> None:
        c.stroke([p(*q) for q in points], tint, a * s, b * s)

    def blob(points: list[tuple[float, float]], tint: str) -> None:
        c.blob([p(*q) for q in points], tint)

    c.dash(x, foot + 0.02 * s, 1.25 * s, 0.06 * s, "#8d7a6a", 0.5)
    limb(pts("-0.34,0.42 -0.5,0.26 -0.62,0.17 -0.7,0.05"), dark, 0.15, 0.055)
    limb(pts("0.26,0.4 0.4,0.28 0.56,0.24 0.64,0.16"), dark, 0.12, 0.055)
    limb(pts("-0.42,0.56 -0.6,0.66 -0.7,0.82 -0.64,0.93"), coat, 0.1, 0.05)
    limb([(-0.66, 0.84), (-0.63, 0.95)], white, 0.075, 0.03)
    blob(
        pts(
            "-0.47,0.56 -0.3,0.64 0,0.615 0.26,0.66 0.4,0.6 "
            "0.4,0.42 0.28,0.32 0,0.36 -0.26,0.34 -0.45,0.4"
        ),
        coat,
    )
    blob(pts("0.1,0.36 0.3,0.44 0.42,0.58 0.44,0.42 0.3,0.3"), white)
    blob(pts("-0.2,0.63 -0.02,0.62 0.08,0.5 -0.1,0.43 -0.24,0.5"), dark)
    limb(pts("-0.32,0.45 -0.34,0.26 -0.46,0.16 -0.42,0.03"), coat, 0.18, 0.06)
    limb([(-0.45, 0.1), (-0.42, 0.03)], white, 0.065, 0.06)
    limb(pts("0.3,0.42 0.46,0.34 0.52,0.2 0.68,0.24"), coat, 0.14, 0.06)
    limb([(0.6, 0.22), (0.7, 0.25)], white, 0.066, 0.06)
    limb([(0.32, 0.55), (0.5, 0.74)], coat, 0.22, 0.17)
    blob(
        pts(
            "0.38,0.84 0.5,0.93 0.63,0.9 0.7,0.8 0.85,0.75 0.87,0.68 0.78,0.64 0.62,0.65 0.46,0.68"
        ),
        coat,
    )
    blob(pts("0.6,0.9 0.66,0.84 0.72,0.78 0.86,0.74 0.86,0.68 0.76,0.65 0.66,0.7 0.6,0.78"), white)
    blob(pts("0.7,0.665 0.8,0.655 0.8,0.56 0.74,0.54"), "#e0707a")
    c.oval(*p(0.865, 0.74), 0.035 * s, 0.03 * s, "#2b211e")
    c.oval(*p(0.615, 0.825), 0.022 * s, 0.026 * s, "#2b211e")
    c.oval(*p(0.621, 0.833), 0.007 * s, 0.007 * s, "#ffffff")
    blob(pts("0.42,0.88 0.34,0.96 0.16,0.9 0.1,0.78 0.24,0.8 0.4,0.76 0.48,0.8"), dark)
    limb([(0.34, 0.66), (0.42, 0.59), (0.5, 0.58)], "#2f7f88", 0.05, 0.05)
    c.oval(*p(0.47, 0.55), 0.03 * s, 0.03 * s, "#f0c24e")


def _coast(c: Canvas) -> None:
    """Sky, clouds, cliffs and sea."""
    c.wash(0, 560, ["#7fbbd4", "#a9d3de", "#d5e8e1", "#f5ecd3"], 11, 9)
    for x, y, long in ((360.0, 160.0, 620.0), (1350, 110, 820), (2050, 240, 560), (840, 300, 520)):
        for _ in range(7):
            c.dash(
                x + c.between(-0.4, 0.4) * long,
                y + c.between(-30, 26),
                long * c.between(0.3, 0.7),
                c.between(22, 52),
                "#fffdf6",
                0.62,
            )
    c.land(pts("1500,560 1640,470 1800,430 1990,380 2200,330 2440,300"), "#9fb0a4")
    cliff = c.land(pts("1720,566 1840,500 2000,470 2120,400 2290,380 2440,340"), "#c8b08a")
    with c.clip(cliff):
        for i in range(24):
            x = 1780 + i * 28
            c.stroke(
                [(x, 420 - i * 4), (x - 10, 600)],
                c.pick(["#b3966f", "#dcc7a0", "#a88a68"]),
                c.between(8, 20),
            )
        c.blob(
            pts(
                "1700,540 1850,470 2010,440 2130,372 2290,352 "
                "2460,310 2460,390 2300,410 2140,430 2010,496 1860,530"
            ),
            "#7f9a63",
        )
    c.wash(556, 800, ["#3f8ba3", "#4f9fb0", "#76bcbf", "#a8d6cd"], 9, 5)
    for _ in range(60):
        y = c.between(575, 770)
        c.dash(
            c.between(0, 2400),
            y,
            c.between(60, 260),
            c.between(4, 9),
            c.pick(["#2f7690", "#cfeae3"]),
            0.45,
        )
    for level, tint in ((742.0, "#f3fbf6"), (778, "#fffdf6")):
        line = [(-30.0, level + 6.0)] + [
            (x, level + 9 * math.sin(x / 170 + level) + c.between(-3, 3))
            for x in range(60, 2460, 110)
        ]
        c.stroke(line, tint, 15)


def _beach(c: Canvas) -> None:
    """Wet sand, dry sand and the way the dog came."""
    c.wash(786, 1600, ["#cdbb9d", "#dcc6a0", "#e8d2a8", "#ecd8b0", "#e6cd9d"], 11, 10)
    for i, (y, amp) in enumerate(((800.0, 12.0), (868.0, 18.0))):
        line = [
            (x, y + amp * math.sin(x / 210 + i) + c.between(-4, 4)) for x in range(-40, 2480, 120)
        ]
        c.poly(
            [*line, (2480, y - 90), (-40, y - 90)], ["#b9c9c0", "#fffdf6"][i], 0.0 if i else 0.35
        )
    for x, y, long in ((300.0, 900.0, 520.0), (1050, 868, 420), (1850, 930, 640), (700, 1010, 360)):
        c.dash(x, y, long, 26, "#b7cfd0", 0.75)
        c.dash(x + 30, y - 3, long * 0.6, 10, "#e9f2ea", 0.8)
    for _ in range(130):
        c.dash(
            c.between(0, 2400),
            c.between(960, 1600),
            c.between(30, 150),
            c.between(4, 10),
            c.pick(["#d2b78a", "#f6e7c6"]),
            0.55,
        )
    for i in range(15):
        x, y = 240 + i * 48, 1390 - i * 15 + (18 if i % 2 else 0)
        c.oval(x, y, 14, 8, "#c4a678", turn=-15)
        c.oval(x + 15, y - 8, 5, 4, "#c4a678")
    _dog(c, 1190, 1190, 510)


def _kite(c: Canvas) -> None:
    """A kite, and the two who fly it."""
    kx, ky = 560.0, 260.0
    c.stroke(
        [(kx, ky + 70), (kx + 40, ky + 300), (kx - 10, ky + 470), (kx - 60, 800)], "#6b6f75", 3
    )
    c.poly([(kx, ky - 90), (kx + 62, ky - 10), (kx, ky + 84), (kx - 62, ky - 10)], "#e0563f")
    c.poly([(kx, ky - 90), (kx + 62, ky - 10), (kx, ky - 10)], "#f3b63f")
    c.poly([(kx, ky + 84), (kx - 62, ky - 10), (kx, ky - 10)], "#2f7f88")
    for i in range(5):
        x, y = kx + 14 + i * 9, ky + 120 + i * 52
        c.poly([(x - 22, y - 10), (x, y), (x - 20, y + 12)], ["#f3b63f", "#e0563f"][i % 2])
        c.poly([(x + 22, y - 10), (x, y), (x + 20, y + 12)], ["#f3b63f", "#e0563f"][i % 2])
    for x, coat in ((470, "#c2473a"), (520, "#f3b63f")):
        c.blob([(x - 17, 858), (x - 15, 800), (x, 786), (x + 15, 800), (x + 17, 858)], coat)
        c.oval(x, 772, 12, 14, "#d9a27c")
        c.stroke([(x - 6, 858), (x - 7, 892)], "#3b4a5c", 9)
        c.stroke([(x + 6, 858), (x + 8, 892)], "#3b4a5c", 9)


def sands(scale: float = 1.0) -> Image.Image:
    """A dog on a wide beach at low water."""
    c = Canvas(2400, 1600, 31, scale=scale)
    _coast(c)
    _beach(c)
    c.oval(1775, 1095, 40, 40, "#d5473c")
    c.oval(1763, 1082, 13, 11, "#f08c78")
    c.dash(1790, 1190, 100, 14, "#8d7a6a", 0.4)
    for x, y in ((560.0, 1180.0), (600, 1150), (520, 1130), (700, 1210), (640, 1236)):
        c.oval(x, y, c.between(6, 13), c.between(5, 9), "#e9d6ae")
    _kite(c)
    shells = ramp(["#fff6e6", "#e8a58c"], 4)
    for _ in range(26):
        x, y = c.between(60, 2340), c.between(1380, 1570)
        c.blob([(x - 12, y + 6), (x, y - 12), (x + 12, y + 6), (x, y + 10)], c.pick(shells))
    for x, y, span in ((1540, 380, 110), (1680, 300, 76), (980, 470, 84)):
        gull(c, x, y, span, "#fffdf6", "#39424d")
    return c.finished()
