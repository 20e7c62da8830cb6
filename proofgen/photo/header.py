"""A photo's header through Pillow: size, turn, profile, frames, private data; no pixels."""

from __future__ import annotations

import contextlib
import io
import threading
import warnings
from collections.abc import Iterator
from typing import Any

from PIL import ExifTags, Image, ImageFile, IptcImagePlugin

from proofgen.photo.contents import PngInside, in_several_scans, read_png, read_profile

MAX_PIXELS = 250_000_000  # phones of today reach 200 million
_LOCK = threading.RLock()
_PLUGINS = {
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
_GPS_HARMLESS = {0, 7, 29}  # version and clock say nothing about the place
_MAX_FRAMES = 1000


class RefusedError(Exception):
    """These bytes are not opened. `code` as in PhotoFacts.problem_code."""

    def __init__(self, code: str, why: str = "", share: float = 0.0) -> None:
        self.code, self.why, self.share = code, why, share
        super().__init__(code)


@contextlib.contextmanager
def strictly(limit: int | None = None) -> Iterator[None]:
    """Pillow as strict as it gets, for one read: half a picture is an error, not a grey area.

    `limit` in pixels; none for a header, so that a giant's size can be told before it is refused.
    The flags belong to the whole process and other libraries set them too, hence the lock.
    """
    with _LOCK, warnings.catch_warnings():
        warnings.simplefilter("ignore")  # remarks on odd metadata; what matters is found here
        warnings.simplefilter("error", Image.DecompressionBombWarning)
        before = ImageFile.LOAD_TRUNCATED_IMAGES, Image.MAX_IMAGE_PIXELS
        ImageFile.LOAD_TRUNCATED_IMAGES, Image.MAX_IMAGE_PIXELS = False, limit
        try:
            yield
        finally:
            ImageFile.LOAD_TRUNCATED_IMAGES, Image.MAX_IMAGE_PIXELS = before


def open_strict(data: bytes, format: str) -> Image.Image:
    """Open as this format and no other, header only. Call inside `strictly`.

    Errors: RefusedError.
    """
    if format == "HEIF":
        try:
            import pillow_heif
        except ImportError as error:
            raise RefusedError("unsupported", "library") from error
        pillow_heif.register_heif_opener(thumbnails=False)
    source = read_png(data).clean if format == "PNG" else data
    try:
        return Image.open(io.BytesIO(source), formats=_PLUGINS[format])
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as error:
        raise RefusedError("too-big") from error
    except MemoryError:
        raise
    except Exception as error:  # Pillow's readers raise whatever hostile bytes lead them to
        raise RefusedError("damaged", "header") from error


def read_header(data: bytes, format: str) -> dict[str, Any]:
    """Everything known before decoding, as plain JSON values. Errors: RefusedError.

    Keys: format, width, height (before `turn`), mode, orientation (as written), turn (what is left
    to do: Pillow turns TIFF by itself, and HEIC comes turned), profile, profile_fault, frames,
    alpha, location, private, tables, samples (per pixel, all channels, for pricing), progressive
    (or in several scans for another reason), bytes (of the file), adobe (JPEG carries Adobe's
    marker).
    """
    with strictly():
        image = open_strict(data, format)
        info = image.info
        inside = read_png(data) if image.format == "PNG" else None
        if inside and inside.exif:
            info["exif"] = b"Exif\0\0" + inside.exif
        exif = _exif(image)
        told = _told_by(image, inside, exif)
        profile, fault = _profile(image, inside)
        return {
            "format": image.format or format,
            "width": image.width,
            "height": image.height,
            "mode": image.mode,
            "orientation": exif["orientation"],
            "turn": 1 if image.format == "TIFF" else exif["orientation"],
            "profile": profile,
            "profile_fault": fault,
            "frames": _frames(image),
            "alpha": image.mode in ("RGBA", "LA", "PA") or "transparency" in info,
            "location": "place" in told,
            "private": told,
            "tables": _tables(image),
            "samples": _samples(image),
            "progressive": image.format in ("JPEG", "MPO") and in_several_scans(data),
            "bytes": len(data),
            "adobe": "adobe" in info,
        }


def _exif(image: Image.Image) -> dict[str, Any]:
    """Orientation, all tags, and the place's tags; damaged EXIF counts as telling the place."""
    try:
        # A PNG's own way would decode all pixels first, to find EXIF that stands behind them.
        exif = Image.Image.getexif(image) if image.format == "PNG" else image.getexif()
        turn = exif.get(ExifTags.Base.Orientation, 1)
    except Exception:
        return {"orientation": 1, "tags": set(), "place": b"GPS" in image.info.get("exif", b"")}
    found: dict[str, Any] = {
        "orientation": turn if isinstance(turn, int) and 1 <= turn <= 8 else 1,
        "tags": set(exif),
        "place": False,
        "small": False,
    }
    with contextlib.suppress(Exception):
        found["tags"] |= set(exif.get_ifd(ExifTags.IFD.Exif))
    with contextlib.suppress(Exception):
        found["small"] = bool(exif.get_ifd(ExifTags.IFD.IFD1))
    if ExifTags.IFD.GPSInfo in exif:
        try:
            found["place"] = bool(set(exif.get_ifd(ExifTags.IFD.GPSInfo)) - _GPS_HARMLESS)
        except Exception:
            found["place"] = True
    return found


def _told_by(image: Image.Image, inside: PngInside | None, exif: dict[str, Any]) -> list[str]:
    """Plain names of what the file tells about people beside the picture."""
    told = {name for name, tags in _TELLING.items() if tags & exif["tags"]}
    if exif["place"]:
        told.add("place")
    if exif.get("small"):
        told.add("small copy of the picture")
    info = image.info
    if info.get("comment"):
        told.add("comment")
    xmp = info.get("xmp") or b""
    if inside:
        xmp = inside.xmp
        told |= {"comment"} if inside.text and not xmp else set()
    xmp = xmp if isinstance(xmp, bytes) else str(xmp).encode()
    for name, words in (
        ("place", (b"GPSLatitude", b"GPSLongitude", b"photoshop:City", b"LocationCreated")),
        ("name", (b"dc:creator", b"dc:rights", b"OwnerName")),
        ("time", (b"CreateDate", b"DateTimeOriginal", b"photoshop:DateCreated")),
        ("camera", (b"tiff:Model", b"SerialNumber")),
        ("comment", (b"dc:description", b"UserComment")),
        ("editing history", (b"xmpMM:History", b"DerivedFrom")),
    ):
        if any(word in xmp for word in words):
            told.add(name)
    with contextlib.suppress(Exception):
        assert isinstance(image, ImageFile.ImageFile)
        numbers = {number for record, number in IptcImagePlugin.getiptcinfo(image) or {}}
        told |= {name for name, tags in _TELLING_IPTC.items() if tags & numbers}
    return sorted(told)


def _profile(image: Image.Image, inside: PngInside | None) -> tuple[str, str]:
    if inside and inside.profile_lost:
        return "", inside.profile_lost
    icc = image.info.get("icc_profile")
    if not icc:
        return "", ""
    facts = read_profile(icc)
    return (facts.name or "unnamed") if not facts.fault else "", facts.fault


def _frames(image: Image.Image) -> int:
    """How many pictures the file holds, counted no further than a thousand."""
    try:
        if image.format != "GIF":
            return max(1, min(int(getattr(image, "n_frames", 1)), _MAX_FRAMES))
        if not getattr(image, "is_animated", False):
            return 1
        return max(2, min(int(getattr(image, "n_frames", 1)), _MAX_FRAMES))
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
