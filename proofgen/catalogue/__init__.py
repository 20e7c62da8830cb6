"""The season's pages and PDF: prepared content in, files out."""

from proofgen.catalogue.content import (
    BlankCard,
    DueDay,
    Entry,
    Issue,
    Offer,
    Plate,
    Scaled,
    SeasonContent,
    Standing,
    When,
)
from proofgen.catalogue.feeds import FEED, MAP, OURS
from proofgen.catalogue.order_form import order_form
from proofgen.catalogue.pages import PDF_NAME, build, gone_page
from proofgen.catalogue.stall import PAPERS, stall_sheet

__all__ = [
    "FEED",
    "MAP",
    "OURS",
    "PAPERS",
    "PDF_NAME",
    "BlankCard",
    "DueDay",
    "Entry",
    "Issue",
    "Offer",
    "Plate",
    "Scaled",
    "SeasonContent",
    "Standing",
    "When",
    "build",
    "gone_page",
    "order_form",
    "stall_sheet",
]
