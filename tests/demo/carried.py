"""Which of the demo's private pages the checkout carries: every making stays in the history."""

from __future__ import annotations

from proofgen.signoff import Records

# One of a piece in the round, one that is flat and in Arabic, and two that a notice took the place
# of; `proofgen demo` makes those of all its orders.
CARRIED = ("abara-coasters", "fenn-harbour", "haugen-lane", "pell-pouch")
MOST_BYTES = 8_000_000  # of site_demo; a limit of ours


def left_out(records: Records) -> frozenset[str]:
    """The folders below `p` of the pages that are not carried."""
    return records.tokens() - {str(records.token(order)) for order in CARRIED}
