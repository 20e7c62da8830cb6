"""An order slip: what a design's page put together for a customer. It is not signed and proves
nothing; everything in it is a wish, believed only as far as the shop's own files go."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from typing import Any, NotRequired, TypedDict, TypeGuard

from proofgen.signoff.blocks import read_orders
from proofgen.signoff.digests import canonical, read_canonical
from proofgen.signoff.packing import contents
from proofgen.signoff.slip import is_time

MOST_ROWS, MOST_TEXT, MOST_NOTE, MOST_PIECES = 1000, 200, 4000, 5000
_MOST_SLOTS = 40
_MOST_INFLATED = 512 * 1024  # bytes
_SUM = 8  # bytes of a digest over the slip: they tell damage, and nothing more
_TURNS = (0, 90, 180, 270)


class Tried(TypedDict):
    """A photo that was tried on the page: its file's name there, upright size in px, and the crop
    as an order has it (shares of the upright photo)."""

    name: str
    width: int
    height: int
    focus: list[float]
    zoom: float
    turn: int


class OrderPayload(TypedDict):
    """The fields of an order slip; what is empty is left out."""

    v: int
    time: str
    design: str
    blank: str
    cloth: str
    many: int
    words: NotRequired[dict[str, str]]  # by slot, the same on every piece
    lists: NotRequired[dict[str, list[str]]]  # by slot, one for each piece
    photos: NotRequired[dict[str, Tried]]
    price: NotRequired[str]  # of one piece, as the page showed it
    currency: NotRequired[str]
    due: NotRequired[str]
    language: NotRequired[str]
    print: NotRequired[bool]
    show: NotRequired[bool]
    name: NotRequired[str]
    mail: NotRequired[str]
    note: NotRequired[str]


_ALWAYS = frozenset(("v", "time", "design", "blank", "cloth", "many"))
_TEXTS = ("design", "blank", "cloth", "price", "currency", "due", "language", "name", "mail")


def slips_in(text: str) -> list[OrderPayload | None]:
    """Every order slip in a text, in order, each once; None for one that was damaged."""
    return [unpacked(content) if content else None for content in read_orders(text)]


def unpacked(content: bytes) -> OrderPayload | None:
    """The fields of a slip out of its block's bytes; None when it is damaged or none."""
    inside = contents(content, _SUM, _MOST_INFLATED)
    if inside is None or hashlib.sha256(inside[0]).digest()[:_SUM] != inside[1]:
        return None
    try:
        fields = read_canonical(inside[0])
    except ValueError:
        return None
    return fields if _is_payload(fields) else None


def payload_in(text: str) -> OrderPayload | None:
    """The fields of a slip out of their JSON; None where it is none."""
    try:
        fields = read_canonical(canonical(json.loads(text)))
    except (ValueError, RecursionError):
        return None
    return fields if _is_payload(fields) else None


def _is_payload(fields: Any) -> TypeGuard[OrderPayload]:
    """Whether all of it has the kinds and sizes that a page could have written."""
    if not isinstance(fields, dict) or fields.keys() - OrderPayload.__annotations__.keys():
        return False
    if _ALWAYS - fields.keys() or fields["v"] != 1 or not is_time(fields["time"]):
        return False
    return (
        all(_is_text(fields.get(key, "")) for key in _TEXTS)
        and _is_text(fields.get("note", ""), MOST_NOTE)
        and all(isinstance(fields.get(key, True), bool) for key in ("print", "show"))
        and _is_count(fields["many"], 1_000_000)
        and _are_slots(fields.get("words", {}), _is_text)
        and _are_slots(fields.get("lists", {}), _is_list)
        and _are_slots(fields.get("photos", {}), _is_tried)
    )


def _is_text(value: Any, most: int = MOST_TEXT) -> bool:
    return isinstance(value, str) and len(value) <= most


def _is_count(value: Any, most: int) -> bool:
    return type(value) is int and 0 < value <= most


def _is_share(value: Any, least: float, most: float) -> bool:
    return type(value) in (int, float) and least <= value <= most


def _are_slots(value: Any, fits: Any) -> bool:
    return (
        isinstance(value, Mapping)
        and len(value) <= _MOST_SLOTS
        and all(_is_text(slot) and slot and fits(one) for slot, one in value.items())
    )


def _is_list(value: Any) -> bool:
    """Too many are told with their number, so that they may be many here."""
    return isinstance(value, list) and bool(value) and all(map(_is_text, value))


def _is_tried(value: Any) -> bool:
    return (
        isinstance(value, dict)
        and value.keys() == Tried.__annotations__.keys()
        and _is_text(value["name"])
        and all(_is_count(value[side], 1_000_000) for side in ("width", "height"))
        and isinstance(value["focus"], list)
        and len(value["focus"]) == 2
        and all(_is_share(part, 0, 1) for part in value["focus"])
        and _is_share(value["zoom"], 1, 50)
        and type(value["turn"]) is int
        and value["turn"] in _TURNS
    )
