"""A name letter by letter, and numbers of pieces in words."""

from __future__ import annotations

import pytest

from proofgen.proof.letters import graphemes, say_pieces, spell


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
    said = [(one.shown, one.what) for one in spell("Il1O0 -–")]
    assert said == [
        ("I", "capital"),
        ("l", ""),
        ("1", "digit"),
        ("O", "capital"),
        ("0", "digit"),
        ("␣", "space"),
        ("-", "hyphen-minus"),
        ("–", "en dash"),
    ]


@pytest.mark.parametrize(
    ("numbers", "said"),
    [
        ((4,), "4"),
        ((1, 2), "1 and 2"),
        ((1, 2, 3), "1 to 3"),
        ((7, 1, 3, 6, 5), "1, 3 and 5 to 7"),
        ((1, 2, 9), "1, 2 and 9"),
    ],
)
def test_pieces_in_words(numbers: tuple[int, ...], said: str) -> None:
    assert say_pieces(numbers) == said
