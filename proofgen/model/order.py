"""What a customer wants: lines of designs on blanks, and the single pieces to press."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path
from typing import TypeAlias

from proofgen.errors import Place

Focus: TypeAlias = tuple[float, float]  # shares of the sides of an upright photo


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoUse:
    """A photo in a slot. `focus` None: the one that the order's proof shows, or a chosen one;
    `anew`: choose one, whatever a proof shows. `by_tool`: the tool chose it and wrote it into the
    order; `outdated`: the one it wrote there for another picture, which no longer counts.
    `size_mm`: how wide and how high it is printed where that is smaller than its slot; a height of
    None keeps the slot's shape."""

    file: Path
    focus: Focus | None = None
    anew: bool = False
    by_tool: bool = False
    outdated: Focus | None = None
    zoom: float = 1.0
    turn: int = 0  # degrees clockwise, of the upright photo, before all else
    size_mm: tuple[float, float | None] | None = None  # finished
    place: Place = Place("")


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One blank to press, numbered from 1 within its order, with its own words; `more` is what
    other columns of its list say, for the press alone."""

    number: int
    words: Mapping[str, str]
    more: Mapping[str, str] = field(default_factory=dict)
    place: Place = Place("")


_CENT = Decimal("0.01")


@dataclass(frozen=True, slots=True, kw_only=True)
class Discount:
    """What is taken off the pieces: an amount of money, or a `share` of their price (0.1 for
    10 %)."""

    amount: Decimal = Decimal(0)
    share: Decimal = Decimal(0)

    def of(self, goods: Decimal) -> Decimal:
        """What it takes off pieces of this price, in whole cents; never more than all of it."""
        wanted = self.amount + (goods * self.share).quantize(_CENT, ROUND_HALF_UP)
        return min(wanted, goods)


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One design on one blank. `pieces`: one per row of the list, else `quantity` of them."""

    number: int
    design: str
    blank: str
    cloth: str
    quantity: int
    photos: Mapping[str, PhotoUse] = field(default_factory=dict)
    words: Mapping[str, str] = field(default_factory=dict)
    list_file: Path | None = None
    pieces: tuple[Piece, ...] = ()
    place: Place = Place("")
    lines: Mapping[str, int] = field(default_factory=dict)
    price: Decimal | None = None  # of one piece, agreed on for this order; None: the design's
    discount: Discount | None = None  # of its own pieces, before the order’s
    note: str = ""  # beside it on the bill, for the customer

    def place_of(self, *keys: str) -> Place:
        """Where the first of `keys` that is there stands, or the line's head."""
        at = next((self.lines[key] for key in keys if key in self.lines), self.place.line)
        return Place(self.place.file, at)


# In the place of a customer, of an order that the shop makes for itself.
NOBODY = "none"


@dataclass(frozen=True, slots=True, kw_only=True)
class Customer:
    """Who ordered. Of the shop's own orders (samples, stall stock) nobody: `name` is empty."""

    name: str
    email: str = ""
    language: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rights:
    """What the customer allows with their pictures: to print them, to show the work to others.
    None: nobody said."""

    print: bool | None = None
    show: bool | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """One folder of orders/. `id` is the folder's name."""

    id: str
    customer: Customer
    lines: tuple[Line, ...]
    due: date | None = None
    rights: Rights = field(default_factory=Rights)
    folder: Path = Path()
    place: Place = Place("")
    keys: Mapping[str, int] = field(default_factory=dict)
    draft: bool = False  # still being taken: `build` leaves it alone
    paid: Decimal | None = None  # by the customer so far; None: nobody wrote it down
    postage: Decimal | None = None
    discount: Discount | None = None
    note: str = ""  # under the bill, for the customer

    @property
    def quantity(self) -> int:
        return sum(line.quantity for line in self.lines)

    @property
    def has_photos(self) -> bool:
        return any(line.photos for line in self.lines)

    @property
    def is_own(self) -> bool:
        """Whether the shop makes it for itself and signs it in person."""
        return not self.customer.name
