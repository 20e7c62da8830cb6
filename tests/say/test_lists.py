"""Lists, runs of numbers and pieces in a sentence."""

from __future__ import annotations

import pytest

from proofgen.say import joined, pieces, runs, sentences, spans


@pytest.mark.parametrize(
    ("numbers", "text"),
    [
        ([], ""),
        ([3], "3"),
        ([1, 2], "1 and 2"),
        ([1, 2, 3], "1 to 3"),
        ([1, 2, 9], "1, 2 and 9"),
        ([7, 1, 3, 6, 5, 5], "1, 3 and 5 to 7"),
        ([1, 2, 3, 4, 7], "1 to 4 and 7"),
    ],
)
def test_runs(numbers: list[int], text: str) -> None:
    assert runs(numbers) == text


def test_spans_pieces_and_joined() -> None:
    assert spans([9, 1, 2, 3, 7, 8]) == [(1, 3), (7, 9)]
    assert pieces([3, 3]) == "piece 3" and pieces((2, 1), capital=True) == "Pieces 1 and 2"
    assert joined([]) == "" and joined(["a"]) == "a" and joined("abc", "or") == "a, b or c"
    assert sentences("One.", "", "Two.") == "One. Two."
