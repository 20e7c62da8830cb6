"""Header lines above a mail that was quoted or forwarded."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from proofgen.signoff import manners

_ENOUGH = 3  # in a row; below a line that says “forwarded message” one is enough


def without_headers(lines: Sequence[str], is_known: Callable[[str], bool]) -> list[str]:
    """Without these lines as far as what they hold `is_known` (names, addresses, days); the words
    of a subject stay."""
    left = list(lines)
    kinds = [
        bool(manners.SUBJECT_LINE.match(line)) - bool(manners.HEADER_LINE.match(line))
        for line in lines
    ]
    at, above = 0, ""  # the last line before it that holds anything
    while at < len(lines):
        end = at
        while end < len(lines) and kinds[end]:
            end += 1
        if end > at and end - at >= (1 if _is_forward(above) else _ENOUGH):
            for row in range(at, end):
                value = lines[row].partition(":")[2]
                if kinds[row] > 0:
                    left[row] = manners.SUBJECT_LINE.sub("", lines[row])
                elif is_known(value):
                    left[row] = ""
        above = next((line for line in reversed(lines[at : end + 1]) if line.strip()), above)
        at = end + 1
    return [manners.ANSWERING.sub("", line) for line in left]


def _is_forward(line: str) -> bool:
    """Whether it is a mail program’s own line above a mail."""
    return len(line.split()) > 1 and manners.FURNITURE.match(line) is not None
