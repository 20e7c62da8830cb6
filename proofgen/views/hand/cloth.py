"""The cloth of a can sleeve in its light: wall, upper edge, shadow on the ground."""

from __future__ import annotations

import math

import numpy as np

from proofgen.views.hand.camera import COS, SIN, Floats, Frame
from proofgen.views.hand.layers import Layers
from proofgen.views.hand.light import smooth
from proofgen.views.hand.metal import metal
from proofgen.views.hand.seams import lay_limb_fins, lay_near_fins, seamed
from proofgen.views.hand.sleeve import Columns, Sleeve, along, bump_of, columns, rounded
from proofgen.views.hand.weave import grain, weave

LIGHT = 0.972  # of the middle: what is left above lets threads of white cloth be seen
_LIMB = {"": 1.0, "foam": 1.12, "linen-look": 1.0, "smooth": 0.94}


def turning(sleeve: Sleeve, angle: Floats) -> Floats:
    """Light by the angle alone: LIGHT about the middle, less at both limbs, least at the one that
    is away from the light."""
    mood = sleeve.mood
    near = smooth(0.62 / mood.softness, 1.62, -mood.side * angle)
    far = smooth(0.30 / mood.softness, 1.62, mood.side * angle)
    less = _LIMB[sleeve.finish] * mood.strength
    return np.asarray(LIGHT * (1 - less * (0.24 * near + 0.38 * far)))


def sheen_of(sleeve: Sleeve, angle: Floats) -> Floats:
    """What smooth cloth mirrors of the window, on top of its own colour."""
    if sleeve.finish != "smooth":
        return np.zeros_like(angle)
    mood = sleeve.mood
    across, wide = mood.side * angle, mood.softness
    window = 0.075 * np.exp(-(((across + 0.80) / (0.20 * wide)) ** 2))
    return np.asarray(window + 0.035 * np.exp(-(((across - 1.02) / (0.13 * wide)) ** 2)))


def _edges(sleeve: Sleeve, v: Floats, below: Floats) -> Floats:
    """Light at the upper and lower edge; `v` and `below` are mm from them."""
    crest, sole = sleeve.crest_deep * 0.8 + 0.5, sleeve.sole * 0.75 + 0.5
    rise = np.clip(1 - v / crest, 0, 1)
    fall = np.clip(1 - below / sole, 0, 1)
    light = (1 + 0.07 * np.sin(rise * math.pi) - 0.02 * rise) * (1 - 0.42 * fall**1.5)
    # The ground takes light from the lowest part.
    return np.asarray(light * (1 - 0.09 * np.clip(1 - below / 18.0, 0, 1) ** 2))


def _wall(layers: Layers, sleeve: Sleeve, frame: Frame, cols: Columns, turn: float) -> None:
    ys = frame.ys()[:, None]
    v = (ys - cols.down[None, :]) / COS
    below = (cols.last[None, :] - ys) / COS
    per = frame.per_mm
    cover = cols.cover * np.clip((ys - cols.first[None, :]) * per + 0.5, 0, 1)
    cover = cover * np.clip(below * COS * per + 0.5, 0, 1)
    angle = cols.angle[None, :]
    squeeze = np.cos(angle)
    u = along(sleeve, angle + turn)
    relief = weave(sleeve.finish, u, v, per, squeeze) * smooth(0.08, 0.5, squeeze)
    light = turning(sleeve, angle) * _edges(sleeve, v, below) * (1 + relief)
    light, thread = seamed(sleeve, frame, light, u, v)
    sheen = sheen_of(sleeve, angle)
    light = np.minimum(light, 1 - sheen)
    layers.lay(cover, ink=(1 - thread) * light, bare=thread * light * 0.97, own=sheen)


ROLLED = {
    "": 0.5,
    "foam": 0.34,
    "linen-look": 0.62,
    "smooth": 0.42,
}  # share of the edge that is printed
_FINER = 3  # the upper edge is narrow: it is drawn in smaller pixels


def _ring(layers: Layers, sleeve: Sleeve, frame: Frame, turn: float) -> None:
    deep = (sleeve.radius + sleeve.thickness) * SIN + 0.5
    first, part = frame.between(-sleeve.top * COS - deep, -sleeve.top * COS + deep)
    fine = part.finer(_FINER)
    finer = Layers.on_ground(fine)
    _edge_above(finer, sleeve, fine, turn)
    layers.lay_finer(finer, first, _FINER)


def _edge_above(layers: Layers, sleeve: Sleeve, frame: Frame, turn: float) -> None:
    """The cloth's upper edge seen from above: its thickness, what is inside, the can's shade."""
    x, ys = frame.xs()[None, :], frame.ys()[:, None]
    y = (ys + sleeve.top * COS) / SIN
    r = np.hypot(x, y)
    bump = bump_of(sleeve, np.arctan2(x, y), turn)
    outer, inner = sleeve.radius + bump, sleeve.radius - sleeve.thickness
    slope = np.hypot(x, y / SIN) / np.maximum(r, 1) / frame.per_mm  # mm of r a pixel
    # In front it goes on under the wall, so that no ground shines through between them.
    under = np.where(y > 0, 1.5 * _FINER, 0.0)
    cover = np.clip((outer - r) / slope + 0.5 + under, 0, 1)
    cover = cover * np.clip((sleeve.radius - np.abs(x)) * frame.per_mm + 0.5, 0, 1)
    cover = cover * np.clip((r - inner + 0.6) / slope + 0.5, 0, 1)
    round_off = rounded(x, sleeve.radius, sleeve.crest, sleeve.crest_deep) * COS
    cover = cover * np.clip((ys + sleeve.top * COS - round_off + 0.1) * frame.per_mm + 0.5, 0, 1)
    depth = np.clip((r - inner) / (outer - inner), 0, 1)  # 0 at the can, 1 outside
    rolled = ROLLED[sleeve.finish]
    soft = np.maximum(slope, 0.12)
    edge = np.clip((depth - (1 - rolled)) * (outer - inner) / soft + 0.5, 0, 1)
    mood = sleeve.mood
    away = smooth(-0.5, 1.0, mood.side * x / sleeve.radius)
    light = np.where(y > 0, 0.97, 0.90) * (1 - 0.12 * mood.strength * away)
    light = light * (0.50 + 0.50 * smooth(-0.05, 0.50, depth))
    pores: Floats = np.ones(1, np.float32)
    if sleeve.finish == "foam":
        light = light * (0.93 + 0.07 * np.sin(np.clip(depth, 0, 1) * math.pi))
        pores = 0.93 + 2.6 * grain(x * 1.3, ys * 2.2, 0.55, frame.per_mm / _FINER)
    crease = 1 - 0.14 * np.exp(-(((depth - (1 - rolled)) / 0.11) ** 2))
    if bump.any():  # the two ends lie on one another
        between = (sleeve.radius - r) / np.maximum(slope * _FINER, 0.25)
        crease = crease * (1 - 0.40 * smooth(0.1, 0.6, bump) * np.exp(-((between / 0.9) ** 2)))
    layers.lay(
        cover,
        ink=edge * light * crease,
        bare=np.clip((1 - edge) * light * pores * crease, 0, 1),
    )


def _shadow(layers: Layers, sleeve: Sleeve, frame: Frame) -> None:
    """On the ground: dark where it stands, a soft one away from the light and behind."""
    mood, radius, margin = sleeve.mood, sleeve.radius, sleeve.mood.margin
    x, y = mood.side * frame.xs()[None, :], frame.ys()[:, None] / SIN
    out = np.hypot(x, y) - radius + sleeve.sole * 0.5
    away, beneath = np.maximum(out, 0), smooth(0.0, 0.5 * sleeve.sole, -out)
    side = 0.75 + 0.25 * smooth(-0.8, 0.6, x / radius)
    touch = side * (
        (0.50 + 0.36 * beneath) * np.exp(-away / (2.2 * mood.softness))
        + 0.10 * (1 - smooth(0.0, margin - 1.0, away))
    )
    # It ends within the margin, so that the picture's ground is its page's at every edge.
    touch = touch * (1 - smooth(margin - 6.0, margin - 1.5, away))
    middle = 0.22 * radius
    right = np.where(x > middle, radius + margin - 2.0 - middle, radius + 0.5 * middle)
    cast = np.hypot((x - middle) / right, (y + 0.22 * radius) / (1.06 * radius))
    soft = 0.30 * (1 - smooth(0.55 / mood.softness, 1.0, cast))
    layers.ground = layers.ground * (1 - mood.strength * touch) * (1 - mood.strength * soft)


def _can(layers: Layers, sleeve: Sleeve, frame: Frame, fine: int) -> None:
    can = sleeve.can
    per, high = frame.per_mm, frame.height_px
    first = max(0, math.floor((-can.height * COS - can.rim * SIN - frame.top) * per) - 2)
    low = (sleeve.radius * SIN - sleeve.top * COS - frame.top) * per
    last = min(high, math.ceil(low) + 1)
    left = max(0, math.floor((-can.across / 2 - frame.left) * per) - 2)
    right = min(frame.width_px, math.ceil((can.across / 2 - frame.left) * per) + 2)
    part = Frame(
        left=frame.left + left / per,
        top=frame.top + first / per,
        per_mm=per,
        width_px=right - left,
        height_px=last - first,
    )
    shade, cover = metal(can, sleeve.top, part, fine, sleeve.mood.side)
    whole, light = np.zeros_like(layers.own), np.zeros_like(layers.own)
    whole[first:last, left:right], light[first:last, left:right] = cover, shade
    layers.darken(1 - whole)
    layers.own = layers.own + light


def draw(sleeve: Sleeve, frame: Frame, turn: float) -> Layers:
    """The picture of a sleeve on its can turned by `turn` (radians) from its front."""
    layers = Layers.on_ground(frame)
    _shadow(layers, sleeve, frame)
    _ring(layers, sleeve, frame, turn)
    _can(layers, sleeve, frame, 3 if frame.per_mm < 9 else 2)
    cols = columns(sleeve, frame, turn)
    lay_limb_fins(layers, sleeve, frame, turn)
    _wall(layers, sleeve, frame, cols, turn)
    lay_near_fins(layers, sleeve, frame, cols, turn)
    return layers
