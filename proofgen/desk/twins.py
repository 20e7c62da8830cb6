"""Orders that ask for the same: probably one, typed twice."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from proofgen import shop as shop_room
from proofgen.model import Line, Order


def twin_of(orders: Iterable[Order], draft: shop_room.OrderDraft) -> str:
    """The order of the same customer that asks for the same by the same day; '' where none does."""
    for order in orders:
        same = order.customer.name == draft.customer.name and order.due == draft.due
        if not same or len(order.lines) != len(draft.lines):
            continue
        if all(map(_alike, order.lines, draft.lines)):
            return order.id
    return ""


def _alike(one: Line, draft: shop_room.LineDraft) -> bool:
    return (
        (one.design, one.blank, one.cloth) == (draft.design, draft.blank, draft.cloth)
        and draft.quantity in (None, one.quantity)
        and dict(one.words) == dict(draft.words)
        and _bytes_of(one) == _bytes_of(draft)
    )


def _bytes_of(line: Line | shop_room.LineDraft) -> dict[str, bytes]:
    """What lies in its photos by their slots, and in its list; files that are not there count as
    none."""
    files: dict[str, Path] = {slot: use.file for slot, use in line.photos.items()}
    if line.list_file:
        files["list"] = line.list_file
    return {slot: file.read_bytes() for slot, file in files.items() if file.is_file()}
