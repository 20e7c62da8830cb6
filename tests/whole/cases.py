"""Shops nobody thought of: blank, photo, design, order and settings drawn by chance."""

from __future__ import annotations

import colorsys
import math
import random
import re
from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path

from tests.whole import chart
from tests.whole.reckoning import INCH, Box, Measures, Reckoned, reckon
from tests.whole.running import copy_of_demo

# Construction, further choice, and which face carries the photo how.
KINDS = [
    ("wrap", "right", "round", "fill"),
    ("wrap", "left", "round", "fill"),
    ("fold", "", "front", "fill"),
    ("sewn", "", "front", "fill"),
    ("flat", "round", "front", "fill"),
    ("fold", "", "round", "fill"),
    ("flat", "rounded", "front", "box"),
    ("wrap", "left", "front", "fill"),
    ("sewn", "", "round", "fill"),
]
BASE = "fenn-harbour"  # the demo's order that is made into another
ORDER, BLANK, DESIGN = "any-order", "any-blank", "any-design"
PEOPLE = ["Zoë O’Neil", "Nguyễn Thị Hà", "Åsa Ćirić", "Łucja D’Arcy-Müller", "محمد علي", "אילנה"]
NAMES = ["Zoë & Bram", "Søren", "Łucja", "O’Hara", "Émile", "Jürgen", "Chloé", "Iñigo"]


@dataclass(slots=True)
class Case:
    """One drawn shop. Boxes are shares of the face: x, y, width, height."""

    number: int
    measures: Measures
    shape: str
    corner: float
    closure: tuple[float, float]  # width, shortest, mm
    face: str
    box: Box | None  # None: fill
    also_back: bool
    cloth: str
    patch: str
    photo_name: str
    photo_px: tuple[int, int] = (0, 0)
    orientation: int = 1
    focus: tuple[float, float] = (0.5, 0.5)
    zoom: float = 1.0
    quantity: int = 1
    names: list[str] = field(default_factory=list)
    steps: dict[int, Decimal] = field(default_factory=dict)
    currency: str = "EUR"
    ppi: int = 150
    scale: tuple[float, float] = (1.0, 1.0)
    limits: tuple[int, int] = (200, 120)
    customer: str = ""
    heat: str = "196 C"
    seconds: int = 55

    @property
    def reckoned(self) -> Reckoned:
        return reckon(self.measures)

    def slot(self, face: str) -> tuple[Box, tuple[float, float]]:
        """What the photo covers on a face, in its frame (mm), and where the focus goes."""
        blank = self.reckoned
        if self.box is None:
            return blank.fills[face], blank.aims[face]
        wide, high = blank.size(face)
        x, y, w, h = self.box
        slot = (x * wide, y * high, w * wide, h * high)
        return slot, (slot[0] + slot[2] / 2, slot[1] + slot[3] / 2)

    @property
    def faces(self) -> list[str]:
        return [self.face, "back"] if self.also_back else [self.face]

    @property
    def tag_face(self) -> str:
        """The face that carries patch and name."""
        return "front" if self.face == "round" else self.face


PATCH: Box = (0.06, 0.72, 0.3, 0.16)
NAME: Box = (0.42, 0.72, 0.46, 0.16)


def draw(number: int) -> Case:
    """The case of that number: the same on every machine."""
    chance = random.Random(f"any shop {number}")
    construction, choice, face, way = KINDS[number % len(KINDS)]
    measures, closure = _measures(construction, choice, chance)
    hue, pale = chance.random(), chance.uniform(0.15, 0.5)
    cloth = _hex(colorsys.hsv_to_rgb(hue, pale, chance.uniform(0.82, 1.0)))
    case = Case(
        number=number,
        measures=measures,
        shape=choice if construction == "flat" else "",
        corner=round(chance.uniform(4, 12), 1),
        closure=closure,
        face=face,
        box=None if way == "fill" else (0.1, 0.08, 0.8, 0.84),
        also_back=construction in ("fold", "sewn") and face == "front",
        cloth=cloth,
        patch=_hex(colorsys.hsv_to_rgb(chance.random(), 0.55, 0.7)),
        photo_name="",
        customer=chance.choice(PEOPLE),
        currency=chance.choice(["EUR", "GBP", "USD"]),
        ppi=chance.choice([100, 127, 150, 180]),
        scale=(round(chance.uniform(0.98, 1.02), 4), round(chance.uniform(0.98, 1.02), 4)),
        limits=chance.choice([(200, 120), (180, 110), (240, 140)]),
        heat=chance.choice(["196 C", "385 F", "400 F", "200 C (392 F)"]),
        seconds=chance.randrange(40, 70),
    )
    # Zoomed, a photo can move both ways; the focus mostly stays where no edge holds it back.
    case.zoom = round(1.0 if number % 4 == 3 else chance.uniform(1.25, 1.7), 3)
    reach = 1.15 * (0.5 - 0.5 / max(case.zoom, 1.25))
    x, y = (round(0.5 + chance.uniform(-reach, reach), 3) for _ in range(2))
    case.focus = (x, y)
    _order(case, chance)
    _photo(case, chance)
    return case


def _hex(colour: tuple[float, float, float]) -> str:
    return "#" + "".join(f"{round(255 * c):02x}" for c in colour)


def _measures(
    construction: str, choice: str, chance: random.Random
) -> tuple[Measures, tuple[float, float]]:
    def mm(least: float, most: float) -> float:
        return round(chance.uniform(least, most), 1)

    shrink = (round(chance.uniform(0, 0.025), 3), round(chance.uniform(0, 0.02), 3))
    bleed = mm(3, 8)
    if construction == "wrap":
        diameter, thickness = mm(50, 85), mm(1, 5)
        width, shortest = mm(26, 40), mm(8, 12)
        around = math.pi * (diameter + thickness)
        overlap = chance.uniform(shortest + 0.5, width * (1 - shrink[0]) - 0.5)
        length = round((around + overlap) / (1 - shrink[0]), 1)
        return Measures(
            construction, length, mm(80, 140), shrink, bleed,
            diameter=diameter, thickness=thickness, on_top=choice,
        ), (width, shortest)  # fmt: skip
    if construction == "fold":
        strip, hem = mm(2, 8), chance.choice([0.0, mm(3, 8)])
        high = round(2 * (mm(80, 120) + hem) + strip, 1)
        return Measures(
            construction, mm(100, 150), high, shrink, bleed,
            seam=mm(4, 8), fold=strip, hem=hem, base=chance.choice([0.0, mm(8, 25)]),
        ), (0.0, 0.0)  # fmt: skip
    if construction == "sewn":
        wide, high = mm(90, 125), mm(85, 130)
        return Measures(construction, wide, high, shrink, bleed, gap=mm(2, 5)), (0.0, 0.0)
    wide = mm(90, 160)
    high = wide if choice == "round" else mm(80, 120)
    return Measures(construction, wide, high, shrink, bleed), (0.0, 0.0)


def _order(case: Case, chance: random.Random) -> None:
    case.names = chance.sample(NAMES, chance.choice([1, 1, 2, 3]))
    case.quantity = len(case.names) if len(case.names) > 1 else chance.randrange(1, 8)
    each = [Decimal(chance.randrange(400, 4000)) / 100 for _ in range(2)]
    case.steps = {1: max(each), chance.randrange(2, 7): min(each)}


def _photo(case: Case, chance: random.Random) -> None:
    """A size that is good, soft or coarse on the face, and a file of some kind."""
    slot, _ = case.slot(case.face)
    good, floor = case.limits
    least, most = chance.choice(
        [(floor * 0.75, floor * 0.97), (floor * 1.05, good * 0.97), (good * 1.03, good * 1.25)]
    )
    ppi = chance.uniform(least, most)
    longer = [1.0, chance.uniform(1.05, 1.5)]
    chance.shuffle(longer)
    case.photo_px = (
        round(slot[2] / INCH * ppi * case.zoom * longer[0]),
        round(slot[3] / INCH * ppi * case.zoom * longer[1]),
    )
    ending = chance.choice(["jpg", "jpg", "png", "tif", "webp"])
    case.orientation = 1 if ending == "png" else chance.randrange(1, 9)
    case.photo_name = f"photo.{ending}"


# Writing


def write(case: Case, folder: Path) -> list[chart.Mark]:
    """The demo's folder with one order of it made into this case; the marks of its photo."""
    copy_of_demo(folder, BASE)
    (folder / "orders" / BASE).rename(folder / "orders" / ORDER)
    _settings(case, folder / "shop.yaml")
    (folder / "blanks" / f"{BLANK}.yaml").write_text(_blank(case), "utf-8")
    (folder / "designs" / DESIGN).mkdir()
    (folder / "designs" / DESIGN / "design.md").write_text(_design(case), "utf-8")
    order = folder / "orders" / ORDER
    many = len(case.names) > 1
    words = "" if many else f"    words: {{name: {case.names[0]}}}\n"
    listed = "    list: guests.csv\n" if many else ""
    amount = "" if many else f"    quantity: {case.quantity}\n"
    if many:
        (order / "guests.csv").write_text("name\n" + "\n".join(case.names) + "\n", "utf-8")
    (order / "order.yaml").write_text(
        f"customer: {{name: {case.customer}, email: any@any.example}}\n"
        "due: 2026-12-18\nlines:\n"
        f"  - design: {DESIGN}\n    blank: {BLANK}\n    cloth: dyed\n{amount}"
        f"    photos: {{photo: {{file: photos/{case.photo_name}, focus: {list(case.focus)}, "
        f"zoom: {case.zoom}}}}}\n{words}{listed}",
        "utf-8",
    )
    chance = random.Random(f"marks {case.number}")
    upright, marks = chart.painted(*case.photo_px, chance)
    chart.save(upright, order / "photos" / case.photo_name, case.orientation)
    return marks


def _settings(case: Case, file: Path) -> None:
    text = file.read_text("utf-8")
    x, y = (f"{100 * s:.2f} %" for s in case.scale)
    for key, value in {
        "currency": case.currency,
        "printer": f"{{ppi: {case.ppi}, margin: 5 mm, scale: {{x: {x}, y: {y}}}}}",
        "limits": f"{{good_ppi: {case.limits[0]}, floor_ppi: {case.limits[1]}}}",
    }.items():
        text, times = re.subn(rf"^{key}:.*$", f"{key}: {value}", text, flags=re.MULTILINE)
        assert times == 1, key
    file.write_text(text, "utf-8")


def _blank(case: Case) -> str:
    m = case.measures
    lines = [
        "name: Any blank",
        f"construction: {m.construction}",
        f"height: {m.height} mm",
        f"bleed: {m.bleed} mm",
        "safe: 4 mm",
        f"shrink: {{x: {100 * m.shrink[0]:.1f} %, y: {100 * m.shrink[1]:.1f} %}}",
        f"cloth: {{finish: smooth, polyester: 100 %, colours: {{dyed: '{case.cloth}'}}}}",
        f"press: {{heat: {case.heat}, time: {case.seconds} s, pressure: medium, sides: 1, "
        "from: trial}",
        f"thickness: {m.thickness or 2} mm",
    ]
    if m.construction == "wrap":
        wide, shortest = case.closure
        lines += [
            f"length: {m.width} mm",
            f"vessel: {{diameter: {m.diameter} mm}}",
            f"closure: {{width: {wide} mm, shortest: {shortest} mm, on_top: {m.on_top}}}",
        ]
    elif case.shape == "round":
        lines = [line for line in lines if not line.startswith("height")]
        lines += ["shape: round", f"diameter: {m.width} mm"]
    else:
        lines.append(f"width: {m.width} mm")
    if m.construction == "fold":
        lines += [f"{key}: {getattr(m, key)} mm" for key in ("seam", "fold", "hem", "base")]
    if m.construction == "sewn":
        lines.append(f"gap: {m.gap} mm")
    if case.shape == "rounded":
        lines += ["shape: rounded", f"corner: {case.corner} mm"]
    return "\n".join(lines) + "\n"


def _design(case: Case) -> str:
    def share(box: Box) -> str:
        return "[" + ", ".join(f"{100 * part:g} %" for part in box) + "]"

    at = "fill" if case.box is None else share(case.box)
    photo = f"    - photo: {{slot: photo, at: {at}}}"
    tag = [
        f"    - colour: {{colour: '{case.patch}', at: {share(PATCH)}}}",
        f"    - words: {{slot: name, at: {share(NAME)}, font: Caladea, size: 6 mm, "
        "colour: '#101418'}",
    ]
    faces: dict[str, list[str]] = {face: [photo] for face in case.faces}
    faces.setdefault(case.tag_face, [])
    faces[case.tag_face] += tag
    drawn = "\n".join(f"  {name}:\n" + "\n".join(layers) for name, layers in faces.items())
    steps = ", ".join(f"{start}: {each}" for start, each in case.steps.items())
    return (
        f"---\ntitle: Any design\noccasions: [gift]\noffered: {{{BLANK}: {{{steps}}}}}\n"
        f"faces:\n{drawn}\n---\nInvented.\n"
    )
