"""Invented blanks, orders and rasters for the press: small, and odd enough that a flip shows."""

from __future__ import annotations

import io
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from PIL import Image

from proofgen import press
from proofgen.artwork.rasters import pixel_digest, raster_name, raster_png, read_raster
from proofgen.model import (
    Blank,
    Closure,
    Cloth,
    Customer,
    Finding,
    Layout,
    Line,
    Order,
    Paper,
    PlacedColour,
    PressSetting,
    Printer,
    Settings,
    Shop,
    Variant,
)
from proofgen.press import Job, KeptSheet, PressDocument
from proofgen.render import Theme
from proofgen.signoff import Signed
from proofgen.units import f_to_c, pixels

A4 = Paper(name="A4", width_mm=210, height_mm=297)
A3 = Paper(name="A3", width_mm=297, height_mm=420)
ROLL = Paper(name="roll", width_mm=610, height_mm=None)
MADE = datetime(2026, 11, 25, 14, 3, tzinfo=UTC)
PPI = 30.0


def make_blank(construction: str, **changes: object) -> Blank:
    """A blank of a construction; `changes` replace fields."""
    fields: dict[str, object] = {
        "id": f"test-{construction}",
        "name": f"Test {construction}",
        "construction": construction,
        "bleed_mm": 6.0,
        "safe_mm": 5.0,
        "cloth": Cloth(finish="foam", colours={"white": "#ffffff"}, polyester=1.0),
        "press": PressSetting(heat_c=f_to_c(385), time_s=50.0, preheat_s=10.0),
        "width_mm": 100.0,
        "height_mm": 105.0,
    }
    if construction == "wrap":
        fields |= {
            "width_mm": 240.0,
            "height_mm": 100.0,
            "thickness_mm": 3.0,
            "vessel_mm": 66.1,
            "closure": Closure(width_mm=30, shortest_mm=10, on_top="right"),
            "press": PressSetting(heat_c=f_to_c(400), time_s=60.0, preheat_s=10.0),
        }
    elif construction == "fold":
        fields |= {"width_mm": 120.0, "height_mm": 214.0, "seam_mm": 6.0, "fold_mm": 4.0}
    elif construction == "sewn":
        fields |= {
            "gap_mm": 4.0,
            "press": PressSetting(heat_c=f_to_c(385), time_s=50.0, preheat_s=10.0, sides=2),
        }
    return Blank(**(fields | changes))  # type: ignore[arg-type]


def make_layout(blank: Blank, faces: tuple[str, ...] = ()) -> Layout:
    """A layout with one colour over each face (of a wrap, over the cloth)."""
    plan = blank.plan()
    chosen = faces or (("round",) if blank.construction == "wrap" else tuple(plan.canvases))
    return Layout(
        blank=blank,
        plan=plan,
        cloth="white",
        cloth_hex="#ffffff",
        faces={
            name: (
                PlacedColour(
                    rect=plan.canvases[name].fill,
                    face=name,
                    fill=True,
                    colour="#336699",
                ),
            )
            for name in chosen
            if name != "round" or blank.construction == "wrap"
        },
    )


def odd_picture(size: tuple[int, int], shade: int) -> Image.Image:
    """Every pixel tells its column (red) and row (green); `shade` (blue) tells pictures apart."""
    wide, high = size
    across = Image.frombytes(
        "L", (wide, 1), bytes(x * 255 // max(wide - 1, 1) for x in range(wide))
    )
    down = Image.frombytes("L", (1, high), bytes(y * 255 // max(high - 1, 1) for y in range(high)))
    bands = (across.resize(size), down.resize(size), Image.new("L", size, shade % 256))
    return Image.merge("RGB", bands)


def panel_px(layout: Layout, panel: str, ppi: float) -> tuple[int, int]:
    size, bleed = layout.plan.panels[panel], layout.plan.bleed
    return pixels(size.width + 2 * bleed, ppi), pixels(size.height + 2 * bleed, ppi)


def make_job(
    order_id: str,
    *groups: tuple[Layout, list[dict[str, str]]],
    ppi: float = PPI,
    accepted: tuple[Finding, ...] = (),
) -> Job:
    """A signed order: one line per group, whose list has the words of each piece in turn."""
    variants, rasters, lines, number = [], {}, [], 0
    for line, (layout, pieces) in enumerate(groups, 1):
        alike: dict[tuple[str, ...], list[int]] = {}
        for words in pieces:
            number += 1
            alike.setdefault(tuple(words.values()), []).append(number)
        for index, (texts, numbers) in enumerate(alike.items()):
            words = dict(zip(pieces[0], texts, strict=True))
            variants.append(Variant(line=line, pieces=tuple(numbers), words=words, layout=layout))
            for panel in layout.plan.panels:
                picture = odd_picture(panel_px(layout, panel, ppi), 40 * line + index)
                name = raster_name(line, index, panel)
                rasters[name] = raster_png(picture)
        lines.append(
            Line(
                number=line,
                design="plain",
                blank=layout.blank.id,
                cloth="white",
                quantity=len(pieces),
            )
        )
    digests = {n: pixel_digest(read_raster(b)) for n, b in rasters.items()}
    return Job(
        signed=Signed(order=order_id, edition=2, fingerprint="0" * 64, rasters=digests),
        order=Order(
            id=order_id,
            customer=Customer(name="Odalys Fenn"),
            lines=tuple(lines),
            due=date(2026, 12, 12),
        ),
        variants=variants,
        rasters=rasters,
        accepted=accepted,
    )


def make_shop(**changes: object) -> Shop:
    fields: dict[str, object] = {
        "name": "Tern Row Press Room",
        "contact": "hello@ternrow.example",
        "papers": (A4, A3),
        "printer": Printer(ppi=PPI),
    }
    settings = Settings(**(fields | changes))  # type: ignore[arg-type]
    return Shop(folder=Path("shop"), settings=settings, blanks={}, designs={}, orders={})


@dataclass(frozen=True)
class Made:
    """A run with the bytes of all its files."""

    files: dict[str, bytes]
    document: PressDocument
    numbered: Mapping[str, Sequence[KeptSheet]]


def make(jobs: Sequence[Job], shop: Shop, theme: Theme, *, made: datetime, **asked: bool) -> Made:
    """The run, every file saved and read back."""
    run = press.make(jobs, shop, theme, made=made, **asked)
    files = {}
    for name, save in run.files.items():
        save(stream := io.BytesIO())
        files[name] = stream.getvalue()
    return Made(files, run.document, run.numbered)


def names(*given: str) -> list[dict[str, str]]:
    return [{"name": name} for name in given]


@pytest.fixture(scope="session")
def theme() -> Theme:
    return Theme("quay")


@pytest.fixture
def blank() -> Callable[..., Blank]:
    return make_blank
