"""What the catalogue's pages are given: everything prepared, nothing left to work out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from typing import Literal, NamedTuple

from proofgen.catalogue.fitting import Fitting
from proofgen.catalogue.order_form import OrderForm


@dataclass(frozen=True, slots=True, kw_only=True)
class Scaled:
    """A picture in another size, and slimmer where its `name` ends so."""

    name: str
    content: bytes
    width_px: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Plate:
    """A picture of a design on a blank. `name` is its address below the site's root; `label` says
    which side it shows, `side` is its key in `say.parts.VIEWS`; `scaled` is it in other sizes, all
    of one kind: WebP, or JPEG where that saves nothing worth while. `content` is a JPEG: what paper
    and messengers show, and pages where nothing is slimmer."""

    name: str
    content: bytes
    alt: str
    width_px: int
    height_px: int
    label: str = ""
    side: str = ""
    scaled: tuple[Scaled, ...] = ()

    @property
    def is_slim(self) -> bool:
        """Whether pages show it as WebP alone, which browsers of 2020 and later take."""
        return bool(self.scaled) and self.scaled[0].name.endswith(".webp")

    @property
    def address(self) -> str:
        """Where a page finds it in the size it says of itself, or the next larger one."""
        if not self.is_slim:
            return self.name
        wide = [one for one in self.scaled if one.width_px >= self.width_px] or self.scaled[-1:]
        return min(wide, key=lambda one: one.width_px).name

    @property
    def files(self) -> dict[str, bytes]:
        """What pages show of it, in all sizes, by their addresses."""
        own = {} if self.is_slim else {self.name: self.content}
        return {**own, **{one.name: one.content for one in self.scaled}}


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """A design's model for a phone to set on the table: the names of both files are their addresses
    below the site's root, `size` says in words how large it is."""

    glb_name: str
    usdz_name: str
    glb: bytes = field(repr=False)
    usdz: bytes = field(repr=False)
    size: str

    @property
    def files(self) -> dict[str, bytes]:
        return {self.glb_name: self.glb, self.usdz_name: self.usdz}

    @property
    def megabytes(self) -> float:
        """What the GLB weighs, as a page says it."""
        return max(0.1, round(len(self.glb) / 1e6, 1))


class Piece(NamedTuple):
    """What a page says of a piece, whatever is printed on it; see Offer."""

    shape: str
    size_mm: tuple[float, float]
    base_mm: float
    cloths: tuple[tuple[str, str], ...]
    gone: frozenset[str]
    sold_out: bool
    least_px: tuple[int, int] | None


class Priced(NamedTuple):
    """What a piece costs: (from so many pieces, price of one)."""

    blank_name: str
    prices: tuple[tuple[int, Decimal], ...]

    def price_of(self, many: int) -> Decimal | None:
        """What one of so many costs; None below the least number."""
        return next(
            (price for start, price in sorted(self.prices, reverse=True) if start <= many), None
        )


class PriceList(NamedTuple):
    """What a design costs on each of its pieces, the same for many designs; `steps` are the numbers
    of pieces from which a price begins."""

    steps: tuple[int, ...]
    offers: tuple[Priced, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """A design on one blank: what it costs and what a photo needs.

    `prices` are (from so many pieces, price of one), `cloths` (name, #rrggbb). `least_px` is the
    smallest photo with enough pixels there (width, height), None for designs without a photo;
    `gone` names the cloths that are sold out.
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
    gone: frozenset[str] = frozenset()
    base_mm: float = 0.0  # of each side under the can

    @property
    def sold_out(self) -> bool:
        """Whether it is to be had in no cloth just now."""
        return bool(self.cloths) and all(name in self.gone for name, _ in self.cloths)

    @property
    def piece(self) -> Piece:
        """The same for many designs."""
        carried = (self.cloths, self.gone, self.sold_out)
        return Piece(self.shape, self.size_mm, self.base_mm, *carried, self.least_px)

    @property
    def single_price(self) -> Decimal:
        """What one costs; of one that is sold by several alone, what each of the fewest does."""
        return min(self.prices)[1]

    @property
    def least_price(self) -> Decimal:
        """What each of many costs."""
        return min(price for _, price in self.prices)

    @property
    def least_from(self) -> int:
        """From how many pieces on one costs that."""
        return min(start for start, price in self.prices if price == self.least_price)

    def price_of(self, many: int) -> Decimal | None:
        """What one of so many costs; None below the least number."""
        return self.priced.price_of(many)

    @property
    def priced(self) -> Priced:
        return Priced(self.blank_name, self.prices)


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One design of the season. `text` is the maker's Markdown, `ground` the number of the theme's
    ground that its pictures stand on, from 1; `fitting` is for a customer's own photo, None where
    it takes none; `model` is of what its first picture shows, None where none is made."""

    id: str
    title: str
    text: str
    occasions: tuple[str, ...]
    photo_slots: tuple[str, ...]
    word_slots: tuple[str, ...]
    offers: tuple[Offer, ...]
    ground: int = 1
    fitting: Fitting | None = None
    model: Standing | None = None
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
        return min(offer.single_price for offer in self.offers)

    def offer_of(self, plate: Plate) -> Offer:
        """The offer that a picture shows."""
        shown = (o for o in self.offers if any(plate.name == one.name for one in o.plates))
        return next(shown, self.offers[0])

    @property
    def sold_out(self) -> bool:
        return all(offer.sold_out for offer in self.offers)

    @property
    def steps(self) -> list[int]:
        """The numbers of pieces from which a price of one of its offers begins."""
        return sorted({start for offer in self.offers for start, _ in offer.prices})

    @property
    def price_list(self) -> PriceList:
        return PriceList(tuple(self.steps), tuple(offer.priced for offer in self.offers))


@dataclass(frozen=True, slots=True, kw_only=True)
class BlankCard:
    """Something that is printed on, as customers see it; finished mm.

    `drawing` is SVG, `plate` a picture of the thing. `print_mm` is the largest picture (of a
    sleeve: one side of it), `good_px` the photo that has enough pixels to cover all of that.
    `designs` are (id, title) of the season. Twins, which differ in nothing a customer cares for,
    share a card: `blanks` are the ids of all, `cloths` those of each finish.
    """

    id: str
    blanks: tuple[str, ...]
    name: str
    construction: str
    drawing: str
    size_mm: tuple[float, float]
    print_mm: tuple[float, float]
    good_px: tuple[int, int]
    cloths: tuple[tuple[str, tuple[tuple[str, str], ...]], ...]  # finish; name, #rrggbb
    designs: tuple[tuple[str, str], ...]
    plate: Plate | None = None
    vessel_mm: float | None = None
    gap_mm: float = 0.0
    base_mm: float = 0.0  # of each side under the can
    shape: str = "rectangle"


When = Literal["now", "soon", "past"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Issue:
    """A season by itself, whose address is for ever: one to come shows its words alone; `entries`
    are all its designs, `begins` and `ends` its days where it has them."""

    id: str
    title: str
    sentence: str
    text: str
    when: When
    begins: date | None = None
    ends: date | None = None
    entries: tuple[Entry, ...] = ()

    @property
    def address(self) -> str:
        return f"seasons/{self.id}.html"


@dataclass(frozen=True, slots=True, kw_only=True)
class DueDay:
    """A day that people want things by, its name ('' for the season's own last day), and the last
    day to order for it."""

    name: str
    day: date
    order_by: date


@dataclass(frozen=True, slots=True, kw_only=True)
class SeasonContent:
    """A season, ready to be set. `texts` are house texts by name, Markdown; `due` the days that can
    still be met; `answer_days` and `lead_days` what looking through a proof and making take, with
    what waits already; `scene` a picture of its first designs together, None where too few of them
    stand, `share` the same as messengers show it; `colour` its own, '#rrggbb', or the theme's.
    `site` is the address of the whole, '' where it is not known; `issues` all seasons with a page
    of their own, the shown one first; `currency` an ISO 4217 code.
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
    due: tuple[DueDay, ...] = ()
    answer_days: int = 5
    lead_days: int = 10
    scene: Plate | None = None
    share: Plate | None = None
    colour: str = ""
    site: str = ""
    currency: str = "EUR"
    today: date = date.min
    issues: tuple[Issue, ...] = ()

    @property
    def elsewhere(self) -> tuple[Entry, ...]:
        """The designs of other seasons that this one does not have, each once."""
        here = {entry.id for entry in self.entries}
        others = {e.id: e for issue in self.issues for e in issue.entries if e.id not in here}
        return tuple(others.values())
