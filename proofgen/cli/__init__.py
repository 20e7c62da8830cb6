"""The only room that prints: argv in, sentences and exit codes out."""

from __future__ import annotations

import importlib
import os
import sys

from proofgen.cli import printing
from proofgen.cli.options import COMMANDS
from proofgen.cli.parser import read_command
from proofgen.errors import EXIT_MACHINE, ProofgenError

__all__ = ["COMMANDS", "main"]


def main(arguments: list[str] | None = None) -> int:
    """Run one command; the exit code is that of design: 0 done, 1 finding, 2 usage, 3 shop
    folder, 4 not signed or refused, 5 this machine cannot."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="replace")
    name, given = read_command(arguments)
    try:
        # Loaded only when it is asked for: a help text should not wait for picture libraries.
        module = importlib.import_module(f"proofgen.cli.{given.runs_in}")
        code: int = getattr(module, name)(given)
        sys.stdout.flush()
        return code
    except ProofgenError as error:
        printing.aside(error.sentence())
        return error.exit_code
    except BrokenPipeError:
        sink = os.open(os.devnull, os.O_WRONLY)  # noqa: TID251 - where nothing is kept
        os.dup2(sink, sys.stdout.fileno())
        return 0
    except KeyboardInterrupt:
        printing.aside("Stopped. Nothing is half-written; run the same again to go on.")
        return 130
    except Exception as error:
        if os.environ.get("PROOFGEN_DEBUG"):
            raise
        printing.aside(
            f"This is a fault in proofgen, not in your shop: {type(error).__name__}: {error}\n"
            "    To mend it: nothing was lost; please report it with the command you typed."
        )
        return EXIT_MACHINE
