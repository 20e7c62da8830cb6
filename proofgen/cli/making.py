"""Commands that work on orders: check, proof, press, catalogue, build."""

from __future__ import annotations

import argparse

from proofgen import pipeline, reports
from proofgen.cli import talk
from proofgen.errors import EXIT_DONE, EXIT_FINDING, UsageError, worst_exit
from proofgen.model import STATUSES, OrderFindings


def _reached(found: list[OrderFindings], fail_on: str) -> bool:
    limit = STATUSES.index(fail_on)
    return any(STATUSES.index(one.worst) <= limit for one in found)


def check(given: argparse.Namespace) -> int:
    """Check orders and print what was found; or accept one finding."""
    if given.accept:
        return _accept(given)
    with talk.workshop_of(given) as workshop:
        prepared = pipeline.prepare_all(workshop, given.orders)
        found = pipeline.findings_of(workshop, prepared)
        if given.page:
            pipeline.write_page(workshop, prepared, given.page)
            talk.aside(f"The page is {given.page}; it holds customers’ photos, so keep it here.")
    if given.json:
        talk.document(reports.findings_document(found))
    elif not found and not workshop.trouble:
        talk.result(
            "No order is open, so there is nothing to check. All of them: proofgen orders"
            if workshop.shop.orders or workshop.records.orders()
            else reports.orders_text({"orders": []})
        )
    else:
        talk.result(reports.terminal(found, colour=talk.wants_colour(), verbose=given.verbose))
    talk.tell_trouble(workshop.trouble)
    failed = EXIT_FINDING if _reached(found, given.fail_on) else EXIT_DONE
    return worst_exit(workshop.exit_code, failed)


def _accept(given: argparse.Namespace) -> int:
    if len(given.orders) != 1 or not (given.because or "").strip():
        raise UsageError(
            "accepting needs one order and a reason",
            f'proofgen check ORDER --accept {given.accept} --because "…"',
        )
    with talk.workshop_of(given, writes=True) as workshop:
        order = workshop.order(given.orders[0])
        finding = pipeline.accept(workshop, order, given.accept, given.because)
    talk.result(f"Accepted for {order.id}: {finding.says}")
    talk.result(f"    Next: proofgen proof {order.id}")
    return EXIT_DONE


def proof(given: argparse.Namespace) -> int:
    """Make proof pages and PDFs."""
    with talk.workshop_of(given, writes=True) as workshop:
        made = pipeline.make_proofs(workshop, given.orders, one_file=given.one_file)
    for one in made:
        talk.result(f"{one.order}: proof {one.edition} is at {one.page}")
        talk.result(f"    Next: {one.next}")
    if not made and not workshop.trouble:
        talk.result("No order is waiting for a proof.")
    talk.tell_trouble(workshop.trouble)
    return workshop.exit_code


def press(given: argparse.Namespace) -> int:
    """Make press sheets and tickets, or record that they were pressed."""
    with talk.workshop_of(given, writes=True) as workshop:
        if given.done:
            if not given.orders:
                raise UsageError("--done needs the orders", "proofgen press ORDER --done")
            for name in given.orders:
                talk.result(pipeline.mark_pressed(workshop, name))
            return EXIT_DONE
        prepared = pipeline.prepare_all(workshop, given.orders)
        document = pipeline.press_all(workshop, prepared, named=given.orders)
    if given.json:
        talk.document(document)
    else:
        for line in pipeline.press_lines(workshop, document):
            talk.result(line)
    talk.tell_trouble(workshop.trouble)
    return workshop.exit_code


def catalogue(given: argparse.Namespace) -> int:
    """Publish the season."""
    with talk.workshop_of(given, writes=True) as workshop:
        pages = pipeline.make_catalogue(workshop)
    for line in pages:
        talk.result(line)
    talk.tell_trouble(workshop.trouble)
    return workshop.exit_code


def build(given: argparse.Namespace) -> int:
    """Everything that can be built; ends with what to upload and what to do next."""
    with talk.workshop_of(given, writes=True) as workshop:
        built = pipeline.build(workshop)
    for line in built.lines(explain=given.explain):
        talk.result(line)
    talk.tell_trouble(workshop.trouble)
    return worst_exit(workshop.exit_code, EXIT_FINDING if built.stopped else EXIT_DONE)
