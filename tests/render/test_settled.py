"""What is settled while a template is compiled comes out as Jinja alone would have it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from jinja2 import Environment, StrictUndefined, UndefinedError
from markupsafe import Markup

from proofgen.render import Theme
from proofgen.render.house_text import _CLEANER, _SIGNS, _of_thread, are_words, safe_markdown
from proofgen.render.layers import GuardedEnvironment, LayeredEnvironment
from proofgen.render.saying import saying
from proofgen.say.safe import for_page
from proofgen.say.tongue import Tongue
from tests import templates

WILD = "a&b <i>\u202e\x07\u2068 “”"
PAGE = """\
{% macro one(it, class="", note=none) %}<b class="{{ class }}">{{ it }}{{ note }}</b>{% endmacro %}
{{ plain }}{{ safe }}{{ one(plain, class=safe) }}{{ one(it=5, note=plain) }}{{ plain|upper }}
{{ _("Send") }}{{ _("Order %(design)s", design=plain) }}{{ dict(a=plain).a }}{{ 1.5 }}{{ none }}
{% call shout(2) %}{{ plain }}{% endcall %}{% set kept %}{{ safe }}{{ plain }}{% endset %}{{ kept }}
{% for it in [plain, safe] recursive %}{{ loop.index }}{{ loop.cycle(plain, safe) }}{% endfor %}
"""


def shout(many: int, caller: Callable[[], str]) -> Markup:
    return Markup(caller() * many)


def filled(kind: type[Environment], text: str = PAGE, **more: object) -> str:
    made = kind(autoescape=True, undefined=StrictUndefined, finalize=for_page)
    made.globals["_"] = saying(Tongue("de"))
    told: Any = {"plain": WILD, "safe": Markup("<i>&amp;</i>"), "shout": shout, **more}
    return made.from_string(text).render(**told)


@pytest.mark.parametrize("kind", [LayeredEnvironment, GuardedEnvironment])
def test_a_page_is_what_jinja_makes_of_it(kind: type[Environment]) -> None:
    assert filled(kind) == filled(Environment)
    assert Tongue("de").message("Send") in filled(kind)


def test_what_is_not_there_is_told() -> None:
    for text in ("{{ nothing }}", "{{ nothing() }}", "{{ plain.nothing() }}"):
        with pytest.raises(UndefinedError):
            filled(LayeredEnvironment, text)


CALLED = """\
{% macro bare(a, b=2) %}{{ a }}{{ b }}{% endmacro %}
{% macro rest(a) %}{{ a }}{{ varargs|length }}{{ kwargs|length }}{% endmacro %}
{% macro frame(a, caller=none) %}{{ a }}{{ caller() if caller else "" }}{% endmacro %}
{% macro within(a) %}{{ a }}{{ caller() }}{% endmacro %}
"""


@pytest.mark.parametrize(
    "call",
    [
        "{{ bare(plain) }}{{ bare(plain, 3) }}{{ bare(plain, b=safe) }}{{ bare(b=1, a=plain) }}",
        "{{ rest(1) }}{{ rest(1, 2, 3) }}{{ rest(1, b=plain) }}{{ frame(plain) }}",
        "{% call frame(plain) %}{{ plain }}{% endcall %}"
        "{% call within(1) %}{{ safe }}{% endcall %}",
    ],
)
def test_a_macro_is_called_as_jinja_calls_it(call: str) -> None:
    assert filled(LayeredEnvironment, CALLED + call) == filled(Environment, CALLED + call)


@pytest.mark.parametrize(
    "call", ["{{ bare() }}", "{{ bare(1, 2, 3) }}", "{{ bare(1, c=3) }}", "{{ bare(1, a=2) }}"]
)
def test_a_macro_that_is_called_wrongly_says_so_as_in_jinja(call: str) -> None:
    said = []
    for kind in (LayeredEnvironment, Environment):
        with pytest.raises((TypeError, UndefinedError)) as told:
            filled(kind, CALLED + call)
        said.append((told.type, str(told.value)))
    assert said[0] == said[1]


def test_escaping_that_is_put_off_stays_off() -> None:
    text = "{% autoescape false %}{{ plain }}{% endautoescape %}"
    assert filled(LayeredEnvironment, text) == filled(Environment, text)


def test_a_sentence_is_filled_as_python_fills_it() -> None:
    say = saying(Tongue("en"))
    assert say("Printed at 100 %%, %(a)s and %(a)s", a="<") == "Printed at 100 %, &lt; and &lt;"
    assert say("%(n)d of %(all)s", n=3, all=Markup("<b>")) == "3 of <b>"
    with pytest.raises(KeyError):
        say("%(a)s")


def test_what_another_catalogue_says_is_compiled_anew(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(Theme, "_environment", templates._ENVIRONMENT)
    one = Theme("quay")._pages.bytecode_cache
    monkeypatch.setattr(Tongue, "digest", "another")
    other = Theme("quay")._pages.bytecode_cache
    assert one and other
    assert one.get_source_checksum("a") != other.get_source_checksum("a")


_LINES = st.text(st.sampled_from("ab 1.-*_#>|:=+!\t\r\n\"'(){}]^~–"), max_size=60)


@given(st.lists(_LINES, max_size=4).map("\n\n".join))
def test_the_reader_of_plain_texts_reads_as_the_full_one(text: str) -> None:
    assume(not _SIGNS.search(text))
    assert _of_thread.plain.reset().convert(text) == _of_thread.full.reset().convert(text)


_PIECES = ["a", "É", "ab c", ", ", "so", "1.", "- ", "*", "_", "’", '"', "\n", "\n\n", "(x)"]
_MOSTLY_WORDS = st.lists(st.sampled_from([*_PIECES, "*so*", "*a b*", " *so* "]), max_size=12)


@given(_MOSTLY_WORDS.map("".join))
def test_a_text_is_set_as_the_full_reader_sets_it(text: str) -> None:
    assert safe_markdown(text) == _CLEANER.clean(_of_thread.full.reset().convert(text))


def test_what_most_designs_say_is_words_and_what_has_signs_is_none() -> None:
    assert are_words(
        "Two inks, one board.\nIt *keeps* its colour.\n\nFor the quay – or your desk!\n"
    )
    signs = ["# a", "1. a", "- a", "a\n- b", "a\n===", "a | b", "a **b**", "_a_", "a & b", "<b>"]
    wild = ["", " a", "a ", "a  \nb", "a\n b", "*a", "a * b * c", "a\u00a0b", "a\tb", "a\r\nb"]
    assert not [text for text in [*signs, *wild] if are_words(text)]


@pytest.mark.parametrize(
    "text", ["`a`", "\\*a*", "[a](https://b.example)", "![a](b)", "<https://b.example>", "a  \nb"]
)
def test_a_text_with_signs_is_read_in_full(text: str) -> None:
    assert safe_markdown(text) != safe_markdown.__wrapped__(text.translate(_BARE))


_BARE = str.maketrans("", "", "`\\[]()!<>\n")
