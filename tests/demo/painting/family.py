"""A family under paper flags, upright."""

from __future__ import annotations

import math

from painting.brush import Canvas, mix, pts
from painting.figures import Person, bunting, crown
from PIL import Image

PARTY = {
    "sky": ["#9fd0d8", "#c6e2d6", "#f3ecc9"],
    "hedge": ["#3f6d4c", "#55855a", "#79a263", "#a3bf74"],
    "lawn": ["#8fb36a", "#a9c477", "#bccf85"],
    "flags": ["#d9523f", "#f4c04d", "#f8efdc", "#2f7f88", "#e58a9a"],
    "tops": ["#b0566f", "#33637f", "#f0b64e", "#d9523f", "#4d8a6a"],
}
DUSK = {
    "sky": ["#6a6b9b", "#b58aa5", "#f2b98f"],
    "hedge": ["#28433f", "#3a5b4c", "#55745a", "#7d8a61"],
    "lawn": ["#61804f", "#7a935a", "#8f9f63"],
    "flags": ["#f4c04d", "#e0705a", "#fbe9c6", "#7ab0a8", "#c96f93"],
    "tops": ["#e8a23d", "#7a4d7f", "#d9523f", "#f6efe0", "#2f7f88"],
}


def _garden(c: Canvas, tone: dict[str, list[str]]) -> None:
    """Trees, hedge and lawn."""
    c.wash(0, 1240, tone["sky"], 11, 9)
    for x, y, r in ((120.0, 800.0, 330), (1640, 760, 380), (1180, 900, 250), (560, 930, 230)):
        c.stroke([(x, y), (x, y + 500)], "#5b4636", r * 0.16)
        crown(c, x, y, r, tone["hedge"], 220)
    c.rect(-10, 1230, 1820, 140, tone["hedge"][0])
    for i in range(20):
        crown(c, i * 96, 1290 + 16 * math.sin(i), 130, tone["hedge"], 44)
    c.wash(1350, 2400, tone["lawn"], 8, 10)
    for _ in range(150):
        x, y = c.between(0, 1800), 1380 + 1000 * c.between(0, 1)
        c.stroke(
            [(x, y), (x + c.between(-8, 8), y - c.between(14, 34))],
            c.pick(["#5f8a4e", "#d3dd9a"]),
            5,
            2,
        )


def _grown_ups(c: Canvas, skins: list[str], tops: list[str], dusk: bool) -> None:
    """Grandmother, father, mother."""
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
    mother = Person(
        c, 760, 2050, 1030, skin=skins[2], hair="#1f1a1a" if dusk else "#8a4b2c", top=tops[2]
    )
    mother.legs("#2f4858")
    mother.dress(20, 19)
    for _ in range(9):
        mother.dot(c.between(-7, 7), c.between(24, 56), 1.2, 1.2, "#fff6e3", 0.9)
    mother.arm([(9, 76), (17, 64), (24, 57)], 0.4)
    mother.arm([(-9, 76), (-16, 62), (-20, 50)], 0.4)
    mother.head("afro" if dusk else "long")


def _children(c: Canvas, skins: list[str], tops: list[str], dusk: bool, flags: list[str]) -> None:
    """A girl with a balloon, a boy with a hat."""
    girl = Person(
        c, 1460, 2070, 740, skin=skins[3], hair="#2b1d18" if dusk else "#b5652f", top=tops[3]
    )
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
    boy = Person(
        c, 585, 2130, 600, skin=skins[4], hair="#3d2a22" if dusk else "#d9a45a", top=tops[4]
    )
    boy.trousers("#2f4858")
    boy.shirt()
    for y in (54, 61, 68):
        boy.limb([(-9.4, y), (9.4, y)], "#f8efdc", 2.4, 2.4)
    boy.arm([(-11, 76), (-19, 66), (-16, 54)], 0.5)
    boy.arm([(11, 76), (20, 70), (22, 82)], 0.5)
    boy.head("short")
    c.poly([(585 - 52, 1545), (585 + 52, 1545), (585 + 4, 1400)], flags[1])
    c.oval(589, 1396, 15, 15, flags[2])


def _cake(c: Canvas, flags: list[str]) -> None:
    """The table and what is on it."""
    c.poly(pts("920,1900 1420,1900 1470,2230 870,2230"), "#fbf4e3")
    for i in range(9):
        c.poly(
            [
                (930 + i * 56, 1900),
                (958 + i * 56, 1900),
                (948 + i * 62, 2230),
                (916 + i * 62, 2230),
            ],
            mix(flags[3], "#fbf4e3", 0.45),
        )
    c.oval(1170, 1900, 262, 36, "#fffaf0")
    c.rect(1045, 1720, 250, 165, "#f3d6b8")
    c.oval(1170, 1886, 125, 22, "#e2bd98")
    c.oval(1170, 1720, 125, 24, "#fff6e8")
    drip = (
        [(1045, 1716)]
        + [(1045 + i * 25, 1776 + (26 if i % 2 else -4)) for i in range(1, 10)]
        + [(1295, 1716)]
    )
    c.blob(drip, "#fff6e8")
    for i in range(5):
        x = 1090 + i * 40
        c.rect(x - 5, 1640, 10, 78, flags[i % 5])
        c.blob([(x, 1600), (x + 9, 1626), (x, 1640), (x - 9, 1626)], "#ffd24d")
    for x, tint in ((970, flags[0]), (1365, flags[3])):
        c.poly([(x - 28, 1815), (x + 28, 1815), (x + 21, 1892), (x - 21, 1892)], tint)
        c.oval(x, 1815, 28, 7, mix(tint, "#ffffff", 0.5))


def family(scale: float = 1.0, *, dusk: bool = False) -> Image.Image:
    """A family under bunting, upright. The dusk one is the shop's sample, with other people."""
    tone = DUSK if dusk else PARTY
    c = Canvas(1800, 2400, 62 if dusk else 61, scale=scale)
    _garden(c, tone)
    flags = tone["flags"]
    bunting(c, -60, 400, 1870, 470, 210, 104, flags)
    skins = (
        ["#8d5a3c", "#e5b48c", "#c68a5e", "#a86b45", "#d39a6c"]
        if dusk
        else ["#f0c3a0", "#e2a982", "#efc6a4", "#e8b48e", "#f3cdb0"]
    )
    tops = tone["tops"]
    # The sample leaves more sky above the heads, where the design hangs its ribbon.
    # What stands low would lie under the can, so both stand well above their lower edge.
    with c.smaller(0.75 if dusk else 0.86, (920, 2060 if dusk else 1750)):
        c.dash(900, 2085, 1500, 90, "#4c6b45", 0.4)
        _grown_ups(c, skins, tops, dusk)
        _children(c, skins, tops, dusk, flags)
        _cake(c, flags)
    for _ in range(150):
        x, y = c.between(0, 1800), c.between(2150, 2400)
        c.oval(x, y, 9, 8, c.pick(["#fff8e6", "#f4c04d", "#e58a9a"]))
    return c.finished()
