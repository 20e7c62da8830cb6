"""The command about the guide, and what the guide's reference tells of all commands."""

from __future__ import annotations

import argparse
import webbrowser
from pathlib import Path

from proofgen import guide as rooms
from proofgen.cli import printing
from proofgen.cli.commands import Guide
from proofgen.cli.options import COMMANDS, add_options
from proofgen.cli.parser import build_parser
from proofgen.cli.stages import by_stage
from proofgen.errors import EXIT_DONE
from proofgen.guide import CommandTold, OptionTold

_IN_SHOP = Path("workroom", "guide")  # the maker's own: it is no part of a shop's site
_ELSEWHERE = Path("proofgen-guide")


def guide(given: Guide) -> int:
    """Write the guide; say where its first page is, and open it where that was asked for."""
    usual = given.shop / _IN_SHOP if (given.shop / "shop.yaml").is_file() else _ELSEWHERE
    page = write_guide((given.folder or usual).absolute(), private=given.folder is None)
    printing.result(f"The guide is in {page}")
    if given.open:
        if not webbrowser.open(page.as_uri()):
            printing.aside("No browser could be opened from here: open that file in yours.")
    else:
        printing.result("    Next: open that file in your browser, or type: proofgen guide --open")
    return EXIT_DONE


def write_guide(folder: Path, *, private: bool) -> Path:
    """Write the guide below a folder; its first page."""
    return rooms.write_book(folder, rooms.book(commands(), everywhere()), private=private)


def commands() -> list[CommandTold]:
    """Every command as its parser has it."""
    told = []
    stages = [(stage, name) for stage, names in by_stage(COMMANDS) for name in names]
    for stage, name in stages:
        record = COMMANDS[name]
        parser = argparse.ArgumentParser(add_help=False)
        add_options(parser, record)
        options = tuple(_option(action) for action in parser._actions)
        told.append(
            CommandTold(
                name=name,
                stage=stage,
                purpose=record.purpose,
                options=options,
                examples=record.examples,
            )
        )
    return told


def everywhere() -> list[OptionTold]:
    """The options that stand before any command."""
    apart = argparse._HelpAction | argparse._SubParsersAction
    return [_option(action) for action in build_parser()._actions if not isinstance(action, apart)]


def _option(action: argparse.Action) -> OptionTold:
    value = action.metavar or (
        f"{{{','.join(map(str, action.choices))}}}" if action.choices else ""
    )
    takes = action.nargs != 0 and bool(value or action.type)
    named = ", ".join(action.option_strings)
    typed = " ".join(part for part in (named, str(value) if takes else "") if part)
    usual = action.default
    said = takes and usual not in (None, "", [], (), argparse.SUPPRESS) and bool(named)
    return OptionTold(
        typed=typed or action.dest,
        says=(action.help or "").replace("%%", "%"),
        usual=str(usual) if said and str(usual) != "." else "",
    )
