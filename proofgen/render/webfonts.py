"""A theme's typefaces for pages: the letters that pages need, as WOFF2, made once a machine."""

from __future__ import annotations

import base64
import functools
import hashlib
import io
import logging
import sys
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path

from proofgen.errors import MachineError
from proofgen.render.fonts import find_font
from proofgen.render.look import ROLES, Look, family
from proofgen.render.shipped import beside_code
from proofgen.store import NoStore, Store, write

# Latin with its accents, figures, and the signs that pages use (arrows, ticks, prime, minus); what
# is beyond comes from the reader's device, as all letters of other alphabets do.
_LETTERS = (
    *range(0x20, 0x7F), *range(0xA0, 0x180), *range(0x1E00, 0x1F00), *range(0x2010, 0x2028),
    0x2030, 0x2032, 0x2033, 0x2039, 0x203A, 0x202F, 0x20AC, 0x2190, 0x2192, 0x2212, 0x2713,
)  # fmt: skip
_FEATURES = ["kern", "liga", "tnum", "lnum", "mark", "mkmk", "ccmp", "locl"]
# Whose the typeface is, and its licence, travel with it; its name does not, for this is a part.
_NAMES = [0, 13, 14]
_KIND, _WRITES = "letters of pages/1", "letters that large words have/1"
_SEAL = hashlib.sha256().digest_size
_HEAVIEST = 60_000  # bytes that the subset of one face may have


@dataclass(frozen=True, slots=True)
class Face:
    """One style of a typeface on pages: what its style calls it, its weight, its file's name (the
    same for the same bytes) and its bytes, WOFF2."""

    family: str
    weight: str
    name: str
    content: bytes

    def rule(self, folder: str | None) -> str:
        """The @font-face rule; `folder` leads to the file from the page, None puts it inside.
        `optional` (CSS Fonts 4): it comes in time or not at all, so nothing moves."""
        inside = f"data:font/woff2;base64,{base64.b64encode(self.content).decode()}"
        at = inside if folder is None else folder + self.name
        return (
            f'@font-face {{ font-family: "{self.family}"; font-weight: {self.weight}; '
            f'font-display: optional; src: url("{at}") format("woff2"); }}'
        )


@functools.lru_cache(maxsize=32)
def _subset(file: Path) -> bytes:
    from fontTools import subset  # only who sets pages waits for it

    logging.getLogger("fontTools.subset").setLevel(logging.ERROR)  # tables it leaves out
    options = subset.Options()
    options.flavor, options.hinting, options.recalc_timestamp = "woff2", False, False
    options.layout_features, options.name_IDs = _FEATURES, _NAMES
    options.desubroutinize = True
    font = subset.load_font(io.BytesIO(file.read_bytes()), options)
    subsetter = subset.Subsetter(options)
    subsetter.populate(unicodes=_LETTERS)
    subsetter.subset(font)
    out = io.BytesIO()
    subset.save_font(font, out, options)
    return out.getvalue()


@functools.lru_cache(maxsize=32)
def _digest(file: Path) -> str:
    return hashlib.sha256(file.read_bytes()).hexdigest()


def _made(file: Path, kept: Store) -> bytes:
    key = f"{_digest(file)} {version('fonttools')} {_LETTERS} {_FEATURES}"
    return kept.remember(_KIND, key, lambda: _of_machine(file, key), bytes, bytes)


def _of_machine(file: Path, key: str) -> bytes:
    """The letters of a file as they lie beside the program's compiled code for every shop, where
    that can be written; made for the first one, which takes as long as a proof."""
    folder = beside_code()
    if folder is None or sys.dont_write_bytecode:
        return _subset(file)
    path = folder / f"letters-{hashlib.sha256(f'{_KIND} {key}'.encode()).hexdigest()[:24]}"
    with suppress(OSError):
        content = path.read_bytes()
        if hashlib.sha256(content[_SEAL:]).digest() == content[:_SEAL]:
            return content[_SEAL:]
    made = _subset(file)
    with suppress(MachineError):  # a folder of the system's; then each shop has its own
        write(path, hashlib.sha256(made).digest() + made)
    return made


def large_letters(look: Look, kept: Store | None = None) -> frozenset[str]:
    """The letters that every face of large words has on pages; none where their typeface is the
    reader's device's."""
    files = [find_font(name) for name in look.fonts["display"].values()]
    if not files or None in files:
        return frozenset()
    key = " ".join(_digest(file) for file in files if file) + f" {_LETTERS}"
    make = functools.partial(_written, [file for file in files if file])
    said: str = (kept or NoStore()).remember(_WRITES, key, make, bytes.decode, str.encode)
    return frozenset(said)


def _written(files: list[Path]) -> str:
    from fontTools.ttLib import TTFont  # as above

    letters = set(_LETTERS)
    for file in files:
        with TTFont(file, lazy=True) as font:
            letters &= set(font.getBestCmap() or ())
    return "".join(map(chr, sorted(letters)))


def faces_of(look: Look, kept: Store | None = None) -> Iterator[Face]:
    """The upright faces of a look. What has too many letters even so, and what is not installed,
    is left to the reader's device."""
    for role in ROLES:
        for weight, name in look.fonts[role].items():
            file = find_font(name) if weight.isdecimal() else None
            content = _made(file, kept or NoStore()) if file else b""
            if 0 < len(content) <= _HEAVIEST:
                stem = hashlib.sha256(content).hexdigest()[:16]
                yield Face(family(role), weight, f"letters-{stem}.woff2", content)
