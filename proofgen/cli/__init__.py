"""The only room that prints: argv in, sentences and exit codes out."""

from __future__ import annotations

import argparse
import importlib
import os
import sys

from proofgen.cli.parser import build_parser
from proofgen.errors import EXIT_MACHINE, ProofgenError

__all__ = ["COMMANDS", "main"]

# Command to the module of this room that runs it: loaded only when it is asked for, because a
# help text should not wait for picture libraries.
COMMANDS = {
    "demo": "folders",
    "start": "folders",
    "look": "looking",
    "order": "customers",
    "check": "making",
    "proof": "making",
    "letter": "customers",
    "answer": "customers",
    "press": "making",
    "catalogue": "making",
    "build": "making",
    "orders": "looking",
    "blanks": "blanks",
    "serve": "folders",
    "ready": "looking",
    "withdraw": "customers",
    "forget": "customers",
    "backup": "folders",
    "records": "looking",
}


def _run(given: argparse.Namespace) -> int:
    module = importlib.import_module(f"proofgen.cli.{COMMANDS[given.command]}")
    code: int = getattr(module, given.command)(given)
    return code


def main(arguments: list[str] | None = None) -> int:
    """Run one command; the exit code is that of design: 0 done, 1 finding, 2 usage, 3 shop
    folder, 4 not signed or refused, 5 this machine cannot."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="replace")
    given = build_parser().parse_args(arguments)
    try:
        code = _run(given)
        sys.stdout.flush()
        return code
    except ProofgenError as error:
        print(error.sentence(), file=sys.stderr)
        return error.exit_code
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except KeyboardInterrupt:
        print("Stopped. Nothing is half-written; run the same again to go on.", file=sys.stderr)
        return 130
    except Exception as error:
        if os.environ.get("PROOFGEN_DEBUG"):
            raise
        print(
            f"This is a fault in proofgen, not in your shop: {type(error).__name__}: {error}\n"
            "    To mend it: nothing was lost; please report it with the command you typed.",
            file=sys.stderr,
        )
        return EXIT_MACHINE
