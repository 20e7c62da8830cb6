"""The one mirror, and the press sheet as a PDF: signed pixels at exact size, boxes, furniture."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import pikepdf
from PIL import Image, ImageOps

from proofgen.artwork.rasters import deflated_rows
from proofgen.colour.profile import srgb_profile
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


def add_sheet(
    pdf: pikepdf.Pdf,
    sheet: SheetPlan,
    drawing: pikepdf.Page,
    picture: Callable[[InkKey], pikepdf.Stream],
) -> None:
    """Add one sheet as a page. `drawing` is the furniture, a page of the same size; `picture` gives
    each picture as a stream of this PDF, so that one that is used more often is stored once."""
    names: dict[InkKey, str] = {}
    resources = pikepdf.Dictionary()
    steps = []
    for on in sheet.pieces:
        if on.ink_key not in names:
            names[on.ink_key] = f"/Ink{len(names) + 1}"
            resources[names[on.ink_key]] = picture(on.ink_key)
        steps.append(_draw(names[on.ink_key], on.raster, sheet.size.height))
    _add_page(pdf, sheet, resources, steps, [drawing])


def add_drawn(pdf: pikepdf.Pdf, sheet: SheetPlan, drawings: Sequence[pikepdf.Page]) -> None:
    """Add one sheet whose ink is drawn: pages of its size, laid over each other in their order."""
    _add_page(pdf, sheet, pikepdf.Dictionary(), [], drawings)


def _add_page(
    pdf: pikepdf.Pdf,
    sheet: SheetPlan,
    resources: pikepdf.Dictionary,
    steps: list[str],
    drawings: Sequence[pikepdf.Page],
) -> None:
    pdf.add_blank_page(page_size=(mm_to_pt(sheet.size.width), mm_to_pt(sheet.size.height)))
    page = pdf.pages[-1]
    for number, drawing in enumerate(drawings, 1):
        resources[f"/Drawing{number}"] = pdf.copy_foreign(drawing.as_form_xobject())
        steps.append(f"q /Drawing{number} Do Q")
    page.Resources = pikepdf.Dictionary(XObject=resources)
    page.Contents = pdf.make_stream("\n".join(steps).encode("ascii"))
    _boxes(page, sheet)


def finish(pdf: pikepdf.Pdf, title: str) -> None:
    """Title, and what the colours mean: sRGB as output intent (ISO 32000-1, 14.11.5). The pictures
    themselves stay device RGB, so that no reader touches their numbers."""
    profile = pikepdf.Stream(pdf, srgb_profile())
    profile.N = 3
    intent = pikepdf.Dictionary(
        Type=pikepdf.Name.OutputIntent,
        S=pikepdf.Name.GTS_PDFA1,
        OutputConditionIdentifier="sRGB IEC61966-2.1",
        Info="sRGB IEC61966-2.1",
        RegistryName="http://www.color.org",
        DestOutputProfile=pdf.make_indirect(profile),
    )
    pdf.Root.OutputIntents = pikepdf.Array([pdf.make_indirect(intent)])
    pdf.docinfo["/Title"] = title


def picture_of(pdf: pikepdf.Pdf, ink: Ink) -> pikepdf.Stream:
    """A picture as an object of a PDF."""
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
    return pdf.make_indirect(stream)


def _draw(name: str, rect: Rect, page_height: float) -> str:
    """Paint a picture over a rectangle (page mm, from the top left)."""
    across, down = mm_to_pt(rect.width), mm_to_pt(rect.height)
    x, y = mm_to_pt(rect.x), mm_to_pt(page_height - rect.bottom)
    return f"q {across:.5f} 0 0 {down:.5f} {x:.5f} {y:.5f} cm {name} Do Q"


def _boxes(page: pikepdf.Page, sheet: SheetPlan) -> None:
    """MediaBox the paper; TrimBox the blank, or the smallest box round all; BleedBox their ink."""
    page.obj.MediaBox = _box(sheet.size.rect, sheet)
    if not sheet.pieces:  # a page of measures
        return
    page.obj.TrimBox = _box(around(on.blank for on in sheet.pieces), sheet)
    page.obj.BleedBox = _box(around(on.ink for on in sheet.pieces), sheet)


def _box(rect: Rect, sheet: SheetPlan) -> pikepdf.Array:
    high = sheet.size.height
    edges = (rect.x, high - rect.bottom, rect.right, high - rect.y)
    return pikepdf.Array([round(mm_to_pt(edge), 4) for edge in edges])
