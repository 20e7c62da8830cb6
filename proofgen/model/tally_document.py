"""The shape of proofgen/tally/1, `orders --tally`: stock, what was spoiled, what pieces cost and
brought. Money and shares as decimal text, days as in 2026-12-04; None: not known, and `lacks` says
what to write into which file."""

from __future__ import annotations

from typing import Literal, TypedDict

from proofgen.model.yields import Verdict

TALLY_SCHEMA: Literal["proofgen/tally/1"] = "proofgen/tally/1"


class StockEntry(TypedDict):
    """A blank in one cloth. `counted` stands in `file`, `used` was recorded since, `needs` are the
    open orders with what each needs, spares counted. `counted_on` is a day's morning, or a moment
    by the shop's clock, as in 2026-12-04 21:40:30."""

    blank: str
    cloth: str
    file: str
    counted: int | None
    counted_on: str | None
    used: int
    left: int | None
    needed: int
    buy: int | None
    needs: dict[str, int]


class YieldEntry(TypedDict):
    """Of one blank ('': of all): blanks that went under the press in orders that are done, those
    of them that were spoiled, and where their true share lies in nine cases of ten."""

    blank: str
    blanks: int
    spoiled: int
    share: str | None
    least: str
    most: str
    causes: dict[str, int]


class SparesEntry(TypedDict):
    """What the season says of `spares:` in shop.yaml."""

    set: str
    verdict: Verdict
    suggested: str | None


class LineEntry(TypedDict):
    """A line of an order: pressed, with the journal's line that records it, or open (`record` 0).
    Money is for all its pieces, `price_each` and `cost_each` for one; `spoiled` is what was
    spoiled of it, or of an open one what `spares:` expects; warming up is in none of it. `order` is
    empty once forgotten. What is the shop's `own` is stock: it has no price of its own."""

    record: int
    pressed_on: str
    handed_over_on: str
    order: str
    line: int
    design: str
    blank: str
    cloth: str
    pieces: int
    spoiled_pieces: int
    price_each: str | None
    cost_each: str | None
    price: str | None
    blanks: str | None
    paper: str | None
    time: str | None
    spoiled: str | None
    cost: str | None
    left: str | None
    own: bool
    lacks: list[str]


class OrderSum(TypedDict):
    """The whole of an order that is pressed, or open (`record` 0)."""

    record: int
    order: str
    pressed_on: str
    pieces: int
    own: bool
    price: str | None
    cost: str | None
    left: str | None
    lacks: list[str]


class SumEntry(TypedDict):
    """Of all that was pressed. `orders` were sold; money is of those `known` to the last line.
    Warming up is what these asked for on `evenings`, the days on which one of them was noted as
    pressed, and goes off what is `left`; `warming_up_else`, what all others of that time asked for
    beyond it, and `stock_cost` of the shop's own orders do not."""

    orders: int
    known: int
    pieces: int
    price: str | None
    cost: str | None
    evenings: int
    warming_up: str | None
    left: str | None
    warming_up_else: str | None
    stock_pieces: int
    stock_cost: str | None


class UsedEntry(TypedDict):
    """Blanks of one cloth that went under the press in the time asked, in open orders, too."""

    blank: str
    cloth: str
    pressed: int
    spoiled: int


class TallyDocument(TypedDict):
    schema: Literal["proofgen/tally/1"]
    since: str | None
    until: str
    currency: str
    stock: list[StockEntry]
    yields: list[YieldEntry]
    spares: SparesEntry
    used: list[UsedEntry]
    papers: dict[str, str]  # used in that time: sheets, or of a roll the metres
    lines: list[LineEntry]
    orders: list[OrderSum]
    total: SumEntry
    waiting: int  # spoiled pieces of orders that are not pressed yet: not in `yields`
    uncounted: list[str]  # orders that were pressed before what they took was recorded
