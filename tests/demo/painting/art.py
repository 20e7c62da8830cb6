"""Art of the demo designs: see-through pictures and repeats, drawn in tenths of a millimetre."""

from __future__ import annotations

import math

from PIL import Image

from painting.brush import Canvas, Point, mix, smooth

PPI = 300
NAVY, CREAM, MADDER, SUN, TEAL, ROSE = "#1d2f4f", "#fdf6e6", "#b23a2c", "#f2b93b", "#2b7a80", "#e2808c"


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
    for cx, cy, a in ((x + w - r, y + r, 270), (x + w - r, y + h - r, 0), (x + r, y + h - r, 90), (x + r, y + r, 180)):
        for i in range(13):
            b = math.radians(a + 90 * i / 12)
            ring.append((cx + r * math.cos(b), cy + r * math.sin(b)))
    return ring


def scallops(x: float, y: float, w: float, h: float, across: int, down: int, r: float) -> list[Point]:
    """A card whose edge is cut in little half rounds."""
    ring: list[Point] = []
    corners = [((x, y), (x + w, y), across), ((x + w, y), (x + w, y + h), down),
               ((x + w, y + h), (x, y + h), across), ((x, y + h), (x, y), down)]
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
        c.poly([(x, y), at(i), at(i + 1)], mix(tint, "#ffffff", 0.12) if i % 2 else mix(tint, "#20203a", 0.16))


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
                    c.oval(mx + dx * flag, ay + dy * flag, flag * 0.075, flag * 0.075, CREAM if tint != CREAM else MADDER)
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
    c.poly([(92, 24), (908, 24), (908, 214), (92, 214)], SUN)
    for y in (38, 194):
        c.rect(92, y, 816, 6, CREAM)
    return c.finished()


def tossed_flags() -> Image.Image:
    """Repeat: little pennants and dots on nothing."""
    size = 360
    c = sheet(36, 36, 104)
    spots = [(60, 70, 12, MADDER), (190, 46, -20, TEAL), (300, 110, 24, SUN), (110, 190, -14, ROSE),
             (234, 200, 8, MADDER), (44, 300, 26, SUN), (170, 312, -8, TEAL), (306, 296, -28, ROSE)]
    dots = [(124, 110, SUN), (250, 136, ROSE), (24, 176, TEAL), (176, 250, SUN), (310, 20, MADDER),
            (334, 214, TEAL), (106, 262, MADDER), (244, 330, SUN), (122, 20, ROSE)]
    for ox in (-size, 0, size):
        for oy in (-size, 0, size):
            for x, y, turn, tint in spots:
                a = math.radians(turn)
                tri = [(-34, -26), (34, -26), (0, 42)]
                pts = [(x + ox + u * math.cos(a) - v * math.sin(a), y + oy + u * math.sin(a) + v * math.cos(a)) for u, v in tri]
                c.poly(pts, tint)
                c.poly([((pts[0][0] + pts[1][0]) / 2, (pts[0][1] + pts[1][1]) / 2), pts[1], pts[2]], mix(tint, NAVY, 0.14))
            for x, y, tint in dots:
                c.oval(x + ox, y + oy, 8, 8, tint)
    return c.finished()


def card() -> Image.Image:
    """A cream card with a scalloped edge, for a few words on the back."""
    c = sheet(88, 50, 105)
    c.poly(scallops(24, 24, 832, 452, 20, 11, 17), MADDER)
    c.poly(rounded(30, 30, 820, 440, 12), CREAM)
    c.poly(rounded(46, 46, 788, 408, 8), TEAL)
    c.poly(rounded(50, 50, 780, 400, 6), CREAM)
    return c.finished()


def paper_stars() -> Image.Image:
    """Repeat: folded paper stars and confetti."""
    size = 542
    c = sheet(54.2, 54.2, 106)
    stars = [(90, 96, 74, "#f2b93b", 8), (300, 70, 46, "#f08a6b", -14), (458, 150, 66, "#fdf1d8", 20),
             (220, 228, 62, "#5cb3ad", -6), (60, 330, 50, "#e78ba0", 16), (376, 318, 78, "#f08a6b", 4),
             (186, 442, 72, "#fdf1d8", -18), (478, 470, 52, "#f2b93b", 12), (330, 496, 34, "#5cb3ad", -10)]
    bits = [(190, 130, "#e78ba0"), (394, 60, "#5cb3ad"), (330, 180, "#f2b93b"), (120, 216, "#fdf1d8"),
            (500, 290, "#5cb3ad"), (270, 370, "#e78ba0"), (90, 430, "#f08a6b"), (420, 410, "#fdf1d8"),
            (30, 210, "#f08a6b"), (520, 40, "#f08a6b"), (20, 500, "#5cb3ad"), (246, 530, "#f2b93b")]
    for ox in (-size, 0, size):
        for oy in (-size, 0, size):
            for x, y, r, tint, turn in stars:
                star(c, x + ox, y + oy, r, tint, turn)
            for x, y, tint in bits:
                c.oval(x + ox, y + oy, 8, 8, tint)
    return c.finished()


def star_badge() -> Image.Image:
    """A cream badge with a coral rim and a star on top."""
    c = sheet(86, 54, 107)
    ring = []
    for i in range(240):
        a = 2 * math.pi * i / 240
        out = 1 + 0.02 * math.cos(24 * a)
        ring.append((430 + 414 * out * math.copysign(abs(math.cos(a)) ** 0.72, math.cos(a)),
                     292 + 232 * out * math.copysign(abs(math.sin(a)) ** 0.72, math.sin(a))))
    c.poly(ring, "#f08a6b")
    for grow, tint in ((0.955, "#fdf6e6"), (0.915, "#22366b"), (0.905, "#fdf6e6")):
        c.poly([(430 + (x - 430) * grow, 292 + (y - 292) * (grow - (1 - grow) * 0.7)) for x, y in ring], tint)
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
                c.oval(x + r * 0.8 * math.cos(b), y + r * 0.8 * math.sin(b), r * 0.62, r * 0.62, tint)
            c.oval(x, y, r * 0.5, r * 0.5, "#fffaf0")
    return c.finished()


# Sixteen stitches across, read from the top: . ground, c cream, r red, g green, s sun
KNIT = """
................
c...c...c...c...
.c.c.c.c.c.c.c.c
..c...c...c...c.
................
rrrrrrrrrrrrrrrr
c.rrc.rrc.rrc.rr
................
.......g........
......ggg.......
.....ggggg.....c
......ggg.....c.
.....ggggg...c..
....ggggggg...c.
.....ggggg.....c
....ggggggg....c
...ggggggggg....
.......s........
................
cccccccccccccccc
.r...r...r...r..
rrr.rrr.rrr.rrr.
.r...r...r...r..
cccccccccccccccc
................
.......c........
..c...ccc...c...
...c...c...c....
....c..c..c.....
.c...c.c.c...c..
..c...ccc...c...
ccccccccccccccc.
..c...ccc...c...
.c...c.c.c...c..
....c..c..c.....
...c...c...c....
..c...ccc...c...
.......c........
................
s...s...s...s...
................
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
                c.poly([(cx + side * 0.6, y + h * 1.28), (cx + side * 0.6, y + h * 0.55),
                        (cx + side * (w / 2 - 0.8), y - h * 0.02), (cx + side * (w / 2 - 0.8), y + h * 0.72)],
                       tint if side < 0 else mix(tint, "#10202c", 0.13))
    return c.finished()


def woven_label() -> Image.Image:
    """A cloth label sewn on with four red stitches."""
    c = sheet(84, 34, 110)
    c.poly(rounded(12, 12, 816, 316, 10), "#e2d3b3")
    c.poly(rounded(12, 12, 816, 306, 10), "#fbf3e0")
    for y in (34, 288):
        c.rect(30, y, 780, 8, "#b8402f")
    for x, y, d in ((18, 18, 1), (822, 18, -1), (18, 312, -1), (822, 312, 1)):
        sx = 1 if x < 400 else -1
        sy = 1 if y < 170 else -1
        c.stroke([(x - 10 * sx, y - 10 * sy), (x + 22 * sx, y + 22 * sy)], "#b8402f", 9)
        c.stroke([(x + 22 * sx, y - 10 * sy), (x - 10 * sx, y + 22 * sy)], "#b8402f", 9)
    return c.finished()


def coaster() -> Image.Image:
    """A gull over the waves, made for a round coaster: covers it with its bleed."""
    c = sheet(110, 110, 111, clear=False)
    c.wash(0, 640, ["#8cc6d6", "#bfe0dc", "#f4ecce"], 8, 3)
    c.oval(550, 560, 205, 205, "#f6d98a")
    c.oval(550, 560, 150, 150, "#f2b93b")
    rows = [(560, "#5aa6b1"), (622, "#3f8c9d"), (690, "#2b7186"), (860, "#fdf6e6"), (872, "#1f5670")]
    for i, (y, tint) in enumerate(rows):
        wave = 112
        line: list[Point] = [(-40.0, float(y))]
        start = -60 + (i % 2) * wave / 2
        x = start
        while x < 1160:
            for k in range(13):
                t = k / 12
                line.append((x + wave * t, y - 26 * math.sin(math.pi * t) ** 1.3))
            x += wave
        c.poly([*line, (1180, 1120), (-40, 1120)], tint)
        if i < 3:
            x = start
            while x < 1160:
                c.stroke([(x + 18, y - 2), (x + wave / 2, y - 17), (x + wave - 18, y - 2)], mix(tint, "#ffffff", 0.5), 5)
                x += wave
    c.rect(-5, 722, 1110, 118, "#fdf6e6")
    for y in (736, 820):
        c.rect(-5, y, 1110, 5, MADDER)
    white, shade, dark = "#fffdf6", "#c3d2d6", "#37424e"
    c.blob([(250, 250), (350, 268), (470, 350), (520, 430), (450, 440), (380, 372), (300, 300)], white)
    c.poly(smooth([(250, 250), (300, 246), (338, 272), (300, 296)], closed=True), dark)
    c.blob([(870, 226), (760, 262), (650, 340), (575, 430), (650, 446), (730, 376), (812, 296)], shade)
    c.poly(smooth([(870, 226), (812, 232), (776, 262), (812, 292)], closed=True), dark)
    c.blob([(400, 520), (470, 446), (560, 412), (650, 396), (690, 420), (672, 456), (600, 506), (510, 538), (430, 548)], white)
    c.blob([(430, 545), (510, 536), (600, 504), (660, 462), (600, 484), (510, 508)], shade)
    c.poly([(330, 560), (440, 500), (452, 546), (352, 586)], white)
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
        c.stroke([(640 + 96 * math.cos(a), 150 + 96 * math.sin(a)), (640 + 122 * math.cos(a), 150 + 122 * math.sin(a))], NAVY, 10, 4)
    c.stroke([(400, 440), (400, 34)], NAVY, 12)
    c.poly(smooth([(418, 46), (520, 200), (580, 352), (586, 398), (418, 398)])+[(418, 46)], NAVY)
    c.poly([(384, 70), (384, 392), (226, 392), (300, 240)], NAVY)
    for i in range(6):
        y = 150 + i * 44
        cut([(424, y + 16), (480 + i * 12, y + 4), (520 + i * 14, y + 18)], 9)
    for i in range(5):
        y = 190 + i * 42
        cut([(378, y + 10), (340 - i * 8, y + 2), (318 - i * 16, y + 12)], 9)
    c.poly([(400, 34), (340, 16), (400, 6)], NAVY)
    c.poly(smooth([(180, 412), (400, 424), (640, 404), (604, 470), (540, 500), (270, 500), (214, 470)], closed=True, steps=6), NAVY)
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
