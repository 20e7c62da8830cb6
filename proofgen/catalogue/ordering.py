"""The mail that orders a design: its questions as lines to fill in, until there is an answer."""

from __future__ import annotations

import functools
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
        link = f"{to}?subject={about}&body={about}{_body(*_asks(entry, choices), tongue)}"
        if len(link) <= _MOST:
            return link
    return f"{to}?subject={_encoded(subject[:60])}"


_LINE_END = quote("\r\n")


def _encoded(text: str) -> str:
    return quote(text.translate(_ISOLATES), safe="")


def _asked(question: str, choices: tuple[str, ...], tongue: Tongue) -> str:
    """A line of the mail, encoded."""
    if not choices:
        return _encoded(tongue("{question}: ", question=question))
    offered = " / ".join(choices)
    return _encoded(tongue("{question} ({choices}): ", question=question, choices=offered))


_Some = tuple[str, ...]


def _asks(entry: Entry, choices: bool) -> tuple[_Some, _Some, _Some, _Some]:
    """Words and photos that a design asks for, and the pieces and cloths to choose from."""
    if not choices:
        return entry.word_slots, entry.photo_slots, (), ()
    cloths = {name: None for offer in entry.offers for name, _ in offer.cloths}
    pieces = tuple(offer.blank_name for offer in entry.offers)
    return entry.word_slots, entry.photo_slots, pieces, (*cloths,)


@functools.lru_cache(maxsize=256)
def _body(words: _Some, photos: _Some, pieces: _Some, cloths: _Some, tongue: Tongue) -> str:
    """The mail below its first line, encoded."""
    offered = {"piece": pieces, "cloth": cloths}
    offered["photo"] = (tongue("attached, or where we find it"),)
    asked = (
        _asked(question.asks, offered.get(question.of, ()), tongue)
        for question in questions(words, photos, tongue)
    )
    return _LINE_END.join(["", "", *asked, ""])


@dataclass(frozen=True, slots=True)
class OrderQuestion:
    """One line of the mail: what it asks, `of` what, and of words and photos which of the slots."""

    of: Literal["piece", "cloth", "many", "words", "photo", "due", "name"]
    asks: str
    slot: int = 0


@functools.lru_cache(maxsize=256)  # all designs ask for much the same
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
