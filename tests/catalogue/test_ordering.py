"""The mail that orders a design, read back by the rules of mail addresses (RFC 6068)."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import date
from urllib.parse import parse_qs, unquote, urlsplit

import pytest

from proofgen.catalogue import build
from proofgen.catalogue.content import DueDay, Entry
from proofgen.catalogue.fellows import Fellows
from proofgen.catalogue.ordering import order_mail
from proofgen.render import Theme
from proofgen.say.tongue import Tongue
from tests.catalogue.reading import Page
from tests.catalogue.season import KNIT, QUAY, TILE, entry, offer, season

ENGLISH = Tongue()
TO = "hello@pierhead.example"


def read(link: str) -> tuple[str, str, list[str]]:
    """Address, subject and the lines of the body."""
    parts = urlsplit(link)
    assert parts.scheme == "mailto" and not parts.fragment
    fields = parse_qs(parts.query, strict_parsing=True, keep_blank_values=True)
    assert set(fields) == {"subject", "body"}
    (subject,), (body,) = fields["subject"], fields["body"]
    assert "\n" not in body.replace("\r\n", ""), "lines of a mail end with CRLF"
    return unquote(parts.path), subject, body.split("\r\n")


def test_it_asks_for_all_an_order_answers() -> None:
    to, subject, lines = read(order_mail(TO, QUAY, ENGLISH))
    assert (to, subject) == (TO, "Order: Quay photo")
    assert lines[2:] == [
        "Which piece (Linen wrap / Slim wrap / Sail patch): ",
        "Colour of the cloth (white / sky): ",
        "How many: ",
        "The name on the board: ",
        "A line below: ",
        "Photo (attached, or where we find it): ",
        "By which day: ",
        "Your name: ",
        "",
    ]
    _, _, knit = read(order_mail(TO, KNIT, ENGLISH))
    assert not [line for line in knit if "hoto" in line]


@pytest.mark.parametrize("language", ["en", "de", "es", "ar"])
def test_it_stays_as_short_as_mail_programs_take(language: str) -> None:
    title = "Unter dem großen Baum & daneben"
    many = tuple(offer("x", f"b{n}", f"Große Hülle № {n}, Leinenoptik") for n in range(40))
    for one in (QUAY, entry("x", title, *many)):
        link = order_mail(TO, one, Tongue.of(language))
        assert len(link) <= 1800 and link.isascii()
        _, subject, lines = read(link)
        assert one.title in subject and lines[0] == subject
        assert not set("\u2068\u2069") & set(" ".join(lines))


def test_hostile_words_stay_words() -> None:
    bad = "a&cc=x@evil.example\r\nBcc: y?subject=z#%0A"
    one = entry("bad", bad, offer(bad, name=bad), word_slots=(bad,))
    _, subject, _ = read(order_mail(TO, one, ENGLISH))
    assert subject.startswith("Order: a&cc=x@evil.example")
    assert order_mail("+353 1 555 0100", QUAY, ENGLISH) == ""


def test_each_design_has_its_order_and_no_other_page_has() -> None:
    made = build(season(), Theme("quay"), with_pdf=False)
    for one in (QUAY, KNIT, TILE):
        links = Page(made[f"designs/{one.id}.html"].decode()).references
        orders = [link for link in links if "subject=" in link]
        assert set(orders) == {order_mail(TO, one, ENGLISH)}, one.id
    assert not [r for r in Page(made["index.html"].decode()).references if "subject=" in r]


def test_the_last_day_is_told_where_there_is_one() -> None:
    theme = Theme("quay")
    due = (
        DueDay(name="St Nicholas", day=date(2026, 12, 6), order_by=date(2026, 11, 21)),
        DueDay(name="", day=date(2026, 12, 25), order_by=date(2026, 12, 10)),
    )
    made = build(season(due=due), theme, with_pdf=False)
    named = "Ready by Sunday 6 December (St Nicholas) if you order by Saturday 21 November."
    said = "Ready by Friday 25 December if you order by Thursday 10 December."
    for name in ("index.html", "designs/knit.html"):
        words = Page(made[name].decode()).words
        assert named in words and said in words
    plain = Page(build(season(lead_days=1), theme, with_pdf=False)["index.html"].decode()).words
    assert "order by" not in plain and "Making takes 1 day from your yes." in plain


def test_fellows_are_those_that_comparing_each_with_every_other_finds() -> None:
    dice = random.Random(11)
    occasions, pieces = ("gift", "wedding", "harvest", "birth"), ("wrap", "slim", "mug", "tile")

    def drawn(number: int) -> Entry:
        offers = [offer(name, name) for name in dice.sample(pieces, dice.randint(1, 2))]
        good_for = tuple(dice.sample(occasions, dice.randint(0, 2)))
        slots = {name: ("it",) * dice.randint(0, 1) for name in ("photo_slots", "word_slots")}
        return replace(entry(f"d{number}", "D", *offers, occasions=good_for), **slots)

    def alike(one: Entry, other: Entry) -> int:
        shared = {*one.occasions} & {*other.occasions}
        blanks = {o.blank for o in one.offers} & {o.blank for o in other.offers}
        fills = [(bool(e.photo_slots), bool(e.word_slots)) for e in (one, other)]
        return 4 * len(shared) + 2 * bool(blanks) + (fills[0] == fills[1])

    every = tuple(map(drawn, range(60)))
    fellows = Fellows(every)
    for one in (*every, drawn(99)):  # the last as a design of another season
        scored = [(alike(one, other), other) for other in every if other.id != one.id]
        wanted = [other.id for score, other in sorted(scored, key=lambda s: -s[0]) if score][:4]
        assert [other.id for other in fellows.of(one)] == wanted


def test_designs_lead_to_those_that_are_most_like_them() -> None:
    alike = entry("jib", "Jib", occasions=("wedding",))  # the pieces and the slots of QUAY, too
    every = (QUAY, KNIT, TILE, alike)
    assert [other.id for other in Fellows(every).of(QUAY)] == ["tile", "jib", "knit"]
    assert [other.id for other in Fellows(every, most=1).of(QUAY)] == ["tile"]
    stranger = entry("x", "X", offer("X", "mug"), occasions=(), photo_slots=(), word_slots=())
    assert Fellows((stranger, QUAY)).of(stranger) == [], "nothing in common is not related"
    made = build(season(), Theme("quay"), with_pdf=False)
    page = Page(made["designs/quay-photo.html"].decode())
    assert "Good for gift , wedding" in page.words and "More like this" in page.words
    assert {"../for/gift.html", "../for/wedding.html"} <= set(page.references)
