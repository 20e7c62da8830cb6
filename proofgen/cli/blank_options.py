"""The options of `blanks`, apart from its work so that a help text loads nothing heavy."""

from __future__ import annotations

import argparse
from pathlib import Path

# What a tape shows, as pipeline.BLANK_LENGTHS has it (a test holds them together).
TAPE = {
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
SHAPES = "rectangle, rounded or round"


def add_options(parser: argparse.ArgumentParser) -> None:
    """The options of `blanks`; those of a tape are one group."""
    parser.add_argument(
        "name",
        nargs="?",
        metavar="NAME",
        help="the blank's short name, as the list shows it; its file is blanks/NAME.yaml",
    )
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
    parser.add_argument(
        "--swatches",
        type=Path,
        metavar="FILE",
        help="a PDF of colour swatches to press on the blank, and the list to read them by",
    )
    parser.add_argument(
        "--readings",
        type=Path,
        metavar="FILE",
        help="a CSV of what was read off the swatches: number,L,a,b or number,hex",
    )
    parser.add_argument("--cloth", metavar="COLOUR", help="the cloth, with the two above")
    tape = parser.add_argument_group(
        "what a tape shows, with --measure",
        "LENGTH has its unit: 66.1mm, 6.6cm, 9.5in. For flat blanks --shape says which.",
    )
    tape.add_argument("--construction", metavar="KIND", help="wrap, fold, sewn or flat")
    tape.add_argument(
        "--name", dest="title", metavar="TEXT", help="what you call it, in your own words"
    )
    for key, says in TAPE.items():
        tape.add_argument(f"--{key}", metavar="LENGTH", help=says)
    tape.add_argument("--shape", metavar="SHAPE", help="of a flat blank: " + SHAPES)
    tape.add_argument("--on-top", metavar="END", help="of a wrap: right or left")
    tape.add_argument("--finish", metavar="LOOK", help="linen-look, foam or smooth")
    tape.add_argument(
        "--colour",
        action="append",
        default=[],
        metavar="NAME=#RRGGBB",
        help="of the cloth; can be repeated (white if none)",
    )
