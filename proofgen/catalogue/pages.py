"""A season as pages and as a PDF to print or to lay on the stall."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import TypedDict
from urllib.parse import quote

from markupsafe import Markup

from proofgen.catalogue.content import Entry, Offer, Plate, SeasonContent
from proofgen.catalogue.order_form import ORDER_SCRIPTS, ORDER_STYLES, order_parts
from proofgen.catalogue.ordering import order_mail
from proofgen.render import Theme, html_to_pdf
from proofgen.say.tongue import Tongue, to_say

PDF_NAME = "catalogue.pdf"
FONTS = "fonts/"
TRY_PHOTO = ("turntable", "photo-size", "fitting", "try-photo")  # scripts, in their order


# What the house texts that most shops have are called, where they have no heading of their own.
_TITLES: Mapping[str, str] = {
    "about": to_say("About us"),
    "care": to_say("Washing"),
    "photo": to_say("Your photo"),
}


def text_title(name: str, text: str, tongue: Tongue) -> tuple[str, str]:
    """A house text's own first heading and the rest, or a title made of its file's name."""
    head, _, rest = text.lstrip().partition("\n")
    if head.startswith("# "):
        return head[2:].strip(), rest
    if name in _TITLES:
        return tongue(_TITLES[name]), text
    return name.replace("-", " ").capitalize(), text


class Shared(TypedDict):
    """What every page is given. `root` leads from it to the site's root, `here` is its address;
    `texts` are names and titles of the house texts, `occasions` what its designs are good for,
    `seen` turns a plate into what it shows, `fonts` and `season_colour` are Theme.render's."""

    season: SeasonContent
    root: str
    here: str
    mail: str
    shop_name: str
    demo: bool
    texts: list[tuple[str, str]]
    occasions: list[tuple[str, list[Entry]]]
    seen: Callable[[Plate], dict[str, object]]
    fonts: str
    season_colour: str


def _shared(
    content: SeasonContent,
    tongue: Tongue,
    root: str,
    here: str = "",
    every: list[tuple[str, list[Entry]]] | None = None,
) -> Shared:
    """`every` are the season's occasions where they were worked out before: for each page anew they
    would cost more the more pages there are, and so the square of it in all."""
    return {
        "season": content,
        "root": root,
        "here": here,
        "mail": quote(content.contact, safe="@") if "@" in content.contact else "",
        "shop_name": content.shop_name,
        "demo": content.demo,
        "texts": [
            (name, text_title(name, text, tongue)[0]) for name, text in content.texts.items()
        ],
        "occasions": occasions(content) if every is None else every,
        "seen": lambda plate: {**asdict(plate), "src": root + plate.name},
        "fonts": root + FONTS,
        "season_colour": content.colour,
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
        files.update(entry.fitting.files if entry.fitting else {})
    if content.scene:
        files[content.scene.name] = content.scene.content
    files.update({f"{FONTS}{name}": font for name, font in theme.font_files.items()})
    if with_pdf:
        page, plates = season_sheets(content, theme)
        files[PDF_NAME] = remember(
            page,
            lambda: html_to_pdf(page, plates, page_title=f"{content.title}, {content.shop_name}"),
        )
    for address, page in _pages(content, theme, styles):
        files[address] = page.encode()
    page = theme.render(
        "season.html",
        styles=styles,
        with_pdf=with_pdf,
        **_shared(content, theme.tongue, "", "index.html"),
    )
    files["index.html"] = page.encode()
    return files


def _pages(
    content: SeasonContent, theme: Theme, styles: tuple[str, ...]
) -> Iterator[tuple[str, str]]:
    """Every page but the front, with its address."""
    tongue, every = theme.tongue, occasions(content)
    numbers = {occasion: number for number, (occasion, _) in enumerate(every, 1)}
    for entry in content.entries:
        good_for = sorted((numbers[occasion], occasion) for occasion in set(entry.occasions))
        address = f"designs/{entry.id}.html"
        yield (
            address,
            theme.render(
                "design.html",
                styles=(
                    *styles,
                    *(("try-photo",) if entry.fitting else ()),
                    *(ORDER_STYLES if entry.form else ()),
                ),
                scripts=(
                    *(TRY_PHOTO if entry.fitting else ()),
                    *(ORDER_SCRIPTS if entry.form else ()),
                ),
                **order_parts(entry.form, content.contact, theme),
                entry=entry,
                order=order_mail(content.contact, entry, tongue),
                good_for=good_for,
                fellows=fellows(entry, [every[number - 1] for number, _ in good_for]),
                drawn={blank: card.id for card in content.blanks for blank in card.blanks},
                **_shared(content, tongue, "../", address, every),
            ),
        )
    for name, text in content.texts.items():
        title, body = text_title(name, text, tongue)
        address = f"words/{name}.html"
        shared = _shared(content, tongue, "../", address, every)
        yield address, theme.render("text.html", styles=styles, title=title, text=body, **shared)
    yield (
        "blanks.html",
        theme.render(
            "blanks.html",
            styles=(*styles, "blanks"),
            cards=[(card, Markup(card.drawing)) for card in content.blanks],
            **_shared(content, tongue, "", "blanks.html", every),
        ),
    )


@dataclass(frozen=True, slots=True)
class Printed:
    """A picture in the booklet and the words under it."""

    plate: Plate
    caption: str


def season_sheets(content: SeasonContent, theme: Theme) -> tuple[str, dict[str, bytes]]:
    """The season as an A5 booklet (cover, contents and how to order, a page a design, prices, what
    for) and its pictures."""
    plates: dict[str, bytes] = {}
    for entry in content.entries:
        plates.update({p.plate.name: p.plate.content for p in printed(entry)})
    if content.scene:
        plates[content.scene.name] = content.scene.content
    page = theme.render(
        "season-pdf.html",
        medium="paper",
        styles=("catalogue-pdf",),
        own_style=_heights(content),
        printed=printed,
        **_shared(content, theme.tongue, ""),
    )
    return page, plates


# Of a page 177 mm high: what its words and its table take, so that the pictures fill the rest.
# Lines of 5 mm, those of a cloth's colours 4; so many letters a line, as the style sets them.
_LETTERS, _LINE_MM, _SHADES_MM, _REST_MM = 80, 5.0, 4.0, 34.0
# A table's columns: of 120 mm a price takes 12, size and pixels what their words need; the rest is
# for the piece and its colours, a letter of which takes so much, and the dot before it.
_PRICE_MM, _SIZE_MM, _PIXELS_MM = 12.0, 28.0, 20.0
_NAME_LETTER_MM, _SHADE_LETTER_MM, _DOT_MM = 1.8, 1.35, 4.5
_LEAST_MM, _MOST_MM = 50.0, 118.0


def _row_mm(entry: Entry, offer: Offer) -> float:
    """How high a piece's row of the table is, about: its name, its colours under it."""
    taken = _SIZE_MM + (_PIXELS_MM if entry.photo_slots else 0) + len(entry.steps) * _PRICE_MM
    room = max(120 - taken, 20.0)
    lines, along = 1, 0.0
    for name, _ in offer.cloths:
        wide = _DOT_MM + len(name) * _SHADE_LETTER_MM
        if along and along + wide > room:
            lines, along = lines + 1, 0.0
        along += wide
    named = -(-len(offer.blank_name) * _NAME_LETTER_MM // room)
    return named * _LINE_MM + lines * _SHADES_MM + 0.5


def _heights(content: SeasonContent) -> str:
    """Style that makes each design's pictures as high as its page leaves room."""
    rules = []
    for at, entry in enumerate(content.entries, 1):
        paragraphs = [p for p in entry.text.split("\n\n") if p.strip()]
        lines = sum(-(-len(p) // _LETTERS) + 1 for p in paragraphs)
        room = 177 - _REST_MM - lines * _LINE_MM - sum(_row_mm(entry, o) for o in entry.offers)
        high = min(max(room, _LEAST_MM), _MOST_MM)
        rules.append(f".design-{at} .plates {{ height: {high:g}mm }}")
        rules.append(f".design-{at} .plates img {{ height: {high - 5:g}mm }}")
        rules.append(f".design-{at} .small img {{ height: {high / 2 - 8:g}mm }}")
    return "\n".join(rules) + "\n"


def printed(entry: Entry) -> list[Printed]:
    """The pictures of a design that the booklet shows, at most three: the front, the back where it
    is another face, then one of each other construction, then the first one's other sides."""
    first = entry.offers[0]
    back = [plate for plate in first.plates[1:] if plate.side == "back"]
    pictures = [Printed(first.plates[0], first.blank_name)]
    pictures += [Printed(plate, plate.label) for plate in back]
    shown = {first.construction}
    for offer in entry.offers[1:]:
        if offer.construction not in shown:
            shown.add(offer.construction)
            pictures.append(Printed(offer.plates[0], offer.blank_name))
    others = [plate for plate in first.plates[1:] if plate not in back]
    pictures += [Printed(plate, plate.label) for plate in others]
    return pictures[:3]


def occasions(content: SeasonContent) -> list[tuple[str, list[Entry]]]:
    """Each occasion in the order of the alphabet, with its designs."""
    designs: dict[str, list[Entry]] = {}
    for entry in content.entries:
        for occasion in entry.occasions:
            designs.setdefault(occasion, []).append(entry)
    return sorted(designs.items(), key=lambda item: item[0].casefold())


def fellows(
    entry: Entry, every: Sequence[tuple[str, list[Entry]]]
) -> list[tuple[str, list[Entry]]]:
    """The occasions that a design shares with others, each with these."""
    shared = [
        (occasion, [other for other in entries if other.id != entry.id])
        for occasion, entries in every
        if occasion in entry.occasions
    ]
    return [(occasion, others) for occasion, others in shared if others]
