"""A cat on a window sill: the small picture that came through a chat."""

from __future__ import annotations

from painting.brush import Canvas, pts
from painting.figures import bare_tree
from PIL import Image


def sill(scale: float = 1.0) -> Image.Image:
    """A cat on a window sill, as small as a picture saved from a message."""
    c = Canvas(500, 380, 41, scale=scale)
    c.wash(0, 260, ["#8fb9c9", "#bcd6d6", "#e9e6d0"], 7, 3)
    c.land(pts("-5,220 120,190 260,215 505,180"), "#7fa08a")
    bare_tree(c, 400, 262, 62, -0.1, 9, "#5b4636", 4)
    c.rect(0, 0, 500, 22, "#f3ead8")
    for x in (0, 236, 478):
        c.rect(x, 0, 24, 270, "#f3ead8")
    c.rect(0, 262, 500, 26, "#fbf4e6")
    c.rect(0, 286, 500, 96, "#b8674f")
    cat = "#d68b45"
    c.blob(pts("118,266 112,200 138,150 176,150 206,200 212,266"), cat)
    c.stroke(pts("206,258 262,268 300,300 290,330"), cat, 20, 12)
    c.oval(156, 128, 36, 31, cat)
    c.poly([(124, 116), (124, 76), (152, 104)], cat)
    c.poly([(188, 116), (190, 76), (162, 104)], cat)
    for y in (176, 200, 224):
        c.stroke([(182, y), (206, y + 5)], "#a65f2a", 6)
    c.blob(pts("140,262 136,200 156,170 174,200 172,262"), "#fff0dc")
    c.oval(144, 126, 4, 5, "#2b211e")
    c.oval(168, 126, 4, 5, "#2b211e")
    c.oval(156, 139, 4, 3, "#c25a52")
    c.rect(330, 222, 56, 42, "#2f7f88")
    for x, y, tint in ((340, 196, "#c9556a"), (360, 184, "#f0b64e"), (378, 200, "#c9556a")):
        c.stroke([(358, 224), (x, y)], "#4f7a4f", 4)
        c.oval(x, y, 12, 11, tint)
    return c.finished()
