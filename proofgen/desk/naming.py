"""What a new blank is called: by its maker, and by their customers."""

from __future__ import annotations

import re

from proofgen.desk.questions import Asker, Question, Refused
from proofgen.errors import UsageError
from proofgen.model import Blank
from proofgen.shop.blank_fields import MOST_CALLED

_A_LENGTH = re.compile(r"\d[\d.,/ ]*(mm|cm|in|inch(es)?|”|″|[\"'])", re.IGNORECASE)


def a_name(text: str) -> str:
    """What a blank is called; a measure is none. Refused."""
    if text and _A_LENGTH.fullmatch(text):
        sentence = f"“{text}” is a measure, not a name"
        raise Refused(
            UsageError(sentence, "write what you call the blank"),
            f"{sentence}; measures are asked for below. ",
        )
    return text


def given_name(text: str) -> str:
    """A name that was given as an option. UsageError for a measure."""
    try:
        return a_name(text)
    except Refused as refused:
        raise refused.error from None


def called_by_customers(asker: Asker, given: str | None, like: Blank | None) -> str:
    """What customers will call it, given, as before or asked for; '' for a name worked out of what
    it is. UsageError for what is given and no name."""

    def parse(text: str) -> str:
        a_name(text)
        if len(text) > MOST_CALLED:
            sentence = f"that is too long for a name; at most {MOST_CALLED} letters"
            raise Refused(UsageError(sentence), f"{sentence.capitalize()}. ")
        return text

    if given is None and like:
        return like.called
    asks = "What do your customers call it? (Enter: worked out, like Wrap sleeve, foam)"
    return asker.answer(Question(asks=asks, parse=parse, enter=""), given)
