"""The thing pressed: raw measures as the maker wrote them, and the plan worked out from them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from typing import Literal, TypedDict, assert_never, get_args

from proofgen.colour import Correction, correction_from
from proofgen.errors import Place
from proofgen.geometry import (
    Construction,
    EndOnTop,
    Hole,
    Plan,
    Shape,
    plan_flat,
    plan_fold,
    plan_sewn,
    plan_wrap,
    with_holes,
)

# Empty: nobody said.
Finish = Literal["", "linen-look", "foam", "smooth"]
FINISHES: tuple[Finish, ...] = get_args(Finish)[1:]
# Whose figures: the blank's maker, the ink's, a trial of one's own, nobody's.
HeatSource = Literal["maker", "ink", "trial", "practice"]
HEAT_SOURCES: tuple[HeatSource, ...] = get_args(HeatSource)
# Empty: the blank's file does not say.
Peel = Literal["", "hot", "cold"]
PaperEdge = Literal["", "torn", "cut"]
Hold = Literal["", "spray", "tape"]
StripSide = Literal["", "back", "front"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Closure:
    """Hook-and-loop of a wrap: strip width and least overlap in mm, and the end on top. `on`: the
    strips are on the back alone, or one of them is on the front, where the ink goes. Where neither
    end is on top, the strip lies over both and `shortest_mm` is what it holds of each."""

    width_mm: float
    shortest_mm: float
    on_top: EndOnTop
    on: StripSide = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cloth:
    """The printable side: finish, share of polyester (None: unknown), colour name to '#rrggbb'.

    `readings` are swatches that were pressed on a colour: pairs of '#rrggbb', asked and read.
    """

    finish: Finish
    colours: Mapping[str, str]
    polyester: float | None = None
    readings: Mapping[str, tuple[tuple[str, str], ...]] = field(default_factory=dict)

    def correction(self, colour: str) -> Correction | None:
        """How ink really comes out on a colour, where swatches of it were read."""
        pairs = self.readings.get(colour)
        return correction_from(pairs, self.colours[colour]) if pairs else None


@dataclass(frozen=True, slots=True, kw_only=True)
class PressSetting:
    """Heat in °C, times in s, pressure in words, and where the figures come from."""

    heat_c: float
    time_s: float
    pressure: str = "medium"
    sides: int = 1
    preheat_s: float = 0.0
    source: HeatSource = "practice"
    heat_f_written: float | None = None  # a °F figure written beside, for the check that they agree
    tried: date | None = None  # the day of the trial, where one gave heat and time
    peel: Peel = ""  # the paper comes off hot, or once all is cold
    edge: PaperEdge = ""  # of the paper, where it must lie on the face
    hold: Hold = ""  # what keeps the paper in its place


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """Blanks that were counted, by colour of the cloth, on the morning of a day (None: of no day
    that is told); of a cloth with a time of its own at that moment, by the shop's clock. Nothing
    counted: this shop does not count these."""

    pieces: Mapping[str, int] = field(default_factory=dict)
    counted: date | None = None
    own: Mapping[str, date] = field(default_factory=dict)  # a day, or a datetime: a moment

    def counted_at(self, cloth: str) -> date | None:
        """The morning, or the moment (a datetime), at which a cloth was counted."""
        return self.own.get(cloth, self.counted)


class _Common(TypedDict):
    """What the plan of every construction is made with."""

    bleed: float
    safe: float
    shrink: tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Blank:
    """One kind of blank. Lengths are raw mm (before the press); `lines`: where each key stands.

    `name` is the maker's, in the workroom; `called` what customers read; '' for a
    name made of what it is (`blank_names`).
    """

    id: str
    name: str
    construction: Construction
    width_mm: float  # a wrap's length; a round flat blank's diameter
    height_mm: float
    cloth: Cloth
    bleed_mm: float
    safe_mm: float
    thickness_mm: float = 0.0
    vessel_mm: float | None = None
    closure: Closure | None = None
    seam_mm: float = 0.0
    fold_mm: float = 0.0
    hem_mm: float = 0.0
    base_mm: float = 0.0
    gap_mm: float = 0.0
    shape: Shape = "rectangle"
    corner_mm: float = 0.0
    holes: tuple[Hole, ...] = ()
    shrink: tuple[float, float] = (0.0, 0.0)
    press: PressSetting | None = None
    cost: Decimal | None = None
    stock: Stock = Stock()
    note: str = ""
    called: str = ""
    # Decimals of its size, mm, that its name ends with for customers; None: they need no size to
    # tell it from another. It comes of what else is offered, so it is no part of what it is.
    sized: int | None = field(default=None, compare=False, repr=False)
    # Where it was read is not what it is: two blanks are equal without.
    built_in: bool = field(default=False, compare=False)
    place: Place = field(default=Place(""), compare=False)
    lines: Mapping[str, int] = field(default_factory=dict, compare=False)

    def plan(self) -> Plan:
        """Faces and zones in finished mm."""
        return with_holes(self._without_holes(), self.holes, self.shrink)

    def _without_holes(self) -> Plan:
        common: _Common = {"bleed": self.bleed_mm, "safe": self.safe_mm, "shrink": self.shrink}
        match self.construction:
            case "wrap":
                if self.closure is None or self.vessel_mm is None:
                    raise ValueError("a wrap needs its closure and the can it goes round")
                return plan_wrap(
                    length=self.width_mm,
                    height=self.height_mm,
                    diameter=self.vessel_mm,
                    thickness=self.thickness_mm,
                    closure_width=self.closure.width_mm,
                    shortest=self.closure.shortest_mm,
                    on_top=self.closure.on_top,
                    **common,
                )
            case "fold":
                return plan_fold(
                    width=self.width_mm,
                    height=self.height_mm,
                    seam=self.seam_mm,
                    fold=self.fold_mm,
                    hem=self.hem_mm,
                    base=self.base_mm,
                    **common,
                )
            case "sewn":
                return plan_sewn(
                    width=self.width_mm, height=self.height_mm, gap=self.gap_mm, **common
                )
            case "flat":
                return plan_flat(
                    width=self.width_mm,
                    height=self.height_mm,
                    shape=self.shape,
                    corner=self.corner_mm,
                    gap=self.gap_mm if self.shape != "round" else 0.0,
                    **common,
                )
            case _:
                assert_never(self.construction)

    def place_of(self, *keys: str) -> Place:
        """Where the first of `keys` that is there stands in the blank's file, or its head."""
        at = next((self.lines[key] for key in keys if key in self.lines), self.place.line)
        return Place(self.place.file, at)


@dataclass(frozen=True, slots=True)
class NoRoom:
    """Why a blank cannot be pressed in a shop: what is too small for it, and the cure, each as a
    sentence's middle."""

    code: Literal["platen", "paper"]
    says: str
    cure: str
