"""The maker's own Markdown as HTML."""

from __future__ import annotations

import functools
import threading

import markdown
import nh3
from markupsafe import Markup

# What the maker's Markdown may become; nothing that loads, runs or styles.
_TAGS = {
    "a", "blockquote", "br", "code", "em", "h2", "h3", "h4", "hr", "li", "ol", "p", "strong",
    "table", "tbody", "td", "th", "thead", "tr", "ul",
}  # fmt: skip


def own_heading(text: str) -> tuple[str, str]:
    """A house text's own first heading ('' where it has none), and the rest."""
    head, _, rest = text.lstrip().partition("\n")
    return (head[2:].strip(), rest) if head.startswith("# ") else ("", text)


class _Kept(threading.local):
    """A reader of Markdown for each thread: to make one takes longer than to read a text."""

    def __init__(self) -> None:
        self.reader = markdown.Markdown(extensions=["tables", "sane_lists"], output_format="html")


_of_thread = _Kept()


@functools.lru_cache(maxsize=1024)  # a design's text stands on its page and is told of it twice
def safe_markdown(text: str) -> Markup:
    """The maker's own Markdown as HTML with a short list of tags; never for customers' words."""
    html = _of_thread.reader.reset().convert(text)
    return Markup(
        nh3.clean(
            html,
            tags=_TAGS,
            attributes={"a": {"href"}},
            url_schemes={"https", "http", "mailto", "tel"},
            link_rel="noreferrer",
        )
    )
