"""What was typed, as the record of its command; every help text ends with an example."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any, NoReturn

from proofgen import __version__
from proofgen.cli import blank_commands as _blanks  # noqa: F401
from proofgen.cli import commands as _declared  # noqa: F401
from proofgen.cli import customer_commands as _customers  # noqa: F401
from proofgen.cli.options import COMMANDS, TWICE, Given, add_options, given_to
from proofgen.cli.stages import by_stage
from proofgen.errors import EXIT_CODES, EXIT_USAGE
from proofgen.say.safe import for_terminal

_PURPOSE = "From a customer's photo to a signed, mirrored press sheet."
_KINDS = {"int": "a whole number"}


class Parser(argparse.ArgumentParser):
    """Says usage errors in our manner: what is wrong, then what to type. The options of a command
    are added when it is the one that was typed."""

    record: type[Given] | None = None

    def __init__(self, **how: Any) -> None:
        super().__init__(**how)
        if how.get("add_help", True):
            self._option_string_actions["--help"].help = "show this help"

    def parse_known_args(self, args: Any = None, namespace: Any = None) -> Any:
        self.fill()
        return super().parse_known_args(args, namespace)

    def fill(self) -> None:
        """Add the options of this parser's command."""
        if self.record is None:
            return
        add_options(self, self.record)
        self.record = None
        operands = [_shown(action) for action in self._actions if not action.option_strings]
        self.usage = " ".join([self.prog, *operands, "[options]"])

    def error(self, message: str) -> NoReturn:
        lacking = message.removeprefix("the following arguments are required: ")
        if lacking == "COMMAND":
            self.refuse("no command was typed", "proofgen --help shows them all")
        if lacking != message:
            cure = f"see an example: {self.prog} --help"
            self.refuse(f"{lacking} is missing: {self.usage}", cure)
        _, sign, rest = message.partition("argument ")
        if rest.endswith(": expected one argument"):
            option = rest.partition(":")[0]
            self.refuse(f"nothing stands behind {option}", f"see {self.prog} --help")
        if rest.endswith(f": {TWICE}"):
            option = rest.partition(":")[0]
            self.refuse(
                f"{option} was given twice, and not the same",
                "give it once; for the other one, type the command once more",
            )
        self.refuse(rest if sign else message, f"see {self.prog} --help")

    def refuse(self, problem: str, cure: str) -> NoReturn:
        """End with what is wrong with what was typed, and what to type."""
        said = for_terminal(f"{self.prog}: {problem}")
        self.exit(EXIT_USAGE, f"{said}\n    To mend it: {for_terminal(cure)}\n")

    def _check_value(self, action: argparse.Action, value: object) -> None:
        if action.choices is None or value in action.choices:
            return
        known = [str(one) for one in action.choices]
        if isinstance(action, argparse._SubParsersAction):
            self.refuse(f"there is no command “{value}”", _command_meant(str(value), known))
        from proofgen.say.near import did_you_mean

        listed = f"choose one of: {', '.join(known)}"
        self.refuse(
            f"{_name(action)} cannot be “{value}”",
            did_you_mean(str(value), known, typed=True) or listed,
        )

    def _get_value(self, action: argparse.Action, arg_string: str) -> object:
        try:
            return super()._get_value(action, arg_string)
        except argparse.ArgumentError:
            kind = _KINDS.get(getattr(action.type, "__name__", ""), "what goes here")
            self.refuse(f"{_name(action)}: “{arg_string}” is not {kind}", f"see {self.prog} --help")

    def format_help(self) -> str:
        """argparse's, with its headings in our words."""
        return super().format_help().replace("usage: ", "", 1)


class _Whole(Parser):
    """The parser of what stands before a command's name."""

    def format_help(self) -> str:
        """The commands first, by the walk: they are what somebody looks for here."""
        shown = argparse.ArgumentParser(add_help=False, usage=argparse.SUPPRESS)
        shown._optionals.title = "options"
        for action in self._actions:
            if action.option_strings:
                shown._add_action(action)
        options = shown.format_help().strip()
        each = "proofgen COMMAND --help shows what a command can do, with an example."
        first = ("proofgen demo", "proofgen --shop demo orders", "proofgen --shop demo check")
        parts = (f"proofgen COMMAND …\n\n{_PURPOSE}", _walk(), each, options, _codes())
        return "\n\n".join((*parts, _example(first))) + "\n"


def _name(action: argparse.Action) -> str:
    return action.option_strings[-1] if action.option_strings else str(action.metavar or "it")


def _shown(action: argparse.Action) -> str:
    """An operand in the line of usage."""
    name = str(action.metavar or "|".join(map(str, action.choices or ())))
    shapes = {"?": f"[{name}]", "*": f"[{name} …]", "+": f"{name} …"}
    return shapes.get(str(action.nargs), name)


def _command_meant(typed: str, known: Sequence[str]) -> str:
    from proofgen.say.near import near_names

    near = near_names(typed, known)
    return f"did you mean proofgen {near[0]}?" if near else "proofgen --help shows them all"


def _example(lines: Sequence[str]) -> str:
    """The end of a help text: commands to try."""
    return "example:\n" + "\n".join(f"  {line}" for line in lines)


def _walk() -> str:
    """The commands, grouped by the walk from a new shop to an order that is handed over."""
    wide = max(map(len, COMMANDS)) + 2
    lines = []
    for title, names in by_stage(COMMANDS):
        lines += ["", f"{title}:", *(f"  {n:<{wide}}{COMMANDS[n].purpose}" for n in names)]
    return "\n".join(lines[1:])


def _codes() -> str:
    """What a program reads from how a run ended."""
    return "exit codes:\n" + "\n".join(f"  {code:<3}  {says}" for code, says in EXIT_CODES.items())


def _everywhere(parser: Parser, *, below: bool) -> None:
    """The options that stand before or behind a command's name."""
    parser.add_argument(
        "--shop",
        type=Path,
        metavar="FOLDER",
        help="the shop's folder (where you are, if left out)",
        default=argparse.SUPPRESS if below else Path(),
    )
    parser.add_argument(
        "-q",
        "--quiet",
        action="store_true",
        help="do not tell what is being done",
        default=argparse.SUPPRESS if below else False,
    )


def build_parser() -> Parser:
    """The parser of every command; `command` of what it gives back is the command's name."""
    raw = argparse.RawDescriptionHelpFormatter
    parser = _Whole(prog="proofgen", usage="proofgen COMMAND …")
    parser.add_argument(
        "--version", action="version", version=f"proofgen {__version__}", help="which proofgen"
    )
    _everywhere(parser, below=False)
    each = parser.add_subparsers(
        dest="command", metavar="COMMAND", required=True, prog="proofgen", parser_class=Parser
    )
    for name, record in COMMANDS.items():
        made = each.add_parser(
            name,
            description=record.purpose,
            epilog=_example(record.examples),
            formatter_class=raw,
        )
        made._positionals.title = "what it is about"
        made.record = record
        _everywhere(made, below=True)
    return parser


def read_command(arguments: Sequence[str] | None = None) -> tuple[str, Given]:
    """The name of the command that was typed, and its record. SystemExit as argparse's."""
    typed = sys.argv[1:] if arguments is None else arguments
    parser = build_parser()
    read, unknown = parser.parse_known_args(typed)
    if unknown:
        from proofgen.cli.spaces import in_one_word

        parser = build_parser()  # anew: one that has read knows its command's options already
        read, unknown = parser.parse_known_args(in_one_word(typed))
    values = vars(read)
    name = values.pop("command")
    if unknown:
        from proofgen.cli.meant import what_was_meant

        problem, cure = what_was_meant(name, unknown)
        parser.prog = f"proofgen {name}"
        parser.refuse(problem, cure)
    return name, given_to(COMMANDS[name], values)
