"""The door to the press: only artwork that was signed, and is still what was signed, gets in."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from proofgen.errors import ProofgenError, SignoffError
from proofgen.model.artwork_document import ArtworkDocument
from proofgen.say.tongue import Tongue
from proofgen.signoff.differences import changes
from proofgen.signoff.digests import fingerprint
from proofgen.signoff.editions import Answer, Edition
from proofgen.signoff.facts import OrderFacts, read_facts
from proofgen.signoff.records import Records
from proofgen.signoff.states import Refusal


@dataclass(frozen=True, slots=True, kw_only=True)
class Signed:
    """An edition that may be pressed; only `admit` makes one. `rasters`: name to pixel digest."""

    order: str
    edition: int
    fingerprint: str
    rasters: Mapping[str, str] = field(repr=False)
    answers: tuple[Answer, ...] = field(default=(), repr=False)
    words: tuple[str, ...] = ()  # what the customer wrote, and the maker read


def admit(
    records: Records,
    order: str,
    document: ArtworkDocument,
    pixel_digest: Callable[[bytes], str],
    why: Callable[[], Sequence[str]] | None = None,
    late: Sequence[str] = (),
) -> Signed:
    """Let an order to the press: `document` describes today's inputs, `pixel_digest` reads a kept
    file, `why` says what changed, with titles for ids, and `late` what came up after the edition
    was made and voids it.
    Errors: SignoffError (exit 4) that says what is missing or what changed.
    """
    records.refuse_broken()
    facts = read_facts(records, order)
    open_facts = replace(facts, happened=())  # what was pressed before needs its OK all the same
    for seen in (facts, open_facts):
        if isinstance(seen.rules.press, Refusal):
            raise _refused(seen)
    edition = records.latest(order)
    given = tuple(a for a in facts.answers if a.edition == facts.edition)
    if edition is None or any(a.fingerprint != edition.fingerprint for a in given):
        raise SignoffError(
            f"the answer to proof {facts.edition} of {order} is for other artwork",
            f"make a new proof and have it answered: proofgen proof {order}",
        )
    pixels = {name: _kept(records, edition, name, pixel_digest) for name in edition.rasters}
    if fingerprint(document, pixels) != edition.fingerprint:
        changed = why() if why else changes(edition.document, document, Tongue())
        raise _refused(replace(open_facts, is_current=False), *changed)
    if late:
        raise _refused(replace(open_facts, is_current=False), *late)
    return Signed(
        order=order,
        edition=edition.number,
        fingerprint=edition.fingerprint,
        rasters=pixels,
        answers=given,
        words=facts.words,
    )


def _refused(facts: OrderFacts, *changed: str) -> SignoffError:
    """Why the state of an order keeps it from the press."""
    refusal = facts.rules.press
    assert isinstance(refusal, Refusal)
    problem = " ".join([facts.filled(refusal.problem), *changed])
    return SignoffError(problem, facts.filled(refusal.cure))


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
