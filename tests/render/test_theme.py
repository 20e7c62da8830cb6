"""Themes: what a page may load, how words are kept inert, and what no template may do."""

from __future__ import annotations

import base64
import hashlib
import re
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from jinja2 import DictLoader, UndefinedError

from proofgen.errors import ShopError
from proofgen.render import Theme, carried, theme_names
from proofgen.render.house_text import safe_markdown
from proofgen.say.local import say_date, say_day, say_mm, say_money, say_number

TEMPLATES = sorted(carried("themes").glob("*/templates/*.html"))
STYLES = sorted(carried("themes").glob("*/*.css"))


SCRIPTS = sorted((carried("themes") / "base").glob("*.js"))


def with_templates(**templates: str) -> Theme:
    """The quay theme with some templates of the test's own put before it."""
    theme = Theme("quay")
    own = DictLoader({name.replace("_", "."): text for name, text in templates.items()})
    loader = theme._pages.loader
    assert loader is not None
    for name in ("page.html", "sheet.html", "macros.html"):
        own.mapping[name] = loader.get_source(theme._pages, name)[0]
    theme._pages.loader = own
    return theme


TINY = """{% extends "page.html" %}{% block title %}{{ name }}{% endblock %}
{% block body %}<main><p title="{{ name }}">{{ name }}</p></main>{% endblock %}"""


def test_customer_words_stay_words() -> None:
    hostile = """<script>alert(1)</script>"' onload='x' </title>"""
    page = with_templates(tiny_html=TINY).render("tiny.html", name=hostile)
    assert "<script" not in page
    assert page.count("&lt;script&gt;") == 3
    assert "&#34;&#39; onload=" in page


def test_a_missing_word_is_a_fault_and_not_a_blank() -> None:
    with pytest.raises(UndefinedError):
        with_templates(tiny_html=TINY).render("tiny.html")


def test_policy_is_first_and_names_exactly_the_style_and_script_in_the_page() -> None:
    theme = with_templates(tiny_html=TINY)
    how = {"scripts": ["answer"], "own_style": "p > a { top: 0 }", "allow": {"img-src": "blob:"}}
    page = theme.render("tiny.html", name="x", **how)
    assert re.search(r"p ?> ?a{top:0}\s*</style>", page) and " => " in page  # neither is escaped
    head = page[page.index("<head>") + 6 :].lstrip()
    assert head.startswith('<meta http-equiv="Content-Security-Policy"')
    policy = re.search(r'content="([^"]+)"', head)
    assert policy
    rules = dict(r.split(" ", 1) for r in policy[1].replace("&#39;", "'").split("; "))
    assert rules["default-src"] == rules["base-uri"] == rules["form-action"] == "'none'"
    assert rules["img-src"] == "'self' data: blob:"
    for tag, kind in (("style", "style-src"), ("script", "script-src")):
        block = re.search(rf"<{tag}>(.*?)</{tag}>", page, re.DOTALL)
        assert block
        value = base64.b64encode(hashlib.sha256(block[1].encode()).digest()).decode()
        assert rules[kind] == f"'sha256-{value}'"
    assert page.index('charset="utf-8"') < 1024  # HTML standard, 4.2.5.4


def test_only_private_pages_hide_from_search_engines() -> None:
    theme = with_templates(tiny_html=TINY)
    assert "noindex" in theme.render("tiny.html", name="x", private=True)
    assert "noindex" not in theme.render("tiny.html", name="x")
    assert 'content="no-referrer"' in theme.render("tiny.html", name="x")


def test_unknown_theme_names_those_there_are() -> None:
    with pytest.raises(ShopError, match="quay"):
        Theme("../../etc")
    assert "quay" in theme_names()


def test_a_theme_writes_dates_in_a_language_there_is_a_catalogue_for() -> None:
    assert Theme("quay", "tlh").language == "en"
    assert Theme("quay", "en-US").date(date(2026, 12, 4)) == "Friday, December 4, 2026"


@pytest.mark.parametrize(
    ("language", "said"),
    [
        ("en", "Friday 4 December 2026"),
        ("en-IE", "Friday 4 December 2026"),
        ("fr", "vendredi 4 décembre 2026"),
        ("xx-not-a-language", "Friday 4 December 2026"),
    ],
)
def test_dates_are_words(language: str, said: str) -> None:
    assert say_date(date(2026, 12, 4), language) == said


def test_short_dates_money_and_measures() -> None:
    assert say_date(date(2026, 12, 4), "en", long=False) == "4 December 2026"
    assert say_day(date(2026, 12, 4), "en") == "Friday 4 December"
    assert say_money(Decimal("14.50"), "EUR", "en") == "€14.50"
    assert say_money(Decimal("1234.5"), "EUR", "de") == "1.234,50\N{NO-BREAK SPACE}€"
    assert say_number(1867.0, "en") == "1,867"
    assert say_number(-0.04, "en") == "0"
    assert say_mm(66.1, "en") == "66.1\N{NO-BREAK SPACE}mm"


def test_markdown_of_the_maker_cannot_load_run_or_style() -> None:
    html = safe_markdown(
        "# Us\n\n**good** [site](https://ternrow.example) [bad](javascript:alert(1))\n\n"
        '<script>x</script><img src="//a.example/p.png"><p style="color:red" onclick="x">kept</p>'
    )
    assert "<strong>good</strong>" in html and 'href="https://ternrow.example"' in html
    for bad in ("script", "javascript", "<img", "style", "onclick"):
        assert bad not in html


# The templates themselves: escaping protects text and quoted attributes, nothing more.
FORBIDDEN = {
    "unescaped words": r"\|\s*safe\b|autoescape\s+false|Markup",
    "style attribute": r"<[^>]*\sstyle\s*=",
    "inline handler": r"<[^>]*\son[a-z]+\s*=",
    "unquoted attribute": r"<[^>]*\s[a-z-]+=\{\{",
    "single-quoted attribute": r"<[^>]*\s[a-z-]+='",
    "script with a source": r"<script[^>]*\ssrc",
    "words in a script": r"<script>(?!\{\{ script \}\}</script>)",
    "words in a style": r"<style>(?!\{\{ style \}\}</style>)",
    "something loaded": r"(?:src|href)=\"(?:https?:)?//",
}


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda p: f"{p.parts[-3]}/{p.name}")
@pytest.mark.parametrize("fault", FORBIDDEN)
def test_templates_keep_the_rules(path: Path, fault: str) -> None:
    found = re.search(FORBIDDEN[fault], path.read_text("utf-8"))
    assert not found, f"{path.name}: {fault}: {found[0]!r}"


@pytest.mark.parametrize(
    ("fault", "text"),
    [
        ("unescaped words", "{{ x | safe }}"),
        ("style attribute", '<p class="a" style="x">'),
        ("inline handler", '<p onclick="x">'),
        ("unquoted attribute", "<a href={{ x }}>"),
        ("single-quoted attribute", "<a href='{{ x }}'>"),
        ("script with a source", '<script src="a.js">'),
        ("words in a script", "<script>var x = {{ x }}</script>"),
        ("words in a style", "<style>p {}</style>"),
        ("something loaded", '<img src="//a.example/b.png">'),
    ],
)
def test_the_rules_can_be_broken(fault: str, text: str) -> None:
    assert re.search(FORBIDDEN[fault], text)


@pytest.mark.parametrize("path", STYLES, ids=lambda p: f"{p.parts[-2]}/{p.name}")
def test_styles_load_nothing_from_elsewhere(path: Path) -> None:
    text = path.read_text("utf-8")
    assert "@import" not in text
    assert all(u.startswith('"fonts/') for u in re.findall(r"url\(([^)]*)", text))
    assert "gradient" not in text and "box-shadow" not in text


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda p: p.name)
def test_scripts_draw_no_soft_shadow(path: Path) -> None:
    assert "shadowBlur" not in path.read_text("utf-8")
