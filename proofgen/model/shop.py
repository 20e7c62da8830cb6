"""The shop: its settings, and everything its folder holds."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

from babel import localedata

from proofgen.errors import Place, ShopError
from proofgen.model.blank import Blank
from proofgen.model.design import Design
from proofgen.model.limits import Limits
from proofgen.model.order import Line, Order


@dataclass(frozen=True, slots=True, kw_only=True)
class Printer:
    """Press raster resolution, unprintable margin in mm, measured scale of the ruler per axis.

    `profile` and `side` are the maker's own words for the printer's dialog; empty: not told.
    """

    ppi: float = 300.0
    margin_mm: float = 5.0
    scale: tuple[float, float] = (1.0, 1.0)
    profile: str = ""
    side: str = ""
    # An ICC profile for soft proofs; never used for what is pressed.
    icc: Path | None = field(default=None, repr=False)
    icc_digest: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PressTimes:
    """What a press evening takes beside preheating and pressing, and how long it may be. What
    shop.yaml leaves out is common practice, no source: nowhere else stands such a figure."""

    warm_up_s: float = 600.0  # from cold, once an evening, with laying out
    change_s: float = 300.0  # from one heat to the next
    handling_s: float = 45.0  # changing blanks, at each pressing
    evening_s: float = 10800.0  # the time the maker has


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """A sheet in mm; a roll has height None."""

    name: str
    width_mm: float
    height_mm: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Season:
    """One issue of the catalogue; `begins` and `ends` are its first and last day, where told."""

    id: str
    title: str
    designs: tuple[str, ...]
    text: str = ""
    sentence: str = ""
    colour: str = ""  # of its cover and buttons, '#rrggbb'; empty: the theme's
    begins: date | None = None
    ends: date | None = None
    due: Mapping[str, date] = field(default_factory=dict)  # days that people want things by
    place: Place = Place("")


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """shop.yaml, read."""

    name: str
    contact: str
    telephone: str = ""
    keep_days: int | None = None  # a customer's photos, after hand-over; None: not told
    site: str = ""
    language: str = "en"
    zone: str = "UTC"
    currency: str = "EUR"
    theme: str = "quay"
    models: bool = True  # where what makes them is installed
    wordmark: str = ""  # the shop's name as a drawing: SVG of shapes alone; empty: set in letters
    season: str = ""  # the one to publish; empty: its days tell
    papers: tuple[Paper, ...] = ()
    printer: Printer = Printer()
    platen_mm: tuple[float, float] = (380.0, 380.0)
    cover_mm: float = 10.0
    limits: Limits = field(default_factory=Limits)
    limits_sound: bool = True  # all of them could be read
    answer_days: int = 5
    lead_days: int = 10
    spares: float = 0.05
    times: PressTimes = PressTimes()
    minute_rate: Decimal | None = None
    sheet_rates: Mapping[str, Decimal] = field(default_factory=dict)
    store_bytes: int = 2_000_000_000  # what is remembered from run to run may take
    today: date | None = None  # a fixed day, for the demo shop
    demo: bool = False  # keys and links are for show
    place: Place = Place("shop.yaml")
    lines: Mapping[str, int] = field(default_factory=dict)  # where each key that is written stands

    def answer_by(self, today: date, due: date | None) -> date:
        """The last day for an answer to a proof made today: with it and the days of making, what
        is due is ready in time. Where not even an answer of today would do, tomorrow, but before
        it is due and never before today."""
        one, making = timedelta(days=1), timedelta(days=self.lead_days)
        usual = today + one * self.answer_days
        if due is None:
            return usual
        last = due - making if self.lead_days else due - one
        if last >= today:
            return min(usual, last)
        return today if today <= due <= today + one else today + one

    def in_time(self, answer: date, due: date | None) -> bool:
        """Whether what is answered on that day can be ready when it is due."""
        return due is None or answer + timedelta(days=self.lead_days) <= due


# Shares of up to five decimals of a percent are told apart exactly; a float is finer than that.
_FINEST_SHARE = 10**8


def start_quantity(good: int, spoiled: float) -> int:
    """Blanks to start with so that `good` come out when the share `spoiled` does not.

    ceil(Q / (1 - q)), not ceil(Q (1 + q)):

    >>> start_quantity(100, 0.05)
    106

    Groover, Fundamentals of Modern
    Manufacturing (from memory). Reckoned with the fraction that was meant, not with the float
    that stands for it: 14 at a fifteenth is 15. ShopError for a share outside 0 to 1.
    """
    share = Fraction(spoiled).limit_denominator(_FINEST_SHARE)
    if not 0 <= share < 1:
        raise ShopError("spares: must be at least 0 % and below 100 %", "write spares: 5 %")
    return math.ceil(good / (1 - share))


def blanks_needed(lines: Iterable[Line], spoiled: float) -> dict[tuple[str, str], tuple[int, int]]:
    """By blank and cloth: the pieces that are wanted, and the blanks to start with, line by line as
    a ticket asks for them."""
    needed: dict[tuple[str, str], tuple[int, int]] = {}
    for line in lines:
        good, start = needed.get((line.blank, line.cloth), (0, 0))
        more = start_quantity(line.quantity, spoiled)
        needed[line.blank, line.cloth] = good + line.quantity, start + more
    return needed


@dataclass(frozen=True, slots=True, kw_only=True)
class Shop:
    """A shop folder, read. `faults` tells what could not be read; the rest is usable."""

    folder: Path
    settings: Settings
    blanks: Mapping[str, Blank]
    designs: Mapping[str, Design]
    orders: Mapping[str, Order]
    seasons: tuple[Season, ...] = ()
    words: Mapping[str, str] = field(default_factory=dict)  # house texts, Markdown
    faults: tuple[ShopError, ...] = ()
    names: frozenset[str] | None = None  # words/names.txt: spellings known to be right

    def house_text(self, name: str, tag: str, *, to_be_read: bool = False) -> str:
        """A text of `SAID_IN` for who reads the language of this tag (RFC 5646): that of
        `words/NAME-TAG.md` where there is one, else of `words/NAME.md`, in the shop's own language;
        '' where neither is. `to_be_read`: only one in their language."""
        language = tag.partition("-")[0]
        for way in (tag, language):
            if f"{name}-{way.lower()}" in self.words:
                return self.words[f"{name}-{way.lower()}"]
        is_own = language == self.settings.language.partition("-")[0]
        return self.words.get(name, "") if is_own or not to_be_read else ""

    @property
    def pages_of_words(self) -> dict[str, str]:
        """The house texts that are pages: those in the shop's own language."""
        return {k: v for k, v in self.words.items() if not _in_another(k)}


# House texts that customers of another language read in theirs, where the shop wrote it.
SAID_IN = ("care", "paying", "photo", "proof")
_IN_ANOTHER = re.compile(rf"(?:{'|'.join(SAID_IN)})-([a-z]{{2,3}})(-[a-z0-9]+)*")


def _in_another(name: str) -> bool:
    """Whether a house text is one of these in a language: 'care-de', not 'photo-faq'."""
    found = _IN_ANOTHER.fullmatch(name)
    return found is not None and localedata.exists(found[1])
