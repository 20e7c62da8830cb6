"""Designs of the season that cannot be shown now, for a slip in a file or something that is missing
here: their pages stay as they were."""

from __future__ import annotations

import re
from collections.abc import Collection

from proofgen.model import Season
from proofgen.workshop import Workshop

_SHOWN = re.compile(r"(?:pictures|fonts)/[\w.-]+")  # what a page shows, seen from site/


def unshown(workshop: Workshop, season: Season, shown: Collection[str]) -> list[str]:
    """Designs that lie in the folder with a fault, or are the season's and could not be drawn."""
    home = workshop.folder / "designs"
    there = {path.parent.name for path in home.glob("*/design.md")}
    return sorted((there - set(workshop.shop.designs)) | (set(season.designs) - set(shown)))


def pages_left(workshop: Workshop, designs: Collection[str]) -> dict[str, list[str]]:
    """Of those that have a page with pictures: that page and what it shows, by paths from site/."""
    left: dict[str, list[str]] = {}
    for name in designs:
        page = workshop.site / "designs" / f"{name}.html"
        if not page.is_file():
            continue
        seen = sorted(set(_SHOWN.findall(page.read_text("utf-8", "replace"))))
        if any(one.startswith("pictures/") for one in seen):
            left[name] = [f"designs/{name}.html", *seen]
    return left
