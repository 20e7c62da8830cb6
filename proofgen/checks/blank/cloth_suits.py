"""Check blank/cloth-suits."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.phrases import joined, visible
from proofgen.checks.places import line_where
from proofgen.checks.registry import PRACTICE, Said, check, note, skipped, warn
from proofgen.checks.subjects import LineSubject, lines
from proofgen.colour import plain_name
from proofgen.errors import ProofgenError
from proofgen.model import ColourReport
from proofgen.views.colours import kept_report


@check(
    "blank/cloth-suits",
    over=lines,
    why="Cloth shows through clear ink: a design of dark and strong colours keeps its look on "
    "coloured cloth, a pale one turns into another.",
    source=f"CIEDE2000 between ink on white and ink on the cloth; that a mean of 8 suits and one "
    f"of 20 does not is {PRACTICE}",
    codes={
        "shifts": "the design's colours are seen to change on this cloth",
        "turns": "most of the design's colours become others on this cloth",
        "unknown": "the design cannot be painted",
    },
)
def cloth_suits(subject: LineSubject) -> Iterator[Said]:
    """The cloth leaves the design's colours much as they are."""
    if not subject.variants or subject.variants[0].layout.cloth_hex.lower() == "#ffffff":
        return
    layout, where = subject.variants[0].layout, line_where(subject.item, "cloth")
    try:
        report = kept_report(layout, subject.given.store)
    except ProofgenError:
        yield skipped("unknown", "A picture of this design cannot be read.", where=where)
        return
    fit = report.fit
    if fit.suits:
        return
    limit = subject.given.limits.colour_change
    turned = fit.difference > limit
    make = warn if turned else note
    yield make(
        "turns" if turned else "shifts",
        f"On the cloth {visible(fit.name)} this design’s colours change"
        f"{' into others' if turned else ''}: {kept(report)}.",
        _advice(report),
        measure=fit.difference,
        limit=limit if turned else None,
        where=where,
    )


def kept(report: ColourReport) -> str:
    """'dark blue keeps its colour' or 'none keeps its colour'."""
    names = [plain_name(i.ink) for i in report.inks if i.fate in ("keeps", "shifts")]
    names = list(dict.fromkeys(names))[:4]
    if not names:
        return "none of its main colours stays what it is"
    stays = "stays" if len(names) == 1 else "stay"
    return f"only {joined(names)} {stays} much as on white"


def _advice(report: ColourReport) -> str:
    suit = [visible(fit.name) for fit in report.cloths if fit.suits and fit.name != report.cloth]
    if not suit:
        return "Look at the proof: no other cloth of this blank suits the design better."
    return f"This blank’s cloths that suit the design: {joined(suit, 'or')}."
