"""What a customer gets to see and sign: one order's page, its PDF and its letter."""

from proofgen.proof.build import NOTICES, blank_index, build, letter, notice, pdf_of
from proofgen.proof.content import (
    ANSWERS,
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
    "ANSWERS",
    "NOTICES",
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
    "pdf_of",
    "picture",
]
