"""Stock, spoilage and costs, from the records and the shop's files (schema proofgen/tally/1)."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_HALF_EVEN, Decimal
from itertools import groupby
from pathlib import Path
from typing import TypedDict
from zoneinfo import ZoneInfo

from proofgen import reports, store
from proofgen.model.tally_document import (
    TALLY_SCHEMA,
    LineEntry,
    OrderSum,
    SparesEntry,
    StockEntry,
    SumEntry,
    TallyDocument,
    UsedEntry,
    YieldEntry,
)
from proofgen.model.yields import Spoilage
from proofgen.pipeline.preflight import Prepared, prepare
from proofgen.pipeline.tally import tally_of
from proofgen.press import Cost, cost_of, setup_s, time_cost
from proofgen.signoff import EventKind, Used, UsedLine, used
from proofgen.workshop import Workshop

PAGE = "tally.html"  # in the workroom
_FINEST, _CENT = Decimal("0.0001"), Decimal("0.01")


@dataclass(frozen=True, slots=True)
class _Made:
    """One line of one pressed order, and what of it was spoiled."""

    done: Used
    line: UsedLine
    spoiled: list[tuple[str, UsedLine]]  # with the kind of cause

    @property
    def bad(self) -> int:
        return sum(line["blanks"] for _, line in self.spoiled)


def tally(workshop: Workshop, known: Mapping[str, Prepared], since: date | None) -> TallyDocument:
    """Everything pressed since a day (None: ever), and everything open; `known` are the orders that
    could be worked out."""
    records, shop = workshop.records, workshop.shop
    every, zone = used(records), ZoneInfo(shop.settings.zone)
    done = [u for u in every if u.kind is EventKind.PRESSED]
    in_time = [u for u in done if since is None or _day(u, zone) >= since]
    made = [_Made(u, line, _spoiled(every, u, line)) for u in in_time for line in u.tally["lines"]]
    finished = {(u.order, u.edition) for u in done}
    waiting = sum(
        line["blanks"]
        for u in every
        if u.kind is EventKind.SPOILED and (u.order, u.edition) not in finished
        for line in u.tally["lines"]
    )
    counted = {u.order for u in done}
    lines = [_made_line(workshop, one, zone) for one in made]
    open_names = [n for n in workshop.still_to_press() if n in known]
    lines_open = [entry for name in open_names for entry in _open_lines(workshop, known[name])]
    orders = [_order(own) for own in _by_order([*lines, *lines_open])]
    total = Spoilage(
        pressed=sum(one.line["blanks"] + one.bad for one in made),
        spoiled=sum(one.bad for one in made),
    )
    return {
        "schema": TALLY_SCHEMA,
        "since": since.isoformat() if since else None,
        "until": workshop.today.isoformat(),
        "currency": shop.settings.currency,
        "stock": _stock(workshop),
        "yields": _yields(made),
        "spares": _spares(Decimal(str(shop.settings.spares)), total),
        **_taken([u for u in every if since is None or _day(u, zone) >= since]),
        "lines": [*lines, *lines_open],
        "orders": orders,
        "total": _total(workshop, orders, in_time, zone),
        "waiting": waiting,
        "uncounted": [
            name
            for name in records.orders()
            if EventKind.PRESSED in records.happened(name) and name not in counted
        ],
    }


def tally_of_one(workshop: Workshop, name: str) -> TallyDocument:
    """The same with the lines of one order alone, as often as it was pressed, and open. UsageError
    where there is no such order."""
    document = tally(workshop, {name: prepare(workshop, workshop.order(name))}, None)
    lines = [one for one in document["lines"] if one["order"] == name]
    orders = [one for one in document["orders"] if one["order"] == name]
    return {**document, "lines": lines, "orders": orders}


def write_sold(document: TallyDocument, path: Path) -> None:
    """What was pressed, as a table. MachineError where it cannot be written."""
    store.write(path, reports.sold_csv(document))


def write_tally(workshop: Workshop, document: TallyDocument) -> None:
    """The page of all of it, in the workroom; one that cannot be written is gathered as trouble."""
    settings = workshop.shop.settings
    with workshop.each("the page of stock and costs"), workshop.hold():
        page = reports.tally_page(
            document, workshop.theme, shop_name=settings.name, demo=settings.demo
        )
        store.write(workshop.workroom / PAGE, page)


def _day(one: Used, zone: ZoneInfo) -> date:
    return one.when.astimezone(zone).date()


def _spoiled(every: Sequence[Used], done: Used, line: UsedLine) -> list[tuple[str, UsedLine]]:
    return [
        (one.tally.get("cause", ""), own)
        for one in every
        if one.kind is EventKind.SPOILED and (one.order, one.edition) == (done.order, done.edition)
        for own in one.tally["lines"]
        if own["line"] == line["line"]
    ]


class _Taken(TypedDict):
    used: list[UsedEntry]
    papers: dict[str, str]


def _taken(every: Sequence[Used]) -> _Taken:
    """Blanks by cloth, and papers by their names; what nobody can tell of these is left out."""
    blanks: dict[tuple[str, str], Counter[EventKind]] = {}
    papers: dict[str, Decimal] = {}
    for one in every:
        for line in one.tally["lines"]:
            own = blanks.setdefault((line["blank"], line["cloth"]), Counter())
            own[one.kind] += line["blanks"]
            for paper, amount in (line["papers"] or {}).items():
                more = Decimal(amount) if line["blanks"] >= 0 else -Decimal(amount)
                papers[paper] = papers.get(paper, Decimal(0)) + more
    return {
        "used": [
            {
                "blank": blank,
                "cloth": cloth,
                "pressed": own[EventKind.PRESSED],
                "spoiled": own[EventKind.SPOILED],
            }
            for (blank, cloth), own in sorted(blanks.items())
        ],
        "papers": {paper: _text(amount) for paper, amount in sorted(papers.items())},
    }


def _stock(workshop: Workshop) -> list[StockEntry]:
    return [
        {
            "blank": blank,
            "cloth": cloth,
            "file": f"blanks/{blank}.yaml",
            "counted": one.counted,
            "counted_on": str(one.counted_on) if one.counted_on else None,
            "used": one.used,
            "left": one.left,
            "needed": sum(one.needs.values()),
            "buy": one.buy,
            "needs": dict(one.needs),
        }
        for (blank, cloth), one in workshop.in_stock.items()
    ]


def _yields(made: Sequence[_Made]) -> list[YieldEntry]:
    """By blank, and of all where there are several."""
    groups: dict[str, list[_Made]] = {}
    for one in made:
        groups.setdefault(one.line["blank"], []).append(one)
    if len(groups) > 1:
        groups[""] = list(made)
    return [_yield(blank, own) for blank, own in groups.items()]


def _yield(blank: str, made: Sequence[_Made]) -> YieldEntry:
    causes: Counter[str] = Counter()
    for one in made:
        for cause, line in one.spoiled:
            causes[cause] += line["blanks"]
    bad = sum(one.bad for one in made)
    seen = Spoilage(pressed=sum(one.line["blanks"] for one in made) + bad, spoiled=bad)
    least, most = seen.between
    return {
        "blank": blank,
        "blanks": seen.pressed,
        "spoiled": seen.spoiled,
        "share": None if seen.share is None else _text(seen.share),
        "least": _text(least),
        "most": _text(most),
        "causes": {cause: n for cause, n in causes.most_common() if n},
    }


def _spares(rate: Decimal, seen: Spoilage) -> SparesEntry:
    better = seen.suggested(rate)
    return {
        "set": f"{rate:f}",
        "verdict": seen.verdict(rate),
        "suggested": None if better is None else f"{better:f}",
    }


def _text(amount: Decimal) -> str:
    return f"{amount.quantize(_FINEST, ROUND_HALF_EVEN):f}"


def _money(amount: Decimal | None) -> str | None:
    return None if amount is None else _text(amount)


def _cost(workshop: Workshop, line: UsedLine) -> Cost:
    papers = line["papers"]
    known = None if papers is None else {n: Decimal(a) for n, a in papers.items()}
    return cost_of(workshop.shop, line["blank"], abs(line["blanks"]), line["seconds"], known)


def _sum(amounts: Iterable[Decimal | None]) -> Decimal | None:
    every = list(amounts)
    known = [amount for amount in every if amount is not None]
    return sum(known, Decimal(0)) if len(known) == len(every) else None


def _less(price: Decimal | None, *costs: Decimal | None) -> str | None:
    spent = _sum(costs)
    return None if price is None or spent is None else _text(price - spent)


def _entry(
    workshop: Workshop, line: UsedLine, lost: Decimal | None, lacks: list[str], *, own: bool
) -> LineEntry:
    """A line with what its good pieces cost and what is `lost` with the others."""
    cost, many = _cost(workshop, line), line["blanks"]
    total = None if cost.total is None or lost is None else cost.total + lost
    each = None if own else _of(line["price"])
    price = None if each is None else each * many
    if price is not None and price != price.quantize(_CENT):
        price = price.quantize(_FINEST, ROUND_HALF_EVEN)  # shares of a discount: finer than cents
    if each is None and not own:
        lacks = [*lacks, f"the price of {line['design']} on {line['blank']}, which had none"]
    return {
        "record": 0,
        "pressed_on": "",
        "handed_over_on": "",
        "order": "",
        "line": line["line"],
        "design": line["design"],
        "blank": line["blank"],
        "cloth": line["cloth"],
        "pieces": many,
        "spoiled_pieces": 0,
        "price_each": None if each is None else line["price"],
        "cost_each": None if total is None else _text(total / many),
        "price": None if price is None else f"{price:f}",
        "blanks": _money(cost.blanks),
        "paper": _money(cost.paper),
        "time": _money(cost.time),
        "spoiled": _money(lost),
        "cost": _money(total),
        "left": _less(price, total),
        "own": own,
        "lacks": list(dict.fromkeys([*cost.lacks, *lacks])),
    }


def _made_line(workshop: Workshop, made: _Made, zone: ZoneInfo) -> LineEntry:
    costs = [(_cost(workshop, line), line["blanks"] < 0) for _, line in made.spoiled]
    lost = _sum(
        None if cost.total is None else -cost.total if back else cost.total for cost, back in costs
    )
    records, name = workshop.records, made.done.order
    lacks = [text for cost, _ in costs for text in cost.lacks]
    entry = _entry(workshop, made.line, lost, lacks, own=_is_own(workshop, made.done))
    over = records.events(name, EventKind.HANDED_OVER)
    given = over[-1].when.astimezone(zone).date() if over else None
    handed = EventKind.HANDED_OVER in records.happened(name) and given is not None
    return {
        **entry,
        "record": made.done.record,
        "pressed_on": _day(made.done, zone).isoformat(),
        "handed_over_on": given.isoformat() if handed and given else "",
        "order": "" if records.is_forgotten(name) else name,
        "spoiled_pieces": made.bad,
    }


def _open_lines(workshop: Workshop, prepared: Prepared) -> list[LineEntry]:
    """What the lines of an order that is not pressed yet would cost, with as many spoiled as
    `spares:` expects: of good pieces, the share spares / (1 - spares)."""
    spares = Decimal(str(workshop.shop.settings.spares))
    entries: list[LineEntry] = []
    for line in tally_of(workshop, prepared)["lines"]:
        total = _cost(workshop, line).total
        lost = None if total is None else total * spares / (1 - spares)
        own = prepared.order.is_own
        entries.append({**_entry(workshop, line, lost, [], own=own), "order": prepared.order.id})
    return entries


def _of(amount: str | None) -> Decimal | None:
    return None if amount is None else Decimal(amount)


def _is_own(workshop: Workshop, done: Used) -> bool:
    """Whether it was pressed for the shop itself: noted so, or, before that was noted, by its
    folder."""
    order = workshop.shop.orders.get(done.order)
    return done.tally.get("own", order is not None and order.is_own)


def _by_order(lines: Iterable[LineEntry]) -> Iterable[list[LineEntry]]:
    """The lines of each order together, as they come."""
    for _, own in groupby(lines, key=lambda one: (one["record"], one["order"])):
        yield list(own)


def _order(lines: Sequence[LineEntry]) -> OrderSum:
    first = lines[0]
    price = _sum(_of(one["price"]) for one in lines)
    cost = _sum(_of(one["cost"]) for one in lines)
    return {
        "record": first["record"],
        "order": first["order"],
        "pressed_on": first["pressed_on"],
        "pieces": sum(one["pieces"] for one in lines),
        "own": first["own"],
        "price": None if price is None else f"{price:f}",
        "cost": _money(cost),
        "left": _less(price, cost),
        "lacks": list(dict.fromkeys(text for one in lines for text in one["lacks"])),
    }


def _warming_up(workshop: Workshop, done: Sequence[Used], zone: ZoneInfo) -> list[int]:
    """s of warming up and changes of heat that these asked for, of each day on which one of them
    was noted as pressed. Older records have their part of it in the time of their lines."""
    days: dict[date, set[str]] = {}
    for one in done:
        if one.tally.get("apart"):
            blanks = days.setdefault(_day(one, zone), set())
            blanks.update(line["blank"] for line in one.tally["lines"])
    return [setup_s(workshop.shop, blanks) for blanks in days.values()]


def _total(
    workshop: Workshop, orders: Sequence[OrderSum], done: Sequence[Used], zone: ZoneInfo
) -> SumEntry:
    """What was sold, of the orders whose money is known to the last line: price, cost and the
    warming up that they asked for are all of these and of no other."""
    sold = [one for one in orders if one["record"] and not one["own"]]
    stock = [one for one in orders if one["record"] and one["own"]]
    known = [one for one in sold if one["left"] is not None]
    price = _sum(_of(one["price"]) for one in known) if known or not sold else None
    cost = _sum(_of(one["cost"]) for one in known) if known or not sold else None
    records = {one["record"] for one in known}
    evenings = _warming_up(workshop, [one for one in done if one.record in records], zone)
    warm, ever = (
        time_cost(workshop.shop, sum(every)) if every else Decimal(0)
        for every in (evenings, _warming_up(workshop, done, zone))
    )
    return {
        "orders": len(sold),
        "known": len(known),
        "pieces": sum(one["pieces"] for one in known),
        "price": _money(price),
        "cost": _money(cost),
        "evenings": len(evenings),
        "warming_up": _money(warm),
        "left": _less(price, cost, warm),
        "warming_up_else": None if ever is None or warm is None else _text(ever - warm),
        "stock_pieces": sum(one["pieces"] for one in stock),
        "stock_cost": _money(_sum(_of(one["cost"]) for one in stock)),
    }
