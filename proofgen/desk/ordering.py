"""A new order from options and questions, and a new shop folder."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from proofgen import shop as shop_room
from proofgen.errors import Place, ShopError, UsageError
from proofgen.model import Customer, Design, Line, Order, PhotoUse
from proofgen.say import did_you_mean
from proofgen.shop.parsers import parse_date
from proofgen.workshop import NO_CONTACT, Workshop, known_theme

Ask = Callable[[str], str]
_PLAIN_NAME = "My press room"
TRIES = 5  # a person may mistype; a pipe that answers nonsense must not loop


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """What was given for a new order; None or empty where it was left out."""

    customer: str | None = None
    email: str | None = None
    due: str | None = None
    design: str | None = None
    blank: str | None = None
    cloth: str | None = None
    quantity: int | None = None
    photos: Sequence[str] = ()
    words: Sequence[str] = ()
    list_file: Path | None = None
    name: str | None = None
    like: str | None = None

    @property
    def changes_a_line(self) -> bool:
        """Whether anything was given that belongs to a line."""
        given = (self.design, self.blank, self.cloth, self.quantity, self.list_file)
        return bool(self.photos or self.words or any(v is not None for v in given))


def start(folder: Path, name: str, contact: str, theme: str, ask: Ask | None = None) -> list[Path]:
    """A new shop folder; the files made. Without a contact the shop cannot make proofs yet."""
    known_theme(theme)
    shop_room.free_for_shop(folder)  # nobody should answer questions for nothing
    if ask is not None:
        name = name or ask(f"What is your shop called? (Enter: {_PLAIN_NAME})")
        contact = contact or _mail(ask)
    return shop_room.start(folder, name or _PLAIN_NAME, contact or NO_CONTACT, theme)


def _mail(ask: Ask) -> str:
    """A mail address, asked for; empty when it is left for later."""
    why = ""
    for _ in range(TRIES):
        said = ask(
            f"{why}Which mail address should customers’ answers come to? (Enter: write it later)"
        )
        if not said:
            break
        try:
            return shop_room.parse_mail(said)
        except ValueError as error:
            why = f"{error}. "
    return ""


def _one_of(
    given: str | None, what: str, known: Sequence[str], ask: Ask | None, fallback: str = ""
) -> str:
    """A choice from `known`: given, asked for, the only one, or UsageError with a likely name."""
    listed = ", ".join(known)
    for _ in range(TRIES):
        if given is None and fallback in known:
            return fallback
        if given is None and len(known) == 1:
            return known[0]
        if given is None:
            if ask is None:
                raise UsageError(f"which {what}?", f"add --{what} with one of: {listed}")
            given = ask(f"Which {what}? ({listed})")
        if given in known:
            return given
        cure = did_you_mean(given, known, typed=True) or f"choose one of: {listed}"
        if ask is None:
            raise UsageError(f"there is no {what} “{given}” for this", cure)
        given, fallback = ask(f"There is no {what} “{given}”; {cure} Which {what}?"), ""
    raise UsageError(f"no {what} was chosen", f"choose one of: {listed}")


def _text(given: str | None, question: str, option: str, ask: Ask | None, fallback: str) -> str:
    if given:
        return given
    if fallback:
        return fallback
    if ask is None:
        raise UsageError(f"{question.rstrip('?').lower()} is missing", f"add {option}")
    for _ in range(TRIES):
        said = ask(question)
        if said:
            return said
    raise UsageError(f"{question.rstrip('?').lower()} is missing", f"add {option}")


def _slots(given: Sequence[str], slots: Sequence[str], option: str) -> dict[str, str]:
    """'slot=text' or, where the design has one slot, just the text."""
    found: dict[str, str] = {}
    for item in given:
        slot, sign, text = item.partition("=")
        if sign and slot in slots:
            found[slot] = text
        elif len(slots) == 1 and not found:
            found[slots[0]] = item
        else:
            raise UsageError(
                f"{option} {item}: this design has no place called “{slot}”",
                f"its places are: {', '.join(slots) or 'none'}; write {option} PLACE={text or '…'}",
            )
    return found


def read_day(text: str | None, like: str) -> date | None:
    """A day as it is typed, and as the files take it; None for nothing. UsageError that shows one
    `like` it."""
    if not text:
        return None
    try:
        return parse_date(text)
    except ValueError:
        raise UsageError(f"“{text}” is not a day", f"write it as {like}") from None


def _count(given: int | None, ask: Ask | None, fallback: int) -> int:
    if given is None and fallback:
        return fallback
    why = ""
    for _ in range(TRIES):
        if given is None:
            if ask is None:
                return 1
            said = ask(f"{why}How many pieces?")
            given = int(said) if said.isdecimal() else None
            why = f"“{said}” is not a number of pieces; write it like 6. "
        if given is not None and given > 0:
            return given
        if ask is None:
            break
        given = None
    raise UsageError(f"{given} is not a number of pieces", "write --quantity 1 or more")


def _photos(
    wish: Wish, design: Design, ask: Ask | None, like: Mapping[str, PhotoUse]
) -> dict[str, shop_room.PhotoDraft]:
    given = _slots(wish.photos, design.slots("photo"), "--photo")
    found = {}
    for slot in design.slots("photo"):
        if slot in like and slot not in given:
            use = like[slot]
            found[slot] = shop_room.PhotoDraft(source=use.file, focus=use.focus, zoom=use.zoom)
            continue
        found[slot] = shop_room.PhotoDraft(source=_photo(given.get(slot), slot, design, ask))
    return found


def _photo(said: str | None, slot: str, design: Design, ask: Ask | None) -> Path:
    """The file for a slot, given or asked for until there is one. UsageError without one."""
    question, why = f"Which photo for “{design.label(slot)}”?", ""
    for _ in range(TRIES):
        said = said or _text(None, f"{why}{question}", f"--photo {slot}=FILE", ask, "")
        path = Path(said.strip().strip("'\""))  # a file dragged into a terminal comes quoted
        if path.is_file():
            return path
        if ask is None:
            break
        why, said = f"There is no file “{path}”; check its name, or drag it here. ", None
    raise UsageError(
        f"there is no file “{path}” for “{slot}”", "check the name, or drag the file here"
    )


def _words(
    wish: Wish, design: Design, ask: Ask | None, like: Mapping[str, str], *, listed: bool
) -> dict[str, str]:
    slots = design.slots("words")
    found = {slot: text for slot, text in like.items() if slot in slots}
    found |= _slots(wish.words, slots, "--words")
    if listed:
        return found  # the list's columns fill the rest; the checks tell what stays empty
    for slot in slots:
        if slot not in found:
            found[slot] = _text(
                None, f"What words for “{design.label(slot)}”?", f'--words {slot}="…"', ask, ""
            )
    return found


def _has_designs(workshop: Workshop) -> None:
    if not workshop.shop.designs:
        raise ShopError(
            "this shop has no design yet",
            "write one in designs/NAME/design.md; `proofgen start` and `proofgen demo` make shops "
            "to copy one from",
            Place("designs"),
        )


def _same(line: Line) -> shop_room.LineDraft:
    """A line of another order, as it is."""
    return shop_room.LineDraft(
        design=line.design,
        blank=line.blank,
        cloth=line.cloth,
        quantity=line.quantity,
        photos={
            slot: shop_room.PhotoDraft(source=use.file, focus=use.focus, zoom=use.zoom)
            for slot, use in line.photos.items()
        },
        words=line.words,
        list_file=line.list_file,
    )


def _line(
    workshop: Workshop, wish: Wish, ask: Ask | None, like: Line | None
) -> shop_room.LineDraft:
    """One line from what was given, what is asked for, and what `like` has."""
    shop = workshop.shop
    design_name = _one_of(
        wish.design, "design", sorted(shop.designs), ask, like.design if like else ""
    )
    design = shop.designs[design_name]
    offered = [b for b in design.offered if b in shop.blanks]
    blank = _one_of(wish.blank, "blank", offered, ask, like.blank if like else "")
    colours = list(shop.blanks[blank].cloth.colours)
    cloth = _one_of(wish.cloth, "cloth", colours, ask, like.cloth if like else "")
    same = like is not None and like.design == design_name
    list_file = wish.list_file or (like.list_file if like and same else None)
    if list_file is not None and not list_file.is_file():
        raise UsageError(f"there is no file “{list_file}”", "check the name of the list")
    quantity = wish.quantity
    if wish.list_file is None or quantity is not None:
        quantity = _count(quantity, ask, like.quantity if like else 0)
    return shop_room.LineDraft(
        design=design_name,
        blank=blank,
        cloth=cloth,
        quantity=quantity,
        photos=_photos(wish, design, ask, like.photos if like else {}),
        words=_words(wish, design, ask, like.words if like else {}, listed=list_file is not None),
        list_file=list_file,
    )


def _customer(wish: Wish, ask: Ask | None, like: Customer | None) -> Customer:
    """Who it is for. Another person never gets the mail address of the one before."""
    name = _text(
        wish.customer, "The customer’s name?", "--customer", ask, like.name if like else ""
    )
    if like and like.name == name:
        return replace(like, email=wish.email or like.email)
    return Customer(name=name, email=wish.email or "")


def new_order(workshop: Workshop, wish: Wish, ask: Ask | None) -> str:
    """Write an order folder; its name. UsageError where something is missing or unknown."""
    _has_designs(workshop)
    like: Order | None = workshop.order(wish.like) if wish.like else None
    due = read_day(wish.due, "2026-12-12")
    customer = _customer(wish, ask, like.customer if like else None)
    if like is not None and len(like.lines) > 1:
        if wish.changes_a_line:
            raise UsageError(
                f"{like.id} has {len(like.lines)} lines, so it is not clear which one to change",
                "leave those options out, then change the new order.yaml",
            )
        lines = tuple(_same(line) for line in like.lines)
    else:
        lines = (_line(workshop, wish, ask, like.lines[0] if like else None),)
    draft = shop_room.OrderDraft(
        name=wish.name or "",
        customer=customer,
        due=due,
        lines=lines,
    )
    try:
        return shop_room.write_order(workshop.shop, draft).name
    except ShopError as error:  # nothing of the folder is wrong, but what was asked for
        raise UsageError(error.sentence()) from error
