"""What a computer can know before a blank is ruined: checks, one file each, and their runner."""

import importlib
import pkgutil

from proofgen.checks.lookup import fits, look
from proofgen.checks.registry import CHECKS, Check, Said, check, note, skipped, stop, warn
from proofgen.checks.runner import run, worst_first
from proofgen.checks.sharpness import needed
from proofgen.checks.subjects import CheckInput
from proofgen.checks.twins import Twins

# A check registers itself when its file is read.
for _room in ("photo", "layout", "words", "blank", "order"):
    _package = importlib.import_module(f"{__name__}.{_room}")
    for _module in pkgutil.iter_modules(_package.__path__):
        importlib.import_module(f"{_package.__name__}.{_module.name}")

__all__ = [
    "CHECKS",
    "Check",
    "CheckInput",
    "Said",
    "Twins",
    "check",
    "fits",
    "look",
    "needed",
    "note",
    "run",
    "skipped",
    "stop",
    "warn",
    "worst_first",
]
