"""Signed artwork to paper: mirrored sheets at exact size, and the ticket that goes with them."""

from proofgen.press.causes import cause_of
from proofgen.press.costs import Cost, cost_of, setup_s, time_cost
from proofgen.press.documents import PressDocument, PressSheet, SpoiledEntry
from proofgen.press.evening import Evening, plan_evening
from proofgen.press.evening_document import evening_document
from proofgen.press.files import (
    SHARED,
    is_for_parcel,
    is_for_press,
    is_of,
    may_hold,
    owner_of,
    ticket_file,
)
from proofgen.press.job import Job, PressRun
from proofgen.press.numbering import KeptSheet, kept_sheets
from proofgen.press.planning import without_room
from proofgen.press.run import lay, make
from proofgen.press.swatches import swatch_pdf
from proofgen.press.usage import Usage, usage_of

__all__ = [
    "SHARED",
    "Cost",
    "Evening",
    "Job",
    "KeptSheet",
    "PressDocument",
    "PressRun",
    "PressSheet",
    "SpoiledEntry",
    "Usage",
    "cause_of",
    "cost_of",
    "evening_document",
    "is_for_parcel",
    "is_for_press",
    "is_of",
    "kept_sheets",
    "lay",
    "make",
    "may_hold",
    "owner_of",
    "plan_evening",
    "setup_s",
    "swatch_pdf",
    "ticket_file",
    "time_cost",
    "usage_of",
    "without_room",
]
