"""What customers call a blank: the maker's word, else what it is."""

from __future__ import annotations

from dataclasses import replace

import pytest

from proofgen.model.blank_names import called_in, cloths_in
from proofgen.say.parts import BUILT_IN, CLOTHS, FINISH_WORDS, PIECES
from proofgen.say.tongue import Tongue, languages
from proofgen.shop import built_in_blanks

BLANKS = built_in_blanks()
ENGLISH = Tongue()


@pytest.mark.parametrize("name", BLANKS)
def test_each_blank_that_comes_with_the_tool_has_a_name_in_every_language(name: str) -> None:
    blank = BLANKS[name]
    assert blank.called in BUILT_IN and called_in(blank, ENGLISH) == blank.called
    assert set(blank.cloth.colours) <= set(CLOTHS)
    names = {called_in(blank, Tongue.of(code)) for code in languages()}
    assert len(names) == len(languages())
    assert cloths_in(blank, Tongue.of("de"))[0] == ("Weiß", "#ffffff")


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("can-wrap-linen", "Wrap sleeve, linen-look"),
        ("slim-wrap-linen", "Slim wrap sleeve, linen-look"),
        ("tall-wrap-linen", "Tall wrap sleeve, linen-look"),
        ("can-fold", "Folded sleeve, smooth"),
        ("can-sewn-foam", "Sewn sleeve, foam"),
        ("pouch-flat", "Flat piece, linen-look, 200 × 130 mm"),
        ("coaster-round", "Round piece, smooth, 100 mm"),
    ],
)
def test_what_nobody_named_is_called_by_what_it_is(name: str, said: str) -> None:
    plain = called_in(replace(BLANKS[name], called=""), ENGLISH)
    assert plain.replace("\N{NO-BREAK SPACE}", " ") == said


def test_a_makers_own_word_stays_as_it_is() -> None:
    own = replace(BLANKS["can-fold"], called="Zoë’s sleeve")
    assert {called_in(own, Tongue.of(code)) for code in languages()} == {"Zoë’s sleeve"}


def test_every_kind_and_finish_can_be_said_in_every_language() -> None:
    for code in languages():
        tongue = Tongue.of(code)
        for table in (PIECES, FINISH_WORDS):
            assert len({tongue(said) for said in table.values()}) == len(table)
