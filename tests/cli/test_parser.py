"""The parser stands apart from the work, and says the same as the work does."""

from __future__ import annotations

import subprocess
import sys

from proofgen.cli import blank_options
from proofgen.desk.measuring import LENGTHS as BLANK_LENGTHS
from proofgen.desk.measuring import SHAPES as BLANK_SHAPES

HEAVY = ("numpy", "PIL", "jinja2", "yaml", "weasyprint", "pikepdf")


def test_the_options_of_a_tape_are_what_can_be_measured():
    assert set(blank_options.TAPE) == set(BLANK_LENGTHS)
    assert sorted(blank_options.SHAPES.replace(" or ", ", ").split(", ")) == sorted(BLANK_SHAPES)


def test_a_help_text_loads_nothing_heavy():
    look = (
        "import sys; from proofgen.cli import build_parser; build_parser(); "
        f"print([m for m in {HEAVY!r} if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", look], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
