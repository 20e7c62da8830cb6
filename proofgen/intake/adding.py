"""A photo that came for an order that is there."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from proofgen import shop as shop_room
from proofgen.errors import READ_CURE, UsageError
from proofgen.intake.arrived import Arrived, arrived_as
from proofgen.intake.asked import Asked, TurnedAway
from proofgen.intake.beside import words_beside
from proofgen.intake.keeping import COMPARED, keep_also, keep_words
from proofgen.intake.photos import Came, looked_at, use_of
from proofgen.intake.taken import Taken
from proofgen.model import Order, PhotoUse
from proofgen.photo.kinds import kind_of
from proofgen.photo.opening import MAX_BYTES
from proofgen.say import joined, plural, quoted
from proofgen.shop import PhotoAt
from proofgen.signoff import read_facts
from proofgen.signoff.asked import ASKED, read_asked
from proofgen.signoff.blocks import has_mark
from proofgen.signoff.mail import Attached, looks_like_mail
from proofgen.signoff.order_slip import Tried, slips_in
from proofgen.workshop import Workshop


@dataclass(frozen=True, slots=True)
class Brought:
    """A photo, and the mail that it hung on."""

    photo: Attached
    mail: Arrived | None = None


def photo_from(path: Path) -> Brought:
    """A photo's file as it was given, or the one that hangs on a mail. Errors: UsageError."""
    try:
        if path.is_file() and path.stat().st_size <= MAX_BYTES:
            content = path.read_bytes()
            return _of_mail(path, content) or Brought(Attached(path.name, content))
    except OSError as error:
        raise UsageError(
            f"{quoted(path.name)} cannot be read ({(error.strerror or str(error)).lower()})",
            READ_CURE,
        ) from error
    if path.is_file():
        raise UsageError(
            f"{quoted(path.name)} is larger than {MAX_BYTES // 1_000_000} MB",
            "ask for the photo as the phone or camera made it",
        )
    raise UsageError(
        f"there is no file {quoted(path.name)}", "check the name, or drag the file here"
    )


def _of_mail(path: Path, content: bytes) -> Brought | None:
    if not looks_like_mail(content):
        return None
    mail = arrived_as(content)
    photos = [one for one in mail.attached if kind_of(one.content).picture]
    if len(photos) != 1:
        raise UsageError(
            f"{plural(len(photos), 'photo')} hang on {quoted(path.name)}",
            "save the one that is meant, then give that",
        )
    return Brought(photos[0], mail)


def add_photo(workshop: Workshop, name: str, brought: Brought, place: str = "") -> Taken:
    """Put a photo into the order's slot that waits for one, or that `place` names; what was
    written in its mail is kept beside the order. Errors: TurnedAway for a file that is no usable
    photo, or an order whose proof was said yes to; UsageError where it is not clear which slot is
    meant."""
    order = workshop.order(name)
    taken = _put(workshop, order, brought.photo, place)
    if brought.mail is None:
        return taken
    known = Asked(name=order.customer.name, mail=order.customer.email)
    words = words_beside(brought.mail, workshop.shop, known)
    new = keep_also(order.folder, brought.mail, words, workshop.today)
    if not any(map(has_mark, brought.mail.texts)) and keep_words(
        order.folder, brought.mail, workshop.today
    ):
        told = (*taken.told, COMPARED)
        taken = replace(taken, told=told, kept_in=f"orders/{name}/{ASKED}", adds=True, is_new=True)
    return replace(taken, remarks=tuple(new), kept_in=f"orders/{name}/{ASKED}") if new else taken


def _put(workshop: Workshop, order: Order, photo: Attached, place: str) -> Taken:
    name = order.id
    _refuse_promised(workshop, name)
    at = _slot(workshop, order, place)
    told: list[str] = []
    with looked_at(workshop, [photo], told) as came:
        if not came:
            raise TurnedAway(told[0], f"ask for another: proofgen letter {name} --photo")
        before = order.lines[at.line - 1].photos.get(at.slot)
        if before and _same(before.file, came[0]):
            return Taken(order=name, is_new=False, step=f"proofgen check {name}")
        use, original = _use(workshop, order, at, came[0], told)
        file = shop_room.write_photo(order, at, use)
    if before:
        told.append(
            f"the photo before, {before.file.name}, stays in the folder and is no longer used"
        )
    told.insert(0, f"the photo for “{at.slot}” is now {file}")
    return Taken(
        order=name,
        is_new=True,
        told=tuple(told),
        step=f"proofgen check {name}",
        asks=original,
        adds=True,
    )


def _refuse_promised(workshop: Workshop, name: str) -> None:
    facts = read_facts(workshop.records, name, workshop.today)
    if facts.said_yes or facts.rules.closed:
        raise TurnedAway(
            f"{name} keeps its photo: {facts.rules.stands}",
            "if the customer wants another, write it into order.yaml and make a new proof",
        )


def _slot(workshop: Workshop, order: Order, place: str) -> PhotoAt:
    """The one slot that is meant."""
    if not order.lines:
        raise UsageError(
            f"{order.id} does not say yet what is ordered, so no place for a photo is known",
            f"write it into orders/{order.id}/order.yaml first, as asked.txt beside it says",
        )
    every = [
        PhotoAt(line.number, slot)
        for line in order.lines
        for slot in workshop.shop.designs[line.design].slots("photo")
    ]
    named = [at for at in every if not place or at.slot == place]
    if not named:
        what = f"no place {quoted(place)} for a photo" if place else "no place for a photo"
        places = joined(dict.fromkeys(at.slot for at in every), "or")
        raise UsageError(
            f"{order.id} has {what}",
            f"proofgen take PLACE=PHOTO --for {order.id}, where PLACE is {places}"
            if every
            else "look which order it is for: `proofgen orders` lists them all",
        )
    open_ones = [at for at in named if at.slot not in order.lines[at.line - 1].photos]
    meant = open_ones or named
    if len(meant) > 1:
        places = joined(dict.fromkeys(at.slot for at in meant))
        raise UsageError(
            f"{order.id} has {plural(len(meant), 'place')} that this photo may be for: {places}",
            "say which: proofgen take PLACE=PHOTO --for ORDER; of one name in several lines, "
            "write it into order.yaml",
        )
    return meant[0]


def _same(file: Path, came: Came) -> bool:
    return file.is_file() and file.read_bytes() == came.facts.file.read_bytes()


def _use(
    workshop: Workshop, order: Order, at: PhotoAt, came: Came, told: list[str]
) -> tuple[PhotoUse, bool]:
    """With the crop of the photo that was tried on the page; or that stood in the slot before, and
    at its size."""
    before = order.lines[at.line - 1].photos.get(at.slot)
    use, original = _cut(workshop, order, at, came, told)
    if before is None or before.size_mm is None:
        return use, original
    told.append(
        "it is printed as large as the one before; to let it fill its place, take size: out of "
        "order.yaml"
    )
    return replace(use, size_mm=before.size_mm), original


def _cut(
    workshop: Workshop, order: Order, at: PhotoAt, came: Came, told: list[str]
) -> tuple[PhotoUse, bool]:
    before = order.lines[at.line - 1].photos.get(at.slot)
    if tried := _tried(order).get(at.slot):
        return use_of(came, tried, told)
    if before is None or before.focus is None:
        return PhotoUse(file=came.facts.file), False
    facts = workshop.materials.pictures.inspect(before.file, decode=False)
    if not facts.usable:
        return PhotoUse(file=came.facts.file), False
    like: Tried = {
        "name": before.file.name,
        "width": facts.width_px,
        "height": facts.height_px,
        "focus": [*before.focus],
        "zoom": before.zoom,
        "turn": before.turn,
    }
    return use_of(came, like, told)


def _tried(order: Order) -> Mapping[str, Tried]:
    """The photos that were tried on the page, of the slip that is kept beside the order."""
    if len(order.lines) != 1:
        return {}
    slips = [slip for slip in slips_in(read_asked(order.folder)) if slip]
    return next((s.get("photos", {}) for s in slips if s["design"] == order.lines[0].design), {})
