"""The measuring sheet of a blank: a PDF at true size, to lay the real cloth on."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from proofgen import store
from proofgen.desk.looks import blank_problems, chosen_blank, shop_or_built_in
from proofgen.errors import UsageError
from proofgen.model import Blank, Settings
from proofgen.render import Theme, html_to_pdf
from proofgen.render.truesize import Sheet, TrueSize, true_size
from proofgen.say import number
from proofgen.say.tongue import english_of
from proofgen.shop import standard_paper


@dataclass(frozen=True, slots=True, kw_only=True)
class MadeSheet:
    """A measuring sheet on disk: what it is on, in words, and what is wrong with the blank."""

    file: Path
    says: str
    problems: list[str]


def _mm(width: float, height: float) -> str:
    return f"{number(width)} × {number(height)} mm"


def sentences(blank: Blank, settings: Settings) -> list[str]:
    """What stands on the sheet."""
    plan = blank.plan()
    finished = next(iter(plan.panels.values()))
    lines = [f"The new blank, print side up: {_mm(blank.width_mm, blank.height_mm)}."]
    if any(blank.shrink):
        lines[0] += f" The press makes it {_mm(finished.width, finished.height)}."
    else:
        lines[0] += " How much it shrinks in the press is not known yet, so it is drawn without."
    if blank.construction == "sewn":
        lines.append("Front and back are alike; one is drawn.")
    lines += [
        "Print at actual size (100 %), not fitted to the page. A bank card must fill its outline "
        "and the ruler must be 100 mm long.",
        "Lay the blank on the solid line. Where an edge or a strip is more than 1 mm off, measure "
        "it again and correct its file.",
    ]
    if settings.printer.scale != (1.0, 1.0):
        lines.append("Drawn for the scale this shop measured of its printer.")
    return lines


def _papers(settings: Settings) -> list[Sheet]:
    papers = settings.papers or (standard_paper("A4"),)
    return [Sheet(p.name, p.width_mm, p.height_mm) for p in papers]


def _says(made: TrueSize, blank: Blank, papers: list[Sheet]) -> str:
    way = "upright" if made.upright else "on its side"
    size = _mm(blank.width_mm, blank.height_mm)
    if made.whole:
        more = "" if len(made.pages) == 1 else "; ruler and card are on a second sheet"
        return f"One sheet of {made.paper}, {way}, holds it{more}."
    names = ", ".join(p.name for p in papers)
    return (
        f"None of your papers ({names}) holds {size} with its labels, so it is drawn over "
        f"{len(made.pages) - 1} sheets of {made.paper}, {way}: tape them so that the crosses meet. "
        "Ruler and card are on one more."
    )


def make_true_size(folder: Path, name: str, file: Path) -> MadeSheet:
    """Write the measuring sheet of a blank.

    Errors: UsageError for an unknown blank or a file that is no PDF's, ShopError for a blank whose
    file cannot be read, MachineError where PDFs cannot be made.
    """
    if file.suffix.lower() != ".pdf":
        raise UsageError(f"“{file.name}” is not a name for a PDF", f"write {file.stem}.pdf")
    blanks, settings, faults = shop_or_built_in(folder)
    blank = chosen_blank(blanks, name, faults)
    plan, papers = blank.plan(), _papers(settings)
    panel = next(iter(plan.panels))

    def drawn(on: list[Sheet]) -> TrueSize:
        return true_size(
            plan,
            panel,
            shrink=blank.shrink,
            scale=settings.printer.scale,
            papers=on,
            margin=settings.printer.margin_mm,
        )

    try:
        made = drawn(papers)
        says = _says(made, blank, papers)
    except ValueError:
        a4 = standard_paper("A4")
        made = drawn([Sheet(a4.name, a4.width_mm, a4.height_mm)])
        says = "Your papers are too small for a measuring sheet, so it is drawn on A4."
    theme = Theme(settings.theme, english_of(settings.language), settings.currency)
    page = theme.render(
        "true-size.html",
        medium="sheet",
        styles=("press", "true-size"),
        own_style=made.style(),
        title=blank.name,
        pages=made.pages,
        sentences=sentences(blank, settings),
    )
    store.write(file, html_to_pdf(page, {}, page_title=f"{blank.name} at true size"))
    return MadeSheet(file=file, says=says, problems=blank_problems(blank))
