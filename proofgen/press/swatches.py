"""A sheet of swatches to press on a blank: mirrored like any other, and the list to read it by."""

from __future__ import annotations

import io
import math
from dataclasses import dataclass, replace
from datetime import date

import pikepdf
from PIL import Image, ImageDraw, ImageFont

from proofgen.artwork.rasters import BARE, panel_pixels
from proofgen.colour import hex_to_rgb8
from proofgen.colour.chart import CHART, Patch
from proofgen.errors import StopError
from proofgen.geometry import Plan, Rect
from proofgen.model import Blank, Settings
from proofgen.press.furniture import furniture_pdf
from proofgen.press.pieces import PaperPiece, cloth_named, on_paper, setting_of
from proofgen.press.planning import furnished, plan_sheets
from proofgen.press.sheet import add_sheet, as_on_paper, finish, packed, picture_of
from proofgen.render import Theme, html_to_pdf
from proofgen.render.fonts import find_font
from proofgen.say import number
from proofgen.units import MM_PER_INCH

NAME = "swatches"
# All mm. Ours; the least side lies above the openings of common hand-held instruments (4 to 6 mm;
# from memory).
_MOST, _LEAST = 20.0, 6.5
_GAP = 1.5
_NUMBER = 2.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A patch on its panel as the cloth is seen: finished mm; row and place count from 1."""

    patch: Patch
    rect: Rect
    row: int
    place: int


def _area(blank: Blank, plan: Plan) -> tuple[str, Rect]:
    """The panel, and on its largest upright face where swatches may lie."""
    face = max(
        (face for face in plan.faces if face.turn == 0),
        key=lambda face: face.rect.width * face.rect.height,
    )
    area = face.rect.inset(plan.safe)
    if plan.shape == "round":
        area = area.inset(area.width * (1 - 1 / math.sqrt(2)) / 2)
    return face.panel, area


def _side(area: Rect, columns: int) -> float:
    rows = math.ceil(len(CHART) / columns)
    wide, high = area.width / columns - _GAP, area.height / rows - _GAP - _NUMBER
    return min(wide, high, _MOST)


def spots(blank: Blank) -> tuple[str, tuple[Spot, ...]]:
    """The panel the swatches lie on, and every swatch, row by row from the top left.

    StopError for a blank too small to hold them.
    """
    plan = blank.plan()
    panel, area = _area(blank, plan)
    columns = max(range(1, len(CHART) + 1), key=lambda n: _side(area, n))
    side = _side(area, columns)
    if side < _LEAST:
        raise StopError(
            f"the blank “{blank.name}” is too small for {len(CHART)} swatches of "
            f"{number(_LEAST)} mm",
            "press them on a larger blank of the same cloth",
            blank.place,
        )
    rows = math.ceil(len(CHART) / columns)
    across, down = side + _GAP, side + _GAP + _NUMBER
    left = area.centre_x - columns * across / 2 + _GAP / 2
    top = area.centre_y - rows * down / 2 + _NUMBER + _GAP / 2
    return panel, tuple(
        Spot(
            patch=patch,
            rect=Rect(left + at % columns * across, top + at // columns * down, side, side),
            row=at // columns + 1,
            place=at % columns + 1,
        )
        for at, patch in enumerate(CHART)
    )


def chart_picture(blank: Blank, ppi: float) -> Image.Image:
    """The swatches with their numbers, as the cloth is seen after pressing; not mirrored.

    A raster of the panel like those of orders: RGB, panel and bleed at `ppi`, white = bare cloth.
    """
    panel, laid = spots(blank)
    plan = blank.plan()
    scale = ppi / MM_PER_INCH
    picture = Image.new("RGB", panel_pixels(plan, panel, ppi), BARE)
    pen = ImageDraw.Draw(picture)
    file = find_font("Manrope Bold")
    height = max(_NUMBER * scale, 4)
    font = ImageFont.truetype(str(file), height) if file else ImageFont.load_default(height)
    for spot in laid:
        left, top, right, bottom = spot_px(spot, plan.bleed, ppi)
        if spot.patch.colour == "#ffffff":
            pen.rectangle((left, top, right - 1, bottom - 1), outline=(128, 128, 128))
        else:
            fill = hex_to_rgb8(spot.patch.colour)
            pen.rectangle((left, top, right - 1, bottom - 1), fill=fill)
        above = top - round(0.3 * scale)
        pen.text((left, above), str(spot.patch.number), fill=(0, 0, 0), font=font, anchor="lb")
    return picture


def spot_px(spot: Spot, bleed: float, ppi: float) -> tuple[int, int, int, int]:
    """A patch's left, top, right and bottom in px of the upright raster (right, bottom outside)."""
    scale = ppi / MM_PER_INCH
    rect = spot.rect.moved(bleed, bleed)
    return (
        round(rect.x * scale),
        round(rect.y * scale),
        round(rect.right * scale),
        round(rect.bottom * scale),
    )


def swatch_pdf(blank: Blank, settings: Settings, theme: Theme, *, cloth: str, made: date) -> bytes:
    """Two pages: the sheet to press, and the list to read it by; the same bytes for the same input.

    `cloth` is the colour's name, or '' for any. Errors: StopError for a blank without heat and
    time, or too small or large; ShopError without a paper; MachineError where no PDF can be made.
    """
    panel, laid = spots(blank)
    setting = setting_of(blank)
    chart = chart_picture(blank, settings.printer.ppi)
    piece = PaperPiece(
        order=NAME,
        line=1,
        piece=1,
        panel=panel,
        raster=NAME,
        blank_name=blank.name,
        cloth=cloth_named(cloth, blank),
        words=f"{blank.name}, {cloth}" if cloth else blank.name,
        setting=setting,
        size=on_paper(blank, blank.plan(), panel, settings),
    )
    about = f"Made {theme.date(made, long=False)}, to be read, not sold"
    plan = replace(plan_sheets([piece], settings)[0], numbers=((NAME, 1, 1),))
    plan = furnished(plan, about, settings)
    turned = plan.pieces[0].turned
    drawn = furniture_pdf([plan], theme)
    listed = _list(blank, laid, theme, setting.in_words, cloth)
    with (
        pikepdf.new() as pdf,
        pikepdf.open(io.BytesIO(drawn)) as furniture,
        pikepdf.open(io.BytesIO(listed)) as more,
    ):
        picture = picture_of(pdf, packed(as_on_paper(chart, turned)))
        add_sheet(pdf, plan, furniture.pages[0], lambda _: picture)
        pdf.pages.extend(more.pages)
        finish(pdf, f"Swatches for {blank.name}")
        out = io.BytesIO()
        pdf.save(out, deterministic_id=True)
        return out.getvalue()


def _list(blank: Blank, laid: tuple[Spot, ...], theme: Theme, setting: str, cloth: str) -> bytes:
    """The page to write on: every swatch in the order the eye meets it on the pressed cloth."""
    html = theme.render(
        "swatches.html",
        medium="sheet",
        styles=("press",),
        title=blank.name,
        blank=blank.id,
        cloth=cloth,
        setting=setting,
        source=blank.press.source if blank.press else "",
        spots=laid,
        rows=laid[-1].row,
    )
    return html_to_pdf(html, {}, page_title=f"Swatches for {blank.name}: the list")
