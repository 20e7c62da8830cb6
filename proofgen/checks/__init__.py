"""What a computer can know before a blank is ruined: the checks, by family, and their runner."""

from proofgen.checks.as_written import AS_ORDERED
from proofgen.checks.lookup import fits, judged, look
from proofgen.checks.resolution import needed
from proofgen.checks.runner import run
from proofgen.checks.subjects import CheckInput
from proofgen.checks.twins import Twins

__all__ = ["AS_ORDERED", "CheckInput", "Twins", "fits", "judged", "look", "needed", "run"]
