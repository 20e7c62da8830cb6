"""Themes in layers: a block alone is changed, and what is written wrongly is told by its line."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from proofgen.errors import ShopError
from proofgen.render import Theme

NOTICE: Any = {
    "title": "Closed",
    "says": "It is over.",
    "shop_name": "Tern Row",
    "contact": "us",
    "demo": False,
}


def own(tmp_path: Path, **templates: str) -> Theme:
    """The quay theme under a shop's own templates."""
    folder = tmp_path / "theme" / "templates"
    folder.mkdir(parents=True)
    for name, text in templates.items():
        (folder / f"{name}.html").write_text(text, "utf-8")
    return Theme("quay", "en", "EUR", tmp_path / "theme")


def test_one_block_is_changed_and_the_rest_stays(tmp_path: Path) -> None:
    theme = own(
        tmp_path,
        notice='{% extends "below/notice.html" %}{% block heading %}<h1>Ours</h1>{% endblock %}',
    )
    page, usual = (
        theme.render("notice.html", **NOTICE),
        Theme("quay").render("notice.html", **NOTICE),
    )
    assert page == usual.replace("<h1>Closed</h1>\n", "<h1>Ours</h1>")


def test_a_layer_between_is_changed_for_all_pages_that_stand_on_it(tmp_path: Path) -> None:
    theme = own(
        tmp_path, page='{% extends "below/page.html" %}{% block colophon %}<i>Bye</i>{% endblock %}'
    )
    assert "<i>Bye</i>" in theme.render("notice.html", **NOTICE)
    assert "<i>Bye</i>" in theme.render("blank.html")


def test_a_block_of_a_part_that_is_included(tmp_path: Path) -> None:
    part = '{% extends "below/proof-standing.html" %}'
    theme = own(tmp_path, **{"proof-standing": part})
    told: Any = {"standing": "It is late.", "closed": False}
    assert theme.render("proof-standing.html", **told) == Theme("quay").render(
        "proof-standing.html", **told
    )


def test_style_goes_over_what_lies_below_and_tokens_before_it(tmp_path: Path) -> None:
    theme = own(tmp_path)
    (tmp_path / "theme" / "base.css").write_text("h1 { color: inherit; }", "utf-8")
    page = Theme("quay", own=tmp_path / "theme").render("notice.html", **NOTICE)
    usual = theme.render("notice.html", **NOTICE)
    assert usual.index("--paper") < usual.index("box-sizing")
    assert page.index("box-sizing") < page.index("h1{color:inherit}")
    assert Theme("quay", own=tmp_path / "theme").digest != Theme("quay").digest


WRONG = [
    ("<p>\n{% if x %}\n", 2, "endif"),
    ("<p>\n\n{{ nothing_of_that_name }}", 3, "nothing_of_that_name"),
    ('<p>\n{% extends "below/nothing.html" %}', 2, "nothing.html"),
    ("<p>\n{{ title.__class__ }}", 2, "unsafe"),
    ("<p>\n{{ 1 / 0 }}", 2, "zero"),
]


@pytest.mark.parametrize(("text", "line", "says"), WRONG)
def test_a_fault_in_a_shops_template_tells_file_and_line(
    text: str, line: int, says: str, tmp_path: Path
) -> None:
    theme = own(tmp_path, notice=text)
    with pytest.raises(ShopError) as told:
        theme.check()
        theme.render("notice.html", **NOTICE)
    assert str(told.value.place) == f"theme/templates/notice.html:{line}"
    assert says in told.value.problem and "mend the line" in told.value.cure


def test_what_goes_under_the_press_is_the_same_in_every_theme(tmp_path: Path) -> None:
    theme = own(tmp_path, press_sheets="<p>Pink</p>", ticket="<p>Pink</p>", sheet="<p>Pink</p>")
    (tmp_path / "theme" / "press.css").write_text("body { color: pink; }", "utf-8")
    (tmp_path / "theme" / "theme.yaml").write_text('tokens: {ink: "#ff00ff"}', "utf-8")
    theme = Theme("quay", own=tmp_path / "theme")
    how: Any = {"medium": "sheet", "styles": ("press",), "sheets": []}
    assert theme.render("press_sheets.html", **how) == Theme("quay").render(
        "press_sheets.html", **how
    )
