"""An order of an invented shop, its drawing described, and its first proof; times are fixed."""

from __future__ import annotations

import hashlib
import json
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import pytest

from proofgen.signoff import Edition, Outcome, Records, take_answer
from proofgen.signoff.digests import fingerprint

_PUBLISHED = Path(__file__).with_name("vectors.json")
VECTORS: dict[str, Any] = (
    json.loads(_PUBLISHED.read_text("utf-8")) if _PUBLISHED.is_file() else {"spoken": []}
)
KEY = bytes(range(32))
MADE = datetime(2026, 11, 25, 9, 30, tzinfo=UTC)
NOW = datetime(2026, 11, 26, 12, 0, tzinfo=UTC)
TODAY = NOW.date()
ANSWER_BY = date(2026, 11, 30)
WRITTEN = "2026-11-25T14:03:00Z"
DOCUMENT: dict[str, Any] = {"schema": "proofgen/artwork/1", "order": "fenn", "lines": []}
RASTERS = {"line1-a-round.png": "0f" * 32}
PICTURE = b"pixels of the pier"


def seen(content: bytes) -> str:
    """Stands in for the digest of a picture's pixels."""
    return hashlib.sha256(b"pixels" + content).hexdigest()


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


def _drawing(order: str, fill: int) -> dict[str, Any]:
    return {**DOCUMENT, "order": order, "ppi": 300 + fill}


def unkept(order: str, fill: int, number: int) -> Edition:
    """The proof that `new_edition` keeps, without the records."""
    document, rasters = _drawing(order, fill), {"line1-a-round.png": seen(PICTURE)}
    made = edition(number, bytes([fill]) * 32, order)
    return replace(made, document=document, fingerprint=fingerprint(document, rasters))


def code(proof: Edition, answer: str) -> str:
    """What a customer reads off the page of a proof: looked up among the published ones."""
    about = (proof.key.hex(), proof.order, proof.number, proof.fingerprint)
    for one in VECTORS["spoken"]:
        if (one["key_hex"], one["order"], one["edition"], one["fingerprint"]) == about:
            return str(one["codes"][answer])
    raise AssertionError("not in vectors.json: name it in vectors.py, and run that")


def new_edition(records: Records, order: str = "fenn", fill: int = 7, **over: Any) -> Edition:
    """A proof kept in the records; `fill` sets its key and its drawing apart from others."""
    document = _drawing(order, fill)
    picture = over.pop("picture", PICTURE)
    rasters = {"line1-a-round.png": (picture, seen(picture))}
    given = {"made": MADE, "answer_by": ANSWER_BY, "key": bytes([fill]) * 32, **over}
    return records.new_edition(order, document, rasters, **given)


def take(records: Records, source: str | bytes, **over: Any) -> Outcome:
    return take_answer(records, source, **{"today": TODAY, "now": NOW, **over})


@pytest.fixture
def proof() -> Edition:
    return edition()


@pytest.fixture
def records(tmp_path: Path) -> Records:
    return Records(tmp_path / "records")


@pytest.fixture
def kept(records: Records) -> Edition:
    """The first proof of `fenn`, kept in `records`."""
    return new_edition(records)
