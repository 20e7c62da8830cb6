"""Orders that come in by themselves: slips, mails and photos into drafts; nothing is believed."""

from proofgen.intake.adding import add_photo, photo_from
from proofgen.intake.arrived import Arrived
from proofgen.intake.taken import Taken
from proofgen.intake.taking import take
from proofgen.intake.written import add_words, words_in

__all__ = ["Arrived", "Taken", "add_photo", "add_words", "photo_from", "take", "words_in"]
