"""Whether a measured blank closes; a wrap that does not is measured again, or told by how much its
ends overlap round the can."""

from __future__ import annotations

import math
from collections.abc import Mapping
from contextlib import suppress

from proofgen.desk.lengths import PLACES, length_of
from proofgen.desk.looks import blank_document
from proofgen.desk.questions import Asker, Question, Refused
from proofgen.errors import ShopFaults, StopError, UsageError
from proofgen.model import Blank
from proofgen.say import number
from proofgen.shop import check_blank
from proofgen.shop.blank_fields import FIELDS

_OVERLAP = "overlap"  # “overlap 12 mm”: what is seen on the closed wrap
_AGAIN = (
    "How long is the cloth, measured again? Or close it round the can and write by how much its "
    "ends overlap, like overlap 12 mm (Enter to stop)"
)


def _read(texts: Mapping[str, str], name: str) -> Blank:
    """The blank that the file would say. UsageError, without a line, where it makes no sense: there
    is no file yet."""
    lines = [f"{key}: {texts[key]}\n" for key in FIELDS if key in texts]
    try:
        return check_blank("".join(lines), name)
    except ShopFaults as faults:
        raise UsageError(faults.problem, faults.cure) from None


def _judged(texts: Mapping[str, str], name: str) -> Blank:
    """The same; StopError for a wrap whose ends do not meet as they should."""
    blank = _read(texts, name)
    for _, problem, cure in blank.plan().problems:
        raise StopError(problem, f"measure again; {cure}{_cans(blank)}")
    return blank


def _cans(blank: Blank) -> str:
    """Which cans a wrap that does not fit its own would go round."""
    allowance = blank_document(blank)["allowance"]
    if allowance is None or "cans_mm" not in allowance:
        return ""
    least, most = allowance["cans_mm"]
    if most <= 0:
        return ""
    return f" (this one closes round cans from {number(max(least, 0))} to {number(most)} mm across)"


def _as_seen(texts: Mapping[str, str], name: str, seen: float) -> tuple[dict[str, str], str]:
    """The texts of a wrap whose ends were `seen` to overlap by so many mm, its thickness worked out
    from that (way round = length - overlap = pi (diameter + thickness)); and what disagreed, in
    words. StopError where no cloth is left."""
    blank = _read(texts, name)
    full, across, would = (
        blank.plan().panels["round"].width,
        blank.vessel_mm,
        blank.plan().overlap,
    )
    assert across is not None and would is not None  # only a wrap comes here
    thick = round((full - seen) / math.pi - across, PLACES)
    if thick <= 0:
        raise StopError(
            f"{number(full)} mm of cloth less {number(seen)} mm of overlap is "
            f"{number(full - seen)} mm, and the can alone is {number(across * math.pi)} mm round",
            "measure the can, the length and the overlap again",
        )
    says = (
        f"The measures disagree: cloth {number(blank.thickness_mm)} mm thick would "
        + (f"overlap by {number(would)} mm" if would >= 0 else f"lack {number(-would)} mm")
        + f"; seen were {number(seen)} mm, {number(abs(seen - would))} mm "
        f"{'more' if seen > would else 'less'}. So it counts as {number(thick)} mm thick round the "
        "can. Press one and look before you sell it."
    )
    worked_out = {"thickness": FIELDS["thickness"].value.write(thick)}
    return {**texts, **worked_out, "note": FIELDS["note"].value.write(says)}, says


def that_closes(asker: Asker, texts: dict[str, str], name: str) -> Blank:
    """The blank when nothing speaks against it. A wrap that does not fit its can may have been
    measured wrong: its length is asked for anew, or its overlap as it is seen, until nothing is
    typed. What was said then stands in `texts`."""

    def parse(text: str) -> Blank:
        told, tried = "", dict(texts)
        try:
            with suppress(ValueError):
                if text.lower().startswith(f"{_OVERLAP} "):
                    tried, told = _as_seen(texts, name, length_of("", text[len(_OVERLAP) :]))
                elif text:
                    tried["length"] = FIELDS["length"].value.write(length_of("length", text))
            blank = _judged(tried, name)
        except (StopError, UsageError) as problem:
            if text:
                raise Refused(problem, f"{problem.sentence()}\n") from None
            raise
        texts.update(tried)
        if told:
            asker.notes.append(f"{told}\n")
        return blank

    try:
        return _judged(texts, name)
    except StopError as problem:
        question = Question(asks=_AGAIN, parse=parse, enter="")
        # No draft: Enter alone stops here.
        return Asker(asker.ask).answer(question, before=f"{problem.sentence()}\n")
