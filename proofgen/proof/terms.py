"""The terms of a proof: what its customer is told beside the picture, kept with the edition, and
what a page set later takes from them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from decimal import Decimal

from proofgen.model import Finding, Order, Rights, Shop
from proofgen.model.bill import unit_price
from proofgen.model.blank_names import called_in
from proofgen.model.terms_document import (
    TERMS_SCHEMA,
    BillExtras,
    BillLine,
    KeptRights,
    PressFacts,
    TermsDocument,
    ToldFinding,
)
from proofgen.proof.customer_findings import for_customer
from proofgen.say.tongue import Tongue


def terms_of(
    shop: Shop, order: Order, findings: Sequence[Finding], answer_by: date, tongue: Tongue
) -> TermsDocument:
    """Today's terms of an order."""
    settings = shop.settings
    designs = {line.number: shop.designs[line.design] for line in order.lines}
    told = for_customer(findings, tongue, designs, sum(line.quantity for line in order.lines))
    bill = [_bill_line(shop, order, at, tongue) for at in range(len(order.lines))]
    sums = [Decimal(line["total"]) for line in bill if line["total"] is not None]
    goods = sum(sums, Decimal(0)) if len(sums) == len(bill) else None
    total, extras = _extras(order, goods)
    terms: TermsDocument = {
        "schema": TERMS_SCHEMA,
        "order": order.id,
        "language": tongue.tag,
        "shop": settings.name,
        "contact": settings.contact,
        "telephone": settings.telephone,
        "keep_days": settings.keep_days,
        "customer": order.customer.name or shop.settings.name,
        "bill": bill,
        "total": total,
        "currency": settings.currency,
        "due": order.due.isoformat() if order.due else None,
        "answer_by": answer_by.isoformat(),
        "in_time": settings.in_time(answer_by, order.due),
        "house_words": shop.words.get("proof", ""),
        "findings": [ToldFinding(says=f.says, accepted=f.accepted) for f in told],
        "rights": KeptRights(print=order.rights.print, show=order.rights.show),
        "press": [_press_facts(shop, order, at) for at in range(len(order.lines))],
        "printer_scale": list(settings.printer.scale),
    }
    terms.update(extras)
    return terms


def _extras(order: Order, goods: Decimal | None) -> tuple[str | None, BillExtras]:
    """What the order comes to, pieces of the price `goods` (None: not all have one) with what is
    taken off and added; and these, as far as the order says them."""
    extras: BillExtras = {}
    if order.discount and goods is not None:
        off = order.discount.of(goods)
        extras["discount"] = str(off)
        goods -= off
    if order.postage is not None:
        extras["postage"] = str(order.postage)
    if order.paid is not None:
        extras["paid"] = str(order.paid)
    if order.note:
        extras["note"] = order.note
    return None if goods is None else str(goods + (order.postage or 0)), extras


def _bill_line(shop: Shop, order: Order, at: int, tongue: Tongue) -> BillLine:
    line = order.lines[at]
    design = shop.designs[line.design]
    price = unit_price(design, line)
    made: BillLine = {
        "line": line.number,
        "design": design.title,
        "blank": called_in(shop.blanks[line.blank], tongue),
        "cloth": line.cloth,
        "quantity": line.quantity,
        "unit_price": None if price is None else str(price),
        "total": None if price is None else str(price * line.quantity),
        "labels": dict(design.labels),
    }
    if line.discount and price is not None:
        goods = price * line.quantity
        off = line.discount.of(goods)
        made["discount"], made["total"] = str(off), str(goods - off)
    if line.note:
        made["note"] = line.note
    return made


def _press_facts(shop: Shop, order: Order, at: int) -> PressFacts:
    blank = shop.blanks[order.lines[at].blank]
    press = blank.press
    return {
        "line": order.lines[at].number,
        "heat_c": press.heat_c if press else None,
        "time_s": press.time_s if press else None,
        "preheat_s": press.preheat_s if press else None,
        "pressure": press.pressure if press else "",
        "sides": press.sides if press else 0,
        "shrink": list(blank.shrink),
    }


def as_told(shop: Shop, order: Order, terms: TermsDocument) -> tuple[Shop, Order]:
    """Shop and order with the names, words and days that the terms keep."""
    lines = {line["line"]: line for line in terms["bill"]}
    designs, blanks = dict(shop.designs), dict(shop.blanks)
    for line in order.lines:
        kept = lines.get(line.number)
        if kept:
            designs[line.design] = replace(
                designs[line.design], title=kept["design"], labels=kept["labels"]
            )
            # Whole as it was said: no size is put behind it, whatever is called alike by now.
            blanks[line.blank] = replace(blanks[line.blank], called=kept["blank"], sized=None)
    settings = replace(
        shop.settings,
        name=terms["shop"],
        contact=terms["contact"],
        telephone=terms["telephone"],
        keep_days=terms["keep_days"],
        currency=terms["currency"],
    )
    words = {**shop.words, "proof": terms["house_words"]}
    customer = replace(order.customer, name=terms["customer"], language=terms["language"])
    due = date.fromisoformat(terms["due"]) if terms["due"] else None
    return (
        replace(shop, settings=settings, designs=designs, blanks=blanks, words=words),
        replace(order, customer=customer, due=due, rights=Rights(**terms["rights"])),
    )
