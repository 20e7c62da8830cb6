"""What the reference tells of the maker's files: every line, from what the readers declare."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from proofgen.guide.words import cell, code, table
from proofgen.shop.told import FILES, LineTold

_HEAD = ("line", "as it may be written", "what it is for", "if left out")


def fields_told() -> Iterator[str]:
    """Every file as Markdown; a file's lines in one table, the parts of a map under its name."""
    yield (
        "All files are plain text. A line is `key: value`; what stands behind a `#` is a remark. "
        "Lengths take mm, cm or in, heats C or F, shares %. A line with dots stands inside others: "
        "`days.answer` is written `days: {answer: 7}`. Where a star stands, the name is yours: of "
        "a slot, a cloth, a blank, a paper. A slip is told with its file and line.\n"
    )
    for file in FILES:
        yield f"## {file.name}\n"
        yield f"{file.says[:1].upper()}{file.says[1:]}.\n"
        if file.name.endswith(".csv"):
            yield f"{file.lines['*'].says}.\n"
            continue
        yield table(_HEAD, (_row(key, told) for key, told in _once(file.lines)))


def _once(lines: Mapping[str, LineTold]) -> Iterator[tuple[str, LineTold]]:
    """The lines; what each of several faces may have is told once."""
    for key, told in lines.items():
        if key.startswith(("faces.back.", "faces.round.")):
            continue
        yield key.replace("faces.front.", "faces.FACE."), told


def _row(key: str, told: LineTold) -> tuple[str, str, str, str]:
    of = [kind for kind in told.of if kind not in ("plain", "text", key.split(".")[-2:][0])]
    says = cell(told.says) + (
        f" (of {', '.join(of)})" if of and not key.startswith("faces") else ""
    )
    left_out = "must be there" if told.needed else code(told.usual) if told.usual else ""
    return code(key), code(told.like) if told.like else "", says, left_out
