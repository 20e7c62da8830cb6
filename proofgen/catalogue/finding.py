"""The sentence that finds designs: what it can be asked, and what each design answers."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from proofgen.catalogue.content import Entry, SeasonContent
from proofgen.catalogue.shared import Occasion
from proofgen.catalogue.told import plain
from proofgen.say.tongue import Tongue, to_say

# What a design is filled with, by the word in the address.
_FILLED = {
    "photo": to_say("something with a photo"),
    "words": to_say("something with words"),
    "ready": to_say("something ready to press"),
}
_PRICES = 5  # so many to choose from at most
_LEAST = 4  # of fewer designs nobody needs to find one
_MOST_WORDS = 60  # of a design that a search reads, each once

Choice = tuple[str, str]  # as the address says it, as people read it


@dataclass(frozen=True, slots=True, kw_only=True)
class Finder:
    """The choices of the sentence, each after "any"; `prices` are limits in the shop's currency."""

    filled: tuple[Choice, ...]
    occasions: tuple[Choice, ...]
    pieces: tuple[Choice, ...]
    prices: tuple[Decimal, ...]


def _filled(entry: Entry) -> list[str]:
    kinds = [*(["photo"] if entry.photo_slots else []), *(["words"] if entry.word_slots else [])]
    return kinds or ["ready"]


def price_limits(entries: Sequence[Entry]) -> tuple[Decimal, ...]:
    """Round limits between what the cheapest and the dearest piece cost, in whole steps of 1, 2 or
    5 times a power of ten: each with something over it, and a price under it that is not under the
    one before, so that every step is one of the shop's own."""
    prices = sorted({offer.single_price for entry in entries for offer in entry.offers})
    if len(prices) < 2:
        return ()
    span = prices[-1] - prices[0]
    rough = float(span) / _PRICES
    power = Decimal(10) ** math.floor(math.log10(rough))
    step = next(power * n for n in (1, 2, 5, 10) if float(power * n) >= rough)
    # Beyond each price but the dearest, the next whole step.
    every = sorted({(price // step + 1) * step for price in prices[:-1]})
    limits = [limit for limit in every if limit <= prices[-1]][:_PRICES]
    return tuple(
        limit.quantize(Decimal(1)) if limit == limit.to_integral() else limit for limit in limits
    )


def finder(content: SeasonContent, occasions: Sequence[Occasion], tongue: Tongue) -> Finder | None:
    """The sentence's choices; None of so few designs that all are seen at once."""
    if len(content.entries) < _LEAST:
        return None
    known = {kind for entry in content.entries for kind in _filled(entry)}
    pieces = {o.blank: o.blank_name for entry in content.entries for o in entry.offers}
    return Finder(
        filled=tuple((kind, tongue(says)) for kind, says in _FILLED.items() if kind in known),
        occasions=tuple((_name(one), one.name) for one in occasions),
        pieces=tuple(sorted(pieces.items(), key=lambda one: one[1].casefold())),
        prices=price_limits(content.entries),
    )


def _name(occasion: Occasion) -> str:
    return occasion.address.removeprefix("for/").removesuffix(".html")


def answers(entry: Entry, good_for: Sequence[Occasion]) -> dict[str, str]:
    """What a design answers the sentence, for its tile's data: how it is filled, what it is
    `good_for`, price of one by piece, and its words for a search, each once."""
    words = (
        *entry.title.split(),
        *" ".join(entry.occasions).split(),
        *" ".join(offer.blank_name for offer in entry.offers).split(),
        *plain(entry.text).split(),
    )
    bare = (word.strip(".,;:!?()“”„«»\"'").casefold() for word in words)
    once = [word for word in dict.fromkeys(bare) if word]
    return {
        "fill": " ".join(_filled(entry)),
        "for": " ".join(map(_name, good_for)),
        "on": " ".join(f"{offer.blank}={offer.single_price}" for offer in entry.offers),
        "words": " ".join(once[:_MOST_WORDS]),
    }
