"""What a customer gets to see and sign: one order's page, its PDF and its letter."""

from proofgen.proof.build import (
    PAGE,
    blank_index,
    build,
    notice,
    standing_of,
    with_standing,
    without_standing,
)
from proofgen.proof.content import ProofContent

__all__ = [
    "PAGE",
    "ProofContent",
    "blank_index",
    "build",
    "notice",
    "standing_of",
    "with_standing",
    "without_standing",
]
