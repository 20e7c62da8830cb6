"""What the catalogue's pages are given: everything prepared, nothing left to work out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal

from proofgen.catalogue.fitting import Fitting
from proofgen.catalogue.order_form import OrderForm


@dataclass(frozen=True, slots=True, kw_only=True)
class Plate:
    """A picture of a design on a blank. `name` is its address below the site's root; `label` says
    which side it shows, `side` is its key in `say.parts.VIEWS`."""

    name: str
    content: bytes
    alt: str
    width_px: int
    height_px: int
    label: str = ""
    side: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """A design on one blank: what it costs and what a photo needs.

    `prices` are (from so many pieces, price of one), `cloths` (name, #rrggbb). `least_px` is the
    smallest photo with enough pixels there (width, height), None for designs without a photo.
    """

    blank: str
    blank_name: str
    construction: str
    finish: str
    size_mm: tuple[float, float]
    cloths: tuple[tuple[str, str], ...]
    prices: tuple[tuple[int, Decimal], ...]
    least_px: tuple[int, int] | None
    plates: tuple[Plate, ...]
    shape: str = "rectangle"

    def price_of(self, many: int) -> Decimal | None:
        """What one of so many costs; None below the least number."""
        return next(
            (price for start, price in sorted(self.prices, reverse=True) if start <= many), None
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One design of the season. `text` is the maker's Markdown, `ground` the number of the theme's
    ground that its pictures stand on, from 1; `fitting` is for a customer's own photo, None where
    it takes none."""

    id: str
    title: str
    text: str
    occasions: tuple[str, ...]
    photo_slots: tuple[str, ...]
    word_slots: tuple[str, ...]
    offers: tuple[Offer, ...]
    ground: int = 1
    fitting: Fitting | None = None
    form: OrderForm | None = None

    @property
    def plate(self) -> Plate:
        """The picture that stands for the design."""
        return self.offers[0].plates[0]

    @property
    def other_plate(self) -> Plate:
        """Another picture of it, where there is one: for a page that shows it twice."""
        return next((p for p in self.shown if p.name != self.plate.name), self.plate)

    @property
    def shown(self) -> list[Plate]:
        """The pictures its pages show: all sides on the first blank, the front on each other."""
        return [*self.offers[0].plates, *(offer.plates[0] for offer in self.offers[1:])]

    @property
    def single_price(self) -> Decimal:
        """What one costs, on the blank where it costs least."""
        return min(min(offer.prices)[1] for offer in self.offers)

    @property
    def least_price(self) -> Decimal:
        return min(price for offer in self.offers for _, price in offer.prices)

    @property
    def steps(self) -> list[int]:
        """The numbers of pieces from which a price of one of its offers begins."""
        return sorted({start for offer in self.offers for start, _ in offer.prices})


@dataclass(frozen=True, slots=True, kw_only=True)
class BlankCard:
    """Something that is printed on, as customers see it; finished mm.

    `drawing` is SVG, `plate` a picture of the thing. `print_mm` is the largest picture (of a
    sleeve: one side of it), `good_px` the photo that has enough pixels to cover all of that.
    `designs` are (id, title) of the season. Twins, which differ in nothing a customer cares for,
    share a card: `blanks` are the ids of all.
    """

    id: str
    blanks: tuple[str, ...]
    name: str
    construction: str
    drawing: str
    size_mm: tuple[float, float]
    print_mm: tuple[float, float]
    good_px: tuple[int, int]
    finish: str
    cloths: tuple[tuple[str, str], ...]  # name, #rrggbb
    designs: tuple[tuple[str, str], ...]
    plate: Plate | None = None
    vessel_mm: float | None = None
    gap_mm: float = 0.0
    base_mm: float = 0.0  # of each side under the can
    shape: str = "rectangle"


@dataclass(frozen=True, slots=True, kw_only=True)
class SeasonContent:
    """A season, ready to be set. `texts` are house texts by name, Markdown; `until` its last day
    and `order_by` the last day to order for it, both where it has one and that is not over;
    `answer_days` and `lead_days` what looking through a proof and making take; `scene` a picture of
    its first designs together, None where too few of them stand; `colour` its own, '#rrggbb', or
    the theme's.
    """

    shop_name: str
    contact: str
    demo: bool
    title: str
    sentence: str
    text: str
    entries: tuple[Entry, ...]
    texts: Mapping[str, str] = field(default_factory=dict)
    blanks: tuple[BlankCard, ...] = ()
    until: date | None = None
    order_by: date | None = None
    answer_days: int = 5
    lead_days: int = 10
    scene: Plate | None = None
    colour: str = ""
