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
)


def look(given: Look) -> int:
    """How large a photo can be, on which blank; works outside a shop folder too."""
    document, failed = desk.look(given.shop, given.photo, given.blank)
    if given.json:
        printing.document(document)
    else:
        printing.result(reports.look_text(document))
    return EXIT_FINDING if failed else EXIT_DONE


def orders(given: Orders) -> int:
    """Where each order stands, or record that one was handed over."""
    if given.handed_over:
        with running.workshop_of(given, writes=True) as workshop:
            printing.result(pipeline.mark_handed_over(workshop, given.handed_over))
        return EXIT_DONE
    with running.workshop_of(given) as workshop:
        known = pipeline.worked_out(workshop)
        document = pipeline.standings(workshop, known)
        gone = pipeline.take_back(workshop, pipeline.order_names(workshop), known.values())
    for line in gone:
        printing.aside(line)
    if given.json:
        printing.document(document)
    else:
        printing.result(reports.orders_text(document))
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
    """Check that the chain of records is whole."""
    with running.workshop_of(given) as workshop:
        problems, notes = desk.check_records(workshop)
    for note in notes:
        printing.aside(note)
    for problem in problems:
        printing.result(problem)
    if problems:
        return EXIT_SHOP
    printing.result("The records are whole: every line follows from the one before.")
    return EXIT_DONE
