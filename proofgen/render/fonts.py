"""The typefaces that come with the installed font packages, found by the name people write."""

from __future__ import annotations

import difflib
import importlib.util
from functools import lru_cache
from pathlib import Path

from fontTools.ttLib import TTFont, TTLibError

# Each package carries its files and its licence in a folder called `files`.
PACKAGES = (
    "font_caladea",
    "font_source_serif_pro",
    "font_manrope",
    "font_fredoka_one",
    "font_amatic_sc",
)
_PLAIN = "Regular"


def _folders() -> list[Path]:
    """The folders of the packages that are installed. The packages themselves are not run."""
    found = []
    for package in PACKAGES:
        spec = importlib.util.find_spec(package)
        for place in (spec.submodule_search_locations or ()) if spec else ():
            found.append(Path(place) / "files")
    return [folder for folder in found if folder.is_dir()]


def _name_of(file: Path) -> str | None:
    """'Caladea Bold' for a file; None for one that is no single style (a variable font)."""
    try:
        with TTFont(file, lazy=True) as font:
            if "fvar" in font:
                return None
            names = font["name"]
            # OpenType `name` table: 16 and 17 are the typographic family and style, 1 and 2 the
            # older pair in which a family has at most four styles.
            family = names.getDebugName(16) or names.getDebugName(1)
            style = names.getDebugName(17) or names.getDebugName(2) or _PLAIN
    except (OSError, TTLibError):
        return None
    if not family:
        return None
    return family if style == _PLAIN else f"{family} {style}"


@lru_cache(maxsize=1)
def _all_fonts() -> dict[str, Path]:
    fonts: dict[str, Path] = {}
    for folder in _folders():
        # Of a font carried in both forms the .otf comes first: it has the drawn curves.
        files = [f for end in ("*.otf", "*.ttf") for f in sorted(folder.glob(end))]
        for file in files:
            name = _name_of(file)
            if name:
                fonts.setdefault(name, file)
    return fonts


def font_files() -> dict[str, Path]:
    """Every style that is installed: its name ('Caladea', 'Manrope Bold') to its file."""
    return dict(_all_fonts())


def _loose(name: str) -> str:
    letters = "".join(c for c in name.casefold() if c.isalnum())
    return letters.removesuffix(_PLAIN.casefold()) or letters


def find_font(name: str) -> Path | None:
    """The file of a style by its name, whatever its case and spaces; None if there is none."""
    wanted = _loose(name)
    for known, file in _all_fonts().items():
        if _loose(known) == wanted:
            return file
    return None


def near_fonts(name: str, count: int = 3) -> list[str]:
    """Installed names that look most like `name`, best first; for “did you mean”."""
    by_loose = {_loose(known): known for known in _all_fonts()}
    return [by_loose[n] for n in difflib.get_close_matches(_loose(name), by_loose, n=count)]
