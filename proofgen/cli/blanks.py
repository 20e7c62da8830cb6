"""The command about blanks: list them, show one in numbers, measure a new one."""

from __future__ import annotations

import argparse
import sys
from typing import Any

from proofgen import desk, reports
from proofgen.cli import talk
from proofgen.errors import EXIT_DONE, EXIT_FINDING, EXIT_SHOP, UsageError, worst_exit

CHOICES = ("construction", "shape", "on_top", "finish", "title")


def blanks(given: argparse.Namespace) -> int:
    """The blanks, or one in numbers (all finished mm), or a new one."""
    if given.measure:
        return _measure(given)
    unused = [k for k in (*CHOICES, *desk.BLANK_LENGTHS, "colour") if getattr(given, k)]
    if unused:
        option = "name" if unused[0] == "title" else unused[0].replace("_", "-")
        raise UsageError(f"--{option} goes with --measure", "add --measure")
    if given.swatches or given.readings:
        return _swatches(given)
    if given.cloth:
        raise UsageError("--cloth goes with --swatches or --readings", "add one of them")
    if given.true_size:
        return _true_size(given)
    document, problems, faults = desk.blanks(given.shop, given.name)
    if given.json:
        talk.document(document)
    else:
        talk.result(reports.blanks_text(document))
    for problem in problems:
        talk.aside(problem)
    talk.tell_trouble(list(faults))
    failed = EXIT_FINDING if problems else EXIT_DONE
    return worst_exit(failed, EXIT_SHOP if faults else EXIT_DONE)


def _true_size(given: argparse.Namespace) -> int:
    if given.name is None:
        raise UsageError(
            "--true-size needs the name of a blank",
            f"proofgen blanks NAME --true-size {given.true_size}; `proofgen blanks` lists them",
        )
    made = desk.make_true_size(given.shop, given.name, given.true_size)
    talk.result(f"Drawn: {made.file}")
    talk.result(f"    {made.says}")
    talk.result("    Next: print it at actual size (100 %), check the card, lay the blank on it")
    for problem in made.problems:
        talk.aside(problem)
    return EXIT_FINDING if made.problems else EXIT_DONE


def _swatches(given: argparse.Namespace) -> int:
    option = "--swatches" if given.swatches else "--readings"
    if given.name is None:
        raise UsageError(
            f"{option} needs the name of a blank",
            f"proofgen blanks NAME {option} {given.swatches or given.readings}; "
            "`proofgen blanks` lists them",
        )
    if given.swatches and given.readings:
        raise UsageError("--swatches comes before --readings", "press and read the sheet first")
    if given.swatches:
        file = desk.make_swatches(given.shop, given.name, given.swatches, given.cloth)
        talk.result(f"Drawn: {file}")
        talk.result("    Next: press its first page on the cloth, read it by the second")
        return EXIT_DONE
    with talk.workshop_of(given, writes=True) as workshop:
        read = desk.take_readings(workshop, given.name, given.readings, given.cloth)
    for sentence in read.says:
        talk.result(sentence)
    talk.result(f"Written: {read.file}")
    talk.result("    Next: proofgen build")
    return EXIT_DONE


def _measure(given: argparse.Namespace) -> int:
    told: dict[str, Any] = {key: getattr(given, key) for key in CHOICES}
    lengths = {k: v for k in desk.BLANK_LENGTHS if (v := getattr(given, k)) is not None}
    tape = desk.Tape(name=given.name, colours=given.colour, lengths=lengths, **told)
    with talk.workshop_of(given, writes=True) as workshop:
        ask = talk.ask if sys.stdin.isatty() else None
        made = desk.measure(workshop, tape, ask)
    if given.json:
        talk.document(made.document)
        return EXIT_DONE
    talk.result(reports.blanks_text(made.document))
    talk.result(f"Written: {made.file}")
    talk.result(f"Drawn: {made.drawing}")
    talk.result(f"    Next: proofgen blanks {made.name} --true-size {made.name}.pdf")
    talk.result("    Then read what stands at the top of its file, and offer it in a design.")
    return EXIT_DONE
