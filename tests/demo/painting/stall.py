"""A market stall full of small things: fruit and jars, or flowers."""

from __future__ import annotations

import math

from painting.brush import Canvas, mix, pts
from painting.figures import Person, bunting, house
from PIL import Image


def _bloom(c: Canvas, x: float, y: float, r: float, tint: str) -> None:
    """One cut flower seen from above."""
    turn = c.between(0, 1)
    for k in range(7):
        a = turn + k * 2 * math.pi / 7
        c.oval(
            x + r * 0.62 * math.cos(a),
            y + r * 0.58 * math.sin(a),
            r * 0.46,
            r * 0.34,
            mix(tint, "#40201c", 0.14 * (k % 2)),
            turn=math.degrees(a),
        )
    c.oval(x, y, r * 0.34, r * 0.32, mix(tint, "#7a4a1c", 0.62))


def _crate(
    c: Canvas,
    x: float,
    y: float,
    w: float,
    h: float,
    tints: list[str],
    r: float,
    leaf: bool,
    bloom: bool = False,
) -> None:
    """A crate heaped with fruit, or with flowers."""
    for row in range(4):
        count = int((w - row * r * 1.1) / (r * 1.7))
        for i in range(count):
            fx = x + w / 2 + (i - (count - 1) / 2) * r * 1.72 + c.between(-3, 3)
            fy = y - r * 0.3 - row * r * 1.16 + c.between(-3, 3)
            tint = c.pick(tints)
            if bloom:
                c.oval(fx, fy + r * 0.2, r * 1.05, r * 0.9, c.pick(["#5d8a4a", "#4d7740"]))
                _bloom(c, fx, fy, r * 1.06, tint)
                continue
            c.oval(fx, fy, r, r * 0.95, mix(tint, "#40201c", 0.22))
            c.oval(fx - r * 0.08, fy - r * 0.1, r * 0.88, r * 0.82, tint)
            c.oval(fx - r * 0.32, fy - r * 0.36, r * 0.22, r * 0.17, mix(tint, "#ffffff", 0.55))
            if leaf and c.rng.random() < 0.4:
                c.oval(fx + r * 0.1, fy - r * 0.85, r * 0.36, r * 0.15, "#5d8a4a", turn=-25)
    c.rect(x, y, w, h, "#b98552")
    for i in range(3):
        c.rect(x, y + i * h / 3, w, h / 3 - 5, ["#c9955f", "#bf8a55", "#b07b49"][i])
    c.rect(x, y, 16, h, "#9a6a3f")
    c.rect(x + w - 16, y, 16, h, "#9a6a3f")


def _card(c: Canvas, x: float, y: float) -> None:
    c.stroke([(x, y), (x, y + 66)], "#6b5140", 5)
    c.rect(x - 42, y - 44, 84, 54, "#2c3a3f")
    c.rect(x - 38, y - 40, 76, 46, "#34464b")
    for i, w in enumerate((44, 56, 30)):
        c.stroke([(x - w / 2, y - 30 + i * 13), (x + w / 2, y - 30 + i * 13)], "#f3ead8", 4)


def _square(c: Canvas) -> None:
    """The houses round the square and its stones."""
    c.wash(0, 1200, ["#c9dfe0", "#e9e6d2", "#f3dcbf"], 8, 6)
    for i in range(9):
        house(
            c,
            -60 + i * 285,
            1010,
            262,
            520 + 60 * (i % 3),
            mix(["#e3cdae", "#cf9f86", "#b9c0b0", "#dcb98a"][i % 4], "#e9e6d2", 0.35),
            "#8d6a5f",
            "#8fa3ad",
            rows=4,
        )
    c.wash(1000, 1600, ["#b7a58f", "#c8b59b", "#a7957f"], 8, 8)
    for row in range(9):
        for i in range(30):
            x = i * 86 + (43 if row % 2 else 0) - 20
            c.oval(x, 1290 + row * 42, 38, 15, mix("#b29f88", "#8d7c69", c.between(0, 0.7)))


def _shelves(c: Canvas) -> None:
    """Posts, the back wall, and jars on two shelves."""
    for x in (330.0, 2060.0):
        c.rect(x, 420, 26, 960, "#6b4b3a")
        c.rect(x + 17, 420, 9, 960, "#533828")
    c.rect(356, 560, 1704, 520, "#5d4438")
    c.rect(356, 560, 1704, 60, "#47332a")
    for shelf in (760, 905):
        c.rect(380, shelf, 1660, 14, "#8d6a4f")
        x = 400.0
        while x < 2010:
            w = c.between(34, 52)
            h = c.between(56, 104)
            if not 1030 < x + w / 2 < 1340:
                tint = c.pick(["#e0a33f", "#b5483c", "#7d8f4e", "#d9c68f", "#8e4a63", "#cf7a3b"])
                c.rect(x, shelf - h, w, h, mix(tint, "#ffffff", 0.1))
                c.rect(x + w * 0.72, shelf - h, w * 0.28, h, mix(tint, "#27202a", 0.25))
                c.rect(x - 2, shelf - h - 12, w + 4, 14, c.pick(["#f3ead8", "#b8423a", "#c9a24e"]))
                c.rect(x + 4, shelf - h * 0.62, w - 8, h * 0.3, "#fbf4e3")
                c.stroke([(x + 10, shelf - h * 0.5), (x + w - 10, shelf - h * 0.5)], "#6b5140", 3)
            x += w + c.between(7, 15)


def _keeper(c: Canvas, flowers: bool) -> None:
    """The person behind the counter."""
    keeper = Person(c, 1190, 1330, 672, skin="#c98f66", hair="#2d211d", top="#35607c")
    keeper.shirt()
    keeper.blob(pts("-7,72 7,72 9.6,60 9.6,40 -9.6,40 -9.6,60"), "#f3ead8")
    keeper.limb([(-6, 72), (-5, 80)], "#f3ead8", 2, 2)
    keeper.limb([(6, 72), (5, 80)], "#f3ead8", 2, 2)
    keeper.arm([(-10.5, 76), (-19, 64), (-25, 70)], 0.5)
    keeper.arm([(10.5, 76), (18, 64), (15, 54)], 0.5)
    keeper.head("short")
    keeper.blob(pts("-8,95 -7,101 0,104 7,101 8,95 0,97.5"), "#b8423a")
    keeper.blob(pts("-8.6,94.4 0,96.8 8.6,94.4 8.6,96.6 0,98.6 -8.6,96.6"), "#96322d")
    ax, ay = keeper.p(-25.5, 72)
    if flowers:
        for i in range(11):
            a = -math.pi / 2 + (i - 5) * 0.16
            fx, fy = ax + 90 * math.cos(a), ay + 110 * math.sin(a)
            c.stroke([(ax, ay + 20), (fx, fy)], "#5d8a4a", 5)
            c.oval(fx, fy, 19, 18, c.pick(["#e58a9a", "#f4c04d", "#f8efdc", "#c9556a"]))
    else:
        c.oval(ax, ay - 18, 31, 30, "#cf3f36")
        c.oval(ax - 10, ay - 28, 8, 7, "#f3a08f")
        c.oval(ax + 6, ay - 50, 13, 5, "#5d8a4a", turn=-30)


def _scales(c: Canvas) -> None:
    """The hanging scales."""
    sx = 1600.0
    c.stroke([(sx, 560), (sx, 700)], "#3b3f45", 6)
    c.oval(sx, 735, 52, 52, "#e9e3d3")
    c.oval(sx, 735, 42, 42, "#fffaf0")
    c.stroke([(sx, 735), (sx + 22, 712)], "#b8423a", 5)
    for side in (-1, 1):
        c.stroke([(sx, 790), (sx + side * 90, 880)], "#3b3f45", 4)
    c.blob([(sx - 108, 880), (sx + 108, 880), (sx + 60, 918), (sx - 60, 918)], "#c9c3b5")


def _counter(c: Canvas, flowers: bool) -> None:
    """The counter and its six crates."""
    c.poly(pts("250,1130 2150,1130 2240,1180 160,1180"), "#a9754a")
    c.rect(160, 1180, 2080, 250, "#8d5f3c")
    for i in range(27):
        c.rect(160 + i * 78, 1180, 6, 250, "#7a5032")
    fruit = [
        ["#cf3f36", "#d95a3d", "#b8342f"],
        ["#f09a36", "#f2ab4a", "#e88a2a"],
        ["#8fae4c", "#a3bf5e", "#7a9a3f"],
        ["#7a4a78", "#8e5a8a", "#663c66"],
        ["#f2cf52", "#e9c040", "#f6dc78"],
        ["#e58a72", "#eda08a", "#d9735c"],
    ]
    blooms = [
        ["#e58a9a", "#f2b4bd", "#d96b80"],
        ["#f4c04d", "#f8d67d", "#e9a93a"],
        ["#f8efdc", "#fff8ea", "#eaddc0"],
        ["#8a6aa8", "#a386bd", "#745492"],
        ["#d9523f", "#e57360", "#c23f31"],
        ["#7ba7c9", "#9cc0da", "#5f8db3"],
    ]
    for i in range(6):
        x = 236 + i * 328
        _crate(
            c,
            x,
            1090,
            292,
            96,
            (blooms if flowers else fruit)[i],
            [31, 30, 34, 20, 29, 32][i],
            leaf=i != 3,
            bloom=flowers,
        )
        _card(c, x + 228, 1030)


def _ground(c: Canvas, flowers: bool) -> None:
    """Crates and buckets in front."""
    low = [
        ["#d9523f", "#e57a4f"],
        ["#6d9450", "#83a862"],
        ["#e9b44c", "#d99f38"],
        ["#c26a8a", "#d98aa5"],
    ]
    for i, x in enumerate((210, 620, 1400, 1830)):
        _crate(
            c,
            x,
            1402,
            340,
            128,
            low[(i + 2 * flowers) % 4],
            [26, 34, 28, 23][i],
            leaf=i % 2 == 0,
            bloom=flowers,
        )
    for x, tint in ((1035, "#5f8db3"), (1165, "#c9c3b5"), (1295, "#5f8db3")):
        for _ in range(20):
            a = c.between(-1, 1)
            fx, fy = x + a * 68, 1342 - c.between(0, 120) * (1 - abs(a) * 0.5)
            c.stroke([(x, 1460), (fx, fy)], "#5d8a4a", 5)
            c.oval(fx, fy, 17, 16, c.pick(["#f4c04d", "#e58a9a", "#fffaf0", "#c9556a"]))
            c.oval(fx, fy, 6, 6, "#8d5f3c")
        c.poly([(x - 54, 1420), (x + 54, 1420), (x + 42, 1545), (x - 42, 1545)], tint)
        c.rect(x - 56, 1414, 112, 14, mix(tint, "#ffffff", 0.4))


def _awning(c: Canvas, red: str, cream: str) -> None:
    """The striped awning."""
    n = 16
    for i in range(n):
        a0, a1 = 250 + i * 1900 / n, 250 + (i + 1) * 1900 / n
        b0, b1 = 170 + i * 2060 / n, 170 + (i + 1) * 2060 / n
        tint = red if i % 2 == 0 else cream
        c.poly([(a0, 270), (a1, 270), (b1, 520), (b0, 520)], tint)
        c.rect(b0, 520, b1 - b0, 46, mix(tint, "#27202a", 0.14))
        c.oval((b0 + b1) / 2, 566, (b1 - b0) / 2, 34, mix(tint, "#27202a", 0.14))
    c.rect(244, 250, 1912, 26, "#6b4b3a")


def stall(scale: float = 1.0, *, flowers: bool = False) -> Image.Image:
    """A market stall, full of small things. The flowery one is the shop's sample."""
    c = Canvas(2400, 1600, 72 if flowers else 71, scale=scale)
    _square(c)
    red, cream = ("#2f7f6f", "#f8f0dd") if flowers else ("#c8473a", "#f8f0dd")
    _shelves(c)
    _keeper(c, flowers)
    _scales(c)
    _counter(c, flowers)
    _ground(c, flowers)
    _awning(c, red, cream)
    for i in range(12):
        x = 430 + i * 142
        if not 1040 < x < 1330:
            c.stroke([(x, 600), (x, 634)], "#3b2a22", 3)
            for k in range(4):
                c.oval(
                    x + (-8 if k % 2 else 8), 644 + k * 15, 13, 12, ["#f3ead8", "#e3d2b0"][k % 2]
                )
    bunting(c, -40, 60, 2450, 50, 120, 66, ["#f4c04d", "#f8efdc", "#2f7f88", "#e58a9a"])
    return c.finished()
