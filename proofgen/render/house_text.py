"""The maker's own Markdown as HTML."""

from __future__ import annotations

import functools
import re
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


# What begins code, an escape, a link, a picture, a tag or an entity, and what breaks a line. Of a
# text without these the parts of the reader that look for them, two thirds of its time, are left
# out; emphasis, lists, headings and tables need none of them.
_SIGNS = re.compile(r"[`\\\[<&]|[ \t][\r\n]")
_FOR_SIGNS = (
    *("backtick", "escape", "reference", "link", "image_link", "image_reference"),
    *("short_reference", "short_image_ref", "autolink", "automail", "linebreak", "html", "entity"),
)

# Paragraphs of words with nothing but single *emphasis* in them, which is what most designs say of
# themselves: set here, as the reader would. Each line begins with a letter, since figures and signs
# begin lists, tables and rules.
_WORD = r"[^\W_]"
_STRESSED = rf"\*{_WORD}(?:(?:{_WORD}|[ ,.'’-])*{_WORD})?\*(?!\*)"
_LINE = rf"(?:[^\W\d_]|{_STRESSED})(?:{_WORD}|[ ,.!?;:'’‘“”„…()/–—-]|{_STRESSED})*(?<! )"
_WORDS_ALONE = re.compile(rf"{_LINE}(?:\n+{_LINE})*\n*")
_IN_STARS = re.compile(r"\*([^*]+)\*")
_BETWEEN = re.compile(r"\n{2,}")


def are_words(text: str) -> bool:
    """Whether a maker's text is words in paragraphs, some of them stressed, and nothing else."""
    return _WORDS_ALONE.fullmatch(text) is not None


class _Kept(threading.local):
    """Readers of Markdown for each thread: to make one takes longer than to read a text."""

    def __init__(self) -> None:
        self.full, self.plain = (
            markdown.Markdown(extensions=["tables", "sane_lists"], output_format="html")
            for _ in range(2)
        )
        for name in _FOR_SIGNS:
            self.plain.inlinePatterns.deregister(name)
        self.plain.preprocessors.deregister("html_block")


_of_thread = _Kept()
_CLEANER = nh3.Cleaner(
    tags=_TAGS,
    attributes={"a": {"href"}},
    url_schemes={"https", "http", "mailto", "tel"},
    link_rel="noreferrer",
)


@functools.lru_cache(maxsize=1024)  # a design's text stands on its page and is told of it twice
def safe_markdown(text: str) -> Markup:
    """The maker's own Markdown as HTML with a short list of tags; never for customers' words."""
    if are_words(text):
        stressed = _IN_STARS.sub(r"<em>\1</em>", text.rstrip("\n"))
        return Markup("<p>" + _BETWEEN.sub("</p>\n<p>", stressed) + "</p>")
    reader = _of_thread.full if _SIGNS.search(text) else _of_thread.plain
    return Markup(_CLEANER.clean(reader.reset().convert(text)))
