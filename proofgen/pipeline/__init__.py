"""The order of steps: from a shop folder to findings, proofs, answers, sheets and catalogue."""

from proofgen.pipeline.answers import (
    answer,
    answer_in_person,
    apply_changes,
    asked_changes,
    words_read,
)
from proofgen.pipeline.asking import photo_letter
from proofgen.pipeline.builds import build
from proofgen.pipeline.demo_shop import demo, demo_walk
from proofgen.pipeline.findings import write_page
from proofgen.pipeline.letters import answer_receipt, letter, ready_to_collect, reminders
from proofgen.pipeline.marking import forget, mark_handed_over, mark_pressed, withdraw
from proofgen.pipeline.orders import findings_of, order_names, standings, worked_out
from proofgen.pipeline.preflight import accept, prepare_all, reached
from proofgen.pipeline.presses import press_all, press_lines, take_back
from proofgen.pipeline.proofs import make_proofs
from proofgen.pipeline.seasons import make_catalogue
from proofgen.signoff import looks_like_code

__all__ = [
    "accept",
    "answer",
    "answer_in_person",
    "answer_receipt",
    "apply_changes",
    "asked_changes",
    "build",
    "demo",
    "demo_walk",
    "findings_of",
    "forget",
    "letter",
    "looks_like_code",
    "make_catalogue",
    "make_proofs",
    "mark_handed_over",
    "mark_pressed",
    "order_names",
    "photo_letter",
    "prepare_all",
    "press_all",
    "press_lines",
    "reached",
    "ready_to_collect",
    "reminders",
    "standings",
    "take_back",
    "withdraw",
    "words_read",
    "worked_out",
    "write_page",
]
