"""The words and the day of a mail: plain parts, HTML made plain, text files that hang on it."""

from __future__ import annotations

import base64
import codecs
import email
import email.policy
import re
from dataclasses import dataclass
from datetime import date
from email.header import decode_header, make_header
from email.message import Message
from email.utils import parseaddr, parsedate_to_datetime
from html.parser import HTMLParser

from proofgen.signoff.blocks import has_mark

MOST_BYTES = 50_000_000

_HEADERS = re.compile(
    rb"\s*(?:From [^\n]*\n)?(?:[A-Za-z][A-Za-z0-9-]*:[^\n]*\n(?:[ \t][^\n]*\n)*)+\r?\n", re.ASCII
)
_MAIL_ONLY = re.compile(
    rb"^(?:from|date|mime-version|received|return-path|message-id|content-type):", re.I | re.M
)
_BASE64 = re.compile(rb"[A-Za-z0-9+/\s]{60,}={0,2}\s*")
_MARKUP = re.compile(r"</|<br\b|<p>|<div>", re.I)
# Where the next mail of a folder of mails kept as one file begins (RFC 4155); not every program
# leaves the empty line before it.
_NEXT_MAIL = re.compile(rb"^From [^\n]{1,300}\d{4}[^\n]{0,20}\r?\n", re.M)
_DEPTH = 5  # mails that hang on one another as files
_HEAD = 200_000  # bytes that a mail's header lines are sought in
_LOGO = 50_000  # bytes; a picture that somebody took to show something has more
_SIGNATURES = ("application/pgp-signature", "application/pkcs7-signature")
_BREAKS = frozenset(("p", "div", "br", "tr", "li", "blockquote", "pre", "table", "h1", "h2", "h3"))
_STRUCK = frozenset(("s", "strike", "del"))
_HIDDEN = frozenset(("script", "style", "head", "title"))


@dataclass(frozen=True, slots=True)
class Attached:
    """A file that hangs on a mail and is no text; the name is the sender's, so never a path."""

    name: str
    content: bytes


@dataclass(frozen=True, slots=True)
class Mail:
    """Other readings of the same mail, best first (plain, then HTML), and its own day if told.

    `unread` names the files that hang on it and are no text: somebody may have written there;
    `attached` are these files, `within` who the mails inside it say they are from.
    """

    texts: tuple[str, ...]
    day: date | None
    subject: str = ""
    unread: tuple[str, ...] = ()
    sender: str = ""  # the address it says it is from
    sender_name: str = ""
    attached: tuple[Attached, ...] = ()
    within: tuple[tuple[str, str], ...] = ()  # name and address


def looks_like_mail(content: bytes) -> bool:
    """Whether bytes open with header lines that only a mail has."""
    head = _HEADERS.match(content[:_HEAD])
    return head is not None and _MAIL_ONLY.search(head[0]) is not None


def mails_in(content: bytes) -> tuple[bytes, ...]:
    """Each mail of a folder of mails kept as one file; anything else as it is.

    A line of a mail that only begins like the line between two of them cuts nothing off.
    """
    starts = [found.start() for found in _NEXT_MAIL.finditer(content)]
    starts = [at for at in starts if looks_like_mail(content[at : at + _HEAD])]
    if len(starts) < 2 or content[: starts[0]].strip():
        return (content,)
    return tuple(content[a:b] for a, b in zip(starts, [*starts[1:], len(content)], strict=True))


def open_mail(content: bytes, depth: int = 0) -> Mail:
    """A mail's readings, forwarded mails and text files inside included.

    Never raises for bad bytes: what cannot be read is left out.
    """
    content = re.sub(rb"\A\s*(?:From [^\n]*\n)?", b"", content)
    plain: list[str] = []
    html: list[str] = []
    unread: list[str] = []
    attached: list[Attached] = []
    within: list[tuple[str, str]] = []
    try:
        whole = email.message_from_bytes(content, policy=email.policy.compat32)
        for part in whole.walk():
            if part is not whole and part["From"]:  # a mail that was forwarded whole
                within.append(parseaddr(_header(part, "From")))
            if part.is_multipart() or part.get_content_type() in _SIGNATURES:
                continue
            inner, words = _content(part), _words(part)
            if depth < _DEPTH and looks_like_mail(inner):
                below = open_mail(inner, depth + 1)
                plain += below.texts[:1]
                html += below.texts[1:]
                unread += below.unread
                attached += below.attached
                within += [(below.sender_name, below.sender), *below.within]
            elif words is None:
                if not _is_inside(part):
                    unread.append(str(part.get_filename() or "without a name"))
                    attached.append(Attached(str(part.get_filename() or ""), inner))
            elif part.get_content_subtype() == "html" or (
                part.get_content_maintype() != "text" and is_markup(words)
            ):
                html.append(plain_from_html(words))
            else:
                plain.append(words)
        subject = _header(whole, "Subject")
    except (RecursionError, ValueError, LookupError, AttributeError, TypeError):
        return Mail((), None)
    texts = ("\n".join(plain), "\n".join(html))
    name, sender = parseaddr(_header(whole, "From"))
    return Mail(
        texts=tuple(t for t in texts if t.strip()),
        day=_day(whole),
        subject=subject,
        unread=tuple(unread),
        sender=sender,
        sender_name=name,
        attached=tuple(attached),
        within=tuple(within),
    )


def _header(whole: Message, wanted: str) -> str:
    """What a line of a mail's head says. Some programs write its letters as UTF-8, uncoded (RFC
    6532)."""
    lines = (value for name, value in whole.raw_items() if name.lower() == wanted.lower())
    said = decode_text(next(lines, "").encode("ascii", "surrogateescape"))
    if said.isascii():
        return str(make_header(decode_header(said)))
    return said


def _is_inside(part: Message) -> bool:
    """A picture that belongs to the mail's own look, such as a logo in a signature."""
    return bool(part["Content-ID"]) and len(_content(part)) <= _LOGO


def _content(part: Message) -> bytes:
    """A part's bytes, its coding undone, and that of a slip that was coded before as well."""
    coding = str(part["Content-Transfer-Encoding"] or "")
    if coding != coding.strip().lower():  # which Python would take for none
        part.replace_header("Content-Transfer-Encoding", coding.strip().lower())
    content = part.get_payload(decode=True)
    content = content if isinstance(content, bytes) else b""
    if len(content) <= _LOGO and _BASE64.fullmatch(content):
        try:
            inner = base64.b64decode(content)
        except ValueError:
            return content
        return inner if has_mark(decode_text(inner)) else content
    return content


def is_markup(text: str) -> bool:
    """Whether a text is a page's, with its tags."""
    return _MARKUP.search(text) is not None


def _words(part: Message) -> str | None:
    """A part's text; None for a picture or another file. A slip that was saved and hung on a mail
    often comes as a file of no kind."""
    content = _content(part)
    if part.get_content_maintype() != "text":
        text = decode_text(content)
        named = str(part.get_filename() or "").casefold()
        return text if has_mark(text) or named.endswith((".txt", ".csv", ".tsv")) else None
    charset = part.get_content_charset()
    if charset is None:
        return decode_text(content)
    try:
        text = content.decode(charset, errors="replace")
    except (LookupError, ValueError):
        return decode_text(content)
    # Of a wrong one no letter beyond ASCII is left.
    wrong = "\ufffd" in text and all(c == "\ufffd" for c in text if not c.isascii())
    return decode_text(content) if wrong else text


def _day(mail: Message) -> date | None:
    try:
        return parsedate_to_datetime(str(mail["Date"])).date() if mail["Date"] else None
    except (ValueError, TypeError, IndexError, OverflowError):
        return None


def decode_text(content: bytes) -> str:
    """Text as editors and tables save it: UTF-8 or UTF-16 with their marks, else UTF-8, else as
    Windows does in the west of Europe."""
    if content.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return content.decode("utf-16", errors="replace")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        pass
    try:
        return content.decode("cp1252")
    except UnicodeDecodeError:  # five bytes mean nothing there
        return content.decode("latin-1")


def plain_from_html(text: str) -> str:
    """The words of a page, with line breaks where its blocks begin and end."""
    reader = _Plain()
    try:
        reader.feed(text)
        reader.close()
    except (AssertionError, RecursionError, ValueError):
        return ""
    return "".join(reader.text)


class _Plain(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.text: list[str] = []
        self.hidden = 0

    def _break(self, tag: str) -> None:
        """Where a block ends and the next begins is one line's end; a `br` is always one."""
        if tag == "br" or (self.text and not self.text[-1].endswith("\n")):
            self.text.append("\n")

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag in _STRUCK:
            self.text.append(" (struck out: ")
        elif tag == "img" and " " in (dict(attrs).get("alt") or ""):
            self.text.append(f" {dict(attrs)['alt']} ")
        if tag in _HIDDEN:
            self.hidden += 1
        elif tag in _BREAKS:
            self._break(tag)

    def handle_endtag(self, tag: str) -> None:
        if tag in _STRUCK:
            self.text.append(") ")
        if tag in _HIDDEN:
            self.hidden = max(0, self.hidden - 1)
        elif tag in _BREAKS and tag != "br":
            self._break(tag)

    def handle_data(self, data: str) -> None:
        if not self.hidden:
            self.text.append(data)
