"""Whether a measured blank closes; a wrap that does not is measured again, or told by how much its
ends overlap round the can."""

from __future__ import annotations

import math
from collections.abc import Mapping
from contextlib import suppress

from proofgen.desk.lengths import PLACES, TAPE_MM, length_of
from proofgen.desk.looks import blank_document
from proofgen.desk.questions import Asker, Question, Refused
from proofgen.errors import ShopFaults, StopError, UsageError
from proofgen.model import Blank
from proofgen.say import from_to, number
from proofgen.shop import check_blank
from proofgen.shop.blank_fields import FIELDS

_THIN_MM = 0.1  # of cloth that a closure presses flat; less is none
_OVERLAP = "overlap"  # “overlap 12 mm”: what is seen on the closed wrap
_AGAIN = (
    "How long is the cloth, measured again? Or close it round the can and write by how much its "
    "ends overlap, like overlap 12 mm (Enter to stop)"
)


def blank_said(texts: Mapping[str, str], name: str) -> Blank:
    """The blank that the file would say. UsageError, without a line, where it makes no sense: there
    is no file yet."""
    lines = [f"{key}: {texts[key]}\n" for key in FIELDS if key in texts]
    try:
        return check_blank("".join(lines), name)
    except ShopFaults as faults:
        raise UsageError(faults.problem, faults.cure) from None


def _judged(texts: dict[str, str], name: str) -> tuple[Blank, str]:
    """The same, and what was taken otherwise than measured, in words; `texts` then says so.
    StopError for a wrap whose ends do not meet as they should."""
    blank = blank_said(texts, name)
    for _, problem, cure in blank.plan().problems:
        if worked_out := _by_a_tape(blank):
            can, told = worked_out
            texts |= _noted(texts, _can(can), told)
            return blank_said(texts, name), told
        raise StopError(problem, f"measure again; {cure}{_cans(blank)}")
    return blank, ""


def _by_a_tape(blank: Blank) -> tuple[float, str] | None:
    """The can (mm across) round which a wrap closes as it should, and what is told of it, where
    that is within a tape's error of the can that was given; else None. The can gives way: its
    width counts more than three times in the way round."""
    plan, closure, across = blank.plan(), blank.closure, blank.vessel_mm
    if plan.overlap is None or closure is None or across is None:
        return None
    widest = closure.width_mm * (1 - blank.shrink[0])
    short, long = closure.shortest_mm - plan.overlap, plan.overlap - widest
    if not 0 < max(short, long) <= TAPE_MM:
        return None
    grain = 10.0**-PLACES
    steps = max(short, long) / math.pi / grain
    can = across + math.ceil(steps) * grain * (-1 if short > 0 else 1)
    limit = (
        f"{number(closure.shortest_mm)} mm is the least that holds"
        if short > 0
        else f"the closure is {number(widest)} mm wide"
    )
    return can, (
        f"By these measures the ends overlap by {number(plan.overlap, 2)} mm, and {limit}. That is "
        f"{number(max(short, long), 2)} mm beside it, no more than a tape’s error "
        f"({number(TAPE_MM)} mm), so the can counts as {number(can, PLACES)} mm across instead of "
        f"{number(across, PLACES)} mm. Press one and look before you sell it."
    )


def _can(across: float) -> dict[str, str]:
    """What a file says of a can."""
    field = FIELDS["vessel"]
    return {"vessel": field.value.write(round(across, PLACES))}


def _noted(texts: Mapping[str, str], instead: Mapping[str, str], told: str) -> dict[str, str]:
    """What stands in a file instead of what was measured, with a note of it."""
    return {**texts, **instead, "note": FIELDS["note"].value.write(told)}


def _cans(blank: Blank) -> str:
    """Which cans a wrap that does not fit its own would go round."""
    allowance = blank_document(blank)["allowance"]
    if allowance is None or "cans_mm" not in allowance:
        return ""
    least, most = allowance["cans_mm"]
    if most <= 0:
        return ""
    return f" (this one closes round cans {from_to(max(least, 0.0), most)} across)"


def _as_seen(texts: Mapping[str, str], name: str, seen: float) -> tuple[dict[str, str], str]:
    """The texts of a wrap whose ends were `seen` to overlap by so many mm, its thickness worked out
    from that (way round = length - overlap = pi (diameter + thickness)); and what disagreed, in
    words. StopError where no cloth is left."""
    blank = blank_said(texts, name)
    full, across, would = (
        blank.plan().panels["round"].width,
        blank.vessel_mm,
        blank.plan().overlap,
    )
    assert across is not None and would is not None  # only a wrap comes here
    thick = round((full - seen) / math.pi - across, PLACES)
    over = across * math.pi - (full - seen)  # the can alone is longer round than cloth is left
    if thick <= 0 and over <= TAPE_MM:
        can = math.floor(((full - seen) / math.pi - _THIN_MM) * 10**PLACES) / 10**PLACES
        says = (
            f"The measures disagree by {number(over, 2)} mm, no more than a tape’s error "
            f"({number(TAPE_MM)} mm): {number(full)} mm of cloth less {number(seen)} mm of overlap "
            f"leaves nothing for the cloth round a can of {number(across, PLACES)} mm. So the can "
            f"counts as {number(can, PLACES)} mm across, and the cloth as {number(_THIN_MM)} mm "
            "thick round it. Press one and look before you sell it."
        )
        thin = {"thickness": FIELDS["thickness"].value.write(_THIN_MM)}
        return _noted(texts, _can(can) | thin, says), says
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
    return _noted(texts, worked_out, says), says


def that_closes(asker: Asker, texts: dict[str, str], name: str) -> Blank:
    """The blank when nothing speaks against it. A wrap that does not fit its can may have been
    measured wrong: its length is asked for anew, or its overlap as it is seen, until nothing is
    typed. What was said then stands in `texts`."""

    def parse(text: str) -> Blank:
        told, tried = "", dict(texts)
        try:
            with suppress(ValueError):
                laps = blank_said(texts, name).plan().overlap is not None
                if laps and text.lower().startswith(f"{_OVERLAP} "):
                    tried, told = _as_seen(texts, name, length_of("", text[len(_OVERLAP) :]))
                elif text:
                    tried["length"] = FIELDS["length"].value.write(length_of("length", text))
            blank, taken = _judged(tried, name)
            told = " ".join(part for part in (told, taken) if part)
        except (StopError, UsageError) as problem:
            if text:
                raise Refused(problem, f"{problem.sentence()}\n") from None
            raise
        texts.update(tried)
        if told:
            asker.notes.append(f"{told}\n")
        return blank

    try:
        blank, taken = _judged(texts, name)
        if taken:
            asker.notes.append(f"{taken}\n")
        return blank
    except StopError as problem:
        question = Question(asks=_AGAIN, parse=parse, enter="")
        # No draft: Enter alone stops here.
        return Asker(asker.ask).answer(question, before=f"{problem.sentence()}\n")
