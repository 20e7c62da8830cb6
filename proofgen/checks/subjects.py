"""What checks look at: the input of a run, narrowed to photos, words, lines or blanks."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Generic, TypeVar

from proofgen.checks.places import blank_where, digits, photo_where, words_where
from proofgen.checks.twins import Twins
from proofgen.geometry import Plan, Rect
from proofgen.model import (
    Blank,
    Design,
    Layout,
    Limits,
    Line,
    MeasureKey,
    Order,
    PhotoFacts,
    PhotoMeasures,
    Placed,
    PlacedArt,
    PlacedPattern,
    PlacedPhoto,
    PlacedWords,
    Shop,
    Variant,
    key_of,
)
from proofgen.store import NoStore, Store

P = TypeVar("P", bound=Placed)

NOT_LOOKED_AT = "The pixels of this photo were not looked at in this run."


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckInput:
    """One order worked out, before a pixel of it is made. `photos` is by str(path); `twins` are
    the photos of all orders; `store` keeps what a check had to look at pictures for; `measures` is
    what their pixels told beforehand."""

    shop: Shop
    order: Order
    variants: list[Variant]
    photos: Mapping[str, PhotoFacts]
    today: date
    twins: Twins
    store: Store = field(default_factory=NoStore)
    measures: Mapping[MeasureKey, PhotoMeasures] = field(default_factory=dict)

    @property
    def limits(self) -> Limits:
        """What the shop asks."""
        return self.shop.settings.limits


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """One thing to look at, and what a finding about it must carry.

    `pieces` are the pieces it stands for, `of_pieces` all those of its line.
    """

    where: str = ""
    line: int | None = None
    pieces: tuple[int, ...] = ()
    of_pieces: tuple[int, ...] = ()
    face: str | None = None
    slot: str = ""
    substance: str = ""  # a few digits of the photo's or text's digest

    @property
    def about(self) -> str:
        """Slot and substance: what an accepted finding is tied to."""
        return "-".join(part for part in (self.slot, self.substance) if part)


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderSubject(Subject):
    """The whole order."""

    given: CheckInput
    order: Order


@dataclass(frozen=True, slots=True, kw_only=True)
class LineSubject(Subject):
    """A line of the order; `design` and `blank` are None where the shop has none of that name."""

    given: CheckInput
    item: Line
    design: Design | None
    blank: Blank | None
    variants: tuple[Variant, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BlankSubject(Subject):
    """A blank that the order uses."""

    limits: Limits
    blank: Blank


@dataclass(frozen=True, slots=True, kw_only=True)
class FileSubject(Subject):
    """A photo file; `facts` None when nobody looked at it."""

    facts: PhotoFacts | None


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadableSubject(Subject):
    """A photo file that can be used."""

    limits: Limits
    facts: PhotoFacts


@dataclass(frozen=True, slots=True, kw_only=True)
class LayerSubject(Subject, Generic[P]):
    """A placed layer of a variant."""

    given: CheckInput
    layout: Layout
    placed: P

    @property
    def plan(self) -> Plan:
        return self.layout.plan


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredSubject(Subject):
    """A photo at the size it is printed, with what its pixels tell; None where nobody looked."""

    limits: Limits
    facts: PhotoFacts
    measures: PhotoMeasures | None
    width_mm: float
    height_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class InkSubject(LayerSubject[PlacedWords]):
    """Placed words with their ink."""

    ink: Rect


@dataclass(frozen=True, slots=True, kw_only=True)
class TextSubject(Subject):
    """What a slot of some pieces says, as the customer wrote it."""

    given: CheckInput
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class VariantSubject(Subject):
    """Pieces that look alike, with their layout."""

    given: CheckInput
    variant: Variant

    @property
    def layout(self) -> Layout:
        return self.variant.layout


def _line(given: CheckInput, number: int) -> Line:
    return next(line for line in given.order.lines if line.number == number)


def _all_pieces(given: CheckInput) -> dict[int, tuple[int, ...]]:
    """Line number to all its pieces; worked out once for a long list."""
    found: dict[int, list[int]] = {}
    for variant in given.variants:
        found.setdefault(variant.line, []).extend(variant.pieces)
    return {number: tuple(sorted(pieces)) for number, pieces in found.items()}


def whole_order(given: CheckInput) -> Iterator[OrderSubject]:
    """The order itself, once."""
    yield OrderSubject(where=str(given.order.place), given=given, order=given.order)


def lines(given: CheckInput) -> Iterator[LineSubject]:
    """Every line of the order."""
    for line in given.order.lines:
        yield LineSubject(
            where=str(line.place),
            line=line.number,
            given=given,
            item=line,
            design=given.shop.designs.get(line.design),
            blank=given.shop.blanks.get(line.blank),
            variants=tuple(v for v in given.variants if v.line == line.number),
        )


def blanks(given: CheckInput) -> Iterator[BlankSubject]:
    """Every blank the order uses, once; one that the shop lacks was told when it was read."""
    for name in dict.fromkeys(line.blank for line in given.order.lines):
        blank = given.shop.blanks.get(name)
        if blank is not None:
            yield BlankSubject(
                where=blank_where(blank), slot=blank.id, limits=given.limits, blank=blank
            )


def photo_files(given: CheckInput) -> Iterator[FileSubject]:
    """Every photo of every line, usable or not."""
    for line in given.order.lines:
        for slot, use in line.photos.items():
            facts = given.photos.get(str(use.file))
            yield FileSubject(
                where=photo_where(line, slot),
                line=line.number,
                slot=slot,
                substance=facts.sha256[:6] if facts else "",
                facts=facts,
            )


def readable_photos(given: CheckInput) -> Iterator[ReadableSubject]:
    """Every photo that can be used."""
    for subject in photo_files(given):
        if subject.facts is not None and subject.facts.usable:
            yield ReadableSubject(
                where=subject.where,
                line=subject.line,
                slot=subject.slot,
                substance=subject.substance,
                limits=given.limits,
                facts=subject.facts,
            )


def variants(given: CheckInput) -> Iterator[VariantSubject]:
    """Every group of pieces that look alike."""
    pieces = _all_pieces(given)
    for variant in given.variants:
        yield VariantSubject(
            where=str(_line(given, variant.line).place),
            line=variant.line,
            pieces=variant.pieces,
            of_pieces=pieces[variant.line],
            given=given,
            variant=variant,
        )


def _layer(
    given: CheckInput, variant: Variant, placed: P, line: Line, pieces: tuple[int, ...]
) -> LayerSubject[P]:
    slot = ""
    match placed:
        case PlacedPhoto():
            slot, substance = placed.slot, placed.sha256[:6]
            where = photo_where(line, slot)
        case PlacedWords():
            slot, substance = placed.slot, digits(placed.text)
            where = words_where(line, slot, variant.pieces, placed.place)
        case PlacedArt() | PlacedPattern():
            where, substance = str(placed.place), placed.picture.sha256[:6]
        case _:
            where, substance = str(placed.place), ""
    return LayerSubject(
        where=where,
        line=variant.line,
        pieces=variant.pieces,
        of_pieces=pieces,
        face=placed.face,
        slot=slot or placed.kind,
        substance=substance,
        given=given,
        layout=variant.layout,
        placed=placed,
    )


def _layers(given: CheckInput, kind: type[P]) -> Iterator[LayerSubject[P]]:
    pieces = _all_pieces(given)
    for variant in given.variants:
        line = _line(given, variant.line)
        for placed in variant.layout.layers:
            if isinstance(placed, kind):
                yield _layer(given, variant, placed, line, pieces[variant.line])


def layers(given: CheckInput) -> Iterator[LayerSubject[Placed]]:
    """Every placed layer of every variant."""
    pieces = _all_pieces(given)
    for variant in given.variants:
        line = _line(given, variant.line)
        for placed in variant.layout.layers:
            yield _layer(given, variant, placed, line, pieces[variant.line])


def placed_photos(given: CheckInput) -> Iterator[LayerSubject[PlacedPhoto]]:
    """Every placed photo that can be used."""
    for subject in _layers(given, PlacedPhoto):
        if subject.placed.photo is not None and subject.placed.photo.usable:
            yield subject


def measured_photos(given: CheckInput) -> Iterator[MeasuredSubject]:
    """Every placed photo that can be used, with its measures."""
    for subject in placed_photos(given):
        placed = subject.placed
        assert placed.photo is not None
        key = key_of(placed, given.shop.settings.printer.ppi)
        yield MeasuredSubject(
            where=subject.where,
            line=subject.line,
            pieces=subject.pieces,
            of_pieces=subject.of_pieces,
            face=subject.face,
            slot=subject.slot,
            substance=subject.substance,
            limits=given.limits,
            facts=placed.photo,
            measures=given.measures.get(key) if key else None,
            width_mm=placed.rect.width,
            height_mm=placed.rect.height,
        )


def measured_pictures(given: CheckInput) -> Iterator[MeasuredSubject]:
    """The same, for what a photo shows on whatever face it is."""
    for subject in measured_photos(given):
        yield replace(subject, face=None)


def placed_words(given: CheckInput) -> Iterator[LayerSubject[PlacedWords]]:
    """Every placed slot of words that says something."""
    for subject in _layers(given, PlacedWords):
        if subject.placed.text.strip():
            yield subject


def inked_words(given: CheckInput) -> Iterator[InkSubject]:
    """Words whose ink is known (words of which no letter can be drawn have none)."""
    for subject in placed_words(given):
        if subject.placed.ink is not None:
            yield InkSubject(
                where=subject.where,
                line=subject.line,
                pieces=subject.pieces,
                of_pieces=subject.of_pieces,
                face=subject.face,
                slot=subject.slot,
                substance=subject.substance,
                given=subject.given,
                layout=subject.layout,
                placed=subject.placed,
                ink=subject.placed.ink,
            )


def texts(given: CheckInput) -> Iterator[TextSubject]:
    """What every slot of every piece says, as written: before it is tidied to be set."""
    for line in given.order.lines:
        design = given.shop.designs.get(line.design)
        numbered = tuple(piece.number for piece in line.pieces)
        groups: dict[tuple[str, str], list[int]] = {}
        for piece in line.pieces:
            for slot, text in {**line.words, **piece.words}.items():
                if text and (design is None or slot in design.slots("words")):
                    groups.setdefault((slot, text), []).append(piece.number)
        for (slot, text), numbers in groups.items():
            yield TextSubject(
                where=words_where(line, slot, tuple(numbers)),
                line=line.number,
                pieces=tuple(numbers),
                of_pieces=numbered,
                slot=slot,
                substance=digits(text),
                given=given,
                text=text,
            )
