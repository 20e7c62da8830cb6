"""Floors under rows of pages and records, none of proofgen's code: WeasyPrint alone, a page without
its pictures, the bytes of pages written to memory."""

import io
import json
import re
from collections.abc import Iterable
from pathlib import Path

import weasyprint


def set_alone(html: str, folder: Path) -> bytes:
    """A page on paper, tagged, with what it names found in a folder."""
    made = weasyprint.HTML(string=html, base_url=f"{folder}/")
    return made.write_pdf(pdf_tags=True)


def sheets_of(html: str, folder: Path) -> int:
    """How many sheets it takes."""
    return len(weasyprint.HTML(string=html, base_url=f"{folder}/").render().pages)


def without_pictures(html: str) -> str:
    """The same page, its pictures taken out."""
    return re.sub(r"<img\b[^>]*>", "", html)


def written(pages: Iterable[str]) -> int:
    """Pages as bytes, in memory."""
    file = io.BytesIO()
    for page in pages:
        file.write(page.encode())
    return file.tell()


def lines_read(path: Path) -> list[object]:
    """Every line of a journal as JSON, and nothing asked of it."""
    return [json.loads(line) for line in path.read_bytes().split(b"\n") if line]
