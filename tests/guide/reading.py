"""What README and guide say, taken apart: blocks of code, commands, links."""

from __future__ import annotations

import re
import shlex
from collections.abc import Iterator
from functools import cache
from html.parser import HTMLParser
from pathlib import Path

from proofgen.cli.guiding import commands, everywhere
from proofgen.guide import book

HOUSE = Path(__file__).parents[2]
CHAPTERS = sorted((HOUSE / "content" / "guide").glob("[0-9][0-9]-*.md"))
WRITTEN = [HOUSE / "README.md", *CHAPTERS]
_FENCE = re.compile(r"(?ms)^```(\w*)\n(.*?)^```$")
_INLINE = re.compile(r"`(proofgen [^`\n]+)`")
_LINK = re.compile(r"(?<!\\)!?\[[^\]]*\]\(([^)\s]+)\)")


def fences(path: Path) -> Iterator[tuple[str, str]]:
    """Each block of code: its kind and its text."""
    yield from _FENCE.findall(path.read_text("utf-8"))


def typed(path: Path) -> Iterator[str]:
    """Every command of ours in a document, without the remark behind it."""
    for kind, text in fences(path):
        if not kind:
            yield from (one for one in text.splitlines() if one.startswith("proofgen "))
    text = _FENCE.sub("", path.read_text("utf-8"))
    # A bare name stands for the command, not for a line to type; COMMAND for any of them.
    yield from (one for one in _INLINE.findall(text) if "COMMAND" not in one)


def words(line: str) -> list[str]:
    """A line as a shell parts it, the command's own name left out."""
    return shlex.split(line, comments=True)[1:]


def links(path: Path) -> list[str]:
    return _LINK.findall(_FENCE.sub("", path.read_text("utf-8")))


def anchors(markdown: str) -> set[str]:
    """What a code host calls the headings of a document."""
    heads = re.findall(r"(?m)^#{1,6} (.+)$", _FENCE.sub("", markdown))
    return {re.sub(r"[^\w -]", "", head.lower()).replace(" ", "-") for head in heads}


@cache
def built() -> dict[str, bytes]:
    """Every file of the guide."""
    return dict(book(commands(), everywhere()))


class _Page(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.ids: list[str] = []
        self.leads: list[str] = []
        self.words: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        for name, value in attrs:
            if name == "id":
                self.ids.append(value or "")
            elif name in ("href", "src") and value:
                self.leads.append(value)

    def handle_data(self, data: str) -> None:
        self.words.append(data)


def page_of(html: str) -> _Page:
    """A page's ids, where it leads, and its words."""
    page = _Page()
    page.feed(html)
    return page


def text_of(name: str) -> str:
    """The words of a page of the guide."""
    return "".join(page_of(built()[name].decode()).words)
