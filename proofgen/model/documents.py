"""The documents of `--json`, as programs read them: one type for each schema, numbers in the units
of their names. Fields may be added, none may go. Press has its own (`press/documents`)."""

from __future__ import annotations

from typing import Literal, TypedDict, final

from proofgen.geometry import Construction, FaceName, Turn, ZoneKind
from proofgen.model.finding import FindingDocument, Status

Verdict = Literal["good", "soft", "coarse"]  # of pixels per inch
# Of a photo on a face; "poor": pixels enough, but a finding warns of what they show.
LookVerdict = Literal["good", "soft", "coarse", "poor"]


class OrderFindingsEntry(TypedDict):
    order: str
    edition: int
    findings: list[FindingDocument]
    why: list[str]  # as in `orders`
    told: list[str]
    since: list[str]


class FindingsDocument(TypedDict):
    """`check`: the worst status of all orders, and the findings of each."""

    schema: Literal["proofgen/findings/1"]
    worst: Status
    orders: list[OrderFindingsEntry]


class PhotoEntry(TypedDict):
    """A photo's file, width and height after orientation."""

    file: str
    format: str
    width_px: int
    height_px: int


class Fit(TypedDict):
    """A photo that covers a face with its bleed at zoom 1, and what its pixels are enough for: the
    largest size of that shape (`sharp_…`), the largest zoom (None: not even for the whole photo),
    the pixels to ask."""

    blank: str
    face: FaceName
    width_mm: float
    height_mm: float
    ppi: float
    verdict: LookVerdict
    sharp_width_mm: float
    sharp_height_mm: float
    largest_zoom: float | None
    needs_width_px: int
    needs_height_px: int


class LookDocument(TypedDict):
    """`look`."""

    schema: Literal["proofgen/look/1"]
    photo: PhotoEntry
    fits: list[Fit]
    findings: list[FindingDocument]


class ShiftEntry(TypedDict):
    """What one small error moves, mm, signed."""

    by_mm: float
    way_round_mm: float
    overlap_mm: float
    front_centre_mm: float


@final
class WrapAllowance(TypedDict):
    """What a millimetre of cloth or another can of its kind moves, and the cans it closes round."""

    thicker: ShiftEntry
    other_can: ShiftEntry
    overlap_between_mm: list[float]
    overlap_allowed_mm: list[float]
    cans_mm: list[float]


@final
class SleeveAllowance(TypedDict):
    """How far a sleeve of two faces stretches round its can; below 0 it is loose."""

    can_mm: float
    can_way_round_mm: float
    faces_mm: float
    stretch_mm: float


class FaceEntry(TypedDict):
    """Where a face lies on the blank, from its top left."""

    name: FaceName
    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float
    turn_deg: Turn
    centre_x_mm: float


class ZoneEntry(TypedDict):
    kind: ZoneKind
    face: FaceName | None
    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float


@final
class BlankDocument(TypedDict):
    """`blanks NAME`, all finished."""

    schema: Literal["proofgen/blank/1"]
    name: str
    title: str
    construction: Construction
    width_mm: float
    height_mm: float
    way_round_mm: float | None
    overlap_mm: float | None
    allowance: WrapAllowance | SleeveAllowance | None
    faces: list[FaceEntry]
    zones: list[ZoneEntry]


@final
class BlanksDocument(TypedDict):
    """`blanks`."""

    schema: Literal["proofgen/blanks/1"]
    blanks: list[BlankDocument]


WaitsFor = Literal["maker", "customer", ""]  # who is to move; '' nobody: it is closed


class StandingEntry(TypedDict):
    """Where an order stands; `edition` is 0 before the first proof, `link` '' without a page. Days
    as 2026-12-12."""

    order: str
    state: str
    customer: str  # '' where the order's file cannot be read
    due: str | None
    days_left: int | None  # until then, below 0 if it is late; None without a day, or when closed
    waits_for: WaitsFor
    waits_since: str | None  # None where nobody noted when it began
    forget_since: str | None  # from when keep: asks to remove its data; None before, and without
    edition: int
    fingerprint: str
    link: str
    next: str
    words: list[str]  # what people wrote with the order, then with answers to the latest edition
    earlier: list[str]  # what was said of the edition seen before the latest, until it is pressed
    asked: list[str]  # which words their customer wants otherwise: as shown → as it is to be
    unmarked: str  # that not all texts were ticked as right before the OK; else ''
    why: list[str]  # what keeps the folder from being what the latest edition shows
    told: list[str]  # what its customer was told, and would be told otherwise today
    since: list[str]  # what else changed since the latest edition: how it is pressed
    clear: str  # folder of a page that must go where the site is, until that is noted; else ''


class OrdersDocument(TypedDict):
    """`orders`."""

    schema: Literal["proofgen/orders/1"]
    orders: list[StandingEntry]
