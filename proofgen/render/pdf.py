"""Pages to PDF: the only room that knows WeasyPrint, with a fetcher closed to all outside."""

from __future__ import annotations

import contextlib
import functools
import gc
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
    gc.disable()  # it brings some hundred thousand things, and no garbage
    try:
        with contextlib.redirect_stdout(io.StringIO()):
            import weasyprint  # noqa: F401
    except (ImportError, OSError):
        return False
    finally:
        gc.enable()
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
_SPARE = "spare"
# HTML whose end is so many mm longer than it must be; what makes it longer is of the class `spare`.
Way = Callable[[float], str]


def _lowest(page: Page) -> float:
    """How far down its sheet a page reaches (px) without what makes it longer; 0 where nothing else
    stands there."""
    left, lowest = [page._page_box.children[0]], 0.0  # the engine tells it in no public place
    while left:
        box = left.pop()
        element = getattr(box, "element", None)
        if element is not None and _SPARE in element.get("class", "").split():
            continue
        below = getattr(box, "children", ())
        left += below
        if not below:
            lowest = max(lowest, box.position_y + box.height)
    return lowest


def _set(html: str, files: Mapping[str, bytes]) -> Document:
    """A page laid out on its sheets."""
    from weasyprint import HTML

    page = HTML(string=html, base_url=_BASE, url_fetcher=_fetcher(files))
    return page.render(font_config=_fonts_of(html), pdf_tags=True)


@dataclass(frozen=True, slots=True)
class _Try:
    """A page as one way sets it, and how far down each sheet it reaches, as a share of the sheet's
    height, without what makes it longer."""

    way: Way
    html: str
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

    @property
    def ends_alone(self) -> bool:
        """Whether its end wants to be longer, and what makes it so takes no sheet of its own."""
        return all(self.full) and self.last_alone and not self.fills

    def may_fill(self, least: float) -> bool:
        """Whether what leaves the last sheet alone bare may fill all of them at `least` of its
        height: there must then be one sheet less. The first is left as it is."""
        if not self.last_alone:
            return True
        pages = self.document.pages[1:]
        boxes = [page._page_box for page in pages]
        used = [_lowest(p) - b.content_box_y() for p, b in zip(pages, boxes, strict=True)]
        shares = (high / box.height for high, box in zip(used, boxes, strict=True))
        return sum(shares) * least <= len(boxes) - 1


def _tried(way: Way, longer: float, files: Mapping[str, bytes]) -> _Try:
    document = _set(html := way(longer), files)
    return _Try(way, html, document, [_lowest(page) / page.height for page in document.pages])


def _fullest(
    ways: Sequence[Way], files: Mapping[str, bytes], least: float = 0.0, guess: float = 0.0
) -> tuple[Document, float]:
    """The first way to set a page, if it leaves no sheet less than well filled; else the first of
    the others that does. The last of these is tried before them: mostly none between does where it
    does not, and to set a page takes longer than anything else of a proof. Where none does, the
    one that comes nearest, its end made longer where its last sheet alone is bare; and by how many
    mm. `least` as for `html_to_pdf`; a good `guess` of the mm saves a setting, and changes
    nothing."""
    first = _tried(ways[0], guess, files)
    if guess and not first.ends_alone:
        first = _tried(ways[0], 0.0, files)
    if first.fills:
        return first.document, 0.0
    tries, fits = [first], None
    for way in reversed(ways[1:]) if first.may_fill(least) else ():
        tries.append(_tried(way, 0.0, files))
        if not tries[-1].fills:
            break
        fits = tries[-1].document
    if fits is not None:
        return fits, 0.0
    nearest = max(tries, key=lambda one: one.near)
    if not nearest.last_alone:
        return nearest.document, 0.0
    missing = (_FILLED_UP - nearest.full[-1]) * nearest.document.pages[-1].height * _PX
    longer = nearest.way(missing)
    document = nearest.document if longer == nearest.html else _set(longer, files)
    return document, missing


@dataclass(frozen=True, slots=True)
class Alike:
    """Pages that are about as long as each other: by how many mm the last was made longer is kept
    under their name."""

    kept: Store
    name: str

    def set_in(self, ways: Sequence[Way], files: Mapping[str, bytes], least: float) -> Document:
        """As `_fullest`, which guesses by the last of them."""
        before = self.kept.recall(_LONGER, self.name) or b""
        guess = float(before) if _MM.fullmatch(before) else 0.0
        document, longer = _fullest(ways, files, least, guess)
        if before != (now := f"{longer:.3f}".encode()):
            self.kept.keep(_LONGER, self.name, now)
        return document


_LONGER, _MM = "pages made longer/1", re.compile(rb"\d{1,3}\.\d{3}")


def html_to_pdf(
    html: str | Sequence[Way],
    files: Mapping[str, bytes],
    *,
    page_title: str,
    least: float = 0.0,
    alike: Alike | None = None,
) -> bytes:
    """The page as a tagged PDF, the same bytes for the same page. Of several ways to set it,
    as wished and then smaller and smaller, the first is taken that leaves no sheet half bare; each
    makes the HTML with its end so many mm longer. What follows the first sheet, of which a new one
    begins, takes at `least` so much of its height in the smallest.

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
        document = _laid(html, files, least, alike)
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


def _laid(
    html: str | Sequence[Way], files: Mapping[str, bytes], least: float, alike: Alike | None
) -> Document:
    if isinstance(html, str):
        return _set(html, files)
    return (alike or Alike(NoStore(), "")).set_in(html, files, least)


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
