"""The commands and their options; every help text ends with an example that a test runs."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from pathlib import Path
from typing import NoReturn

from proofgen import __version__
from proofgen.cli import blank_options
from proofgen.errors import EXIT_USAGE

Add = Callable[..., argparse.ArgumentParser]


class Parser(argparse.ArgumentParser):
    """Says usage errors in our manner: what is wrong, then what to type."""

    def error(self, message: str) -> NoReturn:
        self.exit(EXIT_USAGE, f"{self.prog}: {message}\n    To mend it: see {self.prog} --help\n")


def example(*lines: str) -> dict[str, object]:
    """Keyword arguments that end a help text with commands to try."""
    shown = "\n".join(f"  {line}" for line in lines)
    return {
        "epilog": f"example:\n{shown}",
        "formatter_class": argparse.RawDescriptionHelpFormatter,
    }


def _order_names(parser: argparse.ArgumentParser, what: str) -> None:
    parser.add_argument("orders", nargs="*", metavar="ORDER", help=f"{what} (all of them if none)")


def _json(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--json", action="store_true", help="one JSON document on stdout")


def _fail_on(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--fail-on",
        choices=("stop", "warn", "note"),
        default="stop",
        help="the mildest finding that makes the exit code 1",
    )


def build_parser() -> Parser:
    """The parser of every command; `command` of what it gives back is the command's name."""
    parser = Parser(
        prog="proofgen",
        description="From a customer's photo to a signed, mirrored press sheet.",
        **example(  # type: ignore[arg-type]
            "proofgen demo", "proofgen --shop demo orders", "proofgen --shop demo check"
        ),
    )
    parser.add_argument("--version", action="version", version=f"proofgen {__version__}")
    parser.add_argument(
        "--shop", type=Path, default=Path(), metavar="DIR", help="the shop folder (default: here)"
    )
    parser.add_argument("-q", "--quiet", action="store_true", help="no progress on stderr")
    subs = parser.add_subparsers(dest="command", metavar="COMMAND", required=True)

    def add(name: str, says: str, *lines: str) -> argparse.ArgumentParser:
        return subs.add_parser(
            name,
            help=says,
            description=says,
            **example(*lines),  # type: ignore[arg-type]
        )

    for group in (_to_begin, _order_command, _to_make, _with_customers, _to_keep):
        group(add)
    return parser


def _to_begin(add: Add) -> None:
    demo = add("demo", "copy the demo shop into a folder and build it", "proofgen demo my-demo")
    demo.add_argument("folder", nargs="?", type=Path, default=Path("demo"), metavar="DIR")

    start = add("start", "make a new shop folder", "proofgen start my-shop --name 'My shop'")
    start.add_argument("folder", type=Path, metavar="DIR")
    start.add_argument("--name", default="", help="the shop's name")
    start.add_argument("--contact", default="", help="mail address that answers come to")
    start.add_argument(
        "--theme", default="quay", help="look of the pages; so far there is one: quay"
    )

    look = add("look", "how large can this photo be, on which blank", "proofgen look photo.jpg")
    look.add_argument("photo", type=Path, metavar="PHOTO")
    look.add_argument("--blank", metavar="NAME", help="only this blank")
    _json(look)


def _to_make(add: Add) -> None:
    check = add("check", "what is wrong with the orders, worst first", "proofgen check")
    _order_names(check, "orders to check")
    check.add_argument(
        "--accept", metavar="FINDING", help="let this finding through; check names it"
    )
    check.add_argument("--because", metavar="TEXT", help="why, in your words; it is kept")
    check.add_argument(
        "--page", type=Path, metavar="FILE", help="also as a page, each photo at its real size"
    )
    check.add_argument("-v", "--verbose", action="store_true", help="also passes and measures")
    _json(check)
    _fail_on(check)

    proof = add("proof", "make proof pages and PDFs for orders that are clean", "proofgen proof")
    _order_names(proof, "orders to make proofs of")
    proof.add_argument("--one-file", action="store_true", help="also one file to attach to a mail")

    press = add("press", "mirrored press sheets and tickets for signed orders", "proofgen press")
    _order_names(press, "orders to press")
    press.add_argument("--done", action="store_true", help="record that these were pressed")
    _json(press)

    add("catalogue", "the season's pages and PDF", "proofgen catalogue")

    build = add("build", "all that can be built, and what to upload", "proofgen build")
    build.add_argument("--explain", action="store_true", help="say why each order was or was not")


def _with_customers(add: Add) -> None:
    letter = add(
        "letter",
        "the mail that brings the customer to the proof",
        "proofgen letter quill-wedding",
        "proofgen letter thistle-sill --photo",
    )
    letter.add_argument("order", metavar="ORDER")
    letter.add_argument("--sent", action="store_true", help="record that it was sent")
    letter.add_argument(
        "--photo", action="store_true", help="instead, a mail that asks for a better photo"
    )

    answer = add("answer", "take a customer's answer", "proofgen answer slip.txt")
    answer.add_argument(
        "source",
        metavar="FILE|FOLDER|-|ORDER",
        help="a mail or text with the answer slip that the proof page wrote, a folder of "
        "them, - to paste text or type a code; the order's name with --in-person",
    )
    answer.add_argument("--on", metavar="DAY", help="the day it came, as 2026-11-25")
    answer.add_argument("--in-person", metavar="NAME", help="who said it, standing before you")
    answer.add_argument(
        "--says",
        choices=("ok", "corrections", "again"),
        default="ok",
        help="with --in-person: OK, OK with corrections, or show it again",
    )

    for name, says in (
        ("withdraw", "take an order's proof back; its page becomes a notice"),
        ("forget", "remove a customer's data; the bare fact of the sale stays"),
    ):
        made = add(name, says, f"proofgen {name} fenn-harbour")
        made.add_argument("order", metavar="ORDER")


def _to_keep(add: Add) -> None:
    orders = add("orders", "where each order stands, and the next step", "proofgen orders")
    orders.add_argument("--handed-over", metavar="ORDER", help="record that it was handed over")
    _json(orders)

    blank_options.add_options(
        add(
            "blanks",
            "the blanks, one of them in numbers, or a new one measured with a tape",
            "proofgen blanks can-wrap-linen",
            "proofgen blanks stall-mat --measure --construction flat --width 200mm --height 130mm",
        )
    )

    serve = add("serve", "look at the site on this machine", "proofgen serve --port 8010")
    serve.add_argument("--port", type=int, default=8010)

    add("ready", "what is missing on this machine, and how to get it", "proofgen ready")

    backup = add("backup", "one file with all that cannot be made again", "proofgen backup b.zip")
    backup.add_argument("file", type=Path, metavar="FILE")

    records = add("records", "look after the records", "proofgen records verify")
    records.add_argument("action", choices=("verify",), help="check that no line was altered")


def _order_command(add: Add) -> None:
    order = add(
        "order",
        "write a new order; asks for what you leave out",
        "proofgen order --customer 'Odalys Fenn' --design harbour-photo --blank can-wrap-linen "
        "--cloth white --quantity 2 --photo photo.jpg --words name='Odalys & Bram' "
        "--words line='forty years at anchor'",
    )
    order.add_argument("--customer", metavar="NAME", help="who it is for")
    order.add_argument("--email", metavar="ADDRESS", help="tells customers of one name apart")
    order.add_argument("--due", metavar="DAY", help="when it must be ready, as 2026-12-12")
    order.add_argument("--design", metavar="NAME", help="a folder in designs/")
    order.add_argument("--blank", metavar="NAME", help="one that the design is offered on")
    order.add_argument("--cloth", metavar="COLOUR", help="a cloth of the blank: white, sky, …")
    order.add_argument("--quantity", type=int, metavar="N", help="how many pieces")
    order.add_argument(
        "--photo",
        action="append",
        default=[],
        metavar="[PLACE=]FILE",
        help="for a place of the design; can be repeated",
    )
    order.add_argument(
        "--words",
        action="append",
        default=[],
        metavar="[PLACE=]TEXT",
        help="for a place of the design; can be repeated",
    )
    order.add_argument(
        "--list",
        type=Path,
        metavar="CSV",
        help="a table: the first row names places for words, each other row is one piece",
    )
    order.add_argument("--name", metavar="ORDER", help="what to call the order's folder")
    order.add_argument("--like", metavar="ORDER", help="take what you leave out from this order")
