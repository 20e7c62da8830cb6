"""The shop folder: read with every fault at once, and written whole or not at all."""

from proofgen.shop.folder import read_shop
from proofgen.shop.papers import standard as standard_paper
from proofgen.shop.read_blanks import built_in_blanks
from proofgen.shop.read_readings import Reading, read_readings
from proofgen.shop.read_settings import parse_mail
from proofgen.shop.starting import free_for_shop, start
from proofgen.shop.write_blank import blank_text, check_blank, write_blank
from proofgen.shop.write_readings import write_readings
from proofgen.shop.writing import LineDraft, OrderDraft, write_order

__all__ = [
    "LineDraft",
    "OrderDraft",
    "Reading",
    "blank_text",
    "built_in_blanks",
    "check_blank",
    "free_for_shop",
    "parse_mail",
    "read_readings",
    "read_shop",
    "standard_paper",
    "start",
    "write_blank",
    "write_order",
    "write_readings",
]
