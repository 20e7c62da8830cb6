"""Pieces that were spoiled at the press: counted once, and their papers printed once more."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from proofgen import press, store
from proofgen.errors import SignoffError, UsageError
from proofgen.pipeline.admitted import job_of
from proofgen.pipeline.preflight import Prepared, prepare
from proofgen.pipeline.tally import tally_of
from proofgen.say import joined, pieces, plural, quoted
from proofgen.signoff import EventKind, times_spoiled, used
from proofgen.workshop import Workshop

_RUN = re.compile(r"([0-9]{1,5})(?:-([0-9]{1,5}))?")
_MOST = 5000  # pieces in one report


def read_numbers(text: str) -> list[int]:
    """Numbers of pieces as they are typed: 12,37 or 40-44. UsageError for anything else."""
    found: set[int] = set()
    for part in filter(None, re.split(r"[,\s]+", text)):
        run = _RUN.fullmatch(part)
        first, last = (int(run[1]), int(run[2] or run[1])) if run else (1, 0)
        if not first <= last <= first + _MOST:
            raise UsageError(f"{quoted(part)} is no number of a piece", "write them like 12,37")
        found.update(range(first, last + 1))
    if not found:
        raise UsageError("which pieces were spoiled?", "write their numbers, like 12,37")
    return sorted(found)


def press_again(
    workshop: Workshop, name: str, numbers: Sequence[int], because: str, times: int
) -> press.PressDocument:
    """Note pieces as spoiled, `times` times by now, and print their papers again under the numbers
    of their sheets. Nothing new is signed: they pass the same door. What an earlier run counted is
    not counted again, so the same command may be typed again after a kill.

    Errors: UsageError for pieces that it has not, or a jump in `times`; SignoffError where it may
    not be pressed or no sheet of it was made; StopError, MachineError.
    """
    prepared = prepare(workshop, workshop.order(name))
    job = replace(job_of(workshop, prepared), only=frozenset(numbers))
    if not job.sheets:
        raise SignoffError(
            f"no sheet of {name} was made yet, so none of its pieces can be printed again",
            f"proofgen press {name}",
        )
    there = {piece for variant in prepared.variants for piece in variant.pieces}
    if missing := sorted(set(numbers) - there):
        raise UsageError(
            f"{name} has no {pieces(missing)}", f"its {pieces(there)} are on its ticket"
        )
    # Before anything is counted: what cannot be laid is told first.
    run = press.make([job], shop=workshop.shop, theme=workshop.theme, made=workshop.now)
    entry: press.SpoiledEntry = {
        "order": name,
        "pieces": list(numbers),
        "times": times,
        "because": because,
        "cause": press.cause_of(because),
        "counted": 0,
    }
    entry["counted"] = _count(workshop, prepared, entry)
    if entry["counted"] < 0 or not times:  # a slip is taken back: nothing is to be printed
        return {**run.document, "sheets": [], "spoiled": [entry]}
    for order, sheets in run.numbered.items():
        kept = [sheet.as_data() for sheet in sheets]
        workshop.sound_records().mark(order, EventKind.SHEETS, workshop.now, sheets=kept)
    for file, save in run.files.items():
        store.saved(workshop.workroom / "press" / file, save)
    return {**run.document, "spoiled": [entry]}


def _count(workshop: Workshop, prepared: Prepared, entry: press.SpoiledEntry) -> int:
    """One line of the records for all of the pieces: 1 where it counts them once more, -1 once
    less, 0 where it stood there already."""
    name, numbers, times = entry["order"], entry["pieces"], entry["times"]
    records = workshop.sound_records()
    known = times_spoiled(used(records, name), name, len(records.heads(name)))
    so_far = {n: known.get(n, 0) for n in numbers}
    if len(set(so_far.values())) > 1:
        groups = {t: pieces(n for n in numbers if so_far[n] == t) for t in so_far.values()}
        said = joined(f"{some}: {_often(t)}" for t, some in sorted(groups.items()))
        raise UsageError(
            f"these pieces of {name} were not spoiled equally often so far ({said})",
            "note them apart, each with its own --times",
        )
    more = times - so_far[numbers[0]]
    if abs(more) > 1 or times < 0:
        raise UsageError(
            f"{pieces(numbers, capital=True)} of {name} so far: {_often(times - more)}",
            f"write --times {times - more + 1} for one more; less is a slip taken back",
        )
    if more:
        tally = tally_of(workshop, prepared, numbers, taken_back=more < 0)
        tally |= {"pieces": numbers, "times": times, "cause": entry["cause"]}
        because = entry["because"]
        records.mark(name, EventKind.SPOILED, workshop.now, tally, because=because)
    return more


def _often(times: int) -> str:
    return (
        "not spoiled" if not times else "spoiled once" if times == 1 else f"spoiled {times} times"
    )


def again_lines(workshop: Workshop, document: press.PressDocument) -> list[str]:
    """What was counted and where the papers lie, for people."""
    (one,) = document["spoiled"]
    name, times = one["order"], one["times"]
    some = pieces(one["pieces"])
    typed = ",".join(map(str, one["pieces"]))
    again = f'proofgen press {name} --spoiled {typed} --because "…"'
    if one["counted"] < 0 or not times:
        return [f"{name}, {some}: {_often(times)}, after all; the records keep both."]
    if one["counted"]:
        lines = [f"{name}, {some}: noted as {_often(times)}, counted as “{one['cause']}”."]
    else:
        lines = [
            f"{name}, {some}: noted as {_often(times)} before, so nothing was counted now.",
            f"    If what was printed for them is spoiled as well: {again} --times {times + 1}",
        ]
    files = sorted({sheet["file"] for sheet in document["sheets"]})
    count = plural(sum(len(s["pieces"]) for s in document["sheets"]), "paper")
    lines.append(f"Their {count}, to print again: {workshop.workroom / 'press'}")
    lines += [f"  {file}" for file in files]
    lines.append("    Next: print at actual size, mirror off")
    if EventKind.HANDED_OVER in workshop.records.happened(name):
        lines.append(
            f"    {name} stays handed over: give its customer what you press now; nothing more is "
            "to be noted."
        )
    if one["counted"]:
        lines.append(f"    If it was a slip: {again} --times {times - 1}")
    return lines
