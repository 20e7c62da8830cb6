"""The command about blanks: list them, show one in numbers, measure a new one."""

from __future__ import annotations

from pathlib import Path

from proofgen import desk, reports
from proofgen.cli import printing, running
from proofgen.cli.commands import Blanks, Trial
from proofgen.errors import EXIT_DONE, EXIT_FINDING, EXIT_SHOP, UsageError, worst_exit
from proofgen.workshop import at_the_door

CHOICES = ("construction", "shape", "on_top", "strip", "finish", "title")
# The figures of a press, and the field of the record where it has another name.
FIGURES = {key: "source" if key == "from" else key for key in desk.PRESS_FIGURES}


def blanks(given: Blanks) -> int:
    """The blanks, or one in numbers (all finished mm), or a new one."""
    if given.measure:
        return _measure(given)
    apart = (*CHOICES, *desk.BLANK_LENGTHS, "colour", *FIGURES.values())
    unused = [k for k in apart if getattr(given, k)]
    if unused:
        named = {"title": "name", "source": "from"}
        option = named.get(unused[0], unused[0].replace("_", "-"))
        raise UsageError(f"--{option} goes with --measure", "add --measure")
    if given.count:
        return _count(given)
    if given.leave_out and not given.readings:
        raise UsageError("--leave-out goes with --readings", "add the file of readings")
    if sheet := given.swatches or given.readings:
        return _swatches(given, sheet)
    if given.cloth:
        raise UsageError("--cloth goes with --swatches or --readings", "add one of them")
    if given.true_size:
        return _true_size(given, given.true_size)
    at_the_door(given.shop)
    document, problems, faults = desk.blanks(given.shop, given.name)
    printing.either(document, reports.blanks_text, as_json=given.json)
    for problem in problems:
        printing.aside(problem)
    printing.faults(list(faults))
    failed = EXIT_FINDING if problems else EXIT_DONE
    return worst_exit(failed, EXIT_SHOP if faults else EXIT_DONE)


def _true_size(given: Blanks, file: Path) -> int:
    if given.name is None:
        raise UsageError(
            "--true-size needs the name of a blank",
            f"proofgen blanks NAME --true-size {file}; `proofgen blanks` lists them",
        )
    made = desk.make_true_size(given.shop, given.name, file)
    printing.result(f"Drawn: {made.file}")
    printing.result(f"    {made.says}")
    printing.result(
        "    Next: print it at actual size (100 %), check the card, lay the blank on it"
    )
    for problem in made.problems:
        printing.aside(problem)
    return EXIT_FINDING if made.problems else EXIT_DONE


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


def _swatches(given: Blanks, file: Path) -> int:
    option = "--swatches" if given.swatches else "--readings"
    if given.name is None:
        raise UsageError(
            f"{option} needs the name of a blank",
            f"proofgen blanks NAME {option} {file}; `proofgen blanks` lists them",
        )
    if given.swatches and given.readings:
        raise UsageError("--swatches comes before --readings", "press and read the sheet first")
    if given.swatches:
        drawn = desk.make_swatches(given.shop, given.name, file, given.cloth)
        printing.result(f"Drawn: {drawn}")
        printing.result("    Next: press its first page on the cloth, read it by the second")
        return EXIT_DONE
    with running.workshop_of(given, writes=True) as workshop:
        read = desk.take_readings(workshop, given.name, file, given.cloth, given.leave_out)
    for sentence in read.says:
        printing.result(sentence)
    printing.result(f"Written: {read.file}")
    printing.result("    Next: proofgen build")
    return EXIT_DONE


def _measure(given: Blanks) -> int:
    tape = desk.Tape(
        name=given.name,
        construction=given.construction,
        shape=given.shape,
        ends={"on_top": given.on_top, "strip": given.strip},
        finish=given.finish,
        title=given.title,
        colours=given.colour,
        figures={k: v for k, field in FIGURES.items() if (v := getattr(given, field)) is not None},
        lengths={k: v for k in desk.BLANK_LENGTHS if (v := getattr(given, k)) is not None},
    )
    with running.workshop_of(given, writes=True) as workshop:
        made = desk.measure(workshop, tape, running.ask())
    if given.json:
        printing.document(made.document)
        return EXIT_DONE
    printing.result(reports.blanks_text(made.document))
    printing.result(f"Written: {made.file}")
    printing.result(f"Drawn: {made.drawing}")
    printing.result(f"    Next: proofgen blanks {made.name} --true-size {made.name}.pdf")
    printing.result("    Then read what stands at the top of its file, and offer it in a design.")
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
