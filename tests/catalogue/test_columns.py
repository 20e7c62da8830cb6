"""On paper no price touches another, in any currency and language, and none leaves its page."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from typing import Any

import pytest

from proofgen.catalogue import PAPERS, stall_sheet
from proofgen.catalogue.booklet import season_sheets
from proofgen.render import Theme
from proofgen.render.pdf import _set
from tests.catalogue.reading import Page
from tests.catalogue.season import entry, offer, season

PX = 96 / 25.4
FEW = ((1, "24.50"), (10, "21.00"))
MORE = ((1, "32.00"), (5, "30.00"), (10, "28.50"), (25, "26.00"))
MOST = ((1, "1250.00"), (10, "1185.00"), (25, "1120.00"), (50, "1080.00"), (100, "1050.00"))
NAME = "Flaches Stück, 180 × 260 mm"


def _boxes(box: Any, kind: str) -> Iterator[Any]:
    if type(box).__name__ == kind:
        yield box
    for child in getattr(box, "children", ()):
        yield from _boxes(child, kind)


def _touching(page: str, pictures: dict[str, bytes]) -> list[str]:
    """What stands nearer than 2 mm to a price beside it, or beyond its table or page."""
    found = []
    for leaf in _set(page, pictures).pages:
        inside = leaf._page_box.content_box_x() + leaf._page_box.width
        start = leaf._page_box.content_box_x()
        for row in _boxes(leaf._page_box, "TableRowBox"):
            cells = []
            for cell in _boxes(row, "TableCellBox"):
                lines = [it for it in _boxes(cell, "TextBox") if it.text.strip()]
                if lines:
                    left = min(it.position_x for it in lines)
                    right = max(it.position_x + it.width for it in lines)
                    cells.append((left, right, " ".join(it.text for it in lines)))
            for (_, end, a), (begin, _, b) in itertools.pairwise(sorted(cells)):
                if begin - end < 2 * PX:
                    found.append(f"{a} | {b}: {(begin - end) / PX:.1f} mm")
            found += [t for left, right, t in cells if left < start - 1 or right > inside + 1]
    return found


@pytest.mark.parametrize(
    ("look", "language", "currency"),
    [("kite", "de", "CHF"), ("quay", "es", "CLP"), ("kite", "ar", "AED"), ("quay", "en", "KWD")],
)
def test_prices_keep_their_gap(look: str, language: str, currency: str) -> None:
    theme = Theme(look, language, currency)
    content = season(
        tuple(
            entry(f"neck-{len(steps)}", "Neck", offer("Neck", name=NAME, prices=steps))
            for steps in (FEW, MORE, MOST)
        )
    )
    assert _touching(*season_sheets(content, theme)) == []
    for paper in PAPERS:
        assert _touching(*stall_sheet(content, theme, paper)) == []


@pytest.mark.parametrize("language", ["en", "de", "es", "ar"])
def test_the_sentence_names_a_head_as_it_stands(language: str) -> None:
    theme = Theme("kite", language, "CHF")
    head = theme.tongue("%(many)s+") % {"many": 10}
    for page, _ in (season_sheets(_priced(FEW), theme), stall_sheet(_priced(FEW), theme, "a5")):
        words = Page(page).words
        assert words.count(head) >= 2 and "+“" not in words and "«+»" not in words
    page, _ = season_sheets(_priced(FEW[:1]), theme)
    assert theme.tongue("Each price is for one piece.") in Page(page).words


def _priced(steps: tuple[tuple[int, str], ...]) -> Any:
    return season((entry("neck", "Neck", offer("Neck", prices=steps)),))
