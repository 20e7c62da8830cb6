"""One command, read and run: its faults said, its exit code given, what it said remembered."""

from __future__ import annotations

import gc
import importlib
import os
import sys
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

from proofgen.cli import printing
from proofgen.cli.options import Given
from proofgen.cli.parser import read_command
from proofgen.errors import EXIT_MACHINE, EXIT_STOPPED, WRITE_CURE, MachineError, ProofgenError

if TYPE_CHECKING:
    from proofgen.pipeline.remembered import Watch


def run(arguments: Sequence[str]) -> int:
    """Run what was typed; its exit code. SystemExit as argparse's."""
    name, given = read_command(arguments)
    gc.disable()  # nothing that is loaded is garbage
    try:
        printing.for_shop(Path() if given.outside else given.shop)
        watch = _watch(given, arguments)
        # Loaded only when it is asked for: a help text should not wait for picture libraries.
        module = importlib.import_module(f"proofgen.cli.{given.runs_in}")
        if not watch:
            _leave_out_what_stays()
        code: int = getattr(module, name.replace("-", "_"))(given)
        if sys.stdout:  # None where it was closed
            sys.stdout.flush()
        if watch:
            watch.keep(code)
        return code
    except ProofgenError as error:
        printing.aside(error.sentence())
        return error.exit_code
    except (OSError, KeyboardInterrupt) as error:
        return say_why(error)
    except Exception as error:
        if os.environ.get("PROOFGEN_DEBUG"):
            raise
        printing.aside(
            f"This is a fault in proofgen, not in your shop: {type(error).__name__}: {error}\n"
            "    To mend it: nothing was lost; please report it with the command you typed."
        )
        return EXIT_MACHINE
    finally:
        gc.enable()
        gc.unfreeze()
        printing.heard_by(None)


def _leave_out_what_stays() -> None:
    """What was loaded stays to the end: looking through it for garbage again and again took a tenth
    of a build. Once a run, since garbage that is left out stays too."""
    gc.freeze()
    gc.enable()


def say_why(error: OSError | KeyboardInterrupt) -> int:
    """Say why a command ended that was stopped, or refused by the system; its exit code."""
    if isinstance(error, KeyboardInterrupt):
        printing.aside("Stopped. Nothing is half-written; run the same again to go on.")
        return EXIT_STOPPED
    if isinstance(error, BrokenPipeError):
        _say_no_more()
        return 0
    why = (error.strerror or str(error)).lower()
    where = Path(os.fsdecode(error.filename)) if error.filename else None
    cure = f"look whether the disk is there; {WRITE_CURE}. Then run the same again"
    printing.aside(MachineError(f"the system refused it ({why})", cure, where).sentence())
    _say_no_more()
    return EXIT_MACHINE


def _say_no_more() -> None:
    """What is left to be said goes nowhere where nobody can take it."""
    try:
        sys.stdout.flush()
    except OSError:
        with suppress(OSError, ValueError):
            sink = os.open(os.devnull, os.O_WRONLY)  # noqa: TID251 - where nothing is kept
            os.dup2(sink, sys.stdout.fileno())


def _watch(given: Given, arguments: Sequence[str]) -> Watch | None:
    """A watch over a command that asks for what is there; None over one that notes something."""
    notes = given.notes
    if notes is None or any(getattr(given, option) for option in notes):
        return None
    if not (given.shop / "shop.yaml").is_file():
        return None
    from proofgen.pipeline.remembered import Watch

    _leave_out_what_stays()
    watch = Watch(arguments, given.shop)
    printing.heard_by(watch)
    return watch
