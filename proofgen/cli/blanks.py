"""The commands about blanks: list and show, measure, true size, swatches, trial."""

from __future__ import annotations

from pathlib import Path

from proofgen import desk, reports
from proofgen.cli import printing, running
from proofgen.cli.blank_commands import Blanks, Measure, Swatches, Trial, Truesize
from proofgen.errors import EXIT_DONE, EXIT_FINDING, EXIT_SHOP, UsageError, worst_exit
from proofgen.workshop import at_the_door

# The figures of a press, and the field of the record where it has another name.
FIGURES = {key: "source" if key == "from" else key for key in desk.PRESS_FIGURES}


def blanks(given: Blanks) -> int:
    """The blanks, or one in numbers (all finished mm), or how many of it were counted."""
    if given.count:
        return _count(given)
    at_the_door(given.shop)
    document, problems, faults = desk.blanks(given.shop, given.name)
    printing.either(document, reports.blanks_text, as_json=given.json)
    for problem in problems:
        printing.aside(problem)
    printing.faults(list(faults))
    failed = EXIT_FINDING if problems else EXIT_DONE
    return worst_exit(failed, EXIT_SHOP if faults else EXIT_DONE)


def _count(given: Blanks) -> int:
    if given.name is None:
        raise UsageError(
            "--count needs the name of a blank",
            "proofgen blanks NAME --count white=40; `proofgen blanks` lists them",
        )
    with running.workshop_of(given, writes=True) as workshop:
        done = desk.count_blanks(workshop, given.name, given.count)
    for sentence in done.says:
        printing.result(sentence)
    printing.result(f"Written: {done.file}")
    printing.result("    Next: proofgen orders --tally")
    return EXIT_DONE


def truesize(given: Truesize) -> int:
    """A sheet with a blank at its true size."""
    file = given.file or Path(f"{given.name}.pdf")
    made = desk.make_true_size(given.shop, given.name, file)
    printing.result(f"Drawn: {made.file}")
    printing.result(f"    {made.says}")
    printing.result(
        "    Next: print it at actual size (100 %), check the card, lay the blank on it"
    )
    for problem in made.problems:
        printing.aside(problem)
    return EXIT_FINDING if made.problems else EXIT_DONE


def swatches(given: Swatches) -> int:
    """The sheet of swatches, or what was read off it."""
    if given.leave_out and not given.readings:
        raise UsageError("--leave-out goes with --readings", "add --readings CSV")
    if given.file and given.readings:
        raise UsageError(
            "the sheet comes before its readings",
            f"press and read it first; then: proofgen swatches {given.name} --readings CSV",
        )
    if not given.readings:
        file = given.file or Path(f"{given.name}-swatches.pdf")
        drawn = desk.make_swatches(given.shop, given.name, file, given.cloth)
        printing.result(f"Drawn: {drawn}")
        printing.result("    Next: press its first page on the cloth, read it by the second")
        return EXIT_DONE
    with running.workshop_of(given, writes=True) as workshop:
        read = desk.take_readings(
            workshop, given.name, given.readings, given.cloth, given.leave_out
        )
    for sentence in read.says:
        printing.result(sentence)
    printing.result(f"Written: {read.file}")
    printing.result("    Next: proofgen build")
    return EXIT_DONE


def measure(given: Measure) -> int:
    """A new blank from what a tape shows."""
    tape = desk.Tape(
        name=given.name,
        construction=given.construction,
        shape=given.shape,
        ends={"on_top": given.on_top, "strip": given.strip},
        finish=given.finish,
        title=given.title,
        called=given.called,
        colours=given.colour,
        holes=given.hole,
        figures={k: v for k, field in FIGURES.items() if (v := getattr(given, field)) is not None},
        lengths={k: v for k in desk.BLANK_LENGTHS if (v := getattr(given, k)) is not None},
    )
    with running.unasked("measure"), running.workshop_of(given, writes=True) as workshop:
        made = desk.measure(workshop, tape, running.ask())
    if given.json:
        printing.document(made.document)
        return EXIT_DONE
    printing.result(reports.blanks_text(made.document))
    for sentence in made.told:
        printing.result(sentence)
    printing.result(f"Written: {made.file}")
    if made.copied:
        printing.result(
            f"    Your own {made.copied} now stands in the place of the built-in one; what you did "
            "not say was copied from it."
        )
    printing.result(f"Drawn: {made.drawing}")
    printing.result(f"    Next: proofgen truesize {made.name}")
    printing.result(
        "    Then read what stands at the top of its file, and offer it in a design"
        + (":" if made.to_offer else ".")
    )
    for line in made.to_offer:
        printing.result(f"      {line}")
    return EXIT_DONE


def trial(given: Trial) -> int:
    """The sheets of a trial, or what they showed."""
    chosen = desk.Chosen(heat=given.heat, time=given.time, along=given.along, across=given.across)
    with running.workshop_of(given, writes=True) as workshop:
        if chosen == desk.Chosen():
            printing.result(f"Drawn: {desk.make_trial(workshop, given.blank)}")
            printing.result("    Next: print pages 1 and 2, and do what page 3 says")
            return EXIT_DONE
        taken = desk.take_trial(workshop, given.blank, chosen)
    for sentence in taken.says:
        printing.result(sentence)
    printing.result(f"Written: {taken.file}")
    printing.result("    Next: proofgen build")
    return EXIT_DONE
