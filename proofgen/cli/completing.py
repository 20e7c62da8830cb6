"""What the Tab key may finish: the script for each shell, and the words that it asks for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import Field, fields
from pathlib import Path

from proofgen.cli import blank_commands as _blanks  # noqa: F401 - they declare themselves
from proofgen.cli import customer_commands as _customers  # noqa: F401
from proofgen.cli import printing
from proofgen.cli.commands import Completion
from proofgen.cli.meant import EVERYWHERE
from proofgen.cli.options import COMMANDS, made, names_of
from proofgen.errors import EXIT_DONE

# Each asks proofgen itself, so that what can be typed is known in one place. What it does not know
# (files, words of the maker's own) is left to the shell.
_BASH = """\
_proofgen() {
    local IFS=$'\\n'
    local words="${COMP_WORDS[*]:1:COMP_CWORD}"
    COMPREPLY=($(proofgen completion bash "--words=$words" 2>/dev/null))
}
complete -o bashdefault -o default -F _proofgen proofgen
"""
_ZSH = "autoload -U +X compinit && compinit\nautoload -U +X bashcompinit && bashcompinit\n" + _BASH
_FISH = """\
function __proofgen_words
    set -l words (commandline -opc)[2..-1] (commandline -ct)
    proofgen completion fish "--words="(string join \\n -- $words | string collect -a) 2>/dev/null
end
complete -c proofgen -a '(__proofgen_words)'
"""
_POWERSHELL = """\
Register-ArgumentCompleter -Native -CommandName proofgen -ScriptBlock {
    param($word, $typed, $at)
    $words = @($typed.CommandElements | Select-Object -Skip 1 | ForEach-Object { "$_" })
    if (-not $word) { $words += '' }
    proofgen completion powershell "--words=$($words -join "`n")" 2>$null | ForEach-Object {
        [System.Management.Automation.CompletionResult]::new($_, $_, 'ParameterValue', $_)
    }
}
"""
_SCRIPTS = {"bash": _BASH, "zsh": _ZSH, "fish": _FISH, "powershell": _POWERSHELL}
_WHERE = {
    "bash": "proofgen completion bash >> ~/.bashrc",
    "zsh": "proofgen completion zsh >> ~/.zshrc",
    "fish": "proofgen completion fish > ~/.config/fish/completions/proofgen.fish",
    "powershell": "proofgen completion powershell >> $PROFILE",
}


def completion(given: Completion) -> int:
    """Print the script of a shell, or the words that may come next."""
    if given.words is None:
        printing.as_it_is(_SCRIPTS[given.shell].rstrip("\n"))
        printing.aside(
            f"To have it in each new terminal: {_WHERE[given.shell]}; then open a new one."
        )
        return EXIT_DONE
    for word in next_words(given.words.split("\n")):
        printing.result(word)
    return EXIT_DONE


def next_words(typed: Sequence[str]) -> list[str]:
    """What the last of these words may become, the others being typed already."""
    *before, begun = typed
    command, shop, waits = "", Path(), ""
    for word in before:
        if waits == "--shop":
            shop = Path(word)
        if waits:
            waits = ""
        elif word.startswith("-"):
            waits = "" if "=" in word or not _takes_more(command, word) else word
        elif not command and word in COMMANDS:
            command = word
    known = _after(command, waits, shop, begun) if command else _first(waits)
    return sorted({word for word in known if word.startswith(begun)})


def _takes_more(command: str, option: str) -> bool:
    """Whether an option has a value behind it."""
    if option == "--shop":
        return True
    one = _of(command, option)
    return (one is not None and one.metadata["how"].get("action") != "store_true") or _repeats(one)


def _repeats(one: Field[object] | None) -> bool:
    return one is not None and one.metadata["how"].get("action") == "append"


def _of(command: str, option: str) -> Field[object] | None:
    own = fields(made(COMMANDS[command])) if command else ()
    return next((one for one in own if option in names_of(one)), None)


def _first(waits: str) -> Iterator[str]:
    if not waits:
        yield from (*COMMANDS, *EVERYWHERE, "--version")


def _after(command: str, waits: str, shop: Path, begun: str) -> Iterator[str]:
    """What may stand behind a command, or behind an option of it that `waits` for its value."""
    if waits == "--shop":
        return
    if waits:
        if one := _of(command, waits):
            yield from _values(one, shop)
        return
    for one in fields(made(COMMANDS[command])):
        if not one.metadata:
            continue
        if named := names_of(one):
            yield from (name for name in named if begun.startswith("-") and name != "--words")
        else:
            yield from _values(one, shop)
    if begun.startswith("-"):
        yield from EVERYWHERE


_LIE_IN = {"ORDER": "orders", "ANSWER": "orders", "BLANK": "blanks", "DESIGN": "designs"}


def _values(one: Field[object], shop: Path) -> Iterator[str]:
    """What can be written for an option or an operand, as far as proofgen knows it."""
    how = one.metadata["how"]
    yield from how.get("choices") or ()
    kinds = {str(how.get("metavar")).strip("[]").upper(), one.name.upper()}
    for part in (part for kind, part in _LIE_IN.items() if kind in kinds):
        yield from _names_in(shop / part)
        if part == "blanks":
            yield from _names_in(Path(__file__).parents[1] / "shop" / "blanks")


def _names_in(folder: Path) -> Iterator[str]:
    try:
        yield from (p.stem for p in folder.iterdir() if not p.name.startswith((".", "_")))
    except OSError:
        return
