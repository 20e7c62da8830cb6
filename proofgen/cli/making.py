"""Commands that work on orders: check, proof, press, catalogue, build."""

from __future__ import annotations

from collections.abc import Sequence

from proofgen import pipeline, reports
from proofgen.cli import printing, running
from proofgen.cli.commands import Build, Catalogue, Check, Press, Proof
from proofgen.errors import EXIT_DONE, EXIT_FINDING, UsageError, worst_exit
from proofgen.workshop import Workshop


def check(given: Check) -> int:
    """Check orders and print what was found; or accept one finding."""
    if given.accept:
        return _accept(given, given.accept)
    with running.workshop_of(given) as workshop:
        prepared = pipeline.prepare_all(workshop, given.orders)
        findings = pipeline.findings_of(workshop, prepared)
        gone = pipeline.take_back(workshop, (), prepared)
        if given.page:
            pipeline.write_page(workshop, prepared, given.page)
            printing.aside(
                f"The page is {given.page}; it holds customers’ photos, so keep it here."
            )
    for line in gone:
        printing.aside(line)
    if given.json:
        printing.document(reports.findings_document(findings))
    elif not findings and not workshop.trouble:
        printing.result(
            "No order is open, so there is nothing to check. All of them: proofgen orders"
            if pipeline.order_names(workshop)
            else reports.orders_text(reports.orders_document(()))
        )
    else:
        printing.as_it_is(
            reports.terminal(findings, colour=printing.wants_colour(), verbose=given.verbose)
        )
    printing.faults(workshop.trouble)
    failed = EXIT_FINDING if pipeline.reached(findings, given.fail_on) else EXIT_DONE
    return worst_exit(workshop.exit_code, failed)


def _accept(given: Check, key: str) -> int:
    because = given.because or ""
    if len(given.orders) != 1 or not because.strip():
        raise UsageError(
            "accepting needs one order and a reason",
            f'proofgen check ORDER --accept {key} --because "…"',
        )
    with running.workshop_of(given, writes=True) as workshop:
        (order,) = given.orders
        finding = pipeline.accept(workshop, order, key, because)
    printing.result(f"Accepted for {order}: {finding.says}")
    printing.result(f"    Next: proofgen proof {order}")
    return EXIT_DONE


def proof(given: Proof) -> int:
    """Make proof pages and PDFs."""
    with running.workshop_of(given, writes=True) as workshop:
        if given.again and not given.orders:
            raise UsageError("--again needs the orders", "proofgen proof ORDER --again")
        made = pipeline.make_proofs(
            workshop, given.orders, one_file=given.one_file, again=given.again
        )
        gone = pipeline.take_back(workshop, [one.order for one in made])
    for line in gone:
        printing.aside(line)
    for one in made:
        printing.result(f"{one.order}: proof {one.edition} is at {one.page}")
        for line in one.wrote:
            printing.result(f"    {line}")
        printing.result(f"    Next: {one.next}")
    if not made and not workshop.trouble:
        printing.result("No order is waiting for a proof.")
    printing.faults(workshop.trouble)
    return workshop.exit_code


def press(given: Press) -> int:
    """Make press sheets and tickets, or record that they were pressed."""
    with running.workshop_of(given, writes=True) as workshop:
        if given.done:
            if not given.orders:
                raise UsageError("--done needs the orders", "proofgen press ORDER --done")
            return _pressed(workshop, given.orders)
        prepared = pipeline.prepare_all(workshop, given.orders)
        document = pipeline.press_all(
            workshop, prepared, named=given.orders, png=given.png, contact=given.contact
        )
    if given.json:
        printing.document(document)
    else:
        for line in pipeline.press_lines(workshop, document):
            printing.result(line)
    printing.faults(workshop.trouble)
    return workshop.exit_code


def _pressed(workshop: Workshop, orders: Sequence[str]) -> int:
    prepared = pipeline.prepare_all(workshop, orders)
    for line in pipeline.take_back(workshop, (), prepared):
        printing.aside(line)
    for one in prepared:
        with workshop.each(f"marking {one.order.id}"):
            printing.result(pipeline.mark_pressed(workshop, one))
    printing.faults(workshop.trouble)
    return workshop.exit_code


def catalogue(given: Catalogue) -> int:
    """Publish the season."""
    with running.workshop_of(given, writes=True) as workshop:
        pages = pipeline.make_catalogue(workshop)
    for line in pages:
        printing.result(line)
    printing.faults(workshop.trouble)
    return workshop.exit_code


def build(given: Build) -> int:
    """Everything that can be built; ends with what to upload and what to do next."""
    with running.workshop_of(given, writes=True) as workshop:
        built = pipeline.build(workshop)
    for line in built.lines(explain=given.explain):
        printing.result(line)
    printing.faults(workshop.trouble)
    return worst_exit(workshop.exit_code, EXIT_FINDING if built.stopped else EXIT_DONE)
