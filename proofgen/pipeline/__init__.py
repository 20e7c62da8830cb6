"""The order of steps: from a shop folder to findings, proofs, answers, sheets and catalogue."""

from proofgen.pipeline import upload_targets, uploads, watching
from proofgen.pipeline.accounts import PAGE as TALLY_PAGE
from proofgen.pipeline.accounts import tally, tally_of_one, write_sold, write_tally
from proofgen.pipeline.answers import (
    answer,
    answer_in_person,
    apply_changes,
    asked_changes,
    words_read,
)
from proofgen.pipeline.asking import photo_letter
from proofgen.pipeline.builds import build
from proofgen.pipeline.cards import names_alike
from proofgen.pipeline.changing import change_word
from proofgen.pipeline.demo_shop import demo, demo_walk
from proofgen.pipeline.evening import evening_lines, write_evening
from proofgen.pipeline.findings import write_page
from proofgen.pipeline.forgetting import forget, why_not_forget
from proofgen.pipeline.letters import answer_receipt, letter, ready_to_collect, reminders
from proofgen.pipeline.marking import (
    mark_cleared,
    mark_handed_over,
    mark_not_handed_over,
    mark_not_pressed,
    mark_pressed,
    pressed_before,
    why_not_withdraw,
    withdraw,
)
from proofgen.pipeline.older import note_records, older_records
from proofgen.pipeline.orders import (
    findings_of,
    order_names,
    standing_of_one,
    standings,
    with_remarks,
    worked_out,
)
from proofgen.pipeline.pages import take_down, unknown_told
from proofgen.pipeline.preflight import accept, not_accept, prepare_all, reached
from proofgen.pipeline.presses import plan_tonight, press_all, press_lines, take_back
from proofgen.pipeline.proofs import make_proofs
from proofgen.pipeline.publishing import is_older, make_catalogue
from proofgen.pipeline.spoiling import again_lines, press_again, read_numbers
from proofgen.pipeline.workroom_pages import keep_workroom
from proofgen.signoff import looks_like_code
from proofgen.signoff.mail import mails_in

__all__ = [
    "TALLY_PAGE",
    "accept",
    "again_lines",
    "answer",
    "answer_in_person",
    "answer_receipt",
    "apply_changes",
    "asked_changes",
    "build",
    "change_word",
    "demo",
    "demo_walk",
    "evening_lines",
    "findings_of",
    "forget",
    "is_older",
    "keep_workroom",
    "letter",
    "looks_like_code",
    "mails_in",
    "make_catalogue",
    "make_proofs",
    "mark_cleared",
    "mark_handed_over",
    "mark_not_handed_over",
    "mark_not_pressed",
    "mark_pressed",
    "names_alike",
    "not_accept",
    "note_records",
    "older_records",
    "order_names",
    "photo_letter",
    "plan_tonight",
    "prepare_all",
    "press_again",
    "press_all",
    "press_lines",
    "pressed_before",
    "reached",
    "read_numbers",
    "ready_to_collect",
    "reminders",
    "standing_of_one",
    "standings",
    "take_back",
    "take_down",
    "tally",
    "tally_of_one",
    "unknown_told",
    "upload_targets",
    "uploads",
    "watching",
    "why_not_forget",
    "why_not_withdraw",
    "with_remarks",
    "withdraw",
    "words_read",
    "worked_out",
    "write_evening",
    "write_page",
    "write_sold",
    "write_tally",
]
