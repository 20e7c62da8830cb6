"""The mail that orders a design: its questions as lines to fill in, until there is an answer."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal
from urllib.parse import quote

from proofgen.catalogue.content import Entry
from proofgen.catalogue.order_form import SUBJECT
from proofgen.say.tongue import Tongue

# What mail programs surely take as one address, common practice, no source.
_MOST = 1800
_ISOLATES = dict.fromkeys(map(ord, "\u2068\u2069"))  # a mail's line stands by itself


def order_mail(contact: str, entry: Entry, tongue: Tongue) -> str:
    """A mailto link (RFC 6068: all encoded as UTF-8, lines end with CRLF); '' where the contact is
    no mail address. Choices are written out as far as the link stays short."""
    if "@" not in contact:
        return ""
    subject = tongue(SUBJECT, design=entry.title)
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
    cloths = {name: None for offer in entry.offers for name, _ in offer.cloths}
    named = {"piece": [offer.blank_name for offer in entry.offers], "cloth": [*cloths]}
    for question in questions(entry.word_slots, entry.photo_slots, tongue):
        offered = named.get(question.of, []) if choices else []
        if question.of == "photo":
            offered = [tongue("attached, or where we find it")]
        yield _asked(question.asks, offered, tongue)


@dataclass(frozen=True, slots=True)
class OrderQuestion:
    """One line of the mail: what it asks, `of` what, and of words and photos which of the slots."""

    of: Literal["piece", "cloth", "many", "words", "photo", "due", "name"]
    asks: str
    slot: int = 0


def questions(
    word_labels: Sequence[str], photo_labels: Sequence[str], tongue: Tongue
) -> Iterator[OrderQuestion]:
    """What the mail asks, in its order; `take` reads the answers by the same lines."""
    yield OrderQuestion("piece", tongue("Which piece"))
    yield OrderQuestion("cloth", tongue("Colour of the cloth"))
    yield OrderQuestion("many", tongue("How many"))
    for slot, label in enumerate(word_labels):
        yield OrderQuestion("words", label[:1].upper() + label[1:], slot)
    for slot, label in enumerate(photo_labels):
        which = tongue("Photo") if len(photo_labels) == 1 else label
        yield OrderQuestion("photo", which, slot)
    yield OrderQuestion("due", tongue("By which day"))
    yield OrderQuestion("name", tongue("Your name"))
