"""The only room that prints: argv in, sentences and exit codes out."""

from __future__ import annotations

import sys

from proofgen.again import say_again

__all__ = ["main"]


def main(arguments: list[str] | None = None) -> int:
    """Run one command; the exit code is that of design: 0 done, 1 finding, 2 usage, 3 shop
    folder, 4 not signed or refused, 5 this machine cannot."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="replace")
    # What is known needs nothing that takes time to load.
    typed = sys.argv[1:] if arguments is None else arguments
    try:
        code = say_again(typed)
    except (OSError, KeyboardInterrupt) as error:
        from proofgen.cli.runs import say_why

        return say_why(error)
    if code is not None:
        return code
    from proofgen.cli.runs import run

    return run(typed)
