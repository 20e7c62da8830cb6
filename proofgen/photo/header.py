"""A photo's header through Pillow: size, turn, profile, frames, private data; no pixels."""

from __future__ import annotations

import contextlib
import io
import math
import warnings
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from PIL import ExifTags, Image, ImageFile, IptcImagePlugin

from proofgen.photo.containers import PngInside, in_several_scans, read_png
from proofgen.photo.exchange import Header, RefusedError
from proofgen.photo.parts import MAX_FRAMES, gif_frames, tiff_pictures
from proofgen.photo.profiles import read_profile

if TYPE_CHECKING:  # the small process starts without what the model needs
    from proofgen.model.photo import PhotoFormat, ProfileFault

_PLUGINS: dict[PhotoFormat, tuple[str, ...]] = {
    "JPEG": ("JPEG", "MPO"),
    "MPO": ("JPEG", "MPO"),
    "PNG": ("PNG",),
    "WEBP": ("WEBP",),
    "TIFF": ("TIFF",),
    "HEIF": ("HEIF",),
    "AVIF": ("AVIF",),
    "GIF": ("GIF",),
}
# EXIF 3.0 (CIPA DC-008) and TIFF 6.0 tags by what they give away.
_TELLING = {
    "camera": {0x010F, 0x0110, 0x013C, 0xA431, 0xA435, 0x927C},
    "time": {0x0132, 0x9003, 0x9004},
    "name": {0x013B, 0x8298, 0xA430, 0x9C9D},
    "comment": {0x010E, 0x9286, 0x9C9B, 0x9C9C},
}
# IPTC-IIM 4.2, record 2.
_TELLING_IPTC = {
    "place": {90, 92, 95, 100, 101},
    "time": {55, 60},
    "name": {80, 110, 116},
    "comment": {105, 120},
}
_TELLING_XMP = {
    "place": (b"GPSLatitude", b"GPSLongitude", b"photoshop:City", b"LocationCreated"),
    "name": (b"dc:creator", b"dc:rights", b"OwnerName"),
    "time": (b"CreateDate", b"DateTimeOriginal", b"photoshop:DateCreated"),
    "camera": (b"tiff:Model", b"SerialNumber"),
    "comment": (b"dc:description", b"UserComment"),
    "editing history": (b"xmpMM:History", b"DerivedFrom"),
}
_GPS_HARMLESS = {0, 7, 29}  # version and clock say nothing about the place
_MAX_ZOOM = 200.0  # a camera that says more is not believed


@contextlib.contextmanager
def strictly(limit: int | None = None) -> Iterator[None]:
    """Pillow as strict as it gets, for one read: half a picture is an error, not a grey area.

    `limit` in pixels; none for a header, so that a giant's size can be told before it is refused.
    The flags belong to the whole process and other libraries set them too: they are put back.
    """
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # remarks on odd metadata; what matters is found here
        warnings.simplefilter("error", Image.DecompressionBombWarning)
        before = ImageFile.LOAD_TRUNCATED_IMAGES, Image.MAX_IMAGE_PIXELS
        ImageFile.LOAD_TRUNCATED_IMAGES, Image.MAX_IMAGE_PIXELS = False, limit
        try:
            yield
        finally:
            ImageFile.LOAD_TRUNCATED_IMAGES, Image.MAX_IMAGE_PIXELS = before


def open_strict(data: bytes, format: PhotoFormat) -> Image.Image:
    """Open as this format and no other, header only. Call inside `strictly`.

    Errors: RefusedError.
    """
    if format == "HEIF":
        try:
            import pillow_heif
        except ImportError as error:
            raise RefusedError("library") from error
        pillow_heif.register_heif_opener(thumbnails=False)
    source = read_png(data).clean if format == "PNG" else data
    try:
        return Image.open(io.BytesIO(source), formats=_PLUGINS[format])
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as error:
        raise RefusedError("size") from error
    except MemoryError:
        raise
    except Exception as error:  # Pillow's readers raise whatever hostile bytes lead them to
        raise RefusedError("header") from error


def read_header(data: bytes, format: PhotoFormat) -> Header:
    """Everything known before decoding, as plain JSON values. Errors: RefusedError."""
    with strictly():
        image = open_strict(data, format)
        info = image.info
        inside = read_png(data) if image.format == "PNG" else None
        if inside and inside.exif:
            info["exif"] = b"Exif\0\0" + inside.exif
        exif = _exif(image)
        profile, fault = _profile(image, inside)
        jpeg = image.format in ("JPEG", "MPO")
        return {
            "format": "MPO" if image.format == "MPO" else format,
            "width": image.width,
            "height": image.height,
            "mode": image.mode,
            "orientation": exif.orientation,
            "turn": 1 if image.format == "TIFF" else exif.orientation or 1,
            "profile": profile,
            "profile_fault": fault,
            "frames": _frames(image, data),
            "alpha": image.mode in ("RGBA", "LA", "PA") or "transparency" in info,
            "private": sorted(_private(image, inside, exif)),
            "tables": _tables(image),
            "samples": _samples(image),
            "progressive": jpeg and in_several_scans(data),
            "bytes": len(data),
            "adobe": "adobe" in info,
            "zoom": exif.zoom,
        }


@dataclass(slots=True)
class _Exif:
    """Orientation (0: it has no mark), all tags, whether there is a place and a small copy of the
    picture, and the camera's own zoom."""

    orientation: int = 0
    tags: set[int] = field(default_factory=set)
    place: bool = False
    small: bool = False
    zoom: float | None = None


def _exif(image: Image.Image) -> _Exif:
    """What EXIF tells; where it is damaged, what it might."""
    try:
        # A PNG's own way would decode all pixels first, to find EXIF that stands behind them.
        exif = Image.Image.getexif(image) if image.format == "PNG" else image.getexif()
        turn = exif.get(ExifTags.Base.Orientation, 0)
    except Exception:
        return _Exif(place=b"GPS" in image.info.get("exif", b""))
    read = _Exif(turn if isinstance(turn, int) and 1 <= turn <= 8 else 0, set(exif))
    with contextlib.suppress(Exception):
        told = exif.get_ifd(ExifTags.IFD.Exif)
        read.tags |= set(told)
        read.zoom = _zoom(told.get(ExifTags.Base.DigitalZoomRatio))
    with contextlib.suppress(Exception):
        read.small = bool(exif.get_ifd(ExifTags.IFD.IFD1))
    if ExifTags.IFD.GPSInfo in exif:
        read.place = True  # unless it can be read and holds nothing of the kind
        with contextlib.suppress(Exception):
            read.place = bool(set(exif.get_ifd(ExifTags.IFD.GPSInfo)) - _GPS_HARMLESS)
    return read


def _zoom(ratio: Any) -> float | None:
    """EXIF 3.0, tag 0xA404 DigitalZoomRatio: 0 stands for not used. None for what is no number."""
    zoom = float(ratio) if ratio is not None else math.nan
    if not math.isfinite(zoom) or not 0 <= zoom <= _MAX_ZOOM:
        return None
    return max(1.0, round(zoom, 2))


def _private(image: Image.Image, inside: PngInside | None, exif: _Exif) -> set[str]:
    """Plain names of what the file tells about people beside the picture."""
    names = {name for name, tags in _TELLING.items() if tags & exif.tags}
    names |= {"place"} if exif.place else set()
    names |= {"small copy of the picture"} if exif.small else set()
    names |= {"comment"} if image.info.get("comment") else set()
    xmp = image.info.get("xmp") or b""
    if inside:
        xmp = inside.xmp
        names |= {"comment"} if inside.text and not xmp else set()
    xmp = xmp if isinstance(xmp, bytes) else str(xmp).encode()
    names |= {name for name, words in _TELLING_XMP.items() if any(word in xmp for word in words)}
    with contextlib.suppress(Exception):
        assert isinstance(image, ImageFile.ImageFile)
        numbers = {number for record, number in IptcImagePlugin.getiptcinfo(image) or {}}
        names |= {name for name, tags in _TELLING_IPTC.items() if tags & numbers}
    return names


def _profile(image: Image.Image, inside: PngInside | None) -> tuple[str, ProfileFault]:
    """Its name, and why it is left out."""
    if inside and inside.profile_lost:
        return "", inside.profile_lost
    icc = image.info.get("icc_profile")
    if not icc:
        return "", ""
    profile = read_profile(icc)
    return (profile.name or "unnamed") if not profile.fault else "", profile.fault


def _frames(image: Image.Image, data: bytes) -> int:
    """How many pictures the file holds, counted no further than a thousand."""
    if image.format == "GIF":
        return gif_frames(data)  # Pillow would go through all of them, and so it would
    if image.format == "TIFF":
        return tiff_pictures(data)
    try:
        return max(1, min(int(getattr(image, "n_frames", 1)), MAX_FRAMES))
    except Exception:
        return 1


def _tables(image: Image.Image) -> dict[str, list[int]]:
    tables = getattr(image, "quantization", None)
    if not isinstance(tables, dict):
        return {}
    return {str(number): [int(v) for v in table] for number, table in tables.items()}


def _samples(image: Image.Image) -> float:
    """Samples a pixel over all channels, as stored: 1.5 for a usual JPEG, 3 for full colour."""
    layers = getattr(image, "layer", None)
    if not layers:
        return float(len(image.getbands()))
    top = max(h for _, h, _, _ in layers) * max(v for _, _, v, _ in layers)
    return float(sum(h * v / top for _, h, v, _ in layers))
