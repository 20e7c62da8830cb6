"""Scenes on land: the snowy lane, the family, the stall, the two on the hill."""

from __future__ import annotations

import math

from PIL import Image

from painting.brush import Canvas, mix
from painting.figures import Person, bare_tree, crown, gull, house


def lane(scale: float = 1.0) -> Image.Image:
    """A lane in the snow: pale all over, with one red scarf."""
    c = Canvas(2400, 1600, 51, scale=scale)
    c.wash(0, 820, ["#b7c8d8", "#cfd9e0", "#e3e3e2", "#f3e6da", "#f6dfce"], 12, 9)
    c.oval(1640, 560, 90, 90, "#fff4dc", 0.9)
    c.oval(1640, 560, 150, 150, "#fff4dc", 0.3)
    c.land([(-30, 700), (350, 610), (800, 690), (1300, 600), (1800, 700), (2430, 590)], "#c3cdd8")
    c.land([(-30, 780), (500, 730), (1100, 790), (1700, 730), (2430, 760)], "#d9dfe6")
    for i in range(26):
        x, y = 40 + i * 95 + c.between(-20, 20), 770 + c.between(-14, 20)
        h = c.between(46, 96)
        for k in range(3):
            c.poly([(x - h * (0.34 - 0.07 * k), y - k * h * 0.26), (x + h * (0.34 - 0.07 * k), y - k * h * 0.26),
                    (x, y - h * 0.5 - k * h * 0.26)], ["#7f95a3", "#8ba1ad", "#a9bac4"][k])
    c.land([(-30, 850), (500, 800), (1100, 840), (1600, 800), (2430, 830)], "#e9ecef")
    for x, wide, wall, high in ((470, 210, "#d8b48c", 170), (720, 170, "#c9826a", 150), (1760, 240, "#e6d3b3", 180)):
        house(c, x, 905, wide, high, wall, "#8b5140", "#54697b", rows=2, snow="#fbfcfd", lit=0.75)
        c.blob([(x - 40, 918), (x + wide * 0.5, 892), (x + wide + 40, 918)], "#f4f6f8")
    for sx, sy in ((608, 690), (1925, 655)):
        for i in range(5):
            c.oval(sx + i * 14 + 6 * math.sin(i), sy - i * 28, 12 + i * 5, 10 + i * 3, "#f5f1ec", 0.7)
    c.land([(-30, 930), (450, 900), (900, 935), (1250, 905), (1700, 905), (2430, 925)], "#f2f4f6")
    path = [(1160, 905), (1240, 905), (1330, 990), (1270, 1110), (1420, 1300), (1900, 1620), (560, 1620), (900, 1300), (1050, 1110), (1130, 990)]
    c.blob(path, "#dde4ec")
    c.stroke([(1185, 915), (1225, 990), (1110, 1120), (1010, 1320), (800, 1620)], "#c3cfdb", 9, 34)
    c.stroke([(1205, 915), (1270, 990), (1190, 1120), (1200, 1320), (1330, 1620)], "#c3cfdb", 9, 34)
    for side in (-1, 1):
        for i in range(15):
            t = i / 14
            x = 1200 + side * (110 + 760 * t**1.5) + (-60 * t)
            y = 930 + 520 * t**1.35
            w = 44 + 120 * t
            for _ in range(3):
                c.oval(x + c.between(-0.4, 0.4) * w, y + c.between(-0.1, 0.2) * w, w * 0.5, w * 0.3, c.pick(["#8d8f95", "#a39f9c", "#7b8089"]))
            c.oval(x, y - w * 0.24, w * 0.78, w * 0.24, "#ffffff")
    for x, y, length, width, lean in ((250, 1270, 300, 54, 0.1), (2120, 1250, 310, 56, -0.12), (1500, 990, 140, 22, 0.06), (960, 965, 110, 18, -0.05)):
        bare_tree(c, x, y, length, lean, width, "#6b5a52" if length > 200 else "#85776f", 6 if length > 200 else 5)
        c.blob([(x - width * 2, y + 20), (x, y - 16), (x + width * 2, y + 20), (x, y + 36)], "#ffffff")
    c.land([(-30, 1470), (260, 1430), (560, 1500), (800, 1620)], "#ffffff")
    c.blob([(1680, 1640), (1880, 1520), (2140, 1440), (2460, 1400), (2460, 1660)], "#ffffff")
    child = Person(c, 1236, 1250, 250, skin="#f0c3a0", hair="#6b3f2a", top="#27607a")
    child.limb([(-4, 40), (-5, 6)], "#41394a", 12, 10)
    child.limb([(4, 40), (6, 6)], "#37303f", 12, 10)
    child.dot(-6, 3, 7, 4, "#5c3a2c")
    child.dot(8, 3, 7, 4, "#5c3a2c")
    child.blob([(-8, 80), (8, 80), (15, 72), (18, 34), (0, 30), (-18, 34), (-15, 72)], "#27607a")
    child.blob([(4, 80), (8, 80), (15, 72), (18, 34), (6, 31), (8, 60)], "#1d4a61")
    child.limb([(12, 72), (20, 60), (24, 50)], "#1d4a61", 9, 8)
    child.limb([(-12, 72), (-20, 62), (-18, 48)], "#27607a", 9, 8)
    child.head("long")
    child.limb([(-9, 79), (0, 76), (9, 79)], "#cf3f36", 8, 8)
    child.limb([(6, 77), (12, 66), (10, 52)], "#cf3f36", 7, 8)
    child.blob([(-10, 93), (-8, 101), (0, 106), (8, 101), (10, 93), (0, 96)], "#cf3f36")
    child.dot(0, 108, 4, 4, "#fff6e8")
    child.limb([(-18, 48), (-40, 26), (-56, 14)], "#6b5140", 1.4, 1.4)
    sx, sy = 1030.0, 1240.0
    c.stroke([(sx - 80, sy + 16), (sx + 60, sy + 16), (sx + 84, sy - 6)], "#8b5a3a", 9)
    c.rect(sx - 74, sy - 20, 132, 14, "#b47a4b")
    for dx in (-54, 38):
        c.stroke([(sx + dx, sy - 8), (sx + dx, sy + 14)], "#8b5a3a", 8)
    for dx in (-50, -22, 6, 34):
        c.oval(sx + dx, sy - 34, 20, 17, "#587a5b")
    c.poly([(sx - 70, sy - 20), (sx + 56, sy - 20), (sx + 20, sy - 66), (sx - 40, sy - 66)], "#476a4e")
    for _ in range(230):
        r = c.between(3, 9)
        c.oval(c.between(0, 2400), c.between(0, 1600), r, r, "#ffffff", 0.9)
    for x, y, span in ((700, 330, 70), (790, 290, 52), (620, 280, 46)):
        gull(c, x, y, span, "#6c7781", "#4f5962")
    return c.finished()


def _bunting(c: Canvas, x0: float, y0: float, x1: float, y1: float, sag: float, flag: float, tints: list[str]) -> None:
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


PARTY = {
    "sky": ["#9fd0d8", "#c6e2d6", "#f3ecc9"], "hedge": ["#3f6d4c", "#55855a", "#79a263", "#a3bf74"],
    "lawn": ["#8fb36a", "#a9c477", "#bccf85"],
    "flags": ["#d9523f", "#f4c04d", "#f8efdc", "#2f7f88", "#e58a9a"],
    "tops": ["#b0566f", "#33637f", "#f0b64e", "#d9523f", "#4d8a6a"],
}
DUSK = {
    "sky": ["#6a6b9b", "#b58aa5", "#f2b98f"], "hedge": ["#28433f", "#3a5b4c", "#55745a", "#7d8a61"],
    "lawn": ["#61804f", "#7a935a", "#8f9f63"],
    "flags": ["#f4c04d", "#e0705a", "#fbe9c6", "#7ab0a8", "#c96f93"],
    "tops": ["#e8a23d", "#7a4d7f", "#d9523f", "#f6efe0", "#2f7f88"],
}


def family(scale: float = 1.0, *, dusk: bool = False) -> Image.Image:
    """A family under bunting, upright. The dusk one is the shop's sample, with other people."""
    tone = DUSK if dusk else PARTY
    c = Canvas(1800, 2400, 62 if dusk else 61, scale=scale)
    c.wash(0, 1240, tone["sky"], 11, 9)
    for x, y, r in ((120, 800, 330), (1640, 760, 380), (1180, 900, 250), (560, 930, 230)):
        c.stroke([(x, y), (x, y + 500)], "#5b4636", r * 0.16)
        crown(c, x, y, r, tone["hedge"], 220)
    c.rect(-10, 1230, 1820, 140, tone["hedge"][0])
    for i in range(20):
        crown(c, i * 96, 1290 + 16 * math.sin(i), 130, tone["hedge"], 44)
    c.wash(1350, 2400, tone["lawn"], 8, 10)
    for _ in range(150):
        x, y = c.between(0, 1800), 1380 + 1000 * c.between(0, 1)
        c.stroke([(x, y), (x + c.between(-8, 8), y - c.between(14, 34))], c.pick(["#5f8a4e", "#d3dd9a"]), 5, 2)
    flags = tone["flags"]
    _bunting(c, -60, 400, 1870, 470, 210, 104, flags)
    skins = ["#8d5a3c", "#e5b48c", "#c68a5e", "#a86b45", "#d39a6c"] if dusk else ["#f0c3a0", "#e2a982", "#efc6a4", "#e8b48e", "#f3cdb0"]
    tops = tone["tops"]
    c.dash(900, 2085, 1500, 90, "#4c6b45", 0.4)
    granny = Person(c, 410, 2040, 930, skin=skins[0], hair="#e4e0da", top=tops[0])
    granny.legs()
    granny.dress(22, 18)
    granny.arm([(-9, 76), (-15, 62), (-7, 54)], 0.62)
    granny.arm([(9, 76), (16, 60), (14, 46)], 0.62)
    granny.head("bun")
    father = Person(c, 1130, 2050, 1120, skin=skins[1], hair="#3d2a22", top=tops[1])
    father.trousers("#5c5a57" if not dusk else "#c9b594")
    father.shirt()
    father.arm([(-10.5, 76), (-18, 66), (-24, 58)], 0.5)
    father.head("beard")
    mother = Person(c, 760, 2050, 1030, skin=skins[2], hair="#1f1a1a" if dusk else "#8a4b2c", top=tops[2])
    mother.legs("#2f4858")
    mother.dress(20, 19)
    for i in range(9):
        mother.dot(c.between(-11, 11), c.between(26, 58), 1.2, 1.2, "#fff6e3", 0.9)
    mother.arm([(9, 76), (17, 64), (24, 57)], 0.4)
    mother.arm([(-9, 76), (-16, 62), (-20, 50)], 0.4)
    mother.head("afro" if dusk else "long")
    girl = Person(c, 1460, 2070, 740, skin=skins[3], hair="#2b1d18" if dusk else "#b5652f", top=tops[3])
    girl.legs("#f8efdc")
    girl.dress(26, 20)
    girl.arm([(-9, 76), (-19, 84), (-22, 98)], 0.4)
    girl.arm([(9, 76), (18, 66), (16, 52)], 0.4)
    girl.head("tails")
    hx, hy = girl.p(-22, 100)
    c.stroke([(hx, hy), (hx - 20, hy - 160), (hx - 4, hy - 300)], "#6b4b3a", 4)
    c.oval(hx - 4, hy - 400, 92, 112, flags[0])
    c.oval(hx - 36, hy - 444, 22, 32, "#ffffff", 0.4)
    c.poly([(hx - 20, hy - 276), (hx + 12, hy - 276), (hx - 4, hy - 296)], flags[0])
    boy = Person(c, 585, 2130, 600, skin=skins[4], hair="#3d2a22" if dusk else "#d9a45a", top=tops[4])
    boy.trousers("#2f4858")
    boy.shirt()
    for y in (54, 61, 68):
        boy.limb([(-9.4, y), (9.4, y)], "#f8efdc", 2.4, 2.4)
    boy.arm([(-11, 76), (-19, 66), (-16, 54)], 0.5)
    boy.arm([(11, 76), (20, 70), (22, 82)], 0.5)
    boy.head("short")
    c.poly([(585 - 52, 1545), (585 + 52, 1545), (585 + 4, 1400)], flags[1])
    c.oval(589, 1396, 15, 15, flags[2])
    c.poly([(920, 1900), (1420, 1900), (1470, 2230), (870, 2230)], "#fbf4e3")
    for i in range(9):
        c.poly([(930 + i * 56, 1900), (958 + i * 56, 1900), (948 + i * 62, 2230), (916 + i * 62, 2230)], mix(flags[3], "#fbf4e3", 0.45))
    c.oval(1170, 1900, 262, 36, "#fffaf0")
    c.rect(1045, 1720, 250, 165, "#f3d6b8")
    c.oval(1170, 1886, 125, 22, "#e2bd98")
    c.oval(1170, 1720, 125, 24, "#fff6e8")
    drip = [(1045, 1716)] + [(1045 + i * 25, 1776 + (26 if i % 2 else -4)) for i in range(1, 10)] + [(1295, 1716)]
    c.blob(drip, "#fff6e8")
    for i in range(5):
        x = 1090 + i * 40
        c.rect(x - 5, 1640, 10, 78, flags[i % 5])
        c.blob([(x, 1600), (x + 9, 1626), (x, 1640), (x - 9, 1626)], "#ffd24d")
    for x, tint in ((970, flags[0]), (1365, flags[3])):
        c.poly([(x - 28, 1815), (x + 28, 1815), (x + 21, 1892), (x - 21, 1892)], tint)
        c.oval(x, 1815, 28, 7, mix(tint, "#ffffff", 0.5))
    for _ in range(150):
        x, y = c.between(0, 1800), c.between(2150, 2400)
        c.oval(x, y, 9, 8, c.pick(["#fff8e6", "#f4c04d", "#e58a9a"]))
    return c.finished()


def _bloom(c: Canvas, x: float, y: float, r: float, tint: str) -> None:
    """One cut flower seen from above."""
    turn = c.between(0, 1)
    for k in range(7):
        a = turn + k * 2 * math.pi / 7
        c.oval(x + r * 0.62 * math.cos(a), y + r * 0.58 * math.sin(a), r * 0.46, r * 0.34,
               mix(tint, "#40201c", 0.14 * (k % 2)), turn=math.degrees(a))
    c.oval(x, y, r * 0.34, r * 0.32, mix(tint, "#7a4a1c", 0.62))


def _crate(
    c: Canvas, x: float, y: float, w: float, h: float, tints: list[str], r: float, leaf: bool,
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


def stall(scale: float = 1.0, *, flowers: bool = False) -> Image.Image:
    """A market stall, full of small things. The flowery one is the shop's sample."""
    c = Canvas(2400, 1600, 72 if flowers else 71, scale=scale)
    c.wash(0, 1200, ["#c9dfe0", "#e9e6d2", "#f3dcbf"], 8, 6)
    for i in range(9):
        house(c, -60 + i * 285, 1010, 262, 520 + 60 * (i % 3), mix(["#e3cdae", "#cf9f86", "#b9c0b0", "#dcb98a"][i % 4], "#e9e6d2", 0.35),
              "#8d6a5f", "#8fa3ad", rows=4)
    c.wash(1000, 1600, ["#b7a58f", "#c8b59b", "#a7957f"], 8, 8)
    for row in range(9):
        for i in range(30):
            x = i * 86 + (43 if row % 2 else 0) - 20
            c.oval(x, 1290 + row * 42, 38, 15, mix("#b29f88", "#8d7c69", c.between(0, 0.7)))
    red, cream = ("#2f7f6f", "#f8f0dd") if flowers else ("#c8473a", "#f8f0dd")
    for x in (330, 2060):
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
    keeper = Person(c, 1190, 1330, 672, skin="#c98f66", hair="#2d211d", top="#35607c")
    keeper.shirt()
    keeper.blob([(-7, 72), (7, 72), (9.6, 60), (9.6, 40), (-9.6, 40), (-9.6, 60)], "#f3ead8")
    keeper.limb([(-6, 72), (-5, 80)], "#f3ead8", 2, 2)
    keeper.limb([(6, 72), (5, 80)], "#f3ead8", 2, 2)
    keeper.arm([(-10.5, 76), (-19, 64), (-25, 70)], 0.5)
    keeper.arm([(10.5, 76), (18, 64), (15, 54)], 0.5)
    keeper.head("short")
    keeper.blob([(-8, 95), (-7, 101), (0, 104), (7, 101), (8, 95), (0, 97.5)], "#b8423a")
    keeper.blob([(-8.6, 94.4), (0, 96.8), (8.6, 94.4), (8.6, 96.6), (0, 98.6), (-8.6, 96.6)], "#96322d")
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
    sx = 1600.0
    c.stroke([(sx, 560), (sx, 700)], "#3b3f45", 6)
    c.oval(sx, 735, 52, 52, "#e9e3d3")
    c.oval(sx, 735, 42, 42, "#fffaf0")
    c.stroke([(sx, 735), (sx + 22, 712)], "#b8423a", 5)
    for side in (-1, 1):
        c.stroke([(sx, 790), (sx + side * 90, 880)], "#3b3f45", 4)
    c.blob([(sx - 108, 880), (sx + 108, 880), (sx + 60, 918), (sx - 60, 918)], "#c9c3b5")
    c.poly([(250, 1130), (2150, 1130), (2240, 1180), (160, 1180)], "#a9754a")
    c.rect(160, 1180, 2080, 250, "#8d5f3c")
    for i in range(27):
        c.rect(160 + i * 78, 1180, 6, 250, "#7a5032")
    fruit = [["#cf3f36", "#d95a3d", "#b8342f"], ["#f09a36", "#f2ab4a", "#e88a2a"], ["#8fae4c", "#a3bf5e", "#7a9a3f"],
             ["#7a4a78", "#8e5a8a", "#663c66"], ["#f2cf52", "#e9c040", "#f6dc78"], ["#e58a72", "#eda08a", "#d9735c"]]
    blooms = [["#e58a9a", "#f2b4bd", "#d96b80"], ["#f4c04d", "#f8d67d", "#e9a93a"], ["#f8efdc", "#fff8ea", "#eaddc0"],
              ["#8a6aa8", "#a386bd", "#745492"], ["#d9523f", "#e57360", "#c23f31"], ["#7ba7c9", "#9cc0da", "#5f8db3"]]
    for i in range(6):
        x = 236 + i * 328
        _crate(c, x, 1090, 292, 96, (blooms if flowers else fruit)[i], [31, 30, 34, 20, 29, 32][i], leaf=i != 3, bloom=flowers)
        _card(c, x + 228, 1030)
    low = [["#d9523f", "#e57a4f"], ["#6d9450", "#83a862"], ["#e9b44c", "#d99f38"], ["#c26a8a", "#d98aa5"]]
    for i, x in enumerate((210, 620, 1400, 1830)):
        _crate(c, x, 1402, 340, 128, low[(i + 2 * flowers) % 4], [26, 34, 28, 23][i], leaf=i % 2 == 0, bloom=flowers)
    for x, tint in ((1035, "#5f8db3"), (1165, "#c9c3b5"), (1295, "#5f8db3")):
        for _ in range(20):
            a = c.between(-1, 1)
            fx, fy = x + a * 68, 1342 - c.between(0, 120) * (1 - abs(a) * 0.5)
            c.stroke([(x, 1460), (fx, fy)], "#5d8a4a", 5)
            c.oval(fx, fy, 17, 16, c.pick(["#f4c04d", "#e58a9a", "#fffaf0", "#c9556a"]))
            c.oval(fx, fy, 6, 6, "#8d5f3c")
        c.poly([(x - 54, 1420), (x + 54, 1420), (x + 42, 1545), (x - 42, 1545)], tint)
        c.rect(x - 56, 1414, 112, 14, mix(tint, "#ffffff", 0.4))
    n = 16
    for i in range(n):
        a0, a1 = 250 + i * 1900 / n, 250 + (i + 1) * 1900 / n
        b0, b1 = 170 + i * 2060 / n, 170 + (i + 1) * 2060 / n
        tint = red if i % 2 == 0 else cream
        c.poly([(a0, 270), (a1, 270), (b1, 520), (b0, 520)], tint)
        c.rect(b0, 520, b1 - b0, 46, mix(tint, "#27202a", 0.14))
        c.oval((b0 + b1) / 2, 566, (b1 - b0) / 2, 34, mix(tint, "#27202a", 0.14))
    c.rect(244, 250, 1912, 26, "#6b4b3a")
    for i in range(12):
        x = 430 + i * 142
        if not 1040 < x < 1330:
            c.stroke([(x, 600), (x, 634)], "#3b2a22", 3)
            for k in range(4):
                c.oval(x + (-8 if k % 2 else 8), 644 + k * 15, 13, 12, ["#f3ead8", "#e3d2b0"][k % 2])
    _bunting(c, -40, 60, 2450, 50, 120, 66, ["#f4c04d", "#f8efdc", "#2f7f88", "#e58a9a"])
    return c.finished()


GOLD = {
    "sky": ["#7fa3b5", "#b4bfb4", "#eccf9f", "#f6c189", "#f0a878"], "sun": "#fff2cf",
    "hills": ["#b7a58d", "#a3a274", "#8c9a5b", "#74884a", "#5b7440"], "grass": ["#3f5a35", "#8fa352", "#d7c36a"],
    "suit": "#2b3a52", "hair": ["#3a2721", "#a8623a"], "skin": ["#d9a27c", "#eec3a0"],
}
ROSE = {
    "sky": ["#5d6a94", "#9a86ab", "#dba3a8", "#f4bfa4", "#f9d9b4"], "sun": "#fff3df",
    "hills": ["#9d8ba5", "#80849a", "#6a8289", "#56766f", "#44655a"], "grass": ["#2f4d46", "#6f937a", "#c9b68a"],
    "suit": "#5a4534", "hair": ["#1f1a1a", "#1f1a1a"], "skin": ["#8d5a3c", "#a86b45"],
}


def hill(scale: float = 1.0, *, rose: bool = False) -> Image.Image:
    """Two people just married, on a hill. The rose one is the shop's sample."""
    tone = ROSE if rose else GOLD
    c = Canvas(2400, 1600, 82 if rose else 81, scale=scale)
    c.wash(0, 960, tone["sky"], 14, 10)  # type: ignore[arg-type]
    sx = 700.0 if rose else 1700.0
    for r, alpha in ((260, 0.14), (170, 0.2)):
        c.oval(sx, 640, r, r, str(tone["sun"]), alpha)
    c.oval(sx, 640, 92, 92, str(tone["sun"]))
    for x, y, long in ((500, 200, 720), (1500, 130, 640), (2050, 330, 520), (1000, 380, 460)):
        for _ in range(6):
            c.dash(x + c.between(-0.4, 0.4) * long, y + c.between(-26, 26), long * c.between(0.3, 0.8), c.between(16, 38), str(tone["sun"]), 0.42)
    hills = list(tone["hills"])
    c.land([(-30, 760), (400, 660), (900, 740), (1400, 650), (1900, 730), (2430, 640)], hills[0])
    c.land([(-30, 850), (300, 800), (800, 730), (1300, 830), (1900, 770), (2430, 820)], hills[1])
    vx = 2140.0 if rose else 210.0
    c.rect(vx, 716, 34, 110, "#e6d6b8")
    c.poly([(vx - 4, 718), (vx + 17, 640), (vx + 38, 718)], "#6f6470")
    for i, w in enumerate((-130, -84, 44, 92, 146)):
        house(c, vx + w, 832, 40, 30, ["#f0e2c6", "#d9a58a"][i % 2], "#8b5140", "#8a7a66", rows=1)
    for i in range(30):
        x = vx - 240 + i * 19 + c.between(-8, 8)
        c.oval(x, 838 + c.between(-3, 6), 17, 13, mix(hills[2], "#26382c", c.between(0.1, 0.5)))
    c.land([(-30, 850), (500, 900), (1000, 850), (1600, 900), (2430, 840)], hills[2])
    near = c.land([(-30, 1130), (500, 1040), (1200, 985), (1900, 1050), (2430, 1150)], hills[3])
    with c.clip(near):
        c.land([(-30, 1330), (700, 1230), (1500, 1270), (2430, 1380)], mix(hills[3], hills[4], 0.5))
        c.land([(-30, 1480), (900, 1400), (2430, 1500)], hills[4])
    tx = 620.0 if not rose else 1820.0
    c.stroke([(tx, 1090), (tx + 6, 900), (tx - 8, 700)], "#5b4636", 54, 34)
    c.stroke([(tx, 860), (tx - 90, 740), (tx - 140, 690)], "#5b4636", 26, 14)
    c.stroke([(tx, 840), (tx + 80, 730), (tx + 130, 680)], "#5b4636", 24, 14)
    crown(c, tx, 600, 290, [mix(hills[4], "#1d2a24", 0.4), hills[4], hills[3], hills[2], mix(hills[2], str(tone["sun"]), 0.35)], 200)
    for r in range(3):
        c.dash(tx + 60, 1096, 420 - r * 90, 34 - r * 8, mix(hills[4], "#1d2a24", 0.3), 0.35)
    groom = Person(c, 1110, 1200, 560, skin=tone["skin"][0], hair=tone["hair"][0], top=str(tone["suit"]))  # type: ignore[index]
    bride = Person(c, 1262, 1204, 520, skin=tone["skin"][1], hair=tone["hair"][1], top="#fdf6e8")  # type: ignore[index]
    c.dash(1200, 1214, 520, 34, mix(hills[4], "#1d2a24", 0.4), 0.5)
    groom.trousers(mix(str(tone["suit"]), "#000000", 0.1), "#2b211e")
    groom.shirt()
    groom.blob([(-3.4, 81), (3.4, 81), (0, 62)], "#fff8ea")
    groom.limb([(0, 78), (0, 66)], "#b8423a", 2, 2.6)
    groom.dot(-6.4, 70, 1.8, 1.8, "#f4c04d")
    groom.arm([(-10.5, 76), (-15, 62), (-12, 48)], 1)
    groom.arm([(10.5, 76), (15.5, 64), (15, 53)], 1)
    groom.head("short")
    bride.blob([(3, 79), (14, 76), (18, 40), (40, 4), (58, -1), (34, -3), (10, 3)], "#fbf0dc", 0.9)
    bride.dress(0, 23)
    for dx, up in ((-13, 16), (-4, 9), (8, 18), (14, 8), (2, 30), (-8, 36), (-17, 5), (19, 3)):
        bride.dot(dx, up, 1.5, 1.5, "#eadfc6")
    bride.arm([(-8.6, 76), (-14, 64), (-12, 56)], 0.0)
    bride.arm([(8.6, 76), (14, 63), (8, 55)], 0.0)
    bride.blob([(-6, 95), (0, 101), (9, 97), (15, 78), (24, 40), (15, 45), (9, 72)], "#fffaf0", 0.85)
    bride.head("bun")
    for i, tint in enumerate(["#d9523f", "#f4c04d", "#fffaf0", "#e58a9a", "#f4c04d", "#d9523f", "#fffaf0"]):
        a = i / 7 * 2 * math.pi
        bride.dot(-1 + 4.2 * math.cos(a), 53 + 4.2 * math.sin(a), 2.7, 2.7, tint)
    bride.dot(-1, 53, 2.8, 2.8, "#e58a9a")
    for dx, up, tint in ((-4, 100, "#e58a9a"), (0, 101.4, "#f4c04d"), (4, 100, "#fffaf0")):
        bride.dot(dx, up, 1.9, 1.9, tint)
    petals = ["#fff8ea", "#f4c04d", "#e0705a", "#e9a1ac", "#fff8ea"]
    grass = list(tone["grass"])
    for _ in range(250):
        share = c.between(0, 1) ** 0.8
        x, y = c.between(0, 2400), 1120 + 500 * share
        if 960 < x < 1480 and y < 1236:
            continue
        h = 22 + 84 * share
        lean = c.between(-0.3, 0.3) * h
        c.stroke([(x, y), (x + lean * 0.4, y - h * 0.6), (x + lean, y - h)], c.pick(grass), 4 + 5 * share, 2)
        if c.rng.random() < 0.5:
            r = 6 + 12 * share
            tint = c.pick(petals)
            for k in range(5):
                a = k * 2 * math.pi / 5 + lean
                c.oval(x + lean + r * 0.8 * math.cos(a), y - h + r * 0.8 * math.sin(a), r * 0.62, r * 0.62, tint)
            c.oval(x + lean, y - h, r * 0.46, r * 0.46, "#b5743a")
    for i in range(7):
        gull(c, 1330 + i * 74 + 20 * math.sin(i * 2), 420 - i * 22 + 26 * (i % 2), 44, "#4f5962", "#4f5962")
    return c.finished()
