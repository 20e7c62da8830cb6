"""The strip beside the pieces: where it and the rulers lie, and what it tells of the printer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from proofgen.geometry import Rect, Size
from proofgen.model import Settings
from proofgen.press.lettering import wrap
from proofgen.render.at_scale import RULER_MM

FrameKind = Literal["row", "column"]

# All mm on the page. Ours.
_RULER = 8.0  # the level ruler's own strip
_UPRIGHT = 10.0  # the upright one's, with its figures beside it
_COLUMN = 31.0
_GAP = 2.0
# Of the strip's words: size, distance of two lines, and the height of R and the sheet's number.
TYPE, LEADING, HEAD = 2.7, 3.5, 14.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """Where pieces may lie (`room`) and where the strip lies (`slug`), page mm.

    `kind` is `row` (strip along the foot, upright ruler at the left) or `column` (strip at the
    right, level ruler along the foot). `across` and `down` are the rulers' origins.
    """

    kind: FrameKind
    page: Size
    room: Rect
    slug: Rect
    across: tuple[float, float]
    down: tuple[float, float]

    def edge_cuts(self, pieces: Sequence[Rect]) -> list[tuple[float, float, float, float]]:
        """The cuts that part the strip from pieces which reach up to it (x1, y1, x2, y2)."""
        room = self.room
        cuts = []
        left = (room.x, room.y, room.x, room.bottom)
        right = (room.right, room.y, room.right, room.bottom)
        foot = (room.x, room.bottom, room.right, room.bottom)
        if self.kind == "row" and any(p.x < room.x + 0.1 for p in pieces):
            cuts.append(left)
        if self.kind == "column" and any(p.right > room.right - 0.1 for p in pieces):
            cuts.append(right)
        if any(p.bottom > room.bottom - 0.1 for p in pieces):
            cuts.append(foot)
        return cuts

    def shortened(self, lowest: float) -> Frame:
        """For a roll: the same frame on a page that ends below `lowest` (page mm)."""
        least = self.down[1] + RULER_MM * 1.1
        by = self.room.bottom - max(lowest, least)
        return replace(
            self,
            page=Size(self.page.width, self.page.height - by),
            room=Rect(self.room.x, self.room.y, self.room.width, self.room.height - by),
            slug=self.slug.moved(0, -by),
            across=(self.across[0], self.across[1] - by),
        )


def frames(page: Size, settings: Settings, kinds: Sequence[FrameKind]) -> list[Frame]:
    """The ways to share a page between pieces and strip, the usual one first; page mm.

    A page too small for a strip of that kind gives none.
    """
    margin = settings.printer.margin_mm
    inside = page.rect.inset(margin)
    makers = {"row": _row, "column": _column}
    fitting = (makers[kind](page, inside, settings) for kind in kinds)
    return [frame for frame in fitting if frame is not None]


def _row(page: Size, inside: Rect, settings: Settings) -> Frame | None:
    lines = wrapped(printer_notes(settings), inside.width)
    high = HEAD + len(lines) * LEADING + _GAP
    room = inside.grown(-_UPRIGHT, 0, 0, -high)
    scale = settings.printer.scale
    if room.width < 20 or room.height < 20 or inside.width < RULER_MM / scale[0] + 18:
        return None
    if room.height < RULER_MM / scale[1] + 6:
        return None
    slug = Rect(inside.x, room.bottom + _GAP, inside.width, high - _GAP)
    return Frame(
        kind="row",
        page=page,
        room=room,
        slug=slug,
        across=(slug.x + 15, slug.y + 1),
        down=(inside.x, inside.y + 4),
    )


def _column(page: Size, inside: Rect, settings: Settings) -> Frame | None:
    lines = wrapped(printer_notes(settings), _COLUMN - _GAP)
    room = inside.grown(0, 0, -_COLUMN, -_RULER)
    scale = settings.printer.scale
    slug = Rect(room.right + _GAP, inside.y, _COLUMN - _GAP, inside.height)
    words = 2 * HEAD + (len(lines) + 8) * LEADING
    if room.width < 20 or inside.width < RULER_MM / scale[0] + 6:
        return None
    if slug.height < words + RULER_MM / scale[1] + 8:
        return None
    return Frame(
        kind="column",
        page=page,
        room=room,
        slug=slug,
        across=(inside.x + 2, inside.bottom - _RULER + 1),
        down=(slug.x, slug.y + words + 4),
    )


def wrapped(sentences: list[str], width: float) -> list[str]:
    """Sentences as lines that fit `width` mm in the strip's type."""
    return [line for text in sentences for line in wrap(text, TYPE, width)]


def printer_notes(settings: Settings) -> list[str]:
    """What the printer's dialog must say, sentence by sentence."""
    printer = settings.printer
    profile = f"“{printer.profile}”" if printer.profile else "the one for this ink and this paper"
    side = printer.side or "the coated side, which takes the ink"
    return [
        "In the printer’s dialog: mirror off (this page is mirrored already) · "
        "actual size, 100 %, no fitting to the page · "
        f"colour profile: {profile} · print on: {side}.",
        "The R must read backwards. Both rulers must measure 100 mm; if one does not, write what "
        "you measure under printer: scale: in shop.yaml and make the sheets again.",
    ]
