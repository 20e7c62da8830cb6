"""The shop folder: read with every fault at once, and written whole or not at all."""

from proofgen.shop.blank_reader import built_in_blanks
from proofgen.shop.blank_writer import blank_text, check_blank, write_blank
from proofgen.shop.focus_writer import PhotoAt, as_focus, write_focuses
from proofgen.shop.folder import read_shop
from proofgen.shop.for_show import refuse_real_demo
from proofgen.shop.limits_reader import usual_text as usual_limit
from proofgen.shop.offer_writer import Offer, price_text
from proofgen.shop.order_writer import LineDraft, OrderDraft, photo_line, write_order
from proofgen.shop.papers import standard as standard_paper
from proofgen.shop.paths import plain_parts
from proofgen.shop.photo_writer import write_photo
from proofgen.shop.practice import practice_press
from proofgen.shop.readings_reader import Reading, read_readings
from proofgen.shop.readings_writer import write_readings
from proofgen.shop.rewording import Left, reword
from proofgen.shop.settings_reader import (
    parse_currency,
    parse_keep,
    parse_language,
    parse_mail,
    parse_site,
    parse_telephone,
    parse_zone,
)
from proofgen.shop.starting import free_for_shop, start
from proofgen.shop.stock_writer import write_count
from proofgen.shop.trial_writer import Found, write_trial
from proofgen.shop.written import Written, whole_words, written_words

__all__ = [
    "Found",
    "Left",
    "LineDraft",
    "Offer",
    "OrderDraft",
    "PhotoAt",
    "Reading",
    "Written",
    "as_focus",
    "blank_text",
    "built_in_blanks",
    "check_blank",
    "free_for_shop",
    "parse_currency",
    "parse_keep",
    "parse_language",
    "parse_mail",
    "parse_site",
    "parse_telephone",
    "parse_zone",
    "photo_line",
    "plain_parts",
    "practice_press",
    "price_text",
    "read_readings",
    "read_shop",
    "refuse_real_demo",
    "reword",
    "standard_paper",
    "start",
    "usual_limit",
    "whole_words",
    "write_blank",
    "write_count",
    "write_focuses",
    "write_order",
    "write_photo",
    "write_readings",
    "write_trial",
    "written_words",
]
