"""How far records are, as it is printed: what was put back to an older day is told."""

from __future__ import annotations

import re

import pytest

from proofgen.errors import UsageError
from proofgen.signoff import Records, since, stand
from tests.signoff.conftest import NOW, new_edition


@pytest.fixture
def full(records: Records) -> Records:
    new_edition(records)
    records.mark("fenn", "sent", NOW)
    new_edition(records, "quill", fill=8)
    records.mark("fenn", "accepted", NOW)
    return records


def test_it_is_short_and_of_the_last_line(full: Records) -> None:
    last = full.journal.read().last
    assert re.fullmatch(r"[0-9a-f]{5}\.[0-9a-f]{5}\.[0-9a-f]{5}", stand(full))
    assert last.startswith(stand(full).replace(".", ""))
    assert stand(full) == stand(full, "fenn") != stand(full, "quill")
    assert stand(full, "nobody") == ""


def test_it_is_found_as_people_type_it(full: Records) -> None:
    printed = stand(full, "quill")
    spaced, dashed = printed.replace(".", " "), printed.replace(".", "–")
    for typed in (printed, f" {spaced}. ", dashed, printed.upper(), printed[:11]):
        assert since(full, typed) == (3, 4)
    assert since(full, full.entries("quill")[-1].digest) == (3, 4)


def test_what_is_never_printed_is_refused(full: Records) -> None:
    for typed in ("", "12", "g" * 15, "0" * 9, "0" * 65, "quill"):
        with pytest.raises(UsageError, match="does not tell"):
            since(full, typed)


@pytest.mark.parametrize("lines", [1, 2, 3])
def test_journal_and_head_rolled_back_together_are_told(full: Records, lines: int) -> None:
    """The chain that is left is whole, and even when more is written the loss is told."""
    before = [(p, p.read_bytes()) for p in (full.journal.path, full.journal.head)]
    for n in range(lines):
        full.mark("fenn", "accepted", NOW, pieces=[n])
    printed = stand(full)
    for path, content in before:
        path.write_bytes(content)
    rolled = Records(full.folder)
    assert rolled.journal.read().problems == []  # they themselves cannot tell
    assert since(rolled, printed) is None
    for n in range(lines):
        rolled.mark("fenn", "accepted", NOW, pieces=[n + 70])
    assert since(rolled, printed) is None
    assert since(rolled, stand(rolled)) == (4 + lines, 4 + lines)
