"""shop.yaml: defaults, papers of one's own, and every wrong value at its line."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import fields
from datetime import date
from decimal import Decimal

import pytest

from proofgen.errors import Place
from proofgen.model import Limits, Paper, PressTimes, Printer
from proofgen.shop import parse_keep, parse_language, read_shop
from tests.shop.conftest import SHOP, MakeShop, the_fault


def test_name_and_contact_are_enough(make_shop: MakeShop) -> None:
    shop = read_shop(make_shop({"shop.yaml": "name: A\ncontact: a@b.example\n"}))
    s = shop.settings
    assert shop.faults == ()
    assert (s.language, s.currency, s.zone, s.site) == ("en", "EUR", "UTC", "")
    assert [p.name for p in s.papers] == ["A4"]
    assert (s.limits, s.printer) == (Limits(), Printer())
    assert (s.minute_rate, s.today) == (None, None)


def test_optional_settings(make_shop: MakeShop) -> None:
    more = "theme: slate\ntoday: 2026-11-25\ndemo: yes\n"
    text = SHOP.replace("margin: 5 mm", "margin: 5 mm, profile: Cloth 3, side: the white side")
    s = read_shop(make_shop({"shop.yaml": text + more})).settings
    assert (s.theme, s.today, s.demo) == ("slate", date(2026, 11, 25), True)
    assert (s.printer.profile, s.printer.side) == ("Cloth 3", "the white side")


MARK = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9">\n{}\n</svg>'


def test_a_wordmark_is_read_with_its_shapes_alone(make_shop: MakeShop) -> None:
    drawn = {"name.svg": MARK.format('<path d="M0 0h9v9z"/>')}
    shop = read_shop(make_shop({"shop.yaml": SHOP + "wordmark: name.svg\n", **drawn}))
    assert shop.faults == () and 'd="M0 0h9v9z"' in shop.settings.wordmark


@pytest.mark.parametrize(
    ("inside", "file", "words"),
    [
        ("<script/>", "name.svg", ("name.svg:2", "<script>")),
        ("<path d='M0 0'/>", "nane.svg", ("no such file", "name.svg")),
        ("<path d='M0 0'/>", "../name.svg", ("../name.svg",)),
    ],
)
def test_a_bad_wordmark_is_told_at_its_line(
    inside: str, file: str, words: tuple[str, ...], make_shop: MakeShop
) -> None:
    text = SHOP + f"wordmark: {file}\n"
    shop = read_shop(make_shop({"shop.yaml": text, "name.svg": MARK.format(inside)}))
    the_fault(shop, "shop.yaml", text.count("\n"), *words)


def test_every_limit_can_be_set(make_shop: MakeShop) -> None:
    asked = {
        "good_ppi": "180",
        "floor_ppi": "100",
        "soft_edges": "0.9",
        "blurred_edges": "1.6",
        "jpeg_quality": "70",
        "dark": "11",
        "too_dark": "23",
        "pale": "89",
        "too_pale": "86",
        "dull": "31",
        "flat": "14",
        "plain": "30 %",
        "strong_colours": "2 %",
        "letter_height": "4 mm",
        "contrast": "4.5",
        "polyester": "60 %",
        "least_heat": "356 F",
        "most_heat": "210 C",
        "least_time": "25 s",
        "most_time": "2 min",
        "dark_cloth": "0.3",
        "strong_cloth": "13",
        "colour_change": "18",
        "pattern_gap": "1 mm",
        "busy_join": "25 %",
        "face_cut": "5 %",
    }
    line = ", ".join(f"{key}: {value}" for key, value in asked.items())
    text = SHOP.replace("good_ppi: 200, floor_ppi: 120, letter_height: 3 mm", line)
    shop = read_shop(make_shop({"shop.yaml": text}))
    assert shop.faults == ()
    found = {f.name: getattr(shop.settings.limits, f.name) for f in fields(Limits)}
    numbers = [180, 100, 0.9, 1.6, 70, 11, 23, 89, 86, 31, 14, 0.3, 0.02, 4, 4.5, 0.6]
    numbers += [180, 210, 25, 120, 0.3, 13, 18, 1, 0.25, 0.05]  # 356 F is 180 °C
    assert list(found.values()) == pytest.approx(numbers)


@pytest.mark.parametrize(
    ("paper", "expected"),
    [
        ("a3", [Paper(name="A3", width_mm=297, height_mm=420)]),
        ("[letter]", [Paper(name="Letter", width_mm=215.9, height_mm=279.4)]),  # 8.5 x 11 in
        ("[Tabloid]", [Paper(name="Tabloid", width_mm=279.4, height_mm=431.8)]),  # 11 x 17 in
        ("{name: roll, width: 610 mm}", [Paper(name="roll", width_mm=610, height_mm=None)]),
        (
            "[A5, {name: half, width: 10 cm, height: 8 in}]",
            [
                Paper(name="A5", width_mm=148, height_mm=210),
                Paper(name="half", width_mm=100, height_mm=203.2),
            ],
        ),
    ],
)
def test_papers(make_shop: MakeShop, paper: str, expected: list[Paper]) -> None:
    text = SHOP.replace("paper: [A4, A3]", f"paper: {paper}").split("rates:")[0]
    shop = read_shop(make_shop({"shop.yaml": text}))
    assert shop.faults == ()
    assert list(shop.settings.papers) == expected


def test_the_times_of_an_evening(make_shop: MakeShop) -> None:
    """In minutes, seconds or both; what is left out keeps its usual value, and lines are known."""
    line = "evening: {warm_up: 15 min, handling: 60 s, minutes: 150}\n"
    shop = read_shop(make_shop({"shop.yaml": SHOP + line}))
    assert shop.faults == ()
    assert shop.settings.times == PressTimes(warm_up_s=900, handling_s=60, evening_s=9000)
    assert shop.settings.lines["evening.handling"] == SHOP.count("\n") + 1
    assert "evening.change" not in shop.settings.lines


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ("{warm_up: 15}", "needs a unit"),
        ("{change: 130 min}", "at most 7200 s"),
        ("{minutes: 5}", "at least 10"),
        ("{minuets: 90}", "did you mean “minutes”?"),
    ],
)
def test_a_slip_in_the_evening_is_told_at_its_line(
    make_shop: MakeShop, given: str, words: str
) -> None:
    (fault,) = read_shop(make_shop({"shop.yaml": SHOP + f"evening: {given}\n"})).faults
    assert fault.place == Place("shop.yaml", SHOP.count("\n") + 1)
    assert words in fault.sentence(), fault.sentence()


def test_rates_follow_the_papers(make_shop: MakeShop) -> None:
    text = SHOP.replace("A3: 0.36", "a3: 0.36")
    rates = read_shop(make_shop({"shop.yaml": text})).settings.sheet_rates
    assert rates == {"A4": Decimal("0.18"), "A3": Decimal("0.36")}


WRONG_SETTINGS = [
    ("name: Tern Row Press Room\n", "", 1, "lacks name"),
    ("hello@ternrow.example", "ternrow.example", 2, "not a mail address"),
    ("hello@ternrow.example", "'a@b.example\n\n  bcc: x'", 2, "not a value"),
    ("language: en", "language: xx", 3, "not known"),
    ("language: en", "language: Deutsh", 3, "did you mean de?"),
    ("language: en", "language: spanisch", 3, "did you mean es?"),
    ("Europe/Dublin", "Europe/Dublon", 4, "did you mean Europe/Dublin?"),
    ("Europe/Dublin", "../../etc/passwd", 4, "not known"),
    ("Europe/Dublin", "Europe", 4, "not known"),
    ("EUR", "EURO", 5, "not known"),
    ("https://ternrow.example/", "ternrow.example", 6, "write it like https://ternrow.example"),
    ("https://ternrow.example/", "our page", 6, "write it like https://example.org"),
    ("https://ternrow.example/", "javascript:alert(1)", 6, "not a web address"),
    ("[A4, A3]", "[A4, A3, A33]", 7, "Known: A0, A1"),  # A3 is there already
    ("[A4, A3]", "[A4, A3, a4]", 7, "listed twice"),
    ("[A4, A3]", "[A4, A3, {name: roll}]", 7, "lacks width"),
    ("[A4, A3]", "[A4, A3, {name: roll, width: 0 mm}]", 7, "at least 50 mm"),
    ("[A4, A3]", "[A4, A3, [A5]]", 7, "takes lines of its own"),
    ("ppi: 300", "ppi: 30", 8, "at least 72"),
    ("y: 99.5 %", "y: 50 %", 8, "at least 90 %"),
    ("y: 99.5 %", "z: 99.5 %", 8, "not known in the printer's scale"),
    ("height: 15 in", "height: 15", 9, "needs a unit"),
    ("cover: 10 mm", "cover: -1 mm", 10, "at least 0 mm"),
    ("floor_ppi: 120", "floor_ppi: 220", 11, "smaller of the two"),
    ("floor_ppi: 120", "soft_edges: 1.5", 11, "make soft_edges the smaller of the two"),
    ("floor_ppi: 120", "least_heat: 500 F", 11, "limits.least_heat is more than"),
    ("floor_ppi: 120", "most_heat: 300 C", 11, "write 100 C to 260 C"),
    ("floor_ppi: 120", "contrast: 0", 11, "at least 1"),
    ("floor_ppi: 120", "polyester: 0.5", 11, "percent sign"),
    ("floor_ppi: 120", "blury: 2", 11, "not known in the limits"),
    ("answer: 5", "answer: 0", 12, "at least 1"),
    ("lead: 10", "lead: soon", 12, "not a whole number"),
    ("spares: 5 %", "spares: 5", 13, "percent sign"),
    ("minute: 0.40", "minute: 0.4.0", 14, "not an amount"),
    ("sheet: {A4: 0.18", "sheet: {A44: 0.18", 14, "did you mean “A4”?"),
    ("spares: 5 %", "today: 25.11.2026", 13, "not a date"),
    ("spares: 5 %", "demo: maybe", 13, "write yes or no"),
]


@pytest.mark.parametrize(("old", "new", "line", "words"), WRONG_SETTINGS)
def test_a_fault_is_told_at_its_line(
    make_shop: MakeShop, old: str, new: str, line: int, words: str
) -> None:
    assert old in SHOP
    shop = read_shop(make_shop({"shop.yaml": SHOP.replace(old, new)}))
    the_fault(shop, "shop.yaml", line, words)
    assert set(shop.orders) == {"fenn"}  # the rest stays usable
    assert shop.settings.limits_sound == (line != 11)


def test_telephone_and_days_that_photos_are_kept(make_shop: MakeShop) -> None:
    more = 'telephone: "+353 20 913 0148"\nkeep: 90 days\n'
    s = read_shop(make_shop({"shop.yaml": SHOP + more})).settings
    assert (s.telephone, s.keep_days) == ("+353 20 913 0148", 90)
    plain = read_shop(make_shop({"shop.yaml": SHOP + "telephone: 020 913-0148\nkeep: 1 day\n"}))
    assert (plain.settings.telephone, plain.settings.keep_days) == ("020 913-0148", 1)
    silent = read_shop(make_shop()).settings
    assert (silent.telephone, silent.keep_days) == ("", None)


def test_room_for_what_is_remembered(make_shop: MakeShop) -> None:
    for said, size in (("500 MB", 500_000_000), ("2.5 GB", 2_500_000_000), ("3gb", 3 * 10**9)):
        shop = read_shop(make_shop({"shop.yaml": f"{SHOP}store: {said}\n"}))
        assert shop.settings.store_bytes == size
    assert read_shop(make_shop()).settings.store_bytes == 2 * 10**9


@pytest.mark.parametrize(
    ("said", "days"),
    [("60", 60), ("90 days", 90), ("12 Weeks", 84), ("3 months", 90), ("1 year", 365)],
)
def test_days_that_photos_are_kept_as_people_say_them(said: str, days: int) -> None:
    assert parse_keep(said) == days


@pytest.mark.parametrize(
    ("said", "code"),
    [
        ("Deutsch", "de"),
        ("german", "de"),
        ("Swedish", "sv"),
        ("Nederlands", "nl"),
        ("PT-br", "pt-BR"),
    ],
)
def test_a_language_may_be_called_by_its_name(said: str, code: str) -> None:
    assert parse_language(said) == code


@pytest.mark.parametrize(
    ("line", "word"),
    [
        ("telephone: call me", "write it like +353"),
        ("telephone: 12", "is not a telephone number"),
        ("keep: for ever", "write it like 90 days"),
        ("keep: 0 days", "write it like 90 days"),
        ("keep:", "there is no value"),
        ("store: little", "like 2 GB"),
        ("store: 1 MB", "write 100 MB to 1000 GB"),
    ],
)
def test_a_telephone_or_a_time_that_is_none(make_shop: MakeShop, line: str, word: str) -> None:
    the_fault(read_shop(make_shop({"shop.yaml": SHOP + line + "\n"})), "shop.yaml", 15, word)


def test_days_are_known_where_the_system_has_no_list_of_time_zones() -> None:
    """Windows has none, nor has a small Linux system (Debian's smallest lacks the package tzdata):
    not even UTC was known there."""
    asks = "from zoneinfo import ZoneInfo; print(ZoneInfo('UTC'), ZoneInfo('Europe/Dublin'))"
    here = {**os.environ, "PYTHONTZPATH": ""}
    asked = subprocess.run([sys.executable, "-c", asks], env=here, capture_output=True, text=True)
    assert asked.stdout.split() == ["UTC", "Europe/Dublin"], asked.stderr
