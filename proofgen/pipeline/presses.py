"""From signed editions to mirrored press sheets and tickets; nothing else gets here."""

from __future__ import annotations

from collections.abc import Container, Iterable, Sequence
from contextlib import nullcontext
from pathlib import Path

from proofgen import press, store
from proofgen.artwork.rasters import pixel_digest, read_raster
from proofgen.errors import MachineError, ProofgenError, SignoffError
from proofgen.pipeline.orders import earlier_in, known_standing, why_not_current
from proofgen.pipeline.preflight import Prepared, refuse_stops
from proofgen.pipeline.terms import both_terms, late_stops
from proofgen.pipeline.tickets import no_longer_said, note_tickets
from proofgen.say import joined
from proofgen.signoff import (
    RULES,
    Refusal,
    State,
    When,
    admit,
    press_changes,
    promises,
    read_facts,
)
from proofgen.workshop import Workshop


def _pixels_of(png: bytes) -> str:
    """Digest of the pixels of a kept raster."""
    return pixel_digest(read_raster(png))


def _job_of(workshop: Workshop, prepared: Prepared) -> press.Job:
    """What may be pressed of an order. SignoffError says why not; StopError if a stop stands."""
    order = prepared.order
    refuse_stops(prepared)
    signed = admit(
        workshop.records,
        order.id,
        prepared.document,
        pixel_digest=_pixels_of,
        why=lambda: why_not_current(workshop, prepared),
        late=late_stops(workshop, prepared),
    )
    edition = workshop.records.latest(order.id)
    if edition is None:
        raise SignoffError(f"{order.id} has no proof", f"proofgen proof {order.id}")
    both = both_terms(workshop, prepared)
    return press.Job(
        signed=signed,
        order=order,
        variants=prepared.variants,
        rasters={name: workshop.records.raster(edition, name) for name in edition.rasters},
        accepted=[f for f in prepared.findings if f.accepted],
        since=press_changes(*both) if both else [],
        promised=promises(*both) if both else [],
        earlier=[one.said for one in earlier_in(workshop, read_facts(workshop.records, order.id))],
    )


def _is_due(workshop: Workshop, prepared: Prepared) -> bool:
    """Whether an order's sheets are made without its name; damaged records are gathered."""
    row = known_standing(workshop, prepared.order.id, prepared)
    return row is not None and RULES[State(row["state"])].press is When.UNASKED


def press_all(
    workshop: Workshop, prepared: list[Prepared], *, named: Sequence[str]
) -> press.PressDocument:
    """Make sheets and tickets for the signed orders among `prepared` (schema proofgen/press/1).

    `named`: the orders that the maker asked for by name; one of them that is not signed is trouble
    (exit 4). None of them: all that are signed.
    """
    jobs = []
    for one in prepared:
        if not named and not _is_due(workshop, one):
            continue
        with workshop.each(f"press sheets for {one.order.id}"):
            jobs.append(_job_of(workshop, one))
    run = _make(workshop, jobs)
    target = workshop.workroom / "press"
    _clear(target, named, keep=run.files)
    for name, content in run.files.items():
        store.write(target / name, content)
    done = [one for one in prepared if press.ticket_file(one.order.id) in run.files]
    note_tickets(workshop, done)
    since = {job.order.id: list(job.since) for job in jobs if job.since}
    kept = {job.order.id: list(job.promised) for job in jobs if job.promised}
    return {**run.document, "since": since, "promised": kept}


def _clear(target: Path, named: Sequence[str], keep: Container[str]) -> None:
    """Sheets of an earlier run, or of an order no longer signed, must not lie ready to print."""
    # A sheet shared with others may hold pieces of these: it goes too, to be made again with all.
    for path in sorted(target.iterdir()) if target.is_dir() else ():
        if not path.is_file() or path.name in keep or not press.is_for_press(path.name):
            continue
        if not named or any(press.may_hold(path.name, order) for order in named):
            store.remove(path)


def _make(workshop: Workshop, jobs: list[press.Job]) -> press.PressRun:
    """Sheets and tickets of all that can be made; what cannot is gathered as trouble."""

    def made(some: list[press.Job]) -> press.PressRun:
        return press.make(some, workshop.shop, workshop.theme, made=workshop.now)

    try:
        return made(jobs)
    except MachineError as error:
        workshop.trouble.append(error)
        return made([])
    except ProofgenError as error:
        if len(jobs) == 1:
            workshop.trouble.append(error)
            return made([])
    good = []
    for job in jobs:  # one of them cannot be made: find it, and make the others
        with workshop.each(f"press sheets for {job.order.id}, alone"):
            made([job])
            good.append(job)
    return made(good)


def press_lines(workshop: Workshop, document: press.PressDocument) -> list[str]:
    """Where the sheets and tickets are, for people; nothing where trouble tells why none are."""
    if not document["sheets"]:
        return [] if workshop.trouble else ["No order is signed, so nothing may be pressed yet."]
    lines = [f"Press sheets and tickets: {workshop.workroom / 'press'}"]
    for sheet in document["sheets"]:
        orders = ", ".join(dict.fromkeys(piece["order"] for piece in sheet["pieces"]))
        count = len(sheet["pieces"])
        lines.append(f"  {sheet['file']}: {sheet['paper']}, {count} to press, for {orders}")
    lines += [f"  {name}" for name in document["tickets"]]
    for order, changes in document["since"].items():
        lines += [f"    {order}, since the signed proof: {change}." for change in changes]
    for order, sentences in document["promised"].items():
        lines += [f"    {order}: {sentence}" for sentence in sentences]
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
    for order in dict.fromkeys([*names, *known]):
        if not any(press.is_of(path.name, order) for path in _there(workshop)):
            continue
        why = _why_gone(workshop, order, known.get(order), made_anew=made_anew)
        if not why:
            continue
        try:
            with nullcontext() if workshop.is_locked else store.lock(workshop.workroom):
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
