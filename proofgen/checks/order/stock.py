"""Check order/stock."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from proofgen.checks.phrases import count, visible
from proofgen.checks.registry import Said, check, skipped, warn
from proofgen.checks.subjects import OrderSubject, whole_order
from proofgen.model import start_quantity


@check(
    "order/stock",
    over=whole_order,
    why="Blanks that are not there have to be ordered before the day is promised.",
    source="stock of the blank's file; start quantity Q / (1 - q): Groover, Fundamentals of Modern "
    "Manufacturing, from memory",
    codes={
        "short": "fewer blanks in stock than this order needs, spares counted",
        "not-told": "the blank's file has no figure for this cloth",
    },
)
def stock(subject: OrderSubject) -> Iterator[Said]:
    """There are blanks enough in stock. Other open orders are not counted."""
    shop = subject.given.shop
    wanted: dict[tuple[str, str], int] = defaultdict(int)
    for line in subject.order.lines:
        wanted[line.blank, line.cloth] += line.quantity
    for (name, cloth), pieces in wanted.items():
        blank = shop.blanks.get(name)
        if blank is None or not blank.stock:
            continue  # this shop does not count these blanks
        have = blank.stock.get(cloth)
        need = start_quantity(pieces, shop.settings.spares)
        label = f"{visible(blank.name)}, {visible(cloth)}"
        if have is None:
            yield skipped(
                "not-told",
                f"The stock of {label} is not told.",
                about=f"{name}-{cloth}",
            )
        elif have < need:
            yield warn(
                "short",
                f"This order needs {count(need)} of {label} (spares counted); {count(have)} "
                f"{'is' if have == 1 else 'are'} in stock.",
                f"Order {count(need - have)} more blanks, or correct the stock in its file.",
                measure=have,
                limit=need,
                about=f"{name}-{cloth}",
            )
