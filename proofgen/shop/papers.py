"""The papers a shop can name, and how a paper of its own is written."""

from __future__ import annotations

from collections.abc import Collection

from proofgen.model import Paper
from proofgen.say import quoted
from proofgen.shop.getters import Record, as_record, named, or_meant
from proofgen.shop.nodes import ListNode, Node, TextNode
from proofgen.shop.values import length

# mm. A: ISO 216. RA and SRA: ISO 217. US sizes in inches x 25.4: ANSI/ASME Y14.1 (Letter = A,
# Tabloid = B) and common usage; all as in the public page size tables of reportlab and PWG 5101.1.
# Super B (13 x 19 in) is from memory.
SIZES = {
    "A0": (841.0, 1189.0),
    "A1": (594.0, 841.0),
    "A2": (420.0, 594.0),
    "A3": (297.0, 420.0),
    "A4": (210.0, 297.0),
    "A5": (148.0, 210.0),
    "A6": (105.0, 148.0),
    "RA0": (860.0, 1220.0),
    "RA1": (610.0, 860.0),
    "RA2": (430.0, 610.0),
    "RA3": (305.0, 430.0),
    "RA4": (215.0, 305.0),
    "SRA0": (900.0, 1280.0),
    "SRA1": (640.0, 900.0),
    "SRA2": (450.0, 640.0),
    "SRA3": (320.0, 450.0),
    "SRA4": (225.0, 320.0),
    "Letter": (215.9, 279.4),
    "Legal": (215.9, 355.6),
    "Tabloid": (279.4, 431.8),
    "Super B": (330.2, 482.6),
}
DEFAULT = ("A4",)
_BY_FOLD = {name.casefold(): name for name in SIZES}
_SIDE = length(least=50, most=3000)  # what a sheet or roll can be wide


def standard(name: str) -> Paper:
    """The paper of that name, in any case. KeyError if it is not in the table."""
    known = _BY_FOLD[name.strip().casefold()]
    width, height = SIZES[known]
    return Paper(name=known, width_mm=width, height_mm=height)


def read_papers(shop: Record) -> tuple[Paper, ...]:
    """`paper:` of shop.yaml: one or several names or maps {name, width, height}; A4 if absent."""
    node = shop.value("paper")
    if node is None:
        return tuple(standard(name) for name in DEFAULT)
    papers: dict[str, Paper] = {}
    for item in node.items if isinstance(node, ListNode) else (node,):
        paper = _named(shop, item, papers) if isinstance(item, TextNode) else _own(shop, item)
        if paper is None:
            continue
        if paper.name.casefold() in papers:
            shop.source.fault(item.line, f"paper {quoted(paper.name)} is listed twice", "keep one")
        papers.setdefault(paper.name.casefold(), paper)
    return tuple(papers.values())


def _named(shop: Record, node: TextNode, listed: Collection[str]) -> Paper | None:
    if node.text.strip().casefold() in _BY_FOLD:
        return standard(node.text)
    known = f"Known: {named(SIZES)}; or give its size: {{name: roll, width: 610 mm}}"
    shop.source.fault(
        node.line,
        f"paper {quoted(node.text)} is not known",
        or_meant(node.text, (size for size in SIZES if size.casefold() not in listed), known),
    )
    return None


def _own(shop: Record, node: Node) -> Paper | None:
    before = len(shop.source.faults)
    with as_record(node, shop, "paper", "a paper") as paper:
        name = paper.text("name", most=40)
        width = paper.read("width", _SIDE)
        height = paper.read("height", _SIDE) if paper.has("height") else None
    if len(shop.source.faults) > before:
        return None
    return Paper(name=name, width_mm=width, height_mm=height)
