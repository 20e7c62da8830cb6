"""Quotation marks in pairs: what stays open, what closes nothing."""

from __future__ import annotations

import pytest

from proofgen.checks.letters import unpaired


@pytest.mark.parametrize(
    ("text", "opened", "closed"),
    [
        ('Bo the Bear"', ['"'], []),
        ('Bo "the" Bear"', ['"'], []),
        ('12" and Bo', [], []),
        ("(Bo [& Di)", ["["], []),
        ("((Bo)", ["("], []),
        ("Bo)) & (Di", ["("], [")", ")"]),
        ("”Anna", [], ["”"]),
        ("", [], []),
    ],
)
def test_what_is_left_over(text: str, opened: list[str], closed: list[str]) -> None:
    assert unpaired(text) == (opened, closed)
