"""The contact sheet: every piece of an order small, with its number and its words."""

from __future__ import annotations

from collections.abc import Callable
from itertools import groupby
from typing import TypedDict

from proofgen.artwork.rasters import raster_names
from proofgen.press.job import Job
from proofgen.press.pieces import inked_panels, notes_of, words_of
from proofgen.press.ticket import Pictures
from proofgen.render import Theme, html_to_pdf
from proofgen.say import runs


class ContactLook(TypedDict):
    """Pieces that look alike: their numbers, their words, what the list says of each beside
    them, the names of their pictures and whether they are cut to a shape."""

    numbers: str
    words: list[str]
    notes: list[tuple[str, list[str]]]
    pictures: list[tuple[str, bool]]


def contact_pdf(job: Job, pictures: Callable[[str, str], Pictures], theme: Theme) -> bytes:
    """The contact sheet of one order, A4, as its pieces will look; `pictures` gives those of an
    order's raster by its name. MachineError when PDFs cannot be made here."""
    files: dict[str, bytes] = {}
    looks: list[ContactLook] = []
    notes = notes_of(job.order)
    for variant, names in zip(job.variants, raster_names(job.variants), strict=True):
        own = []
        for panel in inked_panels(variant.layout):
            name = names[panel].replace(".png", ".jpg")
            both = pictures(job.order.id, names[panel])
            files[name] = both.look
            own.append((name, both.is_cut))
        alike = groupby(variant.pieces, lambda piece: notes.get(piece, []))
        looks.append(
            {
                "numbers": runs(variant.pieces),
                "words": words_of(variant.words),
                "notes": [(runs(some), said) for said, some in alike if said],
                "pictures": own,
            }
        )
    html = theme.render(
        "contact.html",
        medium="sheet",
        styles=("press",),
        order=job.order,
        edition=job.signed.edition,
        count=sum(len(variant.pieces) for variant in job.variants),
        looks=looks,
    )
    return html_to_pdf(html, files, page_title=f"Contact sheet {job.order.id}")
