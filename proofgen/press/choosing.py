"""Which papers for these pieces: the cheapest by the shop's rates, else the least paper."""

from __future__ import annotations

import itertools
import math
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

from proofgen.geometry import Rect, Size
from proofgen.model import Paper, Settings
from proofgen.press.packing import Spot, fill, fill_roll, fits
from proofgen.press.patterns import Box, Cost, Counts, boxes, cheapest, counts_within, layouts

# The longest sheet cut from a roll, mm. PDF readers may stop at 14,400 units, which is 5,080 mm
# (ISO 32000-1:2008, annex C.2); a person cutting by hand stops sooner. Ours.
LONGEST_MM = 2000.0
# No shorter one holds the upright ruler, mm. Ours, see beside.py.
_LEAST_MM = 125.0
# So many mixtures of what is still to lay are compared; of more, full sheets are laid first. Ours.
_MOST_STATES = 4000
# So many sizes are tried on roll and sheets in every way; of more, all go the same way. Ours.
_FEW = 4

# Whether the words of a sheet have room beside pieces that lie so on a page (mm as printed).
Roomy = Callable[[Paper, Sequence[Rect]], bool]


@dataclass(frozen=True, slots=True)
class Laid:
    """One sheet: its paper, the pieces on it by their index, and what it costs."""

    paper: Paper
    spots: tuple[Spot, ...]
    cost: Cost


def page_of(paper: Paper) -> Size:
    """The whole paper; of a roll the longest sheet."""
    return Size(paper.width_mm, paper.height_mm or LONGEST_MM)


def usable(paper: Paper, settings: Settings) -> Size:
    """What the printer reaches of a paper, in mm as they come out of it."""
    inside, scale = page_of(paper).rect.inset(settings.printer.margin_mm), settings.printer.scale
    return Size(inside.width * scale[0], inside.height * scale[1])


def choose(items: Sequence[Size], settings: Settings, roomy: Roomy) -> list[Laid]:
    """Lay all items (mm of paper piece) on papers of the shop, on one of which each fits.

    Of cut sheets no choice and no way to cut them is cheaper, as long as sizes and numbers are few
    (patterns.MOST_COUNTS); a crowd of sizes, and a roll, are packed as well as the packer can. Of
    equally cheap ways: the least paper, the fewest sheets, room for the sheet's words, sizes apart.
    """
    kinds = list(dict.fromkeys(items))
    shelf = _Shelf(kinds, settings, roomy)
    most = tuple(items.count(kind) for kind in kinds)
    waiting = {kind: [i for i, item in enumerate(items) if item == kind] for kind in kinds}
    ways = []
    for rolled in shelf.rolled():
        on_sheets = tuple(0 if kind in rolled else n for kind, n in enumerate(most))
        found = [*shelf.on_sheets(on_sheets)] if any(on_sheets) else []
        if rolled:
            found += shelf.on_roll({kind: most[kind] for kind in rolled})
        if sum(len(one.spots) for one in found) == len(items):
            ways.append(found)
    best = min(ways, key=lambda way: _total(one.cost for one in way))
    on = Counter(one.paper.name for one in best for _ in one.spots)
    best.sort(key=lambda one: (-on[one.paper.name], one.paper.name, -len(one.spots)))
    for at, one in enumerate(best):
        # Until now an index told the size: hand out the pieces, so that numbers run as in the list.
        named = tuple(replace(s, index=waiting[kinds[s.index]].pop(0)) for s in one.spots)
        best[at] = replace(one, spots=named)
    return best


def _total(costs: Iterable[Cost]) -> Cost:
    return tuple(map(sum, zip(*costs, strict=True)))


class _Shelf:
    """The shop's papers for some sizes of pieces; a spot's index is its size's."""

    def __init__(self, kinds: Sequence[Size], settings: Settings, roomy: Roomy) -> None:
        self._kinds, self._settings, self._roomy = kinds, settings, roomy
        self._sheets = [p for p in settings.papers if p.height_mm is not None]
        self._rolls = [p for p in settings.papers if p.height_mm is None]
        rates = settings.sheet_rates
        self._rates = rates if all(p.name in rates for p in settings.papers) else {}

    def _cost(self, paper: Paper, high: float, spots: Sequence[Spot]) -> Cost:
        """What a sheet costs, by the rates of all papers or without any: millionths of the money
        (of a roll: for its metres), hundredths of a mm², a sheet, words without room, sizes."""
        price = self._rates.get(paper.name, 0)
        metres = 1 if paper.height_mm else high / 1000
        page = Size(paper.width_mm, high)
        sizes = len({spot.index for spot in spots}) - 1
        bare = not self._roomy(replace(paper, height_mm=high), self._rects(spots))
        area = round(page.width * page.height * 100)
        return (round(float(price) * metres * 1e6), area, 1, int(bare), sizes)

    def _rects(self, spots: Sequence[Spot]) -> list[Rect]:
        margin, scale = self._settings.printer.margin_mm, self._settings.printer.scale
        return [
            Rect(
                margin + spot.x / scale[0],
                margin + spot.y / scale[1],
                size.width / scale[0],
                size.height / scale[1],
            )
            for spot in spots
            for size in [self._kinds[spot.index].turned if spot.turned else self._kinds[spot.index]]
        ]

    # -- cut sheets --------------------------------------------------------------------------

    def on_sheets(self, most: Counts) -> list[Laid]:
        """The cheapest sheets for so many of each size; fewer pieces where one fits no sheet."""
        papers = [(p, usable(p, self._settings)) for p in self._sheets]
        wanted = [kind for kind, n in enumerate(most) if n]
        if not all(any(fits(area, self._kinds[k]) for _, area in papers) for k in wanted):
            return []
        areas = [area for _, area in papers]
        counts = counts_within(areas, self._kinds, most)
        if counts is None:
            return self._crowd(papers, most)
        made = boxes(areas, self._kinds, counts)
        options = {count: self._cheapest_paper(papers, count, made[count]) for count in made}
        chosen, left = [], most
        while math.prod(n + 1 for n in left) > _MOST_STATES:
            pure, often = _full_sheets(left, options)
            if not often:
                return self._crowd(papers, most)
            chosen += [pure] * often
            left = tuple(n - often * p for n, p in zip(left, pure, strict=True))
        if any(left):
            chosen += cheapest(left, list(options), lambda count: options[count].cost)
        return [options[count] for count in chosen]

    def _cheapest_paper(
        self, papers: Sequence[tuple[Paper, Size]], count: Counts, found: Sequence[Box]
    ) -> Laid:
        ways = []
        for paper, area in papers:
            for laid in layouts(area, self._kinds, count, found):
                spots = tuple(replace(spot, index=kind) for kind, spot in laid)
                ways.append(Laid(paper, spots, self._cost(paper, page_of(paper).height, spots)))
                if not ways[-1].cost[3]:  # the words have room: no need to look on
                    break
        return min(ways, key=lambda one: one.cost)

    def _crowd(self, papers: Sequence[tuple[Paper, Size]], most: Counts) -> list[Laid]:
        """Too many sizes to try them all: every paper as the usual one, larger where one must be;
        then each sheet on the cheapest paper that holds what lies on it."""
        every = [kind for kind, n in enumerate(most) for _ in range(n)]
        by_price = sorted(papers, key=lambda one: self._cost(one[0], page_of(one[0]).height, ()))
        ways = []
        for usual in by_price:
            groups: dict[str, list[int]] = {}
            for kind in every:
                on = next(
                    paper for paper, area in [usual, *by_price] if fits(area, self._kinds[kind])
                )
                groups.setdefault(on.name, []).append(kind)
            laid = [
                self._smaller(paper, [replace(s, index=group[s.index]) for s in sheet], by_price)
                for paper, area in papers
                if (group := groups.get(paper.name))
                for sheet in fill(area, [self._kinds[kind] for kind in group])
            ]
            ways.append(laid)
        return min(ways, key=lambda way: _total(one.cost for one in way))

    def _smaller(
        self, on: Paper, spots: Sequence[Spot], by_price: Sequence[tuple[Paper, Size]]
    ) -> Laid:
        """All pieces of one sheet on the cheapest paper that holds them together; where the packer,
        given them alone, finds no way again, as they lie."""
        kinds = [spot.index for spot in spots]
        sizes = [self._kinds[kind] for kind in kinds]
        for paper, area in by_price:
            if all(fits(area, size) for size in sizes):
                sheets = fill(area, sizes)
                if len(sheets) == 1:
                    on, spots = paper, [replace(s, index=kinds[s.index]) for s in sheets[0]]
                    break
        return Laid(on, tuple(spots), self._cost(on, page_of(on).height, spots))

    # -- rolls -------------------------------------------------------------------------------

    def rolled(self) -> list[tuple[int, ...]]:
        """Which sizes may go on a roll while the others go on sheets: of many, those that fit no
        sheet, or all that fit a roll."""
        every = range(len(self._kinds))
        if not self._rolls:
            return [()]
        if len(every) > _FEW:
            must = tuple(kind for kind in every if not self._fits_one(self._sheets, kind))
            can = tuple(kind for kind in every if self._fits_one(self._rolls, kind))
            return list(dict.fromkeys((must, can)))
        return [some for n in range(len(every) + 1) for some in itertools.combinations(every, n)]

    def _fits_one(self, papers: Sequence[Paper], kind: int) -> bool:
        return any(fits(usable(paper, self._settings), self._kinds[kind]) for paper in papers)

    def on_roll(self, most: dict[int, int]) -> list[Laid]:
        """All of these on the cheapest roll that holds them; nothing where none does."""
        kinds = [kind for kind, n in most.items() for _ in range(n)]
        sizes = [self._kinds[kind] for kind in kinds]
        ways = []
        for paper in self._rolls:
            area = usable(paper, self._settings)
            if not all(fits(area, size) for size in sizes):
                continue
            laid = []
            for sheet in fill_roll(area.width, area.height, sizes):
                spots = tuple(replace(s, index=kinds[s.index]) for s in sheet)
                high = max(
                    max(r.bottom for r in self._rects(spots)) + self._settings.printer.margin_mm,
                    _LEAST_MM,
                )
                laid.append(Laid(paper, spots, self._cost(paper, high, spots)))
            ways.append(laid)
        return min(ways, key=lambda way: _total(one.cost for one in way), default=[])


def _full_sheets(left: Counts, options: dict[Counts, Laid]) -> tuple[Counts, int]:
    """Of the size that is most often left: its cheapest sheet for each piece, and how many of those
    take half of them."""
    most = max(range(len(left)), key=left.__getitem__)
    pure = [count for count in options if count[most] == sum(count)]
    best = min(pure, key=lambda count: [term / count[most] for term in options[count].cost])
    return best, left[most] // (2 * best[most])
