"""The mail that orders a design: its questions as lines to fill in, until there is an answer."""

from __future__ import annotations

import functools
from collections.abc import Iterator
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
    to, about = f"mailto:{quote(contact, safe='@')}", _encoded(subject)
    for choices in (True, False):
        lines = _questions(entry, tongue, choices)
        link = f"{to}?subject={about}&body={_LINE_END.join([about, '', *lines, ''])}"
        if len(link) <= _MOST:
            return link
    return f"{to}?subject={_encoded(subject[:60])}"


_LINE_END = quote("\r\n")


def _encoded(text: str) -> str:
    return quote(text.translate(_ISOLATES), safe="")


@functools.lru_cache(maxsize=1024)  # all designs ask for much the same
def _asked(question: str, choices: tuple[str, ...], tongue: Tongue) -> str:
    """A line of the mail, encoded."""
    if not choices:
        return _encoded(tongue("{question}: ", question=question))
    offered = " / ".join(choices)
    return _encoded(tongue("{question} ({choices}): ", question=question, choices=offered))


def _questions(entry: Entry, tongue: Tongue, choices: bool) -> Iterator[str]:
    cloths = {name: None for offer in entry.offers for name, _ in offer.cloths}
    named = {"piece": tuple(offer.blank_name for offer in entry.offers), "cloth": (*cloths,)}
    for question in questions(entry.word_slots, entry.photo_slots, tongue):
        offered = named.get(question.of, ()) if choices else ()
        if question.of == "photo":
            offered = (tongue("attached, or where we find it"),)
        yield _asked(question.asks, offered, tongue)


@dataclass(frozen=True, slots=True)
class OrderQuestion:
    """One line of the mail: what it asks, `of` what, and of words and photos which of the slots."""

    of: Literal["piece", "cloth", "many", "words", "photo", "due", "name"]
    asks: str
    slot: int = 0


@functools.lru_cache(maxsize=256)
def questions(
    word_labels: tuple[str, ...], photo_labels: tuple[str, ...], tongue: Tongue
) -> tuple[OrderQuestion, ...]:
    """What the mail asks, in its order; `take` reads the answers by the same lines."""
    one = len(photo_labels) == 1
    return (
        OrderQuestion("piece", tongue("Which piece")),
        OrderQuestion("cloth", tongue("Colour of the cloth")),
        OrderQuestion("many", tongue("How many")),
        *(
            OrderQuestion("words", label[:1].upper() + label[1:], slot)
            for slot, label in enumerate(word_labels)
        ),
        *(
            OrderQuestion("photo", tongue("Photo") if one else label, slot)
            for slot, label in enumerate(photo_labels)
        ),
        OrderQuestion("due", tongue("By which day")),
        OrderQuestion("name", tongue("Your name")),
    )
