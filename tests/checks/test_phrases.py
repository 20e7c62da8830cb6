"""Days and sentences of findings; numbers, pieces and customers' words are told in tests/say."""

from __future__ import annotations

from datetime import date

from proofgen.checks import phrases


def test_days_and_sentences():
    assert phrases.day(date(2026, 12, 4)) == "4 December 2026"
    assert phrases.sentence("it is empty") == "It is empty."
    assert phrases.sentence("") == ""
