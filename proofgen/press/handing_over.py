"""For handing an order over, in its customer's language: packing slip, name tags, care card."""

from __future__ import annotations

from collections.abc import Callable, Collection
from functools import partial
from typing import TypedDict

from proofgen.artwork.rasters import raster_names
from proofgen.geometry import Construction
from proofgen.model import Line, Shop, Variant
from proofgen.model.blank_names import called_in
from proofgen.press.job import Job
from proofgen.press.pieces import inked_panels, notes_of, words_of
from proofgen.press.ticket import Pictures
from proofgen.render import Theme, html_to_pdf, set_once
from proofgen.say.tongue import to_say

# Usual for sublimated polyester, whose dye lies in the fibre; common practice, no source. The
# shop's own words/care.md take their place where the customer reads its language.
_WASH_INSIDE_OUT = to_say("Wash by hand or at 30 °C, inside out, with like colours.")
_WASH = to_say("Wash by hand or at 30 °C, with like colours.")
_NO_BLEACH = to_say("No bleach and no softener.")
_DRY = to_say("Dry it lying flat.")
_IRON_INSIDE = to_say("Iron the inside only.")
_IRON_WRAP = to_say("Iron the inside only, and not over the closure.")
_IRON_BACK = to_say("Iron it from the back only.")
_SUN = to_say("Strong sun fades every colour in time.")
_LABEL = to_say("Where a label on the cloth says otherwise, the label holds.")


def _care(kinds: Collection[Construction]) -> list[str]:
    """The usual sentences on care, marked, as far as they fit all of the blanks."""
    hollow = "flat" not in kinds
    iron = _IRON_WRAP if "wrap" in kinds else _IRON_INSIDE
    return [
        _WASH_INSIDE_OUT if hollow else _WASH,
        _NO_BLEACH,
        _DRY,
        iron if hollow else _IRON_BACK,
        _SUN,
        _LABEL,
    ]


class Tick(TypedDict):
    """A piece to tick off by itself: its number, and what its list says beside its words."""

    number: int
    notes: list[str]


class PackedLook(TypedDict):
    """Pieces that look alike: how many, their numbers, words, the names of their pictures and
    whether they are cut to a shape; `ticks` where their list says different things of them,
    else `notes` that are true of all."""

    count: int
    numbers: str
    words: list[str]
    notes: list[str]
    ticks: list[Tick]
    pictures: list[tuple[str, bool]]


class PackedLine(TypedDict):
    """One line of an order as it goes into the parcel."""

    blank: str
    cloth: str
    count: int
    looks: list[PackedLook]


class Tag(TypedDict):
    """A piece's name tag: what it alone says, what its list says beside it, and its number."""

    words: list[str]
    notes: list[str]
    number: int


def handing_over_pdf(
    job: Job, pictures: Callable[[str, str], Pictures], shop: Shop, theme: Theme
) -> bytes:
    """Packing slip, name tags where names came by a list, and care card of one order, A4, in the
    language of `theme`; `pictures` gives those of an order's raster by its name. MachineError when
    PDFs cannot be made here."""
    files: dict[str, bytes] = {}
    said = [answer for answer in job.signed.answers if answer.plain_ok]
    care = shop.house_text("care", theme.language, to_be_read=True)
    kinds = {variant.layout.blank.construction for variant in job.variants}
    html = theme.render(
        "packing.html",
        medium="paper",
        styles=("packing",),
        shop=shop.settings,
        order=job.order,
        edition=job.signed.edition,
        signed=said[-1].day if said else None,
        lines=_lines(job, theme, pictures, files),
        count=sum(len(variant.pieces) for variant in job.variants),
        tags=[tag for line in job.order.lines for tag in _tags(job, line)],
        care_text=care,
        care=[theme.tongue(sentence) for sentence in _care(kinds)],
    )
    make = partial(html_to_pdf, html, files, page_title=theme.tongue("Packing slip"))
    return set_once(theme.kept, html, files, make)


def _lines(
    job: Job, theme: Theme, pictures: Callable[[str, str], Pictures], files: dict[str, bytes]
) -> list[PackedLine]:
    """The lines, each with its looks; `files` gets their pictures."""
    lines: dict[int, PackedLine] = {}
    notes = notes_of(job.order)
    for variant, names in zip(job.variants, raster_names(job.variants), strict=True):
        layout, own = variant.layout, []
        for panel in inked_panels(layout):
            file = names[panel].replace(".png", ".jpg")
            both = pictures(job.order.id, names[panel])
            files[file] = both.look
            own.append((file, both.is_cut))
        line = lines.setdefault(
            variant.line,
            {
                "blank": called_in(layout.blank, theme.tongue),
                "cloth": layout.cloth,
                "count": 0,
                "looks": [],
            },
        )
        line["count"] += len(variant.pieces)
        ticks = [Tick(number=piece, notes=notes.get(piece, [])) for piece in variant.pieces]
        alike = all(tick["notes"] == ticks[0]["notes"] for tick in ticks)
        line["looks"].append(
            {
                "count": len(variant.pieces),
                "numbers": theme.tongue.runs_of(variant.pieces),
                "words": words_of(variant.words),
                "notes": ticks[0]["notes"] if alike else [],
                "ticks": [] if alike else ticks,
                "pictures": own,
            }
        )
    return [lines[number] for number in sorted(lines)]


def _tags(job: Job, line: Line) -> list[Tag]:
    """A tag for each piece of a line whose pieces are somebody's: those of a list."""
    own = [variant for variant in job.variants if variant.line == line.number]
    notes = notes_of(job.order)
    if len(own) < 2 and not any(notes.get(piece.number) for piece in line.pieces):
        return []
    differing = [slot for slot in own[0].words if len({one.words[slot] for one in own}) > 1]
    by_piece: dict[int, Variant] = {n: variant for variant in own for n in variant.pieces}
    return [
        {
            "words": words_of({slot: one.words[slot] for slot in differing}),
            "notes": notes.get(number, []),
            "number": number,
        }
        for number, one in sorted(by_piece.items())
    ]
