"""A name letter by letter."""

from __future__ import annotations

import pytest

from proofgen.proof.letters import graphemes, spell
from proofgen.say.tongue import Tongue


@pytest.mark.parametrize(
    ("text", "letters"),
    [
        ("Zoë", ["Z", "o", "ë"]),
        ("Zoe\u0308", ["Z", "o", "ë"]),
        ("q\u0303a", ["q\u0303", "a"]),
        ("نَو", ["نَ", "و"]),
        ("नि", ["नि"]),
        ("👨‍👩‍👧!", ["👨‍👩‍👧", "!"]),
        ("🇬🇧🇮🇪", ["🇬🇧", "🇮🇪"]),
        ("👍🏽a", ["👍🏽", "a"]),
        ("", []),
    ],
)
def test_letters_are_what_a_reader_sees(text: str, letters: list[str]) -> None:
    assert graphemes(text) == letters


def test_what_looks_alike_is_told_apart() -> None:
    said = [(one.shown, one.what) for one in spell("Il1O0 -–&;§", Tongue())]
    assert said == [
        ("I", "capital"),
        ("l", ""),
        ("1", "digit"),
        ("O", "capital"),
        ("0", "digit"),
        ("␣", "space"),
        ("-", "hyphen"),
        ("–", "dash"),
        ("&", "and sign"),
        (";", "semicolon"),
        ("§", "sign"),
    ]
