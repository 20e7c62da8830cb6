"""The plan of a press evening, written where it is used."""

from __future__ import annotations

from collections.abc import Sequence

from proofgen import press, reports, store
from proofgen.model.evening_document import EveningDocument
from proofgen.pipeline.preflight import Prepared
from proofgen.pipeline.presses import plan_tonight, press_file
from proofgen.workshop import Workshop

PAGE, PAPER = "evening.html", "evening.pdf"  # in the workroom


def write_evening(
    workshop: Workshop, prepared: Sequence[Prepared], named: Sequence[str] = ()
) -> EveningDocument:
    """The plan's document (schema proofgen/evening/1); its page and its PDF lie in the workroom.
    A PDF that cannot be made here is gathered as trouble."""
    settings = workshop.shop.settings
    then = " ".join(["proofgen press", *named])
    document = press.evening_document(plan_tonight(workshop, prepared, named), then=then)
    for one in document["prints"]:  # as the press document names them
        one["file"] = press_file(workshop, one["file"])
    page = reports.evening_page(
        document, workshop.theme, shop_name=settings.name, demo=settings.demo
    )
    store.write(workshop.workroom / PAGE, page)
    store.remove(workshop.workroom / PAPER)  # what is not made anew would show another evening
    with workshop.each("the evening on paper"):
        pdf = reports.evening_pdf(document, workshop.theme, shop_name=settings.name)
        store.write(workshop.workroom / PAPER, pdf)
    return document


def evening_lines(workshop: Workshop, document: EveningDocument) -> list[str]:
    """The plan for a terminal, where it lies to be printed, and the next step."""
    if not document["tonight"] and workshop.trouble and not document["left_out"]:
        return []  # trouble tells why
    lines = [reports.evening_text(document), ""]
    lines += [
        f"The same {how}: {path}"
        for how, file in (("as a page", PAGE), ("to print", PAPER))
        if (path := workshop.workroom / file).is_file()
    ]
    return [*lines, f"    Next: {document['next']}"] if document["tonight"] else lines
