"""What a person wrote around a slip, around answered questions or beside a photo: never lost."""

from __future__ import annotations

import html
from collections.abc import Sequence

from proofgen.catalogue.order_form import SUBJECT, slip_told, slip_told_else
from proofgen.intake.arrived import Arrived, writers_within
from proofgen.intake.asked import Asked
from proofgen.model import Shop
from proofgen.say.tongue import Tongue, languages
from proofgen.signoff.blocks import around_orders
from proofgen.signoff.mail import is_markup
from proofgen.signoff.order_slip import OrderPayload
from proofgen.signoff.wording import Known, cut_subject, person_words


def words_beside(
    arrived: Arrived, shop: Shop, asked: Asked, slips: Sequence[OrderPayload] = (), left: str = ""
) -> tuple[str, ...]:
    """A person's words, as paragraphs: all of a mail or text that is neither a slip, nor its
    readable part, nor a greeting or a signature. `left` is what of it stands around answered
    questions, where it has these."""
    known = Known(
        texts=(*_ours(shop, slips), *_subjects(shop)),
        names=(
            *(shop.settings.name, asked.name, arrived.sender_name, arrived.sender),
            *(said for one in writers_within(arrived) for said in one),
        ),
        address=asked.mail,
    )
    readings = [left] if left else _readings(arrived)
    subject = "" if cut_subject(arrived.subject, known) else arrived.subject
    first, *others = [around_orders(html.unescape(text)) for text in readings] or [""]
    return person_words([f"{subject}\n\n{first}", *others], known)


def _readings(arrived: Arrived) -> Sequence[str]:
    """Those that people read, not their markup."""
    return [text for text in arrived.texts if not is_markup(text)] or arrived.texts[:1]


def _ours(shop: Shop, slips: Sequence[OrderPayload]) -> list[str]:
    """What the page wrote above the slips, in each language that it may have been in."""
    return [
        text
        for slip in slips
        if slip["design"] in shop.designs and slip["blank"] in shop.blanks
        for tongue in map(Tongue, languages())
        for text in (
            slip_told(slip, shop.designs[slip["design"]], shop.blanks[slip["blank"]], tongue),
            slip_told_else(slip, tongue),
        )
    ]


def _subjects(shop: Shop) -> list[str]:
    return [
        Tongue(language)(SUBJECT, design=design.title)
        for design in shop.designs.values()
        for language in languages()
    ]
