"""Typefaces found by the name people write: those of the installed packages, and a shop's own."""

from __future__ import annotations

import functools
import importlib.util
from collections.abc import Mapping
from pathlib import Path

from proofgen.render.font_faults import PLAIN, fault_of, name_or_fault

FOLDER = "fonts"  # of a shop
# Each package carries its files and its licence in a folder called `files`.
PACKAGES = (
    "font_caladea",
    "font_source_serif_pro",
    "font_manrope",
    "font_fredoka_one",
    "font_amatic_sc",
    "fontpkg_amiri",
)
_ENDINGS = (".ttf", ".otf", ".ttc", ".otc", ".woff", ".woff2")
_MOST_FILES = 200


@functools.cache
def _packaged_fonts() -> Mapping[str, Path]:
    """The fonts of the packages that are installed. The packages themselves are not run."""
    fonts: dict[str, Path] = {}
    for package in PACKAGES:
        spec = importlib.util.find_spec(package)
        for place in (spec.submodule_search_locations or ()) if spec else ():
            # Of a font carried in both forms the .otf comes first: it has the drawn curves.
            for end in ("*.otf", "*.ttf"):
                for file in sorted((Path(place) / "files").glob(end)):
                    name, _ = name_or_fault(file, file.stat())
                    if name:
                        fonts.setdefault(name, file)
    return fonts


def own_fonts(shop: Path) -> tuple[dict[str, Path], dict[Path, str]]:
    """The fonts of a shop folder: name to file; and file to the reason why it is left out.

    Only the head of each file is read; `font_faults.fault_of` looks at the rest before one is used.
    """
    good: dict[str, Path] = {}
    refused: dict[Path, str] = {}
    for file in _files(shop / FOLDER):
        name, fault = name_or_fault(file, file.lstat())
        if fault:
            refused[file] = fault
        elif name in good:
            refused[file] = f"{good[name].name} has the same name, “{name}”"
        else:
            good[name] = file
    return good, refused


def _files(folder: Path) -> list[Path]:
    """What looks like a font; licences and notes may lie beside them."""
    try:
        every = sorted(p for p in folder.iterdir() if not p.name.startswith("."))
    except OSError:
        return []
    return [p for p in every if p.suffix.lower() in _ENDINGS][:_MOST_FILES]


def _loose(name: str) -> str:
    letters = "".join(c for c in name.casefold() if c.isalnum())
    return letters.removesuffix(PLAIN.casefold()) or letters


def _by_loose_name(fonts: Mapping[str, Path]) -> dict[str, Path]:
    """The first font of each name as people may write it."""
    return {_loose(name): file for name, file in reversed(list(fonts.items()))}


def find_font(name: str) -> Path | None:
    """The file of an installed style by its name, whatever its case and spaces; None if there is
    none."""
    return _by_loose_name(_packaged_fonts()).get(_loose(name))


class Fonts:
    """The fonts of one run: those of a shop folder, looked at once, and the installed ones."""

    def __init__(self, shop: Path | None = None) -> None:
        self._own = own_fonts(shop)[0] if shop else {}
        self._by_name = _by_loose_name(_packaged_fonts()) | _by_loose_name(self._own)
        self._faults: dict[Path, str] = {}

    @property
    def files(self) -> dict[str, Path]:
        """Every style: its name ('Caladea', 'Manrope Bold') to its file; the shop's own where both
        have one."""
        return {**_packaged_fonts(), **self._own}

    def find(self, name: str) -> Path | None:
        """As `find_font`, a font of the shop before an installed one; ask `fault` before it is
        used."""
        return self._by_name.get(_loose(name))

    def is_own(self, file: Path) -> bool:
        """Whether it lies in the shop's folder."""
        return file in self._own.values()

    def fault(self, file: Path) -> str:
        """Why a font should not be used, in plain words; '' for a sound one. Installed fonts are
        taken to be sound."""
        if not self.is_own(file):
            return ""
        if file not in self._faults:
            self._faults[file] = fault_of(file)
        return self._faults[file]
