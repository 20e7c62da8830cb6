"""Check order/same-photo."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.phrases import joined, visible
from proofgen.checks.places import photo_where
from proofgen.checks.registry import Said, check, skipped, warn
from proofgen.checks.subjects import OrderSubject, whole_order

MOST = 2000  # photos of other customers that are looked at: a stat each, bytes if sizes agree


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
    given, order = subject.given, subject.order
    if given.twins.photos_of_others(order) > MOST:
        yield skipped(
            "too-many", "There are too many photos of other customers to compare these with."
        )
        return
    for line in order.lines:
        for slot, use in line.photos.items():
            facts = given.photos.get(str(use.file))
            if facts is None or not facts.sha256:
                continue
            twins = given.twins.orders_of_others(facts.sha256, order)
            if twins:
                yield warn(
                    "two-customers",
                    "This very photo is used for another customer too: order "
                    f"{joined(visible(t) for t in twins)}.",
                    "Please check that each order has its own photo.",
                    where=photo_where(line, slot),
                    about=f"{slot}-{facts.sha256[:6]}",
                )
