"""Marking orders as pressed and handed over, and taking a proof back."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from pathlib import Path
from zoneinfo import ZoneInfo

from proofgen import proof, store
from proofgen.errors import SignoffError, UsageError
from proofgen.pipeline import uploads
from proofgen.pipeline.orders import facts_of, to_clear
from proofgen.pipeline.preflight import Prepared, prepare
from proofgen.pipeline.tally import tally_of
from proofgen.pipeline.tickets import no_longer_said
from proofgen.say import joined
from proofgen.signoff import EventKind, Notice, OrderFacts, read_facts
from proofgen.workshop import Workshop

_TOO_EARLY = {
    EventKind.PRESSED: "{order} cannot be marked as pressed: {stands}",
    EventKind.HANDED_OVER: "{order} cannot be marked as handed over: {stands}",
    EventKind.NOT_PRESSED: "of {order} there is nothing to take back: {stands}",
    EventKind.NOT_HANDED_OVER: "of {order} there is nothing to take back: {stands}",
}


def _note(workshop: Workshop, name: str, prepared: Prepared | None, event: EventKind) -> None:
    """Record an event of an order. SignoffError where its state does not allow that, or where it
    was pressed by a ticket that says what is not in force."""
    rules = facts_of(workshop, name, prepared).rules
    if event not in rules.notes:
        raise SignoffError(
            _TOO_EARLY[event].format(order=name, stands=rules.stands),
            f"`proofgen orders {name}` shows the next step",
        )
    pressed = prepared if event is EventKind.PRESSED else None
    changed = no_longer_said(workshop, pressed) if pressed else []
    if changed:
        raise SignoffError(
            f"since the last ticket of {name} was made, {joined(changed)}; so it is not marked as "
            "pressed",
            f"make sheets and ticket anew: proofgen press {name}; then, once pressed: "
            f"proofgen press {name} --done",
        )
    tally = tally_of(workshop, pressed) if pressed else None
    workshop.sound_records().mark(name, event, workshop.now, tally)


# The event that takes one back, which a state lets note where that one was; what is then said.
_BEFORE = {
    EventKind.PRESSED: (EventKind.NOT_PRESSED, "{order} was noted as pressed before: nothing new."),
    EventKind.HANDED_OVER: (
        EventKind.NOT_HANDED_OVER,
        "{order} was noted as handed over before: nothing new.",
    ),
}


def _noted_before(workshop: Workshop, name: str, event: EventKind) -> str:
    """What is said of an order of which that was noted already; '' where it was not."""
    facts = facts_of(workshop, name, None)
    undone_by, says = _BEFORE[event]
    if undone_by not in facts.rules.notes:
        return ""
    return f"{says.format(order=name)}\n    Next: {facts.step}"


def mark_pressed(workshop: Workshop, prepared: Prepared) -> str:
    """Record that a signed order was pressed, and what that took, in one line."""
    name = prepared.order.id
    if again := _noted_before(workshop, name, EventKind.PRESSED):
        return again
    _note(workshop, name, prepared, EventKind.PRESSED)
    ready = "" if prepared.order.is_own else f"proofgen letter {name} --ready; once collected: "
    return (
        f"{name} is pressed.\n    Next: {ready}proofgen handed-over {name}\n"
        f"    If it was not after all: proofgen press {name} --not-done"
    )


def pressed_before(workshop: Workshop, names: Iterable[str]) -> dict[str, date]:
    """Those of these orders that are pressed, with the day at the shop on which that was noted."""
    found = {}
    zone = ZoneInfo(workshop.shop.settings.zone)
    for name in names:
        facts = read_facts(workshop.records, name, workshop.today)
        if EventKind.NOT_PRESSED in facts.rules.notes:
            events = workshop.records.events(name, EventKind.PRESSED)
            when = max(e.when for e in events)
            found[name] = when.astimezone(zone).date()
    return found


def mark_not_pressed(workshop: Workshop, name: str) -> str:
    """Take back that an order was pressed, and so that it was handed over; what it took counts no
    more, what was spoiled does."""
    workshop.order(name)
    _note(workshop, name, None, EventKind.NOT_PRESSED)
    step = facts_of(workshop, name, prepare(workshop, workshop.order(name))).step
    return f"{name} is not pressed, after all; the records keep both.\n    Next: {step}"


def mark_handed_over(workshop: Workshop, name: str) -> str:
    """Record that a pressed order is with its customer."""
    if again := _noted_before(workshop, name, EventKind.HANDED_OVER):
        return again
    _note(workshop, name, prepare(workshop, workshop.order(name)), EventKind.HANDED_OVER)
    done = "is on the shelf" if workshop.order(name).is_own else "is handed over"
    return (
        f"{name} {done}. Nothing is left to do.\n"
        f"    If it was a slip: proofgen handed-over {name} --not"
    )


def mark_not_handed_over(workshop: Workshop, name: str) -> str:
    """Take back that an order was handed over; it stays pressed."""
    workshop.order(name)
    _note(workshop, name, None, EventKind.NOT_HANDED_OVER)
    step = facts_of(workshop, name, None).step
    return f"{name} is not handed over, after all; the records keep both.\n    Next: {step}"


def why_not_withdraw(workshop: Workshop, name: str) -> str:
    """Why an order's name is asked for before its proof is taken back; '' where it is not: nobody
    said yes to it, or it is pressed."""
    try:
        facts = read_facts(workshop.records, name, workshop.today)
    except (SignoffError, UsageError):
        return ""
    said = f"the customer said yes to proof {facts.edition} of {name}; {facts.rules.stands}"
    return said if facts.is_promised else ""


def mark_cleared(workshop: Workshop, name: str) -> str:
    """Record that what must not be seen any more was deleted where the site is."""
    known_order(workshop, name)
    if not to_clear(workshop, name, facts_of(workshop, name, None).rules):
        raise SignoffError(
            f"nothing of {name} waits to be deleted at your host",
            f"`proofgen orders {name}` shows where it is",
        )
    workshop.sound_records().mark_cleared(name, workshop.now)
    return f"Recorded: the pages of {name} were cleared at your host."


def known_order(workshop: Workshop, name: str) -> None:
    """UsageError for a name that neither the folder nor the records have."""
    if name not in workshop.shop.orders and name not in workshop.records.orders():
        workshop.order(name)  # says what is wrong with the name


def notice_over(workshop: Workshop, name: str, event: EventKind) -> Path | None:
    """Put the notice of what happened in place of an order's page and remove its pictures; the
    page's folder, None where there is no page."""
    notice = OrderFacts(order=name, happened=(event,)).rules.page
    token = workshop.records.token(name)
    if not token or not isinstance(notice, Notice):
        return None
    folder = workshop.site / "p" / token
    if not folder.is_dir():
        return None
    theme = workshop.theme_for(workshop.shop.orders.get(name))
    uploads.put_away(workshop)  # a copy of the page among them must not be uploaded any more
    cover(folder, proof.notice(notice, workshop.shop, theme))
    return folder


def cover(folder: Path, notice: bytes) -> bool:
    """Leave nothing in a page's folder but the notice; whether anything changed."""
    return store.write_folder(folder, {"index.html": notice}, last="index.html")


def withdraw(workshop: Workshop, name: str) -> str:
    """Take a proof back: the page becomes a notice and answers are refused."""
    known_order(workshop, name)
    workshop.records.mark(name, EventKind.WITHDRAWN, workshop.now)
    folder = notice_over(workshop, name, EventKind.WITHDRAWN)
    if folder is None:
        return f"{name} is withdrawn. It had no page."
    shown = folder.relative_to(workshop.folder).as_posix()
    return f"{name} is withdrawn.\n    Next: {clear_it(workshop, shown, name)}"


def clear_it(workshop: Workshop, page: str, name: str) -> str:
    """What is to be done where the site is about a page that is only a notice."""
    there = f"upload {page}/ and delete its other files there"
    if not workshop.shop.settings.site:  # nothing then waits to be noted as cleared
        return f"if you ever uploaded site/: {there}"
    return f"{there}; then: proofgen orders --cleared {name}"
