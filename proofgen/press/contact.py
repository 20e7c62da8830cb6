"""The contact sheet: every piece of an order small, with its number and its words."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypedDict

from proofgen.artwork.rasters import raster_names
from proofgen.press.job import Job
from proofgen.press.pieces import inked_panels, words_of
from proofgen.press.ticket import Pictures
from proofgen.render import Theme, html_to_pdf
from proofgen.say import runs


class ContactLook(TypedDict):
    """Pieces that look alike: their numbers, their words, and the names of their pictures."""

    numbers: str
    words: list[str]
    pictures: list[str]


def contact_pdf(job: Job, pictures: Callable[[str, str], Pictures], theme: Theme) -> bytes:
    """The contact sheet of one order, A4, as its pieces will look; `pictures` gives those of an
    order's raster by its name. MachineError when PDFs cannot be made here."""
    files: dict[str, bytes] = {}
    looks: list[ContactLook] = []
    for variant, names in zip(job.variants, raster_names(job.variants), strict=True):
        own = []
        for panel in inked_panels(variant.layout):
            name = names[panel].replace(".png", ".jpg")
            files[name] = pictures(job.order.id, names[panel]).look
            own.append(name)
        looks.append(
            {"numbers": runs(variant.pieces), "words": words_of(variant.words), "pictures": own}
        )
    html = theme.render(
        "contact.html",
        styles=("press",),
        order=job.order,
        edition=job.signed.edition,
        count=sum(len(variant.pieces) for variant in job.variants),
        looks=looks,
    )
    return html_to_pdf(html, files, page_title=f"Contact sheet {job.order.id}")
