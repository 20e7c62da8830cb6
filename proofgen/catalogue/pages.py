"""A season as pages and as a PDF to print or to lay on the stall."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import asdict
from typing import Any

from markupsafe import Markup

from proofgen.catalogue.content import Entry, Plate, SeasonContent
from proofgen.render import Theme, html_to_pdf

PDF_NAME = "catalogue.pdf"


def text_title(name: str, text: str) -> tuple[str, str]:
    """A house text's own first heading and the rest, or a title made of its file's name."""
    head, _, rest = text.lstrip().partition("\n")
    if head.startswith("# "):
        return head[2:].strip(), rest
    return name.replace("-", " ").capitalize(), text


def _seen(plate: Plate, root: str) -> dict[str, Any]:
    return {**asdict(plate), "src": root + plate.name}


def _shared(content: SeasonContent, root: str) -> dict[str, Any]:
    return {
        "season": content,
        "root": root,
        "shop_name": content.shop_name,
        "demo": content.demo,
        "texts": [(name, text_title(name, text)[0]) for name, text in content.texts.items()],
        "seen": lambda plate: _seen(plate, root),
    }


Remember = Callable[[str, Callable[[], bytes]], bytes]


def build(
    content: SeasonContent,
    theme: Theme,
    *,
    with_pdf: bool = True,
    remember: Remember = lambda _, make: make(),
) -> dict[str, bytes]:
    """Every file of the catalogue by its address below the site's root; pictures come first.

    `remember` may give back the booklet it made from the same page before.
    MachineError when a PDF is wanted and this machine cannot make one.
    """
    styles = ("base", "catalogue")
    files: dict[str, bytes] = {}
    for entry in content.entries:
        for offer in entry.offers:
            files.update({plate.name: plate.content for plate in offer.plates})
    if with_pdf:
        page, plates = season_sheets(content, theme)
        files[PDF_NAME] = remember(
            page,
            lambda: html_to_pdf(page, plates, page_title=f"{content.title}, {content.shop_name}"),
        )
    for entry in content.entries:
        page = theme.render("design.html", styles=styles, entry=entry, **_shared(content, "../"))
        files[f"designs/{entry.id}.html"] = page.encode()
    for name, text in content.texts.items():
        title, body = text_title(name, text)
        page = theme.render(
            "text.html", styles=styles, title=title, text=body, **_shared(content, "../")
        )
        files[f"words/{name}.html"] = page.encode()
    page = theme.render(
        "blanks.html",
        styles=(*styles, "blanks"),
        cards=[(card, Markup(card.drawing)) for card in content.blanks],
        **_shared(content, ""),
    )
    files["blanks.html"] = page.encode()
    page = theme.render("season.html", styles=styles, with_pdf=with_pdf, **_shared(content, ""))
    files["index.html"] = page.encode()
    return files


def season_sheets(content: SeasonContent, theme: Theme) -> tuple[str, dict[str, bytes]]:
    """The season as an A5 booklet (cover, contents, a page a design, prices) and its pictures."""
    plates: dict[str, bytes] = {}
    for entry in content.entries:
        plates.update({p.name: p.content for p in _printed(entry)})
    page = theme.render(
        "season-pdf.html", styles=("catalogue-pdf",), printed=_printed, **_shared(content, "")
    )
    return page, plates


def _printed(entry: Entry) -> tuple[Plate, ...]:
    """The pictures of a design that the booklet shows: the first, and one of each other blank."""
    return tuple(offer.plates[0] for offer in entry.offers)[:3]
