"""Slips and mails into drafts of orders: taken once each, whole or not at all."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from proofgen import shop as shop_room
from proofgen.errors import ShopError
from proofgen.intake.arrived import Arrived, arrivals
from proofgen.intake.asked import Asked, TurnedAway, asked_by
from proofgen.intake.judging import Judged, judge
from proofgen.intake.keeping import ASKED, asked_text, marks
from proofgen.intake.photos import Came, for_slots, looked_at, use_of
from proofgen.intake.taken import Taken
from proofgen.model import PhotoUse
from proofgen.signoff.digests import canonical, digest_of
from proofgen.signoff.order_slip import OrderPayload, slips_in
from proofgen.workshop import Workshop

_DAMAGED = TurnedAway(
    "the coded part of this slip was damaged on the way",
    "ask the customer to send it again, with “Copy it” or “Save it” on the page",
)


def take(workshop: Workshop, content: bytes) -> Iterator[Taken | TurnedAway]:
    """What became of each slip or mail in what was given; nothing of it is believed."""
    try:
        for arrived in arrivals(content):
            yield from _take_one(workshop, arrived)
    except TurnedAway as error:
        yield error


def _take_one(workshop: Workshop, arrived: Arrived) -> Iterator[Taken | TurnedAway]:
    text, slips = _slips(arrived)
    for slip in slips:
        try:
            if slip is None:
                raise _DAMAGED
            yield _take_slip(workshop, arrived, text, slip)
        except TurnedAway as error:
            yield error
    if not slips:
        yield TurnedAway("no order slip is in this", "see that the whole mail was saved")


def _slips(arrived: Arrived) -> tuple[str, Sequence[OrderPayload | None]]:
    """The reading with the most slips that are whole, and these; damaged ones where none is."""
    readings = [(text, slips_in(text)) for text in arrived.texts]
    best = max(readings, key=lambda r: sum(s is not None for s in r[1]), default=("", []))
    whole = [slip for slip in best[1] if slip is not None]
    return best[0], whole or [slip for _, found in readings for slip in found][:1]


def _take_slip(workshop: Workshop, arrived: Arrived, text: str, slip: OrderPayload) -> Taken:
    mark = digest_of(canonical(slip))[:32]
    if known := _taken_before(workshop, mark):
        return known
    asked = asked_by(slip)
    return _write(workshop, arrived, text, mark, replace(asked, mail=asked.mail or arrived.sender))


def _taken_before(workshop: Workshop, mark: str) -> Taken | None:
    for known, order in marks(workshop.folder / "orders"):
        if known == mark:
            return Taken(order=order, is_new=False, step="proofgen orders")
    return None


def _write(workshop: Workshop, arrived: Arrived, text: str, mark: str, asked: Asked) -> Taken:
    judged = judge(asked, workshop.shop, workshop.today)
    told, missing = [*judged.told], [*judged.missing]
    with looked_at(workshop, arrived.attached, told) as came:
        photos, original = _photos(judged, asked, came, told, missing)
        draft = shop_room.OrderDraft(
            customer=judged.customer,
            due=judged.due,
            rights=judged.rights,
            draft=True,
            lines=(
                shop_room.LineDraft(
                    design=judged.design.id,
                    blank=judged.blank.id,
                    cloth=judged.cloth,
                    quantity=judged.many,
                    photos=photos,
                    words=judged.words,
                    listed=judged.lists,
                ),
            ),
            beside={ASKED: asked_text(arrived, text, mark, workshop.today)},
        )
        try:
            name = shop_room.write_order(workshop.shop, draft).name
        except ShopError as error:
            raise TurnedAway(error.problem, error.cure) from error
    return Taken(
        order=name,
        is_new=True,
        told=tuple(told),
        missing=tuple(missing),
        step=_step(name, missing, original),
        asks=judged.changed or original,
    )


def _photos(
    judged: Judged, asked: Asked, came: Sequence[Came], told: list[str], missing: list[str]
) -> tuple[dict[str, PhotoUse], bool]:
    slots = judged.design.slots("photo")
    meant = for_slots(came, slots, asked.tried)
    uses, original = dict[str, PhotoUse](), False
    for slot, one in meant.items():
        uses[slot], ask = use_of(one, asked.tried.get(slot), told)
        original = original or ask
    for slot in slots:
        if slot not in uses:
            missing.append(f"the photo for “{judged.design.label(slot)}”")
    return uses, original


def _step(name: str, missing: Sequence[str], original: bool) -> str:
    if original or any(one.startswith("the photo") for one in missing):
        return f"proofgen take PHOTO --for {name}"
    return f"proofgen check {name}"
