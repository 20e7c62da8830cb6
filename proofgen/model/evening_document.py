"""The plan of a press evening, as programs read it (schema proofgen/evening/1)."""

from __future__ import annotations

from typing import Literal, TypedDict


class TurnEntry(TypedDict):
    """An order and its days; `start_by` is the last evening it can be begun, `minutes` what it
    takes alone, in so many `evenings`."""

    order: str
    due: str | None
    start_by: str | None
    must: bool
    minutes: float
    evenings: int


class TaskEntry(TypedDict):
    """One line of an order at the press; `done_minute` counts from the evening's beginning.
    `sheets` are those of its order's, `of` so many, that its `papers` lie on. `is_part`: these
    `pieces` alone are of this evening, others of another."""

    order: str
    line: int
    due: str | None
    blank: str
    name: str
    cloth: str
    finish: str
    is_part: bool
    pieces: list[int]
    good: int
    spares: int
    sides: int
    at_once: int
    pressings: int
    preheat_s: float
    time_s: float
    handling_s: float
    minutes: float
    done_minute: float
    sheets: list[int]
    of: int
    papers: int


class HeatEntry(TypedDict):
    """What shares heat, time and pressure on an evening: tonight is 1."""

    evening: int
    heat_c: float
    time_s: float
    pressure: str
    setup_minutes: float  # warming up, or changing the heat
    begins_minute: float
    tasks: list[TaskEntry]


class PrintEntry(TypedDict):
    """Pages of a file, counted from 1, of `whole`: their paper and sizes, whose sheets they are,
    and orders of another evening that lie on them too."""

    file: str
    paper: str
    width_mm: float
    heights_mm: list[float]
    pages: list[int]
    whole: int
    numbers: dict[str, list[int]]
    keep: list[str]


class PickEntry(TypedDict):
    """Blanks to take from the shelf."""

    blank: str
    name: str
    cloth: str
    finish: str
    good: int
    spares: int


class FigureEntry(TypedDict):
    """A figure of the plan and where it stands: a file and line of the shop, or practice."""

    what: str
    value: str
    where: str


class EveningDocument(TypedDict):
    """`press --plan`."""

    schema: Literal["proofgen/evening/1"]
    day: str
    minutes: float
    has_minutes: float
    late: dict[str, int]  # by order, days past its day
    left_out: dict[str, str]  # by order that its customer said yes to: why it is not pressed
    refused: list[str]  # what else cannot be pressed as it stands
    tonight: list[TurnEntry]
    another: list[TurnEntry]
    prints: list[PrintEntry]
    picks: list[PickEntry]
    heats: list[HeatEntry]
    figures: list[FigureEntry]
    next: str
