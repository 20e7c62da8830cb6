"""What the last ticket of an order says, remembered while it may lie printed beside the press."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from typing import cast

from proofgen import store
from proofgen.model.terms_document import AtThePress
from proofgen.pipeline.preflight import Prepared
from proofgen.pipeline.terms import terms_today
from proofgen.signoff import press_changes
from proofgen.workshop import Workshop

_FILE = "tickets.json"  # of the workroom


class _Ticket(AtThePress):
    """What a ticket says, and of which proof."""

    edition: int


def _printed(workshop: Workshop) -> dict[str, _Ticket]:
    """By order; nothing where the file is gone or damaged: then no ticket is known."""
    try:
        kept = json.loads((workshop.workroom / _FILE).read_text("utf-8"))
    except (OSError, ValueError):
        return {}
    return cast(dict[str, _Ticket], kept) if isinstance(kept, dict) else {}


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


def note_tickets(workshop: Workshop, made: Iterable[Prepared]) -> None:
    """Remember what the tickets of these orders say, now that they lie ready to print."""
    fresh = {one.order.id: ticket for one in made if (ticket := _today(workshop, one))}
    if fresh:
        _write(workshop, {**_printed(workshop), **fresh})


def forget_ticket(workshop: Workshop, name: str) -> None:
    """Remember no more what an order's ticket says."""
    known = _printed(workshop)
    if known.pop(name, None):
        _write(workshop, known)


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
