"""The chapters in content/guide: Markdown of ours, as HTML with anchors, pictures and links."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from html import escape
from pathlib import Path

import markdown

from proofgen.render import carried

_NAME = re.compile(r"\d\d-([a-z-]+)\.md")
# As chapters link to each other and to the built reference where they lie in the checkout.
_CHAPTER = re.compile(r'(?<=href=")(?:\.\./\.\./site_demo/guide/)?(?:\d\d-)?([a-z-]+)\.(?:md|html)')
_TABLE = re.compile(r"<table>.*?</table>", re.S)
_HEAD = re.compile(r"<th>(.*?)</th>")
_DRAWING = re.compile(r'<p>\s*<img alt="[^"]*" src="pictures/([a-z-]+)\.svg"\s*/?>\s*</p>')
_PICTURE = re.compile(
    r'<p>\s*(<img alt="([^"]*)" src="(pictures/[a-z-]+\.(?:jpg|png))"\s*/?>)\s*</p>'
)


@dataclass(frozen=True, slots=True)
class Chapter:
    """One page of the guide: its name in links, its title and its words as Markdown."""

    name: str
    title: str
    text: str


def home() -> Path:
    """The folder the chapters and their pictures lie in. Errors: MachineError where it is gone."""
    return carried("content") / "guide"


def chapters() -> Iterator[Chapter]:
    """Every chapter in the order of the numbers their files begin with."""
    for path in sorted(home().glob("*.md")):
        if found := _NAME.fullmatch(path.name):
            head, _, text = path.read_text("utf-8").lstrip().partition("\n")
            yield Chapter(found[1], head.removeprefix("# ").strip(), text)


def pictures() -> Mapping[str, bytes]:
    """The pictures by the addresses that chapters know them by; drawings stand in the pages."""
    files = sorted(p for p in (home() / "pictures").glob("*") if p.suffix in (".jpg", ".png"))
    return {f"pictures/{path.name}": path.read_bytes() for path in files}


def as_html(text: str) -> str:
    """Markdown of ours as HTML. Never for what a maker or a customer wrote."""
    extensions = ["tables", "sane_lists", "fenced_code", "toc"]
    html = markdown.markdown(text, extensions=extensions, output_format="html")
    html = _CHAPTER.sub(r"\1.html", html)
    html = _TABLE.sub(_named, html)
    html = _DRAWING.sub(_drawn, html)
    html = _PICTURE.sub(_framed, html)
    # A wide table moves in its own frame, which the keyboard reaches.
    html = html.replace(
        "<table>", '<div class="rows" tabindex="0" role="group" aria-label="Table"><table>'
    )
    html = html.replace("</table>", "</table></div>").replace("<th>", '<th scope="col">')
    return html.replace("<pre>", '<pre tabindex="0">')


def _named(found: re.Match[str]) -> str:
    """A table whose cells know what their column is called, for where it has no head."""
    names = [escape(one, quote=True) for one in _HEAD.findall(found[0])]
    at = 0

    def cell(_: re.Match[str]) -> str:
        nonlocal at
        name, at = names[at % len(names)], at + 1
        return f'<td data-of="{name}">'

    return re.sub("<td>", cell, found[0])


def _drawn(found: re.Match[str]) -> str:
    svg = (home() / "pictures" / f"{found[1]}.svg").read_text("utf-8")
    return f'<figure class="drawn">{svg}</figure>'


def _framed(found: re.Match[str]) -> str:
    from PIL import Image

    with Image.open(home() / found[3]) as picture:
        wide, high = picture.size
    return (
        f'<figure><img src="{found[3]}" width="{wide}" height="{high}" alt="{found[2]}" '
        f'loading="lazy"><figcaption>{found[2]}</figcaption></figure>'
    )
