"""Typefaces of the installed font packages and of a shop, found by the name people write."""

from __future__ import annotations

import importlib.util
from functools import lru_cache
from pathlib import Path

from fontTools.ttLib import TTFont, TTLibError

from proofgen.render.own_fonts import own_fonts, style_name

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
            return None if "fvar" in font else style_name(font) or None
    except (OSError, TTLibError):
        return None


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


def font_files(shop: Path | None = None) -> dict[str, Path]:
    """Every style that is installed: its name ('Caladea', 'Manrope Bold') to its file; with the
    fonts of a shop folder, which come first where both have one."""
    return {**_all_fonts(), **(own_fonts(shop)[0] if shop else {})}


def _loose(name: str) -> str:
    letters = "".join(c for c in name.casefold() if c.isalnum())
    return letters.removesuffix(_PLAIN.casefold()) or letters


def find_font(name: str, shop: Path | None = None) -> Path | None:
    """The file of a style by its name, whatever its case and spaces; None if there is none.

    A font of the shop folder `shop` comes before a packaged one; ask `own_fonts.fault_of` before
    it is used.
    """
    wanted = _loose(name)
    for fonts in (own_fonts(shop)[0] if shop else {}, _all_fonts()):
        for known, file in fonts.items():
            if _loose(known) == wanted:
                return file
    return None
