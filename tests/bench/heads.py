"""How many heads the crop that nobody chose cuts, on photographs whose heads are listed.

heads.csv lists them as shares of the upright photo (left, top, width, height; from hair to chin),
found by two detectors that the product does not use and then looked at one by one; people far
behind those that a photo is of are left out.
"""

from __future__ import annotations

import csv
from collections import defaultdict
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from functools import cache
from pathlib import Path
from unittest.mock import patch

from proofgen.artwork import focus as choosing
from proofgen.geometry import Canvas, FaceName, Plan, Rect, cover_crop
from proofgen.shop.blank_writer import check_blank
from tests.bench.photo_set import GROUPS, group, path_of
from tests.materials import PICTURES

# Blank and face, by what a maker would say.
BLANKS: dict[str, tuple[str, FaceName]] = {
    "all round a wrap": ("can-wrap-linen", "round"),
    "on a flat pouch": ("pouch-flat", "front"),
    "on a coaster": ("coaster-round", "front"),
}
_CUT = 0.1  # of a head's width or height that may be outside before it counts as cut
_SHIPPED = Path(choosing.__file__).parents[1] / "shop" / "blanks"


@cache
def heads() -> dict[str, list[Rect]]:
    """Heads by photograph, in shares."""
    found: dict[str, list[Rect]] = defaultdict(list)
    with (Path(__file__).parent / "heads.csv").open(encoding="utf-8", newline="") as stream:
        for row in csv.DictReader(stream):
            found[row["photo"]].append(Rect(*(float(row[key]) for key in "xywh")))
    return dict(found)


@cache
def _blank(name: str, face: FaceName) -> tuple[Plan, Canvas]:
    plan = check_blank((_SHIPPED / f"{name}.yaml").read_text(encoding="utf-8"), name).plan()
    return plan, plan.canvases[face]


def cut(name: str, *, faces: bool) -> dict[str, list[str]]:
    """For each blank, what becomes of each head: "whole", "cut" or "outside"."""
    facts = PICTURES.inspect(path_of(name), decode=False)
    unknown = patch.object(choosing, "find_faces", lambda *_: None, create=True)
    found = {}
    for what, (blank, face) in BLANKS.items():
        plan, canvas = _blank(blank, face)
        slot = canvas.fill
        if faces:
            at = choosing.choose_focus(facts, plan, canvas, slot, 1.0, PICTURES)
        else:
            with unknown:
                at = choosing.choose_focus(facts, plan, canvas, slot, 1.0, PICTURES)
        crop = cover_crop(facts.size_px, slot.size, at, 1.0, canvas.aim_in(slot))
        shown = _shown(crop, slot, canvas)
        found[what] = [_what_of(head, shown, facts.size_px.rect) for head in heads()[name]]
    return found


def _shown(crop: Rect, slot: Rect, canvas: Canvas) -> Rect:
    """The part (px) of the photo that is on the face itself, without bleed."""
    scale = crop.width / slot.width
    left, top = crop.x - slot.x * scale, crop.y - slot.y * scale
    return Rect(left, top, canvas.size.width * scale, canvas.size.height * scale)


def _what_of(head: Rect, shown: Rect, photo: Rect) -> str:
    left, right = head.x * photo.width, head.right * photo.width
    top, bottom = head.y * photo.height, head.bottom * photo.height
    across = min(right, shown.right) - max(left, shown.x)
    down = min(bottom, shown.bottom) - max(top, shown.y)
    if across <= 0 or down <= 0:
        return "outside"
    whole = across >= (1 - _CUT) * (right - left) and down >= (1 - _CUT) * (bottom - top)
    return "whole" if whole else "cut"


def lines(some: list[str], pool: ProcessPoolExecutor) -> Iterator[str]:
    """Counts for each group, blank and knowledge of faces, and the photos with a head cut."""
    people = [name for name in some if name in heads()]
    for faces in (False, True):
        found = dict(zip(people, pool.map(_both, people, [faces] * len(people)), strict=True))
        for what in BLANKS:
            for whose in GROUPS:
                mine = {n: found[n][what] for n in people if group(n) == whose}
                bad = [n for n, became in mine.items() if set(became) != {"whole"}]
                each = [one for became in mine.values() for one in became]
                if mine:
                    knowing = "with faces" if faces else "without a library"
                    yield (
                        f"heads {what}, {knowing}, {whose}: a head not whole in {len(bad)} of "
                        f"{len(mine)} photos; of {len(each)} heads {each.count('cut')} cut, "
                        f"{each.count('outside')} outside"
                    )
                    yield f"    {'; '.join(bad)}"


def _both(name: str, faces: bool) -> dict[str, list[str]]:
    return cut(name, faces=faces)
