"""Check order/same-photo."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from proofgen.checks.phrases import joined, visible
from proofgen.checks.places import photo_where
from proofgen.checks.registry import Said, check, skipped, warn
from proofgen.checks.subjects import CheckInput, OrderSubject, whole_order
from proofgen.model import Order, PhotoFacts
from proofgen.store import file_digest

MOST = 2000  # photos of other customers that are looked at: a stat each, bytes if sizes agree


def person(order: Order) -> str:
    """By what two orders are taken for the same customer's."""
    return (order.customer.email or order.customer.name).strip().casefold()


def others(given: CheckInput) -> list[tuple[str, Path]]:
    """Every photo of every other customer, with its order."""
    mine = person(given.order)
    return [
        (order.id, use.file)
        for order in given.shop.orders.values()
        if order.id != given.order.id and person(order) != mine
        for line in order.lines
        for use in line.photos.values()
    ]


def same_bytes(facts: PhotoFacts, other: Path) -> bool:
    """Whether another file holds the same bytes; they are read only if there are as many."""
    try:
        return other.stat().st_size == facts.bytes and file_digest(other) == facts.sha256
    except OSError:
        return False  # that it cannot be read is told with its own order


@check(
    "order/same-photo",
    over=whole_order,
    why="The same photo for two customers is mostly a file saved into the wrong folder; one of "
    "them would get the other's picture.",
    source="the bytes of the photos of all orders",
    codes={
        "two-customers": "another customer's order uses the same photo",
        "too-many": "there are too many other photos to compare with",
    },
)
def same_photo(subject: OrderSubject) -> Iterator[Said]:
    """No photo is used for another customer too."""
    given = subject.given
    rest = others(given)
    if len(rest) > MOST:
        yield skipped(
            "too-many", "There are too many photos of other customers to compare these with."
        )
        return
    for line in given.order.lines:
        for slot, use in line.photos.items():
            facts = given.photos.get(str(use.file))
            if facts is None or not facts.sha256:
                continue
            twins = dict.fromkeys(order for order, file in rest if same_bytes(facts, file))
            if twins:
                yield warn(
                    "two-customers",
                    "This very photo is used for another customer too: order "
                    f"{joined(visible(t) for t in twins)}.",
                    "Please check that each order has its own photo.",
                    where=photo_where(line, slot),
                    about=f"{slot}-{facts.sha256[:6]}",
                )
