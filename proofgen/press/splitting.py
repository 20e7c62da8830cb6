"""Work that is longer than an evening: what is pressed on which, and what is cut in two."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from proofgen.model import PressTimes
from proofgen.press.batches import LineWork, seconds

_LEAST_S = 1e-6  # what sums of seconds may miss by


def evenings_of(works: Sequence[LineWork], times: PressTimes) -> list[list[LineWork]]:
    """The work parted into evenings: what stands first is pressed first, each evening as full as
    whole pressings make it. The last work of one may be the first part of a work that the next
    evening goes on with; good pieces come before spares. One pressing that is longer than an
    evening is an evening."""
    evenings: list[list[LineWork]] = []
    here: list[LineWork] = []
    left = list(works)
    while left:
        work = left[0]
        turns = _turns_that_fit(here, work, times) or (0 if here else 1)
        first, rest = _cut(work, turns * work.at_once)
        here += [first] if first else []
        left[:1] = [rest] if rest else []
        if rest:
            evenings.append(here)
            here = []
    return [*evenings, here] if here else evenings


def _turns_that_fit(here: Sequence[LineWork], work: LineWork, times: PressTimes) -> int:
    """How often the platen can still be laid with blanks of this work; all their sides count."""
    once = work.sides * work.cycle_s
    first, _ = _cut(work, work.at_once)
    free = times.evening_s - seconds([*here, *([first] if first else [])], times) + once
    return max(0, int((free + _LEAST_S) // once)) if once else work.start


def _cut(work: LineWork, blanks: int) -> tuple[LineWork | None, LineWork | None]:
    """The first so many blanks of a work, and what is left of it."""
    if blanks >= work.start:
        return work, None
    if not blanks:
        return None, work
    first = replace(work, pieces=work.pieces[:blanks], start=blanks)
    return first, replace(work, pieces=work.pieces[blanks:], start=work.start - blanks)
