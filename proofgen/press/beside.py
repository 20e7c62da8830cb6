"""What lies beside the pieces: the band, rulers, R and notes, where they take no piece's room."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field

from proofgen.geometry import Rect, Size
from proofgen.model import Settings
from proofgen.press.band import LADDER, LEGIBLE, BandFacts, Block, Letters, Sizes, set_band
from proofgen.press.lettering import wrap
from proofgen.press.packing import cuts, fits_upright
from proofgen.render.at_scale import RULER_MM, ruler_ticks
from proofgen.units import PT_PER_MM

# All mm on the page. Ours.
_GAP, _APART = 1.5, 3.0  # between what lies here and a piece of paper, and from one to the next
_TYPE, _LEADING, _SMALL = 2.7, 3.5, 2.4
_INSET = 2.0  # from the edge of what is free, where there is room
_LINES = (45.0, 130.0)  # of the notes: shorter and longer ones are hard to read
_TICKS = (3.6, 2.4, 1.4)  # of the rulers: at tens, at fives, at each mm
_R_HIGH = 11.0
_R_BOX = (10.0, 12.0)  # the drawing's own units, see the template


@dataclass(frozen=True, slots=True)
class Thing:
    """A block where it lies on the page (mm); `turned`: clockwise by a quarter."""

    block: Block
    at: Rect
    turned: bool = False


@dataclass(slots=True)
class _Space:
    """The free rectangles of a page, each as large as can be, and what is taken."""

    page: Rect
    papers: Sequence[Rect]
    free: list[Rect]
    taken: list[Rect] = field(default_factory=list)

    def take(self, at: Rect) -> None:
        self.taken.append(at)
        self.free = _without(self.free, at.grown(_APART, _APART, _APART, _APART))

    def can_be_cut(self, at: Rect) -> bool:
        """Whether straight cuts can free the pieces and pass by this, too."""
        if not self.papers:  # nothing is cut from a page of measures
            return True
        try:
            return bool(list(cuts(self.page, self.papers, (*self.taken, at))))
        except ValueError:
            return False


def _without(free: Sequence[Rect], taken: Rect) -> list[Rect]:
    """The free rectangles once `taken` is not; none of them inside another."""
    left: list[Rect] = []
    for rect in free:
        met = rect.overlap(taken)
        if met is None:
            left.append(rect)
            continue
        left += [
            Rect(rect.x, rect.y, met.x - rect.x, rect.height),
            Rect(met.right, rect.y, rect.right - met.right, rect.height),
            Rect(rect.x, rect.y, rect.width, met.y - rect.y),
            Rect(rect.x, met.bottom, rect.width, rect.bottom - met.bottom),
        ]
    room = [rect for rect in left if rect.width > 3 and rect.height > 3]
    return [
        one
        for at, one in enumerate(room)
        if not any(
            other.holds(one) and (not one.holds(other) or before < at)
            for before, other in enumerate(room)
            if before != at
        )
    ]


def _space(page: Size, papers: Sequence[Rect], settings: Settings) -> _Space:
    free = [page.rect.inset(settings.printer.margin_mm)]
    for paper in papers:
        free = _without(free, paper.grown(_GAP, _GAP, _GAP, _GAP))
    return _Space(page.rect, papers, free)


_Set = Callable[[float, bool], Block | None]  # a block no wider than that, to be turned or not


def _ways(space: _Space, make: _Set, turn: Sequence[bool]) -> Iterator[Thing]:
    """Wherever a block fits: the first way of turning first, then in the fewest lines, then in the
    top left corner of what is free, where it leaves least over."""
    for turned in turn:
        found = []
        for rect in space.free:
            room = rect.size.turned if turned else rect.size
            block = make(room.width, turned)
            if block is None or not fits_upright(room, Size(block.width, block.height)):
                continue
            size = Size(block.width, block.height)
            lies = size.turned if turned else size
            over_x, over_y = rect.width - lies.width, rect.height - lies.height
            in_x, in_y = min(_INSET, over_x / 2), min(_INSET, over_y / 2)
            for corner, (x, y) in enumerate(
                itertools.product((in_x, over_x - in_x), (in_y, over_y - in_y))
            ):
                at = Rect(rect.x + x, rect.y + y, lies.width, lies.height)
                rank = (round(block.height, 1), corner, round(min(over_x, over_y), 1))
                found.append((rank, Thing(block, at, turned)))
        yield from (thing for _, thing in sorted(found, key=lambda one: one[0]))


def _put(space: _Space, make: _Set, turn: Sequence[bool] = (False,)) -> Thing | None:
    """Lay a block where straight cuts pass by it; None, and nothing taken, where it has no room."""
    for thing in _ways(space, make, turn):
        if space.can_be_cut(thing.at):
            space.take(thing.at)
            return thing
    return None


def _band(facts: BandFacts, sizes: Sizes) -> tuple[_Set, tuple[bool, bool]]:
    """The band's setting, and which way it is set first: as the blanks lie."""
    turned = bool(facts.tops) and all(way == "right" for _, way in facts.tops)
    return lambda room, turn: set_band(facts, sizes, room, turned=turn), (turned, not turned)


def has_room(page: Size, papers: Sequence[Rect], settings: Settings, facts: BandFacts) -> bool:
    """Whether the band fits beside these pieces in type that is read at arm's length."""
    return _put(_space(page, papers, settings), *_band(facts, LEGIBLE)) is not None


def lay_beside(
    page: Size, papers: Sequence[Rect], settings: Settings, facts: BandFacts, notes: Sequence[str]
) -> list[Thing]:
    """Everything that finds room beside the pieces, the band first, in the largest type that leaves
    room for the rest. What has no room is left out: no piece makes way for it."""
    best: tuple[tuple[bool, int, int], list[Thing]] = ((False, 0, 0), [])
    for step, sizes in enumerate(LADDER):
        space = _space(page, papers, settings)
        band = _put(space, *_band(facts, sizes))
        if band is None:
            continue
        others = [
            _put(space, _always(_the_r())),
            _put(space, _always(_ruler(settings, upright=False))),
            _put(space, _always(_ruler(settings, upright=True))),
            _put(space, lambda room, _: _notes(notes, room), (band.turned, not band.turned)),
        ]
        placed = [band, *(thing for thing in others if thing)]
        rank = (sizes.figures >= LEGIBLE.figures, len(placed), -step)
        best = max(best, (rank, placed), key=lambda one: one[0])
        if len(placed) == 1 + len(others) and rank[0]:
            break
    return best[1]


def everything(things: Sequence[Thing]) -> bool:
    """Whether nothing was left out."""
    return len(things) == 5


def measurable(things: Sequence[Thing]) -> bool:
    """Whether a ruler, the R and a heat read at arm's length lie there."""
    figures = LEGIBLE.figures / PT_PER_MM
    return (
        any(len(thing.block.lines) > RULER_MM for thing in things)
        and any(thing.block.backwards_r for thing in things)
        and any(letter.size >= figures for thing in things for letter in thing.block.letters)
    )


def _always(block: Block) -> _Set:
    return lambda _room, _turned: block


def _the_r() -> Block:
    scale = _R_HIGH / _R_BOX[1]
    return Block(width=_R_BOX[0] * scale + 1, height=_R_HIGH + 0.5, backwards_r=scale)


def _ruler(settings: Settings, *, upright: bool) -> Block:
    """100 mm, as it must come out: drawn at 100 mm / the printer's scale."""
    mm = 1 / settings.printer.scale[1 if upright else 0]
    long = RULER_MM * mm
    first = 2.0  # so that the figures at its ends have room
    lines = [(first, 0.2, first + long, 0.2)]
    letters: list[Letters] = []
    for at, deep in ruler_ticks(*_TICKS):
        along = first + at * mm
        lines.append((along, 0.2, along, 0.2 + deep))
        if at % 50 == 0:
            text = f"{at}" if at < RULER_MM or upright else "100 mm"
            where = (4.2, along + 0.9) if upright else (along - 0.7 * len(f"{at}"), 6.4)
            letters.append(Letters(*where, _SMALL, 400, text))
    wide, high = first + long + 7, 7.2
    if upright:
        wide, high = 9.0, first + long + 2
        lines = [(y1, x1, y2, x2) for x1, y1, x2, y2 in lines]
    return Block(width=wide, height=high, letters=tuple(letters), lines=tuple(lines))


def _notes(notes: Sequence[str], room: float) -> Block | None:
    least, most = _LINES
    if room < least:
        return None
    wide = min(room, most)
    lines = [line for note in notes for line in wrap(note, _TYPE, wide)]
    letters = (Letters(0, _TYPE + at * _LEADING, _TYPE, 400, line) for at, line in enumerate(lines))
    return Block(width=wide, height=len(lines) * _LEADING, letters=tuple(letters))


def printer_notes(settings: Settings) -> list[str]:
    """What the printer's dialog must say, and how the sheet is read, sentence by sentence."""
    printer = settings.printer
    profile = f"“{printer.profile}”" if printer.profile else "the one for this ink and this paper"
    side = printer.side or "the coated side, which takes the ink"
    return [
        "In the printer’s dialog: mirror off (this page is mirrored already) · "
        "actual size, 100 %, no fitting to the page · "
        f"colour profile: {profile} · print on: {side}.",
        "Words are to be read on this side, the printed one; only the pictures and the R are "
        "mirrored. The R must read backwards. Each ruler must measure 100 mm; if one does not, "
        "write what you measure under printer: scale: in shop.yaml and make the sheets again.",
    ]
