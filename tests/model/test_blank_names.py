"""What customers call a blank: the maker's word, else what it is."""

from __future__ import annotations

from dataclasses import replace

import pytest

from proofgen.model import Blank
from proofgen.model.blank_names import called_in, cloths_in, still_alike, told_apart
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


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("can-wrap-linen", "Wrap sleeve"),
        ("pouch-flat", "Flat piece, 200 × 130 mm"),
        ("coaster-round", "Round piece, 100 mm"),
    ],
)
def test_no_cloth_is_told_where_nobody_said(name: str, said: str) -> None:
    cloth = replace(BLANKS[name].cloth, finish="")
    plain = called_in(replace(BLANKS[name], called="", cloth=cloth), ENGLISH)
    assert plain.replace("\N{NO-BREAK SPACE}", " ") == said
    sized = replace(BLANKS["can-wrap-linen"], called="", cloth=cloth, sized=0)
    assert called_in(sized, ENGLISH).startswith("Wrap sleeve, 2")


def _shop_of(wide: float = 240.0, high: float = 100.0) -> dict[str, Blank]:
    """The built-in wrap and one of the shop's own that looks like it."""
    wrap = BLANKS["can-wrap-linen"]
    mine = replace(wrap, id="renske-wrap", called="", built_in=False)
    mine = replace(mine, width_mm=wide, height_mm=high)
    return {"can-wrap-linen": wrap, "renske-wrap": mine}


def _names(told: dict[str, Blank], tongue: Tongue = ENGLISH) -> list[str]:
    return [called_in(b, tongue).replace("\N{NO-BREAK SPACE}", " ") for b in told.values()]


def test_blanks_that_would_be_called_alike_have_their_size_in_their_names() -> None:
    """A wrap of the maker's own and the built-in one were both “Wrap sleeve, linen-look”."""
    both = _shop_of(225.0, 101.0)
    assert len({*_names(both)}) == 1
    told = told_apart(both, both, "en")
    assert _names(told) == [
        "Wrap sleeve, linen-look, 240 × 100 mm", "Wrap sleeve, linen-look, 225 × 101 mm",
    ]  # fmt: skip
    assert still_alike(told, both, ENGLISH) == [] and told == both
    for code in languages():
        assert len({*_names(told, Tongue.of(code))}) == 2
    # Tenths where whole mm say nothing; one that nobody is offered needs no size.
    close = _shop_of(240.3)
    assert _names(told_apart(close, close, "en"))[1] == "Wrap sleeve, linen-look, 240.3 × 100 mm"
    assert _names(told_apart(both, ["renske-wrap"], "en")) == ["Wrap sleeve, linen-look"] * 2


def test_the_blanks_that_come_with_the_tool_need_no_size_in_their_names() -> None:
    assert told_apart(BLANKS, [*BLANKS, "one-that-is-gone"], "en") == BLANKS
    # Nor does one beside which the maker's own lies that nobody is offered.
    both = _shop_of(225.0, 101.0)
    assert _names(told_apart(both, ["can-wrap-linen"], "en")) == _names(both)


def test_those_that_stay_alike_are_told_with_the_line_to_write() -> None:
    twins = _shop_of()
    told = told_apart(twins, twins, "en")
    assert _names(told) == ["Wrap sleeve, linen-look"] * 2
    (said,) = still_alike(told, twins, ENGLISH)
    assert "can-wrap-linen and renske-wrap" in said and "blanks/renske-wrap.yaml" in said


def test_no_two_built_in_blanks_have_one_name() -> None:
    for code in languages():
        assert len({*_names(BLANKS, Tongue.of(code))}) == len(BLANKS)


def test_a_makers_own_word_stays_as_it_is() -> None:
    own = replace(BLANKS["can-fold"], called="Zoë’s sleeve")
    assert {called_in(own, Tongue.of(code)) for code in languages()} == {"Zoë’s sleeve"}


def test_every_kind_and_finish_can_be_said_in_every_language() -> None:
    for code in languages():
        tongue = Tongue.of(code)
        for table in (PIECES, FINISH_WORDS):
            assert len({tongue(said) for said in table.values()}) == len(table)
