"""The small harbour, by evening or by morning."""

from __future__ import annotations

from typing import Any

from painting.brush import Canvas, mix, pts
from painting.figures import gull, house, sailboat
from PIL import Image

EVENING: dict[str, Any] = {
    "sky": ["#5f97a8", "#93b9b4", "#d9d2b4", "#f3c99a", "#f0ad83"],
    "sun": "#fff0c9",
    "far": "#8a8fa6",
    "hill": "#6d7a8c",
    "near": "#55705f",
    "sea": ["#e3b491", "#8fa9a6", "#4f8591", "#2f6377", "#234d63"],
    "glint": "#ffe2b0",
    "deep": "#1f4459",
    "cloud": "#fbe3c4",
}
MORNING: dict[str, Any] = {
    "sky": ["#6fb1d6", "#9bcbe2", "#c9e4e8", "#eef2e2", "#fbecd0"],
    "sun": "#fffbe9",
    "far": "#a3bdca",
    "hill": "#84a6a3",
    "near": "#6d9a6c",
    "sea": ["#cfe6e2", "#8cc3cb", "#4c9db4", "#2d7d9c", "#226483"],
    "glint": "#f4fbf3",
    "deep": "#1c5877",
    "cloud": "#ffffff",
}
WALLS = ["#f3e3c3", "#d96c4f", "#f0b64e", "#7fa8a0", "#f6efe0", "#c9556a", "#9db9cf", "#e9a07c"]
ROOFS = ["#7a4a41", "#5b5560", "#8b5140", "#4f5b66"]


def _sky(c: Canvas, tones: dict[str, Any], horizon: float, sun: tuple[float, float]) -> None:
    c.wash(0, horizon, tones["sky"], 13, 9)
    for r, alpha in ((230, 0.12), (150, 0.18)):
        c.oval(*sun, r, r, tones["sun"], alpha)
    c.oval(*sun, 78, 78, tones["sun"])
    for x, y, long in ((420, 190, 620), (1530, 120, 760), (2080, 300, 560), (900, 330, 420)):
        for _ in range(6):
            c.dash(
                x + c.between(-0.4, 0.4) * long,
                y + c.between(-26, 26),
                long * c.between(0.3, 0.8),
                c.between(14, 36),
                tones["cloud"],
                0.5,
            )


def _water(c: Canvas, tones: dict[str, Any], horizon: float, sun_x: float) -> None:
    c.wash(horizon, c.height, tones["sea"], 15, 6)
    deep, glint = tones["deep"], tones["glint"]
    for _ in range(170):
        y = horizon + 8 + (c.height - horizon) * c.between(0, 1) ** 1.5
        near = (y - horizon) / (c.height - horizon)
        tint = c.pick([deep, deep, glint])
        c.dash(c.between(0, c.width), y, 60 + 260 * near, 3 + 15 * near, tint, 0.22)
    for i in range(46):
        near = i / 46
        y = horizon + 8 + (c.height - horizon) * near
        c.dash(
            sun_x + c.between(-1, 1) * (22 + 150 * near),
            y,
            50 + 130 * near,
            4 + 11 * near,
            glint,
            0.72,
        )


def _pier(c: Canvas, tones: dict[str, Any]) -> None:
    """A timber pier from the right, with lamps and two people looking out."""
    wood, dark = "#8d6a4f", "#54402f"
    deck = pts("2420,1000 1730,968 1730,990 2420,1046")
    for x in range(1745, 2420, 74):
        top = 975 + (x - 1730) * 0.05
        c.stroke([(x, top), (x, top + 190 + (x - 1730) * 0.16)], dark, 15 + (x - 1730) * 0.012)
        c.dash(x, top + 215 + (x - 1730) * 0.16, 90, 9, tones["glint"], 0.5)
    c.poly(pts("1745,1080 2420,1180 2420,1160 1745,1064"), dark)
    c.poly(deck, wood)
    c.poly(pts("1730,990 2420,1046 2420,1066 1730,1004"), dark)
    for x in range(1760, 2420, 30):
        top = 968 + (x - 1730) * 0.047
        c.stroke([(x, top + 2), (x, top + 20)], "#765741", 2.5)
    for x in (1800, 2060, 2330):
        top = 968 + (x - 1730) * 0.047
        c.stroke([(x, top), (x, top - 170)], "#2f3a44", 9, 6)
        c.stroke([(x - 26, top - 172), (x + 26, top - 172)], "#2f3a44", 7)
        c.oval(x, top - 192, 17, 21, "#ffe6a6")
        c.poly([(x - 22, top - 205), (x + 22, top - 205), (x, top - 232)], "#2f3a44")
    for x, coat, tall in ((1905, "#b2433a", 112), (1950, "#27445e", 124)):
        foot = 974 + (x - 1730) * 0.047
        c.blob(
            [
                (x - 16, foot),
                (x - 18, foot - tall * 0.7),
                (x, foot - tall * 0.84),
                (x + 18, foot - tall * 0.7),
                (x + 16, foot),
            ],
            coat,
        )
        c.oval(x, foot - tall * 0.92, 12, 14, "#e2b48f")
        c.blob(
            [
                (x - 13, foot - tall * 0.92),
                (x, foot - tall * 1.06),
                (x + 13, foot - tall * 0.92),
                (x, foot - tall * 0.96),
            ],
            "#4a3426",
        )


def _rigging(c: Canvas, x: float, water: float, s: float) -> None:
    """Masts, lines and small flags."""
    line = "#3b3a40"
    c.stroke(
        [(x - 0.18 * s, water - 0.2 * s), (x - 0.18 * s, water - 0.92 * s)], "#6b5140", 0.02 * s
    )
    c.stroke(
        [(x + 0.3 * s, water - 0.2 * s), (x + 0.3 * s, water - 0.66 * s)], "#6b5140", 0.016 * s
    )
    c.stroke([(x - 0.18 * s, water - 0.88 * s), (x + 0.3 * s, water - 0.62 * s)], line, 0.006 * s)
    c.stroke([(x - 0.18 * s, water - 0.9 * s), (x - 0.54 * s, water - 0.26 * s)], line, 0.006 * s)
    c.stroke([(x + 0.3 * s, water - 0.64 * s), (x + 0.52 * s, water - 0.2 * s)], line, 0.006 * s)
    for i, tint in enumerate(["#f0b64e", "#f6efe0", "#c9556a", "#7fa8a0", "#f0b64e", "#f6efe0"]):
        t = (i + 0.6) / 6.4
        fx, fy = x - 0.18 * s + 0.48 * s * t, water - 0.88 * s + 0.26 * s * t
        c.poly(
            [
                (fx - 0.026 * s, fy - 0.012 * s),
                (fx + 0.03 * s, fy + 0.018 * s),
                (fx - 0.004 * s, fy + 0.08 * s),
            ],
            tint,
        )


def _cabin(c: Canvas, x: float, water: float, s: float) -> None:
    """The wheelhouse."""
    c.rect(x - 0.08 * s, water - 0.47 * s, 0.27 * s, 0.3 * s, "#f6efe0")
    c.rect(x + 0.12 * s, water - 0.47 * s, 0.07 * s, 0.3 * s, "#d8cfc0")
    c.poly(
        [
            (x - 0.11 * s, water - 0.47 * s),
            (x + 0.22 * s, water - 0.47 * s),
            (x + 0.2 * s, water - 0.51 * s),
            (x - 0.1 * s, water - 0.51 * s),
        ],
        "#27445e",
    )
    for dx in (-0.055, 0.025):
        c.rect(x + dx * s, water - 0.42 * s, 0.06 * s, 0.085 * s, "#35566b")
        c.rect(x + dx * s, water - 0.42 * s, 0.06 * s, 0.03 * s, "#9fc0c6")
    c.oval(x + 0.035 * s, water - 0.25 * s, 0.036 * s, 0.036 * s, "#e8734c")
    c.oval(x + 0.035 * s, water - 0.25 * s, 0.02 * s, 0.02 * s, "#f6efe0")


def _trawler(c: Canvas, x: float, water: float, s: float, tones: dict[str, Any]) -> None:
    """The fishing boat in the middle of it all."""
    _rigging(c, x, water, s)
    _cabin(c, x, water, s)
    hull = [
        (x - 0.58 * s, water - 0.29 * s),
        (x - 0.3 * s, water - 0.2 * s),
        (x + 0.1 * s, water - 0.18 * s),
        (x + 0.5 * s, water - 0.21 * s),
        (x + 0.48 * s, water - 0.08 * s),
        (x + 0.44 * s, water + 0.04 * s),
        (x - 0.38 * s, water + 0.04 * s),
        (x - 0.46 * s, water - 0.06 * s),
        (x - 0.53 * s, water - 0.18 * s),
    ]
    c.poly(hull, "#b63f33")
    with c.clip(hull):
        c.rect(x - 0.7 * s, water - 0.02 * s, 1.4 * s, 0.1 * s, "#27384a")
        c.rect(x + 0.2 * s, water - 0.4 * s, 0.5 * s, 0.6 * s, "#7d2a2b", 0.35)
    c.stroke(
        [
            (x - 0.57 * s, water - 0.28 * s),
            (x - 0.3 * s, water - 0.195 * s),
            (x + 0.1 * s, water - 0.175 * s),
            (x + 0.5 * s, water - 0.205 * s),
        ],
        "#fbf0da",
        0.026 * s,
    )
    for i in range(4):
        c.oval(
            x - 0.36 * s + i * 0.09 * s,
            water - 0.12 * s + i * 0.006 * s,
            0.02 * s,
            0.02 * s,
            "#2c2f38",
        )
    for i in range(18):
        t = i / 18
        tint = ["#b63f33", "#f6efe0", "#27384a"][i % 3]
        c.dash(
            x + c.between(-0.34, 0.34) * s,
            water + 0.07 * s + t * 0.36 * s,
            (0.34 - 0.2 * t) * s,
            0.018 * s,
            tint,
            0.5,
        )
    c.dash(x, water + 0.05 * s, 1.0 * s, 0.03 * s, tones["deep"], 0.8)


def _town(c: Canvas, tones: dict[str, Any], morning: bool) -> None:
    """Trees, houses and the quay."""
    for i in range(9):
        r = 30 + 24 * (i % 3)
        c.oval(
            20 + i * 66,
            720 + i * 7,
            r * 1.3,
            r,
            mix(tones["near"], "#20382f", 0.28 + 0.1 * (i % 2)),
        )
    x = -46.0
    for i in range(8):
        wide, high = c.between(74, 104), c.between(96, 158)
        house(
            c,
            x,
            838,
            wide,
            high,
            WALLS[(i * 3 + morning) % len(WALLS)],
            ROOFS[i % len(ROOFS)],
            "#56748a",
            lit=0.0 if morning else 0.4,
        )
        x += wide + c.between(-3, 9)
    c.poly(pts("-20,834 720,838 762,862 -20,874"), "#a08e7d")
    c.poly(pts("-20,858 745,852 762,862 -20,884"), "#6d6058")
    for _ in range(34):
        c.dash(
            c.between(0, 700), 895 + c.between(0, 150), c.between(40, 110), 9, c.pick(WALLS), 0.34
        )


def _rowing_boat(c: Canvas, x: float, y: float) -> None:
    """A rowing boat on its own."""
    c.blob(
        [
            (x - 190, y - 40),
            (x - 60, y - 22),
            (x + 90, y - 24),
            (x + 200, y - 52),
            (x + 140, y + 30),
            (x - 120, y + 34),
        ],
        "#3e7d83",
    )
    c.blob(
        [
            (x - 176, y - 38),
            (x - 60, y - 20),
            (x + 90, y - 22),
            (x + 186, y - 48),
            (x + 100, y - 4),
            (x - 100, y),
        ],
        "#2c555f",
    )
    c.stroke(
        [(x - 190, y - 42), (x - 60, y - 22), (x + 90, y - 24), (x + 200, y - 54)], "#fbf0da", 9
    )
    c.rect(x - 50, y - 26, 34, 12, "#b98c63")
    c.rect(x + 50, y - 27, 34, 12, "#b98c63")
    for i in range(8):
        c.dash(x + c.between(-90, 90), y + 48 + i * 13, 230 - i * 20, 9, "#1f4459", 0.4)


def harbour(scale: float = 1.0, *, morning: bool = False) -> Image.Image:
    """A small harbour: the evening one is a customer's, the morning one the shop's sample."""
    tones = MORNING if morning else EVENING
    c = Canvas(2400, 1600, 11 if morning else 7, scale=scale)
    horizon, sun_x = 800.0, 620.0 if morning else 760.0
    _sky(c, tones, horizon, (sun_x, 560 if morning else 650))
    c.land(pts("-30,720 300,640 640,700 1000,610 1500,690 2000,590 2430,660"), tones["far"])
    c.land(pts("-30,760 260,700 560,770 1200,780 1500,720 1900,640 2430,560"), tones["hill"])
    c.land(pts("-30,640 160,650 420,730 620,792 900,812 2430,812"), tones["near"])
    _water(c, tones, horizon, sun_x)
    _town(c, tones, morning)
    _pier(c, tones)
    sailboat(c, 1480, 930, 190, "#f6efe0", "#fff8e8", "#f0b64e" if morning else "#e8734c")
    c.dash(1480, 942, 190, 10, "#fff8e8", 0.5)
    sailboat(c, 905, 846, 84, "#27445e", "#fff8e8", "#fff8e8")
    _trawler(c, 1200, 1120, 560, tones)
    _rowing_boat(c, 480, 1290)
    for gx, gy, span in (
        (1010, 420, 120),
        (1190, 330, 84),
        (1760, 520, 100),
        (1660, 440, 60),
        (330, 420, 76),
        (2140, 470, 110),
    ):
        gull(c, gx, gy, span, "#fffaf0", "#39424d")
    return c.finished()
