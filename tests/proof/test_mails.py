"""A letter as text and as a mail: the same words in both, and nothing that loads or forges."""

from __future__ import annotations

import email
import email.policy
import re
from dataclasses import replace
from email.header import decode_header, make_header
from email.message import EmailMessage

import pytest
from playwright.sync_api import Browser

from proofgen.model import Customer, Order, Settings, Shop
from proofgen.proof.content import ProofContent
from proofgen.proof.correspondence import Asked, Post, proof_letter
from proofgen.proof.mails import Attached, Letter, facts, mail_file, plain_text, points, says
from proofgen.render import Theme
from proofgen.signoff.mail import plain_from_html
from tests.checks.factory import given, order
from tests.proof.sample import content

HOSTILE = "A\nBcc: x@y.example <script>alert(1)</script>"


@pytest.fixture(scope="module")
def theme() -> Theme:
    return Theme("quay")


@pytest.fixture(scope="module")
def sample() -> ProofContent:
    return content()


def post(theme: Theme, name: str = "Odalys Fenn", shop_name: str = "Tern Row") -> Post:
    shop: Shop = given().shop
    settings: Settings = replace(shop.settings, name=shop_name, telephone="+353 20 913 0148")
    who: Order = order(customer=Customer(name=name, email="odalys@example.org"))
    return Post(
        shop=replace(shop, settings=settings), order=who, tongue=theme.tongue, sign="a-token"
    )


def asked(sample: ProofContent, **how: object) -> Asked:
    facts = {"edition": 2, "answer_by": sample.answer_by, "codes": sample.codes, **how}
    return Asked(**{"link": "https://ternrow.example/p/a-token/", **facts})  # type: ignore[arg-type]


def opened(mail: bytes) -> EmailMessage:
    made = email.message_from_bytes(mail, policy=email.policy.default)
    assert isinstance(made, EmailMessage) and not made.defects
    assert not any(part.defects for part in made.walk())
    return made


def body(mail: EmailMessage, kind: str) -> str:
    part = mail.get_body((kind,))
    assert part is not None
    return str(part.get_content()).replace("\r\n", "\n")


def test_the_letter_says_what_to_do(sample: ProofContent, theme: Theme) -> None:
    said = plain_text(proof_letter(post(theme), asked(sample), sample))
    lines = said.splitlines()
    assert lines[0] == (
        "Subject: Your proof 2 from Tern Row, order fenn: answer by Friday 4 December"
    )
    assert lines[1] == "" and lines[2] == "Dear Odalys Fenn,"
    assert "https://ternrow.example/p/a-token/" in lines
    assert "4. The amount: 5 pieces for €72.50, ready on Saturday 12 December 2026." in lines
    assert "- Piece 1: the name was “Odalis & Bram”, it is now “Odalys & Bram”." in lines
    assert "We need your answer by Friday 4 December 2026; without it nothing is pressed." in lines
    for code in sample.codes.values():
        assert re.search(rf"(?m)^    {code} \(", said)
    assert "+353 20 913 0148" in said and "Answering this mail is enough" in said
    assert sample.key_hex not in said
    assert "&amp;" not in said and "\n\n\n" not in said


def test_text_and_page_say_the_same(sample: ProofContent, theme: Theme) -> None:
    letter = proof_letter(post(theme), asked(sample), sample)
    mail = opened(mail_file(letter, theme))
    bare = re.sub(r"(?m)^(?:\d+\.|-) ", "", body(mail, "plain"))
    shown = plain_from_html(body(mail, "html"))
    assert shown.split() == ["Tern", "Row", *bare.split()]


def test_a_mail_program_opens_it_as_a_draft_that_loads_nothing(
    sample: ProofContent, theme: Theme
) -> None:
    letter = proof_letter(post(theme), asked(sample), sample)
    made = mail_file(letter, theme)
    assert made == mail_file(letter, theme) and made.isascii()
    assert max(map(len, made.split(b"\r\n"))) <= 998  # RFC 5322, 2.1.1
    mail = opened(made)
    assert mail["X-Unsent"] == "1" and mail["Date"] is None and mail["Message-ID"] is None
    assert mail.get_content_type() == "multipart/alternative"
    (to,) = mail["To"].addresses
    assert (to.display_name, to.addr_spec) == ("Odalys Fenn", "odalys@example.org")
    assert mail["From"].addresses[0].addr_spec == "hello@ternrow.example"
    html = body(mail, "html")
    assert not re.search(r"\b(src|srcset|background|ping)=|url\(|@import|<(img|script|form)", html)
    links = re.findall(r'href="([^"]*)">([^<]*)<', html)
    assert links == [("https://ternrow.example/p/a-token/",) * 2]


def test_nobody_forges_a_line_or_a_head(sample: ProofContent, theme: Theme) -> None:
    letter = proof_letter(post(theme, HOSTILE, "Tern\r\nRow"), asked(sample), sample)
    assert "\nBcc:" not in plain_text(letter)
    mail = opened(mail_file(letter, theme))
    assert mail["Bcc"] is None and len(mail["To"].addresses) == 1
    assert "<script>" not in body(mail, "html") and "&lt;script&gt;" in body(mail, "html")


def test_names_of_other_scripts_and_long_ones_come_through(
    sample: ProofContent, theme: Theme
) -> None:
    names = ["Łucja Ždanová-O’Neil", "محمد عبد الله", "Ждана Жемчужникова-Жуковская"]
    for name in (*names, 'Q "u" <x@y.example>, B'):
        made = mail_file(proof_letter(post(theme, name), asked(sample), sample), theme)
        mail = opened(made)
        assert [to.addr_spec for to in mail["To"].addresses] == ["odalys@example.org"]
        assert f"Dear {name}," in body(mail, "plain")
        if name in names:  # Python's own reader of addresses parts what is folded; RFC 2047, 6.2
            head = str(make_header(decode_header(email.message_from_bytes(made)["To"])))
            assert head == f"{name} <odalys@example.org>"


def test_without_an_address_the_proof_goes_along(sample: ProofContent, theme: Theme) -> None:
    page = Attached(name="fenn-proof-2.html", content=b"<p>the proof</p>" * 9, subtype="html")
    way = asked(sample, link="", file=page)
    mail = opened(mail_file(proof_letter(post(theme), way, sample), theme))
    (file,) = mail.iter_attachments()
    assert file.get_filename() == page.name and file.get_payload(decode=True) == page.content
    assert page.name in body(mail, "plain") and page.name in body(mail, "html")
    assert "http" not in body(mail, "plain") and "a-token" in body(mail, "plain")


@pytest.mark.browser
@pytest.mark.parametrize("width", [320, 390, 700])
def test_it_fits_and_can_be_read(
    browser: Browser, sample: ProofContent, theme: Theme, width: int
) -> None:
    page = browser.new_page(viewport={"width": width, "height": 800})
    asks: list[str] = []
    page.on("request", lambda request: asks.append(request.url))
    page.set_content(
        body(opened(mail_file(proof_letter(post(theme), asked(sample), sample), theme)), "html")
    )
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert asks == []
    page.close()


def test_every_part_is_written_in_both(theme: Theme) -> None:
    parts = (says("One."), points("Two."), facts(("Three", "Four")))
    letter = Letter(subject="S", sender=("T", "t@x.example"), to=("", ""), parts=parts)
    mail = opened(mail_file(letter, theme))
    assert mail["To"] is None
    assert body(mail, "plain") == "One.\n\n- Two.\n\nThree\n    Four\n"
    assert plain_from_html(body(mail, "html")).split() == ["T", "One.", "Two.", "Three", "Four"]


def test_the_lines_of_what_a_customer_wrote_stay_lines(theme: Theme) -> None:
    parts = (
        facts(("You wrote", "Show the whole face\nThe cloth sky\n<b>no ribbon"), ("Name", "")),
    )
    mail = opened(
        mail_file(Letter(subject="S", sender=("T", "t@x.example"), to=("", ""), parts=parts), theme)
    )
    told = "You wrote\n    Show the whole face\n    The cloth sky\n    <b>no ribbon\nName\n"
    assert body(mail, "plain").startswith(told)
    assert "Show the whole face<br>The cloth sky<br>&lt;b&gt;no ribbon" in body(mail, "html")
