"""Stock, spoilage and costs for people, in a terminal and as a page, and what was sold as a table;
from `proofgen/tally/1`."""

from __future__ import annotations

import csv
import io
import unicodedata
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal, get_args

from proofgen.model.tally_document import (
    LineEntry,
    OrderSum,
    StockEntry,
    SumEntry,
    TallyDocument,
    YieldEntry,
)
from proofgen.render import Theme
from proofgen.reports.lines import columns, commands_apart, wrapped
from proofgen.say import count, joined, plural, visible
from proofgen.say.local import say_date

_CENT = Decimal("0.01")
_FEW = 100  # pressed: below, the share of what is spoiled can be nearly anything. Ours.


@dataclass(frozen=True, slots=True)
class Table:
    """Rows below their head; the columns `right` are numbers."""

    head: tuple[str, ...]
    rows: Sequence[tuple[str, ...]]
    right: frozenset[int]


@dataclass(frozen=True, slots=True)
class Part:
    """A part of the tally under its title: tables and sentences, in reading order."""

    title: str
    says: Sequence[Table | str]


def tally_parts(document: TallyDocument) -> list[Part]:
    """All of it in words."""
    when = f"since {document['since']}" if document["since"] else "since the records began"
    left_out = []
    if document["uncounted"]:
        names = ", ".join(map(visible, document["uncounted"]))
        left_out = [f"Pressed before what an order takes was recorded, so not in here: {names}."]
    return [
        Part("Stock, and what to buy for the open orders", _stock(document["stock"])),
        Part(f"Used at the press, {when}", _used(document)),
        Part(f"Spoiled at the press, {when}", _spoiled(document)),
        Part(f"What orders bring, {document['currency']}", _orders(document, when)),
        Part(
            f"What one piece costs and brings, {document['currency']}",
            [*_pieces(document["lines"]), *left_out],
        ),
    ]


def tally_text(document: TallyDocument) -> str:
    """All of it, each part under its head."""
    parts = []
    for part in tally_parts(document):
        lines = [part.title]
        for one in part.says:
            if isinstance(one, str):
                lines += wrapped(one, "    ", "  ")
            else:
                rows = [tuple(map(visible, row)) for row in (one.head, *one.rows)]
                lines += [f"  {line}" for line in columns(rows, right=one.right)]
        parts.append("\n".join(lines))
    return "\n\n".join(parts)


_Part = Literal["blanks", "paper", "time", "spoiled", "cost", "price", "left"]
_PARTS: tuple[_Part, ...] = get_args(_Part)


def cost_text(document: TallyDocument) -> str:
    """What an order costs line by line, and what of its price is left."""
    if not document["lines"]:
        return "This order is not counted: it is closed, or was pressed before that was recorded."
    rows = [
        (
            f"{one['pressed_on'] or 'open'}, line {one['line']}",
            str(one["pieces"]),
            *("stock" if part == "price" and one["own"] else _cents(one[part]) for part in _PARTS),
        )
        for one in document["lines"]
    ]
    table = columns([("", "pieces", *_PARTS), *rows], right=frozenset(range(1, len(_PARTS) + 2)))
    sums = [
        f"{one['pressed_on'] or 'Open'}, all of it: {plural(one['pieces'], 'piece')} in "
        f"{document['currency']}: cost {_cents(one['cost'])}, "
        + ("made for the shop itself." if one["own"] else f"price {_cents(one['price'])}, ")
        + ("" if one["own"] else f"left {_cents(one['left'])}.")
        for one in document["orders"]
    ]
    says = [
        *sums,
        *_not_known(document["orders"]),
        "Spoiled: what was, of an open order as many as spares: expects. Warming up is not in it; "
        "an evening has it once for all its orders: proofgen orders --tally",
    ]
    return "\n".join([*table, "", *(line for text in says for line in wrapped(text, "  ", ""))])


def tally_page(document: TallyDocument, theme: Theme, *, shop_name: str, demo: bool) -> str:
    """The same as one page that loads nothing; for the maker."""
    return theme.render(
        "tally.html",
        styles=("base", "evening", "tally"),
        apart=commands_apart,
        private=True,
        shop_name=shop_name,
        demo=demo,
        day=say_date(date.fromisoformat(document["until"]), "en"),
        parts=tally_parts(document),
    )


def _table(head: tuple[str, ...], rows: Iterable[tuple[str, ...]], *right: int) -> list[Table]:
    """The table, or nothing where it has no rows."""
    every = list(rows)
    return [Table(head, every, frozenset(right))] if every else []


def _counted(one: StockEntry) -> str:
    """When it was counted: '2026-11-25' is that morning, with a time it is that moment."""
    if not one["counted_on"]:
        return "counted, without the day (counted:)"
    day, _, clock = one["counted_on"].partition(" ")
    return f"counted on {day} at {clock}" if clock else f"counted on the morning of {day}"


def _stock(stock: Sequence[StockEntry]) -> list[Table | str]:
    known = [one for one in stock if one["counted"] is not None]
    rows = [
        (
            f"{one['blank']}, {one['cloth']}",
            *(str(one["left"]), str(one["needed"]), str(one["buy"] or "–")),
            ", ".join(f"{o} {n}" for o, n in one["needs"].items()),
        )
        for one in known
    ]
    says: list[Table | str] = [
        *_table(("blank, cloth", "there", "needed", "buy", "for"), rows, 1, 2, 3)
    ]
    says += [
        f"{one['blank']}, {one['cloth']}: {count(one['counted'] or 0)} {_counted(one)}, "
        f"{count(one['used'])} used since. ({one['file']})"
        for one in known
    ]
    says += [
        f"{one['blank']}, {one['cloth']}: {count(one['needed'])} needed; how many are there is not "
        f"known. Count them, and write it down: proofgen blanks {one['blank']} --count "
        f"{_typed(one['cloth'])}=NUMBER"
        for one in stock
        if one["counted"] is None
    ]
    return says or ["Nothing is counted, and no order is open."]


def _typed(cloth: str) -> str:
    return f'"{cloth}"' if " " in cloth else cloth


def _used(document: TallyDocument) -> list[Table | str]:
    rows = [
        (
            f"{one['blank']}, {one['cloth']}",
            *(str(one["pressed"]), str(one["spoiled"]), str(one["pressed"] + one["spoiled"])),
        )
        for one in document["used"]
    ]
    papers = [f"{_plain(amount)} of {name}" for name, amount in document["papers"].items()]
    told = f"Papers (of a roll the metres): {joined(papers)}." if papers else ""
    table = _table(("blank, cloth", "good", "spoiled", "used"), rows, 1, 2, 3)
    return [*table, *([told] if told else [])] if rows else ["Nothing was pressed."]


def _plain(amount: str) -> str:
    return f"{Decimal(amount).quantize(_CENT).normalize():f}"


def _percent(share: str) -> str:
    return f"{(Decimal(share) * 100).quantize(Decimal('0.1')):f}".removesuffix(".0") + " %"


def _spoiled(document: TallyDocument) -> list[Table | str]:
    spares = document["spares"]
    rate = _percent(spares["set"])
    better = _percent(spares["suggested"]) if spares["suggested"] else ""
    says = {
        "enough": f"spares: {rate} in shop.yaml is enough."
        + (f" {better} would be." if better != rate else ""),
        "too few": f"spares: {rate} in shop.yaml is too little; write spares: {better}.",
        "not known yet": f"These are too few to tell whether spares: {rate} in shop.yaml is "
        "right; keep it.",
        "nothing pressed": f"Nothing was pressed, so nothing speaks against spares: {rate}.",
    }[spares["verdict"]]
    if document["waiting"]:
        says += f" Of orders not pressed yet {count(document['waiting'])} more are spoiled."
    return [*map(_yield, document["yields"]), says]


def _yield(one: YieldEntry) -> str:
    causes = ", ".join(f"{n} {cause}" for cause, n in one["causes"].items())
    share = f" ({_percent(one['share'])})" if one["share"] and one["spoiled"] else ""
    name = one["blank"] or "All blanks"
    least, most = (f"{Decimal(one[end]) * 100:.0f}" for end in ("least", "most"))
    between = (
        f"with so few pressed, the true share may be anything from {least} to {most} in a hundred"
        if one["blanks"] < _FEW
        else f"the true share is most likely between {least} and {most} in a hundred"
    )
    return (
        f"{name}: {count(one['spoiled'])} of {count(one['blanks'])} spoiled{share}"
        f"{': ' + causes if causes else ''}; {between}."
    )


def _cents(amount: str | None) -> str:
    return "not known" if amount is None else f"{Decimal(amount).quantize(_CENT):,f}"


def _name(one: LineEntry | OrderSum) -> str:
    return one["order"] or f"record {one['record']}"


def _whole(name: str, when: str, one: LineEntry | OrderSum) -> tuple[str, ...]:
    money = [_cents(one["price"]), _cents(one["cost"]), _cents(one["left"])]
    if one["own"]:
        money[0], money[2] = "stock", "–"
    return (name, when, str(one["pieces"]), *money)


def _orders(document: TallyDocument, when: str) -> list[Table | str]:
    """Each order as a whole, below it its lines where it has several, and all that was sold."""
    rows = []
    for order in document["orders"]:
        rows.append(_whole(_name(order), order["pressed_on"] or "open", order))
        key = (order["record"], order["order"])
        lines = [one for one in document["lines"] if (one["record"], one["order"]) == key]
        for one in lines if len(lines) > 1 else ():
            rows.append(_whole(f"  line {one['line']}", "", one))
    if not rows:
        return ["Nothing is pressed, and no order is open."]
    head = ("order", "pressed on", "pieces", "price", "cost", "left")
    says: list[Table | str] = [*_table(head, rows, 2, 3, 4, 5)]
    return [*says, *_sums(document["total"], when), *_not_known(document["orders"])]


def _sums(total: SumEntry, when: str) -> list[str]:
    says = []
    if total["orders"]:
        some = "" if total["known"] == total["orders"] else f"{total['known']} of "
        evenings = total["evenings"]
        on = f"their warming up on {plural(evenings, 'day')} {_cents(total['warming_up'])}, "
        says.append(
            f"Sold and pressed {when}, of {some}{plural(total['orders'], 'order')}: "
            f"{plural(total['pieces'], 'piece')}, price {_cents(total['price'])}, cost "
            f"{_cents(total['cost'])}, {on if evenings else ''}left {_cents(total['left'])}."
        )
    else:
        says.append(f"Nothing that was sold was pressed {when}.")
    if total["stock_pieces"]:
        says.append(
            f"Stock made for the shop itself: {plural(total['stock_pieces'], 'piece')}, cost "
            f"{_cents(total['stock_cost'])}; not sold yet, so in no price and nothing that is left."
        )
    if Decimal(total["warming_up_else"] or 0):
        says.append(
            f"Warming up for other orders: {_cents(total['warming_up_else'])}. These are stock and "
            "orders whose price or cost is not known, so it is in no sum above."
        )
    return says


def _not_known(orders: Sequence[OrderSum]) -> list[str]:
    """What keeps an order's cost or price from being known, once for all orders that it keeps."""
    kept: dict[str, list[str]] = {}
    for one in orders:
        for text in one["lacks"]:
            kept.setdefault(text, []).append(_name(one))
    return [f"Not known for {', '.join(names)}: {text}." for text, names in kept.items()]


def _pieces(lines: Sequence[LineEntry]) -> list[Table | str]:
    rows = [
        (
            f"{_name(one)}, {one['line']}",
            one["blank"],
            "stock" if one["own"] else _cents(one["price_each"]),
            _cents(one["cost_each"]),
            str(one["spoiled_pieces"]) if one["record"] else "",
        )
        for one in lines
    ]
    if not rows:
        return ["Nothing is pressed, and no order is open."]
    return [
        *_table(("order, line", "blank", "price", "cost", "spoiled"), rows, 2, 3, 4),
        "The cost of a piece: its blank, its part of the paper, its pressings, and its part of "
        "what is spoiled (open orders: as many as spares: expects), by the files of today. "
        "Warming up stands in the sum above, once for each day on which one of the orders in it "
        "was noted as pressed.",
    ]


_SOLD = (
    *("record", "pressed on", "handed over on", "made for", "design", "blank", "cloth", "pieces"),
    *("price each", "price", "cost each", "cost", "currency"),
)


def sold_csv(document: TallyDocument) -> bytes:
    """What was pressed as a table for spreadsheets: RFC 4180, UTF-8 with its mark. `record` is the
    journal's line; no customer is named, so nothing in it has to be forgotten."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(_SOLD)
    for one in document["lines"]:
        if not one["record"]:
            continue
        words = (one["design"], one["blank"], one["cloth"])
        writer.writerow(
            [
                one["record"],
                one["pressed_on"],
                one["handed_over_on"],
                "stock" if one["own"] else "customer",
                *map(harmless, words),
                one["pieces"],
                one["price_each"] or "",
                one["price"] or "",
                one["cost_each"] or "",
                one["cost"] or "",
                document["currency"],
            ]
        )
    return out.getvalue().encode("utf-8-sig")


_FORMULA = "=+-@\t\r\n"


def harmless(cell: str) -> str:
    """A text that no spreadsheet takes for a formula (OWASP, CSV injection): one that begins like
    one, in full width, too, gets an apostrophe before it."""
    first = unicodedata.normalize("NFKC", cell[:1])
    return f"'{cell}" if first and first[0] in _FORMULA else cell
