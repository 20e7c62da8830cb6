"""Commands that only look: a photo, the orders, the blanks, the machine, the records."""

from __future__ import annotations

import argparse

from proofgen import desk, pipeline, reports
from proofgen.cli import talk
from proofgen.errors import (
    EXIT_DONE,
    EXIT_FINDING,
    EXIT_MACHINE,
    EXIT_SHOP,
)


def look(given: argparse.Namespace) -> int:
    """How large a photo can be, on which blank; works outside a shop folder too."""
    document, failed = desk.look(given.shop, given.photo, given.blank)
    if given.json:
        talk.document(document)
    else:
        talk.result(reports.look_text(document))
    return EXIT_FINDING if failed else EXIT_DONE


def orders(given: argparse.Namespace) -> int:
    """Where each order stands, or record that one was handed over."""
    if given.handed_over:
        with talk.workshop_of(given, writes=True) as workshop:
            talk.result(pipeline.mark_handed_over(workshop, given.handed_over))
        return EXIT_DONE
    with talk.workshop_of(given) as workshop:
        document = pipeline.standings(workshop)
    if given.json:
        talk.document(document)
    else:
        talk.result(reports.orders_text(document))
    talk.tell_trouble(workshop.trouble)
    return workshop.exit_code


def ready(given: argparse.Namespace) -> int:
    """What this machine lacks."""
    missing = False
    for part in desk.machine_parts(given.shop):
        talk.result(f"{'ok     ' if part.there else 'missing'}  {part.name}: {part.says}")
        if not part.there:
            missing = True
            talk.result(f"         To mend it: {part.cure}")
    if not missing:
        talk.result("This machine has all it needs.")
    return EXIT_MACHINE if missing else EXIT_DONE


def records(given: argparse.Namespace) -> int:
    """Check that the chain of records is whole."""
    with talk.workshop_of(given) as workshop:
        problems = workshop.records.verify()
        notes = workshop.records.notes()
    for note in notes:
        talk.aside(note)
    for problem in problems:
        talk.result(problem)
    if problems:
        return EXIT_SHOP
    talk.result("The records are whole: every line follows from the one before.")
    return EXIT_DONE
