"""The shop's name as a drawing: shapes are kept, all that could load, run or hide is not."""

from __future__ import annotations

import pytest

from proofgen.errors import ShopError
from proofgen.render import Theme
from proofgen.render.wordmark import MOST_BYTES, safe_wordmark

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 120 20"'
GOOD = (
    '<?xml version="1.0"?>\n<!-- by a program -->\n'
    f'{HEAD} width="120mm" xmlns:ink="urn:ink" ink:version="1">'
    "<title>x</title><metadata><a>b</a></metadata><ink:view/>"
    '<g transform="translate(1 2)" id="a" class="b"><path d="M0 0L5 5z" fill="#000" ink:kind="z"/>'
    '<circle cx="5" cy="5" r="3" style="fill:#c23b22;-ink-x:1;stroke:none"/></g></svg>'
)


def test_shapes_alone_are_kept() -> None:
    assert safe_wordmark(GOOD.encode(), "name.svg", 'Tern "Row" & Co') == (
        '<svg xmlns="http://www.w3.org/2000/svg" class="wordmark" role="img" '
        'aria-label="Tern &quot;Row&quot; &amp; Co" fill="currentColor" viewBox="0 0 120 20">'
        '<g transform="translate(1 2)"><path d="M0 0L5 5z" fill="currentColor"></path>'
        '<circle cx="5" cy="5" r="3" fill="#c23b22" stroke="none"></circle></g></svg>'
    )


def svg(inside: str, head: str = "") -> str:
    return f"{HEAD}{head}>\n{inside}\n</svg>"


BAD = [
    (svg("<script>alert(1)</script>"), 2, "<script>"),
    (svg('<image href="https://a.example/x.png"/>'), 2, "<image>"),
    (svg('<use href="#a"/>'), 2, "<use>"),
    (svg("<foreignObject><p>x</p></foreignObject>"), 2, "<foreignObject>"),
    (svg("<style>*{}</style>"), 2, "<style>"),
    (svg("<text>Tern Row</text>"), 2, "<text>"),
    (svg("<a href='javascript:x'><path d='M0 0'/></a>"), 2, "<a>"),
    (svg("<animate attributeName='d'/>"), 2, "<animate>"),
    (svg("<path d='M0 0' onclick='x'/>"), 2, "onclick="),
    (svg("<path d='M0 0' href='x'/>"), 2, "href="),
    (svg("<path d='M0 0' fill='url(https://a.example/x)'/>"), 2, "fill="),
    (svg("<path d='M0 0' style='fill:url(#a)'/>"), 2, "fill="),
    (svg("<path d='M0 0&quot;&gt;x'/>"), 2, "d="),
    (svg("<path d='M0 0'/>", " onload='x'"), 1, "onload="),
    (svg("<svg><path d='M0 0'/></svg>"), 2, "<svg>"),
    ("<!DOCTYPE svg [<!ENTITY a 'b'>]>\n" + svg("<path d='M0 0'/>"), 1, "DOCTYPE"),
    (svg("<g></g>"), None, "nothing is drawn"),
    (svg("<path d='M0 0'>"), 3, "no SVG"),
    ("<html xmlns='http://www.w3.org/2000/svg'/>", 1, "no SVG"),
    ("<svg xmlns='http://www.w3.org/2000/svg'><path d='M0 0'/></svg>", 1, "viewBox"),
    ("no xml", 1, "no SVG"),
    (svg("<path d='M0 0'/>" + " " * MOST_BYTES), None, "60 kB"),
]


@pytest.mark.parametrize(("text", "line", "says"), BAD)
def test_what_is_refused_and_where(text: str, line: int | None, says: str) -> None:
    with pytest.raises(ShopError) as told:
        safe_wordmark(text.encode(), "name.svg", "Tern Row")
    assert told.value.place and (told.value.place.file, told.value.place.line) == ("name.svg", line)
    assert says in told.value.problem and told.value.cure


def test_it_stands_where_the_name_stood() -> None:
    told = {"title": "Closed", "says": "x", "shop_name": "Tern Row", "contact": "us", "demo": False}
    mark = safe_wordmark(GOOD.encode(), "name.svg", "Tern Row")
    page = Theme("quay", wordmark=mark).render("notice.html", **told)  # type: ignore[arg-type]
    usual = Theme("quay").render("notice.html", **told)  # type: ignore[arg-type]
    assert '<p class="shop">Tern Row' in usual
    assert f'<p class="shop">{mark}' in page and mark not in usual
