"""The strip beside the pieces: rulers, the letter R, and what the printer's dialog must say."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from proofgen.geometry import Rect, Size
from proofgen.model import Settings
from proofgen.press.lettering import wrap
from proofgen.press.pieces import Setting
from proofgen.render.at_scale import RULER_MM

ROW, COLUMN = "row", "column"

# All mm on the page. Ours.
_RULER = 8.0  # the level ruler's own strip
_UPRIGHT = 10.0  # the upright one's, with its figures beside it
_TYPE = 2.7
_LEADING = 3.5
_COLUMN = 31.0
_HEAD = 14.0  # R and the sheet's number
GAP = 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """Where pieces may lie (`room`) and where the strip lies (`slug`), page mm.

    `kind` is `row` (strip along the foot, upright ruler at the left) or `column` (strip at the
    right, level ruler along the foot). `across` and `down` are the rulers' origins.
    """

    kind: str
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
        if self.kind == ROW and any(p.x < room.x + 0.1 for p in pieces):
            cuts.append(left)
        if self.kind == COLUMN and any(p.right > room.right - 0.1 for p in pieces):
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


def frames(page: Size, settings: Settings, kinds: tuple[str, ...]) -> list[Frame]:
    """The ways to share a page between pieces and strip, the usual one first; page mm.

    A page too small for a strip of that kind gives none.
    """
    margin = settings.printer.margin_mm
    inside = page.rect.inset(margin)
    makers = {ROW: _row, COLUMN: _column}
    made = [makers[kind](page, inside, settings) for kind in kinds]
    return [frame for frame in made if frame is not None]


def _row(page: Size, inside: Rect, settings: Settings) -> Frame | None:
    lines = wrapped(printer_notes(settings), inside.width)
    high = _HEAD + len(lines) * _LEADING + GAP
    room = inside.grown(-_UPRIGHT, 0, 0, -high)
    scale = settings.printer.scale
    if room.width < 20 or room.height < 20 or inside.width < RULER_MM / scale[0] + 18:
        return None
    if room.height < RULER_MM / scale[1] + 6:
        return None
    slug = Rect(inside.x, room.bottom + GAP, inside.width, high - GAP)
    return Frame(
        kind=ROW,
        page=page,
        room=room,
        slug=slug,
        across=(slug.x + 15, slug.y + 1),
        down=(inside.x, inside.y + 4),
    )


def _column(page: Size, inside: Rect, settings: Settings) -> Frame | None:
    lines = wrapped(printer_notes(settings), _COLUMN - GAP)
    room = inside.grown(0, 0, -_COLUMN, -_RULER)
    scale = settings.printer.scale
    slug = Rect(room.right + GAP, inside.y, _COLUMN - GAP, inside.height)
    words = 2 * _HEAD + (len(lines) + 8) * _LEADING
    if room.width < 20 or inside.width < RULER_MM / scale[0] + 6:
        return None
    if slug.height < words + RULER_MM / scale[1] + 8:
        return None
    return Frame(
        kind=COLUMN,
        page=page,
        room=room,
        slug=slug,
        across=(inside.x + 2, inside.bottom - _RULER + 1),
        down=(slug.x, slug.y + words + 4),
    )


def wrapped(sentences: list[str], width: float) -> list[str]:
    """Sentences as lines that fit `width` mm in the strip's type."""
    return [line for text in sentences for line in wrap(text, _TYPE, width)]


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


@dataclass(frozen=True, slots=True, kw_only=True)
class SlugWords:
    """The strip's words with their places: (x, baseline, size mm, weight, text)."""

    lines: list[tuple[float, float, float, int, str]]
    r: tuple[float, float]


def set_words(
    frame: Frame, settings: Settings, title: tuple[str, str], setting: Setting, about: str
) -> SlugWords:
    """Place title (the sheet, then of how many and on what), setting and notes in the strip."""
    slug, notes = frame.slug, printer_notes(settings)
    if frame.kind == ROW:
        start = slug.x + 15 + RULER_MM / settings.printer.scale[0] + 6
        body, left, top = wrapped(notes, slug.width), slug.x, slug.y + _HEAD + 1.5
        lines = [
            (start, slug.y + 4.4, 4.6, 700, " ".join(title)),
            (start, slug.y + 8.4, _TYPE, 700, setting.in_words),
            (start, slug.y + 11.8, _TYPE, 400, about),
        ]
    else:
        # An empty line before each note.
        body = wrapped([*setting.in_words.split(" · "), about], slug.width)
        for note in notes:
            body += ["", *wrapped([note], slug.width)]
        left, top = slug.x, slug.y + _HEAD + 13.5
        lines = [
            (slug.x, slug.y + _HEAD + 4.5, 4.6, 700, title[0]),
            (slug.x, slug.y + _HEAD + 9, _TYPE, 700, title[1]),
        ]
    lines += [(left, top + i * _LEADING, _TYPE, 400, text) for i, text in enumerate(body) if text]
    return SlugWords(lines=lines, r=(slug.x, slug.y + 0.5))
