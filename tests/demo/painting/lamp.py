"""The lighthouse at night: dark all over, with one bright lamp."""

from __future__ import annotations

from painting.brush import Canvas, pts
from painting.figures import gull, house, sailboat
from PIL import Image


def _night(c: Canvas, horizon: float) -> None:
    """Sky, stars, moon and sea."""
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


def _beams(c: Canvas, lx: float, ly: float) -> None:
    """Light to both sides."""
    for up, down, far, alpha in (
        (-150, 130, -100, 0.17),
        (-92, 78, -100, 0.2),
        (-150, 130, 2500, 0.17),
        (-92, 78, 2500, 0.2),
    ):
        c.poly(
            [(lx, ly - 8), (far, ly + up + 40), (far, ly + down + 40), (lx, ly + 8)],
            "#ffe9ad",
            alpha,
        )


def _glitter(c: Canvas, horizon: float) -> None:
    """What the water gives back, and the far shore."""
    for _ in range(120):
        y = horizon + 10 + 550 * c.between(0, 1) ** 1.4
        near = (y - horizon) / 560
        c.dash(
            c.between(0, 2400),
            y,
            60 + 240 * near,
            4 + 12 * near,
            c.pick(["#6d8ca6", "#0f1b34", "#0f1b34"]),
            0.35,
        )
    for i in range(30):
        near = i / 30
        c.dash(
            420 + c.between(-1, 1) * (20 + 70 * near),
            horizon + 8 + 480 * near,
            60 + 90 * near,
            4 + 9 * near,
            "#fbeecb",
            0.6,
        )
    c.blob(pts("1700,1046 1840,1012 2020,962 2240,948 2460,980 2460,1054"), "#20304f")
    for x, y in ((2060, 1010), (2110, 1022), (2205, 1000)):
        c.oval(x, y, 6, 6, "#ffd98a")


def _rock(c: Canvas) -> None:
    """The island."""
    rock = pts(
        "820,1235 900,1130 985,1085 1060,1010 1180,985 1330,992 "
        "1450,1030 1540,1090 1650,1130 1740,1230 1500,1275 1200,1290 980,1270"
    )
    c.blob(rock, "#2b3346")
    with c.clip(rock):
        for x, y, w, tint in (
            (1000, 1110, 190, "#465167"),
            (1250, 1030, 220, "#4f5c70"),
            (1450, 1120, 190, "#3c475e"),
            (1140, 1180, 260, "#39445b"),
            (1600, 1180, 160, "#465167"),
            (1330, 1210, 220, "#1f2638"),
        ):
            c.blob(
                [
                    (x - w / 2, y + 30),
                    (x - w / 4, y - 26),
                    (x + w / 5, y - 34),
                    (x + w / 2, y + 6),
                    (x + w / 4, y + 40),
                ],
                tint,
            )
        c.dash(1200, 992, 420, 26, "#5d7458", 1)
    for x, y, long in (
        (860, 1250, 190),
        (1080, 1290, 300),
        (1400, 1290, 330),
        (1690, 1248, 210),
        (1240, 1316, 420),
    ):
        c.dash(x, y, long, 15, "#a9c3cf", 0.85)


def _tower(c: Canvas, lx: float, ly: float) -> None:
    """The lighthouse itself."""
    base, top = 1000.0, 520.0
    tower = [(lx - 92, base), (lx - 56, top), (lx + 56, top), (lx + 92, base)]
    c.poly(tower, "#f1e9d8")
    with c.clip(tower):
        for i, (y, h) in enumerate(((base - 118, 118), (base - 342, 112))):
            c.rect(lx - 120, y, 240, h, "#c2473a" if i < 2 else "#000000")
        c.poly([(lx + 14, top), (lx + 130, top), (lx + 130, base), (lx + 30, base)], "#1d2c55", 0.3)
    for y in (640, 830):
        c.blob(
            [(lx - 14, y + 40), (lx - 14, y + 8), (lx, y - 8), (lx + 14, y + 8), (lx + 14, y + 40)],
            "#ffd98a",
        )
    c.blob(
        [
            (lx - 24, base),
            (lx - 24, base - 54),
            (lx, base - 80),
            (lx + 24, base - 54),
            (lx + 24, base),
        ],
        "#4b2f2c",
    )
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
    c.blob(
        [
            (lx - 62, top - 126),
            (lx - 40, top - 164),
            (lx, top - 192),
            (lx + 40, top - 164),
            (lx + 62, top - 126),
        ],
        "#a93a32",
    )
    c.oval(lx, top - 196, 9, 9, "#25304a")


def lamp(scale: float = 1.0) -> Image.Image:
    """The lighthouse at night: dark all over, with one bright lamp."""
    c = Canvas(2400, 1600, 21, scale=scale)
    horizon = 1040.0
    _night(c, horizon)
    lx, ly = 1230.0, 440.0
    _beams(c, lx, ly)
    _glitter(c, horizon)
    _rock(c)
    _tower(c, lx, ly)
    house(c, 1340, 1012, 150, 84, "#e9dfca", "#6a3a36", "#ffd98a", rows=1, lit=1.0)
    sailboat(c, 1985, 1196, 150, "#0f1b34", "#b9c9d6", "#9fb2c4")
    c.oval(1990, 1060, 6, 6, "#ffd98a")
    c.dash(1985, 1210, 190, 12, "#b9c9d6", 0.4)
    for x, y, span in ((1500, 640, 70), (930, 720, 90), (1590, 730, 52)):
        gull(c, x, y, span, "#dfe6ea", "#8fa2b5")
    return c.finished()
