"""The sheet of prices for a stall, on the two papers that every shop has."""

from __future__ import annotations

from collections.abc import Mapping

from proofgen.catalogue.columns import crowding
from proofgen.catalogue.content import SeasonContent
from proofgen.catalogue.shared import Setting
from proofgen.render import Theme

# ISO 216, mm; the larger one has two columns.
PAPERS: Mapping[str, tuple[int, int, int]] = {"a4": (210, 297, 2), "a5": (148, 210, 1)}
_MARGIN_MM, _BETWEEN_MM = 12, 9
# Before a table: the small picture and the gap after it. Prices are set in so many points.
_PICTURE_MM, _POINTS = 21, 10.5
# On the smaller one everything stands closer, so that eight designs need two sheets.
_CLOSE = """\
html { font-size: 8.5pt }
h1 { font-size: 20pt }
h2 { font-size: 11pt }
th, td { padding-block: 0.35mm }
tbody .sum { font-size: 9pt }
.one-design { margin-bottom: 3mm }
.one-design img { width: 13mm; height: 18mm }
"""


def stall_sheet(content: SeasonContent, theme: Theme, paper: str) -> tuple[str, dict[str, bytes]]:
    """The page on a paper (a key of PAPERS), and its pictures."""
    wide, high, columns = PAPERS[paper]
    style = f"@page {{ size: {wide}mm {high}mm; margin: {_MARGIN_MM}mm }}\n"
    style += f".list {{ columns: {columns}; column-gap: {_BETWEEN_MM}mm }}\n"
    style += _CLOSE if columns == 1 else ""
    room = (wide - 2 * _MARGIN_MM - (columns - 1) * _BETWEEN_MM) / columns - _PICTURE_MM
    page = theme.render(
        "stall-pdf.html",
        medium="paper",
        styles=("stall-pdf",),
        own_style=style,
        crowded=crowding(theme, room, _POINTS),
        **Setting(content, theme, on_paper=True).shared(""),
    )
    return page, {entry.plate.name: entry.plate.content for entry in content.entries}
