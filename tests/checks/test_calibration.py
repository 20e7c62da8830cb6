"""The bench of the photo checks: one small photograph through its rows, and what a break tells."""

from __future__ import annotations

import pickle
from dataclasses import replace
from unittest.mock import patch

import pytest

from proofgen.geometry import Rect
from tests.bench import heads, photo_judging
from tests.bench.photo_rows import Seen, spoilt
from tests.bench.photo_set import names
from tests.bench.photo_table import broken_ladders, table

pytestmark = pytest.mark.photos
PHOTO = "chelsea.png"
SOME = ("as it came", "blur 1", "blur 2", "blur 3", "blur 4", "x2 bicubic", "baseline JPEG")


@pytest.fixture(scope="module")
def kept(tmp_path_factory):
    """A folder of this run for what is remembered."""
    folder = tmp_path_factory.mktemp("measured")
    with patch.object(photo_judging, "cache", lambda: folder):
        yield folder


@pytest.fixture(scope="module")
def seen(kept) -> list[Seen]:
    return spoilt(PHOTO, SOME)


def statuses(seen: list[Seen], label: str, check: str) -> set[str]:
    return {one.said[check][0] for one in seen if one.label == label}


def test_a_photo_as_it_came_is_not_warned_of_and_spoilt_it_is(seen):
    for check in ("blur", "enlarged", "exposure", "screenshot"):
        assert statuses(seen, "as it came", check) <= {"pass", "note"}
    assert statuses(seen, "blur 3", "blur") == statuses(seen, "blur 4", "blur") == {"warn"}
    assert statuses(seen, "x2 bicubic", "enlarged") == {"warn"}
    assert statuses(seen, "baseline JPEG, whole", "readable") == {"pass"}
    assert statuses(seen, "baseline JPEG, 30 % missing", "readable") == {"stop"}


def test_the_table_has_every_row_and_no_break(seen):
    lines = list(table(seen))
    assert any(line.startswith("blur 3  ") and "100.0 % 100.0 % of    3" in line for line in lines)
    assert not [line for line in lines if line.startswith(("warns of", "BREAK"))]


def test_a_stronger_spoil_that_is_told_less_breaks_its_ladder(seen):
    silent = [
        replace(one, said=one.said | {"blur": ("pass", "")}) if one.label == "blur 4" else one
        for one in seen
    ]
    assert broken_ladders(seen) == []
    (warned, told, names) = broken_ladders(silent)
    assert warned.endswith("blur 3 -> blur 4, tuned: warn 1 -> 0 of 1")
    assert told.endswith("told 1 -> 0 of 1")
    assert PHOTO in names


def test_what_was_measured_is_measured_again_only_when_its_source_changed(kept, monkeypatch):
    own, measured = photo_judging.measures.sharpness_of, []

    def counting_of(plane):
        measured.append(plane.shape)
        return own(plane)

    monkeypatch.setattr(photo_judging.measures, "sharpness_of", counting_of)
    first = spoilt(PHOTO, ("blur 3",))
    count = len(measured)
    assert count >= 3
    (file,) = (kept / "measures").iterdir()
    file.write_bytes(pickle.dumps(pickle.loads(file.read_bytes()) | {"older": b"no longer read"}))
    assert spoilt(PHOTO, ("blur 3",)) == first
    assert len(measured) == count
    monkeypatch.setattr(photo_judging, "_source", lambda module: f"{module}, changed")
    assert spoilt(PHOTO, ("blur 3",)) == first
    assert len(measured) == 2 * count


def test_heads_lie_in_photographs_of_the_bench_and_are_told_apart():
    assert set(heads.heads()) <= set(names())
    for head in (head for some in heads.heads().values() for head in some):
        assert head.x >= 0 and head.y >= 0 and head.right <= 1.001 and head.bottom <= 1.001
        assert head.width > 0 and head.height > 0
    head, photo = Rect(0.4, 0.2, 0.2, 0.4), Rect(0, 0, 100, 100)
    found = [heads.what_of(head, Rect(0, top, 100, 40), photo) for top in (20, 26, 35, 61)]
    assert found == ["whole", "trimmed", "cut", "outside"]
