"""A maker's words for what spoiled a piece, as a kind that can be counted."""

from __future__ import annotations

import pytest

from proofgen.press.causes import KINDS, cause_of


@pytest.mark.parametrize(
    ("words", "kind"),
    [
        ("A ghost on Odalys’ cup", "moved"),
        ("the paper slipped", "moved"),
        ("too pale at the left", "pale"),
        ("Scorched", "scorched"),
        ("nozzle left stripes", "print"),
        ("hole in the cloth", "blank"),
        ("lint", "marked"),
        ("the cat sat on it", "other"),
        ("", "other"),
    ],
)
def test_words(words, kind):
    assert cause_of(words) == kind


def test_every_beginning_leads_to_its_kind_alone():
    for kind, beginnings in KINDS.items():
        for word in beginnings:
            assert cause_of(word) == kind, word
