"""What a customer gives leave to: their pictures printed, their work shown to others."""

from __future__ import annotations

from collections.abc import Sequence

from proofgen.model import Rights
from proofgen.signoff.editions import Answer


def leave_given(noted: Rights, answers: Sequence[Answer]) -> Rights:
    """What the order's file notes and what the customer answered, oldest first, together: of the
    answers the last that says it counts, and a no of either is a no."""
    printing = [a.may_print for a in answers if a.may_print is not None]
    showing = [a.may_show for a in answers if a.may_show is not None]
    return Rights(
        print=_both(noted.print, printing[-1:]),
        show=_both(noted.show, showing[-1:]),
    )


def _both(noted: bool | None, answered: Sequence[bool]) -> bool | None:
    said = [one for one in (noted, *answered) if one is not None]
    return all(said) if said else None
