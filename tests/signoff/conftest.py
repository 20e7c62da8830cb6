"""An order of an invented shop, its drawing described, and its first proof; times are fixed."""

from __future__ import annotations

from datetime import UTC, date, datetime
from typing import Any

import pytest

from proofgen.signoff.canonical import fingerprint
from proofgen.signoff.editions import Edition

KEY = bytes(range(32))
MADE = datetime(2026, 11, 25, 9, 30, tzinfo=UTC)
ANSWER_BY = date(2026, 11, 30)
DOCUMENT: dict[str, Any] = {"schema": "proofgen/artwork/1", "order": "fenn", "lines": []}
RASTERS = {"line1-a-round.png": "0f" * 32}


def edition(number: int = 1, key: bytes = KEY, order: str = "fenn") -> Edition:
    """A proof that no folder holds."""
    return Edition(
        order=order,
        number=number,
        fingerprint=fingerprint(DOCUMENT, RASTERS),
        document=DOCUMENT,
        rasters=RASTERS,
        key=key,
        made=MADE,
        answer_by=ANSWER_BY,
    )


@pytest.fixture
def proof() -> Edition:
    return edition()
