"""The season's pages and PDF: prepared content in, files out."""

from proofgen.catalogue.content import BlankCard, Entry, Offer, Plate, SeasonContent
from proofgen.catalogue.order_form import order_form
from proofgen.catalogue.pages import PDF_NAME, build

__all__ = [
    "PDF_NAME",
    "BlankCard",
    "Entry",
    "Offer",
    "Plate",
    "SeasonContent",
    "build",
    "order_form",
]
