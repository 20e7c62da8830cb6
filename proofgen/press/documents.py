"""The press document, proofgen/press/1: what lies where on which sheet, tickets and batches."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Literal, TypedDict

from proofgen.press.pieces import OnPage
from proofgen.press.planning import SheetPlan

SCHEMA: Literal["proofgen/press/1"] = "proofgen/press/1"


class PieceOnSheet(TypedDict):
    """One picture: its ink with its bleed as it lies on the page, mm from the page's top left.
    `raster` is the kept, unmirrored picture."""

    order: str
    piece: int
    face: str
    raster: str
    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float
    turned: bool
    more: dict[str, str]  # what further columns of its list say of the piece


class SheetNumber(TypedDict):
    """Which of an order's sheets this is; it stays so for ever."""

    order: str
    number: int
    of: int


class PressSheet(TypedDict):
    """A page of a file, counted from 1."""

    file: str
    page: int
    numbers: list[SheetNumber]
    paper: str
    width_mm: float
    height_mm: float
    pieces: list[PieceOnSheet]


class Batch(TypedDict):
    """What shares heat, time and pressure."""

    heat_c: float
    time_s: float
    pressings: int
    minutes: float


class SpoiledEntry(TypedDict):
    """Pieces that were noted as spoiled: how often by now, and why. `counted`: 1, once more by this
    run; 0, by an earlier one already; -1, taken back."""

    order: str
    pieces: list[int]
    times: int
    because: str
    cause: str
    counted: int


class PressDocument(TypedDict):
    schema: Literal["proofgen/press/1"]
    sheets: list[PressSheet]
    tickets: list[str]
    batches: list[Batch]
    pictures: list[str]  # mirrored PNG, where they were asked for
    contacts: list[str]  # contact sheets, where they were asked for
    packing: list[str]  # packing slips with name tags and care cards
    since: dict[str, list[str]]  # by order: what changed after the signed proof, and no pixel shows
    left_out: dict[str, str]  # by order that was answered with an OK: why nothing is made of it
    spoiled: list[SpoiledEntry]
    promised: dict[str, list[str]]  # by order: what of price and day was signed, and is other today


def press_document(
    files: Mapping[str, Sequence[SheetPlan]],
    tickets: list[str],
    batches: list[Batch],
    *,
    pictures: list[str],
    contacts: list[str],
    packing: list[str],
    more: Mapping[tuple[str, int], Mapping[str, str]],
) -> PressDocument:
    """The document of a run; `files` are the sheets by the names of their files, `more` what lists
    say beside a piece's words, by order and piece."""
    return {
        "schema": SCHEMA,
        "sheets": [
            {
                "file": name,
                "page": page,
                "numbers": [{"order": o, "number": n, "of": of} for o, n, of in plan.numbers],
                "paper": plan.paper,
                "width_mm": _mm(plan.size.width),
                "height_mm": _mm(plan.size.height),
                "pieces": [_piece(on, more) for on in plan.pieces],
            }
            for name, plans in files.items()
            for page, plan in enumerate(plans, 1)
        ],
        "tickets": tickets,
        "batches": batches,
        "pictures": pictures,
        "contacts": contacts,
        "packing": packing,
        "since": {},
        "promised": {},
        "left_out": {},
        "spoiled": [],
    }


def _mm(value: float) -> float:
    return round(value, 3)


def _piece(on: OnPage, more: Mapping[tuple[str, int], Mapping[str, str]]) -> PieceOnSheet:
    return {
        "order": on.piece.order,
        "piece": on.piece.piece,
        "face": on.piece.panel,
        "raster": on.piece.raster,
        "x_mm": _mm(on.ink.x),
        "y_mm": _mm(on.ink.y),
        "width_mm": _mm(on.ink.width),
        "height_mm": _mm(on.ink.height),
        "turned": on.turned,
        "more": dict(more.get((on.piece.order, on.piece.piece), {})),
    }
