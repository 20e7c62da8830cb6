"""ICC profiles: what one is called, and a picture's colours taken through it to sRGB."""

from __future__ import annotations

import io
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from PIL import Image, ImageChops, ImageCms

from proofgen.photo.containers import MAX_PROFILE

if TYPE_CHECKING:  # the small process starts without what the model needs
    from proofgen.model.photo import ProfileFault

BROKEN = (ImageCms.PyCMSError, ValueError, OSError)  # raised for a profile that cannot be used
_COUNTED = 1024  # px of the longer side that colours outside sRGB are counted on, without blending
_CLIP = 4  # steps of 8-bit Lab by which a colour must move to count as outside sRGB


@dataclass(frozen=True, slots=True, kw_only=True)
class Profile:
    """An ICC profile's header: colour space ('RGB', 'GRAY', 'CMYK') and its name for people."""

    space: str = ""
    name: str = ""
    fault: ProfileFault = ""


def read_profile(icc: bytes) -> Profile:
    """Header and description of an ICC profile. ICC.1:2022 7.2, 10.15 and, for old ones, 'desc'."""
    if len(icc) > MAX_PROFILE:
        return Profile(fault="oversized")
    announced = int.from_bytes(icc[:4], "big")
    if len(icc) < 132 or icc[36:40] != b"acsp" or not 132 <= announced <= len(icc) + 3:
        return Profile(fault="broken")
    space = icc[16:20].decode("ascii", "replace").strip()
    count = min(int.from_bytes(icc[128:132], "big"), 100)
    for entry in range(132, 132 + 12 * count, 12):
        if icc[entry : entry + 4] == b"desc":
            at = int.from_bytes(icc[entry + 4 : entry + 8], "big")
            size = int.from_bytes(icc[entry + 8 : entry + 12], "big")
            return Profile(space=space, name=_profile_name(icc[at : at + min(size, 2000)]))
    return Profile(space=space)


def _profile_name(tag: bytes) -> str:
    if tag[:4] == b"mluc":
        size, at = int.from_bytes(tag[20:24], "big"), int.from_bytes(tag[24:28], "big")
        name = tag[at : at + size].decode("utf-16-be", "replace")
    else:
        name = tag[12 : 12 + int.from_bytes(tag[8:12], "big")].decode("latin-1")
    return "".join(c for c in name if c.isprintable()).strip()[:100]


def to_srgb(image: Image.Image, icc: bytes) -> Image.Image:
    """L, RGB, RGBA or CMYK by a profile to RGB or RGBA; an RGB picture is changed itself.

    Errors: BROKEN.
    """
    alpha = image.getchannel("A") if image.mode == "RGBA" else None
    colours = _converted(_coloured(image, icc), icc)
    if alpha is not None:
        colours.putalpha(alpha)
    return colours


def sample(image: Image.Image, icc: bytes) -> Image.Image:
    """Pixels here and there, as they are, of a picture that its profile can convert. Errors: the
    same."""
    some = _coloured(_some(image), icc)
    _way(icc, some.mode)
    return some


def share_clipped(some: Image.Image, icc: bytes) -> float:
    """The share of the colours of a `sample` that lie outside sRGB. Errors: the same."""
    way = _way(icc, some.mode)
    if way.transform is None:
        return 0.0
    done = ImageCms.applyTransform(some, way.transform)
    assert done is not None  # only an in-place transform returns nothing
    return _clipped(some, done, way.source, way.target)


def _coloured(image: Image.Image, icc: bytes) -> Image.Image:
    """Without what is clear, and in colour where the profile is for that."""
    grey = image.mode == "L" and read_profile(icc).space == "RGB"
    return image.convert("RGB") if grey or image.mode == "RGBA" else image


def _converted(image: Image.Image, icc: bytes) -> Image.Image:
    way = _way(icc, image.mode)
    if way.transform is None:
        return image
    if image.mode == "RGB":  # in its place: no second picture is asked of the system
        ImageCms.applyTransform(image, way.transform, inPlace=True)
        return image
    done = ImageCms.applyTransform(image, way.transform)
    assert done is not None
    return done


@dataclass(frozen=True, slots=True)
class _Way:
    """From a profile to sRGB; no transform where that would change nothing."""

    source: ImageCms.ImageCmsProfile
    target: ImageCms.ImageCmsProfile
    transform: ImageCms.ImageCmsTransform | None


@lru_cache(maxsize=1)  # the photo in hand; some are built from large tables
def _way(icc: bytes, mode: str) -> _Way:
    source = ImageCms.ImageCmsProfile(io.BytesIO(icc))
    target = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB"))
    transform = ImageCms.buildTransform(
        source,
        target,
        mode,
        "RGB",
        renderingIntent=ImageCms.Intent.RELATIVE_COLORIMETRIC,
        # Without the memory of one colour: photographs seldom repeat one, and to look is a seventh
        # of the time.
        flags=ImageCms.Flags.BLACKPOINTCOMPENSATION | ImageCms.Flags.NOCACHE,
    )
    nothing = mode == "RGB" and _changes_nothing(transform)
    return _Way(source, target, None if nothing else transform)


def _some(image: Image.Image) -> Image.Image:
    """Pixels here and there, as they are."""
    share = min(1.0, _COUNTED / max(image.size))
    size = max(1, round(image.width * share)), max(1, round(image.height * share))
    return image.resize(size, Image.Resampling.NEAREST)


def _changes_nothing(transform: ImageCms.ImageCmsTransform) -> bool:
    """True for sRGB under any name: a 16-step grid of colours comes back as it was."""
    steps = range(0, 256, 17)
    grid = Image.frombytes(
        "RGB", (256, 16), bytes(v for r in steps for g in steps for b in steps for v in (r, g, b))
    )
    done = ImageCms.applyTransform(grid, transform)
    assert done is not None
    worst = _worst(ImageChops.difference(grid, done))
    return not any(worst.histogram()[2:])


def _worst(image: Image.Image) -> Image.Image:
    """The highest of three channels, pixel by pixel."""
    one, two, three = image.split()
    return ImageChops.lighter(ImageChops.lighter(one, two), three)


def _clipped(
    before: Image.Image,
    after: Image.Image,
    source: ImageCms.ImageCmsProfile,
    target: ImageCms.ImageCmsProfile,
) -> float:
    """Share of pixels that look different after conversion: those that sRGB cannot show."""
    lab = ImageCms.createProfile("LAB")
    pair = []
    for image, profile in ((before, source), (after, target)):
        to_lab = ImageCms.buildTransform(
            profile, lab, image.mode, "LAB", ImageCms.Intent.RELATIVE_COLORIMETRIC
        )
        shown = ImageCms.applyTransform(image, to_lab)
        assert shown is not None
        pair.append(Image.merge("RGB", shown.split()))
    worst = _worst(ImageChops.difference(*pair))
    return sum(worst.histogram()[_CLIP + 1 :]) / (after.width * after.height)
