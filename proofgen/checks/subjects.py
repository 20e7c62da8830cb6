"""What checks look at: an order that is worked out, narrowed to lines, photos, words or blanks.

What a check looks at is drawn in pairs: the spot that its findings belong to, and the thing.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Generic, TypeVar

from proofgen.artwork.materials import Materials
from proofgen.checks.places import photo_where, words_where
from proofgen.checks.twins import Twins
from proofgen.geometry import Plan, Rect, Size
from proofgen.model import (
    AskedChange,
    Blank,
    Design,
    Layout,
    Limits,
    Line,
    MeasureKey,
    NoRoom,
    Order,
    PhotoFacts,
    PhotoMeasures,
    Placed,
    PlacedArt,
    PlacedPattern,
    PlacedPhoto,
    PlacedWords,
    Rights,
    Shop,
    Variant,
    about_of,
    key_of,
)
from proofgen.signoff.order_slip import OrderPayload
from proofgen.signoff.used import BlankCloth, InStock
from proofgen.store import digest

P = TypeVar("P", bound=Placed)


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckInput:
    """One order worked out, before a pixel of it is made. `photos` is by str(path); `twins` are
    the photos of all orders; `materials` open what a check has to look at; `measures` is what
    their pixels told beforehand."""

    shop: Shop
    order: Order
    variants: list[Variant]
    photos: Mapping[str, PhotoFacts]
    today: date
    twins: Twins
    materials: Materials
    rights: Rights = field(default_factory=Rights)  # from the order's file and the answers
    measures: Mapping[MeasureKey, PhotoMeasures] = field(default_factory=dict)
    no_room: Mapping[str, NoRoom] = field(default_factory=dict)  # by blank: why it is not pressed
    in_stock: Mapping[BlankCloth, InStock] = field(default_factory=dict)
    slip: OrderPayload | None = None  # that the order was taken from
    remarks: Sequence[str] = ()  # what the customer wrote beside the order’s fields
    written: Sequence[str] = ()  # mails and texts of the customer kept for an order that was there
    changes: Sequence[AskedChange] = ()  # that the customer's answers asked for, oldest first

    @property
    def limits(self) -> Limits:
        """What the shop asks."""
        return self.shop.settings.limits


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """Where a finding belongs. `pieces` are the pieces it stands for, `of_pieces` all those of its
    line."""

    where: str = ""
    line: int | None = None
    pieces: tuple[int, ...] = ()
    of_pieces: tuple[int, ...] = ()
    face: str | None = None
    slot: str = ""
    digest: str = ""  # of the photo's bytes or the text
    text: str = ""  # a customer's words

    @property
    def about(self) -> str:
        """What an accepted finding is tied to."""
        return about_of(self.slot, self.digest)


@dataclass(frozen=True, slots=True, kw_only=True)
class WholeOrder:
    """An order in its shop, with its photos (by str(path)) and those of all orders."""

    order: Order
    shop: Shop
    today: date
    photos: Mapping[str, PhotoFacts]
    twins: Twins
    rights: Rights
    in_stock: Mapping[BlankCloth, InStock]


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderedLine:
    """A line of the order; `design` and `blank` are None where the shop has none of that name."""

    line: Line
    design: Design | None
    blank: Blank | None
    variants: tuple[Variant, ...]
    materials: Materials


@dataclass(frozen=True, slots=True, kw_only=True)
class WrittenText:
    """What a slot of some pieces says, as the customer wrote it; the languages of the shop and of
    the customer; the customer's name; the names that the shop knows (None: it has no list); what
    the design's sample says there ('': nothing); how many other texts a list has there."""

    text: str
    languages: tuple[str, ...]
    customer: str
    names: frozenset[str] | None
    sample: str = ""
    others: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidVariant:
    """Pieces of a line that look alike, with their layout."""

    variant: Variant
    line: OrderedLine

    @property
    def layout(self) -> Layout:
        return self.variant.layout


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidLayer(Generic[P]):
    """A layer of a layout."""

    placed: P
    layout: Layout
    line: OrderedLine

    @property
    def plan(self) -> Plan:
        return self.layout.plan


@dataclass(frozen=True, slots=True, kw_only=True)
class InkedWords:
    """Words that are laid, and the part of them that carries ink."""

    laid: LaidLayer[PlacedWords]
    ink: Rect


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedPhoto:
    """A photo at the size (mm) and zoom it is printed. `ppi` is None where it was not laid out,
    `measures` where nobody looked at its pixels; `goes_round` is the plan of the blank that it
    reaches all the way round, whose width is not to be chosen; `covers` tells that it leaves
    nothing of its face bare, so that the piece shows it at this size or not at all; `line` and
    `slot` are where an order names it, None where no order does."""

    facts: PhotoFacts
    size: Size
    line: Line | None = None
    slot: str = ""
    zoom: float = 1.0
    ppi: float | None = None
    measures: PhotoMeasures | None = None
    goes_round: Plan | None = None
    covers: bool = False


def _text_digest(text: str) -> str:
    """SHA-256 of a customer's words, hex."""
    return digest(text.encode("utf-8", "surrogatepass"))


def whole_order(given: CheckInput) -> Iterator[tuple[Spot, WholeOrder]]:
    """The order itself, once."""
    yield (
        Spot(where=str(given.order.place)),
        WholeOrder(
            order=given.order,
            shop=given.shop,
            today=given.today,
            photos=given.photos,
            twins=given.twins,
            rights=given.rights,
            in_stock=given.in_stock,
        ),
    )


def lines(given: CheckInput) -> Iterator[tuple[Spot, OrderedLine]]:
    """Every line of the order."""
    for line in given.order.lines:
        yield (
            Spot(where=str(line.place), line=line.number),
            OrderedLine(
                line=line,
                design=given.shop.designs.get(line.design),
                blank=given.shop.blanks.get(line.blank),
                variants=tuple(v for v in given.variants if v.line == line.number),
                materials=given.materials,
            ),
        )


def blanks(given: CheckInput) -> Iterator[tuple[Spot, Blank]]:
    """Every blank the order uses, once; one that the shop lacks was told when it was read."""
    for name in dict.fromkeys(line.blank for line in given.order.lines):
        blank = given.shop.blanks.get(name)
        if blank is not None:
            yield Spot(where=str(blank.place), slot=blank.id), blank


def pressed_blanks(given: CheckInput) -> Iterator[tuple[Spot, NoRoom | None]]:
    """Every blank the order uses, once: what the shop lacks to press it."""
    for spot, blank in blanks(given):
        yield spot, given.no_room.get(blank.id)


def photo_files(given: CheckInput) -> Iterator[tuple[Spot, PhotoFacts | None]]:
    """Every photo of every line, usable or not; None for one that nobody looked at."""
    for line in given.order.lines:
        for slot, use in line.photos.items():
            facts = given.photos.get(str(use.file))
            spot = Spot(
                where=photo_where(line, slot),
                line=line.number,
                slot=slot,
                digest=facts.sha256 if facts else "",
            )
            yield spot, facts


def readable_photos(given: CheckInput) -> Iterator[tuple[Spot, PhotoFacts]]:
    """Every photo that can be used."""
    for spot, facts in photo_files(given):
        if facts is not None and facts.usable:
            yield spot, facts


def texts(given: CheckInput) -> Iterator[tuple[Spot, WrittenText]]:
    """What every slot of every piece says, as written: before it is tidied to be set."""
    tongues = (given.shop.settings.language, given.order.customer.language)
    languages = tuple(tag for tag in tongues if tag)
    for spot, ordered in lines(given):
        line, design = ordered.line, ordered.design
        groups: dict[tuple[str, str], list[int]] = {}
        for piece in line.pieces:
            for slot, text in {**line.words, **piece.words}.items():
                if text and (design is None or slot in design.slots("words")):
                    groups.setdefault((slot, text), []).append(piece.number)
        many = Counter(slot for slot, _ in groups)
        for (slot, text), numbers in groups.items():
            here = replace(
                spot,
                where=words_where(line, slot, tuple(numbers)),
                pieces=tuple(numbers),
                of_pieces=tuple(piece.number for piece in line.pieces),
                slot=slot,
                digest=_text_digest(text),
                text=text,
            )
            yield (
                here,
                WrittenText(
                    text=text,
                    languages=languages,
                    customer=given.order.customer.name,
                    names=given.shop.names,
                    sample=design.sample_words.get(slot, "") if design else "",
                    others=many[slot] - 1,
                ),
            )


def variants(given: CheckInput) -> Iterator[tuple[Spot, LaidVariant]]:
    """Every group of pieces that look alike."""
    for spot, line in lines(given):
        pieces = tuple(sorted(number for v in line.variants for number in v.pieces))
        for variant in line.variants:
            here = replace(spot, pieces=variant.pieces, of_pieces=pieces)
            yield here, LaidVariant(variant=variant, line=line)


def layers(given: CheckInput) -> Iterator[tuple[Spot, LaidLayer[Placed]]]:
    """Every placed layer of every variant."""
    for spot, laid in variants(given):
        for placed in laid.layout.layers:
            here = _spot_of(placed, spot, laid.line.line)
            yield here, LaidLayer(placed=placed, layout=laid.layout, line=laid.line)


def _spot_of(placed: Placed, spot: Spot, line: Line) -> Spot:
    """Where a finding about a layer belongs; `spot` is that of its pieces."""
    where, slot, content, text = str(placed.place), "", "", ""
    match placed:
        case PlacedPhoto():
            slot, content = placed.slot, placed.sha256
            where = photo_where(line, slot)
        case PlacedWords():
            slot, content, text = placed.slot, _text_digest(placed.text), placed.text
            where = words_where(line, slot, spot.pieces, placed.place)
        case PlacedArt() | PlacedPattern():
            content = placed.picture.sha256
    return replace(
        spot,
        where=where,
        face=placed.face,
        slot=slot or placed.kind,
        digest=content,
        text=text if slot else "",
    )


def placed_photos(given: CheckInput) -> Iterator[tuple[Spot, LaidLayer[PlacedPhoto]]]:
    """Every placed photo that can be used."""
    for spot, laid in _layers_of(given, PlacedPhoto):
        if laid.placed.photo is not None and laid.placed.photo.usable:
            yield spot, laid


def placed_words(given: CheckInput) -> Iterator[tuple[Spot, LaidLayer[PlacedWords]]]:
    """Every placed slot of words that says something."""
    for spot, laid in _layers_of(given, PlacedWords):
        if laid.placed.text.strip():
            yield spot, laid


def _layers_of(given: CheckInput, kind: type[P]) -> Iterator[tuple[Spot, LaidLayer[P]]]:
    for spot, laid in layers(given):
        if isinstance(laid.placed, kind):
            yield spot, LaidLayer(placed=laid.placed, layout=laid.layout, line=laid.line)


def printed_photos(given: CheckInput) -> Iterator[tuple[Spot, PrintedPhoto]]:
    """Every placed photo that can be used, at its size."""
    for spot, laid in placed_photos(given):
        placed = laid.placed
        assert placed.photo is not None
        key = key_of(placed, given.shop.settings.printer.ppi)
        canvas = laid.layout.plan.canvases[placed.face]
        yield (
            spot,
            PrintedPhoto(
                facts=placed.photo,
                size=Size(placed.rect.width, placed.rect.height),
                line=laid.line.line,
                slot=placed.slot,
                zoom=placed.zoom,
                ppi=placed.ppi,
                measures=given.measures.get(key) if key else None,
                goes_round=laid.layout.plan if canvas.goes_round(placed.rect) else None,
                covers=canvas.covered_by(placed.rect),
            ),
        )


def printed_pictures(given: CheckInput) -> Iterator[tuple[Spot, PrintedPhoto]]:
    """The same, for what a photo shows on whatever face it is."""
    for spot, photo in printed_photos(given):
        yield replace(spot, face=None), photo


def inked_words(given: CheckInput) -> Iterator[tuple[Spot, InkedWords]]:
    """Words whose ink is known (words of which no letter can be drawn have none)."""
    for spot, laid in placed_words(given):
        if laid.placed.ink is not None:
            yield spot, InkedWords(laid=laid, ink=laid.placed.ink)
