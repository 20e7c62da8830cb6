"""What one proof shows, prepared: pictures as bytes, words as text, money as amounts."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, fields, is_dataclass, replace
from datetime import date
from decimal import Decimal
from functools import partial

from PIL import Image

from proofgen.proof.customer_findings import CustomerFinding
from proofgen.signoff import AnswerKind
from proofgen.views.hand.turntable import Turntable
from proofgen.views.pictures import jpeg, webp
from proofgen.views.solid.made import Model

_QUALITY = 79


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A picture ready to publish. `name` is a stem of a-z, 0-9 and hyphens, ours and unique in the
    proof; `caption` is a few plain words under it; `large` is the same with more pixels."""

    name: str
    data: bytes = field(repr=False)
    media_type: str  # image/jpeg, image/png or image/webp
    width_px: int
    height_px: int
    alt: str
    caption: str = ""
    src: str = ""  # where the page finds it; known once it is published
    large: Picture | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """A flat drawing with its overlays. The SVG names its picture by `picture.name` as href.
    `narrow_svg` is the same with larger words, for phones; without it there is one for all."""

    label: str
    svg: str
    picture: Picture | None = None
    narrow_svg: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Word:
    """One text to read: the pieces that carry it, what it is ('Name'), and the text itself.
    `slot_id` and `line` say where it stands in the order; `before` is how it read in the edition
    before, '' where it is new or the same; `missing` are the letters its typeface lacks, which are
    not printed, and `boxed` whether an empty box is, in their place."""

    pieces: tuple[int, ...]
    slot: str
    text: str
    slot_id: str = ""
    line: int = 1
    before: str = ""
    missing: str = ""
    boxed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class RealSize:
    """A part of the raster and its finished size in mm."""

    picture: Picture
    width_mm: float
    height_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Pair:
    """The same face as ink on white and as ink on the cloth; white cloth has no second one.
    `side` names the face; `shape` is 'round' where the cut edge is a circle, so that nothing beyond
    it is shown."""

    side: str
    white: Picture
    cloth: Picture | None
    cloth_name: str
    says: tuple[str, ...] = ()  # what the cloth does to the main colours, in plain sentences
    shape: str = ""
    printed: bool = False  # `cloth` is seen through the printer's profile
    reach: Picture | None = None  # the colours hatched that the shop's printer cannot reach


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One piece of a list, or several alike: their numbers as the press keeps them, and as people
    read them ('12', '3 to 5'), their faces as held, how they are set unlike the others ('' where
    they are not), and which pieces look the same ('' where none do)."""

    pieces: tuple[int, ...]
    numbers: str
    faces: tuple[Picture, ...]
    differs: str = ""
    also: str = ""

    @property
    def count(self) -> int:
        return len(self.pieces)


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """One line of the order as it is shown: a design on a blank."""

    title: str  # 'Harbour photo on standard can wrap, sky'
    pieces: tuple[int, ...]
    views: tuple[Picture, ...]  # in the round, front first
    turntable: Turntable | None = None  # of what turns
    every: tuple[Piece, ...] = ()  # where pieces differ: all of them, the unusual first
    every_says: str = ""  # of all of them together
    drawings: tuple[Drawing, ...] = ()
    pairs: tuple[Pair, ...] = ()  # one for each face that carries something
    real_sizes: tuple[RealSize, ...] = ()  # likewise
    model: Model | None = None  # of its first look; None where none can be made, or is wanted
    sharpness: str = ""  # 'Your photo has 231 pixels … for every printed inch: enough …'


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceLine:
    """One line of the bill; no prices where the design names none."""

    design: str
    blank: str
    cloth: str
    quantity: int
    unit_price: Decimal | None = None
    total: Decimal | None = None
    discount: Decimal | None = None  # already off the total
    note: str = ""

    @property
    def goods(self) -> Decimal | None:
        """What its pieces come to before the discount."""
        return None if self.total is None else self.total + (self.discount or 0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ordered:
    """What the customer's slip asked for, and when: `words` are what each place is called and what
    was typed for it, one text for all pieces or one for each."""

    day: date
    design: str
    blank: str
    cloth: str
    quantity: int
    words: tuple[tuple[str, tuple[str, ...]], ...]
    note: str = ""

    @property
    def texts(self) -> int:
        """How many there are to read."""
        return sum(len(texts) for _, texts in self.words)


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """What differs from the edition seen before: a sentence, how it looked then and looks now."""

    says: str
    before: Picture | None = None
    after: Picture | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ProofContent:
    """Everything on one proof. `key_hex` is the edition's key; `codes` has one per answer."""

    shop_name: str
    contact: str
    order: str
    customer: str
    edition: int
    made: date
    answer_by: date
    due: date | None
    works: tuple[Work, ...]
    words: tuple[Word, ...]
    bill: tuple[PriceLine, ...]
    total: Decimal | None
    findings: tuple[CustomerFinding, ...]
    before: int  # the number of the edition that `changes` are since; 0 where there is none
    changes: tuple[Change, ...]
    fingerprint: str
    key_hex: str = field(repr=False)
    codes: Mapping[AnswerKind, str] = field(repr=False)
    slip_words: Mapping[str, str]  # signoff.words_in: page and tool write the same slip
    in_time: bool = True  # an answer by its last day leaves the days that making takes
    signed: tuple[str, ...] = ()  # what a “Yes” is given for, as its mail says it
    discount: Decimal | None = None  # what it takes off the pieces
    postage: Decimal | None = None
    paid: Decimal | None = None  # when the proof was made
    bill_note: str = ""  # the shop's own words under the bill
    paying: str = ""  # the shop's own Markdown on how it is paid and sent
    link: str = ""
    telephone: str = ""  # where a code can be read out; '' where nobody answers
    keep_days: int | None = None  # how long photos are kept after hand-over; None: not told
    asks_print: bool = True  # the order does not tell whether the pictures may be used
    asks_show: bool = True  # nor whether the work may be shown to others
    shown_to_nobody: bool = False  # the order says that the work is not to be shown to others
    shown_to_others: bool = False  # the order says that it may be
    ordered: Ordered | None = None  # where the order was taken from a slip
    house_words: str = ""  # the shop's own Markdown about privacy and the order
    demo: bool = False
    stands_at: date | None = None  # the day of a demonstration, which does not pass

    @property
    def quantity(self) -> int:
        return sum(line.quantity for line in self.bill)

    @property
    def rest(self) -> Decimal:
        """What is still to pay."""
        return max((self.total or Decimal(0)) - (self.paid or Decimal(0)), Decimal(0))

    @property
    def has_photos(self) -> bool:
        return any(work.sharpness for work in self.works)

    @property
    def contact_is_mail(self) -> bool:
        return "@" in self.contact

    @property
    def pictures(self) -> list[Picture]:
        """Every picture once, in reading order. ValueError when two share a name."""
        named: dict[str, Picture] = {}
        for it in _pictures(self):
            if named.setdefault(it.name, it) is not it:
                raise ValueError(f"two pictures are called {it.name}")
        return list(named.values())

    def published(self, places: Mapping[str, str]) -> ProofContent:
        """The same with every picture's `src` set from `places` (name to where it is found)."""
        made = _each(self, partial(_placed, places))
        assert isinstance(made, ProofContent)
        return made


def _pictures(value: object) -> Iterator[Picture]:
    if isinstance(value, Picture):
        yield value
        yield from _pictures(value.large)
    elif isinstance(value, tuple):
        for part in value:
            yield from _pictures(part)
    elif is_dataclass(value) and not isinstance(value, type):
        for one in fields(value):
            yield from _pictures(getattr(value, one.name))


def _placed(places: Mapping[str, str], value: Picture) -> Picture:
    large = value.large
    if large:
        large = replace(large, src=places[large.name]) if large.name in places else None
    return replace(value, src=places[value.name], large=large)


def _each(value: object, change: Callable[[Picture], Picture]) -> object:
    """The same with every picture changed."""
    if isinstance(value, Picture):
        return change(value)
    if isinstance(value, tuple):
        return tuple(_each(part, change) for part in value)
    if is_dataclass(value) and not isinstance(value, type) and next(_pictures(value), None):
        changed = {f.name: _each(getattr(value, f.name), change) for f in fields(value)}
        return replace(value, **changed)
    return value


def without_bytes(content: ProofContent) -> ProofContent:
    """The same without what its pictures and models hold: all that a letter needs."""
    content = replace(content, works=tuple(replace(one, model=None) for one in content.works))
    made = _each(content, lambda it: replace(it, data=b"", large=None))
    assert isinstance(made, ProofContent)
    return made


def picture(
    name: str,
    image: Image.Image,
    alt: str,
    caption: str = "",
    *,
    quality: int = _QUALITY,
    fine: bool = True,
) -> Picture:
    """A Picture from pixels that holds nothing else: a `fine` one, by which colours and letters are
    signed, as a JPEG that keeps the colours of small letters (4:4:4); else a slim WebP."""
    return Picture(
        name=name,
        data=jpeg(image, quality, fine=True) if fine else webp(image, quality),
        media_type="image/jpeg" if fine else "image/webp",
        width_px=image.width,
        height_px=image.height,
        alt=alt,
        caption=caption,
    )
