"""A new order from options and questions."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from pathlib import Path

from proofgen import shop as shop_room
from proofgen.desk.choosing import blank_of, can_be_chosen, faulty_designs, one_of
from proofgen.desk.days import typed_day
from proofgen.desk.drafts import draft_of, drafted
from proofgen.desk.dragged import typed_path
from proofgen.desk.pictured import kind_at, to_be_a_picture
from proofgen.desk.questions import Ask, Asker, Lacking, Question, Refused, yes_or_no
from proofgen.desk.twins import twin_of
from proofgen.errors import ShopError, UsageError
from proofgen.model import NOBODY, Customer, Design, Line, Order, PhotoUse, Rights
from proofgen.say import near_names, visible
from proofgen.say.local import say_date
from proofgen.say.shell import for_shell
from proofgen.say.tongue import HOME, languages
from proofgen.shop.list_reader import read_list
from proofgen.shop.nodes import Source
from proofgen.shop.parsers import parse_date
from proofgen.units import parse_length
from proofgen.workshop import Workshop

_THEIR_MAIL = "The customer’s mail address? (Enter: none)"
_DUE = "Which day is it due? (Enter: none)"
_DUE_LIKE = "Which day is it due, as {}? (Enter: none)"
_SOON = timedelta(weeks=3)  # from today to the day that is shown as an example
_LIST = (
    "Has each piece its own words? A list (CSV, or a spreadsheet saved as CSV), or Enter if all "
    "are alike"
)
_MAY_PRINT = "May you print their pictures? (yes / no / Enter: the proof asks)"


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """What was given for a new order; None or empty where it was left out."""

    customer: str | None = None
    email: str | None = None
    language: str | None = None
    due: str | None = None
    design: str | None = None
    blank: str | None = None
    cloth: str | None = None
    quantity: int | None = None
    photos: Sequence[str] = ()
    sizes: Sequence[str] = ()  # how wide photos are printed
    words: Sequence[str] = ()
    list_file: Path | None = None
    name: str | None = None
    like: str | None = None
    price: str | None = None
    offer: str | None = None  # the price of one, where the design is not offered on the blank yet
    bill: Mapping[str, str] = field(default_factory=dict)  # postage, discount, note, paid
    may_print: str | None = None  # their pictures: yes or no
    rights: Rights = field(default_factory=Rights)  # what is known already

    @property
    def changes_a_line(self) -> bool:
        """Whether anything was given that belongs to a line."""
        named = (self.design, self.blank, self.cloth, self.list_file, self.price, self.offer)
        given = (self.quantity, *named)
        return bool(self.photos or self.sizes or self.words or any(v is not None for v in given))


def _text(asker: Asker, asks: str, option: str) -> str:
    """Words that must not be empty."""
    missing = UsageError(f"{asks.rstrip('?').lower()} is missing", f"add {option}")
    return asker.answer(Question(asks=asks, parse=str, enter=Refused(missing)))


def _slots(given: Sequence[str], slots: Sequence[str], option: str) -> dict[str, str]:
    """'slot=text' or, where the design has one slot, just the text."""
    texts: dict[str, str] = {}
    for item in given:
        slot, sign, text = item.partition("=")
        if sign and slot in slots:
            texts[slot] = text
        elif len(slots) == 1 and not texts and not (sign and near_names(slot, slots)):
            texts[slots[0]] = item
        else:
            unknown = f"this design has no place called “{slot}”"
            cure = f"it has none, so leave {option} out"
            if slots:
                cure = f"write {option} {for_shell(f'{slots[0]}={text if sign else item}')}"
                cure += f"; its places are: {', '.join(slots)}"
            asks = unknown if sign or not slots else "for which place?"
            raise UsageError(f"{option} {item}: {asks}", cure)
    return texts


def _due(asker: Asker, given: str | None, today: date) -> str:
    """The day it is due, as the files have it; '' for none. One that is over is asked for again."""
    like = (today + _SOON).isoformat()

    def parse(text: str) -> str:
        day = typed_day(text, like, today)
        if day < today:
            said = say_date(day, HOME, long=False)
            raise ValueError(f"{said} is over; write a day that is still to come, like {like}")
        return day.isoformat()

    return asker.for_later(_DUE, parse, given, first=_DUE_LIKE.format(like))


def _pieces(text: str) -> int:
    if text.isdecimal() and int(text) > 0:
        return int(text)
    raise Refused(
        UsageError(f"{text} is not a number of pieces", "write --quantity 1 or more"),
        f"“{text}” is not a number of pieces; write it like 6. ",
    )


def _count(asker: Asker, given: int | None, usual: int) -> int:
    """How many pieces; one where nobody says."""
    if given is None and (usual or asker.ask is None):
        return usual or 1
    question = Question(
        asks="How many pieces?",
        parse=_pieces,
        enter="",
        gave_up=UsageError("no number of pieces was given", "write it like 6"),
    )
    return asker.answer(question, None if given is None else str(given))


def _photos(
    asker: Asker, wish: Wish, design: Design, like: Mapping[str, PhotoUse], lacking: Lacking
) -> dict[str, PhotoUse]:
    given = _slots(wish.photos, design.slots("photo"), "--photo")
    sizes = _slots(wish.sizes, design.slots("photo"), "--size")
    photos = {}
    for slot in design.slots("photo"):
        if slot in like and slot not in given:
            photos[slot] = like[slot]
        else:
            try:
                file = _photo(asker, slot, design.label(slot), given.get(slot))
            except UsageError as error:
                lacking.note(error)
                continue
            photos[slot] = PhotoUse(file=file)
        if slot in sizes:
            photos[slot] = replace(photos[slot], size_mm=(_width(sizes[slot]), None))
    return photos


def _width(text: str) -> float:
    """How wide a photo is printed, mm."""
    try:
        return parse_length(text)
    except ValueError as error:
        problem = str(error).partition("; ")[0]
        raise UsageError(f"--size: {problem}", "write it like 80mm") from None


def _refuse_picture(path: Path) -> None:
    if path.is_file() and kind_at(path).picture:
        raise UsageError(
            f"“{visible(path.name)}” is a picture, not a list",
            "leave --list out; a picture is given with --photo",
        )


def _list(asker: Asker, slots: Sequence[str]) -> Path | None:
    """The list of a line whose pieces have words of their own, asked for; None: all are alike."""

    def parse(text: str) -> Path | None:
        path = typed_path(text)
        if not text:
            return None
        try:
            _refuse_picture(path)
        except UsageError as error:
            again = "That is a picture; press Enter, it is asked for next. "
            raise Refused(error, again) from None
        source = Source(path.name)
        try:
            read_list(path, source, slots)
        except ShopError as error:
            source.faults.append(error)
        for fault in source.faults[:1]:
            raise Refused(UsageError(fault.sentence()), f"{fault.sentence()}\n")
        return path

    return asker.answer(Question(asks=_LIST, parse=parse, enter=""))


def _photo(asker: Asker, slot: str, label: str, given: str | None) -> Path:
    """The file for a slot, given or asked for until there is one that is a picture."""

    def parse(text: str) -> Path:
        path = typed_path(text)
        if path.is_file():
            return to_be_a_picture(path)
        place, sign, file = text.partition("=")
        if sign and typed_path(file).is_file():
            problem = f"this design has no place for a photo called “{visible(place)}”"
            raise Refused(UsageError(problem, f"write --photo {slot}={file}"), f"{problem}. ")
        raise Refused(
            UsageError(
                f"there is no file “{visible(str(path))}” for “{slot}”",
                "check the name, or drag the file here",
            ),
            f"There is no file “{visible(str(path))}”; check its name, or drag it here. ",
        )

    missing = UsageError(
        f"which photo for “{label.lower()}” is missing", f"add --photo {slot}=FILE"
    )
    question = Question(asks=f"Which photo for “{label}”?", parse=parse, enter=Refused(missing))
    return asker.answer(question, given or None)


def _words(
    asker: Asker,
    wish: Wish,
    design: Design,
    like: Mapping[str, str],
    lacking: Lacking,
    *,
    listed: bool,
) -> dict[str, str]:
    slots = design.slots("words")
    words = {slot: text for slot, text in like.items() if slot in slots}
    words |= _slots(wish.words, slots, "--words")
    if listed:
        return words  # the list's columns fill the rest; the checks tell what stays empty
    for slot in slots:
        if slot not in words:
            asks = f"What words for “{design.label(slot)}”?"
            try:
                words[slot] = _text(asker, asks, f'--words {slot}="…"')
            except UsageError as error:
                said = f"the words for “{design.label(slot)}” are missing"
                lacking.note(UsageError(said, error.cure))
    return words


def _same(line: Line) -> shop_room.LineDraft:
    """A line of another order, as it is."""
    return shop_room.LineDraft(
        design=line.design,
        blank=line.blank,
        cloth=line.cloth,
        quantity=line.quantity,
        photos=line.photos,
        words=line.words,
        list_file=line.list_file,
    )


def _line(
    asker: Asker, workshop: Workshop, wish: Wish, like: Line | None
) -> tuple[shop_room.LineDraft, shop_room.Offer | None]:
    """One line from what was given, what is asked for, and what `like` has; what its design is
    offered on for its sake."""
    shop = workshop.shop
    named = one_of(
        asker,
        "design",
        sorted(shop.designs),
        wish.design,
        like.design if like else "",
        faulty_designs(shop),
    )
    design = shop.designs[named]
    blank, offer = blank_of(
        asker, shop, design, wish.blank, usual=like.blank if like else "", price=wish.offer
    )
    colours = list(shop.blanks[blank].cloth.colours)
    cloth = one_of(asker, "cloth", colours, wish.cloth, like.cloth if like else "")
    same = like is not None and like.design == named
    list_file = wish.list_file or (like.list_file if like and same else None)
    if list_file is not None and not list_file.is_file():
        raise UsageError(
            f"there is no file “{visible(str(list_file))}”", "check the name of the list"
        )
    if list_file is not None:
        _refuse_picture(list_file)
    quantity = wish.quantity
    if wish.list_file is None or quantity is not None:
        quantity = _count(asker, quantity, like.quantity if like else 0)
    words = design.slots("words")
    if asker.ask and words and like is None and list_file is None and (quantity or 0) > 1:
        list_file = _list(asker, words)
    before = (like.photos, like.words) if like else ({}, {})
    lacking = Lacking(asker)
    photos = _photos(asker, wish, design, before[0], lacking)
    said = _words(asker, wish, design, before[1], lacking, listed=list_file is not None)
    lacking.tell()
    line = shop_room.LineDraft(
        design=named,
        blank=blank,
        cloth=cloth,
        quantity=quantity,
        photos=photos,
        words=said,
        list_file=list_file,
        price=wish.price or "",
    )
    return line, offer


def _customer(asker: Asker, wish: Wish, like: Customer | None) -> Customer:
    """Who it is for. Another person never gets the mail address of the one before."""
    name = wish.customer or ((like.name or NOBODY) if like else "")
    if name == NOBODY:
        return Customer(name="")
    name = name or _text(asker, "The customer’s name?", "--customer")
    language = _language(wish.language)
    if like and like.name == name:
        return replace(like, email=wish.email or like.email, language=language or like.language)
    email = asker.for_later(_THEIR_MAIL, shop_room.parse_mail, wish.email)
    return Customer(name=name, email=email, language=language)


def _rights(asker: Asker, wish: Wish, known: Rights, *, pictured: bool) -> Rights:
    """What the customer allows with their pictures: given, known of an order before, or, where
    there are any and somebody is there, asked for."""
    print_too = known.print
    if wish.may_print is not None or (print_too is None and pictured):
        question = Question(
            asks=_MAY_PRINT, parse=lambda text: yes_or_no(text, "--rights-print"), enter=""
        )
        print_too = asker.answer(question, wish.may_print)
    return replace(known, print=print_too)


def _language(given: str | None) -> str:
    """The customer's language; '' for the shop's. UsageError for one that is not known."""
    if not given:
        return ""
    try:
        return shop_room.parse_language(given)
    except ValueError as error:
        problem, known = str(error).partition("; ")[0], ", ".join(languages())
        raise UsageError(problem, f"write --language with one of: {known}") from None


def new_order(workshop: Workshop, wish: Wish, ask: Ask | None) -> tuple[str, str]:
    """Write an order folder; its name, and that of an order which asks for the same ('': none).
    UsageError where something is missing or unknown."""
    can_be_chosen(workshop.shop, wish.design or "", wish.blank or "")
    with drafted(draft_of(workshop.workroom, "order"), ask) as asker:
        return _new_order(workshop, wish, asker)


def _new_order(workshop: Workshop, wish: Wish, asker: Asker) -> tuple[str, str]:
    like: Order | None = workshop.order(wish.like) if wish.like else None
    offer = None
    customer = _customer(asker, wish, like.customer if like else None)
    due = _due(asker, wish.due, workshop.today)
    if like is not None and len(like.lines) > 1:
        if wish.changes_a_line:
            raise UsageError(
                f"{like.id} has {len(like.lines)} lines, so it is not clear which one to change",
                "leave those options out, then change the new order.yaml",
            )
        lines = tuple(_same(line) for line in like.lines)
    else:
        line, offer = _line(asker, workshop, wish, like.lines[0] if like else None)
        lines = (line,)
    known = like.rights if like and like.customer.name == customer.name else wish.rights
    draft = shop_room.OrderDraft(
        name=wish.name or "",
        customer=customer,
        due=parse_date(due) if due else None,
        lines=lines,
        bill=wish.bill,
        rights=_rights(asker, wish, known, pictured=any(line.photos for line in lines)),
    )
    twin = twin_of(workshop.shop.orders.values(), draft)
    try:
        if offer:
            offer.write()
        return shop_room.write_order(workshop.shop, draft).name, twin
    except ShopError as error:  # nothing of the folder is wrong, but what was asked for
        raise UsageError(error.sentence()) from error
