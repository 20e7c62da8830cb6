"""Check order/list-length."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.phrases import count, plural
from proofgen.checks.places import line_where
from proofgen.checks.registry import Said, check, stop
from proofgen.checks.subjects import LineSubject, lines


@check(
    "order/list-length",
    over=lines,
    why="A list that is one name short leaves somebody without a gift, or a blank without a name.",
    source="the order's own quantity and list",
    codes={"differs": "the list has more or fewer rows than pieces are ordered"},
)
def list_length(subject: LineSubject) -> Iterator[Said]:
    """Every list has as many names as pieces are ordered."""
    line = subject.item
    rows = len(line.pieces)
    if line.list_file is not None and rows != line.quantity:
        yield stop(
            "differs",
            f"The list has {plural(rows, 'name')}, but {plural(line.quantity, 'piece')} "
            f"{'is' if line.quantity == 1 else 'are'} ordered.",
            f"Complete the list, or order {count(rows)}.",
            measure=rows,
            limit=line.quantity,
            where=line_where(line, "quantity", "list"),
        )
