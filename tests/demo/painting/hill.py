"""Two people just married, on a hill."""

from __future__ import annotations

import math
from typing import Any

from painting.brush import Canvas, mix, pts
from painting.figures import Person, crown, gull, house
from PIL import Image

GOLD: dict[str, Any] = {
    "sky": ["#7fa3b5", "#b4bfb4", "#eccf9f", "#f6c189", "#f0a878"],
    "sun": "#fff2cf",
    "hills": ["#b7a58d", "#a3a274", "#8c9a5b", "#74884a", "#5b7440"],
    "grass": ["#3f5a35", "#8fa352", "#d7c36a"],
    "suit": "#2b3a52",
    "hair": ["#3a2721", "#a8623a"],
    "skin": ["#d9a27c", "#eec3a0"],
}
ROSE: dict[str, Any] = {
    "sky": ["#5d6a94", "#9a86ab", "#dba3a8", "#f4bfa4", "#f9d9b4"],
    "sun": "#fff3df",
    "hills": ["#9d8ba5", "#80849a", "#6a8289", "#56766f", "#44655a"],
    "grass": ["#2f4d46", "#6f937a", "#c9b68a"],
    "suit": "#5a4534",
    "hair": ["#1f1a1a", "#1f1a1a"],
    "skin": ["#8d5a3c", "#a86b45"],
}


def _sky(c: Canvas, tone: dict[str, Any], sx: float) -> None:
    """Evening sky with the sun at sx."""
    c.wash(0, 960, tone["sky"], 14, 10)
    for r, alpha in ((260, 0.14), (170, 0.2)):
        c.oval(sx, 640, r, r, tone["sun"], alpha)
    c.oval(sx, 640, 92, 92, tone["sun"])
    for x, y, long in ((500, 200, 720), (1500, 130, 640), (2050, 330, 520), (1000, 380, 460)):
        for _ in range(6):
            c.dash(
                x + c.between(-0.4, 0.4) * long,
                y + c.between(-26, 26),
                long * c.between(0.3, 0.8),
                c.between(16, 38),
                tone["sun"],
                0.42,
            )


def _country(c: Canvas, hills: list[str], vx: float) -> None:
    """Hills one behind the other, a village at vx."""
    c.land(pts("-30,760 400,660 900,740 1400,650 1900,730 2430,640"), hills[0])
    c.land(pts("-30,850 300,800 800,730 1300,830 1900,770 2430,820"), hills[1])
    c.rect(vx, 716, 34, 110, "#e6d6b8")
    c.poly([(vx - 4, 718), (vx + 17, 640), (vx + 38, 718)], "#6f6470")
    for i, w in enumerate((-130, -84, 44, 92, 146)):
        house(c, vx + w, 832, 40, 30, ["#f0e2c6", "#d9a58a"][i % 2], "#8b5140", "#8a7a66", rows=1)
    for i in range(30):
        x = vx - 240 + i * 19 + c.between(-8, 8)
        c.oval(x, 838 + c.between(-3, 6), 17, 13, mix(hills[2], "#26382c", c.between(0.1, 0.5)))
    c.land(pts("-30,850 500,900 1000,850 1600,900 2430,840"), hills[2])
    near = c.land(pts("-30,1130 500,1040 1200,985 1900,1050 2430,1150"), hills[3])
    with c.clip(near):
        c.land(pts("-30,1330 700,1230 1500,1270 2430,1380"), mix(hills[3], hills[4], 0.5))
        c.land([(-30, 1480), (900, 1400), (2430, 1500)], hills[4])


def _tree(c: Canvas, tone: dict[str, Any], hills: list[str], tx: float) -> None:
    """The one tree."""
    c.stroke([(tx, 1090), (tx + 6, 900), (tx - 8, 700)], "#5b4636", 54, 34)
    c.stroke([(tx, 860), (tx - 90, 740), (tx - 140, 690)], "#5b4636", 26, 14)
    c.stroke([(tx, 840), (tx + 80, 730), (tx + 130, 680)], "#5b4636", 24, 14)
    crown(
        c,
        tx,
        600,
        290,
        [
            mix(hills[4], "#1d2a24", 0.4),
            hills[4],
            hills[3],
            hills[2],
            mix(hills[2], tone["sun"], 0.35),
        ],
        120,
    )
    for r in range(3):
        c.dash(tx + 60, 1096, 420 - r * 90, 34 - r * 8, mix(hills[4], "#1d2a24", 0.3), 0.35)


def _couple(c: Canvas, tone: dict[str, Any], ground: str) -> None:
    """The two."""
    groom = Person(c, 1110, 1200, 560, skin=tone["skin"][0], hair=tone["hair"][0], top=tone["suit"])
    bride = Person(c, 1262, 1204, 520, skin=tone["skin"][1], hair=tone["hair"][1], top="#fdf6e8")
    c.dash(1200, 1214, 520, 34, mix(ground, "#1d2a24", 0.4), 0.5)
    groom.trousers(mix(tone["suit"], "#000000", 0.1), "#2b211e")
    groom.shirt()
    groom.blob([(-3.4, 81), (3.4, 81), (0, 62)], "#fff8ea")
    groom.limb([(0, 78), (0, 66)], "#b8423a", 2, 2.6)
    groom.dot(-6.4, 70, 1.8, 1.8, "#f4c04d")
    groom.arm([(-10.5, 76), (-15, 62), (-12, 48)], 1)
    groom.arm([(10.5, 76), (15.5, 64), (15, 53)], 1)
    groom.head("short")
    bride.blob(pts("3,79 14,76 18,40 40,4 58,-1 34,-3 10,3"), "#fbf0dc", 0.9)
    bride.dress(0, 23)
    for dx, up in ((-13.0, 16.0), (-4, 9), (8, 18), (14, 8), (2, 30), (-8, 36), (-17, 5), (19, 3)):
        bride.dot(dx, up, 1.5, 1.5, "#eadfc6")
    bride.arm([(-8.6, 76), (-14, 64), (-12, 56)], 0.0)
    bride.arm([(8.6, 76), (14, 63), (8, 55)], 0.0)
    bride.blob(pts("-6,95 0,101 9,97 15,78 24,40 15,45 9,72"), "#fffaf0", 0.85)
    bride.head("bun")
    for i, tint in enumerate(
        ["#d9523f", "#f4c04d", "#fffaf0", "#e58a9a", "#f4c04d", "#d9523f", "#fffaf0"]
    ):
        a = i / 7 * 2 * math.pi
        bride.dot(-1 + 4.2 * math.cos(a), 53 + 4.2 * math.sin(a), 2.7, 2.7, tint)
    bride.dot(-1, 53, 2.8, 2.8, "#e58a9a")
    for dx, up, tint in ((-4.0, 100.0, "#e58a9a"), (0, 101.4, "#f4c04d"), (4, 100, "#fffaf0")):
        bride.dot(dx, up, 1.9, 1.9, tint)


def _meadow(c: Canvas, grass: list[str]) -> None:
    """Grass and flowers in front."""
    petals = ["#fff8ea", "#f4c04d", "#e0705a", "#e9a1ac", "#fff8ea"]
    for _ in range(210):
        share = c.between(0, 1) ** 0.8
        x, y = c.between(0, 2400), 1120 + 500 * share
        if 1000 < x < 1430 and y < 1150:
            continue
        h = 22 + 84 * share
        lean = c.between(-0.3, 0.3) * h
        c.stroke(
            [(x, y), (x + lean * 0.4, y - h * 0.6), (x + lean, y - h)],
            c.pick(grass),
            4 + 5 * share,
            2,
        )
        if c.rng.random() < 0.5:
            r = 6 + 12 * share
            tint = c.pick(petals)
            for k in range(5):
                a = k * 2 * math.pi / 5 + lean
                c.oval(
                    x + lean + r * 0.8 * math.cos(a),
                    y - h + r * 0.8 * math.sin(a),
                    r * 0.62,
                    r * 0.62,
                    tint,
                )
            c.oval(x + lean, y - h, r * 0.46, r * 0.46, "#b5743a")


def hill(scale: float = 1.0, *, rose: bool = False) -> Image.Image:
    """Two people just married, on a hill. The rose one is the shop's sample."""
    tone = ROSE if rose else GOLD
    c = Canvas(2400, 1600, 82 if rose else 81, scale=scale)
    _sky(c, tone, 700.0 if rose else 1700.0)
    hills = tone["hills"]
    _country(c, hills, 2140.0 if rose else 210.0)
    _tree(c, tone, hills, 1820.0 if rose else 620.0)
    # Above the place where the design lays its label.
    with c.smaller(0.8, (1185, 740)):
        _couple(c, tone, hills[4])
    _meadow(c, tone["grass"])
    for i in range(7):
        gull(
            c,
            1330 + i * 74 + 20 * math.sin(i * 2),
            420 - i * 22 + 26 * (i % 2),
            44,
            "#4f5962",
            "#4f5962",
        )
    return c.finished()
