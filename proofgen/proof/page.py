"""What a proof's page says beside its pictures: words, bill, changes, findings; and all of it."""

from __future__ import annotations

import copy
from collections.abc import Sequence
from decimal import Decimal

from PIL import Image

from proofgen import signoff
from proofgen.model import Order, PlacedWords, Shop, Variant
from proofgen.model.artwork_document import ArtworkDocument
from proofgen.proof.content import Change, PriceLine, ProofContent, Word, picture
from proofgen.proof.customer_findings import for_customer
from proofgen.proof.shown import Shown
from proofgen.proof.works import FACE_WIDTH, work_of
from proofgen.signoff import Edition
from proofgen.views.ink import on_its_cloth
from proofgen.views.pictures import fitted


def _texts_before(before: Edition | None) -> dict[tuple[int, str, int], str]:
    """The texts of an edition by line, slot and piece."""
    lines = before.document["lines"] if before else []
    return {
        (line["line"], slot, piece): text
        for line in lines
        for variant in line["variants"]
        for piece in variant["pieces"]
        for slot, text in variant["words"].items()
    }


def _words(
    order: Order, variants: Sequence[Variant], shop: Shop, before: Edition | None
) -> list[Word]:
    """Every text that will be pressed, once, with the pieces that carry it."""
    then = _texts_before(before)
    carriers: dict[tuple[int, str, str], set[int]] = {}
    for variant in variants:
        for placed in variant.layout.layers:
            if isinstance(placed, PlacedWords) and placed.slot and placed.text:
                key = (variant.line, placed.slot, placed.text)
                carriers.setdefault(key, set()).update(variant.pieces)
    ordered = sorted(carriers.items(), key=lambda item: (min(item[1]), item[0][0]))
    designs = {line.number: shop.designs[line.design] for line in order.lines}
    words = []
    for (line, slot, text), pieces in ordered:
        old = {then.get((line, slot, piece), "") for piece in pieces}
        words.append(
            Word(
                pieces=tuple(sorted(pieces)),
                slot=designs[line].label(slot),
                text=text,
                slot_id=slot,
                line=line,
                before=old.pop() if len(old) == 1 and text not in old else "",
            )
        )
    return words


def _bill(order: Order, shop: Shop) -> list[PriceLine]:
    """What it costs; no prices where a design names none."""
    lines = []
    for line in order.lines:
        design = shop.designs[line.design]
        price = design.price(line.blank, line.quantity)
        lines.append(
            PriceLine(
                design=design.title,
                blank=shop.blanks[line.blank].name,
                cloth=line.cloth,
                quantity=line.quantity,
                unit_price=price,
                total=None if price is None else price * line.quantity,
            )
        )
    return lines


def _total(bill: Sequence[PriceLine]) -> Decimal | None:
    """None when a price is missing."""
    totals = [line.total for line in bill if line.total is not None]
    return sum(totals, Decimal(0)) if len(totals) == len(bill) else None


def _in_words(document: ArtworkDocument, shop: Shop) -> ArtworkDocument:
    """A description with titles and labels where it has ids: for people, not for a fingerprint."""
    worded = copy.deepcopy(document)
    for line in worded["lines"]:
        design, blank = shop.designs.get(line["design"]), shop.blanks.get(line["blank"])
        line["blank"] = blank.name if blank else line["blank"]
        if design is None:
            continue
        line["design"] = design.title
        for variant in line["variants"]:
            variant["words"] = {design.label(s): text for s, text in variant["words"].items()}
            for layer in (x for layers in variant["faces"].values() for x in layers):
                if layer.get("slot"):
                    layer["slot"] = design.label(layer["slot"])
    return worded


def _first_difference(shown: Shown) -> tuple[Image.Image, Image.Image] | None:
    """The first picture that is not as it was, then and now, on its cloth."""
    for rasters in shown.rasters:
        for panel, name in rasters.names.items():
            before = shown.before.rasters.get(name) if shown.before else None
            if before and before != shown.edition.rasters[name]:
                then, layout = shown.before_pictures[name], rasters.layout
                return on_its_cloth(then, layout), on_its_cloth(rasters[panel], layout)
    return None


def _changes(shown: Shown) -> list[Change]:
    """What differs from the edition before, in words, and the first picture that differs."""
    if shown.before is None:
        return []
    then, now = (_in_words(e.document, shown.shop) for e in (shown.before, shown.edition))
    changes = [Change(says=sentence) for sentence in signoff.changes(then, now)]
    pair = _first_difference(shown) if changes else None
    if pair:
        before = fitted(pair[0], FACE_WIDTH)
        after = fitted(pair[1], FACE_WIDTH)
        changes[0] = Change(
            says=changes[0].says,
            before=picture(
                "change-before", before, "The artwork as it was", f"Proof {shown.before.number}"
            ),
            after=picture(
                "change-after", after, "The artwork as it is now", f"Proof {shown.edition.number}"
            ),
        )
    return changes


def content_of(shown: Shown) -> ProofContent:
    """Everything on the page."""
    shop, order, edition = shown.shop, shown.order, shown.edition
    bill = _bill(order, shop)
    designs = {line.number: shop.designs[line.design] for line in order.lines}
    return ProofContent(
        shop_name=shop.settings.name,
        contact=shop.settings.contact,
        order=order.id,
        customer=order.customer.name,
        edition=edition.number,
        made=edition.made.date(),
        answer_by=edition.answer_by,
        due=order.due,
        works=tuple(work_of(shown, line) for line in order.lines),
        words=tuple(_words(order, shown.variants, shop, shown.before)),
        bill=tuple(bill),
        total=_total(bill),
        findings=tuple(for_customer(shown.findings, shown.tongue, designs)),
        changes=tuple(_changes(shown)),
        fingerprint=edition.fingerprint,
        key_hex=edition.key.hex(),
        codes=signoff.spoken_codes(edition),
        slip_words=signoff.words_in(shown.tongue),
        link=shown.link,
        telephone=shop.settings.telephone,
        keep_days=shop.settings.keep_days,
        asks_print=order.rights.print is None,
        asks_show=order.rights.show is None,
        house_words=shop.words.get("proof", ""),
        demo=shop.settings.demo,
    )
