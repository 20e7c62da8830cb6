"""A flat piece lying on the ground, a little turned, seen from half above: numbers and layers."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from proofgen.geometry.plan import Shape
from proofgen.model import Layout
from proofgen.model.blank import Finish
from proofgen.render.mood import USUAL_MOOD, Mood
from proofgen.views.hand.camera import Floats, Frame
from proofgen.views.hand.layers import Layers
from proofgen.views.hand.light import smooth
from proofgen.views.hand.seams import stitches
from proofgen.views.hand.weave import grain, weave

_LOOKS_DOWN = math.radians(56.0)
_SIN, _COS = math.sin(_LOOKS_DOWN), math.cos(_LOOKS_DOWN)
_TURNED = math.radians(-7.0)
_C, _S = math.cos(_TURNED), math.sin(_TURNED)
_HEM = 3.4  # mm from the edge of thin cloth to the stitches that hold it
_LIGHT = 0.975


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """What the picture of a flat piece depends on but for what is printed; mm. `mood` is the
    theme's light and framing."""

    finish: Finish
    width: float
    height: float
    thickness: float
    shape: Shape
    corner: float
    holes: tuple[tuple[float, float, float], ...] = ()  # middle and radius
    mood: Mood = USUAL_MOOD

    @property
    def soft(self) -> float:
        """Radius of its upper edge."""
        return min(1.1, max(0.35, 0.45 * self.thickness))


def piece_of(layout: Layout, mood: Mood = USUAL_MOOD) -> Piece:
    """The flat piece of a layout in a theme's light."""
    plan, blank = layout.plan, layout.blank
    size = plan.canvases["front"].size
    return Piece(
        finish=blank.cloth.finish,
        width=size.width,
        height=size.height,
        thickness=max(blank.thickness_mm, 0.6),
        shape=plan.shape,
        corner=plan.corner,
        holes=tuple(
            (zone.rect.centre_x, zone.rect.centre_y, zone.rect.width / 2)
            for zone in plan.zones
            if zone.kind == "hole"
        ),
        mood=mood,
    )


def _reach(piece: Piece) -> tuple[float, float]:
    """Half of its width and depth on the ground as it lies, mm."""
    half_w, half_h = piece.width / 2, piece.height / 2
    if piece.shape == "round":
        return half_w, half_h
    return half_w * _C + half_h * abs(_S), half_w * abs(_S) + half_h * _C


def natural_width(piece: Piece) -> float:
    """Width (mm) of a picture that just holds it with its margin."""
    return 2 * (_reach(piece)[0] + piece.mood.margin)


def frame_of(piece: Piece, width_px: int, width_mm: float | None = None) -> Frame:
    """The picture's frame: the piece with its margin, or `width_mm` wide with it in the middle."""
    deep = _reach(piece)[1]
    wide = width_mm or natural_width(piece)
    top = -deep * _SIN - piece.thickness * _COS - 0.8 * piece.mood.margin
    bottom = deep * _SIN + piece.mood.margin
    return Frame.about(wide, top, bottom, width_px)


def lands(piece: Piece, x: float, y: float, up: float) -> tuple[float, float]:
    """X and Y (mm) of a point of the piece: x, y from its top left, `up` mm above the ground."""
    x, y = x - piece.width / 2, y - piece.height / 2
    return _C * x - _S * y, (_S * x + _C * y) * _SIN - up * _COS


def face_at(
    piece: Piece, frame: Frame, up: float
) -> tuple[float, float, float, float, float, float]:
    """x = a X + b Y + c, y = d X + e Y + f (mm, px): the place on the piece, `up` mm above the
    ground, that a pixel's corner (whole numbers) shows."""
    per = frame.per_mm
    lift = frame.top + up * _COS
    a, b = _C / per, _S / (_SIN * per)
    d, e = -_S / per, _C / (_SIN * per)
    c = _C * frame.left + _S / _SIN * lift + piece.width / 2
    f = -_S * frame.left + _C / _SIN * lift + piece.height / 2
    return a, b, c, d, e, f


def _places(piece: Piece, frame: Frame, up: float) -> tuple[Floats, Floats]:
    a, b, c, d, e, f = face_at(piece, frame, up)
    col = (np.arange(frame.width_px, dtype=np.float32) + 0.5)[None, :]
    row = (np.arange(frame.height_px, dtype=np.float32) + 0.5)[:, None]
    return (a * col + b * row + c).astype(np.float32), (d * col + e * row + f).astype(np.float32)


def _away(piece: Piece, x: Floats, y: Floats) -> Floats:
    """Signed distance (mm) from the outline or the edge of a hole, negative on the cloth."""
    away = _outside(piece, x, y)
    for middle_x, middle_y, radius in piece.holes:
        away = np.maximum(away, radius - np.hypot(x - middle_x, y - middle_y))
    return away


def _outside(piece: Piece, x: Floats, y: Floats) -> Floats:
    x, y = np.abs(x - piece.width / 2), np.abs(y - piece.height / 2)
    if piece.shape == "round":
        return np.hypot(x, y) - piece.width / 2
    corner = piece.corner if piece.shape == "rounded" else 1.2
    over_x, over_y = x - piece.width / 2 + corner, y - piece.height / 2 + corner
    outside = np.hypot(np.maximum(over_x, 0), np.maximum(over_y, 0))
    return outside + np.minimum(np.maximum(over_x, over_y), 0) - corner


def _cover(away: Floats) -> Floats:
    rise_y, rise_x = np.gradient(away)
    return np.asarray(np.clip(0.5 - away / (np.hypot(rise_x, rise_y) + 1e-6), 0, 1))


def _shadow(layers: Layers, piece: Piece, frame: Frame) -> None:
    x, y = _places(piece, frame, 0.0)
    touch = np.maximum(_away(piece, x, y), 0)
    thick, mood = piece.thickness, piece.mood
    cast = _away(piece, x - mood.side * 0.35 * thick, y - 0.25 * thick)
    # It lies on the ground all round: darkest where it touches, gone within a few mm.
    dark = 0.50 * np.exp(-touch / ((0.35 + 0.10 * thick) * mood.softness))
    dark = dark + 0.16 * (1 - smooth(-0.5, (0.6 + 0.9 * thick) * mood.softness, cast))
    dark = dark + 0.06 * (1 - smooth(0.0, mood.margin - 2.0 - thick, cast))
    dark = dark * (1 - smooth(mood.margin - 7.0, mood.margin - 3.0, touch))
    layers.ground = layers.ground * np.clip(1 - mood.strength * dark, 0, 1)


def _from_light(piece: Piece, x: Floats) -> Floats:
    """How far across the piece a place lies as the light goes, 0 to 1."""
    share = x / piece.width
    return np.asarray(1 - share if piece.mood.from_right else share, dtype=np.float32)


def _sides(layers: Layers, piece: Piece, frame: Frame) -> None:
    """The cut edge, in layers from below: cloth above, its backing below a fine line."""
    steps = max(3, math.ceil(piece.thickness * _COS * frame.per_mm * 1.5))
    for up in np.linspace(0, piece.thickness - piece.soft * 0.5, steps):
        x, y = _places(piece, frame, float(up))
        away = _away(piece, x, y)
        side = 0.84 - piece.mood.strength * 0.10 * smooth(0.0, 1.0, _from_light(piece, x))
        share = up / piece.thickness
        tone = 0.62 + 0.36 * smooth(0.0, 0.7, np.asarray(share))
        if piece.thickness > 2 and abs(share - 0.62) < 0.06:
            tone *= 0.78
        layers.lay(_cover(away + 0.25 * (1 - share)), bare=side * tone)


def _top(layers: Layers, piece: Piece, frame: Frame) -> None:
    x, y = _places(piece, frame, piece.thickness)
    away = _away(piece, x, y)
    across, mood = _from_light(piece, x), piece.mood
    fades = smooth(0.15, 1.1, across + 0.35 * (y / piece.height - 0.5))
    light = _LIGHT - 0.045 * mood.strength * fades
    squeeze = np.full(1, _SIN, dtype=np.float32)
    light = light * (1 + weave(piece.finish, x, y, frame.per_mm, squeeze))
    # The edge is rounded: towards the light it is lighter, away from it darker.
    tilt = np.clip(1 + away / (piece.soft * 1.4), 0, 1) ** 1.6
    down, right = np.gradient(away)
    norm = np.hypot(right, down) + 1e-6
    facing = -0.8 * mood.side * right / norm - 0.45 * down / norm
    light = light * (1 + tilt * (0.10 * facing - 0.13))
    if piece.thickness <= 2 and piece.finish == "linen-look":
        light = _hemmed(piece, frame, light, x, y, away)
    if piece.thickness <= 2:  # thin cloth never lies quite flat
        light = light * (1 + 0.5 * grain(x, y, 38.0, frame.per_mm))
    sheen: Floats = np.zeros(1, np.float32)
    if piece.finish == "smooth":
        at = across + 0.25 * y / piece.height - 0.32
        sheen = 0.035 * np.exp(-((at / (0.17 * mood.softness)) ** 2))
    layers.lay(_cover(away), ink=np.clip(light, 0, 1 - sheen), own=sheen)


def _hemmed(
    piece: Piece, frame: Frame, light: Floats, x: Floats, y: Floats, away: Floats
) -> Floats:
    """Stitches along the edge, and the soft roll of the hem they hold."""
    mid_x, mid_y = x - piece.width / 2, y - piece.height / 2
    level = np.abs(mid_y) - piece.height / 2 > np.abs(mid_x) - piece.width / 2
    along = np.where(level, mid_x, mid_y)
    on, dent = stitches(along, away + _HEM, frame)
    # Folded twice it is thicker out there than within: a lit ridge, and its shade beside it.
    roll = np.exp(-(((away + _HEM * 0.5) / (_HEM * 0.34)) ** 2))
    within = np.clip(-away - _HEM, 0, None)
    shade = 0.07 * np.exp(-within / 1.1) * (away < -_HEM)
    return np.asarray(light * (1 - 0.20 * dent - shade) * (1 + 0.24 * on) * (1 + 0.045 * roll))


def draw(piece: Piece, frame: Frame) -> Layers:
    """The picture of a flat piece without its print."""
    layers = Layers.on_ground(frame)
    _shadow(layers, piece, frame)
    _sides(layers, piece, frame)
    _top(layers, piece, frame)
    return layers
