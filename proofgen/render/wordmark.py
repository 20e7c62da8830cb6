"""A shop's name as a drawing: an SVG of which only shapes are kept."""

from __future__ import annotations

import re
from collections.abc import Mapping
from html import escape
from xml.parsers import expat

from proofgen.errors import Place, ShopError

MOST_BYTES = 60_000  # a drawn name has 2 to 20 kB
_SVG = "http://www.w3.org/2000/svg"
_SHAPES = {"svg", "g", "path", "rect", "circle", "ellipse", "line", "polyline", "polygon"}
# Said of the drawing, not drawn: left out with all that is in them.
_SAID = {"title", "desc", "metadata", "defs", "namedview"}
_NUMBER = r"[-+]?[0-9.]+(?:[eE][-+]?[0-9]+)?"
_NUMBERS = re.compile(r"[-+0-9.,eE\s]{1,50000}")
_LENGTH = re.compile(rf"{_NUMBER}(?:px|mm|pt|cm|in)?")
_PAINT = re.compile(r"none|currentColor|#[0-9a-fA-F]{3}|#[0-9a-fA-F]{6}|[a-z]{3,20}")
_TURN = re.compile(
    r"(?:\s*(?:matrix|translate|scale|rotate|skewX|skewY)\([-+0-9.,eE\s]{1,200}\)\s*,?){1,8}"
)
_WORD = re.compile(r"[a-z-]{1,20}")
_LENGTHS = (
    *("x", "y", "width", "height", "cx", "cy", "r", "rx", "ry", "x1", "y1", "x2", "y2"),
    *("stroke-width", "stroke-miterlimit", "opacity", "fill-opacity", "stroke-opacity"),
)
# What a shape may say, and how it may say it.
_KEPT: Mapping[str, re.Pattern[str]] = {
    "d": re.compile(r"[-+0-9.,eE\sMmZzLlHhVvCcSsQqTtAa]{1,50000}"),
    "points": _NUMBERS,
    "viewBox": _NUMBERS,
    "transform": _TURN,
    "fill": _PAINT,
    "stroke": _PAINT,
    "stroke-dasharray": re.compile(r"none|[-+0-9.,eE\s]{1,200}"),
    **dict.fromkeys(("fill-rule", "clip-rule", "stroke-linecap", "stroke-linejoin"), _WORD),
    **dict.fromkeys(_LENGTHS, _LENGTH),
}
_BLACK = {"#000", "#000000", "black"}  # follows the page's ink, by night as well
_CURES = {
    "text": "turn the words into outlines (paths) in your drawing program and save it again",
    "tspan": "turn the words into outlines (paths) in your drawing program and save it again",
    "image": "draw it with shapes: a picture inside a drawing cannot follow the page's colours",
    "style": "save it with “presentation attributes” instead of a style sheet",
}


class _Reader:
    """Goes through the drawing once, start to end."""

    def __init__(self, place: str, name: str) -> None:
        self.place, self.name = place, name
        self.out: list[str] = []
        self.open: list[bool] = []  # whether each element that is open was written
        self.left_out = 0  # how deep inside something that is left out
        self.parser = expat.ParserCreate(namespace_separator=" ")
        self.parser.StartElementHandler = self.start
        self.parser.EndElementHandler = self.end
        self.parser.StartDoctypeDeclHandler = self.doctype

    def refuse(self, problem: str, cure: str) -> ShopError:
        return ShopError(problem, cure, Place(self.place, self.parser.CurrentLineNumber))

    def doctype(self, *_: object) -> None:
        raise self.refuse("a wordmark has no DOCTYPE", "take the line out")

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        space, _, name = tag.rpartition(" ")
        if self.left_out or space not in (_SVG, "") or name in _SAID:
            self.left_out += 1
            return
        if not self.out and name != "svg":
            raise self.refuse("this file is no SVG drawing", "save it as plain SVG")
        if name not in _SHAPES or (self.out and name == "svg"):
            raise self.refuse(
                f"a wordmark may hold no <{name[:30]}>",
                _CURES.get(name, "draw it with paths, rectangles, circles and lines alone"),
            )
        kept = self.kept(attributes)
        if not self.out:
            if "viewBox" not in kept:
                raise self.refuse("the drawing has no viewBox", "save it as plain SVG")
            for size in ("width", "height", "x", "y"):
                kept.pop(size, None)
            said = {"xmlns": _SVG, "class": "wordmark", "role": "img", "aria-label": self.name}
            kept = {**said, "fill": "currentColor", **kept}
        words = "".join(f' {key}="{escape(value)}"' for key, value in kept.items())
        self.out.append(f"<{name}{words}>")

    def kept(self, attributes: dict[str, str]) -> dict[str, str]:
        """What of an element's attributes draws; what else programs write is left out."""
        said = dict(attributes)
        for part in said.pop("style", "").split(";"):
            key, _, value = part.partition(":")
            said[key.strip()] = value.strip()  # a style is stronger than an attribute
        kept = {}
        for key, value in said.items():
            form = _KEPT.get(key)
            if form is None:
                if key.startswith("on") or key.endswith("href"):
                    raise self.refuse(
                        f"a wordmark may not say {key[:30]}=", "take it out: a drawing only draws"
                    )
                continue
            if not form.fullmatch(value.strip()):
                raise self.refuse(
                    f"{key}= says what a wordmark may not", "use plain colours and plain numbers"
                )
            kept[key] = "currentColor" if value.strip().lower() in _BLACK else value.strip()
        return kept

    def end(self, tag: str) -> None:
        if self.left_out:
            self.left_out -= 1
            return
        self.out.append(f"</{tag.rpartition(' ')[2]}>")


def safe_wordmark(data: bytes, place: str, name: str) -> str:
    """The drawing with its shapes alone, said to be `name`; what is black in it is currentColor.

    Errors: ShopError with the line, for what is no SVG, is larger than 60 kB, or holds words,
    pictures, scripts or references.
    """
    if len(data) > MOST_BYTES:
        raise ShopError(
            f"the wordmark has {len(data) // 1000} kB, more than {MOST_BYTES // 1000}",
            "save it as plain SVG, without pictures in it",
            Place(place),
        )
    reader = _Reader(place, name)
    try:
        reader.parser.Parse(data, True)
    except expat.ExpatError as error:
        raise ShopError(
            f"this file is no SVG drawing ({expat.errors.messages[error.code]})",
            "save it as plain SVG",
            Place(place, error.lineno),
        ) from None
    if not any(
        part.startswith("<") and not part.startswith(("<svg", "<g", "</")) for part in reader.out
    ):
        raise ShopError("nothing is drawn in this wordmark", "save it as plain SVG", Place(place))
    return "".join(reader.out)
