"""The door to the press: only artwork that was signed, and is still what was signed, gets in."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from proofgen.errors import ProofgenError, SignoffError
from proofgen.signoff.canonical import fingerprint
from proofgen.signoff.differences import changes
from proofgen.signoff.editions import Answer, Edition, standing
from proofgen.signoff.records import Records


@dataclass(frozen=True, slots=True, kw_only=True)
class Signed:
    """An edition that may be pressed; only `admit` makes one. `rasters`: name to pixel digest."""

    order: str
    edition: int
    fingerprint: str
    rasters: Mapping[str, str] = field(repr=False)
    answers: tuple[Answer, ...] = field(default=(), repr=False)


def admit(
    records: Records,
    order: str,
    document: Mapping[str, Any],
    pixel_digest: Callable[[bytes], str],
) -> Signed:
    """Let an order to the press: `document` describes today's inputs, `pixel_digest` reads a kept
    file. Errors: SignoffError (exit 4) that says what is missing or what changed.
    """
    broken = records.journal.read().problems
    if broken:
        raise SignoffError(
            broken[0],
            "look at all of it with `proofgen records verify`, then put the records folder back "
            "from your last backup; without one, set it aside and make new proofs",
        )
    edition = _answerable(records, order)
    given = tuple(a for a in records.answers(order) if a.edition == edition.number)
    _refuse_unsigned(edition, given)
    if any(a.fingerprint != edition.fingerprint for a in given):
        raise SignoffError(
            f"the answer to proof {edition.number} of {order} is for other artwork", _again(order)
        )
    pixels = {name: _kept(records, edition, name, pixel_digest) for name in edition.rasters}
    _refuse_changed(edition, document, pixels)
    return Signed(
        order=order,
        edition=edition.number,
        fingerprint=edition.fingerprint,
        rasters=pixels,
        answers=given,
    )


def _again(order: str) -> str:
    return f"make a new proof and have it answered: proofgen proof {order}"


def _answerable(records: Records, order: str) -> Edition:
    if records.is_forgotten(order):
        raise SignoffError(f"the data of {order} was removed, so it cannot be pressed")
    if records.is_withdrawn(order):
        raise SignoffError(f"the proof of {order} was withdrawn", _again(order))
    edition = records.latest(order)
    if edition is None:
        raise SignoffError(f"{order} has no proof yet", f"make one: proofgen proof {order}")
    return edition


def _refuse_unsigned(edition: Edition, given: tuple[Answer, ...]) -> None:
    order, number = edition.order, edition.number
    stands = standing(given, number)
    if stands == "ok":
        return
    problem, cure = {
        "": (
            f"proof {number} of {order} is not answered yet",
            "wait for the answer, then: proofgen answer FILE",
        ),
        "corrections": (f"the customer wants corrections to proof {number} of {order}", ""),
        "again": (f"the customer wants to see {order} again before it is pressed", ""),
        "two answers": (
            f"proof {number} of {order} has two answers that differ",
            f"ask which one holds, then: proofgen proof {order}",
        ),
    }[stands]
    raise SignoffError(problem, cure or _again(order))


def _kept(
    records: Records, edition: Edition, name: str, pixel_digest: Callable[[bytes], str]
) -> str:
    """Pixel digest of a kept raster, worked out now. SignoffError unless it is the signed one."""
    try:
        seen = pixel_digest(records.raster(edition, name))
    except SignoffError:
        raise
    except (ProofgenError, OSError, ValueError) as error:
        seen = f"unreadable: {error}"
    if seen != edition.rasters[name]:
        raise SignoffError(
            f"the kept picture {name} of {edition.order} is not the one that was signed",
            "put the records folder back from your last backup, or make a new proof",
        )
    return seen


def _refuse_changed(edition: Edition, document: Mapping[str, Any], pixels: dict[str, str]) -> None:
    if fingerprint(document, pixels) == edition.fingerprint:
        return
    told = " ".join(changes(edition.document, document))
    raise SignoffError(
        f"{edition.order} changed after proof {edition.number} was signed. {told}".strip(),
        f"put it back as it was, or {_again(edition.order)}",
    )
