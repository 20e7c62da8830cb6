"""The sheets of prices that a maker prints for the stall, in the workroom."""

from __future__ import annotations

from proofgen import __version__, catalogue, store
from proofgen.errors import MachineError
from proofgen.render import html_to_pdf
from proofgen.workshop import Workshop


def write_stall(workshop: Workshop, content: catalogue.SeasonContent) -> list[str]:
    """A sheet on each paper; where they are, for people. One that was made from the same page
    before is not made again. Where this machine makes no PDF, that was told with the booklet."""
    theme, made = workshop.theme_for(None), []
    for paper in catalogue.PAPERS:
        page, pictures = catalogue.stall_sheet(content, theme, paper)

        def pdf(page: str = page, pictures: dict[str, bytes] = pictures) -> bytes:
            return html_to_pdf(page, pictures, page_title=f"{content.title}, {content.shop_name}")

        key = f"{__version__} {page}"  # its pictures are named by their content
        try:
            sheet = workshop.store.remember("stall sheet/1", key, pdf, bytes, bytes)
        except MachineError:
            return []
        store.write(workshop.workroom / f"prices-{paper}.pdf", sheet)
        made.append(f"workroom/prices-{paper}.pdf")
    return [f"Prices for the stall: {' and '.join(made)}"]
