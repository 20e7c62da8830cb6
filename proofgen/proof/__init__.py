"""What a customer gets to see and sign: one order's page, its PDF and its letter."""

from proofgen.proof.build import blank_index, build, letter, notice
from proofgen.proof.content import (
    Change,
    Drawing,
    Pair,
    Picture,
    PriceLine,
    ProofContent,
    RealSize,
    Word,
    Work,
    picture,
)

__all__ = [
    "Change",
    "Drawing",
    "Pair",
    "Picture",
    "PriceLine",
    "ProofContent",
    "RealSize",
    "Word",
    "Work",
    "blank_index",
    "build",
    "letter",
    "notice",
    "picture",
]
