"""Scenes by the sea: the harbour, the lamp on the rock, the dog on the sands."""

from __future__ import annotations

import math

from PIL import Image

from painting.brush import Canvas, mix, ramp
from painting.figures import bare_tree, gull, house, sailboat

EVENING = {
    "sky": ["#5f97a8", "#93b9b4", "#d9d2b4", "#f3c99a", "#f0ad83"],
    "sun": "#fff0c9", "far": "#8a8fa6", "hill": "#6d7a8c", "near": "#55705f",
    "sea": ["#e3b491", "#8fa9a6", "#4f8591", "#2f6377", "#234d63"],
    "glint": "#ffe2b0", "deep": "#1f4459", "cloud": "#fbe3c4",
}
MORNING = {
    "sky": ["#6fb1d6", "#9bcbe2", "#c9e4e8", "#eef2e2", "#fbecd0"],
    "sun": "#fffbe9", "far": "#a3bdca", "hill": "#84a6a3", "near": "#6d9a6c",
    "sea": ["#cfe6e2", "#8cc3cb", "#4c9db4", "#2d7d9c", "#226483"],
    "glint": "#f4fbf3", "deep": "#1c5877", "cloud": "#ffffff",
}
WALLS = ["#f3e3c3", "#d96c4f", "#f0b64e", "#7fa8a0", "#f6efe0", "#c9556a", "#9db9cf", "#e9a07c"]
ROOFS = ["#7a4a41", "#5b5560", "#8b5140", "#4f5b66"]


def _sky(c: Canvas, tones: dict[str, object], horizon: float, sun: tuple[float, float]) -> None:
    c.wash(0, horizon, tones["sky"], 13, 9)  # type: ignore[arg-type]
    for r, alpha in ((230, 0.12), (150, 0.18)):
        c.oval(*sun, r, r, str(tones["sun"]), alpha)
    c.oval(*sun, 78, 78, str(tones["sun"]))
    for x, y, long in ((420, 190, 620), (1530, 120, 760), (2080, 300, 560), (900, 330, 420)):
        for _ in range(6):
            c.dash(x + c.between(-0.4, 0.4) * long, y + c.between(-26, 26), long * c.between(0.3, 0.8),
                   c.between(14, 36), str(tones["cloud"]), 0.5)


def _water(c: Canvas, tones: dict[str, object], horizon: float, sun_x: float) -> None:
    c.wash(horizon, c.height, tones["sea"], 15, 6)  # type: ignore[arg-type]
    deep, glint = str(tones["deep"]), str(tones["glint"])
    for _ in range(170):
        y = horizon + 8 + (c.height - horizon) * c.between(0, 1) ** 1.5
        near = (y - horizon) / (c.height - horizon)
        tint = c.pick([deep, deep, glint])
        c.dash(c.between(0, c.width), y, 60 + 260 * near, 3 + 15 * near, tint, 0.22)
    for i in range(46):
        near = i / 46
        y = horizon + 8 + (c.height - horizon) * near
        c.dash(sun_x + c.between(-1, 1) * (22 + 150 * near), y, 50 + 130 * near, 4 + 11 * near, glint, 0.72)


def _pier(c: Canvas, tones: dict[str, object]) -> None:
    """A timber pier from the right, with lamps and two people looking out."""
    wood, dark = "#8d6a4f", "#54402f"
    deck = [(2420, 1000), (1730, 968), (1730, 990), (2420, 1046)]
    for x in range(1745, 2420, 74):
        top = 975 + (x - 1730) * 0.05
        c.stroke([(x, top), (x, top + 190 + (x - 1730) * 0.16)], dark, 15 + (x - 1730) * 0.012)
        c.dash(x, top + 215 + (x - 1730) * 0.16, 90, 9, str(tones["glint"]), 0.5)
    c.poly([(1745, 1080), (2420, 1180), (2420, 1160), (1745, 1064)], dark)
    c.poly(deck, wood)
    c.poly([(1730, 990), (2420, 1046), (2420, 1066), (1730, 1004)], dark)
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
        c.blob([(x - 16, foot), (x - 18, foot - tall * 0.7), (x, foot - tall * 0.84),
                (x + 18, foot - tall * 0.7), (x + 16, foot)], coat)
        c.oval(x, foot - tall * 0.92, 12, 14, "#e2b48f")
        c.blob([(x - 13, foot - tall * 0.92), (x, foot - tall * 1.06), (x + 13, foot - tall * 0.92),
                (x, foot - tall * 0.96)], "#4a3426")


def _trawler(c: Canvas, x: float, water: float, s: float, tones: dict[str, object]) -> None:
    """The fishing boat in the middle of it all."""
    line = "#3b3a40"
    c.stroke([(x - 0.18 * s, water - 0.2 * s), (x - 0.18 * s, water - 0.92 * s)], "#6b5140", 0.02 * s)
    c.stroke([(x + 0.3 * s, water - 0.2 * s), (x + 0.3 * s, water - 0.66 * s)], "#6b5140", 0.016 * s)
    c.stroke([(x - 0.18 * s, water - 0.88 * s), (x + 0.3 * s, water - 0.62 * s)], line, 0.006 * s)
    c.stroke([(x - 0.18 * s, water - 0.9 * s), (x - 0.54 * s, water - 0.26 * s)], line, 0.006 * s)
    c.stroke([(x + 0.3 * s, water - 0.64 * s), (x + 0.52 * s, water - 0.2 * s)], line, 0.006 * s)
    for i, tint in enumerate(["#f0b64e", "#f6efe0", "#c9556a", "#7fa8a0", "#f0b64e", "#f6efe0"]):
        t = (i + 0.6) / 6.4
        fx, fy = x - 0.18 * s + 0.48 * s * t, water - 0.88 * s + 0.26 * s * t
        c.poly([(fx - 0.026 * s, fy - 0.012 * s), (fx + 0.03 * s, fy + 0.018 * s), (fx - 0.004 * s, fy + 0.08 * s)], tint)
    c.rect(x - 0.08 * s, water - 0.47 * s, 0.27 * s, 0.3 * s, "#f6efe0")
    c.rect(x + 0.12 * s, water - 0.47 * s, 0.07 * s, 0.3 * s, "#d8cfc0")
    c.poly([(x - 0.11 * s, water - 0.47 * s), (x + 0.22 * s, water - 0.47 * s), (x + 0.2 * s, water - 0.51 * s), (x - 0.1 * s, water - 0.51 * s)], "#27445e")
    for dx in (-0.055, 0.025):
        c.rect(x + dx * s, water - 0.42 * s, 0.06 * s, 0.085 * s, "#35566b")
        c.rect(x + dx * s, water - 0.42 * s, 0.06 * s, 0.03 * s, "#9fc0c6")
    c.oval(x + 0.035 * s, water - 0.25 * s, 0.036 * s, 0.036 * s, "#e8734c")
    c.oval(x + 0.035 * s, water - 0.25 * s, 0.02 * s, 0.02 * s, "#f6efe0")
    hull = [(x - 0.58 * s, water - 0.29 * s), (x - 0.3 * s, water - 0.2 * s), (x + 0.1 * s, water - 0.18 * s),
            (x + 0.5 * s, water - 0.21 * s), (x + 0.48 * s, water - 0.08 * s), (x + 0.44 * s, water + 0.04 * s),
            (x - 0.38 * s, water + 0.04 * s), (x - 0.46 * s, water - 0.06 * s), (x - 0.53 * s, water - 0.18 * s)]
    c.poly(hull, "#b63f33")
    with c.clip(hull):
        c.rect(x - 0.7 * s, water - 0.02 * s, 1.4 * s, 0.1 * s, "#27384a")
        c.rect(x + 0.2 * s, water - 0.4 * s, 0.5 * s, 0.6 * s, "#7d2a2b", 0.35)
    c.stroke([(x - 0.57 * s, water - 0.28 * s), (x - 0.3 * s, water - 0.195 * s), (x + 0.1 * s, water - 0.175 * s), (x + 0.5 * s, water - 0.205 * s)], "#fbf0da", 0.026 * s)
    for i in range(4):
        c.oval(x - 0.36 * s + i * 0.09 * s, water - 0.12 * s + i * 0.006 * s, 0.02 * s, 0.02 * s, "#2c2f38")
    for i in range(18):
        t = i / 18
        tint = ["#b63f33", "#f6efe0", "#27384a"][i % 3]
        c.dash(x + c.between(-0.34, 0.34) * s, water + 0.07 * s + t * 0.36 * s, (0.34 - 0.2 * t) * s, 0.018 * s, tint, 0.5)
    c.dash(x, water + 0.05 * s, 1.0 * s, 0.03 * s, str(tones["deep"]), 0.8)


def harbour(scale: float = 1.0, *, morning: bool = False) -> Image.Image:
    """A small harbour: the evening one is a customer's, the morning one the shop's sample."""
    tones: dict[str, object] = dict(MORNING if morning else EVENING)
    c = Canvas(2400, 1600, 11 if morning else 7, scale=scale)
    horizon, sun_x = 800.0, 620.0 if morning else 760.0
    _sky(c, tones, horizon, (sun_x, 560 if morning else 650))
    c.land([(-30, 720), (300, 640), (640, 700), (1000, 610), (1500, 690), (2000, 590), (2430, 660)], str(tones["far"]))
    c.land([(-30, 760), (260, 700), (560, 770), (1200, 780), (1500, 720), (1900, 640), (2430, 560)], str(tones["hill"]))
    c.land([(-30, 640), (160, 650), (420, 730), (620, 792), (900, 812), (2430, 812)], str(tones["near"]))
    _water(c, tones, horizon, sun_x)
    for i in range(9):
        r = 30 + 24 * (i % 3)
        c.oval(20 + i * 66, 720 + i * 7, r * 1.3, r, mix(str(tones["near"]), "#20382f", 0.28 + 0.1 * (i % 2)))
    x = -46.0
    for i in range(8):
        wide, high = c.between(74, 104), c.between(96, 158)
        house(c, x, 838, wide, high, WALLS[(i * 3 + morning) % len(WALLS)], ROOFS[i % len(ROOFS)], "#56748a", lit=0.0 if morning else 0.4)
        x += wide + c.between(-3, 9)
    c.poly([(-20, 834), (720, 838), (762, 862), (-20, 874)], "#a08e7d")
    c.poly([(-20, 858), (745, 852), (762, 862), (-20, 884)], "#6d6058")
    for i in range(34):
        c.dash(c.between(0, 700), 895 + c.between(0, 150), c.between(40, 110), 9, c.pick(WALLS), 0.34)
    _pier(c, tones)
    sailboat(c, 1480, 930, 190, "#f6efe0", "#fff8e8", "#f0b64e" if morning else "#e8734c")
    c.dash(1480, 942, 190, 10, "#fff8e8", 0.5)
    sailboat(c, 905, 846, 84, "#27445e", "#fff8e8", "#fff8e8")
    _trawler(c, 1200, 1120, 560, tones)
    x, y = 480, 1290
    c.blob([(x - 190, y - 40), (x - 60, y - 22), (x + 90, y - 24), (x + 200, y - 52), (x + 140, y + 30), (x - 120, y + 34)], "#3e7d83")
    c.blob([(x - 176, y - 38), (x - 60, y - 20), (x + 90, y - 22), (x + 186, y - 48), (x + 100, y - 4), (x - 100, y)], "#2c555f")
    c.stroke([(x - 190, y - 42), (x - 60, y - 22), (x + 90, y - 24), (x + 200, y - 54)], "#fbf0da", 9)
    c.rect(x - 50, y - 26, 34, 12, "#b98c63")
    c.rect(x + 50, y - 27, 34, 12, "#b98c63")
    for i in range(8):
        c.dash(x + c.between(-90, 90), y + 48 + i * 13, 230 - i * 20, 9, "#1f4459", 0.4)
    for gx, gy, span in ((1010, 420, 120), (1190, 330, 84), (1760, 520, 100), (1660, 440, 60), (330, 420, 76), (2140, 470, 110)):
        gull(c, gx, gy, span, "#fffaf0", "#39424d")
    return c.finished()


def lamp(scale: float = 1.0) -> Image.Image:
    """The lighthouse at night: dark all over, with one bright lamp."""
    c = Canvas(2400, 1600, 21, scale=scale)
    horizon = 1040.0
    c.wash(0, horizon, ["#141d3a", "#1d2c55", "#2a4473", "#42658c", "#7a8fa0"], 14, 8)
    for _ in range(150):
        x, y = c.between(0, 2400), c.between(0, 1) ** 1.3 * 820
        r = c.between(1.6, 4.6)
        c.oval(x, y, r, r, c.pick(["#fff7dd", "#cfe0f0", "#ffe3a8"]), 0.9)
    for r, alpha in ((128, 0.08), (100, 0.12)):
        c.oval(420, 300, r, r, "#fff3cf", alpha)
    c.oval(420, 300, 74, 74, "#fbeecb")
    for dx, dy, r in ((-22, -18, 13), (20, 10, 17), (-8, 30, 9), (28, -30, 8)):
        c.oval(420 + dx, 300 + dy, r, r * 0.9, "#e6d5aa")
    c.wash(horizon, 1600, ["#54738c", "#2b4a70", "#1c3459", "#152747", "#101d38"], 12, 6)
    lx, ly = 1230.0, 440.0
    for up, down, far, alpha in ((-150, 130, -100, 0.17), (-92, 78, -100, 0.2), (-150, 130, 2500, 0.17), (-92, 78, 2500, 0.2)):
        c.poly([(lx, ly - 8), (far, ly + up + 40), (far, ly + down + 40), (lx, ly + 8)], "#ffe9ad", alpha)
    for _ in range(120):
        y = horizon + 10 + 550 * c.between(0, 1) ** 1.4
        near = (y - horizon) / 560
        c.dash(c.between(0, 2400), y, 60 + 240 * near, 4 + 12 * near, c.pick(["#6d8ca6", "#0f1b34", "#0f1b34"]), 0.35)
    for i in range(30):
        near = i / 30
        c.dash(420 + c.between(-1, 1) * (20 + 70 * near), horizon + 8 + 480 * near, 60 + 90 * near, 4 + 9 * near, "#fbeecb", 0.6)
    c.blob([(1700, 1046), (1840, 1012), (2020, 962), (2240, 948), (2460, 980), (2460, 1054)], "#20304f")
    for x, y in ((2060, 1010), (2110, 1022), (2205, 1000)):
        c.oval(x, y, 6, 6, "#ffd98a")
    rock = [(820, 1235), (900, 1130), (985, 1085), (1060, 1010), (1180, 985), (1330, 992), (1450, 1030),
            (1540, 1090), (1650, 1130), (1740, 1230), (1500, 1275), (1200, 1290), (980, 1270)]
    c.blob(rock, "#2b3346")
    with c.clip(rock):
        for x, y, w, tint in ((1000, 1110, 190, "#465167"), (1250, 1030, 220, "#4f5c70"), (1450, 1120, 190, "#3c475e"),
                              (1140, 1180, 260, "#39445b"), (1600, 1180, 160, "#465167"), (1330, 1210, 220, "#1f2638")):
            c.blob([(x - w / 2, y + 30), (x - w / 4, y - 26), (x + w / 5, y - 34), (x + w / 2, y + 6), (x + w / 4, y + 40)], tint)
        c.dash(1200, 992, 420, 26, "#5d7458", 1)
    for x, y, long in ((860, 1250, 190), (1080, 1290, 300), (1400, 1290, 330), (1690, 1248, 210), (1240, 1316, 420)):
        c.dash(x, y, long, 15, "#a9c3cf", 0.85)
    base, top = 1000.0, 520.0
    tower = [(lx - 92, base), (lx - 56, top), (lx + 56, top), (lx + 92, base)]
    c.poly(tower, "#f1e9d8")
    with c.clip(tower):
        for i, (y, h) in enumerate(((base - 118, 118), (base - 342, 112))):
            c.rect(lx - 120, y, 240, h, "#c2473a" if i < 2 else "#000000")
        c.poly([(lx + 14, top), (lx + 130, top), (lx + 130, base), (lx + 30, base)], "#1d2c55", 0.3)
    for y in (640, 830):
        c.blob([(lx - 14, y + 40), (lx - 14, y + 8), (lx, y - 8), (lx + 14, y + 8), (lx + 14, y + 40)], "#ffd98a")
    c.blob([(lx - 24, base), (lx - 24, base - 54), (lx, base - 80), (lx + 24, base - 54), (lx + 24, base)], "#4b2f2c")
    c.rect(lx - 84, top - 16, 168, 22, "#25304a")
    for x in range(-76, 84, 19):
        c.stroke([(lx + x, top - 16), (lx + x, top - 50)], "#25304a", 4)
    c.stroke([(lx - 80, top - 50), (lx + 80, top - 50)], "#25304a", 6)
    for r, alpha in ((150, 0.14), (96, 0.24)):
        c.oval(lx, ly, r, r, "#fff0b8", alpha)
    c.rect(lx - 44, top - 128, 88, 112, "#ffedb0")
    c.oval(lx, ly, 27, 32, "#fffdf2")
    for x in (-44, -15, 15, 44):
        c.stroke([(lx + x, top - 128), (lx + x, top - 16)], "#25304a", 5)
    c.blob([(lx - 62, top - 126), (lx - 40, top - 164), (lx, top - 192), (lx + 40, top - 164), (lx + 62, top - 126)], "#a93a32")
    c.oval(lx, top - 196, 9, 9, "#25304a")
    house(c, 1340, 1012, 150, 84, "#e9dfca", "#6a3a36", "#ffd98a", rows=1, lit=1.0)
    sailboat(c, 1985, 1196, 150, "#0f1b34", "#b9c9d6", "#9fb2c4")
    c.oval(1990, 1060, 6, 6, "#ffd98a")
    c.dash(1985, 1210, 190, 12, "#b9c9d6", 0.4)
    for x, y, span in ((1500, 640, 70), (930, 720, 90), (1590, 730, 52)):
        gull(c, x, y, span, "#dfe6ea", "#8fa2b5")
    return c.finished()


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
    limb([(-0.34, 0.42), (-0.5, 0.26), (-0.62, 0.17), (-0.7, 0.05)], dark, 0.15, 0.055)
    limb([(0.26, 0.4), (0.4, 0.28), (0.56, 0.24), (0.64, 0.16)], dark, 0.12, 0.055)
    limb([(-0.42, 0.56), (-0.6, 0.66), (-0.7, 0.82), (-0.64, 0.93)], coat, 0.1, 0.05)
    limb([(-0.66, 0.84), (-0.63, 0.95)], white, 0.075, 0.03)
    blob([(-0.47, 0.56), (-0.3, 0.64), (0, 0.615), (0.26, 0.66), (0.4, 0.6), (0.4, 0.42), (0.28, 0.32), (0, 0.36), (-0.26, 0.34), (-0.45, 0.4)], coat)
    blob([(0.1, 0.36), (0.3, 0.44), (0.42, 0.58), (0.44, 0.42), (0.3, 0.3)], white)
    blob([(-0.2, 0.63), (-0.02, 0.62), (0.08, 0.5), (-0.1, 0.43), (-0.24, 0.5)], dark)
    limb([(-0.32, 0.45), (-0.34, 0.26), (-0.46, 0.16), (-0.42, 0.03)], coat, 0.18, 0.06)
    limb([(-0.45, 0.1), (-0.42, 0.03)], white, 0.065, 0.06)
    limb([(0.3, 0.42), (0.46, 0.34), (0.52, 0.2), (0.68, 0.24)], coat, 0.14, 0.06)
    limb([(0.6, 0.22), (0.7, 0.25)], white, 0.066, 0.06)
    limb([(0.32, 0.55), (0.5, 0.74)], coat, 0.22, 0.17)
    blob([(0.38, 0.84), (0.5, 0.93), (0.63, 0.9), (0.7, 0.8), (0.85, 0.75), (0.87, 0.68), (0.78, 0.64), (0.62, 0.65), (0.46, 0.68)], coat)
    blob([(0.6, 0.9), (0.66, 0.84), (0.72, 0.78), (0.86, 0.74), (0.86, 0.68), (0.76, 0.65), (0.66, 0.7), (0.6, 0.78)], white)
    blob([(0.7, 0.665), (0.8, 0.655), (0.8, 0.56), (0.74, 0.54)], "#e0707a")
    c.oval(*p(0.865, 0.74), 0.035 * s, 0.03 * s, "#2b211e")
    c.oval(*p(0.615, 0.825), 0.022 * s, 0.026 * s, "#2b211e")
    c.oval(*p(0.621, 0.833), 0.007 * s, 0.007 * s, "#ffffff")
    blob([(0.42, 0.88), (0.34, 0.96), (0.16, 0.9), (0.1, 0.78), (0.24, 0.8), (0.4, 0.76), (0.48, 0.8)], dark)
    limb([(0.34, 0.66), (0.42, 0.59), (0.5, 0.58)], "#2f7f88", 0.05, 0.05)
    c.oval(*p(0.47, 0.55), 0.03 * s, 0.03 * s, "#f0c24e")


def sands(scale: float = 1.0) -> Image.Image:
    """A dog on a wide beach at low water."""
    c = Canvas(2400, 1600, 31, scale=scale)
    c.wash(0, 560, ["#7fbbd4", "#a9d3de", "#d5e8e1", "#f5ecd3"], 11, 9)
    for x, y, long in ((360, 160, 620), (1350, 110, 820), (2050, 240, 560), (840, 300, 520)):
        for _ in range(7):
            c.dash(x + c.between(-0.4, 0.4) * long, y + c.between(-30, 26), long * c.between(0.3, 0.7), c.between(22, 52), "#fffdf6", 0.62)
    c.land([(1500, 560), (1640, 470), (1800, 430), (1990, 380), (2200, 330), (2440, 300)], "#9fb0a4")
    cliff = c.land([(1720, 566), (1840, 500), (2000, 470), (2120, 400), (2290, 380), (2440, 340)], "#c8b08a")
    with c.clip(cliff):
        for i in range(24):
            x = 1780 + i * 28
            c.stroke([(x, 420 - i * 4), (x - 10, 600)], c.pick(["#b3966f", "#dcc7a0", "#a88a68"]), c.between(8, 20))
        c.blob([(1700, 540), (1850, 470), (2010, 440), (2130, 372), (2290, 352), (2460, 310), (2460, 390), (2300, 410), (2140, 430), (2010, 496), (1860, 530)], "#7f9a63")
    c.wash(556, 800, ["#3f8ba3", "#4f9fb0", "#76bcbf", "#a8d6cd"], 9, 5)
    for _ in range(60):
        y = c.between(575, 770)
        c.dash(c.between(0, 2400), y, c.between(60, 260), c.between(4, 9), c.pick(["#2f7690", "#cfeae3"]), 0.45)
    for y, tint in ((742, "#f3fbf6"), (778, "#fffdf6")):
        line = [(-30.0, y + 6.0)] + [(x, y + 9 * math.sin(x / 170 + y) + c.between(-3, 3)) for x in range(60, 2460, 110)]
        c.stroke(line, tint, 15)
    c.wash(786, 1600, ["#cdbb9d", "#dcc6a0", "#e8d2a8", "#ecd8b0", "#e6cd9d"], 11, 10)
    for i, (y, amp) in enumerate(((800, 12), (868, 18))):
        line = [(x, y + amp * math.sin(x / 210 + i) + c.between(-4, 4)) for x in range(-40, 2480, 120)]
        c.poly([*line, (2480, y - 90), (-40, y - 90)], ["#b9c9c0", "#fffdf6"][i], 0.0 if i else 0.35)
    for x, y, long in ((300, 900, 520), (1050, 868, 420), (1850, 930, 640), (700, 1010, 360)):
        c.dash(x, y, long, 26, "#b7cfd0", 0.75)
        c.dash(x + 30, y - 3, long * 0.6, 10, "#e9f2ea", 0.8)
    for _ in range(130):
        c.dash(c.between(0, 2400), c.between(960, 1600), c.between(30, 150), c.between(4, 10), c.pick(["#d2b78a", "#f6e7c6"]), 0.55)
    for i in range(15):
        x, y = 240 + i * 48, 1390 - i * 15 + (18 if i % 2 else 0)
        c.oval(x, y, 14, 8, "#c4a678", turn=-15)
        c.oval(x + 15, y - 8, 5, 4, "#c4a678")
    _dog(c, 1190, 1190, 510)
    c.oval(1775, 1095, 40, 40, "#d5473c")
    c.oval(1763, 1082, 13, 11, "#f08c78")
    c.dash(1790, 1190, 100, 14, "#8d7a6a", 0.4)
    for x, y in ((560, 1180), (600, 1150), (520, 1130), (700, 1210), (640, 1236)):
        c.oval(x, y, c.between(6, 13), c.between(5, 9), "#e9d6ae")
    kx, ky = 560.0, 260.0
    c.stroke([(kx, ky + 70), (kx + 40, ky + 300), (kx - 10, ky + 470), (kx - 60, 800)], "#6b6f75", 3)
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
    shells = ramp(["#fff6e6", "#e8a58c"], 4)
    for _ in range(26):
        x, y = c.between(60, 2340), c.between(1380, 1570)
        c.blob([(x - 12, y + 6), (x, y - 12), (x + 12, y + 6), (x, y + 10)], c.pick(shells))
    for x, y, span in ((1540, 380, 110), (1680, 300, 76), (980, 470, 84)):
        gull(c, x, y, span, "#fffdf6", "#39424d")
    return c.finished()


def sill(scale: float = 1.0) -> Image.Image:
    """A cat on a window sill, as small as a picture saved from a message."""
    c = Canvas(500, 380, 41, scale=scale)
    c.wash(0, 260, ["#8fb9c9", "#bcd6d6", "#e9e6d0"], 7, 3)
    c.land([(-5, 220), (120, 190), (260, 215), (505, 180)], "#7fa08a")
    bare_tree(c, 400, 262, 62, -0.1, 9, "#5b4636", 4)
    c.rect(0, 0, 500, 22, "#f3ead8")
    for x in (0, 236, 478):
        c.rect(x, 0, 24, 270, "#f3ead8")
    c.rect(0, 262, 500, 26, "#fbf4e6")
    c.rect(0, 286, 500, 96, "#b8674f")
    cat = "#d68b45"
    c.blob([(118, 266), (112, 200), (138, 150), (176, 150), (206, 200), (212, 266)], cat)
    c.stroke([(206, 258), (262, 268), (300, 300), (290, 330)], cat, 20, 12)
    c.oval(156, 128, 36, 31, cat)
    c.poly([(124, 116), (124, 76), (152, 104)], cat)
    c.poly([(188, 116), (190, 76), (162, 104)], cat)
    for y in (176, 200, 224):
        c.stroke([(182, y), (206, y + 5)], "#a65f2a", 6)
    c.blob([(140, 262), (136, 200), (156, 170), (174, 200), (172, 262)], "#fff0dc")
    c.oval(144, 126, 4, 5, "#2b211e")
    c.oval(168, 126, 4, 5, "#2b211e")
    c.oval(156, 139, 4, 3, "#c25a52")
    c.rect(330, 222, 56, 42, "#2f7f88")
    for x, y, tint in ((340, 196, "#c9556a"), (360, 184, "#f0b64e"), (378, 200, "#c9556a")):
        c.stroke([(358, 224), (x, y)], "#4f7a4f", 4)
        c.oval(x, y, 12, 11, tint)
    return c.finished()
