"""The punched holes of a measured blank: given or asked for, each judged at its question."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from proofgen.desk.closing import blank_said
from proofgen.desk.questions import Asker, Question, Refused, means_no
from proofgen.errors import UsageError
from proofgen.geometry import Hole
from proofgen.shop.blank_fields import FIELDS, HOLE

_LIKE = "45mm,12mm,5mm"
_WHAT = "its middle from the left, from the top, and how wide it is"
_ASKS = (
    "Are there punched holes? Write of each, print side up, how far its middle is from the left, "
    f"from the top, and how wide it is, like {_LIKE}; of several with a semicolon between"
)
_BARE = re.compile(r"(\d+(?:\.\d+)?), ?(\d+(?:\.\d+)?), ?(\d+(?:\.\d+)?) ?(?:mm)?")


def punched(asker: Asker, given: Sequence[str], texts: Mapping[str, str]) -> dict[str, str]:
    """What the file will say of the holes: nothing of none. Where a person is asked, `texts` are
    what it says of the rest, and a hole beside the blank is asked for again. UsageError for what
    is no hole."""

    def parse(text: str) -> dict[str, str]:
        if means_no(text) or text.casefold() == "none":
            return {}
        holes = tuple(_hole(one.strip()) for one in text.split(";") if one.strip())
        said = {"holes": FIELDS["holes"].value.write(holes)} if holes else {}
        if asker.ask and said:
            try:
                blank_said({**texts, **said}, "it")
            except UsageError as problem:
                raise Refused(problem, f"{problem.sentence()}\n") from None
        return said

    question = Question(asks=f"{_ASKS} (Enter: none)", parse=parse, enter="")
    return asker.answer(question, "; ".join(given) or None)


def _hole(text: str) -> Hole:
    """A hole as it is typed. Commas part the lengths behind their units alone: 45,5 mm is one."""
    parts = re.split(r"(?<=[^\d,]),", text)
    try:
        if len(parts) != len(HOLE):
            bare = _BARE.fullmatch(text)
            like = ",".join(f"{length}mm" for length in bare.groups()) if bare else _LIKE
            raise ValueError(f'“{text}” is not a hole; write it like "{like}": {_WHAT}')
        x, y, across = (
            kind.parse(part.strip()) for kind, part in zip(HOLE.values(), parts, strict=True)
        )
    except ValueError as error:
        problem, _, cure = str(error).partition("; ")
        raise Refused(UsageError(f"--hole: {problem}", cure), f"{error}. ") from None
    return Hole(x=x, y=y, diameter=across)
