"""Pages to PDF: the only room that knows WeasyPrint, with a fetcher closed to all outside."""

from __future__ import annotations

import contextlib
import functools
import io
import logging
import mimetypes
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import unquote

from PIL import ImageFile

from proofgen.errors import MachineError, ProofgenError
from proofgen.render.fonts import find_font
from proofgen.render.systems import line_for
from proofgen.store import NoStore, Store, digest

if TYPE_CHECKING:
    from weasyprint import Document, Page
    from weasyprint.text.fonts import FontConfiguration
    from weasyprint.urls import URLFetcher, URLFetcherResponse

# Every name in a page resolves below this; `.invalid` belongs to nobody (RFC 2606).
_BASE = "https://page.invalid/"
_FONTS = "fonts/"
_FONT_ASKED = re.compile(r"\bfonts/([\w.%-]+)")
_FACE = re.compile(r"@font-face\s*\{[^}]*\}")

_NO_GLYPH = re.compile(r"\.notdef glyph rendered .*\((U\+[0-9A-F]+)\)")
_REFUSALS = (MemoryError, RecursionError, ZeroDivisionError, OverflowError)


def _fonts_of(html: str) -> FontConfiguration:
    """The engine's fonts for a page. What a page called by a name is known by that name from then
    on: a page that calls another font so must not find the first one, so each set of names has
    fonts of its own. One theme's pages share theirs."""
    return _fonts(frozenset(_FACE.findall(html)))


@functools.lru_cache(maxsize=4)
def _fonts(faces: frozenset[str]) -> FontConfiguration:
    """WeasyPrint's fonts for pages with these @font-face rules."""
    from weasyprint.text.fonts import FontConfiguration

    return FontConfiguration()


@functools.cache
def _engine() -> bool:
    """Whether WeasyPrint can be loaded, tried once: where Pango is missing it prints a page about
    itself, each time, among the results."""
    try:
        with contextlib.redirect_stdout(io.StringIO()):
            import weasyprint  # noqa: F401
    except (ImportError, OSError):
        return False
    finally:
        # WeasyPrint lets Pillow open half a picture without a word, process-wide; we do not.
        ImageFile.LOAD_TRUNCATED_IMAGES = False
    return True


def pdf_ready() -> bool:
    """Whether this machine can make PDFs. The first call imports the engine, which takes as long as
    forty starts of Python."""
    return _engine()


def _fetcher(files: Mapping[str, bytes]) -> URLFetcher:
    """A fetcher that serves names in `files` and packaged fonts; anything else stops the PDF."""
    from weasyprint.urls import FatalURLFetchingError, URLFetcher, URLFetcherResponse

    class Closed(URLFetcher):
        def fetch(self, url: str, headers: Mapping[str, str] | None = None) -> URLFetcherResponse:
            name = unquote(url.removeprefix(_BASE)) if url.startswith(_BASE) else ""
            kind = mimetypes.guess_type(name)[0] or "application/octet-stream"
            if name.startswith(_FONTS):
                font = find_font(name.removeprefix(_FONTS))
                if font is None:
                    raise FatalURLFetchingError(f"there is no font {name}")
                body, kind = font.read_bytes(), "font/otf"
            elif name in files:
                body = files[name]
            else:
                raise FatalURLFetchingError(f"the page asks for {url[:80]}")
            return URLFetcherResponse(url, body, {"Content-Type": kind})

    return Closed()


class _Listener(logging.Handler):
    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.warnings: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.warnings.append(record.getMessage())


_WELL_FILLED, _FILLED_UP = 2 / 3, 0.7  # of a sheet's height
_PX = 25.4 / 96  # mm in the engine's pixel
Way = Callable[[float], str]  # HTML whose end is so many mm longer than it must be


def _fullness(page: Page) -> float:
    """How far down its sheet a page reaches, as a share of the sheet's height."""
    root = page._page_box.children[0]  # the engine tells it in no public place
    left, lowest = [root], root.position_y
    while left:
        box = left.pop()
        below = getattr(box, "children", ())
        left += below
        if not below:
            lowest = max(lowest, box.position_y + box.height)
    return lowest / page.height


def _set(html: str, files: Mapping[str, bytes]) -> tuple[Document, list[float]]:
    """A page laid out on its sheets, and how far down each of them it reaches."""
    from weasyprint import HTML

    page = HTML(string=html, base_url=_BASE, url_fetcher=_fetcher(files))
    document = page.render(font_config=_fonts_of(html), pdf_tags=True)
    return document, [_fullness(sheet) for sheet in document.pages]


@dataclass(frozen=True, slots=True)
class _Try:
    """A page as one way sets it, and how far down each sheet it reaches."""

    way: Way
    document: Document
    full: list[float]

    @property
    def fills(self) -> bool:
        return min(self.full) >= _WELL_FILLED

    @property
    def last_alone(self) -> bool:
        """Whether at most the last sheet is bare."""
        return min(self.full[:-1], default=1.0) >= _WELL_FILLED

    @property
    def near(self) -> tuple[bool, float]:
        return self.last_alone, self.full[-1] if self.last_alone else min(self.full)


def _fullest(ways: Sequence[Way], files: Mapping[str, bytes]) -> Document:
    """The first way to set a page, if it leaves no sheet less than well filled; else the first of
    the others that does. The last of these is tried before them: mostly none between does where it
    does not, and to set a page takes longer than anything else of a proof. Where none does, the
    one that comes nearest, its end made longer where its last sheet alone is bare."""
    tries = [_Try(ways[0], *_set(ways[0](0.0), files))]
    if tries[0].fills:
        return tries[0].document
    fits: Document | None = None
    for way in reversed(ways[1:]):
        tries.append(_Try(way, *_set(way(0.0), files)))
        if not tries[-1].fills:
            break
        fits = tries[-1].document
    if fits is not None:
        return fits
    nearest = max(tries, key=lambda one: one.near)
    if not nearest.last_alone:
        return nearest.document
    missing = (_FILLED_UP - nearest.full[-1]) * nearest.document.pages[-1].height * _PX
    return _set(nearest.way(missing), files)[0]


def html_to_pdf(html: str | Sequence[Way], files: Mapping[str, bytes], *, page_title: str) -> bytes:
    """The page as a tagged PDF, the same bytes for the same page. Of several ways to set it,
    as wished and then smaller and smaller, the first is taken that leaves no sheet half bare; each
    makes the HTML with its end so many mm longer.

    `files` are the pictures by the names the page uses; fonts are `fonts/NAME` of render.fonts.
    Sizes in the page's own units. Errors: MachineError if this machine lacks Pango, ProofgenError
    if the page asks for anything else, draws a warning or is too large to set.
    """
    if not _engine():
        raise MachineError(
            "PDFs cannot be made on this machine: WeasyPrint or its text library Pango is missing",
            line_for("pango"),
        )
    from weasyprint.urls import FatalURLFetchingError

    listener, log = _Listener(), logging.getLogger("weasyprint")
    log.addHandler(listener)
    try:
        document = _set(html, files)[0] if isinstance(html, str) else _fullest(html, files)
        document.metadata.title = page_title
        document.metadata.authors = []
        pdf = document.write_pdf(pdf_tags=True)
    except FatalURLFetchingError as error:
        raise _refused(str(error)) from error
    except _REFUSALS as error:
        raise _refused("something in it is too large to set") from error
    finally:
        log.removeHandler(listener)
    if listener.warnings:
        raise _warned(listener.warnings)
    return pdf


def set_once(
    kept: Store | None, html: str, files: Mapping[str, bytes], make: Callable[[], bytes]
) -> bytes:
    """What `make` gives, the PDF of a page with these pictures, unless `kept` has it: to set a page
    takes a hundred times as long as to write it."""
    engine = [f"{name} {version(name)}" for name in ("weasyprint", "pydyf", "fonttools")]
    fonts = sorted({unquote(name) for name in _FONT_ASKED.findall(html)})
    parts = [*engine, html, *fonts]
    faces = [(find_font(name) or Path()) for name in fonts]
    contents = [file.read_bytes() if file.is_file() else b"" for file in faces]
    for name, content in sorted(files.items()):
        parts.append(name)
        contents.append(content)
    key = digest(*(part.encode("utf-8", "surrogatepass") for part in parts), *contents)
    return (kept or NoStore()).remember("paper/1", key, make, bytes, bytes)


def _warned(warnings: list[str]) -> ProofgenError:
    """Letters that no font has would be empty boxes; anything else is a fault of the page."""
    lacking = [match for warning in warnings if (match := _NO_GLYPH.search(warning))]
    if len(lacking) < len(warnings):
        return _refused("; ".join(warnings))
    letters = list(dict.fromkeys(match[1] for match in lacking))
    packages = dict.fromkeys(_font_package(int(code[2:], 16)) for code in letters)
    return MachineError(
        f"no font on this machine has {' '.join(letters)}, so the PDF would show empty boxes",
        f"install one that does (Debian: sudo apt install {' '.join(packages)}), then run the same "
        "again; the page itself needs none",
    )


def _font_package(code: int) -> str:
    """The Debian package whose fonts have a letter, by its block (names as in Debian 12)."""
    asian = ((0x1100, 0x11FF), (0x2E80, 0x9FFF), (0xAC00, 0xD7FF), (0xF900, 0xFFEF))
    if code >= 0x20000 or any(first <= code <= last for first, last in asian):
        return "fonts-noto-cjk"
    if 0x1F000 <= code <= 0x1FAFF or 0x2600 <= code <= 0x27BF:
        return "fonts-noto-color-emoji"
    return "fonts-noto"


def _refused(reason: str) -> ProofgenError:
    return ProofgenError(
        f"the PDF was not made: {reason}",
        "this is a fault in the theme or in proofgen; the HTML page is not touched by it",
    )
