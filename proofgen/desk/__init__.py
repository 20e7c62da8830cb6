"""Talks at the desk that need no order: a photo's size, a new blank, a new shop, a new order."""

from proofgen.desk.beginning import FIRST_ORDER, Beginning, Begun, first_order, start
from proofgen.desk.days import read_day
from proofgen.desk.figures import FIGURES as PRESS_FIGURES
from proofgen.desk.looks import blanks, look
from proofgen.desk.machine import parts as machine_parts
from proofgen.desk.measuring import LENGTHS as BLANK_LENGTHS
from proofgen.desk.measuring import Tape, measure
from proofgen.desk.ordering import Wish, new_order
from proofgen.desk.questions import means_yes
from proofgen.desk.restoring import restore
from proofgen.desk.safekeeping import backup, check_records, recorded, since_then
from proofgen.desk.stock import count_blanks
from proofgen.desk.swatches import make_swatches, take_readings
from proofgen.desk.trials import Chosen, make_trial, take_trial
from proofgen.desk.truesize import make_true_size

__all__ = [
    "BLANK_LENGTHS",
    "FIRST_ORDER",
    "PRESS_FIGURES",
    "Beginning",
    "Begun",
    "Chosen",
    "Tape",
    "Wish",
    "backup",
    "blanks",
    "check_records",
    "count_blanks",
    "first_order",
    "look",
    "machine_parts",
    "make_swatches",
    "make_trial",
    "make_true_size",
    "means_yes",
    "measure",
    "new_order",
    "read_day",
    "recorded",
    "restore",
    "since_then",
    "start",
    "take_readings",
    "take_trial",
]
