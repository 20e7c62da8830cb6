"""A command as a typed record: each of its options is a field, declared once with its help."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from dataclasses import Field, dataclass, field, fields
from pathlib import Path
from typing import ClassVar, TypeVar, dataclass_transform

T = TypeVar("T")
Record = TypeVar("Record", bound="Given")
COMMANDS: dict[str, type[Given]] = {}
JSON = "one JSON document on stdout"
TWICE = "given twice"


class _Once(argparse.Action):
    """Takes one value. Another one behind it is refused: the first would be dropped unsaid."""

    taken: object = None

    def __call__(
        self,
        parser: argparse.ArgumentParser,
        namespace: argparse.Namespace,
        values: object,
        option_string: str | None = None,
    ) -> None:
        if self.taken not in (None, values):
            raise argparse.ArgumentError(self, TWICE)
        self.taken = values
        setattr(namespace, self.dest, values)


@dataclass(frozen=True, kw_only=True)
class Given:
    """What every command is given; the records of `commands` add their own options."""

    runs_in: ClassVar[str]  # module of this room; its function of the command's name does the work
    purpose: ClassVar[str]
    examples: ClassVar[tuple[str, ...]]
    group: ClassVar[tuple[str, str]] = ("", "")  # title and text of the options set apart
    # Options with which it notes or asks something; without them it tells what is there, and may
    # say it again while nothing changed. None: it never may.
    notes: ClassVar[tuple[str, ...] | None] = None
    # Whether it has nothing to do with the shop it is typed in.
    outside: ClassVar[bool] = False

    shop: Path
    quiet: bool


@dataclass_transform(kw_only_default=True, frozen_default=True)
def command(
    name: str, runs_in: str, purpose: str, *examples: str
) -> Callable[[type[Record]], type[Record]]:
    """Makes a class the record of a command, with its help and examples that a test runs."""

    def recorded(cls: type[Record]) -> type[Record]:
        cls.runs_in, cls.purpose, cls.examples = runs_in, purpose, examples
        COMMANDS[name] = cls
        return cls

    return recorded


def made(record: type[Record]) -> type[Record]:
    """The record, ready to be filled: only that of the command which is run has to be."""
    if "__dataclass_fields__" not in vars(record):
        dataclass(frozen=True, kw_only=True)(record)
    return record


def called(given: Given) -> str:
    """The command that was given; '' of what is none."""
    return next((name for name, record in COMMANDS.items() if isinstance(given, record)), "")


def option(
    default: T,
    says: str,
    metavar: str | None = None,
    *,
    named: tuple[str, ...] = ("",),
    choices: tuple[str, ...] | None = None,
    apart: bool = False,
) -> T:
    """`--name-of-the-field` ('' in `named`). A bool is a flag, a tuple may be given several times;
    `apart` puts it into the record's group."""
    how: dict[str, object] = {"help": says, "default": default}
    if isinstance(default, bool):
        how["action"] = "store_true"
    elif isinstance(default, tuple):
        how |= {"action": "append", "default": [], "metavar": metavar}
    else:
        how |= {"action": _Once, "metavar": metavar, "choices": choices}
    return field(default=default, metadata={"named": named, "how": how, "apart": apart})


def operand(
    metavar: str | None,
    says: str | None = None,
    *,
    nargs: str | None = None,
    default: T | None = None,
    choices: tuple[str, ...] | None = None,
) -> T:
    """What stands without an option; `default` where `nargs` lets it be left out."""
    how = {"metavar": metavar, "help": says, "nargs": nargs, "default": default, "choices": choices}
    made: T = field(metadata={"how": how})
    return made


_KINDS = {"Path": Path, "int": int}  # what a typed text becomes, by the type of its field


def add_options(parser: argparse.ArgumentParser, record: type[Given]) -> None:
    """Everything a record declares, in its order, to a parser."""
    apart = parser.add_argument_group(*record.group) if record.group[0] else parser
    for one in fields(made(record)):
        if not one.metadata:
            continue  # the parser's own
        how = dict(one.metadata["how"])
        if kind := _KINDS.get(str(one.type).removesuffix(" | None")):
            how["type"] = kind
        if named := names_of(one):
            target = apart if one.metadata["apart"] else parser
            target.add_argument(*named, dest=one.name, **how)
        else:
            parser.add_argument(one.name, **how)


def names_of(one: Field[object]) -> tuple[str, ...]:
    """What a field's option is called; nothing where it stands without one."""
    return tuple(n or _option(one.name) for n in one.metadata.get("named", ()))


def _option(name: str) -> str:
    return f"--{name.replace('_', '-')}"


def given_to(record: type[Record], values: dict[str, object]) -> Record:
    """The record filled from what a parser read; lists as tuples."""
    read = {one.name: values[one.name] for one in fields(made(record))}
    for name, value in read.items():
        if isinstance(value, list):
            read[name] = tuple(value)
    return record(**read)  # type: ignore[arg-type]
