"""blanks/NAME.yaml: the maker's measures of a blank, and whether such a thing can exist."""

from __future__ import annotations

import functools
import math
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

from proofgen.geometry import CONSTRUCTIONS, SHAPES, Construction, Hole
from proofgen.model import Blank, Stock
from proofgen.shop.blank_fields import FIELDS, ONE_FACE, TWO_FACES, has_sides, kind_of
from proofgen.shop.cloth import judge_stock
from proofgen.shop.getters import Record, named, root
from proofgen.shop.nodes import Source, parse, read_text

BUILT_IN = Path(__file__).parent / "blanks"
# The fields beside construction, shape and sides, in the turn in which faults name them.
TURN = (
    *("shrink", "cloth", "name", "called", "bleed", "safe", "thickness", "vessel", "closure"),
    *("seam", "fold", "hem", "base", "gap", "corner", "holes", "press", "cost", "stock", "note"),
)
_make: Callable[..., Blank] = Blank


def _sides(blank: Record, construction: Construction, kind: str) -> tuple[float, float]:
    """Raw width and height, under the names this kind gives them."""

    def side(key: str) -> float:
        return float(FIELDS[key].read(blank, None))

    if kind == "round":
        for key in ("width", "height"):
            if blank.has(key):
                blank.fault(key, f"a round blank has no {key}", "say diameter: instead")
        across = side("diameter")
        return across, across
    along, other = ("length", "width") if construction == "wrap" else ("width", "length")
    if blank.has(other) and not blank.has(along):
        blank.fault(other, f"a {construction} has no {other}", f"say {along}: instead")
        return 1.0, side("height")
    if blank.has(other):
        blank.fault(other, f"a {construction} has no {other}", f"keep {along}: alone")
    return side(along), side("height")


def _impossible(blank: Blank) -> Iterator[tuple[str, str, str]]:
    """Measures that leave nothing to press, as (key, problem, cure); a wrap that does not fit its
    can is none of them."""
    wide, high = blank.width_mm, blank.height_mm
    if blank.construction == "wrap" and blank.closure:
        if blank.closure.width_mm >= wide:
            yield (
                "closure.width",
                f"the closure ({blank.closure.width_mm:g} mm) is as wide as the blank is long",
                "measure the hook-and-loop strip across, not along",
            )
        halved = blank.closure.on_top == "neither"
        if halved and 2 * blank.closure.shortest_mm > blank.closure.width_mm:
            yield (
                "closure.shortest",
                "closure.shortest is more than half of closure.width, and the strip holds both "
                "ends",
                "write the least of each end that holds, at most half of the strip's width",
            )
        elif blank.closure.shortest_mm > blank.closure.width_mm:
            yield (
                "closure.shortest",
                "closure.shortest is more than closure.width",
                "write the least overlap that holds, at most the strip's width",
            )
    for hole in blank.holes:
        if not _lies_on(hole, blank):
            shape = {"round": "a disc of ", "rounded": "the rounded "}.get(blank.shape, "")
            yield (
                "holes",
                f"a hole of {hole.diameter:g} mm at {hole.x:g}, {hole.y:g} mm does not lie on "
                f"{shape}{wide:g} × {high:g} mm",
                "write its middle from the left (x) and from the top (y), print side up",
            )
    if blank.construction == "fold":
        yield from _impossible_fold(blank)
    if blank.press and not has_sides(blank.construction, blank.press.sides):
        yield "press.sides", ONE_FACE, f"write sides: 1; {TWO_FACES}"
    if blank.shape == "round" and blank.gap_mm:
        yield (
            "gap",
            "a round blank has no gap",
            "write the diameter of what takes ink, and take gap: out",
        )
    elif (blank.construction == "sewn" and 2 * blank.gap_mm >= wide) or (
        blank.construction == "flat" and 2 * blank.gap_mm >= min(wide, high)
    ):
        yield "gap", "the gaps at both sides take the whole face", "write the gap of one side"
    if blank.shape == "rounded" and 2 * blank.corner_mm > min(wide, high):
        yield (
            "corner",
            f"corners of {blank.corner_mm:g} mm do not fit on {wide:g} × {high:g} mm",
            "write the radius of one corner",
        )


def _lies_on(hole: Hole, blank: Blank) -> bool:
    """Whether all of a punched hole lies on the blank, its rounded corners cut off."""
    wide, high, half = blank.width_mm, blank.height_mm, hole.diameter / 2
    if not (half <= hole.x <= wide - half and half <= hole.y <= high - half):
        return False
    corner = wide / 2 if blank.shape == "round" else blank.corner_mm
    beyond_x = max(corner - hole.x, hole.x - (wide - corner), 0.0)
    beyond_y = max(corner - hole.y, hole.y - (high - corner), 0.0)
    in_corner = beyond_x > 0 and beyond_y > 0
    return not in_corner or math.hypot(beyond_x, beyond_y) <= corner - half


def _impossible_fold(blank: Blank) -> Iterator[tuple[str, str, str]]:
    face_high = (blank.height_mm - blank.fold_mm) / 2 - blank.hem_mm
    if 2 * blank.seam_mm >= blank.width_mm:
        yield "seam", "the two seams take the whole width", "write one side’s allowance"
    if face_high <= 0:
        yield (
            "fold" if blank.fold_mm >= blank.height_mm else "hem",
            "fold and hems take the whole height",
            "write the height of the whole flat sheet, front and back",
        )
    elif blank.base_mm >= face_high:
        yield "base", "the base takes the whole face", "write the strip under the can"


def _unsafe(blank: Blank) -> Iterator[tuple[str, str, str]]:
    least = min(min(f.rect.width, f.rect.height) for f in blank.plan().faces)
    if 2 * blank.safe_mm >= least:
        yield (
            "safe",
            f"a face that is {least:.1f} mm on its short side has no room for words that stay "
            f"{blank.safe_mm:g} mm from each edge (safe)",
            "measure that side again, or write a smaller safe",
        )


def read_blank(path: Path, source: Source, *, built_in: bool = False) -> Blank | None:
    """One blank; None when it has a fault, which `source` then holds."""
    return blank_of(read_text(path, source.file), path.stem, source, built_in=built_in)


def blank_of(text: str, name: str, source: Source, *, built_in: bool = False) -> Blank | None:
    """The blank a text says, under the id `name`; None when it has a fault, as read_blank."""
    record = root(parse(text, source), source, "a blank")
    if not record.has("construction") and (BUILT_IN / f"{name}.yaml").is_file():
        return None if source.faults else _counted(record, name)
    construction = record.choice("construction", CONSTRUCTIONS)
    if source.faults or record.missing:
        if not source.faults:
            source.fault(
                record.node.line,
                "a blank lacks construction",
                f"add a line construction: with one of {named(CONSTRUCTIONS)}",
            )
        return None  # which keys it needs hangs on the construction
    shape = record.choice("shape", SHAPES, "rectangle")
    kind = kind_of(construction, shape)
    width, height = _sides(record, construction, kind)
    blank = _make(
        id=name,
        construction=construction,
        shape=shape if construction == "flat" else "rectangle",
        width_mm=width,
        height_mm=height,
        **{FIELDS[key].attr: FIELDS[key].read_for(record, kind) for key in TURN},
        built_in=built_in,
        place=source.place(None),
        lines=record.lines(),
    )
    judge_stock(record, blank.stock, blank.cloth.colours)
    record.finish()
    for judge in (_impossible, _unsafe):
        if not source.faults:
            for key, problem, cure in judge(blank):
                source.fault(blank.lines.get(key, 1), problem, cure)
    return None if source.faults else blank


def _counted(record: Record, name: str) -> Blank | None:
    """The built-in blank of that name, with what a shop alone knows of it."""
    blank = built_in_blanks()[name]
    kind = kind_of(blank.construction, blank.shape)
    cost = FIELDS["cost"].read_for(record, kind)
    called = FIELDS["called"].read_for(record, kind) or blank.called
    stock = FIELDS["stock"].read_for(record, kind) or Stock()
    blank = replace(blank, cost=cost, called=called, stock=stock)
    judge_stock(record, blank.stock, blank.cloth.colours)
    record.finish()
    return None if record.source.faults else blank


def built_in_blanks() -> dict[str, Blank]:
    """The blanks that come with the tool, by id."""
    return dict(_built_in())


@functools.cache
def _built_in() -> dict[str, Blank]:
    blanks = {}
    for path in sorted(BUILT_IN.glob("*.yaml")):
        source = Source(f"built-in blanks/{path.name}")
        blank = read_blank(path, source, built_in=True)
        if blank is None:
            raise source.faults[0]
        blanks[blank.id] = blank
    return blanks
