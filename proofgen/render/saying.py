"""What templates say in a language. A place is escaped as it is filled, as Jinja's own functions do
it; but a sentence is read once, and no page's context is asked: a page of the catalogue says some
forty."""

from __future__ import annotations

import re
from collections.abc import Callable

from markupsafe import Markup, escape

from proofgen.say.tongue import Tongue

_PLACE = re.compile(r"%\((\w+)\)s")


def _parts(sentence: str) -> list[str]:
    """The words of a sentence by turns with its places' names; none where it has other places than
    we write."""
    parts = _PLACE.split(sentence)
    if any("%" in words.replace("%%", "") for words in parts[::2]):
        return []
    parts[::2] = [words.replace("%%", "%") for words in parts[::2]]
    return parts


def saying(tongue: Tongue) -> Callable[..., Markup]:
    """What `_` is in a template. Errors: KeyError for a place that is not filled."""
    known: dict[str, list[str]] = {}

    def say(sentence: str, **places: object) -> Markup:
        if sentence not in known:
            known[sentence] = _parts(tongue.message(sentence))
        said = known[sentence].copy()
        if not said:
            return Markup(tongue.message(sentence)) % places
        for at in range(1, len(said), 2):
            said[at] = escape(places[said[at]])
        return Markup("".join(said))

    return say


def counting(tongue: Tongue) -> Callable[..., Markup]:
    """What `ngettext` is, in the same way; `num` is the number."""

    def say(one: str, many: str, number: int, **places: object) -> Markup:
        return Markup(tongue.messages(one, many, number)) % {"num": number, **places}

    return say
