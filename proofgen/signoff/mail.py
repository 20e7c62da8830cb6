"""The words and the day of a mail: plain parts, HTML made plain, text files that hang on it."""

from __future__ import annotations

import codecs
import email
import email.policy
import re
from dataclasses import dataclass
from datetime import date
from email.message import Message
from email.utils import parsedate_to_datetime
from html.parser import HTMLParser

MOST_BYTES = 50_000_000

_HEADERS = re.compile(
    rb"\s*(?:From [^\n]*\n)?(?:[A-Za-z][A-Za-z0-9-]*:[^\n]*\n(?:[ \t][^\n]*\n)*)+\r?\n", re.ASCII
)
_MAIL_ONLY = re.compile(
    rb"^(?:from|date|mime-version|received|return-path|message-id|content-type):", re.I | re.M
)
_BREAKS = frozenset(("p", "div", "br", "tr", "li", "blockquote", "pre", "table", "h1", "h2", "h3"))
_HIDDEN = frozenset(("script", "style", "head", "title"))


@dataclass(frozen=True, slots=True)
class Mail:
    """Other readings of the same mail, best first (plain, then HTML), and its own day if told."""

    texts: tuple[str, ...]
    day: date | None


def looks_like_mail(content: bytes) -> bool:
    """Whether bytes open with header lines that only a mail has."""
    head = _HEADERS.match(content[:200_000])
    return head is not None and _MAIL_ONLY.search(head[0]) is not None


def read_mail(content: bytes) -> tuple[str, date | None]:
    """The words of an .eml and the day of its Date header (its own zone); None without one."""
    mail = open_mail(content)
    return (mail.texts[0] if mail.texts else ""), mail.day


def open_mail(content: bytes) -> Mail:
    """A mail's readings, forwarded mails and text files inside included.

    Never raises for bad bytes: what cannot be read is left out.
    """
    content = re.sub(rb"\A\s*(?:From [^\n]*\n)?", b"", content)
    try:
        whole = email.message_from_bytes(content, policy=email.policy.compat32)
        parts = [(p.get_content_type(), _words(p)) for p in whole.walk() if not p.is_multipart()]
    except (RecursionError, ValueError, LookupError, AttributeError, TypeError):
        return Mail((), None)
    plain = "\n".join(words for kind, words in parts if kind == "text/plain")
    html = "\n".join(plain_from_html(words) for kind, words in parts if kind == "text/html")
    return Mail(tuple(text for text in (plain, html) if text.strip()), _day(whole))


def _words(part: Message) -> str:
    if part.get_content_maintype() != "text":
        return ""
    content = part.get_payload(decode=True)
    if not isinstance(content, bytes):
        return ""
    try:
        return content.decode(part.get_content_charset() or "utf-8", errors="replace")
    except (LookupError, ValueError):
        return content.decode("latin-1")


def _day(mail: Message) -> date | None:
    try:
        return parsedate_to_datetime(str(mail["Date"])).date() if mail["Date"] else None
    except (ValueError, TypeError, IndexError, OverflowError):
        return None


def decode_text(content: bytes) -> str:
    """Text as editors save it: UTF-8 or UTF-16 with their marks, else UTF-8, else Latin-1."""
    if content.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return content.decode("utf-16", errors="replace")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return content.decode("latin-1")


def plain_from_html(text: str) -> str:
    """The words of a page, with line breaks where its blocks begin and end."""
    reader = _Plain()
    try:
        reader.feed(text)
        reader.close()
    except (AssertionError, RecursionError, ValueError):
        return ""
    return "".join(reader.words)


class _Plain(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.words: list[str] = []
        self.hidden = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag in _HIDDEN:
            self.hidden += 1
        elif tag in _BREAKS:
            self.words.append("\n")

    def handle_endtag(self, tag: str) -> None:
        if tag in _HIDDEN:
            self.hidden = max(0, self.hidden - 1)
        elif tag in _BREAKS:
            self.words.append("\n")

    def handle_data(self, data: str) -> None:
        if not self.hidden:
            self.words.append(data)
