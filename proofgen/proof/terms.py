"""The terms of a proof: what its customer is told beside the picture, kept with the edition, and
what a page set later takes from them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from decimal import Decimal

from proofgen.model import Finding, Order, Rights, Shop
from proofgen.model.bill import line_total, unit_price
from proofgen.model.blank_names import called_in
from proofgen.model.terms_document import (
    TERMS_SCHEMA,
    BillExtras,
    BillLine,
    KeptRights,
    PressFacts,
    TermsDocument,
    ToldFinding,
    ToldOfWord,
)
from proofgen.proof.customer_findings import BesideWord, CustomerFinding, for_customer
from proofgen.proof.ordered import ordered_of
from proofgen.render.house_text import own_heading
from proofgen.say.tongue import Tongue
from proofgen.signoff.order_slip import OrderPayload


def as_kept(told: CustomerFinding) -> ToldFinding:
    """What a customer is told, as terms keep it."""
    kept = ToldFinding(says=told.says, accepted=told.accepted)
    if told.word:
        at = told.word
        kept["word"] = ToldOfWord(line=at.line, slot=at.slot, pieces=list(at.pieces), says=at.says)
    return kept


def as_finding(kept: ToldFinding) -> CustomerFinding:
    """The same from an edition's terms."""
    at = kept.get("word")
    word = at and BesideWord(at["line"], at["slot"], tuple(at["pieces"]), at["says"])
    return CustomerFinding(kept["says"], kept["accepted"], word)


def terms_of(
    shop: Shop,
    order: Order,
    findings: Sequence[Finding],
    answer_by: date,
    tongue: Tongue,
    slip: OrderPayload | None = None,
) -> TermsDocument:
    """Today's terms of an order; `slip` is the one it was taken from."""
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
        "house_words": shop.house_text("proof", tongue.tag),
        "findings": [as_kept(one) for one in told],
        "rights": KeptRights(print=order.rights.print, show=order.rights.show),
        "press": [_press_facts(shop, order, at) for at in range(len(order.lines))],
        "printer_scale": list(settings.printer.scale),
    }
    terms.update(extras)
    if slip:
        terms["ordered"] = ordered_of(slip, shop, tongue)
    if paying := own_heading(shop.house_text("paying", tongue.tag))[1].strip():
        terms["paying"] = paying
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
        total = line_total(line, price)
        made["discount"], made["total"] = str(price * line.quantity - total), str(total)
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
    words = {
        **shop.words,
        "proof": terms["house_words"],
        "paying": terms.get("paying", ""),
    }
    customer = replace(order.customer, name=terms["customer"], language=terms["language"])
    due = date.fromisoformat(terms["due"]) if terms["due"] else None
    return (
        replace(shop, settings=settings, designs=designs, blanks=blanks, words=words),
        replace(order, customer=customer, due=due, rights=Rights(**terms["rights"])),
    )
