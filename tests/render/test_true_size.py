"""The measuring sheet: what the PDF really holds, in mm of paper, read from its drawing orders."""

from __future__ import annotations

import io
import itertools
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import pikepdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from proofgen.geometry import Plan, plan_flat, plan_fold, plan_sewn, plan_wrap
from proofgen.render import Theme, html_to_pdf
from proofgen.render.truesize import Sheet, TrueSize, true_size

MM = 25.4 / 72
A4, A3 = Sheet("A4", 210, 297), Sheet("A3", 297, 420)
ROLL = Sheet("roll", 610, None)
CLOSE = 0.1  # mm
SHRINK = (0.02, 0.01)

WRAP = plan_wrap(
    length=240,
    height=100,
    diameter=66.1,
    thickness=3,
    closure_width=30,
    shortest=10,
    on_top="right",
    bleed=6,
    safe=5,
    shrink=SHRINK,
)
FOLD = plan_fold(
    width=120, height=214, seam=6, fold=4, hem=5, base=8, bleed=6, safe=5, shrink=SHRINK
)
SEWN = plan_sewn(width=108, height=100, gap=4, bleed=6, safe=5, shrink=SHRINK)
ROUND = plan_flat(width=95, height=95, bleed=3, safe=5, shape="round", shrink=SHRINK)
ROUNDED = plan_flat(
    width=152, height=112, bleed=4, safe=6, shape="rounded", corner=10, shrink=SHRINK
)
CASES = [
    ("wrap", WRAP, (240, 100)),
    ("fold", FOLD, (120, 214)),
    ("sewn", SEWN, (108, 100)),
    ("round", ROUND, (95, 95)),
    ("rounded", ROUNDED, (152, 112)),
]


@dataclass(frozen=True)
class Drawn:
    """One stroked line: the box round its points, in mm of paper from the page's top left."""

    left: float
    top: float
    width: float
    height: float

    def is_sized(self, width: float, height: float) -> bool:
        return abs(self.width - width) <= CLOSE and abs(self.height - height) <= CLOSE


def times(a: tuple[float, ...], b: tuple[float, ...]) -> tuple[float, ...]:
    """Matrix a, then b (ISO 32000-1, 8.3.4)."""
    return (
        a[0] * b[0] + a[1] * b[2],
        a[0] * b[1] + a[1] * b[3],
        a[2] * b[0] + a[3] * b[2],
        a[2] * b[1] + a[3] * b[3],
        a[4] * b[0] + a[5] * b[2] + b[4],
        a[4] * b[1] + a[5] * b[3] + b[5],
    )


def strokes(page: pikepdf.Page) -> list[Drawn]:
    """Every stroked line of a page, by the transforms in force."""
    high = float(page.mediabox[3])
    found = []
    for points in paths(page, (1, 0, 0, 1, 0, 0)):
        xs, ys = [p[0] * MM for p in points], [(high - p[1]) * MM for p in points]
        found.append(Drawn(min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys)))
    return found


def paths(
    drawn: pikepdf.Page | pikepdf.Object, start: tuple[float, ...]
) -> Iterator[list[tuple[float, float]]]:
    """The points of each stroked subpath, also inside forms (ISO 32000-1, 8.10), in page units."""
    now, kept = start, []
    subpaths: list[list[tuple[float, float]]] = []
    for operands, operator in pikepdf.parse_content_stream(drawn):
        name = str(operator)
        if name == "q":
            kept.append(now)
        elif name == "Q":
            now = kept.pop()
        elif name == "Do":
            form = drawn.Resources.XObject[str(operands[0])]
            own = tuple(float(v) for v in form.get("/Matrix", [1, 0, 0, 1, 0, 0]))
            if form.Subtype == "/Form":
                yield from paths(form, times(own, now))
        elif name in ("S", "s", "B", "b", "f", "f*", "n"):
            if name in ("S", "s", "B", "b"):
                yield from (points for points in subpaths if len(points) > 1)
            subpaths = []
        elif name in ("cm", "m", "l", "c", "re"):
            numbers = tuple(float(o) for o in operands)
            if name == "cm":
                now = times(numbers, now)
            elif name == "re":
                x, y, w, h = numbers
                subpaths.append([at(now, a, b) for a in (x, x + w) for b in (y, y + h)])
            else:
                if name == "m":
                    subpaths.append([])
                ends = [at(now, *numbers[i : i + 2]) for i in range(0, len(numbers), 2)]
                subpaths[-1] += ends if name != "c" else curve(subpaths[-1][-1], *ends)


Point = tuple[float, float]


def curve(a: Point, b: Point, c: Point, d: Point) -> list[Point]:
    """Points along a cubic Bézier curve (ISO 32000-1, 8.5.2.2), its end last."""
    found = []
    for step in range(1, 41):
        t = step / 40
        by = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t**2 * (1 - t), t**3)
        x, y = (sum(k * p[axis] for k, p in zip(by, (a, b, c, d), strict=True)) for axis in (0, 1))
        found.append((x, y))
    return found


def at(matrix: tuple[float, ...], x: float, y: float) -> tuple[float, float]:
    return (
        matrix[0] * x + matrix[2] * y + matrix[4],
        matrix[1] * x + matrix[3] * y + matrix[5],
    )


def made(plan: Plan, *papers: Sheet, scale: tuple[float, float] = (1, 1)) -> TrueSize:
    panel = next(iter(plan.panels))
    return true_size(plan, panel, shrink=SHRINK, scale=scale, papers=papers, margin=5)


def pdf_of(drawn: TrueSize) -> list[list[Drawn]]:
    page = Theme("quay").render(
        "true-size.html",
        medium="sheet",
        styles=("press", "true-size"),
        own_style=drawn.style(),
        title="A blank",
        pages=drawn.pages,
        sentences=["Print at actual size."],
    )
    with pikepdf.open(io.BytesIO(html_to_pdf(page, {}, page_title="A blank"))) as pdf:
        sizes = [(float(p.mediabox[2]) * MM, float(p.mediabox[3]) * MM) for p in pdf.pages]
        assert sizes == [pytest.approx((p.width, p.height), abs=0.01) for p in drawn.pages]
        return [strokes(p) for p in pdf.pages]


def the(drawn: list[Drawn], width: float, height: float) -> Drawn:
    found = [d for d in drawn if d.is_sized(width, height)]
    assert found, (width, height, sorted((d.width, d.height) for d in drawn))
    return found[0]


@pytest.mark.parametrize(("name", "plan", "raw"), CASES)
def test_the_new_blank_the_card_and_the_ruler_have_their_true_size(
    name: str, plan: Plan, raw: tuple[float, float]
) -> None:
    (drawn,) = pdf_of(made(plan, A4))
    edge = the(drawn, *raw)
    card = the(drawn, 85.60, 53.98)
    the(drawn, 100, 0)  # the ruler
    assert edge.left >= 5 and edge.top >= 5
    assert card.top >= edge.top + edge.height or card.left >= edge.left + edge.width


def test_zones_of_a_fold_lie_where_the_tape_found_them() -> None:
    """Raw measures: 4 mm strip, 5 mm hems, 8 mm under the can; the cloth has not shrunk yet."""
    (drawn,) = pdf_of(made(FOLD, A4))
    edge = the(drawn, 120, 214)
    folds = [d.top - edge.top for d in drawn if d.is_sized(120, 0)]
    for line in (105, 109):  # 107 ± 2
        assert any(abs(found - line) <= CLOSE for found in folds), folds
    # Where words stay: 5 mm of the finished piece from face, seam and what lies under the can, so
    # a little more here.
    safe = the(drawn, 108 - 10 / 0.98, 92 - 10 / 0.99)
    assert safe.left - edge.left == pytest.approx(6 + 5 / 0.98, abs=CLOSE)
    assert safe.top - edge.top == pytest.approx(5 + 5 / 0.99, abs=CLOSE)


def test_the_hidden_strip_of_a_wrap_is_that_of_the_new_cloth() -> None:
    # Finished: 240 x 0.98 - 217.084 = 18.116; on the new cloth 18.116 / 0.98 = 18.486.
    (drawn,) = pdf_of(made(WRAP, A4))
    edge, hidden = the(drawn, 240, 100), the(drawn, 18.486, 100)
    assert hidden.left == pytest.approx(edge.left, abs=CLOSE)


def test_a_printer_that_prints_small_is_given_a_larger_drawing() -> None:
    (drawn,) = pdf_of(made(SEWN, A4, scale=(0.98, 1.01)))
    the(drawn, 108 / 0.98, 100 / 1.01)
    the(drawn, 85.60 / 0.98, 53.98 / 1.01)
    the(drawn, 100 / 0.98, 0)


def test_the_smallest_paper_that_holds_all_is_taken() -> None:
    tall = plan_fold(width=120, height=264, seam=6, fold=4, hem=0, base=30, bleed=6, safe=6)
    for papers, wanted in (
        ((A4, A3), "A4"),
        ((A3, A4), "A4"),
        ((ROLL, A4), "A4"),
    ):
        assert made(SEWN, *papers).paper == wanted
    assert made(tall, A3, A4).paper == "A3"  # one sheet of A3 rather than two of A4
    alone = made(tall, A4)
    assert alone.whole and len(alone.pages) == 2  # card and ruler on a second
    on_roll = made(tall, ROLL)
    assert on_roll.whole and on_roll.pages[0].width == 610 and on_roll.pages[0].height < 300


def test_a_blank_that_no_paper_holds_is_parted_and_meets_again() -> None:
    runner = plan_flat(width=520, height=260, bleed=6, safe=8, shrink=SHRINK)
    drawn = made(runner, A4)
    assert not drawn.whole and [p.part for p in drawn.pages] == ["1 of 3", "2 of 3", "3 of 3", ""]
    *parts, checks = pdf_of(drawn)
    the(checks, 85.60, 53.98)
    # The edge is drawn on every part, clipped there; moved by how the parts lie it is one edge.
    lap = 12
    window = 210 - 2 * 5
    for number, part in enumerate(parts):
        edge = the(part, 520, 260)
        assert edge.left + number * (window - lap) == pytest.approx(
            the(parts[0], 520, 260).left, abs=CLOSE
        )
    # Three crosses in the middle of each lap lie on both of its sheets, one under the other.
    for left, right in itertools.pairwise(parts):
        on_left = {(d.left, round(d.top, 1)) for d in left if d.is_sized(8, 0)}
        on_right = {(d.left, round(d.top, 1)) for d in right if d.is_sized(8, 0)}
        middle = 210 - 5 - lap / 2 - 4
        shared = [(x, y) for x, y in on_left if x == pytest.approx(middle, abs=CLOSE)]
        assert len(shared) == 3
        for x, y in shared:
            assert any(
                (x - (window - lap), y) == pytest.approx(other, abs=CLOSE) for other in on_right
            )


@settings(max_examples=40, deadline=None)
@given(st.floats(30, 1500), st.floats(30, 1500), st.sampled_from([A4, A3, ROLL]))
def test_every_part_lies_on_its_paper_and_no_strip_is_left_out(
    wide: float, high: float, paper: Sheet
) -> None:
    plan = plan_flat(width=wide, height=high, bleed=3, safe=5)
    drawn = true_size(plan, "front", shrink=(0, 0), scale=(1, 1), papers=[paper], margin=5)
    shown = 0.0
    for page in drawn.pages:
        if paper.height is not None:
            assert sorted((page.width, page.height)) == pytest.approx([paper.width, paper.height])
        else:
            assert page.width == paper.width
        shown += (page.width - 10) * (page.height - 10)
    assert shown >= wide * high
    parts = [p for p in drawn.pages if p.part]
    assert (len(parts) > 0) is (not drawn.whole)


def test_papers_too_small_for_a_card_are_refused() -> None:
    with pytest.raises(ValueError, match="no paper"):
        made(SEWN, Sheet("slip", 90, 200))


def test_words_are_ours_and_escaped() -> None:
    drawn = made(SEWN, A4)
    page: Any = Theme("quay").render(
        "true-size.html",
        medium="sheet",
        styles=("press", "true-size"),
        own_style=drawn.style(),
        title="<b>Fish & chips</b>",
        pages=drawn.pages,
        sentences=["a < b"],
    )
    assert "&lt;b&gt;Fish &amp; chips" in page and "a &lt; b" in page
