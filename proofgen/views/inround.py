"""The finished thing: a can sleeve in the round, seen straight from the side, or a flat piece."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageColor, ImageDraw, ImageFilter

from proofgen.artwork.rasters import Rasters
from proofgen.geometry import Plan
from proofgen.model import Layout
from proofgen.views.cut import face_picture

PAPER = "#f7f4ee"
_FINE = 3  # the can and the outline are drawn this many times larger, then brought down
_SLEEVE_SHARE = 0.86  # of the picture's width
_DARKEST = 0.62  # light at the very edge; a bare cosine would hide the picture there

Floats = NDArray[np.float32]
ViewKind = Literal["front", "left", "right", "closure", "back"]


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """One picture of the finished thing; `centre` is its middle as a share of the way round its
    face `round`, None of a flat thing."""

    kind: ViewKind
    image: Image.Image
    centre: float | None = None


def column_arcs(width_px: int) -> NDArray[np.float64]:
    """For each edge between columns (width_px + 1 of them) the arc it shows, in turns from the
    view's centre: asin(x/R) / 2π, x from -R to R (seen from far away)."""
    edges = np.linspace(-1.0, 1.0, width_px + 1)
    return np.arcsin(edges) / (2 * math.pi)


def spread(ring: Image.Image, width_px: int, height_px: int) -> Image.Image:
    """A ring of cloth (its picture once round) at the scale `roll` takes it for views that wide:
    a column and a half for each of the view's in the middle."""
    fine = math.ceil(math.pi * width_px * 1.5)
    return ring.convert("RGB").resize((fine, height_px), Image.Resampling.LANCZOS)


def roll(ring: Image.Image, centre: float, width_px: int) -> Image.Image:
    """A ring of cloth seen from one side, without shading, as high as the ring's picture.

    `centre` is the middle of the view as a share of the way round. Each column is the mean of the
    arc it covers, so that nothing flickers where the cloth turns away.
    """
    fine = ring.width
    at = (column_arcs(width_px) + centre) * fine
    first = math.floor(at[0]) - 1
    columns = np.arange(first, math.ceil(at[-1]) + 2)
    part = np.asarray(ring)[:, columns % fine].astype(np.float32)
    total = np.zeros((ring.height, len(columns) + 1, 3), dtype=np.float32)
    np.cumsum(part, axis=1, out=total[:, 1:])
    whole = np.floor(at - first).astype(int)
    rest = (at - first - whole)[None, :, None].astype(np.float32)
    reached = total[:, whole] + rest * part[:, whole]
    mean = np.diff(reached, axis=1) / np.diff(at)[None, :, None].astype(np.float32)
    return Image.fromarray((np.clip(mean, 0, 255) + 0.5).astype(np.uint8))


def shaded(picture: Image.Image) -> Image.Image:
    """The picture of a cylinder with less light where it turns away: cos θ, kept mild."""
    width = picture.width
    x = (np.arange(width) + 0.5) / width * 2 - 1
    light = _DARKEST + (1 - _DARKEST) * np.sqrt(1 - x**2)
    pixels = np.asarray(picture, dtype=np.float32) * light[None, :, None].astype(np.float32)
    return Image.fromarray(np.rint(pixels).astype(np.uint8))


def turn_of(edge: float, centre: float) -> float | None:
    """Where an edge (share of the way round) stands in a view: x/R, or None when it is behind."""
    angle = ((edge - centre + 0.5) % 1.0 - 0.5) * 2 * math.pi
    return math.sin(angle) if abs(angle) < math.pi / 2 - 1e-6 else None


def with_edge(picture: Image.Image, at: float, towards: int) -> Image.Image:
    """A thin line at x/R = `at`, and a soft shade on the side (-1 left, 1 right, 0 none) that lies
    under it."""
    width = picture.width
    x = np.arange(width) + 0.5 - (at + 1) / 2 * width
    thin = max(1.0, width / 420)
    light = np.where(np.abs(x) <= thin / 2 + 0.25, 0.45, 1.0)
    if towards:
        reach = width / 26
        below = np.where(x * towards > 0, np.exp(-np.abs(x) / reach * 2.2), 0.0)
        light = light * (1 - 0.34 * below)
    pixels = np.asarray(picture, dtype=np.float32) * light[None, :, None].astype(np.float32)
    return Image.fromarray(np.rint(pixels).astype(np.uint8))


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """Measures of the thing shown, mm: the rolled sleeve, the can in it, its lower corners."""

    across: float
    height: float
    can: float
    corner: float = 1.5


def _can_widths(stand: Stand, rows: int, per_mm: float) -> Floats:
    """Half width in px of each row of the can above the sleeve, top row first.

    Proportions of a common drinks can's neck and rim, from memory; only a hint of a can.
    """
    body = stand.can / 2
    heights = np.array([0.0, 0.6, 2.4, 3.0, 3.4, 8.0, 11.0, 13.0, 14.5, 15.5, 40.0])
    widths = np.array([0.80, 0.83, 0.83, 0.81, 0.79, 0.885, 0.94, 0.97, 0.988, 1, 1]) * body
    return np.interp(np.arange(rows) / per_mm, heights, widths).astype(np.float32) * per_mm


def _can_top(size: tuple[int, int], stand: Stand, per_mm: float) -> Image.Image:
    """The can above the sleeve, RGBA, `size` in px with its bottom at the sleeve's top edge."""
    wide, high = size[0] * _FINE, size[1] * _FINE
    half = _can_widths(stand, high, per_mm * _FINE)
    x = (np.arange(wide) + 0.5 - wide / 2)[None, :] / half[:, None]
    # Bands of light and dark along a metal cylinder, from the left limb to the right.
    tone = np.interp(
        x,
        [-1, -0.86, -0.6, -0.38, -0.1, 0.3, 0.62, 0.88, 1],
        [118, 168, 222, 236, 206, 196, 222, 172, 112],
    )
    from_top = np.arange(high)[:, None] / (per_mm * _FINE)
    tone = tone * np.interp(
        from_top, [0, 0.5, 2.6, 3.2, 3.6, 9, 40], [1.04, 1.04, 0.97, 0.78, 0.9, 1, 1]
    )
    # The cloth shades the can just above its edge.
    tone = tone * np.interp(high / (per_mm * _FINE) - from_top, [0, 1.6], [0.72, 1.0])
    pixels = np.empty((high, wide, 4), dtype=np.uint8)
    pixels[..., :3] = np.clip(tone, 0, 255)[..., None] * np.array([1.0, 0.995, 0.985])
    pixels[..., 3] = np.where(np.abs(x) <= 1, 255, 0)
    return Image.fromarray(pixels).resize(size, Image.Resampling.BOX)


def _outline(size: tuple[int, int], corner_px: float) -> Image.Image:
    """A mask with its two lower corners rounded."""
    large = Image.new("L", (size[0] * _FINE, size[1] * _FINE), 0)
    ImageDraw.Draw(large).rounded_rectangle(
        (0, 0, large.width - 1, large.height - 1),
        radius=corner_px * _FINE,
        fill=255,
        corners=(False, False, True, True),
    )
    return large.resize(size, Image.Resampling.BOX)


def sleeve_size(stand: Stand, width_px: int) -> tuple[int, int]:
    """Pixels of the rolled sleeve in a picture `width_px` wide."""
    wide = round(width_px * _SLEEVE_SHARE)
    return wide, round(wide * stand.height / stand.across)


@lru_cache(maxsize=4)
def _scene(
    stand: Stand, sleeve: tuple[int, int], width_px: int, background: str
) -> tuple[Image.Image, Image.Image, tuple[int, int]]:
    """The can on its ground, the sleeve's outline, and where the sleeve goes."""
    wide, high = sleeve
    per_mm = wide / stand.across
    above, margin = round(18 * per_mm), round(width_px * (1 - _SLEEVE_SHARE) / 2)
    ground = ImageColor.getrgb(background)[:3]
    scene = Image.new("RGB", (width_px, margin + above + high + margin), ground)
    left, top = (width_px - wide) // 2, margin + above
    foot, soft = top + high, margin // 4
    shade = Image.new("L", (width_px, 2 * margin), 0)
    ImageDraw.Draw(shade).ellipse(
        (left + margin // 3, margin - soft, left + wide - margin // 3, margin + soft), fill=88
    )
    shade = shade.filter(ImageFilter.GaussianBlur(margin / 7))
    scene.paste(tuple(c * 3 // 8 for c in ground), (0, foot - margin), shade)
    can = _can_top((wide, above), stand, per_mm)
    scene.paste(can, (left, margin), can)
    return scene, _outline(sleeve, stand.corner * per_mm), (left, top)


def on_can(sleeve: Image.Image, stand: Stand, width_px: int, background: str) -> Image.Image:
    """A rolled and shaded sleeve standing on its can, on a plain ground; RGB."""
    scene, outline, at = _scene(stand, sleeve.size, width_px, background)
    scene = scene.copy()
    scene.paste(sleeve, at, outline)
    return scene


def flat_thing(
    face: Image.Image, width_px: int, background: str, *, shape: str, corner_share: float
) -> Image.Image:
    """A flat piece on a plain ground, cut to its shape; `corner_share` is of its width."""
    wide = round(width_px * _SLEEVE_SHARE)
    high = round(wide * face.height / face.width)
    margin = (width_px - wide) // 2
    picture = face.resize((wide, high), Image.Resampling.LANCZOS)
    mask = shape_mask((wide, high), shape, corner_share * wide)
    ground = ImageColor.getrgb(background)[:3]
    scene = Image.new("RGB", (width_px, high + 2 * margin), ground)
    shade = Image.new("L", scene.size, 0)
    shade.paste(mask.point(lambda v: v * 90 // 255), (margin, margin + max(2, wide // 130)))
    shade = shade.filter(ImageFilter.GaussianBlur(max(1.5, wide / 110)))
    scene.paste(tuple(c * 3 // 8 for c in ground), (0, 0), shade)
    scene.paste(picture, (margin, margin), mask)
    return scene


def shape_mask(size: tuple[int, int], shape: str, corner_px: float) -> Image.Image:
    """Inside of a flat blank's shape: rectangle, rounded or round; mode L, smooth edge."""
    large = Image.new("L", (size[0] * _FINE, size[1] * _FINE), 0)
    draw = ImageDraw.Draw(large)
    box = (0, 0, large.width - 1, large.height - 1)
    if shape == "round":
        draw.ellipse(box, fill=255)
    elif shape == "rounded":
        draw.rounded_rectangle(box, radius=corner_px * _FINE, fill=255)
    else:
        draw.rectangle(box, fill=255)
    return large.resize(size, Image.Resampling.BOX)


def _stand(layout: Layout, height: float) -> Stand:
    plan, blank = layout.plan, layout.blank
    assert plan.way_round is not None
    across = plan.way_round / math.pi  # 2 R, R = C / 2π
    can = blank.vessel_mm or across - 2 * blank.thickness_mm
    corner = 1.5 if plan.construction == "wrap" else 0.09 * across
    return Stand(across=across, height=height, can=min(can, across), corner=corner)


def _ring(rasters: Rasters) -> tuple[Image.Image, float]:
    """The cloth once round, as worn, on the cloth's colour, and its height in mm.

    Of a wrap this is its face `round`: what the overlap hides is not in it, so under the join the
    ink of the end on top is seen. The strip of a fold that lies under the can is left out.
    """
    plan, picture = rasters.layout.plan, face_picture(rasters, "round")
    height = plan.canvases["round"].size.height
    base = max((z.rect.height for z in plan.zones if z.kind == "base"), default=0.0)
    keep = round(picture.height * (height - base) / height)
    return picture.crop((0, 0, picture.width, keep)), height - base


def _edges(plan: Plan) -> list[tuple[float, int]]:
    """Edges that show, as shares of the way round, and the side that lies beneath (0: a seam)."""
    if plan.construction == "wrap":
        # The top end reaches the join from the left when it is the right-hand end, so that what
        # lies to the right of the line is under it; and the other way about.
        return [(0.0, 1 if plan.on_top == "right" else -1)]
    return [(0.0, 0), (0.5, 0)]


def round_views(rasters: Rasters, width_px: int, *, background: str = PAPER) -> list[View]:
    """The finished thing, `width_px` wide. Can sleeves: front, left, right and the join (`closure`)
    or the `back`, rolled round their can; a flat thing: its front, cut to shape."""
    plan = rasters.layout.plan
    if plan.way_round is None:
        face = face_picture(rasters, "front")
        image = flat_thing(
            face,
            width_px,
            background,
            shape=plan.shape,
            corner_share=plan.corner / plan.panels["front"].width,
        )
        return [View(kind="front", image=image)]
    wrap = plan.construction == "wrap"
    front = 0.5 if wrap else 0.25  # a ring of two faces starts with the front's left seam
    ring, height = _ring(rasters)
    stand = _stand(rasters.layout, height)
    wide, high = sleeve_size(stand, width_px)
    ring = spread(ring, wide, high)
    turns: tuple[tuple[ViewKind, float], ...] = (
        ("front", 0.0),
        ("left", -0.25),
        ("right", 0.25),
        ("closure" if wrap else "back", 0.5),
    )
    views = []
    for kind, turn in turns:
        centre = (front + turn) % 1.0
        sleeve = roll(ring, centre, wide)
        for edge, beneath in _edges(plan):
            at = turn_of(edge, centre)
            if at is not None:
                sleeve = with_edge(sleeve, at, beneath)
        image = on_can(shaded(sleeve), stand, width_px, background)
        views.append(View(kind=kind, image=image, centre=centre))
    return views
