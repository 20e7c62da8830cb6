"""Signed artwork to paper: mirrored sheets at exact size, and the ticket that goes with them."""

from proofgen.press.job import Job, PressRun
from proofgen.press.run import make
from proofgen.press.sheet import mirrored
from proofgen.press.swatches import swatch_pdf

__all__ = ["Job", "PressRun", "make", "mirrored", "swatch_pdf"]
