"""The focus that was chosen for a photo, written into its order once a proof shows it."""

from __future__ import annotations

from collections.abc import Mapping

from proofgen import shop
from proofgen.errors import ProofgenError
from proofgen.model import Focus, PlacedPhoto
from proofgen.pipeline.preflight import Prepared


def write_chosen(prepared: Prepared) -> list[str]:
    """Write every chosen focus into order.yaml; what became of it, in whole sentences.

    A photo that is placed twice with two of them stays open there: the proof keeps both. A file
    that cannot be written keeps nobody from a proof, which holds them all the same.
    """
    found: dict[shop.PhotoAt, set[Focus | None]] = {}
    for variant in prepared.variants:
        for placed in variant.layout.layers:
            if isinstance(placed, PlacedPhoto) and placed.photo:
                at = shop.PhotoAt(variant.line, placed.slot)
                found.setdefault(at, set()).add(placed.focus if placed.focus_chosen else None)
    wanted = {at: one for at, (one, *more) in found.items() if one and not more}
    instead = {
        shop.PhotoAt(line.number, slot): use.outdated
        for line in prepared.order.lines
        for slot, use in line.photos.items()
        if use.outdated
    }
    try:
        written = shop.write_focuses(prepared.order, wanted, instead) if wanted else []
    except ProofgenError as error:
        return [
            f"What was chosen to show of its photos could not be written into order.yaml "
            f"({error.problem}); the proof holds it all the same."
        ]
    return [
        f"{_why(at, instead)}, and order.yaml says it now: focus: {shop.as_focus(wanted[at])}"
        for at in written
    ]


def _why(at: shop.PhotoAt, instead: Mapping[shop.PhotoAt, Focus]) -> str:
    photo = f"“{at.slot}” (entry {at.line} below lines:)" if at.line > 1 else f"“{at.slot}”"
    if at in instead:
        return f"{photo} is another picture than before, so the part of it to show was chosen anew"
    return f"Nobody said which part of {photo} to show, so one was chosen"
