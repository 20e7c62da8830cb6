"""Orders that come in by themselves: slips, mails and photos into drafts; nothing is believed."""

from proofgen.intake.adding import add_photo, photo_from
from proofgen.intake.taken import Taken
from proofgen.intake.taking import take

__all__ = ["Taken", "add_photo", "photo_from", "take"]
