"""The one mirror, and the press sheet as a PDF: signed pixels at exact size, boxes, furniture."""

from __future__ import annotations

import io
from collections.abc import Mapping
from dataclasses import dataclass

import pikepdf
from PIL import Image, ImageOps

from proofgen.artwork.rasters import deflated_rows
from proofgen.geometry import Rect, around
from proofgen.press.pieces import InkKey
from proofgen.press.planning import SheetPlan
from proofgen.units import mm_to_pt


@dataclass(frozen=True, slots=True)
class Ink:
    """A picture's pixels as a sheet carries them: rows filtered and deflated; size in px."""

    data: bytes
    width: int
    height: int


def mirrored(image: Image.Image) -> Image.Image:
    """The image with left and right changed over. The only mirror of a press raster."""
    return ImageOps.mirror(image)


def as_on_paper(image: Image.Image, turned: bool) -> Image.Image:
    """An upright raster as it lies on the paper: mirrored, then turned 90° clockwise if wanted."""
    flat = mirrored(image)
    return flat.transpose(Image.Transpose.ROTATE_270) if turned else flat


def packed(image: Image.Image) -> Ink:
    """An RGB image's pixels, deflated without loss (PNG row filters: ISO 32000-1, 7.4.4.4)."""
    return Ink(deflated_rows(image), image.width, image.height)


def sheet_pdf(
    sheet: SheetPlan,
    inks: Mapping[InkKey, Ink],
    drawing: pikepdf.Page,
    title: str,
) -> bytes:
    """One sheet as a PDF of one page, the same bytes for the same input.

    `drawing` is the furniture, a page of the same size. A picture that lies on the sheet more than
    once is stored once.
    """
    with pikepdf.new() as pdf:
        pdf.add_blank_page(page_size=(mm_to_pt(sheet.size.width), mm_to_pt(sheet.size.height)))
        page = pdf.pages[0]
        names: dict[InkKey, str] = {}
        resources = pikepdf.Dictionary()
        steps = []
        for on in sheet.pieces:
            if on.ink_key not in names:
                names[on.ink_key] = f"/Ink{len(names) + 1}"
                resources[names[on.ink_key]] = _picture(pdf, inks[on.ink_key])
            steps.append(_draw(names[on.ink_key], on.raster, sheet.size.height))
        resources["/Drawing"] = pdf.copy_foreign(drawing.as_form_xobject())
        steps.append("q /Drawing Do Q")
        page.Resources = pikepdf.Dictionary(XObject=resources)
        page.Contents = pdf.make_stream("\n".join(steps).encode("ascii"))
        _boxes(page, sheet)
        pdf.docinfo["/Title"] = title
        out = io.BytesIO()
        pdf.save(out, deterministic_id=True, linearize=False)
        return out.getvalue()


def _picture(pdf: pikepdf.Pdf, ink: Ink) -> pikepdf.Stream:
    stream = pikepdf.Stream(pdf, b"")
    stream.write(
        ink.data,
        filter=pikepdf.Name.FlateDecode,
        decode_parms=pikepdf.Dictionary(
            Predictor=15, Colors=3, BitsPerComponent=8, Columns=ink.width
        ),
    )
    stream.Type = pikepdf.Name.XObject
    stream.Subtype = pikepdf.Name.Image
    stream.Width, stream.Height = ink.width, ink.height
    stream.ColorSpace = pikepdf.Name.DeviceRGB
    stream.BitsPerComponent = 8
    return stream


def _draw(name: str, rect: Rect, page_height: float) -> str:
    """Paint a picture over a rectangle (page mm, from the top left)."""
    across, down = mm_to_pt(rect.width), mm_to_pt(rect.height)
    x, y = mm_to_pt(rect.x), mm_to_pt(page_height - rect.bottom)
    return f"q {across:.5f} 0 0 {down:.5f} {x:.5f} {y:.5f} cm {name} Do Q"


def _boxes(page: pikepdf.Page, sheet: SheetPlan) -> None:
    """MediaBox the paper; TrimBox the blank, or the smallest box round all; BleedBox their ink."""
    page.obj.MediaBox = _box(sheet.size.rect, sheet)
    page.obj.TrimBox = _box(around(on.blank for on in sheet.pieces), sheet)
    page.obj.BleedBox = _box(around(on.ink for on in sheet.pieces), sheet)


def _box(rect: Rect, sheet: SheetPlan) -> pikepdf.Array:
    high = sheet.size.height
    edges = (rect.x, high - rect.bottom, rect.right, high - rect.y)
    return pikepdf.Array([round(mm_to_pt(edge), 4) for edge in edges])
