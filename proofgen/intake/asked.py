"""What somebody wishes for: read from a slip or a mail, and not yet believed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from proofgen.errors import SignoffError
from proofgen.signoff.order_slip import OrderPayload, Tried


class TurnedAway(SignoffError):
    """A slip or a mail that is not taken, and nothing was written."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """A wish. Names of design, blank, cloth and slots are as the shop's files have them, or what
    else was written there; what nobody said is empty. `words` are the same on every piece, `lists`
    have one text for each."""

    design: str = ""
    blank: str = ""
    cloth: str = ""
    many: int | None = None
    words: Mapping[str, str] = field(default_factory=dict)
    lists: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    tried: Mapping[str, Tried] = field(default_factory=dict)
    price: str = ""
    currency: str = ""
    due: str = ""
    language: str = ""
    may_print: bool | None = None
    may_show: bool | None = None
    name: str = ""
    mail: str = ""


def wish_of(asked: Asked, day: date) -> OrderPayload | None:
    """The same as a slip of that day would have it, without what its order need not be compared
    with; None where something that a slip always has was not said."""
    if not (asked.design and asked.blank and asked.cloth and asked.many):
        return None
    wish: OrderPayload = {
        "v": 1,
        "time": f"{day.isoformat()}T00:00:00Z",
        "design": asked.design,
        "blank": asked.blank,
        "cloth": asked.cloth,
        "many": asked.many,
    }
    if words := {slot: text for slot, text in asked.words.items() if text.strip()}:
        wish["words"] = words
    return wish


def asked_by(slip: OrderPayload) -> Asked:
    """The wish of an order slip."""
    return Asked(
        design=slip["design"],
        blank=slip["blank"],
        cloth=slip["cloth"],
        many=slip["many"],
        words=slip.get("words", {}),
        lists={slot: tuple(texts) for slot, texts in slip.get("lists", {}).items()},
        tried=slip.get("photos", {}),
        price=slip.get("price", ""),
        currency=slip.get("currency", ""),
        due=slip.get("due", ""),
        language=slip.get("language", ""),
        may_print=slip.get("print"),
        may_show=slip.get("show"),
        name=slip.get("name", ""),
        mail=slip.get("mail", ""),
    )
