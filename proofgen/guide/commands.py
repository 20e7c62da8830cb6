"""What the reference tells of the commands; who owns them says it (cli/guiding.py)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from proofgen.guide.words import cell, table


@dataclass(frozen=True, slots=True, kw_only=True)
class OptionTold:
    """An option or what stands without one: as it is typed ('--zoom N'), what it is for, the
    values it takes where these are few, and what counts without it ('' where nothing does)."""

    typed: str
    says: str
    choices: tuple[str, ...] = ()
    usual: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CommandTold:
    """A command as its help tells it; `stage` is the part of the walk it belongs to, `examples` are
    whole lines to type."""

    name: str
    stage: str
    purpose: str
    options: tuple[OptionTold, ...]
    examples: tuple[str, ...]


def told(commands: Sequence[CommandTold], everywhere: Sequence[OptionTold]) -> Iterator[str]:
    """Every command as Markdown; `everywhere` are the options that stand before any command."""
    yield (
        "Type a command in the folder of your shop. `proofgen COMMAND --help` tells the same in "
        "the terminal. Capital words stand for names and files of yours.\n"
    )
    yield "## Before any command\n"
    yield _options(everywhere)
    stage = ""
    for one in commands:
        if one.stage != stage:
            stage = one.stage
            yield f"## {stage}\n"
        yield f"### {one.name}\n"
        yield f"{_sentence(one.purpose)}\n"
        yield "```\n" + "\n".join(one.examples) + "\n```\n"
        if one.options:
            yield _options(one.options)


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:] + ("" if text.endswith(".") else ".")


def _options(options: Sequence[OptionTold]) -> str:
    rows = []
    for one in options:
        says = one.says
        if one.choices:
            says += f" ({', '.join(one.choices)})"
        if one.usual:
            says += f"; {one.usual} if left out"
        rows.append((f"`{one.typed}`", cell(says)))
    return table(("what is typed", "what it is for"), rows)
