"""Checks of what would lie where nobody sees it: in a seam, a fold, a hem, under the closure."""

from __future__ import annotations

from proofgen.checks.all_round import BUSY_TIMES
from proofgen.checks.areas import crossed, seen_area, shown_share, zones_met
from proofgen.checks.frame import Remark, Remarks, check, note, skipped, stop, warn
from proofgen.checks.mending import laid_photo_as
from proofgen.checks.subjects import InkedWords, LaidLayer, inked_words, placed_photos
from proofgen.geometry import Rect, ZoneKind
from proofgen.model import Focus, Limits, PlacedPhoto
from proofgen.model.limits import PRACTICE
from proofgen.say import mm, number, quoted
from proofgen.say.parts import IN_ZONES, LETTERS_IN_ZONES

# Where letters are lost however little lies there; and where only if more than half of them does.
_LOST: tuple[ZoneKind, ...] = ("closure", "seam", "gap", "hole")
_HIDDEN: tuple[ZoneKind, ...] = ("hem", "base")
_HALF, _NOTHING = 0.5, 0.01


@check(
    "layout/zones",
    inked_words,
    why="A name under the closure or in a seam is a name nobody reads: the blank is lost.",
    source="the blank's own measures",
    codes={
        "in-closure": "letters under the closure",
        "in-seam": "letters in a seam",
        "in-gap": "letters where no ink reaches",
        "in-hole": "letters where a hole is punched",
        "in-fold": "letters on the fold",
        "in-hem": "letters in the hem",
        "in-base": "letters under the can",
    },
)
def zones(words: InkedWords, _: Limits) -> Remarks:
    """No letter lies in a seam, a fold or under the closure."""
    plan, placed = words.laid.plan, words.laid.placed
    met = zones_met(plan, placed.face, words.ink)
    if plan.construction == "fold":
        for at in crossed(plan, placed.face, words.ink):
            met["seam"] = min(at - words.ink.x, words.ink.right - at)
    shown = shown_share(plan, placed.face, words.ink)
    for kind, deep in met.items():
        lost = kind in _LOST or (kind in _HIDDEN and shown < _HALF)
        far = "wholly" if shown < _NOTHING and len(met) == 1 else f"{mm(deep)} deep"
        yield (stop if lost else warn)(
            f"in-{kind}",
            f"{quoted(placed.text)} would lie {far} {LETTERS_IN_ZONES[kind]}.",
            "Move the words away from there, or make them smaller.",
            measure=deep,
            limit=0.0,
        )


_POINT_MM = 1.0  # a point of interest is taken as a spot of this size


@check(
    "layout/focus",
    placed_photos,
    why="The point of interest of a photo is mostly a face; in a seam or under the closure it is "
    "lost.",
    source="the blank's own measures",
    codes={
        "hidden": "the point of interest lies in a zone",
        "cut-off": "the point of interest is outside what can be seen",
        "chosen": "nobody gave a point of interest, and one was chosen",
        "chosen-anew": "the one in the order was chosen for another picture; another was chosen",
        "unknown": "the photo has no point of interest",
    },
)
def focus(laid: LaidLayer[PlacedPhoto], _: Limits) -> Remarks:
    """The main thing of every photo can be seen."""
    spot = _focus_spot(laid.placed)
    if spot is None:
        yield skipped("unknown", "Nobody said where the main thing of this photo is.")
        return
    if outdated := laid.line.line.photos[laid.placed.slot].outdated:
        yield _chosen_anew(outdated, laid)
    whose = "we took as" if laid.placed.focus_chosen else "was given as"
    cure = "Write another focus, or where it has a zoom a smaller one, " + laid_photo_as(
        laid, focus=laid.placed.focus
    )
    met = list(zones_met(laid.plan, laid.placed.face, spot))
    if met:
        yield warn(
            "hidden",
            f"The point that {whose} the main thing of this photo would lie {IN_ZONES[met[0]]}.",
            cure,
            measure=met[0],
        )
    elif seen_area(laid.plan, laid.placed.face).overlap(spot) is None:
        yield warn(
            "cut-off", f"The point that {whose} the main thing of this photo cannot be seen.", cure
        )
    elif laid.placed.focus_chosen and laid.placed.focus and not outdated:
        x, y = (number(share * 100, 0) for share in laid.placed.focus)
        yield note(
            "chosen",
            f"Nobody said where the main thing of this photo is, so a point was chosen: {x} % from "
            f"its left, {y} % from its top.",
            "Look at the proof. To have another part shown, write other shares from left and top "
            + laid_photo_as(laid, focus=laid.placed.focus),
        )


def _chosen_anew(outdated: Focus, laid: LaidLayer[PlacedPhoto]) -> Remark:
    meant = laid.placed.focus or outdated
    was, now = (
        " and ".join(
            f"{number(share * 100, 0)} % from its {side}"
            for share, side in zip(focus, ("left", "top"), strict=True)
        )
        for focus in (outdated, meant)
    )
    return warn(
        "chosen-anew",
        f"This is another photo than the last proof shows, and the focus in order.yaml ({was}) was "
        f"chosen for the one before. It no longer counts: a point was chosen anew, {now}. The next "
        "proof writes it into order.yaml.",
        "Look at the next proof. To have another part shown, write other shares from left and top "
        + laid_photo_as(laid, focus=meant),
    )


def _focus_spot(photo: PlacedPhoto) -> Rect | None:
    """Where the photo's point of interest comes to lie, in the face's frame (mm)."""
    point = photo.focus_on_face
    if point is None:
        return None
    return Rect(point[0] - _POINT_MM / 2, point[1] - _POINT_MM / 2, _POINT_MM, _POINT_MM)


@check(
    "layout/base",
    placed_photos,
    why="What lies under the can is seen by nobody once the piece is on it.",
    source=f"the blank's own base; which places of a photo are busy: {PRACTICE}",
    codes={
        "under": "how much of the photo lies under the can",
        "busy": "much of what is busy in the photo lies under the can",
    },
)
def base(laid: LaidLayer[PlacedPhoto], limits: Limits) -> Remarks:
    """No photo has its main things under the can."""
    under = laid.placed.under
    if under is None:
        return
    hides = (
        f"The lowest {number(under.hidden_mm, 0)} mm of this photo "
        f"({number(under.hidden * 100, 0)} % of it) lie under the can"
    )
    limit = max(limits.busy_join, BUSY_TIMES * under.hidden)
    if under.detail > limit:
        yield warn(
            "busy",
            f"{hides}, with {number(under.detail * 100, 0)} % of what is busy in the picture: a "
            "face or a figure may be there.",
            "Write a focus further down; or have the calmest place chosen, "
            + laid_photo_as(laid, focus=None, anew=True),
            measure=under.detail,
            limit=limit,
        )
    else:
        yield note("under", f"{hides}, where nobody sees them.", measure=under.hidden)
