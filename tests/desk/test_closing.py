"""A wrap whose measures disagree: told by how much, and taken by the overlap that was seen."""

from __future__ import annotations

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
        ("overlap 20 mm", "the can alone is 207.7 mm round"),  # no cloth would be left
        ("overlap 5 mm", "too short"),  # less than holds
    ],
)
def test_what_cannot_close_still_stops(typed: str, said: str) -> None:
    asker, heard = _asker(typed)
    texts = dict(WRAP)
    with pytest.raises(StopError):
        that_closes(asker, texts, "stall")
    assert said in heard[1] and texts == WRAP


def test_nobody_there_is_told() -> None:
    with pytest.raises(StopError, match="too short"):
        that_closes(Asker(None), dict(WRAP), "stall")
