"""Ways to spoil a photograph, each with its strength as a number.

What blurs, shakes and sprinkles takes a grey picture as well, a third of the work.
Noise and grain are the same at every run for the same picture and strength.
"""

from __future__ import annotations

import io
import math
import zlib
from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageColor, ImageDraw, ImageFilter, ImageOps
from scipy import ndimage, signal
from skimage.restoration import denoise_tv_chambolle

from proofgen.colour import lab_of, linear_to_srgb, srgb_to_linear

Plane = NDArray[np.float32]
Way = Iterable[tuple[float, float]]  # px across and down, from the middle

_EXACT = 4.0  # px of sigma up to which a blur is a true Gaussian
LARGEST = 1024  # px of the side of an enlarged picture


def _floats(picture: Image.Image) -> Plane:
    return np.asarray(picture, dtype=np.float32)


def _codes(floats: NDArray[np.floating]) -> Image.Image:
    return Image.fromarray(np.clip(np.rint(floats), 0, 255).astype(np.uint8))


def saved(picture: Image.Image, quality: int) -> Image.Image:
    """The picture after a JPEG of that quality."""
    return Image.open(io.BytesIO(jpeg(picture, quality))).convert(picture.mode)


def jpeg(picture: Image.Image, quality: int, *, progressive: bool = False) -> bytes:
    """The picture's bytes as a JPEG file."""
    out = io.BytesIO()
    picture.save(out, "JPEG", quality=quality, progressive=progressive)
    return out.getvalue()


def tables_in(data: bytes) -> dict[int, tuple[int, ...]]:
    """The quantisation tables of a JPEG file, as a photo's facts have them."""
    found = Image.open(io.BytesIO(data)).quantization
    return {number: tuple(table) for number, table in found.items()}


def blurred(picture: Image.Image, sigma: float) -> Image.Image:
    """A Gaussian blur (px) in floats, to four sigma; a strong one is Pillow's three boxes, which
    come close to it and take a tenth of the time."""
    if sigma > _EXACT:
        return picture.filter(ImageFilter.GaussianBlur(sigma))
    soft = ndimage.gaussian_filter(_floats(picture), sigma, axes=(0, 1))
    return Image.fromarray(np.clip(soft + 0.5, 0, 255).astype(np.uint8))


def _spread(picture: Image.Image, kernel: Plane) -> Image.Image:
    """The picture with every point spread as the kernel (odd sides, summing to 1) says."""
    plane, reach = _floats(picture), kernel.shape[0] // 2
    pad = [(reach, reach), (reach, reach), (0, 0)][: plane.ndim]
    turned = kernel[::-1, ::-1].reshape(kernel.shape + (1,) * (plane.ndim - 2))
    whole = np.pad(plane, pad, mode="edge")
    return _codes(signal.oaconvolve(whole, turned, mode="valid", axes=(0, 1)))


def smoothed(picture: Image.Image, weight: float) -> Image.Image:
    """As a telephone's noise reduction leaves it: noise of 5 grey levels wiped out by total
    variation (Chambolle's, of scikit-image) of that weight, colours blurred."""
    light, *tints = noisy(picture.convert("RGB"), 5).convert("YCbCr").split()
    clean = denoise_tv_chambolle(_floats(light) / 255, weight=weight, max_num_iter=60)
    soft = [tint.filter(ImageFilter.GaussianBlur(3)) for tint in tints]
    return Image.merge("YCbCr", [_codes(255 * clean), *soft]).convert(picture.mode)


def sharpened(picture: Image.Image, percent: int) -> Image.Image:
    """Sharpened by that many percent of what a blur of 2 px takes away."""
    return picture.filter(ImageFilter.UnsharpMask(2, percent, 0))


def defocused(picture: Image.Image, radius: float) -> Image.Image:
    """Out of focus: every point becomes an even disk of that radius (px)."""
    reach = math.ceil(radius)
    down, across = np.mgrid[-reach : reach + 1, -reach : reach + 1].astype(np.float32)
    disk = np.clip(radius + 0.5 - np.hypot(down, across), 0, 1)
    return _spread(picture, disk / disk.sum())


def _smeared(picture: Image.Image, way: Way) -> Image.Image:
    """The camera went along these places (px) while the shutter was open."""
    places = np.array(list(way))
    places -= places.mean(axis=0)
    reach = math.ceil(float(np.abs(places).max())) + 1
    kernel = np.zeros((2 * reach + 1, 2 * reach + 1), dtype=np.float32)
    for x, y in places + reach:
        left, top = math.floor(x), math.floor(y)
        for column, row in ((0, 0), (0, 1), (1, 0), (1, 1)):
            share = (1 - abs(x - left - column)) * (1 - abs(y - top - row))
            kernel[top + row, left + column] += share
    return _spread(picture, kernel / kernel.sum())


def moved(picture: Image.Image, length: float, degrees: float) -> Image.Image:
    """Shaken along a straight line of that length (px)."""
    turn = math.radians(degrees)
    steps = np.linspace(-length / 2, length / 2, round(2 * length) + 1)
    return _smeared(picture, [(s * math.cos(turn), s * math.sin(turn)) for s in steps])


def shaken(picture: Image.Image, length: float) -> Image.Image:
    """Shaken along a quarter and a half of a circle, one after the other, of that length (px)."""
    radius = length / (0.75 * math.pi)
    bow = np.linspace(0, 0.5 * math.pi, round(length) + 1)
    back = np.linspace(0, math.pi / 4, round(length / 2) + 1)
    way = [(radius * math.sin(a), radius * (1 - math.cos(a))) for a in bow]
    x, y = way[-1]
    way += [(x - radius * (1 - math.cos(a)), y + radius * math.sin(a)) for a in back]
    return _smeared(picture, way)


def _randoms(picture: Image.Image, kind: str) -> Plane:
    seed = zlib.crc32(kind.encode(), zlib.crc32(picture.tobytes()))
    return np.random.default_rng(seed).standard_normal((picture.height, picture.width), np.float32)


def noisy(picture: Image.Image, sigma: float) -> Image.Image:
    """Noise of that many grey levels, every pixel for itself, as of a small sensor in the dark."""
    return _added(picture, sigma * _randoms(picture, "noise"))


def _added(picture: Image.Image, plane: Plane) -> Image.Image:
    """The same codes added to every colour."""
    floats = _floats(picture)
    return _codes(floats + plane.reshape(plane.shape + (1,) * (floats.ndim - 2)))


def grainy(picture: Image.Image, sigma: float) -> Image.Image:
    """Grain of film: noise of that many grey levels whose grains are about two pixels wide."""
    grain = ndimage.gaussian_filter(_randoms(picture, "grain"), 0.8)
    return _added(picture, (sigma / float(grain.std())) * grain)


def exposed(picture: Image.Image, stops: int) -> Image.Image:
    """The picture as the camera would have kept it so many stops darker or lighter."""
    light = srgb_to_linear(np.arange(256) / 255) * 2.0**stops
    return _recoded(picture, linear_to_srgb(np.clip(light, 0, 1)) * 255)


def _recoded(picture: Image.Image, codes: NDArray[np.floating]) -> Image.Image:
    """Every code of 0 to 255 become another."""
    return picture.point(np.rint(codes).astype(int).tolist() * len(picture.getbands()))


def flattened(picture: Image.Image, contrast: float) -> Image.Image:
    """The picture with less between light and dark."""
    middle = float(_floats(picture).mean())
    return _recoded(picture, middle + (np.arange(256) - middle) * contrast)


# Which of the seven bars of a digit are lit: top, upper left and right, middle, lower, bottom.
_BARS = {"0": "1110111", "1": "0010010", "2": "1011101", "6": "1101111", "9": "1111011"}
_PLACES = ((0, 0, 1, 0), (0, 0, 0, 1), (1, 0, 1, 1), (0, 1, 1, 1), (0, 1, 0, 2), (1, 1, 1, 2),
           (0, 2, 1, 2))  # fmt: skip


def _tinted(light: NDArray[np.floating], tints: NDArray[np.floating]) -> Image.Image:
    """Colours of CIE L* and a*, b*, clipped to what sRGB holds (D65; CIE 15, IEC 61966-2-1)."""
    y = (light + 16) / 116
    bent = np.stack([y + tints[..., 0] / 500, y, y - tints[..., 1] / 200], axis=-1)
    straight = np.where(bent > 6 / 29, bent**3, (bent - 4 / 29) * 3 * (6 / 29) ** 2)
    xyz = straight * (0.95047, 1.0, 1.08883)
    back = ((3.2406, -1.5372, -0.4986), (-0.9689, 1.8758, 0.0415), (0.0557, -0.204, 1.057))
    return _codes(255 * linear_to_srgb(np.clip(xyz @ np.array(back).T, 0, 1)))


def yellowed(picture: Image.Image, share: float) -> Image.Image:
    """As an old print: without colour but for a warm tint, which at 1 is that of strong tea."""
    light = lab_of(np.asarray(picture))[..., 0]
    return _tinted(light, share * np.stack([0.08 * light, 4 + 0.2 * light], axis=-1))


def crossed(picture: Image.Image, strength: float) -> Image.Image:
    """Lights turned yellow and darks blue, each by a chroma of `strength`, colours made paler."""
    lab = lab_of(np.asarray(picture))
    way = (lab[..., :1] / 50 - 1) * strength
    return _tinted(lab[..., 0], 0.2 * lab[..., 1:] + np.concatenate([-way / 4, way], axis=-1))


def edged(picture: Image.Image, depth: float) -> Image.Image:
    """A light line along its foot, as a scanner leaves it; `depth` is a share of its height."""
    lined = picture.copy()
    lined.paste((238, 236, 232), (0, round(picture.height * (1 - depth)), *picture.size))
    return lined


def stamped(picture: Image.Image) -> Image.Image:
    """The picture with the day in orange at its lower right, as cameras wrote it: sharp, whatever
    is behind it."""
    out = picture.copy()
    draw = ImageDraw.Draw(out)
    orange = ImageColor.getcolor("#ff9628", out.mode)
    high = max(8, min(picture.size) // 30)
    side, stroke = high // 2, max(2, high // 9)
    left, top = picture.width - 11 * side, picture.height - 2 * high
    for digit in "26 11 29":
        for lit, (x, y, to_x, to_y) in zip(_BARS.get(digit, ""), _PLACES, strict=False):
            if lit == "1":
                corner = (left + x * side * 0.7, top + y * side)
                end = (left + to_x * side * 0.7, top + to_y * side)
                draw.line((corner, end), fill=orange, width=stroke)
        left += round(side * (1.2 if digit != " " else 0.6))
    return out


def enlarged(
    picture: Image.Image, factor: float, filter: Image.Resampling, most: int = LARGEST
) -> Image.Image:
    """The upper left part of a picture made larger, to at most so many px a side."""
    side = min(*picture.size, int(most / factor))
    return picture.crop((0, 0, side, side)).resize((round(side * factor),) * 2, filter)


def passed_on(photo: Image.Image, long_side: int) -> Image.Image:
    """A part of what a messenger makes of a photo, made as large again as it was: to a long side of
    so many px (three quarters of a photo that has no more), JPEG 70, then enlarged."""
    share = min(long_side, 0.75 * max(photo.size)) / max(photo.size)
    size = (round(photo.width * share), round(photo.height * share))
    small = saved(photo.resize(size, Image.Resampling.LANCZOS), 70)
    left, top = (8 * int(0.3 * side / 8) for side in size)  # where the JPEG's blocks begin
    part = small.crop((left, top, small.width, small.height))
    return enlarged(part, 1 / share, Image.Resampling.BICUBIC)


def blotched(picture: Image.Image, wide: float, strength: float) -> Image.Image:
    """Blotches of colour, `strength` codes in each of the two colours of JPEG and 0.4 of that in
    lightness (root mean square): noise smoothed by so many px, so that one is 2.5 times as wide."""
    shape = (picture.height, picture.width)
    seed = zlib.crc32(b"blotches", zlib.crc32(picture.tobytes()))
    noise = np.random.default_rng(seed).standard_normal((3, *shape), np.float32)
    soft = ndimage.gaussian_filter(noise, (0, wide, wide))
    light, blue, red = strength * soft / soft.std(axis=(1, 2), keepdims=True)
    light *= 0.4
    added = (light + 1.402 * red, light - 0.344 * blue - 0.714 * red, light + 1.772 * blue)
    return _codes(_floats(picture) + np.stack(added, axis=-1))


def _table(size: tuple[int, int], ground: str, chance: np.random.Generator) -> Image.Image:
    """An even ground, or one with the grain of wood."""
    wide, high = size
    floats = np.ones((high, wide, 3)) * chance.uniform(40, 200, 3)
    if ground == "wood":
        grain = ndimage.gaussian_filter(chance.standard_normal((high, wide)), (1.2, wide / 12))
        floats = 0.5 * floats + (60, 45, 25) + 12 * (grain / grain.std())[:, :, None]
    return _codes(floats + 2 * chance.standard_normal((high, wide, 1)))


def on_a_table(picture: Image.Image, border: float, ground: str = "plain") -> Image.Image:
    """The picture as a print with a white border (a share of its shorter side), photographed as it
    lay on a table: 4 to 16 % of that around it, turned by up to 2°, seen a little aslant, with a
    shadow."""
    chance = np.random.default_rng(zlib.crc32(ground.encode(), zlib.crc32(picture.tobytes())))
    print_ = ImageOps.expand(picture, round(border * min(picture.size)), (244, 242, 236))
    wide, high = print_.size
    left, top, right, bottom = chance.uniform(0.04, 0.16, 4)
    size = (round(wide * (1 + left + right)), round(high * (1 + top + bottom)))
    turn = math.radians(chance.uniform(-2, 2))
    rows, sides = [], []
    for x, y in ((0, 0), (wide, 0), (wide, high), (0, high)):
        out, down = (x - wide / 2) * chance.uniform(0.98, 1.02), y - high / 2
        down *= chance.uniform(0.98, 1.02)
        at_x = (left + 0.5) * wide + out * math.cos(turn) - down * math.sin(turn)
        at_y = (top + 0.5) * high + out * math.sin(turn) + down * math.cos(turn)
        rows += [[at_x, at_y, 1, 0, 0, 0, -x * at_x, -x * at_y]]
        rows += [[0, 0, 0, at_x, at_y, 1, -y * at_x, -y * at_y]]
        sides += [x, y]
    back = np.linalg.solve(np.array(rows), np.array(sides)).tolist()
    way = (size, Image.Transform.PERSPECTIVE, back)
    mask = Image.new("L", print_.size, 255).transform(*way, Image.Resampling.BILINEAR)
    reach = 0.01 * min(size)
    shade = Image.new("L", size)
    shade.paste(mask, (round(reach), round(reach)))
    shade = shade.filter(ImageFilter.GaussianBlur(reach)).point(lambda code: code // 2)
    table = Image.composite(Image.new("RGB", size), _table(size, ground, chance), shade)
    lying = print_.transform(*way, Image.Resampling.BICUBIC)
    return Image.composite(lying, table, mask).filter(ImageFilter.GaussianBlur(0.6))


_CELL = 6  # px of one dot of the screen: three stripes, and a dark line below


def of_a_screen(picture: Image.Image, pitch: float, turn: float = 1.0) -> Image.Image:
    """What a camera makes of a screen that shows the picture: so many px from dot to dot, held a
    little askew (`turn` degrees), a little soft and with some noise; at most 1024 px a side."""
    side = min(LARGEST, *picture.size)
    dots = int(1.25 * side / pitch) + 2 * _CELL
    shown = srgb_to_linear(_floats(ImageOps.fit(picture, (dots, dots))) / 255).astype(np.float32)
    cell = np.zeros((_CELL, _CELL, 3), np.float32)
    for colour in range(3):
        cell[:-1, 2 * colour : 2 * colour + 2, colour] = 1 / (1 - 1 / _CELL)
    lit = shown.repeat(_CELL, 0).repeat(_CELL, 1) * np.tile(cell, (dots, dots, 1))
    step, way = _CELL / (2 * pitch), math.radians(turn)  # looked at with two points a px
    across, down = step * math.cos(way), step * math.sin(way)
    askew = (across, -down, 0.12 * dots * _CELL, down, across, _CELL, 0.01 / side, 0.015 / side)
    seen = [
        Image.fromarray(lit[:, :, colour]).transform(
            (2 * side, 2 * side), Image.Transform.PERSPECTIVE, askew, Image.Resampling.BILINEAR
        )
        for colour in range(3)
    ]
    soft = ndimage.gaussian_filter(np.stack(seen, axis=2), (1.4, 1.4, 0))
    light = soft.reshape(side, 2, side, 2, 3).mean(axis=(1, 3))
    return noisy(_codes(255 * linear_to_srgb(np.clip(light, 0, 1))), 3)


def holed(data: bytes, share: float) -> bytes:
    """A JPEG file of which that share is missing from the middle, its end kept."""
    gap, middle = round(len(data) * share), len(data) // 2
    return data[: middle - gap // 2] + data[middle + gap - gap // 2 :]
