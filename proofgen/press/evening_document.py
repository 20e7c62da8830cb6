"""The plan of an evening as its document, which page and terminal are made from."""

from __future__ import annotations

from datetime import date

from proofgen.model.evening_document import (
    EveningDocument,
    HeatEntry,
    PrintEntry,
    TaskEntry,
    TurnEntry,
)
from proofgen.press.evening import Evening, Heat, Print, Task, Turn


def evening_document(evening: Evening, *, then: str) -> EveningDocument:
    """The document (proofgen/evening/1); `then` is the next command."""
    return {
        "schema": "proofgen/evening/1",
        "day": evening.day.isoformat(),
        "minutes": _minutes(evening.seconds),
        "has_minutes": _minutes(evening.has_s),
        "late": dict(evening.late),
        "left_out": dict(evening.left_out),
        "refused": list(evening.refused),
        "tonight": [_turn(turn, evening.day) for turn in evening.tonight],
        "another": [_turn(turn, evening.day) for turn in evening.another],
        "prints": [_print(one) for one in evening.prints],
        "picks": [
            {
                "blank": pick.blank,
                "name": pick.name,
                "cloth": pick.cloth,
                "finish": pick.finish,
                "good": pick.good,
                "spares": pick.spares,
            }
            for pick in evening.picks
        ],
        "heats": [_heat(heat) for heat in evening.heats],
        "figures": [
            {"what": one.what, "value": one.value, "where": one.where} for one in evening.figures
        ],
        "next": then,
    }


def _minutes(seconds: float) -> float:
    return round(seconds / 60, 1)


def _iso(day: date | None) -> str | None:
    return day.isoformat() if day else None


def _turn(turn: Turn, today: date) -> TurnEntry:
    return {
        "order": turn.order,
        "due": _iso(turn.due),
        "start_by": _iso(turn.start_by),
        "must": turn.must(today),
        "minutes": _minutes(turn.seconds),
        "evenings": turn.evenings,
    }


def _print(one: Print) -> PrintEntry:
    return {
        "file": one.file,
        "paper": one.paper,
        "width_mm": round(one.sizes[0].width, 1),
        "heights_mm": [round(size.height, 1) for size in one.sizes],
        "pages": list(one.pages),
        "whole": one.whole,
        "numbers": {order: list(numbers) for order, numbers in one.numbers.items()},
        "keep": list(one.keep),
    }


def _heat(heat: Heat) -> HeatEntry:
    setting = heat.stage.setting
    return {
        "evening": heat.evening,
        "heat_c": round(setting.heat_c, 1),
        "time_s": setting.time_s,
        "pressure": setting.pressure,
        "setup_minutes": _minutes(heat.stage.setup_s),
        "begins_minute": _minutes(heat.begins_s),
        "tasks": [_task(task) for task in heat.tasks],
    }


def _task(task: Task) -> TaskEntry:
    work = task.work
    return {
        "order": work.order,
        "line": work.line,
        "due": _iso(task.due),
        "blank": work.blank.id,
        "name": work.blank.name,
        "cloth": work.cloth,
        "finish": work.blank.cloth.finish,
        "is_part": task.is_part,
        "pieces": list(work.pieces),
        "good": work.good,
        "spares": work.spares,
        "sides": work.sides,
        "at_once": work.at_once,
        "pressings": work.pressings,
        "preheat_s": work.press.preheat_s,
        "time_s": work.press.time_s,
        "handling_s": work.handling_s,
        "minutes": _minutes(work.seconds),
        "done_minute": _minutes(task.done_s),
        "sheets": list(task.sheets),
        "of": task.of,
        "papers": task.papers,
    }
