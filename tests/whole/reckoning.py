"""Sizes, crops, colours and prices worked out anew, apart from the code under test.

Nothing of the program is imported here: these are the rules as they were agreed on, in mm from the
top left of a blank that lies print side up.
"""

from __future__ import annotations

import csv
import math
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

import numpy as np

DATA = Path(__file__).parents[1] / "data"
INCH = 25.4  # mm; exactly, by the international yard and pound agreement of 1959

Box = tuple[float, float, float, float]  # x, y, width, height


@dataclass(frozen=True, slots=True)
class Measures:
    """What a tape finds on a new blank, in mm; shrink as shares."""

    construction: str
    width: float  # of a wrap: its length round the can
    height: float
    shrink: tuple[float, float]
    bleed: float
    diameter: float = 0.0
    thickness: float = 0.0
    on_top: str = ""
    seam: float = 0.0
    fold: float = 0.0
    hem: float = 0.0
    base: float = 0.0
    gap: float = 0.0


@dataclass(frozen=True, slots=True)
class Reckoned:
    """The finished blank: panels, faces with their turn, zones, and what `fill` covers."""

    panels: dict[str, tuple[float, float]]
    faces: dict[str, tuple[str, Box, int]]  # panel, box, turn
    zones: list[tuple[str, Box]]
    fills: dict[str, Box]  # in the face's own frame
    aims: dict[str, tuple[float, float]]  # where a focus goes, in the face's own frame
    way_round: float | None
    overlap: float | None

    def on_panel(self, face: str, x: float, y: float) -> tuple[str, float, float]:
        """A point of a face as it lies on its panel; all round two faces, the front lies
        in the middle between the halves of the back."""
        if face == "round" and "round" not in self.faces:
            wide = self.faces["front"][1][2]
            x = (x - wide / 2) % (2 * wide)
            face, x = ("front", x) if x < wide else ("back", x - wide)
        panel, (left, top, wide, high), turn = self.faces[face]
        if turn == 180:
            return panel, left + wide - x, top + high - y
        return panel, left + x, top + y

    def size(self, face: str) -> tuple[float, float]:
        if face == "round" and "round" not in self.faces:
            _, (_, _, wide, high), _ = self.faces["front"]
            return 2 * wide, high
        return self.faces[face][1][2:]


def reckon(m: Measures) -> Reckoned:
    """Finished = raw × (1 − shrink), each axis by its own."""
    across, down = 1 - m.shrink[0], 1 - m.shrink[1]
    wide, high = m.width * across, m.height * down
    return {"wrap": _wrap, "fold": _fold, "sewn": _sewn, "flat": _flat}[m.construction](
        m, wide, high
    )


def _grown(wide: float, high: float, bleed: float, below: float | None = None) -> Box:
    low = bleed if below is None else below
    return -bleed, -bleed, wide + 2 * bleed, high + bleed + low


def _middle(box: Box) -> tuple[float, float]:
    return box[0] + box[2] / 2, box[1] + box[3] / 2


def _wrap(m: Measures, wide: float, high: float) -> Reckoned:
    """Way round on the neutral line of the cloth; the end on top hides what lies under it."""
    around = math.pi * (m.diameter + m.thickness)
    overlap = wide - around
    start = overlap if m.on_top == "right" else 0.0
    hidden = 0.0 if m.on_top == "right" else around
    cloth = (-start - m.bleed, -m.bleed, wide + 2 * m.bleed, high + 2 * m.bleed)
    front = _grown(around / 2, high, m.bleed)
    return Reckoned(
        panels={"round": (wide, high)},
        faces={
            "round": ("round", (start, 0.0, around, high), 0),
            "front": ("round", (start + around / 4, 0.0, around / 2, high), 0),
        },
        zones=[("closure", (hidden, 0.0, overlap, high))],
        fills={"round": cloth, "front": front},
        aims={"round": (around / 2, high / 2), "front": _middle(front)},
        way_round=around,
        overlap=overlap,
    )


def _fold(m: Measures, wide: float, high: float) -> Reckoned:
    """Down the sheet: hem, front, fold strip, back upside down, hem."""
    across, down = 1 - m.shrink[0], 1 - m.shrink[1]
    seam, strip = m.seam * across, m.fold * down
    hem, base = m.hem * down, m.base * down
    face_wide, face_high = wide - 2 * seam, (high - strip) / 2 - hem
    back_top = hem + face_high + strip
    zones = [
        ("seam", (0.0, 0.0, seam, high)),
        ("seam", (wide - seam, 0.0, seam, high)),
        ("fold", (0.0, hem + face_high, wide, strip)),
        ("hem", (0.0, 0.0, wide, hem)),
        ("hem", (0.0, high - hem, wide, hem)),
        ("base", (seam, hem + face_high - base, face_wide, base)),
        ("base", (seam, back_top, face_wide, base)),
    ]
    one = _grown(face_wide, face_high, m.bleed, strip / 2)
    both = (0.0, one[1], 2 * face_wide, one[3])
    panel = "front and back"
    return Reckoned(
        panels={panel: (wide, high)},
        faces={
            "front": (panel, (seam, hem, face_wide, face_high), 0),
            "back": (panel, (seam, back_top, face_wide, face_high), 180),
        },
        zones=[(kind, box) for kind, box in zones if box[2] > 0 and box[3] > 0],
        fills={"front": one, "back": one, "round": both},
        aims={"front": _middle(one), "back": _middle(one), "round": _middle(both)},
        way_round=2 * face_wide,
        overlap=None,
    )


def _sewn(m: Measures, wide: float, high: float) -> Reckoned:
    """Two faces, each pressed by itself; no ink reaches the gaps at their sides."""
    gap = m.gap * (1 - m.shrink[0])
    one = _grown(wide, high, m.bleed)
    both = (0.0, one[1], 2 * wide, one[3])
    whole = (0.0, 0.0, wide, high)
    gaps = [("gap", (x, 0.0, gap, high)) for x in (0.0, wide - gap)] if gap else []
    return Reckoned(
        panels={"front": (wide, high), "back": (wide, high)},
        faces={name: (name, whole, 0) for name in ("front", "back")},
        zones=gaps * 2,
        fills={"front": one, "back": one, "round": both},
        aims={"front": _middle(one), "back": _middle(one), "round": _middle(both)},
        way_round=2 * wide,
        overlap=None,
    )


def _flat(m: Measures, wide: float, high: float) -> Reckoned:
    fill = _grown(wide, high, m.bleed)
    return Reckoned(
        panels={"front": (wide, high)},
        faces={"front": ("front", (0.0, 0.0, wide, high), 0)},
        zones=[],
        fills={"front": fill},
        aims={"front": _middle(fill)},
        way_round=None,
        overlap=None,
    )


def raster_px(mm: float, ppi: float) -> int:
    """Whole pixels that cover so many mm; a float's last digit does not make one more."""
    return math.ceil(mm * ppi / INCH - 1e-6)


def crop(
    photo: tuple[int, int],
    slot: tuple[float, float],
    focus: tuple[float, float],
    zoom: float,
    aim: tuple[float, float],
) -> Box:
    """The part of a photo (px) that covers a slot (mm): focus at the aim, kept inside, zoomed."""
    mm_a_px = max(slot[0] / photo[0], slot[1] / photo[1]) * zoom
    wide, high = slot[0] / mm_a_px, slot[1] / mm_a_px
    x = min(max(focus[0] * photo[0] - aim[0] / mm_a_px, 0.0), photo[0] - wide)
    y = min(max(focus[1] * photo[1] - aim[1] / mm_a_px, 0.0), photo[1] - high)
    return x, y, wide, high


def ppi_of(part: Box, slot: tuple[float, float]) -> float:
    """Pixels per finished inch on the worse axis."""
    return min(part[2] / (slot[0] / INCH), part[3] / (slot[1] / INCH))


def verdict(ppi: float, good: float, floor: float) -> str:
    return "good" if ppi >= good else "soft" if ppi >= floor else "coarse"


def price(steps: dict[int, Decimal], quantity: int) -> Decimal:
    """The whole order at the price of the highest step that the quantity reaches."""
    return steps[max(start for start in steps if start <= quantity)] * quantity


# Ink on cloth


def _table(name: str) -> np.ndarray:
    lines = (DATA / name).read_text("utf-8").splitlines()
    rows = list(csv.reader(line for line in lines if not line.startswith("#")))
    return np.array(rows[1:], float)


def _linear(codes: np.ndarray) -> np.ndarray:
    v = codes / 255
    return np.where(v <= 0.04045, v / 12.92, ((v + 0.055) / 1.055) ** 2.4)  # IEC 61966-2-1:1999


def _codes(light: np.ndarray) -> np.ndarray:
    v = np.clip(light, 0, 1)
    return 255 * np.where(v <= 0.0031308, 12.92 * v, 1.055 * v ** (1 / 2.4) - 0.055)


def rgb(colour: str) -> np.ndarray:
    return np.array([int(colour[i : i + 2], 16) for i in (1, 3, 5)], float)


def ink_on_cloth(ink: str, cloth: str) -> np.ndarray:
    """8-bit sRGB codes, unrounded: 81 reflectances of ink times those of the cloth under D65.

    Basis: Mallett and Yuksel (2019), doi:10.2312/SR.20191216. Observer: CIE 1931, 2 degrees.
    Primaries and white of IEC 61966-2-1.
    """
    basis = _table("mallett2019_srgb_basis.csv")[:, 1:]
    seen = _table("cie1931_2deg_d65_5nm.csv")
    assert len(basis) == len(seen) == 81
    product = (basis @ _linear(rgb(ink))) * (basis @ _linear(rgb(cloth)))
    weights = seen[:, 1:4] * seen[:, 4:5]
    xyz = (product[:, None] * weights).sum(axis=0) / weights[:, 1].sum()
    corners = np.array([[0.64, 0.33], [0.30, 0.60], [0.15, 0.06]])
    columns = np.array([[x / y, 1, (1 - x - y) / y] for x, y in corners]).T
    white = np.array([0.3127 / 0.3290, 1, (1 - 0.3127 - 0.3290) / 0.3290])
    to_xyz = columns * np.linalg.solve(columns, white)
    return _codes(np.linalg.solve(to_xyz, xyz))
