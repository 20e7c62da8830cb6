"""What a press sheet holds, read from the PDF itself."""

from __future__ import annotations

import subprocess
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pikepdf
from numpy.typing import NDArray
from PIL import Image

MM = 25.4 / 72  # of one PDF unit, ISO 32000-1, 8.3.2.3


@dataclass(frozen=True, slots=True)
class Laid:
    """A picture as the page paints it: mm from the page's top left, and its pixels."""

    x: float
    y: float
    width: float
    height: float
    pixels: NDArray[np.uint8]

    @property
    def right(self) -> float:
        return self.x + self.width

    @property
    def bottom(self) -> float:
        return self.y + self.height


def page_mm(file: Path, number: int = 1) -> tuple[float, float]:
    """The paper: the MediaBox of a page, counted from 1."""
    with pikepdf.open(file) as pdf:
        page = pdf.pages[number - 1]
        left, low, right, top = (float(edge) for edge in page.MediaBox)
        return (right - left) * MM, (top - low) * MM


def text_of(file: Path) -> str:
    return subprocess.run(
        ["pdftotext", "-layout", str(file), "-"], capture_output=True, text=True, check=True
    ).stdout


def pictures_on(file: Path, scratch: Path, number: int = 1) -> list[Laid]:
    """Every picture the page paints, its pixels as `pdfimages` gives them back."""
    pixels = _by_object(file, scratch)
    with pikepdf.open(file) as pdf:
        page = pdf.pages[number - 1]
        high = float(page.MediaBox[3]) - float(page.MediaBox[1])
        laid = []
        for name, matrix in _painted(page):
            a, b, c, d, e, f = matrix
            assert b == c == 0 and a > 0 and d > 0, "a picture is turned or mirrored by the page"
            one = page.Resources.XObject[name]
            assert "/SMask" not in one and "/Decode" not in one and "/Mask" not in one
            box = (e * MM, (high - f - d) * MM, a * MM, d * MM)
            laid.append(Laid(*box, pixels[one.objgen[0]]))
        return laid


def _painted(page: pikepdf.Page) -> list[tuple[str, tuple[float, ...]]]:
    """Name and matrix of each picture painted; pages of ours only set the matrix by `cm`."""
    now, kept, found = np.eye(3), [], []
    for step in pikepdf.parse_content_stream(page):
        operands = step.operands
        match str(step.operator):
            case "q":
                kept.append(now)
            case "Q":
                now = kept.pop()
            case "cm":
                a, b, c, d, e, f = (float(o) for o in operands)
                now = np.array([[a, b, 0], [c, d, 0], [e, f, 1]]) @ now
            case "Do":
                name = str(operands[0])
                if page.Resources.XObject[name].Subtype == "/Image":
                    flat = (*now[0, :2], *now[1, :2], *now[2, :2])
                    found.append((name, tuple(float(v) for v in flat)))
    return found


def _by_object(file: Path, scratch: Path) -> dict[int, NDArray[np.uint8]]:
    listed = subprocess.run(
        ["pdfimages", "-list", str(file)], capture_output=True, text=True, check=True
    ).stdout.splitlines()
    columns = listed[0].split()
    at = columns.index("object")
    # Plain pixels (PPM): the same as with -png, in a tenth of the time.
    subprocess.run(["pdfimages", str(file), str(scratch / file.stem)], check=True)
    found = {}
    for row in listed[2:]:
        cells = row.split()
        with Image.open(scratch / f"{file.stem}-{int(cells[1]):03d}.ppm") as picture:
            assert picture.mode == "RGB"
            found[int(cells[at])] = np.asarray(picture)
    return found
