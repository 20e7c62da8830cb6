"""The proof page for everybody: axe finds nothing in any state that a person can bring it to, and
large text, small screens and forced colours lose nothing."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from playwright.sync_api import Page

from proofgen.proof.build import build, standing_of, with_standing
from proofgen.render import Theme
from proofgen.signoff import RULES, State
from tests.page_checkers import axe_faults
from tests.proof.sample import content

pytestmark = pytest.mark.browser
Visit = Callable[..., Page]


@pytest.mark.parametrize(
    ("width", "scheme"), [(320, "light"), (390, "dark"), (1280, "light"), (1280, "dark")]
)
def test_axe_finds_nothing_on_the_way_to_an_answer(visit: Visit, width: int, scheme: str) -> None:
    page = visit(viewport={"width": width, "height": 800}, color_scheme=scheme, bypass_csp=True)
    assert axe_faults(page) == []
    page.locator("#text-2").get_by_text("No, it is …").click()
    page.fill("#text-2 .instead input", "Odalys & Bramm")
    page.locator("#text-3 summary").click()
    page.check("#answer-ok")
    assert page.is_visible("#ask-marked") and axe_faults(page) == []
    page.click("#marked-clear")
    page.fill("#answer-note", "please write Willy with y")
    page.fill("#answer-name", "Odalys")
    page.click("#answer-form [type=submit]")
    assert page.is_visible("#ask-note") and axe_faults(page) == []
    page.click("#note-keep")
    assert page.is_visible("#ask-unread") and axe_faults(page) == []
    page.click("#unread-read")
    page.wait_for_selector("#slip-result", state="visible")
    assert axe_faults(page) == []
    page.clock.set_fixed_time("2026-12-20T12:00:00Z")
    page.reload()
    assert page.is_visible("#too-late") and axe_faults(page) == []


@pytest.mark.parametrize("language", ["en", "de", "es", "ar"])
def test_axe_finds_nothing_once_it_is_pressed(visit: Visit, language: str, tmp_path: Path) -> None:
    theme = Theme("quay", language, "EUR")
    files = build(content(), theme, with_pdf=False)
    page = files["index.html"]
    files["index.html"] = with_standing(
        page, standing_of(RULES[State.PRESSED].banner, theme, closed=True)
    )
    for name, data in files.items():
        (tmp_path / name).write_bytes(data)
    view = visit(tmp_path / "index.html", bypass_csp=True)
    assert view.is_visible("#standing p") and not view.is_visible("#answer-form")
    assert axe_faults(view) == []


def test_the_last_day_of_a_demonstration_does_not_pass(
    visit: Visit, theme: Theme, tmp_path: Path
) -> None:
    standing = content()
    for stands_at, is_late in ((None, True), (standing.made, False)):
        files = build(replace(standing, stands_at=stands_at), theme, with_pdf=False)
        for name, data in files.items():
            (tmp_path / name).write_bytes(data)
        view = visit(tmp_path / "index.html", bypass_csp=True)
        view.clock.set_fixed_time("2026-12-20T12:00:00Z")
        view.reload()
        assert view.is_visible("#too-late") == is_late
        assert view.is_visible("#answer-form") == (not is_late)


@pytest.mark.parametrize("state", [s for s in State if RULES[s].banner])
def test_what_became_of_an_answer_is_not_gainsaid_after_the_last_day(
    visit: Visit, state: State, theme: Theme, tmp_path: Path
) -> None:
    """Who said yes in time must not read that nothing is pressed because the day is over."""
    rules = RULES[state]
    files = build(content(), theme, with_pdf=False)
    files["index.html"] = with_standing(
        files["index.html"], standing_of(rules.banner, theme, closed=not rules.answerable)
    )
    for name, data in files.items():
        (tmp_path / name).write_bytes(data)
    view = visit(tmp_path / "index.html", bypass_csp=True)
    view.clock.set_fixed_time("2026-12-20T12:00:00Z")
    view.reload()
    assert view.is_visible("#standing p") and not view.is_visible("#too-late")
    assert view.is_visible("#late-answer") == rules.answerable
    write = view.locator("#late-answer a[href^='mailto:']")
    ways = [one.is_visible() for one in write.all()]
    assert any(ways) == rules.answerable, "a wrong clock is not the only way"
    for asks in (".question", "#late-answer .unanswered"):
        assert not view.is_visible(asks), "nobody is asked again for what they answered"
    assert view.is_visible(".answered") == view.is_visible("#answer") == rules.answerable
    if not rules.answerable:  # nothing can be marked that goes nowhere
        assert not view.locator(".verdict:visible, .tick:visible, [href='#answer']:visible").count()
    assert not view.is_visible("#answer .by"), "a day that is over is asked for no more"
    assert not view.is_visible("#answer-form")


@pytest.mark.parametrize(
    ("width", "high", "size"), [(320, 256, ""), (390, 800, "200%"), (1280, 800, "200%")]
)
def test_enlarged_nothing_runs_off_the_side(visit: Visit, width: int, high: int, size: str) -> None:
    """1280 × 1024 at 400 % is 320 × 256 (WCAG 2.2, 1.4.10); text alone at 200 % is 1.4.4."""
    page = visit(viewport={"width": width, "height": high}, bypass_csp=True)
    if size:
        page.add_style_tag(content="html { font-size: 36px !important; }")
    page.locator("#text-2").get_by_text("No, it is …").click()
    page.check("#answer-change")
    page.fill("#answer-name", "Odalys")
    page.fill("#answer-note", "Larger.")
    page.fill("#text-2 .instead input", "Odalys & Bramm")
    page.click("#answer-form [type=submit]")
    page.wait_for_selector("#slip-result", state="visible")
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    bar = page.locator(".bar").bounding_box()
    assert bar and (bar["height"] <= high / 4 or page.evaluate(
        "getComputedStyle(document.querySelector('.bar')).position") == "static")  # fmt: skip


def test_in_forced_colours_a_mark_is_still_a_mark(visit: Visit) -> None:
    page = visit(forced_colors="active")
    page.locator("#text-2").get_by_text("No, it is …").click()
    row = page.locator("#text-2")
    line = "e => getComputedStyle(e).borderInlineStartStyle"
    assert row.evaluate(line) == "double" and page.locator("#text-3").evaluate(line) == "none"
    assert row.locator(".text").evaluate("e => getComputedStyle(e).textDecorationLine") == (
        "line-through"
    )
