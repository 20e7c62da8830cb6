"""Slips and mails into drafts of orders: taken once each, whole or not at all."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import partial
from pathlib import Path

from proofgen import shop as shop_room
from proofgen.errors import ShopError
from proofgen.intake.arrived import Arrived, arrivals, writer_of
from proofgen.intake.asked import Asked, TurnedAway, asked_by, wish_of
from proofgen.intake.beside import words_beside
from proofgen.intake.judging import PHOTO_FILE, Judged, judge, judge_part
from proofgen.intake.keeping import COMPARED, all_said, asked_text, keep_also, marks
from proofgen.intake.photos import Came, for_slots, looked_at, use_of
from proofgen.intake.questions import answered
from proofgen.intake.taken import Taken
from proofgen.model import PhotoUse
from proofgen.photo.kinds import kind_of
from proofgen.say import joined, plural
from proofgen.signoff.asked import ASKED, mark_of, read_asked, remark_of
from proofgen.signoff.blocks import has_answer
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
    if not slips:
        yield _tried(partial(_take_letter, workshop, arrived))
    for slip in slips:
        yield _tried(partial(_take_slip, workshop, arrived, text, slip, slips))


def _tried(take: Callable[[], Taken]) -> Taken | TurnedAway:
    try:
        return take()
    except TurnedAway as error:
        return error


def _take_letter(workshop: Workshop, arrived: Arrived) -> Taken:
    """A mail that no page of ours put together: what it plainly says, and what hangs on it."""
    if any(map(has_answer, arrived.texts)):
        raise TurnedAway("this is an answer to a proof, not an order", "proofgen answer FILE")
    if known := _taken_before(workshop, arrived.mark):
        return known
    contact = workshop.shop.settings.contact
    name, mail = writer_of(arrived, contact)
    read = ((text, answered(text, arrived.subject, workshop.shop)) for text in arrived.texts)
    text, found = next(((t, one) for t, one in read if one), ("", None))
    pictures = any(kind_of(one.content).picture for one in arrived.attached)
    if found is None and not pictures:
        raise TurnedAway(
            "no order is in this: no slip, no answers to the catalogue’s questions, no photo",
            "see that the whole mail was saved; if it asks in its own words, write the order: "
            "proofgen order; then keep the mail beside it, so that check compares their words: "
            "proofgen take FILE --for ORDER",
        )
    if found is None and (waiting := _waiting(workshop, mail)):
        raise TurnedAway(
            f"this mail brings a photo, and {joined(waiting)} of the same sender waits for one",
            f"proofgen take MAIL --for {waiting[0]}",
        )
    asked = found.asked if found else Asked()
    asked = replace(asked, name=asked.name or name, mail=mail)
    whole = all((asked.design, asked.blank, asked.cloth, asked.many))
    judged = (judge if whole else judge_part)(asked, workshop.shop, workshop.today)
    judged = replace(judged, told=(*(found.told if found else ()), *judged.told))
    left = found.left if found else ""
    also = words_beside(arrived, workshop.shop, asked, left=left)
    read_text = text or arrived.texts[0]
    return _write(workshop, arrived, read_text, arrived.mark, asked, judged, also)


def _waiting(workshop: Workshop, mail: str) -> list[str]:
    """Drafts of somebody with this address that have a slot without a photo."""
    designs = workshop.shop.designs
    return [
        order.id
        for order in workshop.shop.orders.values()
        if order.draft
        and mail
        and order.customer.email.casefold() == mail.casefold()
        and any(
            slot not in line.photos
            for line in order.lines
            for slot in designs[line.design].slots("photo")
        )
    ]


def _slips(arrived: Arrived) -> tuple[str, Sequence[OrderPayload | None]]:
    """The reading with the most slips that are whole, and these; damaged ones where none is."""
    readings = [(text, slips_in(text)) for text in arrived.texts]
    best = max(readings, key=lambda r: sum(s is not None for s in r[1]), default=("", []))
    whole = [slip for slip in best[1] if slip is not None]
    return best[0], whole or [slip for _, found in readings for slip in found][:1]


def _take_slip(
    workshop: Workshop,
    arrived: Arrived,
    text: str,
    slip: OrderPayload | None,
    slips: Sequence[OrderPayload | None],
) -> Taken:
    if slip is None:
        raise _DAMAGED
    mark, asked = mark_of(slip), asked_by(slip)
    also = words_beside(arrived, workshop.shop, asked, [one for one in slips if one])
    if known := _taken_before(workshop, mark):
        folder = workshop.folder / "orders" / known.order
        new = keep_also(folder, arrived, also, workshop.today)
        return replace(known, remarks=tuple(new), kept_in=f"orders/{known.order}/{ASKED}")
    if not asked.mail:
        asked = replace(asked, mail=writer_of(arrived, workshop.shop.settings.contact)[1])
    judged = judge(asked, workshop.shop, workshop.today)
    if twin := _asks_the_same(workshop, slip):
        told = f"{twin} asks for the same: if it was sent twice, delete one of the two folders"
        judged = replace(judged, told=(*judged.told, told))
    taken = _write(workshop, arrived, text, mark, asked, judged, also)
    remark = remark_of(slip)
    return replace(taken, remarks=(*([remark] if remark else []), *taken.remarks))


def _asks_the_same(workshop: Workshop, slip: OrderPayload) -> str:
    """An order whose slip differs in nothing but when it was put together; '' where none does."""
    home = workshop.folder / "orders"
    for _, order in marks(home):
        for one in slips_in(read_asked(home / order)):
            if one and {**one, "time": ""} == {**slip, "time": ""}:
                return order
    return ""


def _taken_before(workshop: Workshop, mark: str) -> Taken | None:
    for known, order in marks(workshop.folder / "orders"):
        if known == mark:
            return Taken(order=order, is_new=False, step="proofgen orders")
    return None


def _write(
    workshop: Workshop,
    arrived: Arrived,
    text: str,
    mark: str,
    asked: Asked,
    judged: Judged,
    also: Sequence[str],
) -> Taken:
    told, missing = [*judged.told], [*judged.missing]
    is_slip = bool(slips_in(text))
    wish = None if is_slip else wish_of(asked, arrived.day or workshop.today)
    # What is not understood as a wish is compared with the order's words as it stands there.
    words = all_said(arrived) if not (is_slip or wish) else ()
    if words:
        told.append(COMPARED)
    with looked_at(workshop, arrived.attached, told) as came:
        photos, original = _photos(judged, asked, came, told, missing)
        used = [use.file for use in photos.values()]
        loose = [one.facts.file for one in came if one.facts.file not in used]
        if loose:
            told.append(f"{plural(len(loose), 'photo')} came that no place is known for: photos/")
        draft = shop_room.OrderDraft(
            customer=judged.customer,
            due=judged.due,
            rights=judged.rights,
            draft=True,
            lines=(replace(judged.line, photos=photos),) if judged.line else (),
            beside={ASKED: asked_text(arrived, text, mark, workshop.today, also, wish, words)},
            photos=loose,
            remarks=_with_file(judged.remarks, loose),
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
        step=_step(name, judged, missing, original),
        asks=judged.changed or original,
        remarks=tuple(also),
        kept_in=f"orders/{name}/{ASKED}",
    )


def _with_file(lines: Sequence[str], loose: Sequence[Path]) -> list[str]:
    """Lines to fill in that name the photo which came; without those of photos where none did, or
    several."""
    if len(loose) != 1:
        return [line for line in lines if PHOTO_FILE not in line]
    return [line.replace(PHOTO_FILE, f"photos/{loose[0].name}") for line in lines]


def _photos(
    judged: Judged, asked: Asked, came: Sequence[Came], told: list[str], missing: list[str]
) -> tuple[dict[str, PhotoUse], bool]:
    if judged.design is None or judged.line is None:
        return {}, False
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


def _step(name: str, judged: Judged, missing: Sequence[str], original: bool) -> str:
    if judged.line is None:
        return f"ask what is missing, write it into orders/{name}/order.yaml: proofgen check {name}"
    if original or any(one.startswith("the photo") for one in missing):
        return f"proofgen take PHOTO --for {name}"
    return f"proofgen check {name}"
