"""Marking orders as pressed and handed over, taking a proof back, forgetting a customer."""

from __future__ import annotations

from pathlib import Path

from proofgen import proof, store
from proofgen.errors import SignoffError
from proofgen.pipeline import letters
from proofgen.pipeline.orders import facts_of
from proofgen.pipeline.preflight import Prepared, prepare
from proofgen.pipeline.tickets import forget_ticket, no_longer_said
from proofgen.press import may_hold
from proofgen.say import joined
from proofgen.signoff import RULES, EventKind, Notice, OrderFacts
from proofgen.workshop import Workshop

_TOO_EARLY = {
    EventKind.PRESSED: "{order} is not {needed} but {state}, so it cannot be marked as pressed",
    EventKind.HANDED_OVER: "{order} is not {needed} but {state}, so it cannot be handed over",
}


def _note(workshop: Workshop, prepared: Prepared, event: EventKind) -> None:
    """Record an event of an order. SignoffError where its state does not allow that, or where it
    was pressed by a ticket that says what is not in force."""
    name = prepared.order.id
    state = facts_of(workshop, name, prepared).state
    if event not in RULES[state].notes:
        needed = joined((one for one, rules in RULES.items() if event in rules.notes), "or")
        raise SignoffError(
            _TOO_EARLY[event].format(order=name, needed=needed, state=state),
            "`proofgen orders` shows the next step",
        )
    changed = no_longer_said(workshop, prepared) if event is EventKind.PRESSED else []
    if changed:
        raise SignoffError(
            f"since the last ticket of {name} was made, {joined(changed)}; so it is not marked as "
            "pressed",
            f"make sheets and ticket anew: proofgen press {name}; then, once pressed: "
            f"proofgen press {name} --done",
        )
    workshop.sound_records().mark(name, event, workshop.now)


def mark_pressed(workshop: Workshop, prepared: Prepared) -> str:
    """Record that a signed order was pressed."""
    name = prepared.order.id
    _note(workshop, prepared, EventKind.PRESSED)
    return f"{name} is pressed.\n    Next: proofgen orders --handed-over {name}"


def mark_handed_over(workshop: Workshop, name: str) -> str:
    """Record that a pressed order is with its customer."""
    _note(workshop, prepare(workshop, workshop.order(name)), EventKind.HANDED_OVER)
    return f"{name} is handed over. Nothing is left to do."


def _known(workshop: Workshop, name: str) -> None:
    if name not in workshop.shop.orders and name not in workshop.records.orders():
        workshop.order(name)  # says what is wrong with the name


def _folder_of(workshop: Workshop, name: str) -> Path | None:
    """The order's folder, also of one that cannot be read."""
    home = workshop.folder / "orders"
    names = [path.name for path in home.iterdir()] if home.is_dir() else []
    return home / name if name in names and not name.startswith(".") else None


def _notice_over(workshop: Workshop, name: str, event: EventKind) -> Path | None:
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
    cover(folder, proof.notice(notice, workshop.shop, theme))
    return folder


def cover(folder: Path, notice: bytes) -> bool:
    """Leave nothing in a page's folder but the notice; whether anything changed."""
    return store.write_folder(folder, {"index.html": notice}, last="index.html")


def withdraw(workshop: Workshop, name: str) -> str:
    """Take a proof back: the page becomes a notice and answers are refused."""
    _known(workshop, name)
    workshop.records.mark(name, EventKind.WITHDRAWN, workshop.now)
    folder = _notice_over(workshop, name, EventKind.WITHDRAWN)
    if folder is None:
        return f"{name} is withdrawn. It had no page."
    shown = folder.relative_to(workshop.folder).as_posix()
    return f"{name} is withdrawn.\n    Next: upload {shown}/ and delete its other files there."


def forget(workshop: Workshop, name: str) -> str:
    """Remove a customer's data everywhere in the shop folder; the bare fact of the sale stays."""
    orders_folder = _folder_of(workshop, name)
    if orders_folder is None:
        _known(workshop, name)
    # The records come last: a run killed on the way leaves an order that can be forgotten again.
    folder, lost = None, ""
    try:
        folder = _notice_over(workshop, name, EventKind.FORGOTTEN)
    except SignoffError:  # the records no longer tell which page is theirs
        lost = "look through site/p/ for its page and delete it, here and where you uploaded it; "
    if orders_folder is not None:
        store.remove_folder(orders_folder)
    # Worked-out pictures are named by content, so all of them go.
    store.remove_folder(workshop.store_folder)
    # A sheet shared with other orders goes too: it can be made again without this one.
    for part in ("letters", "press"):
        home = workshop.workroom / part
        for path in home.iterdir() if home.is_dir() else ():
            if letters.is_of(path.name, name) or may_hold(path.name, name):
                store.remove(path)
    for page in ("findings.json", "findings.html"):
        store.remove(workshop.workroom / page)
    forget_ticket(workshop, name)
    workshop.records.forget(name, workshop.now)
    shown = lost
    if folder:
        page = folder.relative_to(workshop.folder).as_posix()
        shown = f"upload {page}/ and delete its other files there, then "
    return (
        f"{name} is forgotten: photos, names, proofs and answers are gone from this folder.\n"
        f"    Next: {shown}remove it from old backups and your mail."
    )
