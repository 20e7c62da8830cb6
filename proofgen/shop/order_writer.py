"""What the tool writes into a shop folder: new orders, and a new shop.

A folder is made whole beside its place under a hidden name and appears by one rename.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from proofgen import store
from proofgen.errors import READ_CURE, ShopError, ShopFaults, UsageError
from proofgen.model import NOBODY, Customer, Line, Order, PhotoUse, Rights, Shop
from proofgen.model.photo import FORMAT_ENDINGS
from proofgen.say import file_name, number, quoted
from proofgen.shop.focus_writer import ANEW, as_focus
from proofgen.shop.nodes import Source
from proofgen.shop.order_reader import Known, read_order
from proofgen.shop.yaml_text import as_yaml, flow_map

_MOST_PHOTO = 500 * 1024 * 1024
_ENDINGS = frozenset(ending for endings in FORMAT_ENDINGS.values() for ending in endings)
# Words that YAML takes for a text without quotes, in braces too.
_PLAIN = re.compile(r"[^\W\d][\w./-]*", re.ASCII)
_NO_TEXT = frozenset(("yes", "no", "on", "off", "true", "false", "null", "y", "n"))

BILL = ("postage", "discount", "note", "paid")


@dataclass(frozen=True, slots=True, kw_only=True)
class LineDraft:
    """One line of a new order; photos and list are copied. Without a quantity the list's rows
    count."""

    design: str
    blank: str
    cloth: str
    quantity: int | None = None
    photos: Mapping[str, PhotoUse] = field(default_factory=dict)
    words: Mapping[str, str] = field(default_factory=dict)
    list_file: Path | None = None
    listed: Mapping[str, Sequence[str]] = field(default_factory=dict)  # by slot, one a piece
    price: str = ""  # as it is written; '' for the design's


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderDraft:
    """A new order. `name` is what its folder should be called; else the customer's name serves."""

    customer: Customer
    lines: tuple[LineDraft, ...]
    due: date | None = None
    name: str = ""
    rights: Rights = field(default_factory=Rights)
    draft: bool = False  # still being taken: `build` leaves it alone
    bill: Mapping[str, str] = field(default_factory=dict)  # of BILL, as they are written
    beside: Mapping[str, str] = field(default_factory=dict)  # more files of its folder, by name
    photos: Sequence[Path] = ()  # copied too; nobody knows yet what for
    remarks: Sequence[str] = ()  # at the end of order.yaml, a line each; no reader sees them


def free_name(wish: str, taken: Iterable[str]) -> str:
    """The wish, or the wish with the first number that nobody has, whatever the capitals."""
    used = {unicodedata.normalize("NFC", name).casefold() for name in taken}
    name, count = wish, 1
    while name.casefold() in used:
        count += 1
        name = f"{wish}-{count}"
    return name


# Orders


def write_order(shop: Shop, draft: OrderDraft) -> Path:
    """Write a new order's folder, photos and list copied into it; the folder's path.

    The order is read back before its folder appears. Errors: ShopFaults when it could not be
    read (unknown design, blank, cloth, slot…), UsageError when a file to copy is not there.
    """
    home = shop.folder / "orders"
    taken = [p.name for part in ("orders", "records") for p in _children(shop.folder / part)]
    target = home / free_name(file_name(draft.name or draft.customer.name or "stall"), taken)
    with store.appearing(target, durable=True, private=True) as side:
        copies = _Copies(side)
        text = "\n".join(_order_lines(draft, copies)) + "\n"
        store.write(side / "order.yaml", text, durable=True)
        for photo in draft.photos:
            copies.photo(photo)
        for name, content in draft.beside.items():
            store.write(side / name, content, durable=True)
        _read_back(shop, side, draft)
    return target


def _children(folder: Path) -> list[Path]:
    return list(folder.iterdir()) if folder.is_dir() else []


def _read_back(shop: Shop, side: Path, draft: OrderDraft) -> Order:
    source = Source("order.yaml")
    known = Known(designs=shop.designs, blanks=shop.blanks)
    order: Order | None = None
    try:
        order = read_order(side, source, known, side)
    except ShopError as error:
        source.faults.append(error)
    if order is None or source.faults:
        # The folder will not exist, so the faults have no place to point to.
        raise ShopFaults([ShopError(f.problem, f.cure) for f in source.faults])
    for line, wanted in zip(order.lines, draft.lines, strict=True):
        words = {_nfc(slot): _nfc(text) for slot, text in wanted.words.items()}
        if dict(line.words) != words:
            raise ShopError(
                "the words would not read back as they were given",
                "leave the words out and write them into the order’s file yourself; and tell the "
                "makers of proofgen, whose fault it is",
            )
    return order


def _nfc(text: str) -> str:
    return unicodedata.normalize("NFC", text)


@dataclass(slots=True)
class _Copies:
    """Files copied into a new order, each once, under safe names."""

    side: Path
    done: dict[Path, str] = field(default_factory=dict)

    def photo(self, source: Path) -> str:
        ending = source.suffix.lower()
        ending = ending if ending in _ENDINGS else ""
        return self._copy(source, "photos/", file_name(source.stem, "photo"), ending)

    def guests(self, source: Path) -> str:
        return self._copy(source, "", "guests", ".csv")

    def listed(self, columns: Mapping[str, Sequence[str]]) -> str:
        """A list of our own, as spreadsheets read it (RFC 4180); its name in the order."""
        rows = [list(columns), *zip(*columns.values(), strict=True)]
        text = "".join(",".join(map(_cell, row)) + "\r\n" for row in rows)
        name = f"{free_name('guests', (Path(n).stem for n in self.done.values()))}.csv"
        self.done[Path(name)] = name
        store.write(self.side / name, text, durable=True)
        return name

    def _copy(self, source: Path, part: str, stem: str, ending: str) -> str:
        key = source.absolute()
        if key not in self.done:
            taken = (Path(name).stem for name in self.done.values())
            name = f"{part}{free_name(stem, taken)}{ending}"
            store.write(self.side / name, _bytes(source), durable=True)
            self.done[key] = name
        return self.done[key]


def _cell(text: str) -> str:
    return '"' + _nfc(text).replace('"', '""') + '"'


def _bytes(source: Path) -> bytes:
    if not source.is_file():
        raise UsageError(f"there is no file {quoted(source.name)}", "check its name and folder")
    try:
        if source.stat().st_size > _MOST_PHOTO:
            raise UsageError(
                f"{quoted(source.name)} is larger than {_MOST_PHOTO // 1024**2} MB",
                "ask for the photo as the phone or camera made it",
            )
        return source.read_bytes()
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise UsageError(f"{quoted(source.name)} cannot be read ({reason})", READ_CURE) from error


def _order_lines(draft: OrderDraft, copies: _Copies) -> Iterator[str]:
    customer = draft.customer
    yield "customer:" if customer.name else f"customer: {NOBODY}"
    if customer.name:
        yield f"  name: {as_yaml(customer.name)}"
    for key, text in (("email", customer.email), ("language", customer.language)):
        if text:
            yield f"  {key}: {as_yaml(text)}"
    if draft.due:
        yield f"due: {draft.due.isoformat()}"
    said = (("print", draft.rights.print), ("show", draft.rights.show))
    if rights := [(key, "yes" if value else "no") for key, value in said if value is not None]:
        yield f"rights: {flow_map(rights)}"
    for key in BILL:
        if draft.bill.get(key):
            yield f"{key}: {as_yaml(draft.bill[key])}"
    if draft.draft:
        yield "draft: yes"
    if draft.lines:
        yield "lines:"
    yield from _line_lines(draft, copies)
    for remark in draft.remarks:
        yield f"# {remark}"


def _line_lines(draft: OrderDraft, copies: _Copies) -> Iterator[str]:
    for line in draft.lines:
        yield f"  - design: {as_yaml(line.design)}"
        yield f"    blank: {as_yaml(line.blank)}"
        yield f"    cloth: {as_yaml(line.cloth)}"
        if line.quantity is not None:
            yield f"    quantity: {line.quantity}"
        if line.price:
            yield f"    price: {as_yaml(line.price)}"
        if line.photos:
            yield "    photos:"
        for slot, photo in line.photos.items():
            yield f"      {as_yaml(slot)}: {photo_entry(copies.photo(photo.file), photo)}"
        if line.words:
            yield "    words:"
        for slot, words in line.words.items():
            yield f"      {as_yaml(_nfc(slot))}: {as_yaml(_nfc(words))}"
        if line.list_file:
            yield f"    list: {as_yaml(copies.guests(line.list_file))}"
        elif line.listed:
            yield f"    list: {as_yaml(copies.listed(line.listed))}"


def photo_entry(file: str, photo: PhotoUse) -> str:
    """What an order says of a photo, `file` as seen from its folder: YAML in one line."""
    return _photo_entry(as_yaml(file), photo)


def _photo_entry(file: str, photo: PhotoUse) -> str:
    parts = [("file", file)]
    if photo.focus:
        parts.append(("focus", as_focus(photo.focus)))
    elif photo.anew:
        parts.append(("focus", ANEW))
    if photo.zoom != 1.0:
        parts.append(("zoom", number(photo.zoom, 4)))
    if photo.turn:
        parts.append(("turn", str(photo.turn)))
    if photo.size_mm:
        sides = [f"{number(side, 3)} mm" for side in photo.size_mm if side is not None]
        parts.append(("size", sides[0] if len(sides) == 1 else f"[{', '.join(sides)}]"))
    return flow_map(parts)


def photo_line(line: Line, slot: str, use: PhotoUse) -> str:
    """How a line of an order must read for `slot` to hold a photo used in this way: the one that
    names the photo, or the whole map of photos where it stands in one line."""
    in_one_line = line.lines.get("photos", 0) == use.place.line
    meant = line.photos if in_one_line else {}
    written = [
        (_by_hand(key), _photo_entry(_by_hand(_as_named(one)), one))
        for key, one in {**meant, slot: use}.items()
    ]
    return f"photos: {flow_map(written)}" if in_one_line else flow_map(written)[1:-1]


def _by_hand(text: str) -> str:
    """A name or a path as people write it: in quotes only where YAML needs them."""
    plain = _PLAIN.fullmatch(text) and text.lower() not in _NO_TEXT
    return text if plain else as_yaml(text)


def _as_named(use: PhotoUse) -> str:
    """A photo's file as seen from the folder of the order that names it."""
    home = f"/{Path(use.place.file).parent.as_posix()}/"
    path = use.file.as_posix()
    # From within the shop a path begins with the order's own folder.
    _, found, below = f"/{path}".rpartition(home)
    return below if found else path
