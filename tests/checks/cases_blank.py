"""Table of the checks of blanks."""

from __future__ import annotations

from dataclasses import replace

from proofgen.geometry import Hole, Rect
from proofgen.model import NoRoom
from tests.checks.case import NOT_NEEDED, PASS, Case
from tests.checks.factory import MAKER, blank, cloth, given, layer, layout, line, order, photo


def _press(**changes):
    return given(on=blank(press=replace(MAKER, **changes)))


def _cloth(**changes):
    return given(on=blank(cloth=cloth(**changes)))


HEAT = [
    Case("blank/heat", "maker", given(), (PASS,)),
    Case("blank/heat", "trial", _press(source="trial"), (PASS,)),
    Case(
        "blank/heat",
        "none",
        given(on=blank(press=None)),
        (("stop", "none"),),
        ("press a trial", "press: {heat: … C, time: … s, pressure: medium, from: maker}"),
    ),
    Case(
        "blank/heat",
        "practice",
        _press(source="practice", heat_c=(400 - 32) * 5 / 9),
        (("note", "practice"),),
        ("204.4 °C (400 °F) for 60 s is common practice, with no source",),
    ),
    Case(
        "blank/heat",
        "practice, built in",
        given(on=blank(press=replace(MAKER, source="practice"), built_in=True)),
        (("note", "practice"),),
        ("press: into blanks/", "makes."),
    ),
    Case("blank/heat", "coolest", _press(heat_c=170.0), (PASS,)),
    Case("blank/heat", "too cool", _press(heat_c=169.9), (("warn", "unusual-heat"),)),
    Case("blank/heat", "hottest", _press(heat_c=220.0), (PASS,)),
    Case("blank/heat", "400 taken for °C", _press(heat_c=400.0), (("warn", "unusual-heat"),)),
    Case("blank/heat", "shortest", _press(time_s=20.0), (PASS,)),
    Case("blank/heat", "too short", _press(time_s=5.0), (("warn", "unusual-time"),)),
    Case("blank/heat", "longest", _press(time_s=120.0), (PASS,)),
    Case("blank/heat", "too long", _press(time_s=600.0), (("warn", "unusual-time"),)),
    Case("blank/heat", "no blank", given(of=order(line(blank="gone"))), (NOT_NEEDED,)),
]

AGREES = [
    Case("blank/heat-agrees", "one figure", given(), (PASS,)),
    Case("blank/heat-agrees", "none", given(on=blank(press=None)), (PASS,)),
    # The pairs of a conversion table, and the pair one published course page prints.
    *(
        Case("blank/heat-agrees", f"{c} °C, {f} °F", _press(heat_c=c, heat_f_written=f), (PASS,))
        for c, f in [(180, 356), (193, 379), (199, 390), (200, 392), (204.4, 400), (210, 410)]
    ),
    Case(
        "blank/heat-agrees",
        "published: 424 F or 200 C",
        _press(heat_c=200.0, heat_f_written=424.0),
        (("stop", "differ"),),
        ("424 °F is 217.8 °C, not 200 °C", "200 °C would be 392 °F"),
    ),
    Case("blank/heat-agrees", "1 °C apart", _press(heat_c=200.0, heat_f_written=393.8), (PASS,)),
    Case(
        "blank/heat-agrees",
        "a little more",
        _press(heat_c=200.0, heat_f_written=393.9),
        (("stop", "differ"),),
    ),
    Case("blank/heat-agrees", "no blank", given(of=order(line(blank="gone"))), (NOT_NEEDED,)),
]

DYE = [
    Case("blank/dye-takes", "all", _cloth(polyester=1.0), (PASS,)),
    Case(
        "blank/dye-takes",
        "nearly",
        _cloth(polyester=0.99),
        (("warn", "part"),),
        ("99 % polyester",),
    ),
    Case("blank/dye-takes", "half", _cloth(polyester=0.5), (("warn", "part"),)),
    Case(
        "blank/dye-takes",
        "under half",
        _cloth(polyester=0.499),
        (("stop", "little"),),
        ("very pale",),
    ),
    Case("blank/dye-takes", "cotton", _cloth(polyester=0.0), (("stop", "little"),)),
    Case(
        "blank/dye-takes",
        "not told",
        _cloth(polyester=None),
        (("warn", "not-told"),),
        ("cloth: {finish: linen-look, polyester: 100 %, colours: {",),
    ),
    Case(
        "blank/dye-takes",
        "neither finish nor fibre told",
        _cloth(finish="", polyester=None),
        (("warn", "not-told"),),
        ("cloth: {polyester: 100 %, colours: {",),
    ),
    Case("blank/dye-takes", "no blank", given(of=order(line(blank="gone"))), (NOT_NEEDED,)),
]

FINISH = [
    Case("blank/finish", "told", given(), (PASS,)),
    Case(
        "blank/finish",
        "not told",
        _cloth(finish=""),
        (("note", "not-told"),),
        ("finish: is not said for ", "If it is linen-look, foam or smooth"),
    ),
    Case("blank/finish", "no blank", given(of=order(line(blank="gone"))), (NOT_NEEDED,)),
]

CLOSES = [
    Case("blank/closes", "closes", given(), (PASS,)),
    Case("blank/closes", "a coaster", given(on=blank("flat", id="can-wrap")), (PASS,)),
    Case(
        "blank/closes",
        "too short",
        given(on=blank(width_mm=220.0)),
        (("stop", "does-not-close"),),
        ("overlap by 2.9 mm", "Use a blank at least 227.1 mm long."),
    ),
    Case(
        "blank/closes", "too long", given(on=blank(width_mm=260.0)), (("stop", "does-not-close"),)
    ),
    Case("blank/closes", "no can", given(on=blank(vessel_mm=None)), (("stop", "no-measures"),)),
    Case("blank/closes", "no blank", given(of=order(line(blank="gone"))), (NOT_NEEDED,)),
]

FOAM = blank("sewn", cloth=cloth(finish="foam"))
_FRONT, _BACK = (
    photo(Rect(-6, -6, 112, 122), face="front"),
    photo(Rect(-6, -6, 112, 122), face="back"),
)
FLAT_FOAM = [
    Case("blank/two-sides-foam", "one side", given(layout(_FRONT, on=FOAM)), (PASS,)),
    Case(
        "blank/two-sides-foam",
        "both",
        given(layout(_FRONT, _BACK, on=FOAM)),
        (("note", "flattened"),),
    ),
    Case(
        "blank/two-sides-foam",
        "all round",
        given(layout(photo(Rect(-6, -6, 212, 122)), on=FOAM)),
        (("note", "flattened"),),
    ),
    Case(
        "blank/two-sides-foam",
        "linen-look",
        given(layout(_FRONT, _BACK, on=blank("sewn"))),
        (PASS,),
    ),
    Case("blank/two-sides-foam", "nothing laid out", given(), (NOT_NEEDED,)),
]


def _colour(name):
    return given(of=order(line(cloth=name)))


STRONG = [
    Case("blank/strong-cloth", "white", _colour("white"), (PASS,)),
    Case("blank/strong-cloth", "pale grey", _colour("dove"), (PASS,)),
    Case(
        "blank/strong-cloth", "sky", _colour("sky"), (("note", "tints"),), ("The cloth sky shows",)
    ),
    Case(
        "blank/strong-cloth",
        "night",
        _colour("night"),
        (("warn", "dark"),),
        ("Choose a paler cloth, or a picture",),
    ),
    Case("blank/strong-cloth", "no such cloth", _colour("moss"), (("skipped", "unknown"),)),
]


def _suits(cloth, *layers):
    return given(layout(*layers, colour=cloth), of=order(line(cloth=cloth)))


def _ground(colour, width=252.0):
    return layer("colour", Rect(-29, -6, width, 112), colour=colour)


_S = "blank/cloth-suits"
SUITS = [
    Case(_S, "white", _suits("white", _ground("#fbeed3")), (PASS,)),
    Case(_S, "off-white", _suits("dove", _ground("#22366b")), (PASS,)),
    Case(_S, "dark ink on sky", _suits("sky", _ground("#1d2f4f")), (PASS,)),
    Case(_S, "nothing inked", _suits("night"), (PASS,)),
    Case(
        _S,
        "pale ink on sky",
        _suits("sky", _ground("#fbeed3")),
        (("warn", "turns"),),
        (
            "change into others: none of its main colours stays what it is",
            "These suit the design: white or dove.",
        ),
    ),
    Case(
        _S,
        "half and half",
        _suits("sky", _ground("#1d2f4f"), _ground("#fbeed3", 90.0)),
        (("note", "shifts"),),
        ("change: only dark blue stays much as on white",),
    ),
    Case(
        _S,
        "a photo that is gone",
        _suits("sky", photo()),
        (("skipped", "unknown"),),
    ),
    Case(_S, "nothing laid out", given(), (PASS,)),
]


def _no_room(code: str) -> object:
    lacks = NoRoom(code, "the blank “Can wrap” needs 312 × 112 mm", "take a larger one")
    return replace(given(layout()), no_room={"can-wrap": lacks})


ROOM = [
    Case("blank/fits-press", "there is room", given(layout()), (PASS,)),
    Case(
        "blank/fits-press",
        "no platen",
        _no_room("platen"),
        (("stop", "platen"),),
        ("The blank “Can wrap” needs 312 × 112 mm.", "Take a larger one."),
    ),
    Case("blank/fits-press", "no paper", _no_room("paper"), (("stop", "paper"),)),
]

# 240 mm of cloth go π (66.1 + 3) = 217.08 mm round, so the ends overlap by 22.92 mm, and a spot x
# from the left comes to lie under one x + 217.08 from there.
LEFT = Hole(x=12.0, y=50.0, diameter=5.0)


def _punched(*holes, **changes):
    return given(on=blank(holes=holes, **changes))


HOLES = [
    Case("blank/holes", "none", given(), (PASS,)),
    Case(
        "blank/holes",
        "in a flat one",
        given(on=blank("flat", id="can-wrap", holes=(LEFT,))),
        (PASS,),
    ),
    Case("blank/holes", "where all see it", _punched(replace(LEFT, x=120.0)), (PASS,)),
    Case("blank/holes", "in the end on top alone", _punched(replace(LEFT, x=230.0)), (PASS,)),
    Case("blank/holes", "beside the closure", _punched(replace(LEFT, x=25.5)), (PASS,)),
    Case(
        "blank/holes",
        "under the closure alone",
        _punched(LEFT),
        (("note", "under-closure"),),
        (
            "12 mm from the left and 50 mm from the top",
            "no other hole comes to lie on it",
            "Measure",
        ),
    ),
    Case(
        "blank/holes",
        "as far from the other end",  # 12 + 217.08 - 228 = 1.08
        _punched(LEFT, replace(LEFT, x=228.0)),
        (("note", "under-closure"),),
        ("meets the hole over it in part, their middles 1.1 mm apart",),
    ),
    Case(
        "blank/holes",
        "on each other",
        _punched(LEFT, replace(LEFT, x=229.0)),
        (("note", "under-closure"),),
        ("it meets the hole over it, their middles 0.1 mm apart",),
    ),
    Case(
        "blank/holes",
        "apart",  # 217.08 + 12 - 219.08 = 10 across, and 10 down: hypot 14.1
        _punched(LEFT, replace(LEFT, x=219.08, y=60.0)),
        (("note", "under-closure"),),
        ("the nearest has its middle 14.1 mm from its own",),
    ),
    Case(
        "blank/holes",
        "the left end on top",  # the right end lies below: 228 - 217.08 = 10.92
        _punched(
            replace(LEFT, x=11.0),
            replace(LEFT, x=228.0),
            closure=replace(blank().closure, on_top="left"),
        ),
        (("note", "under-closure"),),
        ("the hole 228 mm from the left", "it meets the hole over it, their middles 0.1 mm apart"),
    ),
    Case(
        "blank/holes",
        "under a strip over both ends",
        _punched(LEFT, width_mm=217.1, closure=replace(blank().closure, on_top="neither")),
        (("note", "under-closure"),),
        ("under the closure, covered by its strip",),
    ),
    Case("blank/holes", "cannot be drawn", _punched(LEFT, closure=None), (PASS,)),
    Case("blank/holes", "no blank", given(of=order(line(blank="gone"))), (NOT_NEEDED,)),
]

CASES = [*ROOM, *SUITS, *HEAT, *AGREES, *DYE, *FINISH, *CLOSES, *HOLES, *FLAT_FOAM, *STRONG]
