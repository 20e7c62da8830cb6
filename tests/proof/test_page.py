"""The proof's page in a browser: with script and without, by keyboard, small, dark and on paper."""

from __future__ import annotations

import itertools
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, Route

from proofgen.proof.build import build
from proofgen.render import Theme
from tests.proof.sample import content
from tests.proof.test_build import HOSTILE, hostile

browser_only = pytest.mark.browser
Visit = Callable[..., Page]


def asked(page: Page) -> list[str]:
    """Everything the page asks for when it is loaded again."""
    found: list[str] = []
    page.on("request", lambda request: found.append(request.url))
    page.reload()
    page.evaluate("document.querySelectorAll('img').forEach((i) => { i.loading = 'eager'; })")
    page.wait_for_load_state("networkidle")
    return found


@browser_only
def test_nothing_is_asked_of_anybody_else(visit: Visit, page_file: Path) -> None:
    urls = asked(visit())
    assert len(urls) > 10
    assert all(u.startswith((page_file.parent.as_uri(), "data:")) for u in urls)


@browser_only
@pytest.mark.parametrize("one_file", [False, True], ids=["folder", "one file"])
def test_hostile_words_stay_inert(
    visit: Visit, theme: Theme, tmp_path: Path, one_file: bool
) -> None:
    for name, data in build(hostile(), theme, one_file=one_file, with_pdf=False).items():
        (tmp_path / name).write_bytes(data)
    page = visit(tmp_path / "index.html")
    page.on("dialog", lambda dialog: pytest.fail(dialog.message))
    urls = asked(page)
    assert all(u.startswith((tmp_path.as_uri(), "data:")) for u in urls)
    assert page.title().startswith("Proof 2 for ")
    shown = page.locator(".word .text").all_inner_texts()
    # What turns the direction of writing is written out, so that it can be seen and turns nothing.
    written_out = str.maketrans({turn: f"⟨U+{ord(turn):04X}⟩" for turn in "\u202e\u2066"})
    assert shown == [word.translate(written_out) for word in HOSTILE]
    assert page.locator("base").count() == 0


@browser_only
def test_every_picture_shows(visit: Visit) -> None:
    page = visit()
    page.evaluate("document.querySelectorAll('img').forEach((i) => { i.loading = 'eager'; })")
    page.evaluate("Promise.all([...document.images].map((i) => i.decode()))")
    assert page.locator("svg image").count() == 1
    (drawn,) = page.locator(".under-ruler img").all()
    assert drawn.evaluate("(i) => i.naturalWidth") > 0


@browser_only
@pytest.mark.parametrize("factor", ["100", "130"])
def test_a_picture_at_its_real_size_lies_under_its_ruler(visit: Visit, factor: str) -> None:
    page = visit(java_script_enabled=factor == "130")
    if factor == "130":
        page.fill("#scale", factor)
    picture, ruler = page.locator(".under-ruler img"), page.locator(".under-ruler svg")
    one, other = picture.bounding_box(), ruler.bounding_box()
    assert one and other
    assert (one["x"], one["y"], one["width"]) == pytest.approx(
        (other["x"], other["y"], other["width"]), abs=0.1
    )
    mm = other["height"] - one["height"]  # what is left is the ruler, 7 mm
    assert mm == pytest.approx(7 * 96 / 25.4 * int(factor) / 100, abs=1)


@browser_only
def test_without_script_the_page_is_complete(visit: Visit) -> None:
    page = visit(java_script_enabled=False)
    assert page.locator(".stills img").count() == 4
    assert all(still.is_visible() for still in page.locator(".stills img").all())
    for code in content().codes.values():
        assert page.get_by_text(code).is_visible()
    for figure in page.locator(".pair figure").all():
        assert figure.is_visible()
    for hidden in ("#answer-form", ".turns", ".scale", ".pair button", "#slip-result"):
        assert not page.is_visible(hidden)
    summary = page.locator("summary").nth(1)
    summary.click()
    assert page.locator(".letters").get_by_text("and sign").first.is_visible()


@browser_only
def test_the_thing_turns_by_buttons_and_arrow_keys(visit: Visit) -> None:
    page = visit()

    def shown() -> str:
        label = page.inner_text(".stage-label")
        still = page.locator(".stills .shown")
        assert still.inner_text().strip() == label
        assert page.get_attribute(".stage img", "src") == still.locator("img").get_attribute("src")
        return label

    assert shown() == "Front"
    page.click(".turn-on")
    assert shown() == "Right side"
    page.focus(".stage")
    page.keyboard.press("ArrowLeft")
    page.keyboard.press("ArrowLeft")
    assert shown() == "Left side"
    page.click(".turn-on")
    assert shown() == "Front"


@browser_only
def test_the_thing_turns_by_a_swipe(visit: Visit) -> None:
    page = visit(viewport={"width": 390, "height": 844})
    box = page.locator(".stage img").bounding_box()
    assert box
    y = box["y"] + 100
    for start, end, label in ((300, 100, "Right side"), (100, 300, "Front"), (100, 110, "Front")):
        page.mouse.move(start, y)
        page.mouse.down()
        page.mouse.move(end, y)
        page.mouse.up()
        assert page.inner_text(".stage-label") == label


@browser_only
def test_one_button_swaps_the_colours(visit: Visit) -> None:
    page = visit()
    white, cloth = page.locator(".pair figure").all()
    assert cloth.is_visible() and not white.is_visible()
    page.click(".pair button")
    assert white.is_visible() and not cloth.is_visible()
    assert page.inner_text(".pair button") == "Show it on your cloth"


@browser_only
def test_real_size_is_in_millimetres_and_can_be_put_right(visit: Visit) -> None:
    page = visit()

    def size(selector: str) -> tuple[float, float]:
        box = page.locator(selector).first.bounding_box()
        assert box
        return box["width"] * 25.4 / 96, box["height"] * 25.4 / 96  # CSS: 1 in = 96 px

    def outline() -> tuple[float, float]:
        box = page.evaluate("(r => [r.width, r.height])(document.querySelector('.card rect')"
                            ".getBoundingClientRect())")  # fmt: skip
        return box[0] * 25.4 / 96, box[1] * 25.4 / 96

    # ISO/IEC 7810 ID-1: 85.60 x 53.98 mm.
    assert outline() == pytest.approx((85.6, 53.98), abs=0.5)
    assert size(".real svg.to-scale")[0] == pytest.approx(80, abs=0.1)
    page.fill("#scale", "110")
    assert outline()[0] == pytest.approx(85.6 * 1.1, abs=0.5)
    assert size(".real svg.to-scale")[0] == pytest.approx(88, abs=0.1)
    assert page.inner_text(".scale-now") == "110 %"
    page.reload()  # the device remembers it
    assert outline()[0] == pytest.approx(85.6 * 1.1, abs=0.5)


@browser_only
def test_real_size_on_a_phone_is_measured_by_the_short_side(visit: Visit) -> None:
    """A phone's own millimetre is about a third short: the long side of a card is wider than it."""
    page = visit(viewport={"width": 390, "height": 700})
    card = page.locator(".card:visible")
    for percent, high, said in (
        (100, 700, "The whole card fits"),
        (170, 500, "Only the card’s short side fits"),
        (250, 700, "The card is larger than this screen: compare the ruler"),
    ):
        page.set_viewport_size({"width": 390, "height": high})
        page.fill("#scale", str(percent))
        box = card.bounding_box()
        assert box
        assert box["width"] == pytest.approx(54.98 * percent / 100 * 96 / 25.4, abs=1)
        assert box["height"] > box["width"]
        assert said in page.inner_text(".scale-says")
    assert "move it sideways" in page.inner_text(".scale-says")
    assert page.evaluate("document.documentElement.scrollWidth") <= 390


@browser_only
def test_the_words_are_counted_as_they_are_read(visit: Visit) -> None:
    page = visit()
    counted = "Pieces marked as right: 0 of 5. Words that stand on several pieces: 0 of 1."
    assert page.inner_text(".read-so-far") == counted
    for row in page.locator(".word").all():
        row.get_by_text("I have read it: correct", exact=True).click()
    assert page.inner_text(".read-so-far") == "All of them are marked as right."


@browser_only
def test_the_answer_can_be_given_by_keyboard_alone(visit: Visit) -> None:
    page = visit()
    reached = []
    for _ in range(120):
        page.keyboard.press("Tab")
        reached.append(
            page.evaluate("document.activeElement.id || document.activeElement.className")
        )
        if reached[-1] == "answer-ok":
            page.keyboard.press("Space")
        elif reached[-1] == "answer-name":
            page.keyboard.type("Odalys Fenn")
        elif reached[-1] == "main":
            page.keyboard.press("Enter")
            assert page.evaluate("document.activeElement.id") == "unread-read"
            page.keyboard.press("Enter")
            break
    page.wait_for_selector("#slip-result", state="visible")
    assert reached[0] == "skip"
    assert page.evaluate("document.activeElement.id") == "slip-heading"
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.id") == "slip-open"


@browser_only
@pytest.mark.parametrize("width", [320, 390, 768, 1280])
def test_nothing_runs_off_the_side_and_targets_can_be_hit(visit: Visit, width: int) -> None:
    page = visit(viewport={"width": width, "height": 800})
    page.check("#answer-ok")
    page.fill("#answer-name", "Odalys")
    page.click("#answer-form button[type=submit]")
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    small = page.evaluate(
        """() => [...document.querySelectorAll('button, input, textarea, summary, .bar a, dd a')]
        .filter((e) => e.checkVisibility())
        .map((e) => [e.outerHTML.slice(0, 60), e.getBoundingClientRect()])
        .filter(([, r]) => r.width < 24 || r.height < 24).map(([name]) => name)"""
    )
    assert small == []  # WCAG 2.2, 2.5.8


@browser_only
def test_every_field_has_its_label(visit: Visit) -> None:
    page = visit()
    bare = page.evaluate(
        """() => [...document.querySelectorAll('input:not([type=hidden]), textarea')]
        .filter((e) => !e.labels.length || !e.labels[0].textContent.trim())
        .map((e) => e.outerHTML)"""
    )
    assert bare == []
    levels = page.evaluate("[...document.querySelectorAll('h1,h2,h3')].map((h) => +h.tagName[1])")
    assert levels[0] == 1 and levels.count(1) == 1
    assert all(b - a <= 1 for a, b in itertools.pairwise(levels))


@browser_only
def test_night_print_and_the_bar(visit: Visit) -> None:
    page = visit(viewport={"width": 390, "height": 844}, color_scheme="dark")
    ground = "getComputedStyle(document.body).backgroundColor"
    assert page.evaluate(ground) == "rgb(22, 27, 33)"
    assert page.is_visible(".bar")
    page.emulate_media(media="print", color_scheme="light")
    assert page.evaluate(ground) == "rgb(255, 255, 255)"
    assert not page.is_visible(".bar")
    assert page.locator(".pair figure").first.is_visible()
    assert not page.is_visible("#answer-form")
    page.emulate_media(media="screen")
    for width, height in ((320, 568), (768, 1024), (1280, 900)):
        page.set_viewport_size({"width": width, "height": height})
        page.evaluate("scrollTo(0, 0)")
        box = page.locator(".bar a").bounding_box()
        assert box and box["y"] + box["height"] <= height  # the way to the answer is in sight
        page.locator("#answer-form").scroll_into_view_if_needed()


@browser_only
@pytest.mark.parametrize("by", ["key", "tap"])
@pytest.mark.parametrize("choice", ["[data-pieces] .tick input", ".word input[value=wrong]"])
def test_a_field_that_opens_lies_above_the_bar(visit: Visit, choice: str, by: str) -> None:
    page = visit(viewport={"width": 390, "height": 664}, has_touch=True)
    box = page.locator(choice).first
    box.evaluate(
        """(box) => scrollBy(0, box.getBoundingClientRect().bottom + 6
            - document.querySelector(".bar").getBoundingClientRect().top)"""
    )
    if by == "tap":
        box.tap()
    else:
        box.focus()
        page.keyboard.press("Space")
    field = page.locator(".why textarea, .instead input, .instead textarea").locator("visible=true")
    seen, bar = field.first.bounding_box(), page.locator(".bar").bounding_box()
    assert seen and bar
    assert seen["y"] > 0 and seen["y"] + seen["height"] <= bar["y"] + 1


@browser_only
def test_nothing_moves_when_pictures_come_late(browser: Browser, page_file: Path) -> None:
    # Layout shift as the browser counts it; .1 passes for good elsewhere, .02 is ours.
    context = browser.new_context(viewport={"width": 390, "height": 844})
    page = context.new_page()

    def late(route: Route) -> None:
        time.sleep(0.15)
        route.continue_()

    page.route("**/*.jpg", late)
    page.add_init_script(
        "window.shift = 0; new PerformanceObserver(list => list.getEntries().forEach("
        "e => { window.shift += e.value; })).observe({ type: 'layout-shift', buffered: true });"
    )
    page.goto(page_file.as_uri())
    for _ in range(0, page.evaluate("document.documentElement.scrollHeight"), 600):
        page.mouse.wheel(0, 600)
        page.wait_for_timeout(60)
    page.wait_for_timeout(300)
    shift = page.evaluate("window.shift")
    context.close()
    assert shift <= 0.02


@browser_only
def test_every_piece_is_pictured_and_the_unusual_stand_first(visit: Visit) -> None:
    page = visit()
    numbers = page.locator("#pieces li b").all_inner_texts()
    assert numbers == ["2", "1", "3", "4", "5"]
    assert page.locator("#pieces li").first.locator("small").inner_text().endswith("fits.")
    for picture in page.locator("#pieces img").all():
        assert picture.get_attribute("loading") == "lazy"
        assert picture.get_attribute("width") and picture.get_attribute("height")
    assert "One piece is not set quite like the others." in page.inner_text("#pieces")


@browser_only
def test_a_tap_on_a_side_shows_it_large(visit: Visit) -> None:
    page = visit(viewport={"width": 390, "height": 844})
    small = page.locator(".stills img").nth(2)
    small.click()
    assert page.locator(".stage img").get_attribute("src") == small.get_attribute("src")
