"""Signed artwork to paper: mirrored sheets at exact size, and the ticket that goes with them."""

from proofgen.press.documents import PressDocument
from proofgen.press.files import is_for_press, is_of, may_hold, ticket_file
from proofgen.press.job import Job, PressRun
from proofgen.press.numbering import KeptSheet, kept_sheets
from proofgen.press.planning import without_room
from proofgen.press.run import make
from proofgen.press.swatches import swatch_pdf

__all__ = [
    "Job",
    "KeptSheet",
    "PressDocument",
    "PressRun",
    "is_for_press",
    "is_of",
    "kept_sheets",
    "make",
    "may_hold",
    "swatch_pdf",
    "ticket_file",
    "without_room",
]
