"""From signed editions to mirrored press sheets and tickets; nothing else gets here."""

from __future__ import annotations

import time
from collections import defaultdict
from collections.abc import Callable, Container, Iterable, Sequence
from contextlib import suppress
from dataclasses import replace
from functools import partial
from itertools import groupby
from operator import itemgetter
from pathlib import Path
from typing import TypeVar

from proofgen import press, store
from proofgen.errors import MachineError, ProofgenError, SignoffError
from proofgen.pipeline.admitted import job_of
from proofgen.pipeline.orders import known_standing
from proofgen.pipeline.preflight import Prepared
from proofgen.pipeline.sheets_kept import as_made_before, keep_made, run_key
from proofgen.pipeline.tickets import no_longer_said, note_tickets
from proofgen.say import joined, plural, sentences
from proofgen.signoff import (
    RULES,
    EventKind,
    Refusal,
    State,
    When,
    read_facts,
)
from proofgen.workshop import Workshop

T = TypeVar("T")


def _is_due(workshop: Workshop, prepared: Prepared, left_out: dict[str, str]) -> bool:
    """Whether an order's sheets are made without its name; damaged records are gathered, and why
    nothing is made of one that was answered with an OK goes into `left_out`."""
    name = prepared.order.id
    row = known_standing(workshop, name, prepared)
    if row is None:
        return False
    rules = RULES[State(row["state"])]
    if not isinstance(rules.press, Refusal) or rules.closed:
        return rules.press is When.UNASKED
    if not workshop.records.entries(name, "answer"):
        return False
    facts = read_facts(workshop.records, name)
    if facts.said_yes:
        why = row["why"] or [one.says for one in prepared.stops]
        problem = facts.filled(rules.press.problem).rstrip(".")
        left_out[name] = sentences(f"{problem}.", *why, f"Next: {facts.filled(rules.press.cure)}")
    return False


def _due(
    workshop: Workshop, prepared: Iterable[Prepared], named: Sequence[str], left_out: dict[str, str]
) -> list[Prepared]:
    """The orders `named`, or all that are signed; why one with an OK is none of them goes into
    `left_out`."""
    return [one for one in prepared if named or _is_due(workshop, one, left_out)]


def _admitted(workshop: Workshop, due: Iterable[Prepared]) -> list[press.Job]:
    """What the door lets through of these orders; what it refuses is gathered as trouble."""
    jobs: list[press.Job] = []
    for one in due:
        with workshop.each(f"press sheets for {one.order.id}"):
            jobs.append(job_of(workshop, one))
    return jobs


def plan_tonight(
    workshop: Workshop, prepared: Sequence[Prepared], named: Sequence[str] = ()
) -> press.Evening:
    """The press evening of the signed orders among `prepared`, or of those `named`. No sheet is
    made, and none gets another number than `press_all` with the same names gives it; what cannot
    be laid is gathered as trouble."""
    left_out: dict[str, str] = {}
    told = len(workshop.trouble)
    jobs = _admitted(workshop, _due(workshop, prepared, named, left_out))
    lay = partial(press.lay, shop=workshop.shop, theme=workshop.theme, made=workshop.now)
    laid, _ = _sound(workshop, jobs, lay)
    return press.plan_evening(
        laid,
        {one.order.id: one.order for one in prepared},
        workshop.shop.settings,
        workshop.today,
        named=named,
        left_out=left_out,
        refused=[error.sentence() for error in workshop.trouble[told:]],
    )


def press_all(
    workshop: Workshop,
    prepared: list[Prepared],
    *,
    named: Sequence[str],
    png: bool = False,
    contact: bool = False,
) -> press.PressDocument:
    """Make sheets and tickets for the signed orders among `prepared` (schema proofgen/press/1).

    `named`: the orders that the maker asked for by name; one of them that is not signed is trouble
    (exit 4). None of them: all that are signed. `png` and `contact`: mirrored pictures and contact
    sheets, too.
    """
    left_out: dict[str, str] = {}
    told, at_ns = len(workshop.trouble), time.time_ns()
    due = _due(workshop, prepared, named, left_out)
    key = partial(run_key, workshop, due, named, (png, contact))
    if before := as_made_before(workshop, key()):
        document, there = before
        _clear(workshop, named, keep=there)
        return {**document, "left_out": left_out}
    jobs = _admitted(workshop, due)
    make = partial(
        press.make,
        shop=workshop.shop,
        theme=workshop.theme,
        made=workshop.now,
        png=png,
        contact=contact,
        customers=workshop.theme_for,
    )
    run = _written(workshop, jobs, named, make)
    done = [one for one in prepared if press.ticket_file(one.order.id) in run.files]
    files: dict[str, set[str]] = defaultdict(set)
    for sheet in run.document["sheets"]:
        for piece in sheet["pieces"]:
            files[piece["order"]].add(sheet["file"])
    note_tickets(workshop, done, files)
    since = {job.order.id: list(job.since) for job in jobs if job.since}
    kept = {job.order.id: list(job.promised) for job in jobs if job.promised}
    document = _with_paths(workshop, run.document)
    made: press.PressDocument = {**document, "since": since, "promised": kept, "left_out": left_out}
    if len(workshop.trouble) == told:
        keep_made(workshop, key(), made, run.files, at_ns)
    return made


def press_file(workshop: Workshop, name: str) -> str:
    """A file for the press as a path from the shop's folder."""
    return (workshop.workroom / "press" / name).relative_to(workshop.folder).as_posix()


def _with_paths(workshop: Workshop, document: press.PressDocument) -> press.PressDocument:
    """The document with every file as a path from the shop's folder."""

    here = partial(press_file, workshop)

    def kept(order: str, raster: str) -> str:
        path = workshop.records.raster_path(order, raster)
        return path.relative_to(workshop.folder).as_posix()

    sheets: list[press.PressSheet] = [
        {
            **sheet,
            "file": here(sheet["file"]),
            "pieces": [
                {**piece, "raster": kept(piece["order"], piece["raster"])}
                for piece in sheet["pieces"]
            ],
        }
        for sheet in document["sheets"]
    ]
    return {
        **document,
        "sheets": sheets,
        "tickets": [here(name) for name in document["tickets"]],
        "pictures": [here(name) for name in document["pictures"]],
        "contacts": [here(name) for name in document["contacts"]],
        "packing": [here(name) for name in document["packing"]],
    }


def _clear(workshop: Workshop, named: Sequence[str], keep: Container[str]) -> None:
    """Sheets of an earlier run, or of an order no longer signed, must not lie ready to print. What
    goes into the parcel of an order that is pressed stays until it is handed over."""
    # A sheet shared with others may hold pieces of these: it goes too, to be made again with all.
    for path in _there(workshop):
        if path.name in keep or not press.is_for_press(path.name):
            continue
        if named:
            stale = any(press.may_hold(path.name, order) for order in named)
        else:
            stale = not (press.is_for_parcel(path.name) and _is_unpacked(workshop, path.name))
        if stale:
            store.remove(path)


def _is_unpacked(workshop: Workshop, file: str) -> bool:
    """Whether the order of a file is pressed and not handed over; not where its records are
    damaged, which is told elsewhere."""
    with suppress(SignoffError):
        facts = read_facts(workshop.records, press.owner_of(file))
        return EventKind.HANDED_OVER in facts.rules.notes
    return False


_Make = Callable[[Sequence[press.Job]], press.PressRun]


def _sound(
    workshop: Workshop, jobs: Sequence[press.Job], make: Callable[[Sequence[press.Job]], T]
) -> tuple[T, list[press.Job]]:
    """What is made of all that can be planned, and of which jobs; what cannot is gathered as
    trouble."""
    try:
        return make(jobs), list(jobs)
    except ProofgenError:  # one of them cannot be laid: find it, and lay the others
        good = []
        for job in jobs:
            with workshop.each(f"press sheets for {job.order.id}, alone"):
                make([job])
                good.append(job)
        return make(good), good


def _planned(
    workshop: Workshop, jobs: Sequence[press.Job], make: _Make
) -> tuple[press.PressRun, list[press.Job]]:
    """What is to be saved, and for which jobs, as `_sound`. Their sheets are numbered: that is
    known before anybody can print one."""
    run, good = _sound(workshop, jobs, make)
    for order, sheets in run.numbered.items():
        kept = [sheet.as_data() for sheet in sheets]
        workshop.sound_records().mark(order, EventKind.SHEETS, workshop.now, sheets=kept)
    return run, [replace(j, sheets=run.numbered.get(j.order.id, j.sheets)) for j in good]


def _written(
    workshop: Workshop, jobs: Sequence[press.Job], named: Sequence[str], make: _Make
) -> press.PressRun:
    """Every file of all that can be made, in the workroom; what cannot is gathered as trouble."""
    target = workshop.workroom / "press"

    def saved(run: press.PressRun) -> press.PressRun:
        _clear(workshop, named, keep=run.files)
        for name, save in run.files.items():
            store.saved(target / name, save)
        return run

    run, good = _planned(workshop, jobs, make)
    try:
        return saved(run)
    except MachineError as error:
        workshop.trouble.append(error)
        good = []
    except ProofgenError as error:
        if len(good) == 1:
            workshop.trouble.append(error)
            good = []
    for job in list(good):  # one of them cannot be printed: find it, and print the others
        with workshop.each(f"press sheets for {job.order.id}, alone"):
            saved(_planned(workshop, [job], make)[0])
            continue
        good.remove(job)
    return saved(_planned(workshop, good, make)[0])


def _nothing_to_press(workshop: Workshop) -> str:
    """Why no sheet was made where nothing is wrong."""
    done = []
    for name in workshop.shop.orders:
        with suppress(SignoffError):
            if EventKind.NOT_PRESSED in read_facts(workshop.records, name).rules.notes:
                done.append(name)
    if not done:
        return "No order is signed, so nothing may be pressed yet."
    return (
        f"What is signed is pressed already: {joined(done)}. Nothing else is signed.\n"
        "    To make the sheets of one again: proofgen press ORDER --again"
    )


def press_lines(workshop: Workshop, document: press.PressDocument) -> list[str]:
    """Where the sheets and tickets are, for people; nothing where trouble tells why none are."""
    left = [f"Left out: {said}" for said in document["left_out"].values()]
    if not document["sheets"]:
        return left or ([] if workshop.trouble else [_nothing_to_press(workshop)])
    lines = [*left, f"Press sheets and tickets: {workshop.workroom / 'press'}"]
    for file, sheets in groupby(document["sheets"], key=itemgetter("file")):
        every = list(sheets)
        orders = joined(dict.fromkeys(one["order"] for page in every for one in page["numbers"]))
        count = plural(sum(len(page["pieces"]) for page in every), "piece")
        pages = plural(len(every), "sheet")
        paper = f"{pages} of {every[0]['paper']}"
        lines.append(f"  {Path(file).name}: {paper}, {count} to press, for {orders}")
    more = (*document["tickets"], *document["packing"], *document["contacts"])
    lines += [f"  {Path(name).name}" for name in more]
    for order, changes in document["since"].items():
        lines += [f"    {order}, since the signed proof: {change}." for change in changes]
    for order, kept in document["promised"].items():
        lines += [f"    {order}: {sentence}" for sentence in kept]
    pressed = {piece["order"] for sheet in document["sheets"] for piece in sheet["pieces"]}
    name = pressed.pop() if len(pressed) == 1 else "ORDER"
    lines.append(
        f"    Next: print at actual size, mirror off; once pressed: proofgen press {name} --done"
    )
    return lines


def take_back(
    workshop: Workshop,
    names: Iterable[str],
    prepared: Iterable[Prepared] = (),
    *,
    made_anew: bool = False,
) -> list[str]:
    """Sheets and tickets that the press is shut to, or that no longer say what is in force, must
    not lie ready to print: they leave the workroom, under its lock; what was taken away, for
    people. Of an order that is not among `prepared` the records alone tell; `made_anew`: what is
    signed is set again right now."""
    known = {one.order.id: one for one in prepared}
    says = []
    owners = {press.owner_of(path.name) for path in _there(workshop)}
    for order in dict.fromkeys([*names, *known]):
        if order not in owners:
            continue
        why = _why_gone(workshop, order, known.get(order), made_anew=made_anew)
        if not why:
            continue
        try:
            with workshop.hold():
                says += _taken(workshop, order, why)
        except MachineError as error:  # another run is at work: the next one takes them away
            workshop.trouble.append(error)
    return says


def _there(workshop: Workshop) -> list[Path]:
    target = workshop.workroom / "press"
    return sorted(p for p in target.iterdir() if p.is_file()) if target.is_dir() else []


def _why_gone(workshop: Workshop, order: str, prepared: Prepared | None, *, made_anew: bool) -> str:
    """Why the files of an order may not lie there; '' where they may."""
    row = known_standing(workshop, order, prepared)
    rules = RULES[State(row["state"])].press if row else None
    if isinstance(rules, Refusal):
        return f"{order} may not be pressed as it stands"
    if prepared is None or made_anew or rules is not When.UNASKED:
        return ""
    changed = no_longer_said(workshop, prepared)
    return f"Since the ticket of {order} was made, {joined(changed)}" if changed else ""


def _taken(workshop: Workshop, order: str, why: str) -> list[str]:
    gone = [path for path in _there(workshop) if press.may_hold(path.name, order)]
    for path in gone:
        store.remove(path)
    files = joined(path.name for path in gone)
    says = [f"{why}, so this left {workshop.workroom / 'press'}: {files}."]
    if why.startswith("Since"):
        says.append(f"    Make them anew: proofgen press {order}")
    if any(not press.is_of(path.name, order) for path in gone):
        says.append("    For the others on shared sheets: proofgen press")
    return says
