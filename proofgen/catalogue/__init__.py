"""The season's pages and PDF: prepared content in, files out."""

from proofgen.catalogue.content import BlankCard, Entry, Offer, Plate, SeasonContent
from proofgen.catalogue.pages import PDF_NAME, build, season_sheets

__all__ = [
    "PDF_NAME",
    "BlankCard",
    "Entry",
    "Offer",
    "Plate",
    "SeasonContent",
    "build",
    "season_sheets",
]
