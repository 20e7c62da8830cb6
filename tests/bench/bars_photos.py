"""Bars of photographs and pictures: press rasters, measuring, PNG, cloth, the thing in the hand."""

from __future__ import annotations

import io
import tempfile
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from pathlib import Path
from statistics import median

import numpy as np
from PIL import Image

from proofgen.artwork.painting import paint
from proofgen.artwork.rasters import raster_png
from proofgen.colour.basis import cloth_matrix
from proofgen.colour.spaces import hex_to_rgb8, linear_to_srgb, srgb_to_linear
from proofgen.geometry import Size, cover_crop
from proofgen.model import ColourLayer
from proofgen.photo.measures import measure_picture
from proofgen.photo.opening import Pictures
from proofgen.store import NoStore, Store
from proofgen.views.hand import maps
from proofgen.views.ink import on_cloth
from proofgen.views.inround import round_views
from tests.artwork.scenes import CAN_WRAP, laid
from tests.bench import floor_pictures as floors
from tests.bench import order
from tests.bench.bars import CAMERA, Bar, Scale, Took, _status, camera_photo, held, in_turn, raster
from tests.materials import MATERIALS

_CLOTH = "#6fb7e9"
_LARGE = (8000, 6000)  # px


def _part(path: Path, proved: bool) -> int:
    """A press raster from a photograph; the most memory of the process that opened it."""
    with Pictures(NoStore()) as pictures:
        facts = pictures.inspect(path, decode=proved)
        pictures.open_part(facts, order._RASTER, {"box": (0, 0.2, 1, 0.8), "size": order._RASTER})
        process = pictures._worker._process
        return _status("VmHWM", str(process.pid)) if process else 0


def press_raster(data: Callable[[Scale], bytes], scale: Scale, careless: bool) -> Took:
    """`order.rasters`; a careless one starts a process for each photo and decodes it twice."""
    photo = data(scale)
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch)
        floor, ours = order.rasters(photo, folder, scale.rounds)
        path = folder / "0.jpg"
        memory = _part(path, False)
        if not careless:
            return Took(ours=median(ours), floor=median(floor), memory=memory)

        def twice() -> None:
            for _ in range(2):
                _part(path, True)

        took = in_turn({"floor": partial(floors.decode, path), "ours": twice}, scale.rounds)
    return Took(**took)


def _twelve(name: str, scale: Scale) -> bytes:
    return camera_photo(scale, name).read_bytes()


def _forty_eight(scale: Scale) -> bytes:
    """Four camera photographs side by side, baseline: nothing larger comes with a package."""
    return order.tiled(CAMERA, (_LARGE[0] // scale.shrink, _LARGE[1] // scale.shrink))


def measuring(scale: Scale, careless: bool) -> Took:
    """A print round a can; the careless variant decodes and measures for each of two faces."""
    path = camera_photo(scale)
    with Image.open(path) as photo:
        whole = photo.convert("RGB")
    around = cover_crop(Size(*whole.size), Size(252, 112), (0.5, 0.5), 1.0)

    def ours() -> None:
        measure_picture(whole, around, (2976, 1323))

    def twice() -> None:
        for _ in range(2):
            floors.decode(path)
            ours()

    works = {"floor": partial(floors.decode, path), "ours": twice if careless else ours}
    return Took(**in_turn(works, scale.rounds), memory=held(works["ours"]))


def png_time(scale: Scale, careless: bool) -> Took:
    """The careless variant asks Pillow to try hard."""
    picture = raster(scale)

    def hard() -> None:
        picture.save(io.BytesIO(), "PNG", optimize=True)

    ours = hard if careless else partial(raster_png, picture)
    took = in_turn({"floor": partial(floors.default_png, picture), "ours": ours}, scale.rounds)
    return Took(**took, memory=held(ours))


def png_bytes(scale: Scale, careless: bool) -> Took:
    """The careless variant deflates as little as it may."""
    picture = raster(scale)
    made = raster_png(picture)
    if careless:
        picture.save(file := io.BytesIO(), "PNG", compress_level=0)
        made = file.getvalue()
    return Took(ours=len(made), floor=len(floors.default_png(picture)), of="bytes")


def cloth(scale: Scale, careless: bool) -> Took:
    """The careless variant takes every pixel's light to the power, without tables or blocks."""
    picture = raster(scale)
    table = floors.cloth_table(hex_to_rgb8(_CLOTH))

    def plain() -> None:
        seen = srgb_to_linear(np.asarray(picture) / 255) @ cloth_matrix(_CLOTH).T
        Image.fromarray(np.rint(linear_to_srgb(np.clip(seen, 0, 1)) * 255).astype(np.uint8))

    ours = plain if careless else partial(on_cloth, picture, _CLOTH)
    took = in_turn({"floor": partial(floors.on_cloth, picture, table), "ours": ours}, scale.rounds)
    return Took(**took, memory=held(ours))


def views(scale: Scale, careless: bool) -> Took:
    """Four views at 1,280 px of a sleeve on kept maps; the careless variant keeps none."""
    path = camera_photo(scale)
    blank = replace(CAN_WRAP, cloth=replace(CAN_WRAP.cloth, finish="linen-look"))
    rasters = paint(laid(blank, {"round": (ColourLayer(colour="#6f9fb7"),)}), 300, MATERIALS)
    store = NoStore() if careless else Store(scale.home / "maps")

    def ours() -> None:
        maps._round.cache_clear()  # each order is a run of its own
        round_views(rasters, 1280 // scale.shrink, store=store)

    took = in_turn({"floor": partial(floors.decode, path), "ours": ours}, scale.rounds)
    return Took(**took, memory=held(ours))


_TWICE = "a process for each photo, decoded twice"
BARS = (
    Bar(
        key="raster-12",
        row=f"press raster of 12 megapixels, {CAMERA[0]}",
        floor="D: full decode of the same",
        limit=3.8,
        measure=partial(press_raster, partial(_twelve, CAMERA[0])),
        careless=_TWICE,
    ),
    Bar(
        key="raster-12-p3",
        row=f"the same, Display P3, {CAMERA[1]}",
        floor="D, which leaves the colours as they are",
        limit=3.8,
        measure=partial(press_raster, partial(_twelve, CAMERA[1])),
        careless=_TWICE,
    ),
    Bar(
        key="raster-48",
        row="press raster of 48 megapixels",
        floor="D: full decode of the same (four camera photographs side by side)",
        limit=1.6,
        measure=partial(press_raster, _forty_eight),
        careless=_TWICE,
    ),
    Bar(
        key="measuring",
        row="measuring a print round a can, 12 megapixels",
        floor="D",
        limit=2.0,
        measure=measuring,
        careless="decoded and measured for each face",
    ),
    Bar(
        key="png-time",
        row="PNG of a press raster, time",
        floor="Pillow’s default",
        limit=0.25,
        measure=png_time,
        careless="Pillow’s optimize",
    ),
    Bar(
        key="png-bytes",
        row="PNG of a press raster, bytes",
        floor="Pillow’s default",
        limit=1.12,
        measure=png_bytes,
        careless="not deflated",
    ),
    Bar(
        key="cloth",
        row="ink on coloured cloth, a press raster",
        floor="a table of 33 steps, Pillow’s",
        limit=0.8,
        measure=cloth,
        careless="powers for every pixel",
    ),
    Bar(
        key="views",
        row="four views at 1,280 px",
        floor="D",
        limit=5.0,
        measure=views,
        careless="no map is kept",
    ),
)
