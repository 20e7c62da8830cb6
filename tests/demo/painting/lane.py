"""A lane in the snow: pale all over."""

from __future__ import annotations

import math

from painting.brush import Canvas, pts
from painting.figures import Person, bare_tree, gull, house
from PIL import Image


def _far(c: Canvas) -> None:
    """Sky, hills, firs and three houses."""
    c.wash(0, 820, ["#b7c8d8", "#cfd9e0", "#e3e3e2", "#f3e6da", "#f6dfce"], 12, 9)
    c.oval(1640, 560, 90, 90, "#fff4dc", 0.9)
    c.oval(1640, 560, 150, 150, "#fff4dc", 0.3)
    c.land(pts("-30,700 350,610 800,690 1300,600 1800,700 2430,590"), "#c3cdd8")
    c.land(pts("-30,780 500,730 1100,790 1700,730 2430,760"), "#d9dfe6")
    for i in range(26):
        x, y = 40 + i * 95 + c.between(-20, 20), 770 + c.between(-14, 20)
        h = c.between(46, 96)
        for k in range(3):
            c.poly(
                [
                    (x - h * (0.34 - 0.07 * k), y - k * h * 0.26),
                    (x + h * (0.34 - 0.07 * k), y - k * h * 0.26),
                    (x, y - h * 0.5 - k * h * 0.26),
                ],
                ["#7f95a3", "#8ba1ad", "#a9bac4"][k],
            )
    c.land(pts("-30,850 500,800 1100,840 1600,800 2430,830"), "#e9ecef")
    for x, wide, wall, high in (
        (470, 210, "#d8b48c", 170),
        (720, 170, "#c9826a", 150),
        (1760, 240, "#e6d3b3", 180),
    ):
        house(c, x, 905, wide, high, wall, "#8b5140", "#54697b", rows=2, snow="#fbfcfd", lit=0.75)
        c.blob([(x - 40, 918), (x + wide * 0.5, 892), (x + wide + 40, 918)], "#f4f6f8")
    for sx, sy in ((608, 690), (1925, 655)):
        for i in range(5):
            c.oval(
                sx + i * 14 + 6 * math.sin(i), sy - i * 28, 12 + i * 5, 10 + i * 3, "#f5f1ec", 0.7
            )


def _way(c: Canvas) -> None:
    """The lane between its walls, and the trees."""
    c.land(pts("-30,930 450,900 900,935 1250,905 1700,905 2430,925"), "#f2f4f6")
    path = pts(
        "1160,905 1240,905 1330,990 1270,1110 1420,1300 "
        "1900,1620 560,1620 900,1300 1050,1110 1130,990"
    )
    c.blob(path, "#dde4ec")
    c.stroke(pts("1185,915 1225,990 1110,1120 1010,1320 800,1620"), "#c3cfdb", 9, 34)
    c.stroke(pts("1205,915 1270,990 1190,1120 1200,1320 1330,1620"), "#c3cfdb", 9, 34)
    for side in (-1, 1):
        for i in range(15):
            t = i / 14
            x = 1200 + side * (110 + 760 * t**1.5) + (-60 * t)
            y = 930 + 520 * t**1.35
            w = 44 + 120 * t
            for _ in range(3):
                c.oval(
                    x + c.between(-0.4, 0.4) * w,
                    y + c.between(-0.1, 0.2) * w,
                    w * 0.5,
                    w * 0.3,
                    c.pick(["#8d8f95", "#a39f9c", "#7b8089"]),
                )
            c.oval(x, y - w * 0.24, w * 0.78, w * 0.24, "#ffffff")
    for x, y, length, width, lean in (
        (250, 1270, 300, 54, 0.1),
        (2120, 1250, 310, 56, -0.12),
        (1500, 990, 140, 22, 0.06),
        (960, 965, 110, 18, -0.05),
    ):
        bare_tree(
            c,
            x,
            y,
            length,
            lean,
            width,
            "#6b5a52" if length > 200 else "#85776f",
            6 if length > 200 else 5,
        )
        c.blob(
            [(x - width * 2, y + 20), (x, y - 16), (x + width * 2, y + 20), (x, y + 36)], "#ffffff"
        )
    c.land(pts("-30,1470 260,1430 560,1500 800,1620"), "#ffffff")
    c.blob(pts("1680,1640 1880,1520 2140,1440 2460,1400 2460,1660"), "#ffffff")


def _child(c: Canvas) -> None:
    """A child in a red scarf."""
    child = Person(c, 1236, 1250, 250, skin="#f0c3a0", hair="#6b3f2a", top="#27607a")
    child.limb([(-4, 40), (-5, 6)], "#41394a", 12, 10)
    child.limb([(4, 40), (6, 6)], "#37303f", 12, 10)
    child.dot(-6, 3, 7, 4, "#5c3a2c")
    child.dot(8, 3, 7, 4, "#5c3a2c")
    child.blob(pts("-8,80 8,80 15,72 18,34 0,30 -18,34 -15,72"), "#27607a")
    child.blob(pts("4,80 8,80 15,72 18,34 6,31 8,60"), "#1d4a61")
    child.limb([(12, 72), (20, 60), (24, 50)], "#1d4a61", 9, 8)
    child.limb([(-12, 72), (-20, 62), (-18, 48)], "#27607a", 9, 8)
    child.head("long")
    child.limb([(-9, 79), (0, 76), (9, 79)], "#cf3f36", 8, 8)
    child.limb([(6, 77), (12, 66), (10, 52)], "#cf3f36", 7, 8)
    child.blob(pts("-10,93 -8,101 0,106 8,101 10,93 0,96"), "#cf3f36")
    child.dot(0, 108, 4, 4, "#fff6e8")
    child.limb([(-18, 48), (-40, 26), (-56, 14)], "#6b5140", 1.4, 1.4)


def _sledge(c: Canvas) -> None:
    """The sledge it pulls, with a small fir on it."""
    sx, sy = 1030.0, 1240.0
    c.stroke([(sx - 80, sy + 16), (sx + 60, sy + 16), (sx + 84, sy - 6)], "#8b5a3a", 9)
    c.rect(sx - 74, sy - 20, 132, 14, "#b47a4b")
    for dx in (-54, 38):
        c.stroke([(sx + dx, sy - 8), (sx + dx, sy + 14)], "#8b5a3a", 8)
    for dx in (-50, -22, 6, 34):
        c.oval(sx + dx, sy - 34, 20, 17, "#587a5b")
    c.poly(
        [(sx - 70, sy - 20), (sx + 56, sy - 20), (sx + 20, sy - 66), (sx - 40, sy - 66)], "#476a4e"
    )


def lane(scale: float = 1.0) -> Image.Image:
    """A lane in the snow: pale all over, with one red scarf."""
    c = Canvas(2400, 1600, 51, scale=scale)
    _far(c)
    _way(c)
    _child(c)
    _sledge(c)
    for _ in range(230):
        r = c.between(3, 9)
        c.oval(c.between(0, 2400), c.between(0, 1600), r, r, "#ffffff", 0.9)
    for x, y, span in ((700, 330, 70), (790, 290, 52), (620, 280, 46)):
        gull(c, x, y, span, "#6c7781", "#4f5962")
    return c.finished()
