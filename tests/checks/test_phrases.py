"""Numbers, pieces and customers' words in sentences."""

from __future__ import annotations

from datetime import date

import pytest

from proofgen.checks import phrases


@pytest.mark.parametrize(
    "numbers, said",
    [
        ([3], "3"),
        ([1, 2], "1 and 2"), ([1, 2, 3], "1 to 3"), ([5, 1, 2, 3, 7], "1 to 3, 5 and 7"),
    ],
)  # fmt: skip
def test_runs(numbers, said):
    assert phrases.runs(numbers) == said


@pytest.mark.parametrize(
    "value, places, said",
    [(91.6, 0, "91"), (119.999, 0, "119"), (120.0, 0, "120"), (2.96, 1, "2.9"), (2.9, 1, "2.9")],
)
def test_a_number_under_a_limit_never_reads_as_the_limit(value, places, said):
    assert phrases.at_most(value, places) == said


def test_words_of_customers_cannot_steer_a_terminal():
    assert phrases.quoted("a\x1b[31m\u202eb\r") == "“a⟨U+001B⟩[31m⟨U+202E⟩b⟨U+000D⟩”"
    assert phrases.quoted("می\u200cخواهم") == "“می\u200cخواهم”"
    assert phrases.quoted("two\nlines") == "“two / lines”"
    assert len(phrases.quoted("x" * 500)) == 62


def test_sizes_days_and_sentences():
    assert phrases.size(237.08, 100.0) == "237 × 100 mm"
    assert phrases.size(60.0, 9.54) == "60 × 9.5 mm"
    assert phrases.day(date(2026, 12, 4)) == "4 December 2026"
    assert phrases.sentence("it is empty") == "It is empty."
    assert phrases.sentence("") == ""
