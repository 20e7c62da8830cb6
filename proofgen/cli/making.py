"""Commands that work on orders: check, proof, press, catalogue, build."""

from __future__ import annotations

from collections.abc import Sequence

from proofgen import desk, pipeline, reports
from proofgen.cli import printing, running
from proofgen.cli.commands import Build, Catalogue, Check, HandedOver, Press, Proof
from proofgen.errors import EXIT_DONE, EXIT_FINDING, ProofgenError, UsageError, worst_exit
from proofgen.say import joined, quoted_whole
from proofgen.workshop import Workshop


def check(given: Check) -> int:
    """Check orders and print what was found; or accept one finding."""
    if given.accept or given.not_accept:
        return _accept(given, given.accept) if given.accept else _not_accept(given)
    with running.workshop_of(given, looks=True) as workshop:
        prepared = pipeline.prepare_all(workshop, given.orders)
        findings = pipeline.findings_of(workshop, prepared)
        gone = pipeline.take_back(workshop, (), prepared)
        if not given.orders:
            gone += pipeline.names_alike(workshop)
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
        printing.report(
            reports.terminal(findings, colour=printing.wants_colour(), verbose=given.verbose)
        )
    printing.faults(workshop.trouble)
    failed = EXIT_FINDING if pipeline.reached(findings, given.fail_on) else EXIT_DONE
    return worst_exit(workshop.exit_code, failed)


def _says_something(reason: str) -> bool:
    """Whether a reason was given, and not the dots of an example."""
    return any(letter.isalnum() for letter in reason)


def _order(given: Check | Press) -> str:
    """How a command to type names the one order that is meant."""
    return given.orders[0] if len(given.orders) == 1 else "ORDER"


def _accept(given: Check, key: str) -> int:
    because = given.because or ""
    if len(given.orders) != 1 or not _says_something(because):
        raise UsageError(
            "accepting needs one order and a reason",
            f'proofgen check {_order(given)} --accept {key} --because "…"',
        )
    with running.workshop_of(given, writes=True) as workshop:
        (order,) = given.orders
        finding = pipeline.accept(workshop, order, key, because)
    printing.result(f"Accepted for {order}: {finding.says}")
    printing.result(f"    Next: proofgen proof {order}")
    return EXIT_DONE


def _not_accept(given: Check) -> int:
    if len(given.orders) != 1 or not given.not_accept:
        raise UsageError(
            "taking back needs one order", f"proofgen check ORDER --not-accept {given.not_accept}"
        )
    with running.workshop_of(given, writes=True) as workshop:
        (order,) = given.orders
        key = pipeline.not_accept(workshop, order, given.not_accept)
        for line in pipeline.take_back(workshop, (order,)):
            printing.aside(line)
    printing.result(f"No longer accepted for {order}: {key}. The records keep both.")
    printing.result(f"    Next: proofgen check {order}")
    return EXIT_DONE


def proof(given: Proof) -> int:
    """Make proof pages and PDFs."""
    with running.workshop_of(given, writes=True) as workshop:
        if given.again and not given.orders:
            raise UsageError("--again needs the orders", "proofgen proof ORDER --again")
        for name, said in pipeline.with_remarks(workshop, given.orders).items():
            for text in said:
                printing.aside(f"The customer of {name} wrote: {quoted_whole(text)}")
        made, mended = pipeline.make_proofs(
            workshop, given.orders, one_file=given.one_file, again=given.again
        )
        gone = pipeline.take_back(workshop, [one.order for one in made])
    for line in gone:
        printing.aside(line)
    for one in made:
        printing.result(f"{one.order}: proof {one.edition} is at {one.page}")
        for line in one.says:
            printing.result(f"    {line}")
        printing.result(f"    Next: {one.next}")
    for line in mended:
        printing.result(line)
    if made and not workshop.shop.settings.site:
        printing.aside(
            "shop.yaml names no site: yet, so each letter carries its proof as a file. Where you "
            "upload your pages to the web, write site: there first, then make these proofs again."
        )
    if not made and not mended and not workshop.trouble:
        printing.result("No order is waiting for a proof.")
    printing.faults(workshop.trouble)
    return workshop.exit_code


def press(given: Press) -> int:
    """Make press sheets and tickets, plan the evening, or record what was pressed or spoiled."""
    if given.plan and (given.done or given.png or given.contact or given.spoiled or given.not_done):
        raise UsageError("--plan makes no sheets, so it stands alone", "proofgen press --plan")
    if given.again and (not given.orders or given.plan or given.done or given.spoiled):
        raise UsageError(
            "--again makes the sheets of pressed orders once more, so it needs their names",
            "proofgen press ORDER --again",
        )
    if (given.because or given.times != 1) and not given.spoiled:
        raise UsageError(
            "--because and --times go with --spoiled",
            f'proofgen press {_order(given)} --spoiled 12,37 --because "…"',
        )
    with running.workshop_of(given, writes=True) as workshop:
        if given.spoiled:
            return _spoiled(workshop, given, given.spoiled)
        if given.done or given.not_done:
            return _pressed(workshop, given)
        prepared = pipeline.prepare_all(workshop, given.orders)
        document: object
        if given.plan:
            document = plan = pipeline.write_evening(workshop, prepared, given.orders)
            lines = pipeline.evening_lines(workshop, plan)
        else:
            _be_sure(workshop, given)
            document = made = pipeline.press_all(
                workshop, prepared, named=given.orders, png=given.png, contact=given.contact
            )
            lines = pipeline.press_lines(workshop, made)
    if given.json:
        printing.document(document)
    else:
        for line in lines:
            printing.result(line)
    printing.faults(workshop.trouble)
    return workshop.exit_code


def _be_sure(workshop: Workshop, given: Press) -> None:
    """Ask before the sheets of what is pressed are made once more, so that nothing is pressed twice
    by a slip. UsageError, and nothing was made, where that is not wanted or nobody can be asked."""
    pressed = {} if given.again else pipeline.pressed_before(workshop, given.orders)
    if not pressed:
        return
    said = joined(f"{name} was pressed on {day.isoformat()}" for name, day in pressed.items())
    ask = running.ask()
    if ask is not None:
        printing.aside(f"{said}. To print spoiled pieces once more there is --spoiled.")
        if desk.means_yes(ask("Make all its sheets again? Type yes or no:")):
            return
    raise UsageError(
        f"no sheets were made: {said}",
        f"if you mean it: proofgen press {' '.join(given.orders)} --again; "
        f'for spoiled pieces alone: proofgen press {_order(given)} --spoiled N,N --because "…"',
    )


def _spoiled(workshop: Workshop, given: Press, numbers: str) -> int:
    because = " ".join((given.because or "").split())
    if len(given.orders) != 1 or not _says_something(because) or given.done or given.not_done:
        raise UsageError(
            "--spoiled needs one order and a reason, and stands alone",
            f'proofgen press {_order(given)} --spoiled {numbers} --because "…"',
        )
    document = pipeline.press_again(
        workshop, given.orders[0], pipeline.read_numbers(numbers), because, given.times
    )
    if given.json:
        printing.document(document)
    else:
        for line in pipeline.again_lines(workshop, document):
            printing.result(line)
    return EXIT_DONE


def _named(given: Press) -> Sequence[str]:
    """The orders that were pressed: those that were typed, after the command or when asked; never
    all that there are."""
    option = "--done" if given.done else "--not-done"
    ask = running.ask()
    typed = given.orders or (ask("Which orders? Type their names:").split() if ask else ())
    if not typed:
        raise UsageError(f"{option} needs the orders", f"proofgen press ORDER {option}")
    return typed


def _pressed(workshop: Workshop, given: Press) -> int:
    orders = _named(given)
    if given.not_done:
        for name in dict.fromkeys(orders):
            printing.result(pipeline.mark_not_pressed(workshop, name))
        return EXIT_DONE
    prepared = pipeline.prepare_all(workshop, orders)
    for line in pipeline.take_back(workshop, (), prepared):
        printing.aside(line)
    for one in prepared:
        with workshop.each(f"marking {one.order.id}"):
            printing.result(pipeline.mark_pressed(workshop, one))
    printing.faults(workshop.trouble)
    return workshop.exit_code


def handed_over(given: HandedOver) -> int:
    """Note that orders are with their customers, or that they are not after all."""
    note = pipeline.mark_not_handed_over if given.taken_back else pipeline.mark_handed_over
    with running.workshop_of(given, writes=True) as workshop:
        for name in dict.fromkeys(given.orders):
            try:
                printing.result(note(workshop, name))
            except ProofgenError as error:  # the others are handed over all the same
                workshop.trouble.append(error)
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
    if then := built.next_time():
        printing.next_time(then.lines(explain=given.explain))
    printing.faults(workshop.trouble)
    return worst_exit(workshop.exit_code, EXIT_FINDING if built.stopped else EXIT_DONE)
