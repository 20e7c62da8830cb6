"""A hand that follows the cure of a fault: it knows the sentence alone, and what lies before it."""

from __future__ import annotations

import re
from collections.abc import Callable

from proofgen.errors import Place, ShopError

STEPS = 4  # from one cure to the next until nothing is told

# A hand: the file's name and bytes, the line, what the cure's pattern found, the problem.
File = tuple[str, bytes]
Hand = Callable[[File, int, "re.Match[str]", str], File]


def on_lines(change: Callable[[list[str], int, re.Match[str], str], None]) -> Hand:
    """A hand that changes lines of a text."""

    def hand(file: File, line: int, cure: re.Match[str], problem: str) -> File:
        lines = file[1].decode().split("\n")
        change(lines, line - 1, cure, problem)
        return file[0], "\n".join(lines).encode()

    return hand


def sign_of(line: str) -> str:
    return next((sign for sign in ",;\t" if sign in line), ",")


def named_in(problem: str) -> str:
    found = re.search("“(.+?)”", problem)
    assert found, problem
    return found[1]


def column_out(lines, at, cure, problem) -> None:
    sign, name = sign_of(lines[at]), named_in(problem).casefold()
    same = [n for n, cell in enumerate(lines[at].split(sign)) if cell.casefold() == name]
    for row, line in enumerate(lines):
        cells = line.split(sign)
        lines[row] = sign.join(cells[: same[-1]] + cells[same[-1] + 1 :])


def quotes(lines, at, cure, problem) -> None:
    cells = lines[at].split(",")
    for n, cell in enumerate(cells):
        if '"' in cell:
            inside = cell.removeprefix('"').removesuffix('"')
            cells[n] = '"' + inside.replace('"', '""') + '"'
    lines[at] = ",".join(cells)


def as_utf8(file: File, line: int, cure: re.Match[str], problem: str) -> File:
    marked = file[1].startswith((b"\xff\xfe", b"\xfe\xff"))
    big = file[1][:1] == b"\0"
    wide = "utf-16" if marked else "utf-16-be" if big else "utf-16-le"
    return file[0], file[1].decode(wide if marked or b"\0" in file[1] else "cp1252").encode()


def ways_of(fault: ShopError, hands: tuple[tuple[str, Hand], ...]) -> list[Callable[[File], File]]:
    """Each thing that the cure offers."""
    line = fault.place.line or 1 if isinstance(fault.place, Place) else 1
    offered = [(hand, found) for say, hand in hands if (found := re.search(say, fault.cure))]
    assert offered, f"no hand knows what to do: {fault.sentence()}"
    return [
        lambda file, hand=hand, found=found: hand(file, line, found, fault.problem)
        for hand, found in offered
    ]
