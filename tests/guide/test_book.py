"""The guide leaves nothing out, and every link in it, in README and in the site leads somewhere."""

from __future__ import annotations

import re
from pathlib import Path
from posixpath import dirname, join, normpath

import pytest

from proofgen.checks.listed import CHECKS
from proofgen.cli.guiding import commands, everywhere
from proofgen.cli.options import COMMANDS
from proofgen.errors import EXIT_CODES
from proofgen.guide.themes import blocks, tokens
from proofgen.model import Limits
from proofgen.render import Theme, carried
from proofgen.shop.told import FILES
from proofgen.signoff import State
from tests.guide.reading import HOUSE, WRITTEN, anchors, built, links, page_of, text_of

PAGES = sorted(name for name in built() if name.endswith(".html"))


def test_every_command_and_option_is_told() -> None:
    told = text_of("commands.html")
    every = commands()
    assert {one.name for one in every} == set(COMMANDS)
    for one in every:
        assert one.purpose and one.examples, one.name
        for option in (*one.options, *everywhere()):
            assert option.says, f"{one.name} {option.typed} has no word on what it is for"
            assert option.typed in told, option.typed


def test_every_check_is_told_with_its_codes_why_and_source() -> None:
    told = " ".join(text_of("checks.html").split())
    for one in CHECKS.values():
        for said in (one.id, one.title, one.why, one.source, *one.codes, *one.codes.values()):
            assert " ".join(said.replace("`", "").split()) in told, (one.id, said)


def test_every_line_of_every_file_is_told() -> None:
    told = text_of("fields.html")
    for file in FILES:
        assert file.name in told
        for key, line in file.lines.items():
            named = re.sub(r"^faces\.(front|back|round)\.", "faces.FACE.", key)
            assert line.says and (named in told or key == "*"), key


def test_every_exit_code_and_every_state_is_told() -> None:
    import proofgen.errors as errors

    codes = {
        value
        for name, value in vars(errors).items()
        if re.fullmatch("EXIT_[A-Z]+", name) and isinstance(value, int)
    }
    assert codes == set(EXIT_CODES) and all(EXIT_CODES.values())
    told, states = text_of("exit-codes.html"), text_of("states.html")
    assert all(says.replace("`", "") in told for says in EXIT_CODES.values())
    assert all(state.value in states for state in State)


def test_every_token_and_block_is_told() -> None:
    told = text_of("theme.html")
    every = list(tokens())
    assert {name for _, name, _, _ in every} == set(Theme("quay").look.tokens)
    for under, name, _, says in every:
        assert name in told and under and says, f"{name} has no word on what it is for"
    from jinja2 import Environment, nodes

    for path in (carried("themes") / "base" / "templates").glob("*.html"):
        tree = Environment(extensions=["jinja2.ext.i18n"]).parse(path.read_text("utf-8"))
        for block in tree.find_all(nodes.Block):
            assert any(path.name == file and block.name in names for file, _, names in blocks())
    for file, says, _ in blocks():
        assert file in told and says, f"{file} does not begin with what it is"


def test_every_limit_is_told() -> None:
    told = text_of("limits.html")
    assert all(one.metadata["says"] in told for one in Limits.__dataclass_fields__.values())


@pytest.mark.parametrize("name", PAGES)
def test_links_of_a_page_lead_somewhere(name: str) -> None:
    page = page_of(built()[name].decode())
    assert len(page.ids) == len(set(page.ids)), "an id stands twice"
    for lead in page.leads:
        if lead.startswith(("data:", "https:", "mailto:")):
            continue
        file, _, mark = lead.partition("#")
        to = normpath(join(dirname(name), file)) if file else name
        assert to in built(), f"{name} leads to {lead}"
        assert not mark or mark in page_of(built()[to].decode()).ids, f"{name} leads to {lead}"


@pytest.mark.parametrize("path", [*WRITTEN, HOUSE / "DEVELOPERS.md"], ids=lambda path: path.name)
def test_links_of_a_document_lead_somewhere(path: Path) -> None:
    for lead in links(path):
        if lead.startswith(("https:", "mailto:")):
            continue
        file, _, mark = lead.partition("#")
        if file.startswith("../../site_demo/guide/"):
            page = file.removeprefix("../../site_demo/guide/")
            assert page in built(), f"{path.name} leads to {lead}"
            known = set(page_of(built()[page].decode()).ids)
        else:
            to = (path.parent / file) if file else path
            assert to.is_file(), f"{path.name} leads to {lead}"
            known = anchors(to.read_text("utf-8")) if to.suffix == ".md" else set()
        assert not mark or mark in known, f"{path.name} leads to {lead}"


def test_links_of_the_demo_site_lead_somewhere() -> None:
    site = HOUSE / "site_demo"
    pages = {path: page_of(path.read_text("utf-8")) for path in site.rglob("*.html")}
    assert len(pages) > 20
    for path, page in pages.items():
        for lead in page.leads:
            if re.match(r"[a-z]+:|//", lead):
                continue
            file, _, mark = lead.partition("#")
            # The page for lost ways is shown anywhere, so its ways begin at the root.
            home = site if file.startswith("/") else path.parent
            to = (home / file.lstrip("/")).resolve() if file else path
            if to.is_dir():
                to = to / "index.html"
            if to.suffix == ".woff2":
                continue  # the checkout carries no typefaces
            assert to.is_file(), f"{path.relative_to(site)} leads to {lead}"
            if mark and to in pages:
                assert mark in pages[to].ids, f"{path.relative_to(site)} leads to {lead}"
