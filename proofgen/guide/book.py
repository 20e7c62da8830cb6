"""The guide as pages: every chapter, then the reference, each with its place in the whole."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from markupsafe import Markup

from proofgen import __version__, store
from proofgen.guide.chapters import Chapter, as_html, chapters, pictures
from proofgen.guide.commands import CommandTold, OptionTold
from proofgen.guide.reference import reference
from proofgen.render import Theme

FIRST = "index.html"
_FONTS = "fonts/"


def book(commands: Sequence[CommandTold], everywhere: Sequence[OptionTold]) -> Mapping[str, bytes]:
    """Every file of the guide by its address below the guide's folder."""
    theme = Theme("quay")
    written, made = list(chapters()), list(reference(commands, everywhere))
    parts = (("The guide", written), ("Reference", made))
    pages = [*written, *made]
    files: dict[str, bytes] = dict(pictures())
    files |= {f"{_FONTS}{name}": font for name, font in theme.font_files.items()}
    for at, page in enumerate(pages):
        files[f"{page.name}.html"] = _page(
            theme,
            parts,
            title=page.title,
            here=page.name,
            text=Markup(as_html(page.text)),
            before=pages[at - 1] if at else None,
            after=pages[at + 1] if at + 1 < len(pages) else None,
        )
    files[FIRST] = _page(
        theme, parts, title="The guide", here="", text=None, before=None, after=pages[0]
    )
    return files


def _page(
    theme: Theme,
    parts: Sequence[tuple[str, Sequence[Chapter]]],
    title: str,
    here: str,
    text: Markup | None,
    before: Chapter | None,
    after: Chapter | None,
) -> bytes:
    return theme.render(
        "guide.html",
        styles=("base", "guide"),
        fonts=_FONTS,
        private=True,
        parts=parts,
        title=title,
        here=here,
        text=text,
        before=before,
        after=after,
        version=__version__,
    ).encode()


def write_book(folder: Path, files: Mapping[str, bytes], *, private: bool = True) -> Path:
    """Write the guide, pictures before pages; what it no longer holds goes. The page to open.

    Errors: MachineError where the folder may not be written to.
    """
    for name, content in files.items():
        store.write(folder / name, content, private=private)
    for path in _gone(folder, files):
        store.remove(path)
    return folder / FIRST


def _gone(folder: Path, files: Mapping[str, bytes]) -> Iterator[Path]:
    """Pages and typefaces of an earlier guide that this one lacks; nothing else."""
    for pattern in ("*.html", f"{_FONTS}letters-*.woff2", "pictures/*.jpg"):
        for path in folder.glob(pattern):
            if path.relative_to(folder).as_posix() not in files:
                yield path
