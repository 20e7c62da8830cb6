"""The form of a design's page in a browser: what is typed is what the order holds."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path
from typing import Any
from urllib.parse import parse_qs, urlsplit

import pytest
from playwright.sync_api import Browser, Page

from proofgen.artwork.words import tidy
from proofgen.catalogue import build
from proofgen.catalogue.order_form import Suiting, order_form
from proofgen.model import Design, PlacedWords
from proofgen.model.blank_names import called_in
from proofgen.pipeline.season_pictures import sample_layout
from proofgen.pipeline.suiting import suiting_of
from proofgen.render import Theme
from proofgen.say import capital
from proofgen.say.tongue import Tongue
from proofgen.shop import read_shop
from proofgen.signoff.order_slip import slips_in
from proofgen.workshop import Workshop
from tests.catalogue.season import entry, offer, season
from tests.intake.conftest import one_of, order_of
from tests.page_checkers import axe_faults, nu_faults

NOTHING_TOLD = Suiting()
LANGUAGES = ("en", "de", "es", "ar")
TRIED = {
    "slot": "photo", "name": "pier “1”.jpg", "width": 4032, "height": 3024,
    "focus": [0.512345, 0.4], "zoom": 1.25, "turn": 0,
}  # fmt: skip


def page_of(
    workshop: Workshop,
    design: Design,
    folder: Path,
    language: str = "en",
    theme: str = "quay",
    suiting: Suiting = NOTHING_TOLD,
) -> Path:
    """The design's page, its pictures painted by the tests."""
    tongue, blanks = Tongue(language), workshop.shop.blanks
    offers = [offer(design.title, name, called_in(blanks[name], tongue)) for name in design.offered]
    form = order_form(design, blanks, tongue, suiting)
    one = entry(design.id, design.title, *offers, form=form)
    made = build(
        replace(season((one,)), contact="hello@ternrow.example"),
        Theme(theme, language, workshop.shop.settings.currency),
        with_pdf=False,
    )
    for name, content in made.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(content)
    return folder / f"designs/{design.id}.html"


@pytest.fixture
def visit(browser: Browser, workshop: Workshop, tmp_path: Path) -> Iterator[Callable[..., Page]]:
    """Open a design's page; faults and whatever is asked of a network fail the test."""
    opened, wrong = [], list[str]()
    site = tmp_path / "site"

    def go(
        design: Design | str,
        language: str = "en",
        theme: str = "quay",
        suiting: Suiting = NOTHING_TOLD,
        **how: Any,
    ) -> Page:
        one = workshop.shop.designs[design] if isinstance(design, str) else design
        file = page_of(workshop, one, site, language, theme, suiting)
        context = browser.new_context(**{"viewport": {"width": 1280, "height": 900}, **how})
        opened.append(context)
        page = context.new_page()
        page.on("pageerror", lambda error: wrong.append(str(error)))
        page.on("console", lambda said: wrong.append(said.text) if said.type == "error" else None)
        page.on(
            "request",
            lambda asked: (
                None
                if asked.url.startswith((site.as_uri(), "data:,", "blob:"))
                else wrong.append(asked.url)
            ),
        )
        page.goto(file.as_uri())
        return page

    yield go
    for context in opened:
        context.close()
    assert wrong == []


def tell_tried(page: Page, **changed: Any) -> None:
    page.evaluate(
        "detail => document.dispatchEvent(new CustomEvent('photo-tried', {detail}))",
        {**TRIED, **changed},
    )


def made_slip(page: Page) -> str:
    page.click("#order-form button[type=submit]")
    assert page.inner_text("#order-trouble") == ""
    page.wait_for_selector("#order-result:not([hidden])")
    return page.input_value("#order-text")


WORDS = {
    "en": ("Zoë & Bram’s “Home”", ["Ida", 'O"Neil; Jr, III', "+1", "NO", "12:30"]),
    "de": ("Für Jörg – groß & klein", ["Ömer", "Weiß", "<b>Anna</b>", "0123", "Ä" * 60]),
    "es": ("¡Feliz año, Núñez!", ["Íñigo", "María José", "a\\b", "{n}", "%s"]),
    "ar": ("محمد و ليلى", ["فاطمة", "علي (Ali)", "نور ‏1", "Zoë", "٤٢"]),
}


@pytest.mark.parametrize("language", LANGUAGES)
def test_what_was_typed_is_what_the_order_holds(
    workshop: Workshop, visit: Callable[..., Page], language: str
) -> None:
    page = visit("harbour-photo", language)
    tell_tried(page)
    name, lines = WORDS[language]
    note = f"{name}\nzweite Zeile 👩‍🚀 ‘q’ & <br>"
    page.select_option("#order-blank", "can-wrap-linen")
    page.check("#order-cloths [value=sky]")
    page.fill("#order-words-1", name)
    page.check("#order-each-2")
    page.fill("#order-words-2", "\n".join(["", *lines, ""]))
    page.fill("#order-due", "2026-12-24")
    page.fill("#order-name", name)
    page.fill("#order-mail", "odalys@example.org")
    page.fill("#order-note", note)
    page.select_option("#order-language", "de")
    page.check("#order-print")
    text = made_slip(page)
    taken = one_of(workshop, text)
    (slip,) = slips_in(text)
    assert slip and slip["note"] == note and not taken.asks
    read = read_shop(workshop.folder).orders[taken.order]
    assert (read.customer.name, read.customer.email) == (name, "odalys@example.org")
    assert read.customer.language == "de" and str(read.due) == "2026-12-24" and read.draft
    assert (read.rights.print, read.rights.show) == (True, None)
    (line,) = read.lines
    assert (line.design, line.blank, line.cloth) == ("harbour-photo", "can-wrap-linen", "sky")
    assert [piece.words for piece in line.pieces] == [{"name": name, "line": one} for one in lines]
    photo = slip["photos"]["photo"]
    assert (photo["focus"], photo["zoom"], photo["name"]) == ([0.5123, 0.4], 1.25, TRIED["name"])


def test_the_mail_link_is_short_and_holds_the_slip(
    workshop: Workshop, visit: Callable[..., Page]
) -> None:
    for language in LANGUAGES:
        page = visit("harbour-photo", language)
        tell_tried(page)
        page.fill("#order-words-1", WORDS[language][0])
        page.fill("#order-words-2", "forty years at anchor")
        page.fill("#order-name", WORDS[language][0])
        page.fill("#order-mail", "odalys@example.org")
        whole = made_slip(page)
        link = str(page.get_attribute("#order-open", "href"))
        assert len(link) <= 1800, language
        body = parse_qs(urlsplit(link).query)["body"][0]
        assert slips_in(body) == slips_in(whole) and slips_in(body)[0]
        assert page.is_hidden("#order-long")


def put_in(page: Page, rows: list[str]) -> None:
    """As `fill` does, which Chromium takes half a minute for where there are a thousand rows."""
    page.evaluate(
        """rows => {
            const field = document.querySelector("#order-words-1");
            field.value = rows.join("\\n");
            field.dispatchEvent(new Event("input", {bubbles: true}));
        }""",
        rows,
    )


def long_list(page: Page) -> str:
    page.fill("#order-words-2", "x")
    page.check("#order-each-1")
    put_in(page, [f"Guest number {n}" for n in range(1000)])
    page.fill("#order-name", "Odalys")
    page.fill("#order-mail", "odalys@example.org")
    return made_slip(page)


PASTE = "Please paste your order here, in place of this line."


def pasted_mail(page: Page) -> dict[str, str]:
    """The fields of the mail that a text is pasted into."""
    link = str(page.get_attribute("#order-paste-mail", "href"))
    return {key: value for key, (value,) in parse_qs(urlsplit(link).query).items()}


def test_a_long_list_is_copied_and_never_goes_by_halves(visit: Callable[..., Page]) -> None:
    page = visit("harbour-photo")
    whole = long_list(page)
    assert page.is_visible("#order-long")
    assert page.is_hidden("#order-open") and page.is_hidden("#order-share")
    fields = pasted_mail(page)
    assert fields == {"subject": whole.splitlines()[0], "body": PASTE + "\r\n\r\n"}
    page.evaluate("navigator.clipboard.writeText = async text => { window.copied = text; }")
    page.click("#order-take")
    page.wait_for_function("document.querySelector('#order-took').textContent")
    assert page.evaluate("window.copied") == whole and "Copied" in page.inner_text("#order-took")
    (slip,) = slips_in(whole)
    assert slip and len(slip["lists"]["name"]) == slip["many"] == 1000
    with page.expect_download() as got:
        page.click("#order-save")
    assert got.value.suggested_filename == "order-harbour-photo.txt"
    assert slips_in(Path(got.value.path()).read_text("utf-8")) == [slip]
    put_in(page, ["A"] * 1001)
    page.click("#order-form button[type=submit]")
    assert "At most 1000 lines" in page.inner_text("#order-trouble")


GUESTS = [
    f"{name} vom Großen Hügel, die {n}." for n, name in enumerate(("Zoë", "Łucja", "Ömer") * 5)
]


FOURTEEN = [
    "Ida", "Bram", "Zoë", "Jonathan", "Ana María", "Léa", "Tom", "Una", "Małgorzata", "Friedrich",
    "Sophie Anne", "Oskar", "Wilhelmina", "Jörg",
]  # fmt: skip


def many_names(page: Page, names: list[str], note: str = "As gifts, please.") -> str:
    tell_tried(page, name="IMG_2041.jpg", verdict="coarse")
    page.fill("#order-words-2", "forty years at anchor")
    page.check("#order-each-1")
    page.fill("#order-words-1", "\n".join(names))
    page.fill("#order-due", "2026-12-19")
    page.fill("#order-name", "Odalys")
    page.fill("#order-mail", "odalys@example.org")
    page.fill("#order-note", note)
    page.check("#order-print")
    return made_slip(page)


@pytest.mark.parametrize("language", ("en", "de", "es"))
def test_a_mail_of_fourteen_names_can_be_read_and_is_taken_to_the_letter(
    workshop: Workshop, visit: Callable[..., Page], language: str
) -> None:
    """They stood in lines of letters alone, and a day as computers write it."""
    page, tongue = visit("harbour-photo", language), Tongue(language)
    page.select_option("#order-language", other := "es" if language == "de" else "de")
    whole = many_names(page, FOURTEEN)
    link = str(page.get_attribute("#order-open", "href"))
    body = parse_qs(urlsplit(link).query)["body"][0].replace("\r\n", "\n")
    assert page.is_hidden("#order-long") and len(link) <= 1800
    read = body.partition("BEGIN ORDER CODE")[0]
    coarse = tongue.message("The page says that it has too few pixels for this piece.")
    for said in (
        *FOURTEEN, "forty years at anchor", "14 × ", tongue.day(date(2026, 12, 19)), "Odalys",
        "IMG_2041.jpg", coarse, "As gifts, please.", "Deutsch" if other == "de" else "Español", "€",
    ):  # fmt: skip
        assert said in read and said in whole, said
    assert tongue.message("Hello, I would like to order:") in whole and "2026-12-19" not in read
    assert "odalys@example.org" in whole, "a mail says by itself who sends it"
    taken = one_of(workshop, body)
    assert taken.remarks == ("As gifts, please.",), "the page's words are not the customer's"
    (line,) = (order := read_shop(workshop.folder).orders[taken.order]).lines
    assert [piece.words["name"] for piece in line.pieces] == FOURTEEN
    assert (str(order.due), order.customer.language) == ("2026-12-19", other)
    assert (order.customer.email, order.rights.print) == ("odalys@example.org", True)


@pytest.mark.parametrize("language", LANGUAGES)
def test_what_no_mail_can_hold_is_pasted_and_taken_to_the_letter(
    workshop: Workshop, visit: Callable[..., Page], language: str
) -> None:
    """Sixty names went as a row of letters, or as a file."""
    page, tongue = visit("harbour-photo", language), Tongue(language)
    guests = [f"{WORDS[language][0]} {n}" for n in range(60)]
    whole = many_names(page, guests)
    assert page.is_visible("#order-long") and page.is_hidden("#order-open")
    mail = pasted_mail(page)
    assert mail["subject"] == whole.splitlines()[0] and tongue.message(PASTE) in mail["body"]
    taken = one_of(workshop, mail["body"] + whole)  # the line was left standing
    assert taken.remarks == ("As gifts, please.",)
    (line,) = read_shop(workshop.folder).orders[taken.order].lines
    assert [piece.words["name"] for piece in line.pieces] == guests


def test_lines_that_look_like_a_list_are_asked_about_once(visit: Callable[..., Page]) -> None:
    """Eight names, typed without the tick, would stand together on each of eight pieces."""
    page = visit("gull-coaster")
    names = ["Ida", "Bram", "Zoë", "Jon", "Ana", "Lea", "Tom", "Una"]
    page.fill("#order-words-1", "\n".join(names))
    page.fill("#order-many", "8")
    page.fill("#order-name", "Odalys")
    page.fill("#order-mail", "odalys@example.org")
    page.click("#order-form button[type=submit]")
    assert "Here are 8 lines for 8 pieces" in page.inner_text("#order-trouble")
    assert page.is_hidden("#order-result")
    (slip,) = slips_in(made_slip(page))
    assert slip and slip["words"]["name"].splitlines() == names, "pressed again, it is meant so"
    page.check("#order-each-1")
    (slip,) = slips_in(made_slip(page))
    assert slip and slip["lists"]["name"] == names


def test_what_was_put_right_is_complained_of_no_more(visit: Callable[..., Page]) -> None:
    """It stood there as long as another field lacked the same."""
    page = visit("harbour-photo")
    page.click("#order-form button[type=submit]")
    assert page.inner_text("#order-trouble")
    page.locator("#order-words-1").press("A")
    assert page.inner_text("#order-trouble") == ""


def test_a_day_nearer_than_the_usual_is_told_of_and_may_be_asked_for(
    visit: Callable[..., Page],
) -> None:
    page = visit("gull-coaster")
    days = page.evaluate("JSON.parse(document.querySelector('#order-facts').textContent).days")
    assert days == 15, "five to look at the proof, ten to make it"
    for after, told in ((days - 1, True), (days, False)):
        page.fill("#order-due", (date.today() + timedelta(days=after)).isoformat())
        assert ("usually need 15 days" in page.inner_text("#order-day")) is told
    page.fill("#order-due", (date.today() + timedelta(days=1)).isoformat())
    page.fill("#order-words-1", "Gull")
    page.fill("#order-name", "Odalys")
    page.fill("#order-mail", "odalys@example.org")
    assert slips_in(made_slip(page))[0]


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_day_already_past_is_told_beside_its_field(
    visit: Callable[..., Page], language: str
) -> None:
    """Nothing was said until the order was to be sent."""
    page, tongue = visit("gull-coaster", language), Tongue(language)
    says = tongue.message("This day is already past: please choose another one, or leave it empty.")
    page.fill("#order-due", (date.today() - timedelta(days=1)).isoformat())
    assert page.inner_text("#order-day") == says
    page.fill("#order-due", date.today().isoformat())
    assert page.inner_text("#order-day") not in ("", says)
    page.fill("#order-due", "0202-12-01")  # a year that is still being typed
    assert page.inner_text("#order-day") == ""


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_day_that_can_be_met_is_told_with_the_last_day_to_order(
    visit: Callable[..., Page], language: str
) -> None:
    """Nothing was said where the day could be met."""
    page, tongue = visit("gull-coaster", language), Tongue(language)
    for after in (15, 16, 60, 200):
        day, last = (date.today() + timedelta(days=after - less) for less in (0, 15))
        page.fill("#order-due", day.isoformat())
        said = page.inner_text("#order-day")
        assert tongue.day(day) in said and tongue.day(last) in said
        assert said == tongue.message(
            "We can usually have it ready by {day} if you order by {last}. If it is to be posted, "
            "leave some more days."
        ).format(day=tongue.day(day), last=tongue.day(last))
    page.fill("#order-due", "")
    assert page.inner_text("#order-day") == ""


def test_a_number_that_a_list_counts_says_so(visit: Callable[..., Page]) -> None:
    """It was locked without a word."""
    page = visit("gull-coaster")
    assert page.inner_text("#order-counted") == ""
    page.check("#order-each-1")
    page.fill("#order-words-1", "Ida\nBram")
    assert page.input_value("#order-many") == "2"
    assert not page.is_editable("#order-many")
    assert "Counted from your list" in page.inner_text("#order-counted")
    assert page.get_attribute("#order-many", "aria-describedby") == "order-counted"
    page.uncheck("#order-each-1")
    assert page.inner_text("#order-counted") == "" and page.is_editable("#order-many")


def filled_photo_order(page: Page) -> str:
    page.fill("#order-words-1", "Zoë & Bram")
    page.fill("#order-words-2", "forty years at anchor")
    page.fill("#order-name", "Odalys")
    page.fill("#order-mail", "odalys@example.org")
    return made_slip(page)


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_photo_too_coarse_is_told_in_form_and_mail(
    workshop: Workshop, visit: Callable[..., Page], language: str
) -> None:
    """It was named as if it were a good one."""
    page, tongue = visit("harbour-photo", language), Tongue(language)
    tell_tried(page, verdict="soft")
    assert page.inner_text("#order-coarse") == ""
    told = tongue.message("The page says that it has too few pixels for this piece.")
    assert told not in filled_photo_order(page)
    tell_tried(page, verdict="coarse")
    said = page.inner_text("#order-coarse")
    assert TRIED["name"] in said and len(said) > len(TRIED["name"]) + 30
    text = filled_photo_order(page)
    assert told in text.split("BEGIN ORDER CODE")[0].splitlines()
    link = str(page.get_attribute("#order-open", "href"))
    if page.is_hidden("#order-long"):
        assert told in parse_qs(urlsplit(link).query)["body"][0]
    else:
        assert language == "ar", "in Arabic each letter is six of a link's, so it is pasted whole"
    taken = one_of(workshop, text)
    assert taken.remarks == (), "what the page says is no customer’s word"


def test_a_leave_that_was_not_given_is_told_and_what_was_given_is_in_slip_and_mail(
    workshop: Workshop, visit: Callable[..., Page]
) -> None:
    page = visit("harbour-photo")
    unsaid = filled_photo_order(page)
    assert page.is_visible("#order-unsaid") and "You may use these pictures" not in unsaid
    page.check("#order-print")
    said = made_slip(page)
    assert page.is_hidden("#order-unsaid") and "You may use these pictures" in said
    taken = one_of(workshop, said)
    assert read_shop(workshop.folder).orders[taken.order].rights.print is True
    assert not visit("gull-coaster").locator("#order-unsaid").count(), "it takes no pictures"


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_letters_of_a_slip_are_said_to_be_what_they_are(
    workshop: Workshop, visit: Callable[..., Page], language: str
) -> None:
    page = visit("harbour-photo", language)
    text = filled_photo_order(page)
    lines = text.splitlines()
    said = Tongue(language).message(
        "The letters below are your order again, for our program. Please let them stay."
    )
    assert lines[lines.index("BEGIN ORDER CODE") - 1] == said
    before = Tongue(language).message("Please send the lines below just as they are.")
    taken = one_of(workshop, text.replace(said, before))
    assert taken.remarks == (), "a page of before may still be open somewhere"


def test_a_telephone_hands_a_long_order_on_whole(visit: Callable[..., Page]) -> None:
    page = visit("harbour-photo")
    page.evaluate("navigator.share = given => { window.given = given; return Promise.resolve(); }")
    whole = long_list(page)
    assert page.is_hidden("#order-open") and page.is_visible("#order-long")
    page.click("#order-share")
    assert page.evaluate("window.given") == {"title": whole.splitlines()[0], "text": whole}


def test_a_pasted_table_fills_the_places_beside(visit: Callable[..., Page]) -> None:
    page = visit("harbour-photo")
    page.evaluate(
        """() => {
            const data = new DataTransfer();
            data.setData("text", "Ida\\tone\\r\\nBo\\ttwo\\r\\nZoë\\tthree\\r\\n");
            document.querySelector("#order-words-1").dispatchEvent(
              new ClipboardEvent("paste", {clipboardData: data, cancelable: true, bubbles: true}));
        }"""
    )
    assert page.input_value("#order-words-1") == "Ida\nBo\nZoë"
    assert page.input_value("#order-words-2") == "one\ntwo\nthree"
    assert page.input_value("#order-many") == "3" and page.is_checked("#order-each-2")
    assert page.inner_text("#order-price").startswith("3 × ")


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("currency", ["EUR", "JPY", "KWD", "USD"])
def test_prices_are_babels_and_the_tools_own(
    visit: Callable[..., Page], workshop: Workshop, language: str, currency: str
) -> None:
    steps = (
        (1, Decimal("12345.55")),
        (3, Decimal("0.05")),
        (10, Decimal("999.99")),
        (50, Decimal("14.50")),
    )
    design = replace(workshop.shop.designs["gull-coaster"], offered={"coaster-round": steps})
    workshop.shop = replace(
        workshop.shop, settings=replace(workshop.shop.settings, currency=currency)
    )
    page, tongue = visit(design, language), Tongue(language)
    for many in (1, 2, 3, 4, 9, 10, 49, 50, 77, 333):
        page.fill("#order-many", str(many))
        price = design.price("coaster-round", many)
        assert price is not None
        said = page.inner_text("#order-price").replace("\u200f", "")
        for amount in (price, price * many):
            told = tongue.money(amount, currency).replace("\u200f", "")
            assert told.replace("\xa0", " ") in said.replace("\xa0", " "), (many, said)


def test_below_the_least_number_nothing_is_offered(
    visit: Callable[..., Page], workshop: Workshop
) -> None:
    steps = ((10, Decimal("4.50")),)
    design = replace(workshop.shop.designs["gull-coaster"], offered={"coaster-round": steps})
    page = visit(design)
    assert "from 10 pieces on" in page.inner_text("#order-price")
    page.fill("#order-words-1", "x")
    page.click("#order-form button[type=submit]")
    assert "from 10 pieces on" in page.inner_text("#order-trouble")


MISSING = [
    ("#order-words-1", "", "what should stand there"),
    ("#order-many", "0", "a whole number from 1 to 5000"),
    ("#order-many", "5001", "a whole number from 1 to 5000"),
    ("#order-many", "", "a whole number from 1 to 5000"),
    ("#order-due", "2020-01-01", "This day is already past"),
    ("#order-name", " ", "your name"),
    ("#order-mail", "odalys", "your mail address"),
]


def test_what_is_missing_is_said_where_it_is(visit: Callable[..., Page]) -> None:
    page = visit("gull-coaster")
    good = {
        "#order-words-1": "Gull",
        "#order-many": "2",
        "#order-name": "O",
        "#order-mail": "o@x.org",
    }
    for field, value, says in MISSING:
        for each, text in {**good, "#order-due": "", field: value}.items():
            page.fill(each, text)
        page.click("#order-form button[type=submit]")
        assert says in page.inner_text("#order-trouble"), field
        assert page.evaluate("'#' + document.activeElement.id") == field
        assert page.is_hidden("#order-result")


def test_the_same_again_is_the_same_slip(visit: Callable[..., Page]) -> None:
    page = visit("gull-coaster")
    for field, value in {
        "#order-words-1": "G",
        "#order-name": "O",
        "#order-mail": "o@x.org",
    }.items():
        page.fill(field, value)
    first = made_slip(page)
    page.wait_for_timeout(1100)
    assert made_slip(page) == first
    page.fill("#order-words-1", "H")
    assert page.is_hidden("#order-result")
    assert made_slip(page) != first


def test_the_piece_that_is_chosen_is_told(visit: Callable[..., Page]) -> None:
    page = visit("harbour-photo")
    page.evaluate(
        """() => {
            window.told = [];
            document.addEventListener("piece-chosen", (event) => told.push(event.detail));
        }"""
    )
    other = page.evaluate("document.querySelectorAll('#order-blank option')[1].value")
    page.select_option("#order-blank", other)
    page.check("#order-cloths label:nth-child(2) input")
    told = page.evaluate("told")
    assert told[0]["blank"] == other and told[1]["cloth"] != told[0]["cloth"]
    page.evaluate("document.dispatchEvent(new CustomEvent('photo-tried', {detail: null}))")
    assert "attach it there" in page.inner_text("#order-photo")


def test_without_script_the_mail_button_stays(visit: Callable[..., Page]) -> None:
    page = visit("harbour-photo", java_script_enabled=False)
    assert page.locator("#order-slip").is_hidden()
    links = page.locator("a.button.main:visible")
    assert [str(link.get_attribute("href"))[:7] for link in links.all()] == ["mailto:"] * 2
    page = visit("harbour-photo")
    assert page.locator("p.order a:visible").get_attribute("href") == "#order-slip"


@pytest.mark.parametrize("theme", ["quay", "kite"])
@pytest.mark.parametrize("width", [320, 1280])
def test_axe_finds_nothing(visit: Callable[..., Page], theme: str, width: int) -> None:
    page = visit(
        "harbour-photo", theme=theme, viewport={"width": width, "height": 800}, bypass_csp=True
    )
    assert axe_faults(page) == []
    page.check("#order-each-1")
    page.click("#order-form button[type=submit]")
    assert axe_faults(page) == []
    page.fill("#order-words-1", "A\nB")
    page.fill("#order-words-2", "x")
    page.fill("#order-name", "O")
    page.fill("#order-mail", "o@x.org")
    made_slip(page)
    assert axe_faults(page) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_the_keyboard_reaches_all_of_it(visit: Callable[..., Page]) -> None:
    page = visit("gull-coaster")
    page.focus("#order-blank")
    reached = []
    for _ in range(14):
        reached.append(
            page.evaluate("document.activeElement.id || document.activeElement.name || ''")
        )
        page.keyboard.press("Tab")
    wanted = ["order-blank", "cloth", "order-words-1", "order-each-1", "order-many", "order-due",
              "order-name", "order-mail", "order-language", "order-note", "order-show"]  # fmt: skip
    assert [one for one in dict.fromkeys(reached) if one in wanted] == wanted


def test_the_checker_of_markup_finds_nothing(workshop: Workshop, tmp_path: Path) -> None:
    design = workshop.shop.designs["harbour-photo"]
    pages = [page_of(workshop, design, tmp_path / code, code) for code in LANGUAGES]
    assert nu_faults(pages, tmp_path) == []


def test_the_script_is_one_that_old_browsers_read() -> None:
    from proofgen.render.shipped import carried

    for name in ("coded", "sending", "growing", "remembering", "lettering", "order-slip"):
        assert "(?<" not in (carried("themes") / "base" / f"{name}.js").read_text("utf-8")


def test_the_order_is_the_files_own(workshop: Workshop, visit: Callable[..., Page]) -> None:
    """Two places with line ends in words, and another blank."""
    page = visit("bunting-days")
    page.select_option("#order-blank", "can-fold-linen")
    for number, text in enumerate(("Nana is 80", "Cake at four,\ntales till late", "2026"), 1):
        page.fill(f"#order-words-{number}", text)
    page.fill("#order-name", "Bo Ny")
    page.fill("#order-mail", "bo@example.org")
    taken = one_of(workshop, made_slip(page))
    (line,) = order_of(workshop, taken.order)["lines"]  # type: ignore[misc]
    assert line["blank"] == "can-fold-linen"
    assert line["words"]["message"] == "Cake at four,\ntales till late"


def suiting_in(workshop: Workshop, design: str, language: str = "en") -> Suiting:
    """What the shop's own catalogue would tell of a design in a language."""
    settings = replace(workshop.shop.settings, language=language)
    workshop.shop = replace(workshop.shop, settings=settings)
    one = workshop.shop.designs[design]
    blanks = [workshop.shop.blanks[name] for name in one.offered]
    return suiting_of(workshop, [sample_layout(workshop, one, blank) for blank in blanks])


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_cloth_that_does_not_suit_the_design_is_told_beside_it_and_may_be_ordered(
    workshop: Workshop, visit: Callable[..., Page], language: str
) -> None:
    """A pale design on coral vanishes; who ordered it read so on the proof, a week later."""
    suiting = suiting_in(workshop, "bunting-days", language)
    page = visit("bunting-days", language, suiting=suiting)
    tongue, says = Tongue(language), page.locator("#order-suits")
    assert says.inner_text() == ""
    page.select_option("#order-blank", "can-sewn-linen")
    page.check("#order-cloths [value=coral]")
    told = says.inner_text()
    called = page.inner_text("#order-cloths label:has([value=coral])").strip()
    assert tongue("The cloth “{cloth}” suits this design less well.", cloth=called) in told
    cream = tongue.several(
        "{colours} can hardly be told from the bare cloth.",
        "{colours} can hardly be told from the bare cloth.",
        1,
        colours=tongue("cream"),
    )
    assert capital(cream) in told
    assert says.is_visible() and page.get_attribute("#order-suits", "role") == "status"
    page.fill("#order-name", "Odalys")
    page.fill("#order-mail", "odalys@example.org")
    for at in range(1, page.locator("#order-slip .slot").count() + 1):
        page.fill(f"#order-words-{at}", "Ida")
    (slip,) = slips_in(made_slip(page))
    assert slip and slip["cloth"] == "coral"
    page.check("#order-cloths [value=natural]")
    assert says.inner_text() == ""


def test_words_on_a_photo_are_not_judged_on_bare_cloth(workshop: Workshop) -> None:
    """What they stand on is the customer's photo."""
    told = suiting_in(workshop, "harbour-photo").cloths["can-wrap-linen"]
    assert "Cream turns red" in told["coral"] and "Your words" not in told["coral"]
    assert "light parts of a photo turn red" in told["coral"] and "white" not in told


@pytest.mark.parametrize("design", ["gull-coaster", "harbour-photo"])
def test_letters_that_the_lettering_lacks_are_told_as_they_are_typed(
    workshop: Workshop, visit: Callable[..., Page], design: str
) -> None:
    suiting = suiting_in(workshop, design)
    page = visit(design, suiting=suiting)
    layout = sample_layout(
        workshop,
        workshop.shop.designs[design],
        workshop.shop.blanks[next(iter(workshop.shop.designs[design].offered))],
    )
    placed = next(p for p in layout.layers if isinstance(p, PlacedWords) and p.slot == "name")
    face, told = workshop.materials.typeface(placed.font_file), page.locator(".letters").first
    for text in (
        "Zoë & Bram’s “Home”", "Νίκος", "Łucja Wałęsa", "Nguyễn Văn An", "محمد", "Ida\u200d",
        "Zoe\u0308", "漢字 👩\u200d👧", "a\u00a0b\u2028c", "x̌", "ﬁ €", "Пётр и Мария, Псков",
        "\U0001f600\ufe0f", "İi",
    ):  # fmt: skip
        page.fill("#order-words-1", text)
        lost = face.missing(tidy(text))
        said = told.inner_text()
        assert (said != "") == (lost != ""), (text, lost, said)
        named = said.partition(": ")[2].partition(". You can send")[0]
        assert [one.strip("\u2068\u2069") for one in named.split()] == list(lost[:12]), text
    assert len(json.dumps(form_facts_letters(page))) < 2000


def form_facts_letters(page: Page) -> Any:
    return json.loads(page.text_content("#order-facts") or "")["letters"]


def test_the_form_follows_the_photo_that_is_tried(visit: Callable[..., Page]) -> None:
    """Whoever chooses another piece beside the photo orders that one."""
    page = visit("harbour-photo")
    other = page.evaluate("document.querySelectorAll('#order-blank option')[1].value")
    page.evaluate(
        "detail => document.dispatchEvent(new CustomEvent('piece-chosen', {detail}))",
        {"blank": other, "cloth": "sky"},
    )
    assert page.input_value("#order-blank") == other
    assert page.evaluate("document.querySelector('#order-cloths :checked').value") == "sky"


def _typed(page: Page) -> None:
    page.select_option("#order-blank", "can-fold-linen")
    page.fill("#order-words-1", "Nana is 80")
    page.check("#order-each-1")
    page.fill("#order-words-1", "Nana\nOma")
    page.fill("#order-name", "Bo Ny")
    page.fill("#order-note", "As last year.")


def test_what_was_typed_outlives_a_reload_and_can_be_removed(visit: Callable[..., Page]) -> None:
    page = visit("bunting-days")
    assert not page.is_visible("#order-kept"), "nothing was typed yet"
    _typed(page)
    assert "on this device alone" in page.inner_text("#order-kept")
    assert "only its place is kept, not the photo" in page.inner_text("#order-kept")
    page.reload()
    assert page.input_value("#order-blank") == "can-fold-linen"
    assert page.input_value("#order-words-1") == "Nana\nOma" and page.is_checked("#order-each-1")
    assert page.input_value("#order-many") == "2"
    assert page.input_value("#order-name") == "Bo Ny"
    assert page.input_value("#order-note") == "As last year."
    page.click("#order-forget")
    assert page.input_value("#order-name") == "" and not page.is_visible("#order-kept")
    assert page.evaluate("Object.keys(localStorage)") == []
    page.reload()
    assert page.input_value("#order-words-1") == "" and not page.is_checked("#order-each-1")


def test_a_browser_that_keeps_nothing_takes_the_order_all_the_same(
    visit: Callable[..., Page],
) -> None:
    page = visit("bunting-days")
    page.add_init_script(
        "Object.defineProperty(window, 'localStorage', {get() { throw new Error('no'); }});"
    )
    page.reload()
    _typed(page)
    assert not page.is_visible("#order-kept")
    for number in (2, 3):
        page.fill(f"#order-words-{number}", "2026")
    page.fill("#order-mail", "bo@example.org")
    assert "BEGIN ORDER CODE" in made_slip(page)
