"""What an order's terms would be today, and how they differ from those its edition keeps."""

from __future__ import annotations

from dataclasses import replace

from proofgen.model import BLOCKING
from proofgen.model.terms_document import TermsDocument
from proofgen.pipeline.preflight import Prepared, acceptances
from proofgen.proof.terms import terms_of
from proofgen.say import quoted
from proofgen.signoff import Edition, terms_changes
from proofgen.signoff.asked import came_with
from proofgen.workshop import Workshop

_MOST = 300  # letters of a finding in one sentence


def terms_today(workshop: Workshop, prepared: Prepared, edition: Edition | None) -> TermsDocument:
    """The terms of a proof made now; with the last day of `edition`, where there is one."""
    answer_by = edition.answer_by if edition else workshop.answer_by(prepared.order)
    tongue = workshop.theme_for(prepared.order).tongue
    order = prepared.order
    slip = came_with(workshop.folder / "orders" / order.id).slip
    return terms_of(workshop.shop, order, prepared.findings, answer_by, tongue, slip)


def both_terms(
    workshop: Workshop, prepared: Prepared
) -> tuple[TermsDocument, TermsDocument] | None:
    """The terms that the latest edition keeps, and what they would be today; None where it keeps
    none."""
    latest = workshop.records.latest(prepared.order.id)
    if latest is None or latest.terms is None:
        return None
    return latest.terms, terms_today(workshop, prepared, latest)


def differing_terms(workshop: Workshop, prepared: Prepared) -> list[str]:
    """What the customer was told with the latest edition and would be told otherwise today."""
    both = both_terms(workshop, prepared)
    return terms_changes(*both) if both else []


def late_stops(workshop: Workshop, prepared: Prepared) -> list[str]:
    """What came up after the latest edition was made: stops that were let through only then, since
    its customer signs, or signed, without them; and a key that is no secret."""
    order = prepared.order.id
    heads = workshop.records.heads(order)
    number = len(heads)
    if number and workshop.is_for_show(heads[-1]):
        return [
            f"Anybody can work out the key of proof {number} and answer it: it was made while "
            "shop.yaml said demo: yes."
        ]
    let_through = [f for f in prepared.findings if f.accepted and f.status in BLOCKING]
    if not number or not let_through:
        return []
    before = acceptances(workshop, order, before=number)
    return [
        f"{quoted(f.says, _MOST)} was let through after proof {number} was made."
        for f in let_through
        if f.key not in before or not before[f.key].of(replace(f, accepted="")).accepted
    ]
