"""Text of unknown origin on each surface: sentence, terminal, page, letter, JSON, file name."""

from __future__ import annotations

import json
import os
import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from markupsafe import Markup

from proofgen.errors import Place, ShopError
from proofgen.say import file_name, quoted, quoted_file, visible
from proofgen.say.safe import for_json, for_letter, for_page, for_terminal, is_device

HOSTILE = {
    "escape": "Bo\x1b[2Jb",
    "title of the window": "\x1b]0;x\x07",
    "one-byte escape": "a\x9b31mb",
    "carriage return": "all is well\rBAD",
    "override": "a\u202egpj.exe",
    "isolate": "a\u2066b\u2069",
    "zero width": "Zo\u200be\ufeff",
    "line separator": "a\u2028b\u2029c",
    "vertical tab": "a\x0b\x0cb",
    "half a letter": "a\ud800b",
    "byte of a file name": os.fsdecode(b"a\xffb"),
    "tag letters": "a\U000e0041b",
    "private and unassigned": "\ue000\U000effff\u0378",
    "null": "a\x00b",
}
STEERS = re.compile(
    r"[\x00-\x1f\x7f-\x9f\u200b\u202a-\u202e\u2028\u2029\u2066-\u2069\ufeff\ud800-\udfff]"
)
ANY = st.text(st.characters(exclude_categories=()), max_size=300)


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE)
def test_hostile_text_has_no_power_on_any_surface(text: str) -> None:
    for shown in (visible(text), quoted(text), for_terminal(text), for_letter(text)):
        assert not STEERS.search(shown), shown
        shown.encode()
    assert "⟨U+" in visible(text)  # a person sees that something is there
    told = for_json({"a": text})
    assert not STEERS.search(told.replace("\n", "")) and json.loads(told) == {"a": text}
    str(for_page(text)).encode()
    assert re.fullmatch(r"[a-z0-9-]{1,40}", file_name(text))


def test_a_sentence_writes_out_what_nobody_sees() -> None:
    assert quoted("a\x1b[31m\u202eb\r") == "“a⟨U+001B⟩[31m⟨U+202E⟩b⟨U+000D⟩”"
    assert visible("می\u200cخواهم 👨\u200d👩") == "می\u200cخواهم 👨\u200d👩"  # joiners are needed
    assert quoted("two\nlines") == "“two / lines”"
    assert visible("a\u00a0b\u3000c") == "a\u00a0b\u3000c"  # spaces are seen as such


def test_long_text_is_cut_and_never_within_what_was_written_out() -> None:
    assert quoted("x" * 500) == "“" + "x" * 59 + "…”"
    assert quoted("x" * 60) == "“" + "x" * 60 + "”"
    assert len(quoted("y" * 2_000_000)) == 62
    cut = quoted("\u202e" * 500)
    assert len(cut) <= 62 and re.fullmatch(r"“(⟨U\+202E⟩)+…”", cut)
    name = quoted_file(Path("p" * 100 + "-of-the-pier.jpg"))
    assert (
        len(name) == 62 and name.startswith("“ppp") and name.endswith("p…-of-the-pier.jpg”"[-16:])
    )
    assert len(quoted_file(Path("\n" * 80))) <= 62


@given(ANY)
def test_a_quoted_text_is_one_short_line(text: str) -> None:
    for shown in (quoted(text), quoted_file(Path("folder", text.replace("/", "") or "x"))):
        assert len(shown) <= 62 and not STEERS.search(shown)


@given(ANY)
def test_json_reads_back_as_it_was(text: str) -> None:
    # A pair of halves written side by side is one letter in JSON.
    whole = text.encode("utf-16", "surrogatepass").decode("utf-16", "surrogatepass")
    assert json.loads(for_json([text])) == [whole]


def test_lines_for_a_terminal_stay_lines() -> None:
    assert for_terminal("a\n    b\tc\x1b[m\r\n") == "a\n    b\tc⟨U+001B⟩[m⟨U+000D⟩\n"


def test_a_page_keeps_what_it_can_hold() -> None:
    assert for_page("\u200fנעמה\u200b\n") == "\u200fנעמה\u200b\n"  # shown as it will be pressed
    assert for_page("\u2068+353 20\u2069؛") == "\u2068+353 20\u2069؛"  # a sentence's own
    assert for_page("a\x1bb\ud800\x00\x85") == "a⟨U+001B⟩b⟨U+D800⟩⟨U+0000⟩⟨U+0085⟩"
    made = Markup("<b>\x1b</b>")
    assert for_page(made) is made and for_page(3) == 3


@pytest.mark.parametrize("turn", "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
def test_nothing_on_a_page_turns_the_words_around_it(turn: str) -> None:
    assert for_page(f"Fenn {turn}x") == f"Fenn ⟨U+{ord(turn):04X}⟩x"


def test_a_file_s_name_in_a_place_is_one_line_that_can_be_read() -> None:
    place = Place(os.fsdecode(b"orders/a\nAll is well\xff\xe2\x80\xae/order.yaml"), 3)
    told = "orders/a⟨U+000A⟩All is well⟨U+DCFF⟩⟨U+202E⟩/order.yaml:3"
    assert str(place) == told and ShopError("no", "", place).sentence() == f"{told}: no"


def test_a_letter_has_one_line_for_a_value() -> None:
    assert for_letter("Bob\r\nBcc: all@example.org\x1b[2J") == "Bob Bcc: all@example.org[2J"
    assert for_letter("\u200eדנה\u202e לוי\u200b") == "\u200eדנה לוי"
    assert for_letter("حتى \u2068+353 20\u2069؛") == "حتى \u2068+353 20\u2069؛"
    assert for_letter("\u2069Bo\u2068") == for_letter("Bo\u2068") == "Bo"


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("Odalys & Bram", "odalys-bram"),
        ("Zoë Weiß", "zoe-weiss"),
        ("../../etc/passwd", "etc-passwd"),
        ("a\u202e\x00b", "a-b"),
        ("con", "order-con"),
        ("日本", "order"),
        ("x" * 500, "x" * 40),
        ("-" * 9, "order"),
    ],
)
def test_a_file_gets_a_name_of_our_own(text: str, name: str) -> None:
    assert file_name(text) == name and not is_device(file_name(text))
