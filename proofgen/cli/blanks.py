"""The command about blanks: list them, show one in numbers, measure a new one."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import Any

from proofgen import pipeline, reports
from proofgen.cli import talk
from proofgen.errors import EXIT_DONE, EXIT_FINDING, EXIT_SHOP, UsageError, worst_exit

CHOICES = ("construction", "shape", "on_top", "finish", "title")


def add_options(parser: argparse.ArgumentParser) -> None:
    """The options of `blanks`; those of a tape are one group."""
    parser.add_argument("name", nargs="?", metavar="NAME", help="the blank's file name")
    parser.add_argument("--json", action="store_true", help="one JSON document on stdout")
    parser.add_argument(
        "--measure", action="store_true", help="write down a new blank; asks for what you leave out"
    )
    parser.add_argument(
        "--true-size",
        type=Path,
        metavar="FILE",
        help="a PDF of the blank at its true size, to lay the real one on",
    )
    tape = parser.add_argument_group("what a tape shows, with --measure")
    tape.add_argument("--construction", metavar="KIND", help="wrap, fold, sewn or flat")
    tape.add_argument("--name", dest="title", metavar="TEXT", help="what you call it")
    helps = {
        "vessel": "across the can, or “round 207.6 mm” for a tape laid round it",
        "length": "of a wrap, lying flat, from end to end",
        "width": "of the flat cloth, or of a face",
        "height": "of the cloth; of a fold, front and back together",
        "thickness": "of the cloth",
        "closure": "of the hook-and-loop strip, across it",
        "shortest": "least overlap that holds",
        "seam": "of a fold, at each side",
        "fold": "of a fold, the strip round the bottom",
        "hem": "of a fold, turned over at each opening",
        "base": "of a fold, the part of a face under the can",
        "gap": "of a sewn blank, where the press stops short of the seam",
        "corner": "radius of a rounded corner",
        "diameter": "of a round blank",
        "bleed": "ink past the edge",
        "safe": "from the edge to the nearest word",
    }
    for key in pipeline.BLANK_LENGTHS:
        tape.add_argument(f"--{key}", metavar="LENGTH", help=helps[key])
    tape.add_argument("--shape", metavar="SHAPE", help="of a flat blank: " + _listed())
    tape.add_argument("--on-top", metavar="END", help="of a wrap: right or left")
    tape.add_argument("--finish", metavar="LOOK", help="linen-look, foam or smooth")
    tape.add_argument(
        "--colour",
        action="append",
        default=[],
        metavar="NAME=#RRGGBB",
        help="of the cloth; can be repeated (white if none)",
    )


def _listed() -> str:
    *most, last = pipeline.BLANK_SHAPES
    return f"{', '.join(most)} or {last}"


def blanks(given: argparse.Namespace) -> int:
    """The blanks, or one in numbers (all finished mm), or a new one."""
    if given.measure:
        return _measure(given)
    unused = [k for k in (*CHOICES, *pipeline.BLANK_LENGTHS, "colour") if getattr(given, k)]
    if unused:
        option = "name" if unused[0] == "title" else unused[0].replace("_", "-")
        raise UsageError(f"--{option} goes with --measure", "add --measure")
    if given.true_size:
        return _true_size(given)
    document, problems, faults = pipeline.blanks(given.shop, given.name)
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
    made = pipeline.make_true_size(given.shop, given.name, given.true_size)
    talk.result(f"Drawn: {made.file}")
    talk.result(f"    {made.says}")
    talk.result("    Next: print it at actual size (100 %), check the card, lay the blank on it")
    for problem in made.problems:
        talk.aside(problem)
    return EXIT_FINDING if made.problems else EXIT_DONE


def _measure(given: argparse.Namespace) -> int:
    told: dict[str, Any] = {key: getattr(given, key) for key in CHOICES}
    lengths = {k: v for k in pipeline.BLANK_LENGTHS if (v := getattr(given, k)) is not None}
    tape = pipeline.Tape(name=given.name, colours=given.colour, lengths=lengths, **told)
    with talk.workshop_of(given, writes=True) as workshop:
        ask = talk.ask if sys.stdin.isatty() else None
        made = pipeline.measure(workshop, tape, ask)
    if given.json:
        talk.document(made.document)
        return EXIT_DONE
    talk.result(reports.blanks_text(made.document))
    talk.result(f"Written: {made.file}")
    talk.result(f"Drawn: {made.drawing}")
    talk.result(f"    Next: proofgen blanks {made.name} --true-size {made.name}.pdf")
    return EXIT_DONE
