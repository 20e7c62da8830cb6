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
from functools import cache, partial
from pathlib import Path
from unittest.mock import patch

from proofgen.artwork import focus as choosing
from proofgen.geometry import Canvas, FaceName, Plan, Rect, Size, cover_crop
from proofgen.shop.blank_writer import check_blank
from tests.bench.photo_set import GROUPS, group, path_of
from tests.materials import PICTURES

# Blank and face, by what a maker would say.
BLANKS: dict[str, tuple[str, FaceName]] = {
    "all round a wrap": ("can-wrap-linen", "round"),
    "on a pouch": ("pouch-flat", "front"),
    "on a coaster": ("coaster-round", "front"),
}
# Of a head's width or height: so much may be outside and it is whole, so much and it is trimmed, as
# a photographer may do with hair.
_WHOLE, _TRIMMED = 0.1, 0.25
_STEPS = 101  # places tried along the way a crop can move
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
    """For each blank, what becomes of each head: "whole", "trimmed", "cut" or "outside"."""
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
        found[what] = [what_of(head, shown, facts.size_px.rect) for head in heads()[name]]
    return found


def possible(name: str) -> dict[str, bool]:
    """For each blank, whether any crop shows every head, whole or trimmed."""
    facts, mine = PICTURES.inspect(path_of(name), decode=False), heads()[name]
    found = {}
    for what, (blank, face) in BLANKS.items():
        _, canvas = _blank(blank, face)
        photo, fill = facts.size_px, canvas.fill
        found[what] = any(
            not _BAD.intersection(what_of(h, _shown(crop, fill, canvas), photo.rect) for h in mine)
            for crop in _crops(photo, canvas)
        )
    return found


def _crops(photo: Size, canvas: Canvas) -> Iterator[Rect]:
    for step in range(_STEPS):
        at = step / (_STEPS - 1)
        for focus in ((at, at), (0.5, at), (at, 0.5)):
            yield cover_crop(photo, canvas.fill.size, focus, 1.0, canvas.aim_in(canvas.fill))


def _shown(crop: Rect, slot: Rect, canvas: Canvas) -> Rect:
    """The part (px) of the photo that is on the face itself, without bleed."""
    scale = crop.width / slot.width
    left, top = crop.x - slot.x * scale, crop.y - slot.y * scale
    return Rect(left, top, canvas.size.width * scale, canvas.size.height * scale)


def what_of(head: Rect, shown: Rect, photo: Rect) -> str:
    """What becomes of a head (shares of the photo) where that part (px) of it shows."""
    left, right = head.x * photo.width, head.right * photo.width
    top, bottom = head.y * photo.height, head.bottom * photo.height
    across = min(right, shown.right) - max(left, shown.x)
    down = min(bottom, shown.bottom) - max(top, shown.y)
    if across <= 0 or down <= 0:
        return "outside"
    gone = 1 - min(across / (right - left), down / (bottom - top))
    if gone <= _WHOLE:
        return "whole"
    return "trimmed" if gone <= _TRIMMED else "cut"


_BAD = {"cut", "outside"}


def _known(name: str) -> bool:
    """Whether anything here finds faces."""
    facts = PICTURES.inspect(path_of(name), decode=False)
    return choosing.find_faces(facts, PICTURES) is not None


def lines(some: list[str], pool: ProcessPoolExecutor) -> Iterator[str]:
    """Counts for each group, blank and knowledge of faces, and the photos with a head cut."""
    people = [name for name in some if name in heads()]
    can = dict(zip(people, pool.map(possible, people), strict=True))
    for faces in (False, True):
        if faces and people and not _known(people[0]):
            yield "heads with faces: not asked, since the library for them is not installed here"
            return
        found = dict(zip(people, pool.map(partial(cut, faces=faces), people), strict=True))
        for what in BLANKS:
            for whose in GROUPS:
                mine = {n: found[n][what] for n in people if group(n) == whose}
                bad = [n for n, became in mine.items() if _BAD.intersection(became)]
                never = sum(not can[n][what] for n in mine)
                each = [one for became in mine.values() for one in became]
                if mine:
                    knowing = "with faces" if faces else "without a library"
                    yield (
                        f"heads {what}, {knowing}, {whose}: a head cut in {len(bad)} of "
                        f"{len(mine)} photos ({never} in any crop); of {len(each)} heads "
                        f"{each.count('trimmed')} trimmed, {each.count('cut')} cut, "
                        f"{each.count('outside')} outside"
                    )
                    yield f"    {'; '.join(bad)}"
