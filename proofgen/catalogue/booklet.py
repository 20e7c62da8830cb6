"""The season as an A5 booklet to print or to lay on the stall."""

from __future__ import annotations

from dataclasses import dataclass

from proofgen.catalogue.columns import crowding, prices_mm
from proofgen.catalogue.content import Entry, Offer, Plate, SeasonContent
from proofgen.catalogue.shared import Setting
from proofgen.render import Theme


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
        own_style=_heights(content, theme),
        crowded=crowding(theme, _WIDE_MM, _PRICE_PT),
        beside=_beside_mm,
        printed=printed,
        **Setting(content, theme, on_paper=True).shared(""),
    )
    return page, plates


# Of a page 177 mm high: what its words and its table take, so that the pictures fill the rest.
# Lines of 5 mm, those of a cloth's colours 4; so many letters a line, as the style sets them.
_LETTERS, _LINE_MM, _SHADES_MM, _REST_MM = 80, 5.0, 4.0, 34.0
# A table's columns: of 120 mm the prices, size and pixels take what their words need; the rest is
# for the piece and its colours, a letter of which takes so much, and the dot before it.
_WIDE_MM, _PRICE_PT, _SIZE_MM, _PIXELS_MM = 120.0, 8.0, 28.0, 20.0
_NAME_LETTER_MM, _SHADE_LETTER_MM, _DOT_MM = 1.8, 1.35, 4.5
_LEAST_MM, _MOST_MM = 50.0, 118.0


def _beside_mm(entry: Entry) -> float:
    """What stands between a piece's name and its prices."""
    return _SIZE_MM + (_PIXELS_MM if entry.photo_slots else 0)


def _row_mm(entry: Entry, offer: Offer, theme: Theme) -> float:
    """How high a piece's row of the table is, about: its name, its colours under it."""
    prices, beside = prices_mm(entry, theme, _PRICE_PT), _beside_mm(entry)
    crowded = crowding(theme, _WIDE_MM, _PRICE_PT)
    lines, along = 1, 0.0
    if crowded(entry, beside):
        lines, beside = lines + 1 + bool(entry.photo_slots), 0.0
    if crowded(entry):
        lines, prices = lines + int(prices // _WIDE_MM) + 1, 0.0
    room = max(_WIDE_MM - prices - beside, 20.0)
    for name, _ in offer.cloths:
        wide = _DOT_MM + len(name) * _SHADE_LETTER_MM
        if along and along + wide > room:
            lines, along = lines + 1, 0.0
        along += wide
    named = -(-len(offer.blank_name) * _NAME_LETTER_MM // room)
    return named * _LINE_MM + lines * _SHADES_MM + 0.5


def _heights(content: SeasonContent, theme: Theme) -> str:
    """Style that makes each design's pictures as high as its page leaves room."""
    rules = []
    for at, entry in enumerate(content.entries, 1):
        paragraphs = [p for p in entry.text.split("\n\n") if p.strip()]
        lines = sum(-(-len(p) // _LETTERS) + 1 for p in paragraphs)
        rows = sum(_row_mm(entry, offer, theme) for offer in entry.offers)
        room = 177 - _REST_MM - lines * _LINE_MM - rows
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
