"""One findings document, and how it and the other documents read in a terminal."""

from proofgen.reports.documents import findings_document, findings_entry, orders_document
from proofgen.reports.evening import evening_page, evening_pdf, evening_text
from proofgen.reports.findings import terminal
from proofgen.reports.one_order import one_order_text
from proofgen.reports.page import OrderTold, Print, findings_page, order_told
from proofgen.reports.tables import blanks_text, look_text, orders_text
from proofgen.reports.tally import cost_text, sold_csv, tally_page, tally_text
from proofgen.reports.workroom import (
    Frame,
    Group,
    Room,
    RoomLink,
    RoomPicture,
    Step,
    findings_shown,
    order_page,
    rooms_page,
    tally_of,
)

__all__ = [
    "Frame",
    "Group",
    "OrderTold",
    "Print",
    "Room",
    "RoomLink",
    "RoomPicture",
    "Step",
    "blanks_text",
    "cost_text",
    "evening_page",
    "evening_pdf",
    "evening_text",
    "findings_document",
    "findings_entry",
    "findings_page",
    "findings_shown",
    "look_text",
    "one_order_text",
    "order_page",
    "order_told",
    "orders_document",
    "orders_text",
    "rooms_page",
    "sold_csv",
    "tally_of",
    "tally_page",
    "tally_text",
    "terminal",
]
