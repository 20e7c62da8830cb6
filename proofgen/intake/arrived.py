"""What was given to `take`: mails, texts or a slip, each with what hangs on it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from email.utils import parseaddr

from proofgen.intake.asked import TurnedAway
from proofgen.photo.kinds import kind_of
from proofgen.signoff.digests import digest_of
from proofgen.signoff.mail import (
    MOST_BYTES,
    Attached,
    decode_text,
    is_markup,
    looks_like_mail,
    mails_in,
    open_mail,
    plain_from_html,
)

_MOST_MAILS = 500


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrived:
    """One mail or one text: ways to read it, best first, what hangs on it, and who sent it as far
    as it says so."""

    texts: tuple[str, ...]
    subject: str = ""
    sender: str = ""
    sender_name: str = ""
    within: tuple[tuple[str, str], ...] = ()
    day: date | None = None
    attached: tuple[Attached, ...] = ()

    @property
    def mark(self) -> str:
        """Tells whether the same came before, however often it was saved or forwarded."""
        words = " ".join(" ".join(text.split()) for text in self.texts[:1])
        files = sorted(digest_of(one.content) for one in self.attached)
        return digest_of("\n".join([self.sender, self.subject, words, *files]).encode())[:32]


def arrivals(content: bytes) -> Iterator[Arrived]:
    """Each mail or text in what was given. Errors: TurnedAway where it is too large, or a photo."""
    if len(content) > MOST_BYTES:
        raise TurnedAway(
            f"this is larger than {MOST_BYTES // 1_000_000} MB",
            "save the photo by itself, then: proofgen take PHOTO --for ORDER",
        )
    if kind_of(content).picture:
        raise TurnedAway("this is a photo, not an order", "proofgen take PHOTO --for ORDER")
    mails = mails_in(content)
    if len(mails) > _MOST_MAILS:
        raise TurnedAway(
            f"this file holds {len(mails)} mails", f"give at most {_MOST_MAILS} at once"
        )
    yield from map(arrived_as, mails)


def arrived_as(content: bytes) -> Arrived:
    """One mail, or one text."""
    if looks_like_mail(content):
        mail = open_mail(content)
        return Arrived(
            texts=mail.texts,
            subject=mail.subject,
            sender=mail.sender,
            sender_name=mail.sender_name,
            within=mail.within,
            day=mail.day,
            attached=mail.attached,
        )
    text = decode_text(content)
    return Arrived(texts=(plain_from_html(text), text) if is_markup(text) else (text,))


# The line above a forwarded mail's text that says whose it is.
_FORWARDED = re.compile(
    r"^[ \t>*_]*(?:from|von|de|من)[*_]{0,2}\s*:[*_]{0,2}[ \t]*(\S.{0,300})$", re.I | re.M
)


def writers_within(arrived: Arrived) -> list[tuple[str, str]]:
    """Name and address of who wrote each mail inside one, as far as it says so."""
    inner = list(arrived.within)
    for text in arrived.texts[:1]:
        inner += [parseaddr(found) for found in _FORWARDED.findall(text[:100_000])]
    return inner


def writer_of(arrived: Arrived, contact: str) -> tuple[str, str]:
    """Name and address of who wrote a mail; of one that the shop forwarded to itself, of who
    wrote the mail inside. It is what the mail says, which proves nothing."""
    if arrived.sender and arrived.sender.casefold() != contact.casefold():
        return arrived.sender_name, arrived.sender
    others = (
        one
        for one in writers_within(arrived)
        if "@" in one[1] and one[1].casefold() != contact.casefold()
    )
    return next(others, ("", ""))
