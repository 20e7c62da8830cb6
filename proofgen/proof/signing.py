"""What a “Yes” to a proof is given for, in a line or two of the mail that carries it."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from proofgen.model.terms_document import TermsDocument
from proofgen.say.tongue import Tongue


def signed_for(terms: TermsDocument, tongue: Tongue) -> tuple[str, ...]:
    """'6 × Harbour photo, wrap sleeve, white · €78.00 · ready on Friday 18 December': of an order
    with several lines each by itself, price and day last. A day that an answer no longer meets is
    not promised. The code of an answer does not hold them, so they are ours wherever they stand."""
    lines = [
        tongue(
            "{n} × {design}, {blank}, {cloth}",
            n=tongue.number(line["quantity"], 0),
            design=line["design"],
            blank=line["blank"],
            cloth=tongue.message(line["cloth"]),
        )
        for line in terms["bill"]
    ]
    last = []
    if terms["total"] is not None:
        last.append(tongue.money(Decimal(terms["total"]), terms["currency"]))
    if terms["due"]:
        day = tongue.day(date.fromisoformat(terms["due"]))
        in_time = terms.get("in_time", True)
        last.append(
            tongue("ready on {day}", day=day) if in_time else tongue("wanted by {day}", day=day)
        )
    if len(lines) == 1:
        return (" · ".join([*lines, *last]),)
    return (*lines, *([" · ".join(last)] if last else []))
