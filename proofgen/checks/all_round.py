"""Checks of what goes all the way round: how it meets itself, and what becomes of it there."""

from __future__ import annotations

from proofgen.checks.frame import Remarks, check, note, warn
from proofgen.checks.mending import laid_photo_as
from proofgen.checks.subjects import LaidLayer, LaidVariant, layers, placed_photos, variants
from proofgen.model import Limits, Placed, PlacedArt, PlacedPattern, PlacedPhoto
from proofgen.model.limits import PRACTICE
from proofgen.say import mm, number


@check(
    "layout/across-seam",
    variants,
    why="Ink cannot follow the cloth into a finished seam, and pressing both sides flattens foam.",
    source=f"{PRACTICE} (all-round print on a sewn blank; flat-to-sew; wrap)",
    codes={
        "line": "an all-round picture on a sewn blank leaves a line at the seams",
        "meets": "an all-round picture on a folded blank meets in the seams",
    },
)
def across_seam(laid: LaidVariant, _: Limits) -> Remarks:
    """No picture has to cross a seam."""
    layout = laid.layout
    placed = layout.faces.get("round")
    if not placed:
        return
    canvas = layout.plan.canvases["round"]
    ends = any(
        isinstance(one, PlacedPhoto | PlacedArt) and canvas.goes_round(one.rect) for one in placed
    )
    back = " Its ends meet down the middle of the back." if ends and canvas.ends_on_back else ""
    if layout.plan.construction == "sewn":
        line = 2 * max((z.rect.width for z in layout.plan.zones if z.kind == "gap"), default=0.0)
        wide = f"a bare line about {mm(line)} wide" if line else "a thin bare line"
        foam = layout.blank.cloth.finish == "foam"
        flat = ", and pressing both sides flattens the foam" if foam else ""
        yield warn(
            "line",
            f"This picture goes all the way round a sewn blank: {wide} stays at each seam{flat}."
            f"{back}",
            "Take it so; or choose a wrap, which carries the picture in one piece; or a blank "
            "pressed flat and sewn afterwards, which leaves no line.",
            measure=line,
            limit=0.0,
        )
    elif layout.plan.construction == "fold":
        yield note(
            "meets",
            "This picture goes all the way round and meets in the two seams at the sides; sewing "
            f"may shift it by a millimetre there, and the finished piece looks rounder.{back}",
        )


# A photo that is busy all over has as large a share of its detail there as of its area.
BUSY_TIMES = 1.6


@check(
    "layout/join",
    placed_photos,
    why="Where a wrap closes, one end of the picture lies hidden under the other, and two places "
    "of the picture that do not belong together meet.",
    source=f"the blank's own measures; which places of a photo are busy: {PRACTICE}",
    codes={
        "meets": "how much of the photo lies under the overlap, and what meets at the join",
        "covered": "how much of the photo lies under the strip over its ends",
        "busy": "much of what is busy in the photo lies under the overlap or beside the join",
    },
)
def join(laid: LaidLayer[PlacedPhoto], limits: Limits) -> Remarks:
    """No photo has its main things where a wrap closes."""
    closes = laid.placed.join
    if closes is None:
        return
    ends = ("left", "right") if closes.side == "left" else ("right", "left")
    wide, share = number(closes.hidden_mm, 0), f"{number(closes.hidden * 100, 0)} % of it"
    hides = (
        f"Where the ends meet, {wide} mm of this photo ({share}), half of it at each end, lie "
        "hidden under the strip"
        if closes.side == "neither"
        else f"Where the ends close, {wide} mm of this photo at its {ends[0]} end ({share}) lie "
        "hidden under the overlap"
    )
    limit = max(limits.busy_join, BUSY_TIMES * closes.strips)
    if closes.detail > limit:
        yield warn(
            "busy",
            f"{hides}, and with the edges of the join that takes "
            f"{number(closes.detail * 100, 0)} % of what is busy in the picture: a face or a "
            "figure may be cut there.",
            "Write another focus; or have the calmest place chosen, "
            + laid_photo_as(laid, focus=None, anew=True),
            measure=closes.detail,
            limit=limit,
        )
    elif closes.side == "neither":
        yield note("covered", f"{hides}.", measure=closes.hidden)
    else:
        yield note(
            "meets",
            f"{hides}. Its {ends[1]} end comes to lie beside that strip; the picture does not run "
            "on from one to the other.",
            measure=closes.hidden,
        )


_WAYS = {"mirrored": "every other repeat turned over", "half-drop": "every other column lower"}


@check(
    "layout/pattern",
    layers,
    why="A pattern that meets itself across the closure needs a whole number of repeats (an even "
    "one where every other column differs); making it so changes its size a little.",
    source="the way round the can, worked out from the blank's measures",
    codes={
        "scaled": "the repeat was changed so that the pattern meets itself",
        "does-not-meet": "the pattern does not meet itself across the closure",
        "both-upright": "on a folded blank the pattern stands upright on the back too",
        "may-shift": "sewing may shift a pattern that meets in the side seams",
    },
)
def pattern(laid: LaidLayer[Placed], limits: Limits) -> Remarks:
    """Every pattern meets itself and keeps its size."""
    placed, plan = laid.placed, laid.plan
    if not isinstance(placed, PlacedPattern):
        return
    asked, repeat = placed.repeat_asked_mm, placed.repeat_mm
    if asked > 0 and abs(repeat / asked - 1) >= 0.0005:
        yield note("scaled", _scaled(placed), measure=repeat, limit=asked)
    canvas = plan.canvases[placed.face]
    way, goes_round = canvas.size.width, canvas.goes_round(placed.rect)
    if plan.construction == "wrap" and goes_round and repeat > 0:
        step = repeat * (2 if placed.lay in _WAYS else 1)
        off = way - round(way / step) * step
        if abs(off) > limits.pattern_gap_mm:
            times = "an even" if placed.lay in _WAYS else "a whole"
            yield warn(
                "does-not-meet",
                f"The pattern is out by {mm(abs(off))} where the ends meet.",
                f"Choose a repeat that goes into the way round {times} number of times "
                f"({mm(way)}).",
                measure=abs(off),
                limit=limits.pattern_gap_mm,
            )
    if plan.construction in ("fold", "sewn") and goes_round:
        yield note(
            "may-shift",
            "The pattern is drawn to meet itself in the side seams; sewing may shift it by a "
            "millimetre there.",
        )
    if plan.construction == "fold" and placed.face in ("round", "back"):
        where = "on the front and on the back" if placed.face == "round" else "on the back"
        yield note(
            "both-upright",
            f"The pattern stands upright {where} when the piece is worn; it does not run on over "
            "the fold at the bottom, but starts again there the other way up.",
        )


def _scaled(placed: PlacedPattern) -> str:
    percent = (placed.repeat_mm / placed.repeat_asked_mm - 1) * 100
    change = "larger" if percent > 0 else "smaller"
    times = f": {placed.repeats_round} repeats go round" if placed.repeats_round else ""
    if times and placed.lay in _WAYS:
        times += f", an even number because it is laid {placed.lay} ({_WAYS[placed.lay]})"
    return (
        f"The pattern was made {number(abs(percent))} % {change} (a repeat of "
        f"{number(placed.repeat_mm, 2)} mm instead of {number(placed.repeat_asked_mm, 2)} mm), so "
        f"that it meets itself{times}."
    )
