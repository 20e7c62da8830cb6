"""A season as pages and as a PDF to print or to lay on the stall."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import asdict, dataclass
from typing import TypedDict
from urllib.parse import quote

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


class Shared(TypedDict):
    """What every page is given. `root` leads from it to the site's root, `here` is its address;
    `texts` are names and titles of the house texts, `seen` turns a plate into what it shows."""

    season: SeasonContent
    root: str
    here: str
    mail: str
    shop_name: str
    demo: bool
    texts: list[tuple[str, str]]
    seen: Callable[[Plate], dict[str, object]]


def _shared(content: SeasonContent, root: str, here: str = "") -> Shared:
    return {
        "season": content,
        "root": root,
        "here": here,
        "mail": quote(content.contact, safe="@") if "@" in content.contact else "",
        "shop_name": content.shop_name,
        "demo": content.demo,
        "texts": [(name, text_title(name, text)[0]) for name, text in content.texts.items()],
        "seen": lambda plate: {**asdict(plate), "src": root + plate.name},
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
        files.update({plate.name: plate.content for plate in entry.shown})
    if with_pdf:
        page, plates = season_sheets(content, theme)
        files[PDF_NAME] = remember(
            page,
            lambda: html_to_pdf(page, plates, page_title=f"{content.title}, {content.shop_name}"),
        )
    for entry in content.entries:
        address = f"designs/{entry.id}.html"
        page = theme.render(
            "design.html",
            styles=styles,
            entry=entry,
            drawn={card.id for card in content.blanks},
            **_shared(content, "../", address),
        )
        files[address] = page.encode()
    for name, text in content.texts.items():
        title, body = text_title(name, text)
        address = f"words/{name}.html"
        page = theme.render(
            "text.html", styles=styles, title=title, text=body, **_shared(content, "../", address)
        )
        files[address] = page.encode()
    page = theme.render(
        "blanks.html",
        styles=(*styles, "blanks"),
        cards=[(card, Markup(card.drawing)) for card in content.blanks],
        **_shared(content, "", "blanks.html"),
    )
    files["blanks.html"] = page.encode()
    page = theme.render(
        "season.html", styles=styles, with_pdf=with_pdf, **_shared(content, "", "index.html")
    )
    files["index.html"] = page.encode()
    return files


@dataclass(frozen=True, slots=True)
class Printed:
    """A picture in the booklet and the words under it."""

    plate: Plate
    caption: str


def season_sheets(content: SeasonContent, theme: Theme) -> tuple[str, dict[str, bytes]]:
    """The season as an A5 booklet (cover, contents, a page a design, prices, what for) and its
    pictures."""
    plates: dict[str, bytes] = {}
    for entry in content.entries:
        plates.update({p.plate.name: p.plate.content for p in printed(entry)})
    page = theme.render(
        "season-pdf.html",
        styles=("catalogue-pdf",),
        printed=printed,
        occasions=occasions(content),
        **_shared(content, ""),
    )
    return page, plates


def printed(entry: Entry) -> list[Printed]:
    """The pictures of a design that the booklet shows, at most three: the first, then one of each
    other construction, then the first one's other sides."""
    first = entry.offers[0]
    pictures = [Printed(first.plates[0], first.blank_name)]
    shown = {first.construction}
    for offer in entry.offers[1:]:
        if offer.construction not in shown:
            shown.add(offer.construction)
            pictures.append(Printed(offer.plates[0], offer.blank_name))
    pictures += [Printed(plate, plate.label) for plate in first.plates[1:]]
    return pictures[:3]


def occasions(content: SeasonContent) -> list[tuple[str, list[Entry]]]:
    """Each occasion in the order of the alphabet, with its designs."""
    designs: dict[str, list[Entry]] = {}
    for entry in content.entries:
        for occasion in entry.occasions:
            designs.setdefault(occasion, []).append(entry)
    return sorted(designs.items(), key=lambda item: item[0].casefold())
