"""What the last ticket of an order says, remembered while it may lie printed beside the press."""

from __future__ import annotations

import json
from collections.abc import Collection, Iterable, Mapping
from typing import NotRequired, cast

from proofgen import store
from proofgen.model.terms_document import AtThePress
from proofgen.pipeline.preflight import Prepared
from proofgen.pipeline.terms import terms_today
from proofgen.signoff import press_changes
from proofgen.store.standing import Stood, stood
from proofgen.workshop import Workshop

_FILE = "tickets.json"  # of the workroom


class _Ticket(AtThePress):
    """What a ticket says, of which proof, and the files with its sheets."""

    edition: int
    files: NotRequired[list[str]]  # of the press folder; older versions did not note them


def _printed(workshop: Workshop) -> Mapping[str, _Ticket]:
    """By order; nothing where the file is gone or damaged: then no ticket is known. Read again only
    when it changed."""
    path = workshop.workroom / _FILE
    try:
        now = stood(path.stat())
        known = cast(tuple[Stood, Mapping[str, _Ticket]], workshop.of_run.get(_FILE, ((), {})))
        if known[0] != now:
            kept = json.loads(path.read_text("utf-8"))
            known = (now, kept if isinstance(kept, dict) else {})
            workshop.of_run[_FILE] = known
    except (OSError, ValueError):
        return {}
    return known[1]


def _write(workshop: Workshop, tickets: Mapping[str, _Ticket]) -> None:
    text = json.dumps(tickets, ensure_ascii=False, indent=1, sort_keys=True) + "\n"
    store.write(workshop.workroom / _FILE, text)


def _today(workshop: Workshop, prepared: Prepared) -> _Ticket | None:
    edition = workshop.records.latest(prepared.order.id)
    if edition is None:
        return None
    terms = terms_today(workshop, prepared, edition)
    return {
        "edition": edition.number,
        "due": terms["due"],
        "press": terms["press"],
        "printer_scale": terms["printer_scale"],
    }


def note_tickets(
    workshop: Workshop, made: Iterable[Prepared], files: Mapping[str, Collection[str]]
) -> None:
    """Remember what the tickets of these orders say, now that they lie ready to print, and in which
    files the sheets of each order are."""
    fresh: dict[str, _Ticket] = {}
    for one in made:
        if ticket := _today(workshop, one):
            ticket["files"] = sorted(files.get(one.order.id, ()))
            fresh[one.order.id] = ticket
    if fresh:
        _write(workshop, {**_printed(workshop), **fresh})


def forget_ticket(workshop: Workshop, name: str) -> None:
    """Remember no more what an order's ticket says."""
    known = dict(_printed(workshop))
    if known.pop(name, None):
        _write(workshop, known)


def has_ticket(workshop: Workshop, name: str) -> bool:
    """Whether it is remembered what an order's ticket says."""
    return name in _printed(workshop)


def as_it_lies(workshop: Workshop, name: str) -> object:
    """What is known of an order's ticket, and which files of its sheets are there."""
    ticket, home = _printed(workshop).get(name), workshop.workroom / "press"
    files = ticket.get("files", []) if ticket else []
    return ticket, [file for file in files if (home / file).is_file()] if files else []


def has_sheets(workshop: Workshop, name: str, edition: int) -> bool:
    """Whether all sheets of an edition of an order lie there to be printed."""
    ticket = _printed(workshop).get(name)
    files = ticket.get("files", []) if ticket and ticket["edition"] == edition else []
    return bool(files) and all((workshop.workroom / "press" / file).is_file() for file in files)


def no_longer_said(workshop: Workshop, prepared: Prepared) -> list[str]:
    """What is in force today and the last ticket of an order says otherwise: 'heat was …, is …'.
    Nothing where none is known."""
    then = _printed(workshop).get(prepared.order.id)
    now = _today(workshop, prepared) if then else None
    if then is None or now is None:
        return []
    if then["edition"] != now["edition"]:
        return [f"the proof was {then['edition']}, is {now['edition']}"]
    return press_changes(then, now)
