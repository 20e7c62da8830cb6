"""Planned sheets: what lies beside the pieces takes no room, and cuts pass by it."""

from __future__ import annotations

import itertools
from dataclasses import replace
from decimal import Decimal

import pytest

from proofgen.geometry import Rect, Size
from proofgen.model import Paper, Printer
from proofgen.press import lettering
from proofgen.press.band import LEGIBLE, BandFacts, Block, set_band
from proofgen.press.beside import everything, has_room, lay_beside, printer_notes
from proofgen.press.lettering import shorten, width
from proofgen.press.numbering import numbered_sheets
from proofgen.press.pieces import paper_pieces
from proofgen.press.planning import SheetPlan, band_facts, furnished, plan_sheets
from proofgen.render.at_scale import RULER_MM
from tests.press.conftest import A3, A4, ROLL, make_blank, make_job, make_layout, make_shop, names

PAGES = {"A4": Size(210, 297), "A3": Size(297, 420), "Letter": Size(215.9, 279.4)}
RATES = {"A4": Decimal("0.18"), "A3": Decimal("0.36")}


def planned(blank, count: int, **shop: object) -> list[SheetPlan]:
    """Numbered and furnished sheets of so many pieces of a blank."""
    job = make_job("fenn-wedding", (make_layout(blank), names(*["Ada"] * count)))
    settings = make_shop(**shop).settings
    pieces = list(paper_pieces(job.order, job.variants, settings))
    plans = numbered_sheets(pieces, {}, settings)
    return [furnished(plan, "Made 25 November 2026", settings) for plan in plans]


def fold(height: float):
    return make_blank("fold", width_mm=120.0, height_mm=height)


def test_twelve_wraps_take_four_a3() -> None:
    """12 × A4 at 0.18 are 2.16, 4 × A3 at 0.36 are 1.44. Paper of 262 × 120 mm lies three times on
    287 × 410 mm: 3 · 120 = 360."""
    wrap = make_blank("wrap", width_mm=242.0)
    sheets = planned(wrap, 12, sheet_rates=RATES)
    assert [(sheet.paper, len(sheet.pieces)) for sheet in sheets] == [("A3", 3)] * 4
    for sheet in sheets:
        ink = sum(on.ink.width * on.ink.height for on in sheet.pieces)
        assert ink / (sheet.size.width * sheet.size.height) >= 0.65


def test_a_fold_of_274_goes_twice_on_a3() -> None:
    """Paper of 140 × 294 mm: 2 · 140 = 280 of the 287 mm that a printer with 5 mm margins reaches;
    the rulers lie below."""
    (sheet,) = planned(fold(274.0), 2)
    assert (sheet.paper, len(sheet.pieces)) == ("A3", 2)
    assert everything(sheet.beside)


@pytest.mark.parametrize(
    ("source", "said"),
    [
        ("maker", "Heat and time: its maker’s figures."),
        ("ink", "Heat and time: the ink maker’s figures."),
        ("trial", "Heat and time: your own trial."),
        ("practice", "Heat and time: practice, no source."),
    ],
)
def test_a_sheet_says_whose_heat_and_time_these_are(source: str, said: str) -> None:
    press = replace(make_blank("flat").press, source=source)
    (sheet,) = planned(make_blank("flat", press=press), 1)
    notes = " ".join(one.text for thing in sheet.beside for one in thing.block.letters)
    assert "A4. Made 25 November 2026." in notes and said in notes


def test_of_blanks_that_share_a_sheet_each_is_told() -> None:
    mat, tag = make_blank("flat"), make_blank("flat", id="tag", name="Tag")
    tag = replace(tag, press=replace(tag.press, source="trial"))
    layouts = [(make_layout(one), names("Ada")) for one in (mat, tag)]
    job, settings = make_job("fenn-wedding", *layouts), make_shop().settings
    pieces = list(paper_pieces(job.order, job.variants, settings))
    sheets = [furnished(p, "Made", settings) for p in numbered_sheets(pieces, {}, settings)]
    notes = " ".join(o.text for s in sheets for t in s.beside for o in t.block.letters)
    assert "your own trial (Tag)" in notes or "Heat and time: your own trial." in notes


def test_rates_decide_and_without_them_the_area() -> None:
    flat = make_blank("flat", width_mm=100.0, height_mm=100.0)
    # Paper of 120 × 120: 2 on A4, 6 on A3.
    assert [s.paper for s in planned(flat, 6)] == ["A3"]
    dear = {"A4": Decimal("0.18"), "A3": Decimal("0.90")}
    assert [s.paper for s in planned(flat, 6, sheet_rates=dear)] == ["A4"] * 3
    # Where a paper has no rate, none is used.
    assert [s.paper for s in planned(flat, 6, sheet_rates={"A4": Decimal("0.01")})] == ["A3"]


def test_a_rate_of_a_roll_is_for_a_metre() -> None:
    wrap = make_blank("wrap")
    cheap = {"A3": Decimal("0.50"), "roll": Decimal("0.10")}
    papers = (A3, ROLL)
    assert [s.paper for s in planned(wrap, 1, papers=papers, sheet_rates=cheap)] == ["roll"]
    dear = {"A3": Decimal("0.50"), "roll": Decimal("9.00")}
    assert [s.paper for s in planned(wrap, 1, papers=papers, sheet_rates=dear)] == ["A3"]


FACTS = {"cloths": [("white foam", "Standard can wrap")], "orders": ["fenn-wedding 3 of 8"]}


def facts(way: str = "up") -> BandFacts:
    setting = planned(make_blank("flat"), 1)[0].setting
    return BandFacts(setting=setting, tops=[("", way)], **FACTS)


@pytest.mark.parametrize("page", PAGES.values(), ids=PAGES)
@pytest.mark.parametrize("scale", [(1.0, 1.0), (0.97, 1.03)])
@pytest.mark.parametrize(
    "part", [Rect(5, 5, 120, 259.5), Rect(5, 5, 195, 150), Rect(5, 5, 100, 100)]
)
def test_all_keep_apart(page: Size, scale: tuple[float, float], part: Rect) -> None:
    settings = make_shop(printer=Printer(ppi=30, scale=scale)).settings
    things = lay_beside(page, [part], settings, facts(), printer_notes(settings))
    assert everything(things)
    inside = page.rect.inset(5)
    for one, other in itertools.combinations([part, *(thing.at for thing in things)], 2):
        assert one.overlap(other) is None
    for thing in things:
        assert inside.holds(thing.at)
        lying = Size(thing.block.width, thing.block.height)
        assert thing.at.size == (lying.turned if thing.turned else lying)
    assert {round(t.at.width, 3) for t in things} & {round(RULER_MM / scale[0] + 9, 3)}
    assert {round(t.at.height, 3) for t in things} & {round(RULER_MM / scale[1] + 4, 3)}


def test_rulers_name_their_unit_and_their_figures_stand_by_their_ticks() -> None:
    """The lying one has room for the unit; in the narrow upright one it would reach the margin."""
    (sheet,) = planned(make_blank("flat", width_mm=60.0, height_mm=60.0), 1)
    rulers = [t.block for t in sheet.beside if "50" in {one.text for one in t.block.letters}]
    said = {ruler.width > ruler.height: [one.text for one in ruler.letters] for ruler in rulers}
    assert said == {True: ["0", "50", "100 mm"], False: ["0", "50", "100"]}
    for ruler in rulers:
        lying = ruler.width > ruler.height
        ends = [(x, x2) if lying else (y, y2) for x, y, x2, y2 in ruler.lines]
        ticks = {at for at, to in ends if at == to}
        start = min(ticks)
        for one in ruler.letters:
            at = start + float(one.text.split()[0])
            assert min(abs(tick - at) for tick in ticks) < 0.01
            over = width(one.text, one.size, one.weight)
            assert one.x <= at <= one.x + over if lying else one.y - one.size <= at <= one.y
            assert over + one.x <= ruler.width


def test_what_has_no_room_is_left_out_and_no_piece_makes_way() -> None:
    settings = make_shop().settings
    page = PAGES["A4"]
    assert lay_beside(page, [Rect(5, 5, 200, 287)], settings, facts(), ["Note."]) == []
    # 12 mm below the piece: no type of 24 pt fits in there with the rest, smaller type does.
    tight = [Rect(5, 5, 200, 273)]
    assert not has_room(page, tight, settings, facts())
    things = lay_beside(page, tight, settings, facts(), ["Note."])
    sizes = {round(one.size * 72 / 25.4) for one in things[0].block.letters}
    assert max(sizes) < LEGIBLE.figures


def test_two_ways_of_the_same_cost_leave_room_for_words() -> None:
    """Four pieces of paper of 100 × 143.5 mm fill an A4 to its margins. With three papers that cost
    and measure the same no sheet is left without its band; with four it must be."""
    tight = make_blank("flat", width_mm=80.0, height_mm=123.5)
    (full,) = planned(tight, 4, papers=(A4,))
    assert full.beside == ()
    first, second = planned(tight, 5, papers=(A4,))
    assert {len(first.pieces), len(second.pieces)} == {2, 3}
    assert first.beside and second.beside


BLANKS = [make_blank("flat", width_mm=60.0, height_mm=50.0), make_blank("wrap"), fold(214.0)]


@pytest.mark.parametrize("blank", BLANKS, ids=lambda blank: blank.id)
@pytest.mark.parametrize("count", [1, 3, 8])
def test_every_edge_of_a_paper_piece_is_cut(blank, count: int) -> None:
    for sheet in planned(blank, count):
        for on in sheet.pieces:
            p = on.paper
            for x in (p.x, p.right):
                assert any(
                    abs(c[0] - x) < 0.01 and c[0] == c[2]
                    and c[1] <= p.y + 0.01 and c[3] >= p.bottom - 0.01
                    for c in sheet.cuts
                )  # fmt: skip
            for y in (p.y, p.bottom):
                assert any(
                    abs(c[1] - y) < 0.01 and c[1] == c[3]
                    and c[0] <= p.x + 0.01 and c[2] >= p.right - 0.01
                    for c in sheet.cuts
                )  # fmt: skip
        # Right across: a cut begins and ends on an earlier cut or where the printer ends.
        for at, (x1, y1, x2, y2) in enumerate(sheet.cuts):
            earlier = sheet.cuts[:at]
            xs = {5, sheet.size.width - 5, *(c[0] for c in earlier if c[0] == c[2])}
            ys = {5, sheet.size.height - 5, *(c[1] for c in earlier if c[1] == c[3])}
            assert {y1, y2} <= ys if x1 == x2 else {x1, x2} <= xs
        # No cut runs through what lies beside.
        for (x1, y1, x2, y2), thing in itertools.product(sheet.cuts, sheet.beside):
            thin = Rect(min(x1, x2), min(y1, y2), abs(x2 - x1) or 1e-3, abs(y2 - y1) or 1e-3)
            assert thin.overlap(thing.at.inset(0.01)) is None


def test_a_short_roll_still_holds_its_rulers_and_words() -> None:
    small = make_blank("flat", width_mm=30.0, height_mm=30.0)
    (sheet,) = planned(small, 1, papers=(ROLL,))
    assert everything(sheet.beside)
    assert sheet.size.height < 180


def test_the_band_says_which_way_each_piece_lies() -> None:
    """On A4 a wrap lies turned: its top edge is at the right, and the band, turned with it, says
    so by an arrow that points up in its own lines."""
    (sheet,) = planned(make_blank("wrap"), 1)
    assert [on.turned for on in sheet.pieces] == [True]
    assert band_facts(sheet).tops == [("", "right")]
    assert sheet.beside[0].turned


def test_the_band_of_a_sheet_printed_again_says_so() -> None:
    (sheet,) = planned(make_blank("wrap"), 1)
    ((order, at, of),) = sheet.numbers
    assert band_facts(sheet).orders == [f"{order} {at} of {of}"]
    assert band_facts(replace(sheet, again=True)).orders == [f"{order} {at} of {of}, again"]


def test_the_cure_is_true() -> None:
    """A wrap of 290 mm with 6 mm of bleed needs 290 + 2 · 9.5 = 309 mm of paper whatever the cover:
    a smaller cover is no cure for it on A4, but it is for one of 270 mm."""
    long = make_blank("wrap", width_mm=290.0)
    with pytest.raises(Exception) as told:
        planned(long, 1, papers=(A4,))
    assert "cover:" not in told.value.sentence()
    with pytest.raises(Exception) as told:
        planned(make_blank("wrap", width_mm=267.5), 1, papers=(A4,), cover_mm=12.0)
    assert "make cover: smaller" in told.value.sentence()
    assert planned(make_blank("wrap", width_mm=267.5), 1, papers=(A4,), cover_mm=0.0)


def test_no_paper() -> None:
    with pytest.raises(Exception, match="no paper"):
        job = make_job("fenn-wedding", (make_layout(make_blank("flat")), names("Ada")))
        settings = make_shop(papers=()).settings
        plan_sheets(list(paper_pieces(job.order, job.variants, settings)), settings)


def test_other_papers() -> None:
    letter = Paper(name="Letter", width_mm=215.9, height_mm=279.4)
    (sheet,) = planned(make_blank("wrap"), 1, papers=(letter,))
    assert everything(sheet.beside)


def said(block: Block | None) -> list[str]:
    assert block is not None
    return [one.text for one in block.letters]


def test_of_more_orders_than_a_band_names_each_piece_is_to_be_asked() -> None:
    """Four names stand in it; the fifth order's pieces carry theirs on their own edge."""
    orders = [f"order-{n} 1 of 1" for n in range(5)]
    four, five = (
        said(set_band(replace(facts(), orders=orders[:n]), LEGIBLE, 400.0)) for n in (4, 5)
    )
    assert [text for text in five if text.startswith("order-")] == orders[:4]
    assert "and more: see each piece" in five and "and more: see each piece" not in four


def test_without_its_type_letters_are_taken_for_wide_ones(monkeypatch: pytest.MonkeyPatch) -> None:
    real = width("Standard can wrap", 10.0, 700)
    monkeypatch.setattr(lettering, "find_font", lambda family: None)
    lettering._font.cache_clear()
    lettering._ems.cache_clear()
    try:
        without = width("Standard can wrap", 10.0, 700)
        assert without == pytest.approx(17 * 6.0) and without > real
        (sheet, *_) = planned(make_blank("wrap"), 3)
        assert len(sheet.pieces) == 3 and sheet.beside
    finally:
        lettering._font.cache_clear()
        lettering._ems.cache_clear()


def test_a_text_is_cut_to_its_room_and_left_out_where_nothing_fits() -> None:
    whole = "Odalys & Bram"
    cut = shorten(whole, 3.0, width(whole, 3.0) - 1)
    assert cut.endswith("…") and whole.startswith(cut[:-1].rstrip())
    assert shorten(whole, 3.0, width(whole, 3.0)) == whole
    assert shorten(whole, 3.0, 0.5) == ""
