"""What a theme may change: every token and every block, and nothing of the default is left."""

from __future__ import annotations

import itertools
import re
from collections.abc import Callable, Iterator
from dataclasses import asdict, replace
from functools import cache, partial
from pathlib import Path
from typing import Any

import pikepdf
import pytest
from jinja2 import Environment, nodes

from proofgen.catalogue import pages as catalogue
from proofgen.catalogue.content import Issue
from proofgen.catalogue.stall import stall_sheet
from proofgen.geometry import plan_flat
from proofgen.proof.build import _names, _shared, pdf_of
from proofgen.proof.build import build as build_proof
from proofgen.render import Theme, carried, html_to_pdf
from proofgen.render.drawing import blank_svg
from tests.catalogue.season import FITTING, KNIT, QUAY, TILE, entry, season, with_form
from tests.proof.sample import content

BASE = carried("themes") / "base" / "templates"
# Read by the maker alone or laid under the press; the same in every theme or not customers'.
OURS = {
    "contact.html", "evening.html", "evening_parts.html", "evening_pdf.html", "finding.html",
    "findings.html", "findings-order.html", "guide.html", "press_band.html",
    "press_drawings.html", "press_sheets.html",
    "swatches.html", "tally.html", "ticket.html", "trial-grid.html", "trial-ladder.html",
    "trial-words.html", "true-size.html", "workroom-order.html", "workroom-parts.html",
    "workroom.html", "sheet.html",
}  # fmt: skip


@cache
def sample() -> Any:
    return content()


def proof_pdf_page(theme: Theme) -> str:
    shown = sample()
    shared = _shared(shown.published(_names(shown.pictures)), theme, on_paper=True)
    how: Any = {"medium": "paper", "styles": ("pdf", "proof_pdf"), "lines": 1, **shared}
    return theme.render("proof_pdf.html", own_style=":root { --grow: 1 }", **how)


def letter(theme: Theme) -> str:
    told: Any = {"subject": "Your proof", "sender": ("Tern Row", "a@tern.example"), "parts": ()}
    return theme.render("letter.html", medium="mail", styles=("letter",), letter=told)


def packing(theme: Theme) -> str:
    told: Any = {
        "shop": {"name": "Tern Row", "contact": "us", "telephone": ""},
        "order": {"id": "fenn", "customer": {"name": "Odalys"}},
        "count": 1, "signed": None, "edition": 1, "lines": [], "care_text": "", "care": ["Wash"],
        "tags": [{"words": ["Ada"], "notes": [], "number": 1}],
    }  # fmt: skip
    return theme.render("packing.html", medium="paper", styles=("packing",), **told)


def notice(theme: Theme) -> str:
    told: Any = {"title": "Closed", "says": "x", "shop_name": "T", "contact": "us", "demo": False}
    return theme.render("notice.html", **told)


def season_page(name: str, theme: Theme) -> str:
    return catalogue.build(everything(), theme, with_pdf=False)[name].decode()


@cache
def everything() -> Any:
    many = (with_form(replace(QUAY, fitting=FITTING)), KNIT, TILE, entry("jib", "Jib"))
    old = entry("leaf", "Leaf")
    return season(
        many,
        texts={"about": "# About us\n\nWe press."},
        text="Small *warm* things.",
        site="https://pierhead.example",
        issues=(
            Issue(id="spring", title="Spring", sentence="", text="", when="now", entries=many),
            Issue(
                id="autumn", title="Autumn", sentence="Late.", text="x", when="past", entries=(old,)
            ),
        ),
    )


# Everything that customers read, by a name of ours.
SHOWN: dict[str, Callable[[Theme], str]] = {
    "front": partial(season_page, "index.html"),
    "design": partial(season_page, f"designs/{everything().entries[0].id}.html"),
    "blanks": partial(season_page, "blanks.html"),
    "text": partial(season_page, "words/about.html"),
    "occasion": partial(season_page, "for/gift.html"),
    "season over": partial(season_page, "seasons/autumn.html"),
    "nowhere": partial(season_page, "404.html"),
    "gone": lambda theme: catalogue.gone_page(
        theme, {"shop_name": "Tern Row", "contact": "us", "demo": False}
    ).decode(),
    "prices": lambda theme: stall_sheet(everything(), theme, "a4")[0],
    "booklet": lambda theme: catalogue.season_sheets(everything(), theme)[0],
    "proof": lambda theme: build_proof(sample(), theme, with_pdf=False)["index.html"].decode(),
    "proof on paper": proof_pdf_page,
    "letter": letter,
    "packing": packing,
    "notice": notice,
    "blank": lambda theme: theme.render("blank.html"),
}
# Said anew by every page that stands on it.
SAID_ANEW = {("page.html", "title"), ("page.html", "masthead"), ("page.html", "main")}


def blocks() -> Iterator[tuple[str, str]]:
    """Every block of every template that customers read, template first."""
    for path in sorted(BASE.glob("*.html")):
        if path.name not in OURS:
            tree = Environment(extensions=["jinja2.ext.i18n"]).parse(path.read_text("utf-8"))
            found = ((path.name, block.name) for block in tree.find_all(nodes.Block))
            yield from (one for one in found if one not in SAID_ANEW)


def test_there_are_blocks_for_all_that_customers_read() -> None:
    with_blocks = {template for template, _ in blocks()}
    parts = {"macros.html", "catalogue-macros.html", "proof_parts.html"}  # pieces of others
    # Read again by their form, or made of what a script asks for; design.html has a block for each.
    scripts = {"proof-says.html", "proof-standing.html", "order-slip.html", "try-photo.html"}
    whole = {path.name for path in BASE.glob("*.html")} - OURS - parts - scripts
    assert whole <= with_blocks
    assert len(list(blocks())) > 60


@pytest.fixture(scope="module")
def loaded() -> dict[str, list[str]]:
    """The templates that each of SHOWN is made of."""
    found: dict[str, list[str]] = {}
    for name, show in SHOWN.items():
        theme = Theme("quay")
        loader, seen = theme._pages.loader, []
        assert loader
        get = loader.get_source

        def noting(env: Any, template: str, get: Any = get, seen: list[str] = seen) -> Any:
            seen.append(template)
            return get(env, template)

        theme._pages.cache = None  # each is asked for anew
        loader.get_source = noting  # type: ignore[method-assign]
        show(theme)
        found[name] = seen
    return found


def own_theme(folder: Path, templates: dict[str, str], facts: str = "") -> Theme:
    (folder / "templates").mkdir(parents=True)
    for name, text in templates.items():
        (folder / "templates" / name).write_text(text, "utf-8")
    if facts:
        (folder / "theme.yaml").write_text(facts, "utf-8")
    return Theme("quay", "en", "EUR", folder)


@pytest.mark.parametrize(("template", "block"), list(blocks()), ids=str)
def test_a_theme_can_change_each_block(
    template: str, block: str, loaded: dict[str, list[str]], tmp_path: Path
) -> None:
    where = [name for name, templates in loaded.items() if template in templates]
    assert where, f"{template} is in no page that customers read: name it in OURS"
    text = f'{{% extends "below/{template}" %}}{{% block {block} %}}<b>OTHER</b>{{% endblock %}}'
    theme = own_theme(tmp_path / "theme", {template: text})
    assert any("<b>OTHER</b>" in SHOWN[name](theme) for name in where)


def other(name: str, value: str, number: int) -> str:
    """Another value of the same kind, told from all others by its number."""
    if value.startswith("#"):
        return f'"#{(0x30 + number):02x}{(0x90 + number):02x}{(0x50 + number):02x}"'
    if name in ("display", "text", "plain", "mono"):
        return f"Another{number}"
    if name == "display-weight":
        return "700"
    return f"{number + 1}.0{number}{'mm' if name.startswith('leaf') else 'rem'}"


def all_other() -> tuple[str, dict[str, str]]:
    """A theme.yaml that changes everything, and its tokens."""
    look, count = Theme("quay").look, itertools.count(1)
    tokens, dark = (
        {name: other(name, value, next(count)) for name, value in values.items()}
        for values in (look.tokens, look.dark)
    )
    lines = [
        "fonts: {display: {400: Caladea}, text: {400: Caladea}, plain: {400: Amatic SC}}",
        'plate: "#321321"',
        'plates: ["#123456", "#654321"]',
        'light: {from: right, strength: 0.7, softness: 1.5}',
        'framing: {margin: 20}',
        'drawing: {stroke: 3, on-picture: "#112233", under: "#eeddcc"}',
        "tokens:", *(f"  {name}: {value}" for name, value in tokens.items()),
        "dark:", *(f"  {name}: {value}" for name, value in dark.items()),
    ]  # fmt: skip
    return "\n".join(lines), {name: value.strip('"') for name, value in tokens.items()}


@pytest.fixture(scope="module")
def changed(tmp_path_factory: pytest.TempPathFactory) -> Theme:
    return own_theme(tmp_path_factory.mktemp("changed") / "theme", {}, all_other()[0])


def default_colours() -> set[str]:
    look = Theme("quay").look
    every = {*look.tokens.values(), *look.dark.values(), look.plate, *look.plates}
    return {one for one in every if one.startswith("#")}


@pytest.mark.parametrize("name", SHOWN)
def test_nothing_of_the_default_is_left_on_pages(name: str, changed: Theme) -> None:
    page, usual = SHOWN[name](changed), SHOWN[name](Theme("quay"))
    style, before = (re.search(r"<style>(.*?)</style>", one, re.DOTALL) for one in (page, usual))
    assert style and before and style[1] != before[1]
    lower = style[1].lower()
    assert not {one for one in default_colours() if one in lower}
    for gone in ("Source Serif", "Manrope", "Charter", "Segoe"):
        assert gone not in style[1]
    if name == "letter":
        assert "var(" not in page  # mail programs know no custom properties
        return
    roots = re.search(r":root ?\{(.*?)\}", style[1])
    assert roots
    said = dict(re.findall(r"--([\w-]+): ?([^;]+)", roots[1]))
    for token, value in all_other()[1].items():
        assert value in said[token], token
    assert said["plate"] == "#321321"
    assert said["plate-1"] == said["plate-3"] == "#123456"


def colours_drawn(pdf: bytes, tmp_path: Path) -> set[str]:
    """Every colour that the pages of a PDF are filled or stroked with."""
    (tmp_path / "made.pdf").write_bytes(pdf)
    found = set()
    with pikepdf.open(tmp_path / "made.pdf") as document:
        for page in document.pages:
            for operands, operator in pikepdf.parse_content_stream(page):
                if str(operator) in ("rg", "RG", "scn", "SCN") and len(operands) == 3:
                    found.add(tuple(round(float(x) * 255) for x in operands))
    return {f"#{r:02x}{g:02x}{b:02x}" for r, g, b in found}


@pytest.mark.parametrize("what", ["booklet", "proof"])
def test_nothing_of_the_default_is_left_in_pdfs(what: str, changed: Theme, tmp_path: Path) -> None:
    def made(theme: Theme) -> bytes:
        if what == "proof":
            return pdf_of(sample(), theme)
        page, plates = catalogue.season_sheets(everything(), theme)
        return html_to_pdf(page, plates, page_title="x")

    usual = colours_drawn(made(Theme("quay")), tmp_path)
    assert len(usual & default_colours()) >= 3  # the test can see them
    drawn = colours_drawn(made(changed), tmp_path)
    assert not drawn & default_colours()
    assert len(drawn & {*all_other()[1].values(), "#123456", "#321321"}) >= 3


def test_light_and_framing_of_pictures_are_the_themes(changed: Theme) -> None:
    usual, other = (asdict(theme.look.mood) for theme in (Theme("quay"), changed))
    assert all(usual[name] != other[name] for name in usual)


def test_strokes_of_drawings_are_the_themes(changed: Theme) -> None:
    how: Any = {"title": "x", "desc": "y", "picture_href": "a.jpg"}
    plan = plan_flat(width=95, height=95, bleed=3, safe=5)
    drawn = blank_svg(plan, next(iter(plan.panels)), strokes=changed.look.strokes, **how)
    usual = blank_svg(plan, next(iter(plan.panels)), **how)
    assert "#112233" in drawn and "#eeddcc" in drawn and 'stroke-width="3"' in drawn
    assert not {"#112233", "#eeddcc"} & set(re.findall(r"#\w{6}", usual))
    assert not {"#000000", "#ffffff"} & set(re.findall(r"#\w{6}", drawn))
