"""What a proof's page says beside its pictures: words, bill, changes, findings; and all of it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from decimal import Decimal

from PIL import Image

from proofgen import signoff
from proofgen.model import Order, PlacedWords, Shop, Variant
from proofgen.model.terms_document import TermsDocument
from proofgen.proof.content import Change, Ordered, PriceLine, ProofContent, Word, picture
from proofgen.proof.shown import Shown
from proofgen.proof.signing import signed_for
from proofgen.proof.terms import as_finding
from proofgen.proof.works import FACE_WIDTH, work_of
from proofgen.say.tongue import Tongue
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
    lacking: dict[tuple[int, str, str], PlacedWords] = {}
    for variant in variants:
        for placed in variant.layout.layers:
            if isinstance(placed, PlacedWords) and placed.slot and placed.text:
                key = (variant.line, placed.slot, placed.text)
                carriers.setdefault(key, set()).update(variant.pieces)
                if placed.missing:
                    lacking.setdefault(key, placed)
    ordered = sorted(carriers.items(), key=lambda item: (min(item[1]), item[0][0]))
    designs = {line.number: shop.designs[line.design] for line in order.lines}
    words = []
    for (line, slot, text), pieces in ordered:
        old = {then.get((line, slot, piece), "") for piece in pieces}
        lacks = lacking.get((line, slot, text))
        words.append(
            Word(
                pieces=tuple(sorted(pieces)),
                slot=designs[line].label(slot),
                text=text,
                slot_id=slot,
                line=line,
                before=old.pop() if len(old) == 1 and text not in old else "",
                missing=lacks.missing if lacks else "",
                boxed=bool(lacks and lacks.boxed),
            )
        )
    return words


def _money(amount: str | None) -> Decimal | None:
    return None if amount is None else Decimal(amount)


def _bill(terms: TermsDocument, tongue: Tongue) -> list[PriceLine]:
    """What it costs; no prices where a design names none."""
    return [
        PriceLine(
            design=line["design"],
            blank=line["blank"],
            cloth=tongue.message(line["cloth"]),
            quantity=line["quantity"],
            unit_price=_money(line["unit_price"]),
            total=_money(line["total"]),
            discount=_money(line.get("discount")),
            note=line.get("note", ""),
        )
        for line in terms["bill"]
    ]


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
    """What differs from the edition seen before, in words, and the first picture that differs."""
    if shown.before is None:
        return []
    both = (shown.before.document, shown.edition.document)
    then, now = (signoff.in_words(one, shown.shop, shown.tongue) for one in both)
    changes = [Change(says=one.says) for one in signoff.differences(then, now, shown.tongue)]
    pair = _first_difference(shown) if changes else None
    if pair:
        before, after = (fitted(image, FACE_WIDTH) for image in pair)
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


def _ordered(terms: TermsDocument) -> Ordered | None:
    """What the customer's slip asked for, as the edition keeps it."""
    kept = terms.get("ordered")
    return kept and Ordered(
        day=date.fromisoformat(kept["day"]),
        design=kept["design"],
        blank=kept["blank"],
        cloth=kept["cloth"],
        quantity=kept["quantity"],
        words=tuple((one["label"], tuple(one["texts"])) for one in kept["words"]),
        note=kept.get("note", ""),
    )


def content_of(shown: Shown) -> ProofContent:
    """Everything on the page."""
    shop, order, edition, terms = shown.shop, shown.order, shown.edition, shown.terms
    return ProofContent(
        shop_name=shop.settings.name,
        contact=shop.settings.contact,
        order=order.id,
        customer=order.customer.name or shop.settings.name,
        edition=edition.number,
        made=edition.made.date(),
        answer_by=edition.answer_by,
        due=order.due,
        works=tuple(work_of(shown, line) for line in order.lines),
        words=tuple(_words(order, shown.variants, shop, shown.before)),
        bill=tuple(_bill(terms, shown.tongue)),
        total=_money(terms["total"]),
        discount=_money(terms.get("discount")),
        postage=_money(terms.get("postage")),
        paid=_money(terms.get("paid")),
        bill_note=terms.get("note", ""),
        paying=terms.get("paying", ""),
        findings=tuple(map(as_finding, terms["findings"])),
        before=shown.before.number if shown.before else 0,
        changes=tuple(_changes(shown)),
        fingerprint=edition.fingerprint,
        key_hex=edition.key.hex(),
        codes=signoff.spoken_codes(edition),
        slip_words=signoff.words_in(shown.tongue),
        in_time=terms.get("in_time", True),
        signed=signed_for(terms, shown.tongue),
        link=shown.link,
        telephone=shop.settings.telephone,
        keep_days=shop.settings.keep_days,
        asks_print=order.rights.print is None,
        asks_show=order.rights.show is None,
        shown_to_nobody=order.rights.show is False,
        shown_to_others=order.rights.show is True,
        ordered=_ordered(terms),
        house_words=shop.house_text("proof", shown.tongue.tag),
        demo=shop.settings.demo,
        stands_at=shop.settings.today if shop.settings.demo else None,
    )
