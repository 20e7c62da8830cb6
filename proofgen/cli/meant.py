"""What was probably meant by an option or a word that a command does not take."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields

from proofgen.cli.options import COMMANDS, made, names_of
from proofgen.say.near import near_names

EVERYWHERE = ("--shop", "--quiet", "--help")


# What hands type for an option that has another name.
_OTHERWISE = {"reason": "--because", "why": "--because"}


def options_of(command: str) -> tuple[str, ...]:
    """Every option that a command takes, long names only."""
    own = [n for one in fields(made(COMMANDS[command])) for n in names_of(one)]
    return (*(n for n in own if n.startswith("--")), *EVERYWHERE)


def what_was_meant(command: str, unknown: Sequence[str]) -> tuple[str, str]:
    """What is wrong with words that a command does not take, and what to type."""
    options = [word.partition("=")[0] for word in unknown if word.startswith("-") and len(word) > 1]
    if not options:
        return (
            f"“{unknown[0]}” is one word too many",
            f"a name with spaces goes in quotes; see proofgen {command} --help",
        )
    option, bare = options[0], options[0].lstrip("-")
    problem = f"there is no option {option} here"
    if bare in COMMANDS:
        return problem, f"it is a command: proofgen {bare} --help"
    if others := [name for name in COMMANDS if option in options_of(name)]:
        return problem, f"it belongs to proofgen {others[0]}; see proofgen {others[0]} --help"
    if (other := _OTHERWISE.get(bare)) in options_of(command):
        return problem, f"it is called {other} here"
    if near := near_names(option, options_of(command)):
        return problem, f"did you mean {near[0]}?"
    return problem, f"see proofgen {command} --help"
