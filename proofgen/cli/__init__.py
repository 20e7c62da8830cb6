"""The only room that prints: argv in, sentences and exit codes out."""

from __future__ import annotations

import os
import sys

from proofgen.cli import blanks, customers, folders, looking, making
from proofgen.cli.parser import Command, build_parser
from proofgen.errors import EXIT_MACHINE, ProofgenError

__all__ = ["COMMANDS", "main"]

COMMANDS: dict[str, Command] = {
    "demo": folders.demo,
    "start": folders.start,
    "look": looking.look,
    "order": customers.order,
    "check": making.check,
    "proof": making.proof,
    "letter": customers.letter,
    "answer": customers.answer,
    "press": making.press,
    "catalogue": making.catalogue,
    "build": making.build,
    "orders": looking.orders,
    "blanks": blanks.blanks,
    "serve": folders.serve,
    "ready": looking.ready,
    "withdraw": customers.withdraw,
    "forget": customers.forget,
    "backup": folders.backup,
    "records": looking.records,
}


def main(arguments: list[str] | None = None) -> int:
    """Run one command; the exit code is that of design: 0 done, 1 finding, 2 usage, 3 shop
    folder, 4 not signed or refused, 5 this machine cannot."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="replace")
    given = build_parser(COMMANDS).parse_args(arguments)
    try:
        code: int = given.run(given)
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
