"""What the reference tells of themes: tokens with the remarks of the base's theme.yaml, and the
blocks of every template."""

from __future__ import annotations

import re
from collections.abc import Iterator

from proofgen.guide.words import cell, code, table
from proofgen.render import carried

_PART = re.compile(r"([a-z]+):\s*(?:#.*)?")
_TOKEN = re.compile(r"  ([a-z0-9-]+): (.+?)(?: # (.+))?")
_HEAD = re.compile(r"  # (.+)")
_BLOCK = re.compile(r"\{%-?\s*block (\w+)")
_ABOUT = re.compile(r"\{#-?\s*(.+?)\s*-?#\}", re.S)


def tokens() -> Iterator[tuple[str, str, str, str]]:
    """Every token: the heading it stands under, its name, its plain value, what it is for."""
    part, under = "", ""
    for line in (carried("themes") / "base" / "theme.yaml").read_text("utf-8").splitlines():
        if found := _PART.fullmatch(line):
            part = found[1]
        elif part == "tokens" and (found := _HEAD.fullmatch(line)):
            under = found[1]
        elif part == "tokens" and (found := _TOKEN.fullmatch(line)):
            yield under, found[1], found[2].strip('"'), found[3] or ""


def blocks() -> Iterator[tuple[str, str, list[str]]]:
    """Every template with blocks: its name, what it is, its blocks in their order."""
    for path in sorted((carried("themes") / "base" / "templates").glob("*.html")):
        text = path.read_text("utf-8")
        if names := list(dict.fromkeys(_BLOCK.findall(text))):
            about = _ABOUT.match(text)
            yield path.name, " ".join(about[1].split()) if about else "", names


def theme_told() -> Iterator[str]:
    """Tokens and blocks as Markdown."""
    yield (
        "`theme/theme.yaml` in your shop goes over the theme you chose; a template of yours in "
        '`theme/templates` may begin with `{% extends "below/NAME.html" %}` and say some of its '
        "blocks otherwise. How to begin stands in [Themes](10-themes.md).\n"
    )
    yield "## Tokens\n"
    of: dict[str, list[tuple[str, str, str]]] = {}
    for under, name, value, says in tokens():
        of.setdefault(under, []).append((code(name), code(value), cell(says)))
    for under, rows in of.items():
        yield f"### {under}\n"
        yield table(("token", "plain value", "what it is"), rows)
    yield "## Blocks of the templates\n"
    listed = (
        (code(name), cell(says), " ".join(map(code, names))) for name, says, names in blocks()
    )
    yield table(("template", "what it is", "blocks"), listed)
