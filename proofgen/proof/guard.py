"""The last look before something is published: bare pictures, drawings that only draw."""

from __future__ import annotations

import io
import re
import xml.etree.ElementTree as ET

from markupsafe import Markup
from PIL import Image

from proofgen.proof.content import Drawing, Picture
from proofgen.render.drawn_arabic import as_drawn
from proofgen.render.look import DRAWN_IN

_NAME = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_KINDS = {
    "image/jpeg": ("JPEG", ".jpg"),
    "image/png": ("PNG", ".png"),
    "image/webp": ("WEBP", ".webp"),
}
# What Pillow reports for a picture that carries its pixels and nothing else.
_PLAIN = {"jfif", "jfif_version", "jfif_unit", "jfif_density", "dpi", "transparency", "progressive"}
_PLAIN |= {"progression", "loop", "background"}
_DRAWS = {
    "svg", "g", "defs", "title", "desc", "rect", "line", "path", "circle", "ellipse", "polyline",
    "polygon", "text", "tspan", "image", "pattern", "clipPath", "mask", "marker", "use",
}  # fmt: skip


def ending(picture: Picture) -> str:
    """'.jpg', '.png' or '.webp'. Errors: ValueError for a picture that may not be published.

    Refused are names that are not ours, other formats, and pictures that carry a comment, a
    profile, text or camera data.
    """
    if not _NAME.fullmatch(picture.name):
        raise ValueError(f"{picture.name!r} is no name for a picture")
    if picture.media_type not in _KINDS:
        raise ValueError(f"{picture.name} is {picture.media_type}, which is not published")
    form, end = _KINDS[picture.media_type]
    with Image.open(io.BytesIO(picture.data), formats=[form]) as image:
        hidden = {str(key) for key in image.info} - _PLAIN
        if hidden or len(image.getexif()):
            raise ValueError(f"{picture.name} carries hidden data: {', '.join(sorted(hidden))}")
        if image.size != (picture.width_px, picture.height_px):
            raise ValueError(f"{picture.name} is {image.size}, not what it says")
    return end


_SVG = "http://www.w3.org/2000/svg"
_PX = 25.4 / 96  # mm in a CSS pixel


def _attributes(element: ET.Element, name: str) -> None:
    for attribute, value in element.attrib.items():
        short = attribute.rpartition("}")[2]
        if short.startswith("on") or short == "style":
            raise ValueError(f"a drawing may not have {short}=")
        if short == "href" and not (value == name and name) and not value.startswith("#"):
            raise ValueError("a drawing may refer to its own picture alone")
        if "url(" in value and not re.fullmatch(r"url\(#[\w.-]+\)", value):
            raise ValueError("a drawing may refer to itself alone")


def _read(drawing: Drawing) -> ET.Element:
    if "<!DOCTYPE" in drawing.svg.upper() or "<!ENTITY" in drawing.svg.upper():
        raise ValueError("a drawing has no document type")
    root = ET.fromstring(drawing.svg)
    for element in root.iter():
        space, _, tag = str(element.tag).rpartition("}")
        if space.lstrip("{") != _SVG or tag not in _DRAWS:
            raise ValueError(f"a drawing may not hold <{tag}>")
        _attributes(element, drawing.picture.name if drawing.picture else "")
    return root


def _scaled(numbers: str, by: float) -> str:
    return " ".join(f"{float(n) * by:.3f}" for n in numbers.replace(",", " ").split())


def _lines_in_mm(root: ET.Element, width_mm: float) -> None:
    """Give lines that keep their thickness in pixels the same thickness on paper, and its type;
    words in Arabic letters the forms that are seen."""
    root.set("font-family", DRAWN_IN)  # the page's own style does not reach into a drawing
    box = [float(n) for n in root.get("viewBox", "0 0 100 100").replace(",", " ").split()]
    by = _PX * box[2] / width_mm
    for element in root.iter():
        if element.tag in (f"{{{_SVG}}}text", f"{{{_SVG}}}tspan"):
            element.text = as_drawn(element.text or "")
        if element.attrib.pop("vector-effect", None) == "non-scaling-stroke":
            for key in ("stroke-width", "stroke-dasharray"):
                if element.get(key):
                    element.set(key, _scaled(element.attrib[key], by))


def _ids_of_its_own(root: ET.Element, prefix: str) -> None:
    """Several drawings stand on one page: their ids, and what points to them, are kept apart."""
    for element in root.iter():
        for key, value in list(element.attrib.items()):
            if key == "id":
                element.set(key, f"{prefix}-{value}")
            elif key in ("aria-labelledby", "aria-describedby"):
                element.set(key, " ".join(f"{prefix}-{one}" for one in value.split()))
            elif key.endswith("href") and value.startswith("#"):
                element.set(key, f"#{prefix}-{value[1:]}")
            elif "url(#" in value:
                element.set(key, value.replace("url(#", f"url(#{prefix}-"))


def drawn(drawing: Drawing, src: str, prefix: str, print_mm: float = 0.0) -> Markup:
    """The drawing ready to stand in a page, its picture found at `src`.

    The words in it are a customer's, so it is read as XML and written anew: only drawing elements,
    no style attribute, no handler, no reference but to itself and to its own picture. `prefix` is
    put before its ids. With `print_mm`, the width it will have on paper, its lines are given a
    thickness of their own. Errors: ValueError.
    """
    root = _read(drawing)
    _ids_of_its_own(root, prefix)
    if print_mm:
        _lines_in_mm(root, print_mm)
    for element in root.iter(f"{{{_SVG}}}image"):
        element.set("href", src)
    ET.register_namespace("", _SVG)
    return Markup(ET.tostring(root, encoding="unicode"))
