"""An order as a picture for the maker's own pages, made once and kept beside them."""

from __future__ import annotations

import io
import re
from collections.abc import Iterable, Iterator
from contextlib import suppress
from functools import partial
from operator import itemgetter

from PIL import Image

from proofgen import store
from proofgen.artwork.painting import paint
from proofgen.artwork.rasters import Rasters, kept_rasters, read_raster
from proofgen.errors import ProofgenError
from proofgen.model import Variant
from proofgen.pipeline.preflight import Prepared, prepare
from proofgen.pipeline.proofs import kept_pictures
from proofgen.reports import RoomPicture
from proofgen.signoff import Edition
from proofgen.views.inround import round_views
from proofgen.views.pictures import fitted, jpeg
from proofgen.workshop import Workshop

ROOMS = "orders"  # of the workroom: a page for each order, its pictures, what they were made from
_WIDTH = 640  # px: twice what the page shows, for screens of two pixels to one
_QUALITY = 82
_MOST = 6  # lines of an order that are shown; the page says when there are more
_PAINTED_PPI = 120.0  # what is painted for a picture alone needs no more
_KIND = "workroom picture/2"  # raise when the picture changes
_VERSION = _KIND.encode()


def pictures_of(
    workshop: Workshop, name: str, prepared: Prepared | None, there: Iterable[str]
) -> list[RoomPicture]:
    """The pictures of an order's lines, one for each, made now if they are not among the files
    `there`: of its latest proof, as it was kept, else of what its folder says; none where neither
    can be drawn. Errors: MachineError of the one writer."""
    heads = workshop.records.heads(name)
    shown = heads[-1]["fingerprint"] if heads else prepared.digest if prepared else ""
    if not shown:
        return []
    key = store.digest(_VERSION, shown.encode(), workshop.theme.ground.encode())[:16]
    files = sorted(file for file in there if file.startswith(f"{name}.{key}."))
    made: list[tuple[int, bytes]] = []
    if not files:
        with suppress(ProofgenError):
            made = list(_drawn(workshop, name, prepared))
    for line, content in made:
        with Image.open(io.BytesIO(content)) as image:  # our own
            files.append(f"{name}.{key}.{line}-{image.width}x{image.height}.jpg")
        store.write(workshop.workroom / ROOMS / files[-1], content)
    return sorted(map(_told, files), key=itemgetter("line"))


def _told(file: str) -> RoomPicture:
    """What a picture's file name tells."""
    found = re.fullmatch(r".+\.(\d+)-(\d+)x(\d+)\.jpg", file)
    line, width, height = (int(part) for part in found.groups()) if found else (0, 0, 0)
    return {"line": line, "src": file, "width_px": width, "height_px": height}


def _drawn(workshop: Workshop, name: str, prepared: Prepared | None) -> Iterator[tuple[int, bytes]]:
    """Number and picture (JPEG) of each line's first look. Errors: as painting and records."""
    edition = workshop.records.latest(name)
    if prepared is None and name in workshop.shop.orders:
        with suppress(ProofgenError):
            prepared = prepare(workshop, workshop.shop.orders[name])
    if edition is None:
        yield from without_proof(workshop, prepared) if prepared else ()
    elif prepared and workshop.records.heads(name)[-1]["document"] == prepared.digest:
        every = kept_rasters(prepared.variants, prepared.ppi, kept_pictures(workshop, edition))
        yield from in_the_round(workshop, edition, prepared.variants, every)
    else:  # its layout is no more, but what was shown is kept as it lies flat
        for line, raster in _flat(edition):
            flat = fitted(read_raster(workshop.records.raster(edition, raster)), _WIDTH)
            yield line, jpeg(flat, _QUALITY)


def without_proof(workshop: Workshop, prepared: Prepared) -> Iterator[tuple[int, bytes]]:
    """The same of an order that has no proof yet, as its folder says; remembered."""
    ppi = min(_PAINTED_PPI, workshop.shop.settings.printer.ppi)

    def draw(variant: Variant) -> bytes:
        return _in_round(workshop, paint(variant.layout, ppi, workshop.materials))

    for variant in _firsts(prepared.variants):
        key = f"{prepared.digest} {workshop.theme.ground} {variant.line}"
        made = workshop.store.remember(_KIND, key, partial(draw, variant), bytes, bytes)
        yield variant.line, made


def in_the_round(
    workshop: Workshop, edition: Edition, variants: list[Variant], every: list[Rasters]
) -> Iterator[tuple[int, bytes]]:
    """The same of a proof, from the rasters of its variants; remembered."""
    looks = {id(v): rasters for v, rasters in zip(variants, every, strict=True)}
    for variant in _firsts(variants):
        draw = partial(_in_round, workshop, looks[id(variant)])
        key = f"{edition.fingerprint} {workshop.theme.ground} {variant.line}"
        yield variant.line, workshop.store.remember(_KIND, key, draw, bytes, bytes)


def _firsts(variants: list[Variant]) -> list[Variant]:
    first: dict[int, Variant] = {}
    for variant in variants:
        first.setdefault(variant.line, variant)
    return list(first.values())[:_MOST]


def _flat(edition: Edition) -> list[tuple[int, str]]:
    """The first raster of each line, 'line1-a-front.png', by the line's number."""
    first: dict[int, str] = {}
    for name in edition.rasters:
        found = re.match(r"line(\d+)-", name)
        if found:
            first.setdefault(int(found[1]), name)
    return list(first.items())[:_MOST]


def _in_round(workshop: Workshop, rasters: Rasters) -> bytes:
    """The finished thing from its front."""
    look = workshop.theme.look
    (front,) = round_views(
        rasters, _WIDTH, background=look.plate, mood=look.mood, most=1, store=workshop.store
    )
    return jpeg(front.image, _QUALITY)
