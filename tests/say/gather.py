"""Gathers every sentence that customers read and brings the catalogues up to date.

    python tests/say/gather.py

Sentences are found by their marks (proofgen/say/tongue.py): in all of proofgen, and in the
templates that customers read. Translations are kept, what nothing says any more goes, what is new
comes in empty; the files name their sources without lines, so that few lines change.
"""

from __future__ import annotations

import functools
import io
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from babel.messages.catalog import Catalog, Message
from babel.messages.extract import extract
from babel.messages.pofile import read_po, write_po

ROOT = Path(__file__).resolve().parents[2]
TEMPLATES = ROOT / "themes" / "base" / "templates"
CATALOGUES = ROOT / "proofgen" / "say" / "catalogues"

# Read by the maker alone.
NOT_THE_CUSTOMERS = frozenset(
    {
        "contact.html",
        "evening.html",
        "evening_parts.html",
        "evening_pdf.html",
        "finding.html",
        "findings-order.html",
        "findings.html",
        "guide.html",
        "press_drawings.html",
        "press_sheets.html",
        "swatches.html",
        "tally.html",
        "ticket.html",
        "trial-grid.html",
        "trial-ladder.html",
        "trial-words.html",
        "true-size.html",
        "workroom-order.html",
        "workroom-parts.html",
        "workroom.html",
    }
)

# Of sentences said in Python; a tongue is always called `tongue`.
_PYTHON = {"tongue": None, "to_say": None, "several": (1, 2), "message": None, "messages": (1, 2)}
_PAGES = {"_": None, "gettext": None, "ngettext": (1, 2)}

# The fields that are read; no dates, so that nothing changes where no sentence did.
_HEAD = """\
# What customers read. Brought up to date by: python tests/say/gather.py
msgid ""
msgstr ""
"Language: {language}\\n"
"Content-Type: text/plain; charset=utf-8\\n"
"Content-Transfer-Encoding: 8bit\\n"
"Plural-Forms: {plurals}\\n"

"""


@dataclass(frozen=True, slots=True)
class Said:
    """A sentence, or its forms for one and for many, and the file it stands in."""

    forms: tuple[str, ...]
    file: str

    @property
    def id(self) -> str | tuple[str, ...]:
        return self.forms[0] if len(self.forms) == 1 else self.forms


def customers_templates() -> list[Path]:
    """The templates that customers read."""
    return sorted(path for path in TEMPLATES.iterdir() if path.name not in NOT_THE_CUSTOMERS)


def _in(method: str, path: Path, keywords: dict[str, tuple[int, ...] | None]) -> Iterator[Said]:
    source = path.read_bytes()
    options = {"trimmed": "true", "silent": "false"} if method == "jinja2" else {}
    for _, message, _, _ in extract(method, io.BytesIO(source), keywords, options=options):
        forms = (message,) if isinstance(message, str) else tuple(message)
        yield Said(forms, path.relative_to(ROOT).as_posix())


@functools.cache
def gathered() -> tuple[Said, ...]:
    """Every sentence for customers, in the order of files."""
    said: list[Said] = []
    for path in sorted((ROOT / "proofgen").rglob("*.py")):
        said += _in("python", path, _PYTHON)
    for path in customers_templates():
        said += _in("jinja2", path, _PAGES)
    return tuple(said)


def template() -> Catalog:
    """What is to be translated, each sentence once, with the files that say it."""
    catalogue = Catalog()
    for one in gathered():
        catalogue.add(one.id, locations=[(one.file, 0)], auto_comments=())
    return catalogue


def updated(path: Path) -> bytes:
    """A language's file with all that is said, and nothing else."""
    with path.open("rb") as file:
        catalogue = read_po(file, locale=path.stem)
    catalogue.update(template(), no_fuzzy_matching=True, update_creation_date=False)
    catalogue.obsolete.clear()
    written = io.BytesIO()
    write_po(
        written, catalogue, width=100, omit_header=True, include_lineno=False, sort_by_file=True
    )
    head = _HEAD.format(language=path.stem, plurals=catalogue.plural_forms)
    return head.encode() + written.getvalue()


def untranslated(catalogue: Catalog) -> list[Message]:
    """The sentences that a catalogue has in no words, or in doubtful ones."""
    return [m for m in catalogue if m.id and (m.fuzzy or not all(forms_of(m)))]


def forms_of(message: Message) -> tuple[str, ...]:
    """What a sentence is translated as: one form, or one for each of the language's plurals."""
    return (message.string,) if isinstance(message.string, str) else tuple(message.string)


def main() -> None:
    for path in sorted(CATALOGUES.glob("*.po")):
        path.write_bytes(updated(path))
        with path.open("rb") as file:
            catalogue = read_po(file, locale=path.stem)
        print(f"{path.name}: {len(catalogue)} sentences, {len(untranslated(catalogue))} to do")


if __name__ == "__main__":
    main()
