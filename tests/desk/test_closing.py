"""A wrap whose measures disagree: told by how much, and taken by the overlap that was seen."""

from __future__ import annotations

import math

import pytest

from proofgen.desk.closing import that_closes
from proofgen.desk.questions import Asker
from proofgen.errors import StopError

# A sleeve that exists: pi x 70 = 219.9 mm round by its folded thickness, 5.1 mm of overlap; on the
# can it overlaps by 12 mm.
WRAP = {
    "name": "Stall wrap",
    "construction": "wrap",
    "vessel": "{diameter: 66.1 mm}",
    "length": "225 mm",
    "height": "101 mm",
    "thickness": "3.9 mm",
    "closure": "{width: 30 mm, shortest: 10 mm, on_top: right}",
    "bleed": "6 mm",
    "safe": "5 mm",
    "cloth": '{finish: foam, colours: {white: "#ffffff"}}',
}


def _asker(*typed: str) -> tuple[Asker, list[str]]:
    left, heard = list(typed), list[str]()

    def ask(question: str) -> str:
        heard.append(question)
        return left.pop(0) if left else ""

    return Asker(ask), heard


def test_the_overlap_that_is_seen_tells_the_thickness() -> None:
    asker, heard = _asker("overlap 12 mm")
    texts = dict(WRAP)
    blank = that_closes(asker, texts, "stall")
    assert "too short" in heard[0] and "overlap" in heard[0]
    # (225 - 12) / pi - 66.1 = 1.700
    assert blank.thickness_mm == pytest.approx(1.7, abs=0.001)
    assert blank.plan().overlap == pytest.approx(12, abs=0.01)
    # 225 - pi x 70 = 5.089
    for said in (*asker.notes, blank.note):
        assert "disagree" in said and "5.1 mm" in said and "6.9 mm more" in said
    assert "note" in texts


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("overlap 19 mm", "the can alone is 207.7 mm round"),  # no cloth would be left
        ("overlap 5 mm", "too short"),  # less than holds
    ],
)
def test_what_cannot_close_still_stops(typed: str, said: str) -> None:
    asker, heard = _asker(typed)
    texts = dict(WRAP)
    with pytest.raises(StopError):
        that_closes(asker, texts, "stall")
    assert said in heard[1] and texts == WRAP


@pytest.mark.parametrize(
    ("length", "can", "overlap"),
    [
        # 10 mm is the least: 219.911 mm round and 229.211 mm long lack 0.7 mm of it.
        ("229.211 mm", 66.1 - 0.7 / math.pi, 10),
        ("228.912 mm", 66.1 - 0.999 / math.pi, 10),
        # 30 mm is the most.
        ("250.6 mm", 66.1 + 0.689 / math.pi, 30),
    ],
)
def test_a_tapes_error_is_no_reason_to_refuse(length: str, can: float, overlap: float) -> None:
    """What was taken instead of the measure is said, and stands in the file."""
    asker, heard = _asker()
    texts = {**WRAP, "length": length}
    blank = that_closes(asker, texts, "stall")
    assert heard == [] and blank.vessel_mm == pytest.approx(can, abs=0.0015)
    assert blank.plan().overlap == pytest.approx(overlap, abs=0.01) and not blank.plan().problems
    for said in (*asker.notes, blank.note):
        assert "a tape’s error (1 mm)" in said and "instead of 66.1 mm" in said
    assert that_closes(_asker()[0], texts, "stall") == blank  # and reads back as it was taken


@pytest.mark.parametrize("length", ["228.9 mm", "251 mm"])
def test_more_than_a_tapes_error_stops(length: str) -> None:
    with pytest.raises(StopError):
        that_closes(Asker(None), {**WRAP, "length": length}, "stall")


def test_no_room_for_cloth_within_a_tapes_error() -> None:
    """225 - 18 is 207 mm, and the can alone 207.66 mm round: the can is the one that is off."""
    asker, _ = _asker("overlap 18 mm")
    texts = dict(WRAP)
    blank = that_closes(asker, texts, "stall")
    assert blank.vessel_mm == pytest.approx(207 / math.pi - 0.1, abs=0.001)
    assert blank.plan().overlap == pytest.approx(18, abs=0.01)
    assert "0.66 mm, no more than a tape’s error" in blank.note and blank.thickness_mm == 0.1


def test_one_can_is_one_number() -> None:
    with pytest.raises(StopError, match=r"round cans of 64\.5 mm across") as told:
        narrow = {**WRAP, "closure": "{width: 10.1 mm, shortest: 10 mm, on_top: right}"}
        that_closes(Asker(None), narrow, "stall")
    assert "from" not in told.value.cure.rpartition("(")[2]


def test_nobody_there_is_told() -> None:
    with pytest.raises(StopError, match="too short"):
        that_closes(Asker(None), dict(WRAP), "stall")
