"""The one mirror, and the press sheet as a PDF: signed pixels at exact size, boxes, furniture."""

from __future__ import annotations

import io
import zlib
from collections.abc import Mapping, Sequence

import numpy as np
import pikepdf
from PIL import Image, ImageOps

from proofgen.geometry import Rect
from proofgen.press.pieces import OnPage
from proofgen.press.planning import SheetPlan, round_all
from proofgen.units import mm_to_pt

# (order, raster name, turned) of one picture on paper.
InkKey = tuple[str, str, bool]


def mirrored(image: Image.Image) -> Image.Image:
    """The image with left and right changed over. The only mirror of a press raster."""
    return ImageOps.mirror(image)


def as_on_paper(image: Image.Image, turned: bool) -> Image.Image:
    """An upright raster as it lies on the paper: mirrored, then turned 90° clockwise if wanted."""
    flat = mirrored(image)
    return flat.transpose(Image.Transpose.ROTATE_270) if turned else flat


def packed(image: Image.Image) -> tuple[bytes, int, int]:
    """An RGB image's pixels, deflated without loss, with width and height in px.

    Each row is stored as its difference to the row above (PNG filter type 2, ISO 32000-1,
    7.4.4.4): a photo then deflates quickly and small at the lowest level.
    """
    rows = np.asarray(image.convert("RGB"), dtype=np.uint8)
    high, wide, _ = rows.shape
    flat = rows.reshape(high, wide * 3)
    lines = np.empty((high, wide * 3 + 1), dtype=np.uint8)
    lines[:, 0] = 2
    lines[:, 1:] = flat
    lines[1:, 1:] -= flat[:-1]
    return zlib.compress(lines.tobytes(), 1), wide, high


def sheet_pdf(
    sheet: SheetPlan,
    inks: Mapping[InkKey, tuple[bytes, int, int]],
    drawing: pikepdf.Page,
    title: str,
) -> bytes:
    """One sheet as a PDF of one page, the same bytes for the same input.

    `inks` are packed pictures by (order, raster name, turned); `drawing` is the furniture, a page
    of the same size. A picture that lies on the sheet more than once is stored once.
    """
    with pikepdf.new() as pdf:
        pdf.add_blank_page(page_size=(mm_to_pt(sheet.size.width), mm_to_pt(sheet.size.height)))
        page = pdf.pages[0]
        names: dict[InkKey, str] = {}
        resources = pikepdf.Dictionary()
        steps = []
        for on in sheet.pieces:
            key = (on.piece.order, on.piece.raster, on.turned)
            if key not in names:
                names[key] = f"/Ink{len(names) + 1}"
                resources[names[key]] = _picture(pdf, inks[key])
            steps.append(_draw(names[key], on.raster, sheet.size.height))
        resources["/Drawing"] = pdf.copy_foreign(drawing.as_form_xobject())
        steps.append("q /Drawing Do Q")
        page.Resources = pikepdf.Dictionary(XObject=resources)
        page.Contents = pdf.make_stream("\n".join(steps).encode("ascii"))
        _boxes(page, sheet)
        pdf.docinfo["/Title"] = title
        out = io.BytesIO()
        pdf.save(out, deterministic_id=True, linearize=False)  # in memory
        return out.getvalue()


def _picture(pdf: pikepdf.Pdf, ink: tuple[bytes, int, int]) -> pikepdf.Stream:
    data, wide, high = ink
    stream = pikepdf.Stream(pdf, b"")
    stream.write(
        data,
        filter=pikepdf.Name.FlateDecode,
        decode_parms=pikepdf.Dictionary(Predictor=15, Colors=3, BitsPerComponent=8, Columns=wide),
    )
    stream.Type = pikepdf.Name.XObject
    stream.Subtype = pikepdf.Name.Image
    stream.Width, stream.Height = wide, high
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
    whole = Rect(0, 0, sheet.size.width, sheet.size.height)
    page.obj.MediaBox = _box(whole, sheet)
    page.obj.TrimBox = _box(_round(sheet.pieces, "blank"), sheet)
    page.obj.BleedBox = _box(_round(sheet.pieces, "ink"), sheet)


def _round(pieces: Sequence[OnPage], what: str) -> Rect:
    return round_all([getattr(on, what) for on in pieces])


def _box(rect: Rect, sheet: SheetPlan) -> pikepdf.Array:
    high = sheet.size.height
    edges = (rect.x, high - rect.bottom, rect.right, high - rect.y)
    return pikepdf.Array([round(mm_to_pt(edge), 4) for edge in edges])
