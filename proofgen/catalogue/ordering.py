"""The mail that orders a design: its questions as lines to fill in, until there is an answer."""

from __future__ import annotations

from collections.abc import Iterator
from urllib.parse import quote

from proofgen.catalogue.content import Entry
from proofgen.say.tongue import Tongue

# What mail programs surely take as one address, common practice, no source.
_MOST = 1800
_ISOLATES = dict.fromkeys(map(ord, "\u2068\u2069"))  # a mail's line stands by itself


def order_mail(contact: str, entry: Entry, tongue: Tongue) -> str:
    """A mailto link (RFC 6068: all encoded as UTF-8, lines end with CRLF); '' where the contact is
    no mail address. Choices are written out as far as the link stays short."""
    if "@" not in contact:
        return ""
    subject = tongue("Order: {design}", design=entry.title)
    for choices in (True, False):
        lines = _questions(entry, tongue, choices)
        body = "\r\n".join([subject, "", *lines, ""]).translate(_ISOLATES)
        link = (
            f"mailto:{quote(contact, safe='@')}?subject={_encoded(subject)}&body={_encoded(body)}"
        )
        if len(link) <= _MOST:
            return link
    return f"mailto:{quote(contact, safe='@')}?subject={_encoded(subject[:60])}"


def _encoded(text: str) -> str:
    return quote(text.translate(_ISOLATES), safe="")


def _asked(question: str, choices: list[str], tongue: Tongue) -> str:
    if not choices:
        return tongue("{question}: ", question=question)
    return tongue("{question} ({choices}): ", question=question, choices=" / ".join(choices))


def _questions(entry: Entry, tongue: Tongue, choices: bool) -> Iterator[str]:
    pieces = [offer.blank_name for offer in entry.offers]
    cloths = {name: None for offer in entry.offers for name, _ in offer.cloths}
    yield _asked(tongue("Which piece"), pieces if choices else [], tongue)
    yield _asked(tongue("Colour of the cloth"), [*cloths] if choices else [], tongue)
    yield _asked(tongue("How many"), [], tongue)
    for label in entry.word_slots:
        yield _asked(label[:1].upper() + label[1:], [], tongue)
    for label in entry.photo_slots:
        which = tongue("Photo") if len(entry.photo_slots) == 1 else label
        yield _asked(which, [tongue("attached, or where we find it")], tongue)
    yield _asked(tongue("By which day"), [], tongue)
    yield _asked(tongue("Your name"), [], tongue)
