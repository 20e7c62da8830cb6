"""The order of steps: from a shop folder to findings, proofs, answers, sheets and catalogue."""

from proofgen.pipeline.answers import answer, answer_in_person
from proofgen.pipeline.asking import photo_letter
from proofgen.pipeline.builds import Built, build
from proofgen.pipeline.demo import demo, demo_walk
from proofgen.pipeline.findings import write_page
from proofgen.pipeline.keeping import (
    backup,
    forget,
    mark_handed_over,
    mark_pressed,
    withdraw,
)
from proofgen.pipeline.looks import blanks, look
from proofgen.pipeline.machine import parts as machine_parts
from proofgen.pipeline.measuring import LENGTHS as BLANK_LENGTHS
from proofgen.pipeline.measuring import SHAPES as BLANK_SHAPES
from proofgen.pipeline.measuring import Measured, Tape, measure
from proofgen.pipeline.ordering import Wish, new_order, read_day, start
from proofgen.pipeline.preflight import (
    Prepared,
    accept,
    findings_of,
    prepare,
    prepare_all,
)
from proofgen.pipeline.presses import press_all, press_lines
from proofgen.pipeline.proofs import MadeProof, letter, make_proofs
from proofgen.pipeline.seasons import make_catalogue
from proofgen.pipeline.standings import standings
from proofgen.pipeline.swatches import Read, make_swatches, take_readings
from proofgen.pipeline.truesize import MadeSheet, make_true_size
from proofgen.pipeline.workshop import Workshop, at_work, open_workshop

__all__ = [
    "BLANK_LENGTHS",
    "BLANK_SHAPES",
    "Built",
    "MadeProof",
    "MadeSheet",
    "Measured",
    "Prepared",
    "Read",
    "Tape",
    "Wish",
    "Workshop",
    "accept",
    "answer",
    "answer_in_person",
    "at_work",
    "backup",
    "blanks",
    "build",
    "demo",
    "demo_walk",
    "findings_of",
    "forget",
    "letter",
    "look",
    "machine_parts",
    "make_catalogue",
    "make_proofs",
    "make_swatches",
    "make_true_size",
    "mark_handed_over",
    "mark_pressed",
    "measure",
    "new_order",
    "open_workshop",
    "photo_letter",
    "prepare",
    "prepare_all",
    "press_all",
    "press_lines",
    "read_day",
    "standings",
    "start",
    "take_readings",
    "withdraw",
    "write_page",
]
