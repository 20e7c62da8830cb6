"""One findings document, and how it and the other documents read in a terminal."""

from proofgen.reports.documents import findings_document, orders_document
from proofgen.reports.findings import terminal
from proofgen.reports.page import Print, findings_page
from proofgen.reports.tables import blanks_text, look_text, orders_text

__all__ = [
    "Print",
    "blanks_text",
    "findings_document",
    "findings_page",
    "look_text",
    "orders_document",
    "orders_text",
    "terminal",
]
