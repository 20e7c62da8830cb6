"""Slips in mails as programs send them: files of every kind, and wrappings that say nothing."""

from __future__ import annotations

import base64
import itertools
import json
from email.encoders import encode_base64, encode_quopri
from email.message import EmailMessage, Message
from email.mime.base import MIMEBase
from email.mime.multipart import MIMEMultipart
from email.mime.text import MIMEText
from pathlib import Path
from typing import Any

import pytest

from proofgen.signoff import Known, read_facts
from proofgen.signoff.mail import mails_in, open_mail
from tests.signoff.conftest import TODAY, take
from tests.signoff.test_slip import SURVIVES, SURVIVES_NEW
from tests.slips import compose_slip

OLD = json.loads((Path(__file__).parent / "old_slip_vector.json").read_bytes())["vectors"][0]
NAMES = Known(names=("Tern Row Press Room", "Odalys Fenn", "odalys@example.org"))


def ours(_: str) -> Known:
    return NAMES


KINDS = [
    "application/octet-stream",
    "text/plain",
    "text/html",
    "application/x-unknown",
    "image/jpeg",
    "application/pdf",
]
CODINGS = ["base64", "quoted-printable", "8bit", "named twice"]
CHARSETS = ["utf-8", "utf-8-sig", "utf-16", "latin-1"]
FILES = ["answer-fenn-proof-1.txt", "answer", "", "ATT00001.dat"]


def attached(text: str, kind: str, coding: str, charset: str, name: str) -> bytes:
    """A mail whose body says nothing and whose file holds the slip."""
    mail = MIMEMultipart()
    mail["From"], mail["To"] = "Odalys Fenn <odalys@example.org>", "hello@ternrow.example"
    mail["Date"] = "Thu, 26 Nov 2026 08:30:00 +0000"
    mail.attach(MIMEText("Hello Tern Row,\n\nMany thanks\nOdalys\n", "plain", "utf-8"))
    if kind == "text/html":
        text = "<html><body><p>" + text.replace("\n", "<br>") + "</p></body></html>"
    part = MIMEBase(*kind.split("/"))
    part.set_payload(text.encode(charset, "replace"))
    if coding == "quoted-printable":
        encode_quopri(part)
    elif coding != "8bit":
        encode_base64(part)
    if coding == "named twice":
        del part["Content-Transfer-Encoding"]
        part["Content-Transfer-Encoding"] = "BASE64 "
    if name:
        part.add_header("Content-Disposition", "attachment", filename=name)
    mail.attach(part)
    return mail.as_bytes()


def places() -> list[tuple[str, str, str, str]]:
    every = list(itertools.product(KINDS, CODINGS, CHARSETS, FILES))
    fits = [
        (kind, coding, charset, name)
        for kind, coding, charset, name in every
        # Raw UTF-16 is no mail, and a text part would say its charset.
        if not (coding in ("8bit", "quoted-printable") and charset == "utf-16")
        and not (kind.startswith("text/") and charset != "utf-8")
    ]
    return fits[::5]


@pytest.mark.parametrize("place", places(), ids=lambda p: "-".join(p))
@pytest.mark.parametrize("age", ["today's", "older"])
def test_a_slip_in_a_file_is_read(records, kept, place, age):
    text = compose_slip(kept, name="Odalys Fenn") if age == "today's" else OLD["slip"]
    got = take(records, attached(text, *place), ours=ours)
    if age == "older":  # of another key: found whole, and refused for that
        assert "changed on the way" in got.sentence, got
        return
    assert got.status == "recorded", got
    assert read_facts(records, "fenn", TODAY).state == "signed", records.answers("fenn")[0].words


def test_there_are_enough_files():
    assert len(places()) >= 40


def nested(text: str) -> Message:
    """A mail forwarded as a file of a mail that was forwarded as a file."""
    inner = EmailMessage()
    inner.set_content(text)
    for _ in range(3):
        outer = EmailMessage()
        outer["From"] = "Odalys Fenn <odalys@example.org>"
        outer["Date"] = "Thu, 26 Nov 2026 08:30:00 +0000"
        outer.set_content("\n")
        outer.add_attachment(inner)
        inner = outer
    return inner


def as_octets(text: str) -> Message:
    """The whole mail hung on another as a file of no kind."""
    inner = EmailMessage()
    inner["From"] = "odalys@example.org"
    inner.set_content(text, cte="base64")
    outer = EmailMessage()
    outer["From"] = "Odalys Fenn <odalys@example.org>"
    outer.set_content("\n")
    outer.add_attachment(
        inner.as_bytes(), maintype="application", subtype="octet-stream", filename="mail.eml"
    )
    return outer


def twice_coded(text: str) -> Message:
    """A file that was coded in base 64 before the mail program did so again."""
    outer = EmailMessage()
    outer["From"] = "Odalys Fenn <odalys@example.org>"
    outer.set_content("\n")
    outer.add_attachment(
        base64.encodebytes(text.encode()), maintype="text", subtype="plain", filename="answer.txt"
    )
    return outer


@pytest.mark.parametrize("way", [nested, as_octets, twice_coded])
def test_a_slip_deep_in_a_mail_is_read(records, kept, way):
    got = take(records, way(compose_slip(kept, name="Odalys Fenn")).as_bytes(), ours=ours)
    assert got.status == "recorded", got
    assert read_facts(records, "fenn", TODAY).state == "signed", records.answers("fenn")[0].words


# Here somebody wrote something, or what was ours is no longer so word by word: that costs a look.
MAY_HOLD = {
    "forwarded inline",
    "text all round",
    "forwarded as attachment",
    "mail address",
    "no line breaks at all",
    "wide letters",
    "every dot a link",
}


@pytest.mark.parametrize("way", [*SURVIVES, *SURVIVES_NEW])
def test_a_wrapping_says_nothing(records, kept, way):
    """What a program puts round a plain OK is nobody's word."""
    wrapped: Any = {**SURVIVES, **SURVIVES_NEW}[way](compose_slip(kept, name="Odalys Fenn"))
    got = take(records, wrapped, ours=ours)
    assert got.status == "recorded", got
    state = read_facts(records, "fenn", TODAY).state
    assert state == ("words" if way in MAY_HOLD else "signed"), records.answers("fenn")[0].words


def test_a_page_saved_as_a_file_says_no_more_than_its_words(records, kept):
    lines = [f"<p>{line}</p>" for line in compose_slip(kept, name="Odalys Fenn").splitlines()]
    take(records, f"<html><head><title>Mail</title></head>{''.join(lines)}</html>", ours=ours)
    assert read_facts(records, "fenn", TODAY).state == "signed", records.answers("fenn")[0].words


@pytest.mark.parametrize("sign", ["👎", "?", "❌"])
@pytest.mark.parametrize("at", [3, 40, 200])
def test_a_sign_put_among_the_letters_of_the_code_is_not_lost(records, kept, sign, at):
    """Letters there spoil the code; what is no letter would be passed over."""
    text = compose_slip(kept, name="Odalys Fenn")
    begin = text.index("CODE\n") + 5
    take(records, f"{text[: begin + at]}{sign}{text[begin + at :]}", ours=ours)
    assert read_facts(records, "fenn", TODAY).state == "words"
    assert sign in "".join(records.answers("fenn")[0].words)


@pytest.mark.parametrize("line", ["Grüße: bitte mit y", "=?utf-8?q?Gr=C3=BC=C3=9Fe:_bitte_mit_y?="])
def test_a_title_is_read_coded_or_as_it_is(line: str) -> None:
    """RFC 6532 lets a title stand in UTF-8, uncoded; RFC 2047 codes it."""
    mail = f"From: a@example.org\nSubject: {line}\n\nHello\n".encode()
    assert open_mail(mail).subject == "Grüße: bitte mit y"


def test_mails_in_mails_are_opened_five_deep_and_what_lies_deeper_is_named():
    """A file that is not opened may hold somebody's words, so it is never passed over."""

    def hung(inner: bytes, name: str) -> bytes:
        outer = EmailMessage()
        outer["From"] = "odalys@example.org"
        outer.set_content("See below.\n")
        outer.add_attachment(inner, maintype="application", subtype="octet-stream", filename=name)
        return outer.as_bytes()

    mail = b"From: bram@example.org\n\nLess blue, please.\n"
    for deep in range(1, 6):
        mail = hung(mail, f"{deep}.eml")
    five = open_mail(mail)
    assert "Less blue, please." in five.texts[0] and five.unread == ()
    six = open_mail(hung(mail, "6.eml"))
    assert "Less blue, please." not in "".join(six.texts) and six.unread == ("1.eml",)


def test_a_mailbox_is_parted_between_its_mails_alone() -> None:
    between = b"From odalys@fenn.example Thu Nov 26 08:30:00 2026\n"
    first = between + b"From: a@b.example\nSubject: A\n\nYes.\n\nFrom March 2026\nin blue\n\n"
    second = between + b"From: c@d.example\n\nNo.\n"
    assert mails_in(first + second) == (first, second)
    for whole in (first, b"My words\n\n" + first + second, b"", b"From here on 2026\nin blue"):
        assert mails_in(whole) == (whole,)
    for end in (b"\n", b"\r\n"):  # some programs leave out the empty line between two
        close, last = ((m.rstrip(b"\n") + b"\n").replace(b"\n", end) for m in (first, second))
        assert mails_in(close + last) == (close, last)
