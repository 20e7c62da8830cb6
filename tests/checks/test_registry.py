"""Every check is one file named as its id, and says why and from where."""

from __future__ import annotations

from pathlib import Path

import pytest

import proofgen.checks
from proofgen.checks import CHECKS

ROOMS = ("photo", "layout", "words", "blank", "order")


def test_one_file_per_check_named_as_its_id():
    here = Path(proofgen.checks.__file__).parent
    files = {
        f"{room}/{path.stem.replace('_', '-')}"
        for room in ROOMS
        for path in (here / room).glob("*.py")
        if path.stem != "__init__"
    }
    assert files == set(CHECKS)


@pytest.mark.parametrize("name", CHECKS)
def test_check_lives_in_its_file_and_explains_itself(name):
    one = CHECKS[name]
    assert one.look.__module__ == f"proofgen.checks.{name.replace('/', '.').replace('-', '_')}"
    assert one.why.endswith(".") and len(one.title.split()) > 2
    assert len(one.source.split()) > 2 or one.source
