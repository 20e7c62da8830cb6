"""Repeats and whole faces of the demo designs, drawn in tenths of a millimetre."""

from __future__ import annotations

import math

import numpy as np
from painting.art import MADDER, NAVY, ROSE, SUN, TEAL, sheet, star
from painting.brush import Canvas, Point, mix, pts, smooth
from PIL import Image


def tossed_flags() -> Image.Image:
    """Repeat: little pennants and dots on nothing."""
    size = 360
    c = sheet(36, 36, 104)
    spots = [
        (60, 70, 12, MADDER),
        (190, 46, -20, TEAL),
        (300, 110, 24, SUN),
        (110, 190, -14, ROSE),
        (234, 200, 8, MADDER),
        (44, 300, 26, SUN),
        (170, 312, -8, TEAL),
        (306, 296, -28, ROSE),
    ]
    dots = [
        (124, 110, SUN),
        (250, 136, ROSE),
        (24, 176, TEAL),
        (176, 250, SUN),
        (310, 20, MADDER),
        (334, 214, TEAL),
        (106, 262, MADDER),
        (244, 330, SUN),
        (122, 20, ROSE),
    ]
    for ox in (-size, 0, size):
        for oy in (-size, 0, size):
            for x, y, turn, tint in spots:
                a = math.radians(turn)
                tri = [(-34, -26), (34, -26), (0, 42)]
                pts = [
                    (
                        x + ox + u * math.cos(a) - v * math.sin(a),
                        y + oy + u * math.sin(a) + v * math.cos(a),
                    )
                    for u, v in tri
                ]
                c.poly(pts, tint)
                c.poly(
                    [((pts[0][0] + pts[1][0]) / 2, (pts[0][1] + pts[1][1]) / 2), pts[1], pts[2]],
                    mix(tint, NAVY, 0.14),
                )
            for x, y, tint in dots:
                c.oval(x + ox, y + oy, 8, 8, tint)
    return c.finished()


def paper_stars() -> Image.Image:
    """Repeat: folded paper stars and confetti."""
    size = 542
    c = sheet(54.2, 54.2, 106)
    stars = [
        (90, 96, 74, "#f2b93b", 8),
        (300, 70, 46, "#f08a6b", -14),
        (458, 150, 66, "#fdf1d8", 20),
        (220, 228, 62, "#5cb3ad", -6),
        (60, 330, 50, "#e78ba0", 16),
        (376, 318, 78, "#f08a6b", 4),
        (186, 442, 72, "#fdf1d8", -18),
        (478, 470, 52, "#f2b93b", 12),
        (330, 496, 34, "#5cb3ad", -10),
    ]
    bits = [
        (190, 130, "#e78ba0"),
        (394, 60, "#5cb3ad"),
        (330, 180, "#f2b93b"),
        (120, 216, "#fdf1d8"),
        (500, 290, "#5cb3ad"),
        (270, 370, "#e78ba0"),
        (90, 430, "#f08a6b"),
        (420, 410, "#fdf1d8"),
        (30, 210, "#f08a6b"),
        (520, 40, "#f08a6b"),
        (20, 500, "#5cb3ad"),
        (246, 530, "#f2b93b"),
    ]
    for ox in (-size, 0, size):
        for oy in (-size, 0, size):
            for x, y, r, tint, turn in stars:
                star(c, x + ox, y + oy, r, tint, turn)
            for x, y, tint in bits:
                c.oval(x + ox, y + oy, 8, 8, tint)
    return c.finished()


# Twenty-four stitches across, read from the top: . ground, c cream, r red, g green, s sun. Firs
# (cut by the edge of the repeat) and birds end where the label begins; the band
# stands below it, and fifty rows are as high as a can's cover.
KNIT = """
........................
c...c...c...c...c...c...
.c.c.c.c.c.c.c.c.c.c.c.c
..c...c...c...c...c...c.
rrrrrrrrrrrrrrrrrrrrrrrr
........................
g.......................
gg............cc.......g
ggg..........c.cs.....gg
gg......c....ccc.......g
ggg.....cc.ccccc......gg
gggg.....ccccccc.....ggg
ggg.......cccccc......gg
gggg........ccc......ggg
ggggg........s......gggg
s............s..........
........................
........................
c.......................
cc..c...............c..c
c....c.............c....
c..c..c.....r.....c..c..
c.c........r.r........c.
cc...c....r.c.r....c...c
ccccccc..r.ccc.r..cccccc
cc...c....r.c.r....c...c
c.c........r.r........c.
c..c..c.....r.....c..c..
c....c.............c....
cc..c...............c..c
c.......................
........................
........................
cccccccccccccccccccccccc
.r...r...r...r...r...r..
rrr.rrr.rrr.rrr.rrr.rrr.
.r...r...r...r...r...r..
cccccccccccccccccccccccc
........................
s...s...s...s...s...s...
........................
c...c...c...c...c...c...
.c.c.c.c.c.c.c.c.c.c.c.c
..c...c...c...c...c...c.
rrrrrrrrrrrrrrrrrrrrrrrr
c.rrc.rrc.rrc.rrc.rrc.rr
rrrrrrrrrrrrrrrrrrrrrrrr
........................
........................
........................
"""


def jumper() -> Image.Image:
    """Repeat: a knitted jumper, stitch by stitch."""
    rows = KNIT.split()
    w, h = 22.6, 20.0
    c = sheet(len(rows[0]) * w / 10, len(rows) * h / 10, 109, clear=False)
    tints = {".": "#24495c", "c": "#f6ecd6", "r": "#b8402f", "g": "#6f9a78", "s": "#eab54a"}
    c.rect(-5, -5, c.width + 10, c.height + 10, "#1a3748")
    for j in range(-1, len(rows) + 1):
        for i, letter in enumerate(rows[j % len(rows)]):
            x, y = i * w, j * h
            tint = tints[letter]
            for side in (-1, 1):
                cx = x + w / 2
                c.poly(
                    [
                        (cx + side * 0.6, y + h * 1.28),
                        (cx + side * 0.6, y + h * 0.55),
                        (cx + side * (w / 2 - 0.8), y - h * 0.02),
                        (cx + side * (w / 2 - 0.8), y + h * 0.72),
                    ],
                    tint if side < 0 else mix(tint, "#10202c", 0.13),
                )
    return c.finished()


def _waves(c: Canvas, y: float, tint: str, late: int) -> None:
    """A row of waves, each with a light along its back; every other row begins half a wave late."""
    wave, line = 112, [(-40.0, y)]
    starts = np.arange(-60 + late * wave / 2, 1160, wave)
    for x in starts:
        for k in range(13):
            t = k / 12
            line.append((float(x) + wave * t, y - 26 * math.sin(math.pi * t) ** 1.3))
    c.poly([*line, (1180, 1120), (-40, 1120)], tint)
    light = mix(tint, "#ffffff", 0.5 if y < 700 else 0.34)
    for x in starts:
        c.stroke([(x + 18, y - 2), (x + wave / 2, y - 17), (x + wave - 18, y - 2)], light, 5)


def coaster() -> Image.Image:
    """A gull over the waves, made for a round coaster: covers it with its bleed."""
    c = sheet(110, 110, 111, clear=False)
    c.wash(0, 640, ["#8cc6d6", "#bfe0dc", "#f4ecce"], 8, 3)
    c.oval(550, 560, 205, 205, "#f6d98a")
    c.oval(550, 560, 150, 150, "#f2b93b")
    for i, (y, tint) in enumerate(
        (
            (560, "#5aa6b1"),
            (622, "#3f8c9d"),
            (690, "#2b7186"),
            (868, "#246680"),
            (930, "#1d5871"),
            (992, "#184c63"),
            (1054, "#143f54"),
        )
    ):
        _waves(c, y, tint, i % 2)
    c.rect(-5, 722, 1110, 118, "#fdf6e6")
    for y in (736, 820):
        c.rect(-5, y, 1110, 5, MADDER)
    white, shade, dark = "#fffdf6", "#c3d2d6", "#37424e"
    c.blob(pts("250,250 350,268 470,350 520,430 450,440 380,372 300,300"), white)
    c.poly(smooth(pts("250,250 300,246 338,272 300,296"), closed=True), dark)
    c.blob(pts("870,226 760,262 650,340 575,430 650,446 730,376 812,296"), shade)
    c.poly(smooth(pts("870,226 812,232 776,262 812,292"), closed=True), dark)
    c.blob(pts("400,520 470,446 560,412 650,396 690,420 672,456 600,506 510,538 430,548"), white)
    c.blob(pts("430,545 510,536 600,504 660,462 600,484 510,508"), shade)
    c.blob(pts("470,478 392,520 318,556 326,574 358,578 350,596 392,588 470,548"), white)
    c.stroke(pts("352,566 410,544 462,524"), shade, 4)
    c.oval(688, 404, 42, 36, white, turn=10)
    c.poly([(722, 396), (782, 416), (722, 424)], SUN)
    c.poly([(762, 409), (782, 416), (760, 419)], MADDER)
    c.oval(700, 398, 6, 7, dark)
    return c.finished()


def block_boat() -> Image.Image:
    """One ink only: a boat cut like a lino block, for coloured cloth. Clear stays bare cloth."""
    c = sheet(86, 58, 112)

    def cut(points: list[Point], width: float) -> None:
        """What the knife takes away again."""
        path = smooth(points)
        ring: list[Point] = []
        back: list[Point] = []
        for i, (x, y) in enumerate(path):
            ax, ay = path[max(i - 1, 0)]
            bx, by = path[min(i + 1, len(path) - 1)]
            d = math.hypot(bx - ax, by - ay) or 1
            half = width / 2 * math.sin(math.pi * (0.12 + 0.76 * i / (len(path) - 1)))
            ring.append((x - (by - ay) / d * half, y + (bx - ax) / d * half))
            back.append((x + (by - ay) / d * half, y - (bx - ax) / d * half))
        c.poly([*ring, *back[::-1]], NAVY, 0.0)

    c.oval(640, 150, 78, 78, NAVY)
    for i in range(7):
        cut([(560, 100 + i * 17), (640, 104 + i * 17), (720, 100 + i * 17)], 5)
    for i in range(16):
        a = math.radians(i * 22.5 + 11)
        c.stroke(
            [
                (640 + 96 * math.cos(a), 150 + 96 * math.sin(a)),
                (640 + 122 * math.cos(a), 150 + 122 * math.sin(a)),
            ],
            NAVY,
            10,
            4,
        )
    c.stroke([(400, 440), (400, 34)], NAVY, 12)
    c.poly([*smooth(pts("418,46 520,200 580,352 586,398 418,398")), (418, 46)], NAVY)
    c.poly(pts("384,70 384,392 226,392 300,240"), NAVY)
    for i in range(6):
        y = 150 + i * 44
        cut([(424, y + 16), (480 + i * 12, y + 4), (520 + i * 14, y + 18)], 9)
    for i in range(5):
        y = 190 + i * 42
        cut([(378, y + 10), (340 - i * 8, y + 2), (318 - i * 16, y + 12)], 9)
    c.poly([(400, 34), (340, 16), (400, 6)], NAVY)
    c.poly(
        smooth(
            pts("180,412 400,424 640,404 604,470 540,500 270,500 214,470"), closed=True, steps=6
        ),
        NAVY,
    )
    cut([(214, 436), (400, 446), (606, 430)], 9)
    cut([(240, 464), (400, 472), (580, 458)], 6)
    for row, (y, x0, x1) in enumerate(((520, 40, 820), (548, 10, 850), (574, 90, 770))):
        x = x0 + (row % 2) * 34
        while x < x1 - 60:
            c.stroke([(x, y), (x + 22, y - 13), (x + 44, y - 3), (x + 64, y - 11)], NAVY, 11, 4)
            x += 72
    for x, y, s in ((110, 170, 1.0), (190, 90, 0.7), (70, 300, 0.6), (770, 330, 0.8)):
        c.stroke([(x - 52 * s, y - 16 * s), (x - 24 * s, y - 26 * s), (x, y)], NAVY, 4 * s, 11 * s)
        c.stroke([(x + 54 * s, y - 20 * s), (x + 26 * s, y - 26 * s), (x, y)], NAVY, 4 * s, 11 * s)
    return c.finished()
