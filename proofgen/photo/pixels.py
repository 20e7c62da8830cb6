"""A photo's pixels: decoded once, turned upright, converted to sRGB, made smaller as asked."""

from __future__ import annotations

import contextlib
import io
from dataclasses import dataclass
from typing import TYPE_CHECKING

from PIL import Image

from proofgen.photo.exchange import MAX_PIXELS, Header, RefusedError
from proofgen.photo.gaps import rows_missing
from proofgen.photo.header import open_strict, strictly
from proofgen.photo.profiles import BROKEN, sample, share_clipped, to_srgb

if TYPE_CHECKING:  # the small process starts without what the model needs
    from proofgen.model.photo import InkDoubt, ProfileFault

# Bytes a decoding may cost. The largest JPEGs come scaled, so that they need no more; other kinds
# must be decoded whole, and a phone's 200-megapixel HEIC just fits.
MEMORY = 1_000_000_000
JPEG_MEMORY = 560_000_000
ROOM = 400_000_000  # for what is kept decoded and the next decoding together, as far as can be
_LITTLE = 50_000_000  # may stay when an order is done: what shows it may come after
# Of one that takes more, all pixels are asked for once, by who measures it; then both processes
# would hold it.
_LARGE = 120_000_000
_WORTH = 0.8  # of a photo: a larger part is taken from the whole
_STRIP = 1 << 17  # pixels taken at a time: small enough to stay in the processor's cache
LYING = 5  # from this turn on (EXIF, tag 0x0112) width and height change places
_UPRIGHT = {  # TIFF 6.0 and EXIF, tag 0x0112
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}
_FLAT = ("L", "RGB", "RGBA", "CMYK")
Box = tuple[int, int, int, int]  # left, top, right, bottom, px


@dataclass(slots=True)
class Decoded:
    """A picture as its file stores it, and what had to be done for it; once it is `done`, upright
    and in sRGB, mode RGB or RGBA."""

    header: Header
    image: Image.Image
    profile_fault: ProfileFault
    ink_doubts: list[InkDoubt]
    clear: bool = False  # some pixel is not fully inked
    profile: bytes = b""  # of its colours as they are stored
    some: Image.Image | None = None  # pixels here and there, as they are stored
    done: bool = False
    cut: bool = False  # a part of it was made upright and sRGB by itself
    fresh: bool = True  # decoded for this, not kept from a request before

    def clipped(self) -> float | None:
        """The share of pixels whose colour lies outside sRGB; None where no profile tells."""
        if self.some is None:
            return None
        with contextlib.suppress(*BROKEN):
            return share_clipped(self.some, self.profile)
        return None

    @property
    def size(self) -> tuple[int, int]:
        """Upright (px)."""
        lies = not self.done and self.header["turn"] >= LYING
        return self.image.size[::-1] if lies else self.image.size


def cost(header: Header, scale: int) -> float:
    """Bytes of memory that decoding to 1/scale of each side takes at its peak.

    Measured with Pillow 13 and libheif 1.23: Pillow keeps 4 bytes a pixel (1 for grey), twice
    while it converts; a JPEG in several scans holds all its coefficients (2 bytes a sample) beside
    that, and the file itself; libheif holds planes and pixels of the full size whatever is asked
    for, and the planes are gone before the pixels are copied.
    """
    pixels = header["width"] * header["height"]
    small = pixels / scale**2
    if header["format"] in ("JPEG", "MPO"):
        coefficients = 2 * header["samples"] * pixels if header["progressive"] else 0
        inks = 12 if header["mode"] == "CMYK" else 8
        return float(coefficients + inks * small + header["bytes"])
    if header["format"] == "HEIF":
        bands = 4 if header["alpha"] else 3
        return float(max((bands * 1.5) * pixels, bands * pixels + 4 * small, 8 * small))
    return float(4 * pixels + (4 * small if scale > 1 else 4 * pixels))


def choose_scale(header: Header, wanted: tuple[int, int] | None) -> int:
    """By how much each side may shrink and still reach twice `wanted` (as stored): whole pixels are
    averaged, and what is fitted to a size afterwards must have some to spare.

    1, 2, 4 or 8; `wanted` None for all pixels that fit the memory. Errors: RefusedError 'size' if
    even 1/8 costs too much.
    """
    most = JPEG_MEMORY if header["format"] in ("JPEG", "MPO") else MEMORY
    fits = [s for s in (1, 2, 4, 8) if cost(header, s) <= most]
    if not fits:
        raise RefusedError("size")
    if wanted is None:
        return fits[0]
    spare = min(header["width"] // max(wanted[0], 1), header["height"] // max(wanted[1], 1)) // 2
    return max([s for s in fits if s <= spare], default=fits[0])


def decode(data: bytes, key: str, header: Header) -> Decoded:
    """All pixels of the photo that `key` names, kept for what comes next.

    Errors: RefusedError 'pixels' (with the missing share where rows tell it), 'kind', 'size'.
    """
    whole = _kept.pop(key, None)
    if whole is None:
        at = choose_scale(header, None)
        _make_room(cost(header, at))
        with strictly(MAX_PIXELS):
            whole = _decode(data, header, at)
    else:
        whole.fresh = False
    _kept[key] = whole  # the last used is let go of last
    return whole


def upright(key: str, by: int, *, sent: bool) -> Image.Image:
    """A decoded photo upright and in sRGB, its sides so many times smaller. The pixels are the same
    whether or not a request before has left it decoded. Those of a large photo that are all `sent`
    away are not kept."""
    whole = _kept.pop(key)
    with strictly(MAX_PIXELS):
        if not whole.done:
            _make_room(2 * _held(whole))
            whole.image, whole.done = _finished(whole, whole.image), True
        if by > 1 or not sent or _held(whole) <= _LARGE:
            _kept[key] = whole
        return _smaller(whole.image, by) if by > 1 else whole.image


def upright_part(key: str, by: int, box: Box) -> Image.Image | None:
    """The same, of which only a box is filled in, so that what is not asked for is neither turned
    nor converted, nor takes memory; None where that saves nothing. The size is that of the whole,
    since Pillow looks at it before it chooses which way it goes first, and each way rounds."""
    whole = _kept[key]
    wide, high = whole.size
    left, top = by * box[0], by * box[1]
    right, bottom = min(by * box[2], wide), min(by * box[3], high)
    area = (right - left) * (bottom - top)
    much = whole.profile or whole.header["turn"] in _UPRIGHT
    if whole.done or whole.cut or area > _WORTH * wide * high or not much:
        return None
    whole.cut = True  # of a photo of which more is asked the whole is made
    _make_room(12 * area)
    with strictly(MAX_PIXELS):
        stored = _lying((left, top, right, bottom), whole.size, whole.header["turn"])
        part = _finished(whole, whole.image.crop(stored))
        part = _smaller(part, by) if by > 1 else part
        image = Image.new(part.mode, (-(-wide // by), -(-high // by)), None)
        image.paste(part, box[:2])
        return image


def _lying(box: Box, size: tuple[int, int], turn: int) -> Box:
    """Where a box of an upright picture of this size lies in the picture as it is stored."""
    left, top, right, bottom = box
    if turn in (2, 3, 6, 7):
        left, right = size[0] - right, size[0] - left
    if turn in (3, 4, 7, 8):
        top, bottom = size[1] - bottom, size[1] - top
    return (top, left, bottom, right) if turn >= LYING else (left, top, right, bottom)


# What was decoded, by digest, the last used at the end. Kept upright and in sRGB, so that a further
# request needs no more memory than the picture it is for.
_kept: dict[str, Decoded] = {}


def kept(key: str) -> Decoded | None:
    """The photo as a request before has left it."""
    return _kept.get(key)


def _make_room(bytes: float) -> None:
    """Lets go of the oldest until so much more fits beside what is kept."""
    while _kept and bytes + sum(map(_held, _kept.values())) > ROOM:
        del _kept[next(iter(_kept))]


def _held(decoded: Decoded) -> int:
    """Bytes of a decoded picture: Pillow takes four a pixel."""
    return 4 * decoded.image.width * decoded.image.height


def forget(*, everything: bool = False) -> None:
    """Lets go of what was kept, but for a photo or two of the usual size."""
    _make_room(ROOM if everything else ROOM - _LITTLE)


def _decode(data: bytes, header: Header, scale: int) -> Decoded:
    heif = header["format"] == "HEIF"
    image, icc = _decode_heif(data, scale) if heif else _decode_pillow(data, header, scale)
    clear = image.mode == "RGBA" and _least(image.getchannel("A")) < 255
    if image.mode == "RGBA" and not clear:
        image = image.convert("RGB")
    doubts: list[InkDoubt] = []
    if image.mode == "CMYK" and not header["adobe"] and header["format"] in ("JPEG", "MPO"):
        # Turned over like those with Adobe's marker: so do browsers and viewers, and the customer
        # knows the photo from there.
        doubts.append("unmarked")
    decoded = Decoded(header, image, header["profile_fault"], doubts, clear=clear)
    if icc and not decoded.profile_fault:
        try:
            decoded.some, decoded.profile = sample(image, icc), icc
        except BROKEN:
            decoded.profile_fault = "broken"
    if image.mode == "CMYK" and not decoded.profile:
        doubts.append("unknown")
    return decoded


def _finished(decoded: Decoded, image: Image.Image) -> Image.Image:
    """A decoded picture, or a part of it, in sRGB and upright. It may be changed itself."""
    if decoded.profile:
        image = to_srgb(image, decoded.profile)
    if image.mode not in ("RGB", "RGBA"):
        image = image.convert("RGB")
    if decoded.clear:
        image = _blank_clear(image)
    turn = _UPRIGHT.get(decoded.header["turn"])
    return image.transpose(turn) if turn is not None else image


def _smaller(image: Image.Image, by: int) -> Image.Image:
    """Averages of so many pixels each way; those under fully clear parts count for nothing."""
    small = image.reduce(by)
    return _blank_clear(small) if small.mode == "RGBA" else small


def _decode_pillow(data: bytes, header: Header, scale: int) -> tuple[Image.Image, bytes]:
    image = open_strict(data, header["format"])
    if (image.width, image.height) != (header["width"], header["height"]):
        raise RefusedError("header")
    if scale > 1 and header["format"] in ("JPEG", "MPO"):
        image.draft(None, (image.width // scale, image.height // scale))
    elif header["format"] == "GIF":
        image.seek(0)
    try:
        image.load()
    except MemoryError:
        raise
    except Exception as error:  # whatever the reader ran into: these bytes do not decode
        raise RefusedError("pixels", rows_missing(image)) from error
    icc = image.info.get("icc_profile") or b""
    left = header["width"] // image.width if header["format"] in ("JPEG", "MPO") else 1
    image = _plain(image)
    if scale > left:
        image = image.reduce(scale // left)
    return image, icc


def _decode_heif(data: bytes, scale: int) -> tuple[Image.Image, bytes]:
    """By pillow_heif's own buffer and in strips, which saves a third of the memory."""
    import pillow_heif

    try:
        opened = pillow_heif.open_heif(io.BytesIO(data), convert_hdr_to_8bit=True)
        shot = opened[opened.primary_index]
        size, mode, stride, buffer = shot.size, shot.mode, shot.stride, shot.data
    except MemoryError:
        raise
    except Exception as error:
        raise RefusedError("pixels") from error
    if mode not in ("L", "LA", "RGB", "RGBA"):
        raise RefusedError("kind")
    whole = Image.new(mode, (-(-size[0] // scale), -(-size[1] // scale)))
    rows = max(scale, _STRIP // size[0] // scale * scale)
    view = memoryview(buffer)
    for top in range(0, size[1], rows):
        height = min(rows, size[1] - top)
        part = view[top * stride : (top + height) * stride]
        strip = Image.frombytes(mode, (size[0], height), part, "raw", mode, stride)
        whole.paste(strip.reduce(scale) if scale > 1 else strip, (0, top // scale))
    icc = shot.info.get("icc_profile")
    return _plain(whole), icc if isinstance(icc, bytes) else b""


def _plain(image: Image.Image) -> Image.Image:
    """One of L, RGB, RGBA, CMYK, eight bits each. Errors: RefusedError 'kind'."""
    if image.mode in _FLAT and "transparency" not in image.info:
        return image
    if image.mode.startswith("I;16"):
        # The upper of two bytes, as Pillow does for 16-bit colour; its own way to L clips instead.
        upper = 0 if image.mode.endswith("B") else 1
        return Image.frombytes("L", image.size, image.tobytes()[upper::2])
    if "transparency" in image.info or image.mode in ("LA", "PA", "La", "RGBa"):
        return image.convert("RGBA")
    if image.mode in ("1", "P", "YCbCr", "RGBX"):
        return image.convert("L" if image.mode == "1" else "RGB")
    raise RefusedError("kind")


def _blank_clear(image: Image.Image) -> Image.Image:
    """White under fully clear pixels, so that no colour hides beneath them."""
    hidden = image.getchannel("A").point([255] + [0] * 255)
    image.paste((255, 255, 255, 0), mask=hidden)
    return image


def _least(channel: Image.Image) -> int:
    return next(value for value, count in enumerate(channel.histogram()) if count)
