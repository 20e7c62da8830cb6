"""orders/NAME/order.yaml: the customer, the lines, and every single piece with its words."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path
from typing import TypeVar

from proofgen.model import (
    NOBODY,
    Blank,
    Customer,
    Design,
    Discount,
    Focus,
    Line,
    Order,
    PhotoUse,
    Piece,
    Rights,
)
from proofgen.say import is_seen, quoted
from proofgen.shop.design_reader import known_slot, read_file, read_words, unknown
from proofgen.shop.focus_writer import ANEW, share_of_side
from proofgen.shop.getters import Record, as_record, in_turned_quotes, root
from proofgen.shop.list_reader import Row, read_list
from proofgen.shop.money import money, parse_priced
from proofgen.shop.nodes import ListNode, Node, Source, TextNode, read_text
from proofgen.shop.settings_reader import LANGUAGE, MAIL
from proofgen.shop.trees import Trees
from proofgen.shop.values import DAY, YES, Kind, length, plain_number, whole
from proofgen.units import parse_share

_QUANTITY = whole(least=1, most=5000)  # of one line
_MOST_OF_ALL = 10_000  # of one order
_MOST_LINES = 100
_ZOOM = plain_number(least=1.0, most=50.0)


def _parse_turn(text: str) -> int:
    turns = {str(degrees): degrees for degrees in (0, 90, 180, 270)}
    if text.strip() not in turns:
        raise ValueError(
            f"{quoted(text)} is no quarter turn; write by how many degrees to turn the photo "
            "clockwise: 90, 180 or 270"
        )
    return turns[text.strip()]


_TURN = Kind(_parse_turn, 0)


_SIDE = length(least=10.0, most=2000.0)  # of a printed photo, mm


def _parse_discount(text: str, currency: str) -> Discount:
    """An amount of money, or a share like 10 %. ValueError says what to write."""
    if not text.strip().endswith("%"):
        return Discount(amount=parse_priced(text, currency))
    share = parse_share(text)
    if not 0 <= share <= 1:
        raise ValueError(f"{quoted(text)} is no part of a price; write it like 10 %")
    return Discount(share=Decimal(str(share)))


def _discount(record: Record) -> Discount | None:
    kind = Kind(lambda text: _parse_discount(text, record.source.currency), Discount())
    return record.read("discount", kind) if record.filled("discount") else None


def _money(record: Record, key: str) -> Decimal | None:
    return record.read(key, money(record.source.currency)) if record.has(key) else None


T = TypeVar("T", Blank, Design)


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """What an order may name, and what is there but has faults of its own."""

    designs: Mapping[str, Design]
    blanks: Mapping[str, Blank]
    broken_designs: Collection[str] = field(default_factory=frozenset)
    broken_blanks: Collection[str] = field(default_factory=frozenset)
    trees: Trees = field(default_factory=Trees)


def read_order(folder: Path, source: Source, known: Known, shop_folder: Path) -> Order | None:
    """One order; None when it has a fault, which `source` then holds (a list's with its file)."""
    text = read_text(folder / "order.yaml", source.file)
    record = root(known.trees.read(text, source), source, "an order")
    customer = _customer(record)
    due = record.read("due", DAY) if record.has("due") else None
    draft = record.read("draft", YES, False)
    paid = _money(record, "paid")
    postage = _money(record, "postage")
    discount = _discount(record)
    note = record.text("note", "")
    rights = _rights(record)
    before = len(source.faults)
    nodes = record.items("lines", needed=not draft)  # what a draft asks for may not be known yet
    if record.has("lines") and not nodes and not draft and len(source.faults) == before:
        record.fault("lines", "the order has no line", "add one: - design: …")
    if len(nodes) > _MOST_LINES:
        record.fault("lines", f"the order has more than {_MOST_LINES} lines", "make two of it")
    lines: list[Line] = []
    first_piece = 1
    for number, node in enumerate(nodes[:_MOST_LINES], start=1):
        with as_record(node, record, "lines", f"entry {number} below lines:") as entry:
            if not entry.there:
                continue
            line = _LineReader(entry, number, folder, known, shop_folder).read(first_piece)
        first_piece += len(line.pieces)
        if first_piece > _MOST_OF_ALL + 1:
            record.fault(
                "lines", f"the order has more than {_MOST_OF_ALL} pieces", "make two of it"
            )
            break
        lines.append(line)
    record.finish()
    if source.faults:
        return None
    return Order(
        id=folder.name,
        customer=customer,
        lines=tuple(lines),
        due=due,
        rights=rights,
        folder=folder,
        place=source.place(None),
        keys=record.lines(),
        draft=draft,
        paid=paid,
        postage=postage,
        discount=discount,
        note=note,
    )


def _customer(order: Record) -> Customer:
    said = order.value("customer")
    if isinstance(said, TextNode) and said.text == NOBODY:
        return Customer(name="")
    with order.map("customer", "the customer", needed=True) as customer:
        name = customer.text("name")
        if not is_seen(name):
            customer.fault(
                "name",
                f"the customer’s name {quoted(name)} holds signs that nobody can see",
                "type the name anew instead of copying it",
            )
        return Customer(
            name=name,
            email=customer.read_filled("email", MAIL, ""),
            language=customer.read_filled("language", LANGUAGE, ""),
        )


def _rights(order: Record) -> Rights:
    with order.map("rights", "the rights") as rights:
        said = {key: rights.read(key, YES) for key in ("print", "show") if rights.filled(key)}
        return Rights(**said)


def _focus(photo: Record) -> Focus | None:
    node = photo.value("focus")
    if node is None or _is_anew(node):
        return None
    items = node.items if isinstance(node, ListNode) else ()
    try:
        x, y = (_share_of_side(item) for item in items)
    except ValueError:
        photo.fault(
            "focus",
            f"{photo.label('focus')} must be two shares of the upright photo",
            f"write how far from the left and from the top: [0.5, 0.4], or {ANEW}: one is chosen",
        )
        return None
    return x, y


def _printed(photo: Record) -> tuple[float, float | None] | None:
    """How wide and high a photo is printed, mm; None where it fills its slot."""
    node = photo.value("size")
    if node is None:
        return None
    if not isinstance(node, ListNode):
        return photo.read("size", _SIDE), None
    try:
        sides = [_SIDE.parse(one.text) for one in node.items if isinstance(one, TextNode)]
        problem = "" if len(sides) == len(node.items) == 2 else "it is no pair of lengths"
    except ValueError as error:
        problem = str(error).partition("; ")[0]
    if problem:
        photo.fault(
            "size",
            f"{photo.label('size')} must be how wide the photo is printed, or width and height: "
            f"{problem}",
            "write size: 80 mm, or size: [80 mm, 60 mm]; 10 mm is the least",
        )
        return None
    return sides[0], sides[1]


def _is_anew(node: Node | None) -> bool:
    return isinstance(node, TextNode) and node.text.strip() == ANEW


def _share_of_side(node: Node) -> float:
    if not isinstance(node, TextNode) or len(node.text) > 40:
        raise ValueError
    value = share_of_side(node.text)
    if not 0 <= value <= 1:
        raise ValueError
    return value


@dataclass(slots=True)
class _LineReader:
    """One line of one order; faults go to the record's source."""

    record: Record
    number: int
    folder: Path
    known: Known
    shop_folder: Path

    def read(self, first_piece: int) -> Line:
        record, known = self.record, self.known
        design = self._named("design", known.designs, known.broken_designs, "a design of this shop")
        blank = self._named("blank", known.blanks, known.broken_blanks, "a blank of this shop")
        cloth = self._cloth(blank)
        photos = self._photos(design)
        words = self._words(design)
        list_file, rows = self._list(design)
        default = len(rows) if list_file else None
        quantity = record.read("quantity", _QUANTITY, default)
        place = record.source.place(record.node.line)
        if list_file is None:
            rows = (Row({}, place),) * quantity
        pieces = tuple(
            Piece(
                number=first_piece + i,
                words={**words, **row.words} if row.words else words,
                more=row.more,
                place=row.place,
            )
            for i, row in enumerate(rows)
        )
        return Line(
            number=self.number,
            design=record.text("design", ""),
            blank=record.text("blank", ""),
            cloth=cloth,
            quantity=quantity,
            photos=photos,
            words=words,
            list_file=list_file,
            pieces=pieces,
            place=place,
            lines=record.lines(),
            price=_money(record, "price"),
            discount=_discount(record),
            note=record.text("note", ""),
        )

    def _named(
        self, key: str, known: Mapping[str, T], broken: Collection[str], what: str
    ) -> T | None:
        name = self.record.text(key)
        if not name or name in known:
            return known.get(name)
        if name in broken:
            self.record.fault(
                key,
                f"{key} {quoted(name)} has a fault of its own, so this order cannot be worked on",
                f"mend the {key} first",
            )
        elif (inside := in_turned_quotes(name)) in known:
            self.record.fault(
                key,
                f"{key} {quoted(name)} stands in turned quotation marks",
                f"write it without them: {inside}",
            )
        else:
            unknown(self.record, key, name, what, known)
        return None

    def _cloth(self, blank: Blank | None) -> str:
        shades = tuple(blank.cloth.colours) if blank else ()
        cloth = self.record.text("cloth", shades[0] if len(shades) == 1 else None, most=40)
        if cloth and blank and cloth not in shades:
            unknown(self.record, "cloth", cloth, f"a colour of {blank.id}", shades)
        return cloth

    def _photos(self, design: Design | None) -> dict[str, PhotoUse]:
        uses = {}
        home = f"orders/{self.folder.name}"
        with self.record.map("photos", "the photos") as photos:
            for slot in photos.names():
                if design:
                    known_slot(photos, slot, design, "photo")
                place = photos.source.place(photos.node.entries[slot].line)
                if isinstance(photos.value(slot), TextNode):
                    file = read_file(photos, slot, self.folder, home)
                    uses[slot] = PhotoUse(file=file, place=place)
                    continue
                with photos.map(slot, "a photo", needed=True) as photo:
                    if photo.there:
                        uses[slot] = PhotoUse(
                            file=read_file(photo, "file", self.folder, home),
                            focus=_focus(photo),
                            anew=_is_anew(photo.value("focus")),
                            zoom=photo.read("zoom", _ZOOM, 1.0),
                            turn=photo.read("turn", _TURN, 0),
                            size_mm=_printed(photo),
                            place=place,
                        )
        return uses

    def _words(self, design: Design | None) -> dict[str, str]:
        given = {}
        with self.record.map("words", "the words") as words:
            for key in words.names():
                given[key] = read_words(words, key)
                if design:
                    # Words the design has no place for may stay: another design may have one.
                    known_slot(words, key, design, "words", spare=True)
        return given

    def _list(self, design: Design | None) -> tuple[Path | None, tuple[Row, ...]]:
        record = self.record
        if not record.filled("list"):
            return None, ()
        before = len(record.source.faults)
        home = f"orders/{self.folder.name}"
        path = read_file(record, "list", self.folder, home, spare=True)
        if design is None or len(record.source.faults) > before:
            return path, ()
        # The list is a file of its own: its faults carry its name and its lines.
        listed = Source(path.relative_to(self.shop_folder).as_posix(), record.source.faults)
        return path, read_list(path, listed, design.slots("words"))
