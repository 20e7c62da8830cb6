"""A letter to a customer: said once, then written as plain text and as a mail to open and send."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass, field
from email.headerregistry import Address
from email.message import EmailMessage
from email.policy import SMTP
from typing import Literal

from proofgen.render import Theme
from proofgen.say.safe import for_letter

PartKind = Literal["says", "head", "steps", "points", "link", "facts", "lines", "house"]
_POLICY = SMTP.clone(cte_type="7bit")  # every mail program reads it, whatever it came through


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A paragraph, a heading, numbered or plain points, a link, facts (what, then which), lines of
    their own, or the shop's own text, which is Markdown."""

    kind: PartKind = "says"
    text: str = ""
    items: tuple[str, ...] = ()
    rows: tuple[tuple[str, str], ...] = ()


def says(text: str) -> Part:
    return Part(text=text)


def points(*items: str) -> Part:
    return Part(kind="points", items=items)


def lines(*items: str) -> Part:
    return Part(kind="lines", items=items)


def facts(*rows: tuple[str, str]) -> Part:
    return Part(kind="facts", rows=rows)


@dataclass(frozen=True, slots=True, kw_only=True)
class Attached:
    """A file that goes with a letter; text of that kind ('html', 'plain')."""

    name: str
    content: bytes = field(repr=False)
    subtype: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Letter:
    """One letter. `sender` and `to` are a name and a mail address; the address may be ''."""

    subject: str
    sender: tuple[str, str]
    to: tuple[str, str]
    parts: tuple[Part, ...]
    attached: tuple[Attached, ...] = ()


def _lines(part: Part) -> Iterator[str]:
    match part.kind:
        case "steps":
            yield from (f"{i}. {for_letter(item)}" for i, item in enumerate(part.items, 1))
        case "points":
            yield from (f"- {for_letter(item)}" for item in part.items)
        case "lines":
            yield from map(for_letter, part.items)
        case "facts":
            for what, which in part.rows:
                yield for_letter(what)
                yield from (f"    {for_letter(line)}" for line in which.splitlines() or [""])
        case "house":
            yield part.text.strip()
        case _:
            yield for_letter(part.text)


def plain_body(letter: Letter) -> str:
    """The letter without its subject, as plain text that mail programs may wrap."""
    return "\n\n".join("\n".join(_lines(part)) for part in letter.parts) + "\n"


def plain_text(letter: Letter) -> str:
    """The letter as a file to read or paste: its subject on the first line."""
    return f"Subject: {for_letter(letter.subject)}\n\n{plain_body(letter)}"


def _address(person: tuple[str, str]) -> Address:
    name, mail = person
    user, _, domain = mail.rpartition("@")
    return Address(for_letter(name), username=user, domain=domain)


def mail_file(letter: Letter, theme: Theme) -> bytes:
    """The letter as a mail (RFC 5322) that a mail program opens as a draft: plain text, the same
    as a page, and what is attached. It loads nothing, and the same letter gives the same bytes."""
    mail = EmailMessage(policy=_POLICY)
    mail["Subject"] = for_letter(letter.subject)
    mail["From"] = _address(letter.sender)
    if letter.to[1]:
        mail["To"] = _address(letter.to)
    mail["X-Unsent"] = "1"  # a draft, says who wrote it; programs that do not know it show a mail
    body = plain_body(letter)
    mail.set_content(body)
    page = theme.render("letter.html", medium="mail", styles=("letter",), letter=letter)
    mail.add_alternative(page, subtype="html")
    for one in letter.attached:
        mail.add_attachment(
            one.content,
            maintype="text",
            subtype=one.subtype,
            filename=one.name,
            params={"charset": "utf-8"},
        )
    digest = hashlib.sha256(body.encode()).hexdigest()[:24]
    for i, part in enumerate(mail.walk()):
        if part.is_multipart():
            part.set_boundary(f"={i}={digest}=")
    return mail.as_bytes()
