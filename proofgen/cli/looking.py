"""Commands that only look: a photo, the orders, the blanks, the machine, the records."""

from __future__ import annotations

from proofgen import desk, pipeline, reports
from proofgen.cli import printing, running
from proofgen.cli.commands import Look, Orders, Ready, Records
from proofgen.errors import (
    EXIT_DONE,
    EXIT_FINDING,
    EXIT_MACHINE,
    EXIT_SHOP,
    UsageError,
)
from proofgen.workshop import at_the_door


def look(given: Look) -> int:
    """How large a photo can be, on which blank; works outside a shop folder too."""
    at_the_door(given.shop)
    document, failed, used = desk.look(given.shop, given.photo, given.blank)
    printing.either(document, lambda one: reports.look_text(one, used), as_json=given.json)
    return EXIT_FINDING if failed else EXIT_DONE


def orders(given: Orders) -> int:
    """Where each order stands, or one, or record that a page was cleared, or take down pages of no
    order."""
    if given.cleared or given.take_down:
        with running.workshop_of(given, writes=True) as workshop:
            if given.cleared:
                printing.result(pipeline.mark_cleared(workshop, given.cleared))
            for line in pipeline.take_down(workshop, given.take_down) if given.take_down else ():
                printing.result(line)
        return EXIT_DONE
    if given.order and (given.cost or given.tally or given.sold):
        raise UsageError("an order’s name stands alone", f"proofgen orders {given.order}")
    if given.cost:
        return _cost(given, given.cost)
    if given.tally or given.sold:
        return _tally(given)
    if given.since:
        raise UsageError(
            "--since goes with --tally or --sold", "proofgen orders --tally --since DAY"
        )
    if given.order:
        return _one(given, given.order)
    with running.workshop_of(given, looks=True) as workshop:
        known = pipeline.worked_out(workshop)
        gone = pipeline.take_back(workshop, pipeline.order_names(workshop), known.values())
        document = pipeline.standings(workshop, known, given.by)
        gone += pipeline.unknown_told(workshop)
    for line in gone:
        printing.aside(line)
    printing.either(document, reports.orders_text, as_json=given.json)
    printing.faults(workshop.trouble)
    return workshop.exit_code


def _one(given: Orders, name: str) -> int:
    with running.workshop_of(given, looks=True) as workshop:
        document = pipeline.standing_of_one(workshop, name)
        order = workshop.shop.orders.get(name)
    printing.either(document, lambda one: reports.one_order_text(one, order), as_json=given.json)
    printing.faults(workshop.trouble)
    return workshop.exit_code


def _tally(given: Orders) -> int:
    since = desk.read_day(given.since, "2026-09-01")
    with running.workshop_of(given, writes=given.sold is not None, looks=True) as workshop:
        document = pipeline.tally(workshop, pipeline.worked_out(workshop), since)
        pipeline.write_tally(workshop, document)
        if given.sold:
            pipeline.write_sold(document, given.sold)
    if given.json:
        printing.document(document)
    elif given.tally:
        printing.result(reports.tally_text(document))
        printing.result(f"\nThe same as a page: {workshop.workroom / pipeline.TALLY_PAGE}")
    if given.sold:
        printing.aside(f"Written: {given.sold}")
    printing.faults(workshop.trouble)
    return workshop.exit_code


def _cost(given: Orders, name: str) -> int:
    if given.tally or given.sold or given.since:
        raise UsageError("--cost stands alone", f"proofgen orders --cost {name}")
    with running.workshop_of(given, looks=True) as workshop:
        document = pipeline.tally_of_one(workshop, name)
    printing.either(document, reports.cost_text, as_json=given.json)
    printing.faults(workshop.trouble)
    return workshop.exit_code


def ready(given: Ready) -> int:
    """What this machine lacks."""
    parts = desk.machine_parts(given.shop)
    for part in parts:
        state = "ok" if part.there else "optional" if part.optional else "missing"
        printing.result(f"{state:<8}  {part.name}: {part.says}")
        if not part.there:
            way = "To have it" if part.optional else "To mend it"
            printing.result(f"          {way}: {part.cure}")
    missing = any(not part.there and not part.optional for part in parts)
    if all(part.there for part in parts):
        printing.result("This machine has all it needs.")
    elif not missing:
        printing.result("This machine has all it must have; what is optional is missing above.")
    return EXIT_MACHINE if missing else EXIT_DONE


def records(given: Records) -> int:
    """Check that the chain of records is whole, and holds what was printed of it."""
    with running.workshop_of(given, door=False) as workshop:
        problems, notes = desk.check_records(workshop)
        then = desk.since_then(workshop, given.since) if given.since and not problems else ""
        now = desk.recorded(workshop)
    for note in notes:
        printing.aside(note)
    for problem in problems:
        printing.result(problem)
    if problems:
        return EXIT_SHOP
    printing.result("The records are whole: every line follows from the one before.")
    if then:
        printing.result(then)
    if now:
        printing.result(f"Records: {now}")
    return EXIT_DONE
