"""The maker's own Markdown as HTML."""

from __future__ import annotations

import markdown
import nh3
from markupsafe import Markup

# What the maker's Markdown may become; nothing that loads, runs or styles.
_TAGS = {
    "a", "blockquote", "br", "code", "em", "h2", "h3", "h4", "hr", "li", "ol", "p", "strong",
    "table", "tbody", "td", "th", "thead", "tr", "ul",
}  # fmt: skip


def safe_markdown(text: str) -> Markup:
    """The maker's own Markdown as HTML with a short list of tags; never for customers' words."""
    html = markdown.markdown(text, extensions=["tables", "sane_lists"], output_format="html")
    return Markup(
        nh3.clean(
            html,
            tags=_TAGS,
            attributes={"a": {"href"}},
            url_schemes={"https", "http", "mailto", "tel"},
            link_rel="noreferrer",
        )
    )
