"""What was typed, as the record of its command; every help text ends with an example."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path
from typing import NoReturn

from proofgen import __version__
from proofgen.cli import commands as _declared  # noqa: F401
from proofgen.cli.options import COMMANDS, Given, add_options, given_to
from proofgen.errors import EXIT_USAGE
from proofgen.say.safe import for_terminal


class Parser(argparse.ArgumentParser):
    """Says usage errors in our manner: what is wrong, then what to type. The options of a command
    are added when it is the one that was typed."""

    record: type[Given] | None = None

    def parse_known_args(self, args=None, namespace=None):
        if self.record:
            add_options(self, self.record)
            self.record = None
        return super().parse_known_args(args, namespace)

    def error(self, message: str) -> NoReturn:
        problem = for_terminal(f"{self.prog}: {message}")
        self.exit(EXIT_USAGE, f"{problem}\n    To mend it: see {self.prog} --help\n")


def _example(lines: Sequence[str]) -> str:
    """The end of a help text: commands to try."""
    return "example:\n" + "\n".join(f"  {line}" for line in lines)


def build_parser() -> Parser:
    """The parser of every command; `command` of what it gives back is the command's name."""
    raw = argparse.RawDescriptionHelpFormatter
    parser = Parser(
        prog="proofgen",
        description="From a customer's photo to a signed, mirrored press sheet.",
        epilog=_example(
            ("proofgen demo", "proofgen --shop demo orders", "proofgen --shop demo check")
        ),
        formatter_class=raw,
    )
    parser.add_argument("--version", action="version", version=f"proofgen {__version__}")
    parser.add_argument(
        "--shop", type=Path, default=Path(), metavar="DIR", help="the shop folder (default: here)"
    )
    parser.add_argument("-q", "--quiet", action="store_true", help="no progress on stderr")
    each = parser.add_subparsers(dest="command", metavar="COMMAND", required=True)
    for name, record in COMMANDS.items():
        made = each.add_parser(
            name,
            help=record.purpose,
            description=record.purpose,
            epilog=_example(record.examples),
            formatter_class=raw,
        )
        made.record = record
    return parser


def read_command(arguments: Sequence[str] | None = None) -> tuple[str, Given]:
    """The name of the command that was typed, and its record. SystemExit as argparse's."""
    values = vars(build_parser().parse_args(arguments))
    name = values.pop("command")
    return name, given_to(COMMANDS[name], values)
