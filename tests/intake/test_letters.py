"""Mails that no page of ours put together: answered questions, free words, photos that hang on."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Callable
from datetime import date
from email.message import EmailMessage
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import pytest

from proofgen.catalogue.order_form import order_form
from proofgen.catalogue.ordering import order_mail
from proofgen.intake.asked import Asked, wish_of
from proofgen.intake.keeping import ASKED
from proofgen.model.blank_names import called_in, cloths_in
from proofgen.say.tongue import Tongue
from proofgen.signoff.asked import ASKED_HEAD, came_with, read_line
from proofgen.workshop import Workshop
from tests.catalogue.season import entry, offer
from tests.intake.conftest import all_of, away, one_of, order_of, orders
from tests.photo.picture_files import saved, scene

WORDS = {"name": "Zoë & Bram’s “Home”", "line": "forty years: at anchor"}
DUE = {"en": "2026-12-20", "de": "20.12.2026", "es": "2026-12-20", "ar": "2026-12-20"}


def asked_mail(workshop: Workshop, language: str) -> tuple[str, str]:
    """Subject and body of the catalogue's mail for harbour-photo, as a program opens it."""
    tongue, shop = Tongue(language), workshop.shop
    design = shop.designs["harbour-photo"]
    form = order_form(design, shop.blanks, tongue)
    offers = [offer(design.title, blank.id, blank.name) for blank in form.blanks]
    one = entry(
        design.id,
        design.title,
        *offers,
        photo_slots=tuple(design.label(slot) for slot in design.slots("photo")),
        word_slots=tuple(design.label(slot) for slot in design.slots("words")),
    )
    fields = parse_qs(urlsplit(order_mail("hello@ternrow.example", one, tongue)).query)
    return fields["subject"][0], fields["body"][0].replace("\r\n", "\n")


def filled(workshop: Workshop, language: str) -> tuple[str, str]:
    """The same with every question answered, as somebody types it."""
    tongue, shop = Tongue(language), workshop.shop
    blank = shop.blanks["can-wrap-linen"]
    answers = [
        called_in(blank, tongue), cloths_in(blank, tongue)[0][0], "12",
        WORDS["name"], WORDS["line"], "", DUE[language], "Odalys Fenn",
    ]  # fmt: skip
    subject, body = asked_mail(workshop, language)
    lines = [line for line in body.split("\n") if ":" in line][1:]
    assert len(lines) == len(answers)
    said = [f"{line.rstrip()} {answer}" for line, answer in zip(lines, answers, strict=True)]
    return subject, "\n".join([subject, "", *said, ""])


def mail(
    subject: str, body: str, sender: str = "Odalys Fenn <odalys@example.org>", **how: str
) -> EmailMessage:
    made = EmailMessage()
    made["From"], made["To"] = sender, "hello@ternrow.example"
    made["Date"], made["Subject"] = "Thu, 26 Nov 2026 08:30:00 +0000", subject
    made.set_content(body, **how)
    return made


def quoted(text: str) -> str:
    return "".join(f"> {line}\n" for line in text.split("\n"))


# What programs and people do to the text of such a mail.
WAYS: dict[str, Callable[[str], str]] = {
    "as it is": lambda t: t,
    "greeted and signed": lambda t: f"Hello Tern Row,\n\n{t}\nKind regards\nOdalys\n-- \nSent: 7\n",
    "quoted": lambda t: "Here you are.\n\n" + quoted(t),
    "quoted twice": lambda t: quoted(quoted(t)),
    "questions wrapped": lambda t: "\n".join(
        textwrap.fill(x, 60, break_on_hyphens=False) if "(" in x else x for x in t.split("\n")
    ),
    "answers below": lambda t: re.sub(r"^(.*?[^\d]:) (?=.)", r"\1\n\n", t, flags=re.M),
    "choices taken away": lambda t: re.sub(r" \([^()]*/[^()]*\)(?=:)", "", t),
    "with the blank one below": lambda t: (
        t + "\n\n" + quoted(re.sub(r"(?m)^(.*\)?:) .*$", r"\1", t))
    ),
    "direction marks": lambda t: re.sub("^", "\u200f", t, flags=re.M),
}


@pytest.mark.parametrize("language", ["en", "de", "es", "ar"])
@pytest.mark.parametrize("coding", ["quoted-printable", "base64", "8bit"])
def test_answered_questions_become_a_draft(workshop: Workshop, language: str, coding: str) -> None:
    subject, body = filled(workshop, language)
    taken = one_of(workshop, bytes(mail(f"Re: {subject}", body, cte=coding)))
    read = order_of(workshop, taken.order)
    assert read["customer"] == {
        "name": "Odalys Fenn", "email": "odalys@example.org", "language": language,
    }  # fmt: skip
    assert read["due"] == "2026-12-20" and read["draft"] == "yes"
    (line,) = read["lines"]  # type: ignore[misc]
    assert line == {
        "design": "harbour-photo", "blank": "can-wrap-linen", "cloth": "white", "quantity": "12",
        "words": WORDS,
    }  # fmt: skip
    assert taken.missing == ("the photo for “photo”",)
    assert not one_of(workshop, bytes(mail(f"Re: {subject}", body, cte=coding))).is_new
    wish = came_with(workshop.folder / "orders" / taken.order).slip
    assert wish and wish["time"] == "2026-11-26T00:00:00Z", "kept to be compared with its proof"
    assert (wish["design"], wish["many"], wish["words"]) == ("harbour-photo", 12, WORDS)


def test_what_is_kept_to_compare_is_what_was_typed_or_nothing(tmp_path: Path) -> None:
    asked = tmp_path / ASKED
    typed = {"name": "کتاب‌ها\nRead: {}", "line": "a\u2028b"}
    wish = wish_of(Asked(design="d", blank="b", cloth="c", many=2, words=typed), date(2026, 11, 25))
    assert wish
    for line, kept in (
        (read_line(wish), wish),
        (read_line({**wish, "words": {"name": "half \ud800"}}), None),
        ("Read: {", None),
        ("Read: " + "[" * 100_000, None),
        ("Read: {}", None),
        ("Taken: 2026-11-25", None),
    ):
        asked.write_text(f"{ASKED_HEAD} 0\n{line}\nAlso written: Read: x\n\nHello", "utf-8")
        assert came_with(tmp_path).slip == kept, line[:40]
    assert wish_of(Asked(design="d", cloth="c", many=2), date(2026, 11, 25)) is None


@pytest.mark.parametrize("way", WAYS)
def test_whatever_programs_did_to_it(workshop: Workshop, way: str) -> None:
    subject, body = filled(workshop, "en")
    taken = one_of(workshop, bytes(mail(subject, WAYS[way](body))))
    (line,) = order_of(workshop, taken.order)["lines"]  # type: ignore[misc]
    assert line["words"] == WORDS and line["quantity"] == "12", way
    assert line["blank"] == "can-wrap-linen"


def test_as_html_alone(workshop: Workshop) -> None:
    subject, body = filled(workshop, "en")
    page = (
        "<html><body><p>" + body.replace("&", "&amp;").replace("\n", "<br>") + "</p></body></html>"
    )
    taken = one_of(workshop, bytes(mail(subject, page, subtype="html")))
    (line,) = order_of(workshop, taken.order)["lines"]  # type: ignore[misc]
    assert line["words"] == WORDS


def test_what_is_not_answered_is_missing_and_never_guessed(workshop: Workshop) -> None:
    subject, body = asked_mail(workshop, "en")
    body = body.replace("How many: ", "How many: a dozen or so")
    taken = one_of(workshop, bytes(mail(subject, body)))
    assert taken.missing == ("which piece", "which cloth", "how many")
    assert "how many is written as “a dozen or so”" in taken.told
    file = workshop.folder / "orders" / taken.order / "order.yaml"
    read = order_of(workshop, taken.order)
    assert "lines" not in read and "harbour-photo" in file.read_text("utf-8")
    assert "order.yaml: proofgen check odalys-fenn" in taken.step


def test_the_lines_left_to_fill_in_are_a_good_order_once_they_are(workshop: Workshop) -> None:
    from proofgen.shop import read_shop

    subject, body = filled(workshop, "en")
    taken = one_of(workshop, bytes(mail(subject, body.replace("12", "some", 1))))
    file = workshop.folder / "orders" / taken.order / "order.yaml"
    head, _, rest = file.read_text("utf-8").partition("# lines:")
    made = "\n".join(line.removeprefix("# ") for line in ("# lines:" + rest).split("\n"))
    assert "quantity: \n" in made
    file.write_text(head + made.replace("quantity: ", "quantity: 12"), "utf-8")
    read = read_shop(workshop.folder)
    assert read.faults == () and read.orders[taken.order].lines[0].words == WORDS


def test_wrapped_words_are_left_to_the_maker(workshop: Workshop) -> None:
    subject, body = filled(workshop, "en")
    taken = one_of(
        workshop, bytes(mail(subject, body.replace("forty years: at", "forty years:\nat")))
    )
    assert "words for “a line below”" in taken.missing
    assert any("came in several lines" in line for line in taken.told)


def photo(name: str = "pier.jpg", size: tuple[int, int] = (640, 480)) -> tuple[bytes, str]:
    return saved(scene(*size), "JPEG"), name


def with_photos(made: EmailMessage, *photos: tuple[bytes, str]) -> bytes:
    for content, name in photos:
        made.add_attachment(content, maintype="image", subtype="jpeg", filename=name)
    return bytes(made)


@pytest.mark.parametrize(
    ("sender", "words"),
    [
        ("Odalys Fenn <odalys@example.org>", "Can you press this on six of those sleeves?"),
        ("Jörg Weiß <joerg@example.org>", "Ich hätte gern sechs Stück mit diesem Bild."),
        ("محمد العلي <m@example.org>", "أريد ست قطع بهذه الصورة"),
    ],
)
def test_free_words_with_a_photo(workshop: Workshop, sender: str, words: str) -> None:
    raw = with_photos(mail("A question", words, sender), photo("../../pier.jpg"))
    taken = one_of(workshop, raw)
    folder = workshop.folder / "orders" / taken.order
    name, address = sender[:-1].split(" <")
    assert order_of(workshop, taken.order) == {
        "customer": {"name": name, "email": address}, "draft": "yes",
    }  # fmt: skip
    assert [path.name for path in (folder / "photos").iterdir()] == ["pier.jpg"]
    assert words in (folder / ASKED).read_text("utf-8")
    assert taken.missing == ("which design", "which piece", "which cloth", "how many")
    assert not one_of(workshop, raw).is_new


def test_a_mail_that_the_shop_forwarded_to_itself(workshop: Workshop) -> None:
    inner = mail("My photo", "Please six of these.")
    inner.add_attachment(photo()[0], maintype="image", subtype="jpeg", filename="pier.jpg")
    outer = mail("Fwd: My photo", "See below.", "Tern Row <hello@ternrow.example>")
    outer.add_attachment(inner)
    taken = one_of(workshop, bytes(outer))
    assert order_of(workshop, taken.order)["customer"] == {
        "name": "Odalys Fenn", "email": "odalys@example.org",
    }  # fmt: skip
    text = "---------- Forwarded message ----------\nFrom: Bo Ny <bo@example.org>\n\nSix, please."
    taken = one_of(
        workshop,
        with_photos(mail("Fwd", text, "hello@ternrow.example"), photo("a.jpg", (320, 200))),
    )
    assert order_of(workshop, taken.order)["customer"] == {
        "name": "Bo Ny",
        "email": "bo@example.org",
    }


@pytest.mark.parametrize(
    ("body", "says"),
    [
        ("What are your hours?", "no order is in this"),
        ("Yes.\n\nBEGIN ANSWER CODE\n0000 0000\nEND ANSWER CODE", "an answer to a proof"),
        ("", "no order is in this"),
    ],
)
def test_other_mails_are_turned_away(workshop: Workshop, body: str, says: str) -> None:
    assert says in away(workshop, bytes(mail("Hello", body))).problem


def test_a_file_of_many_mails(workshop: Workshop) -> None:
    """As programs keep them (RFC 4155)."""
    subject, body = filled(workshop, "de")
    parts = [
        bytes(mail(subject, body)),
        bytes(mail("Hours", "When are you open?")),
        with_photos(mail("Hi", "One, please", "Bo <bo@example.org>"), photo()),
    ]
    start = b"From odalys@example.org Thu Nov 26 08:30:00 2026\n"
    taken = all_of(workshop, b"\n".join(start + part for part in parts))
    assert len(taken) == 3 and len(orders(workshop)) == 2


def test_what_belongs_to_another_command_says_which(workshop: Workshop) -> None:
    from proofgen.signoff import take_answer
    from tests.order_slips import order_slip

    error = away(workshop, photo()[0])
    assert "a photo, not an order" in error.problem and "--for ORDER" in error.cure
    outcome = take_answer(workshop.records, order_slip(), today=workshop.today, now=workshop.now)
    assert outcome.status == "refused" and "take FILE" in outcome.cure
