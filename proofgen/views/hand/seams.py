"""Where a needle went and where the cloth ends: stitches, the seams of two faces, a wrap's join."""

from __future__ import annotations

import math

import numpy as np

from proofgen.views.hand.camera import COS, SIN, Floats, Frame
from proofgen.views.hand.layers import Layers
from proofgen.views.hand.light import smooth
from proofgen.views.hand.sleeve import Columns, Sleeve, wrapped
from proofgen.views.hand.weave import grain

_PITCH = 2.7  # mm from stitch to stitch
_HEM = 4.0  # mm from an edge to the stitches that hold it
_BOUND = 0.95  # mm from thread to thread of a bound seam


def stitches(along: Floats, across: Floats, frame: Frame) -> tuple[Floats, Floats]:
    """Coverage of the threads of a straight seam, and the dent about it: mm along and across."""
    phase = along / _PITCH - np.floor(along / _PITCH) - 0.5
    half = 0.36 * _PITCH
    away = np.hypot(np.maximum(np.abs(phase) * _PITCH - half + 0.3, 0), across) - 0.3
    thread = np.clip(0.5 - away * frame.per_mm, 0, 1)
    return thread, np.exp(-((across / 0.85) ** 2))


def _hems(sleeve: Sleeve, v: Floats) -> list[Floats]:
    """Lines of stitches round the sleeve, mm across each."""
    lines = []
    if sleeve.finish != "foam":
        lines.append(v - (sleeve.hem or _HEM))
        if sleeve.construction == "wrap":
            lines.append(sleeve.height - v - _HEM)
    if sleeve.construction == "sewn":
        lines.append(sleeve.height - v - 2.6)
    return lines


def seamed(
    sleeve: Sleeve, frame: Frame, light: Floats, u: Floats, v: Floats
) -> tuple[Floats, Floats]:
    """Light with stitches, seams and join; and where bare thread lies upon the ink."""
    thread = np.zeros_like(light)
    # What is sewn before it is pressed takes ink on its thread as well.
    printed = sleeve.construction != "fold"
    for across in _hems(sleeve, v):
        on, dent = stitches(u, across, frame)
        light = light * (1 - 0.11 * dent) * (1 + (0.13 if printed else 0.03) * on)
        if not printed:
            thread = np.maximum(thread, on)
    if sleeve.strip:
        light, over = _covered(sleeve, frame, light, u, v)
        thread = np.maximum(thread, over)
    elif sleeve.join is not None:
        light = _joined(sleeve, frame, light, u, v)
    for seam in sleeve.seams:
        near = np.abs(wrapped(u / sleeve.radius - seam)) * sleeve.radius
        light = light * (1 - 0.16 * np.exp(-near / 1.5) - 0.04 * np.exp(-near / 5.0))
        # The thread pulls the cloth in a little at each stitch.
        pulls = grain(v * 0.0 + 7.3, v, 2.1, frame.per_mm)
        light = light * (1 + 0.7 * pulls * np.exp(-near / 1.6))
    return light, thread


# mm over which a wrap's upper end rounds down at its edge, as a share of its thickness.
_LIP = {"": 0.3, "foam": 0.62, "linen-look": 0.34, "smooth": 0.26}


def _joined(sleeve: Sleeve, frame: Frame, light: Floats, u: Floats, v: Floats) -> Floats:
    """The upper end's edge of a wrap, the step down from it, where hook-and-loop is sewn on."""
    assert sleeve.join is not None
    side = 1.0 if sleeve.on_top == "right" else -1.0
    into = -side * wrapped(u / sleeve.radius - sleeve.join) * sleeve.radius  # mm, > 0: upper end
    # No cut is ruler-straight, and foam less than cloth.
    into = into + (2.4 if sleeve.finish == "foam" else 1.4) * grain(v * 0 + 2.0, v, 7.0, 9.0)
    lip = max(0.45, _LIP[sleeve.finish] * sleeve.thickness)
    past, within = np.maximum(-into, 0), np.maximum(into, 0)
    upper = np.clip(into * frame.per_mm + 0.5, 0, 1)
    away = side * sleeve.mood.side > 0
    # On the light's side of the edge its shade is short, on the other the step throws it.
    thrown = (0.30 if away else 0.14) * sleeve.thickness
    shade = 0.34 * np.exp(-past / (0.32 * lip + 0.1)) + 0.26 * np.exp(-((past / (3 * thrown)) ** 2))
    # The edge rounds down from a lip that catches the light.
    fall = np.clip(1 - within / lip, 0, 1)
    round_off = 1 - (0.36 if away else 0.20) * fall**2.2
    lit = 0.085 * np.exp(-(((within - 1.15 * lip) / (0.55 * lip + 0.15)) ** 2))
    light = light * (upper * round_off * (1 + lit) + (1 - upper) * (1 - shade))
    if sleeve.finish != "foam":
        on, dent = stitches(v, into - 3.2, frame)
        light = light * (1 - 0.11 * dent) * (1 + 0.13 * on)
    far = into - sleeve.overlap
    return np.asarray(light * (1 - 0.06 * np.exp(-((far / 3.0) ** 2))))


def _covered(
    sleeve: Sleeve, frame: Frame, light: Floats, u: Floats, v: Floats
) -> tuple[Floats, Floats]:
    """Light with a strip over the ends of a wrap that meet, and where it hides the ink. Nobody
    said its colour: it is shown as bare cloth with a seam along each side."""
    assert sleeve.join is not None
    at = wrapped(u / sleeve.radius - sleeve.join) * sleeve.radius
    within = sleeve.strip / 2 - np.abs(at)  # mm, > 0: on the strip
    over = np.clip(within * frame.per_mm + 0.5, 0, 1)
    beside = np.exp(-np.maximum(-within, 0) / (1.6 if sleeve.mood.side * at.mean() > 0 else 1.0))
    edge = 1 - 0.22 * np.exp(-np.maximum(within, 0) / 0.7)
    on, dent = stitches(v, within - 2.2, frame)
    strip = 0.95 * edge * (1 - 0.13 * dent) * (1 + 0.10 * on)
    return light * (over * strip + (1 - over) * (1 - 0.30 * beside)), np.asarray(over)


# Sines of the angles between which a bound seam goes from before the wall to behind its limb.
BEFORE, BEHIND = 0.96, 0.996


def _bound(along: Floats, per_mm: float) -> Floats:
    """Light of the thread about a bound seam, 0 on the mean; mm along it."""
    return np.asarray(
        0.04 * np.sin(2 * math.pi * along / _BOUND) * smooth(2.2, 4.5, np.asarray(_BOUND * per_mm))
    )


def lay_limb_fins(layers: Layers, sleeve: Sleeve, frame: Frame, turn: float) -> None:
    """Bound seams of two faces where they stand out at the limbs: before the wall is drawn, which
    hides how they turn in below, and all of them but what reaches beyond its limb."""
    for seam in sleeve.seams:
        at = float(wrapped(seam - turn))
        hidden = (sleeve.radius + sleeve.fin) * (1 - abs(math.sin(at)))
        if hidden < sleeve.fin:
            _at_limb(layers, sleeve, frame, math.copysign(1.0, at), hidden)


def lay_near_fins(layers: Layers, sleeve: Sleeve, frame: Frame, cols: Columns, turn: float) -> None:
    """Those that stand out towards the camera."""
    for seam in sleeve.seams:
        at = float(wrapped(seam - turn))
        if abs(at) < math.pi / 2 and abs(math.sin(at)) < BEHIND:
            _towards(layers, sleeve, frame, cols, at)


def _outside(sleeve: Sleeve, x: Floats, v: Floats) -> Floats:
    """How far (mm) a place beside the axis lies outside the sleeve cut through there: a rectangle
    with the roundings of its edges. `v` is mm from the upper edge."""
    below = sleeve.height - v
    corner = np.where(v < below, min(sleeve.crest, sleeve.crest_deep), sleeve.sole)
    over_x = x - sleeve.radius + corner
    over_y = corner - np.minimum(v, below)
    outside = np.hypot(np.maximum(over_x, 0), np.maximum(over_y, 0))
    return np.asarray(outside + np.minimum(np.maximum(over_x, over_y), 0) - corner)


def _at_limb(layers: Layers, sleeve: Sleeve, frame: Frame, side: float, hidden: float) -> None:
    x, y = frame.xs()[None, :] + side * hidden, frame.ys()[:, None]
    v, fin, per = y / COS + sleeve.top, sleeve.fin, frame.per_mm
    beyond = _outside(sleeve, side * x, v)
    # It comes out of the rim, and runs out under the lower edge.
    reach = fin * (1 + 0.9 * grain(x * 0 + 5, v, 9.0, per))
    below = sleeve.height - v
    reach = reach * np.sqrt(smooth(0.0, 3.4, v) * smooth(-0.2, sleeve.sole + 1.6, below))
    cover = np.clip((reach - beyond) * per + 0.5, 0, 1) * np.clip((beyond + 0.3) * per, 0, 1)
    cover = cover * np.clip((side * x - sleeve.radius + 0.8 * sleeve.crest) * per, 0, 1)
    bow = np.sqrt(np.clip(1 - ((beyond / np.maximum(reach, 0.1) - 0.35) / 0.72) ** 2, 0, 1))
    light = (0.93 if side * sleeve.mood.side < 0 else 0.76) * (0.70 + 0.30 * bow) + bow * _bound(
        v + 0.5 * beyond, per
    )
    light = light * (1 - 0.22 * np.exp(-np.maximum(beyond, 0) / 0.45))
    light = light * (1 - 0.35 * np.clip(1 - below / 9.0, 0, 1) ** 1.5)
    layers.lay(cover, bare=np.clip(light, 0, 1))


def _towards(layers: Layers, sleeve: Sleeve, frame: Frame, cols: Columns, at: float) -> None:
    x, y, per = frame.xs()[None, :], frame.ys()[:, None], frame.per_mm
    middle = sleeve.radius * math.sin(at)
    near = int(np.argmin(np.abs(frame.xs() - middle)))
    v = (y - cols.down[near]) / COS
    below = (cols.last[near] - y) / COS
    away = x - middle
    # Over the rim it is laid in, at the base it runs out in the hem.
    over = v + 0.55 * sleeve.thickness * SIN
    seen = 1 - float(smooth(BEFORE, BEHIND, np.asarray(abs(math.sin(at)))))
    half = sleeve.bead * seen * (1 + 0.5 * grain(x * 0 + 5, v, 9.0, per))
    half = half * np.sqrt(np.clip(over / 1.0, 0, 1) * np.clip((below - 0.15) / 1.5, 0, 1))
    there = np.clip(over * per, 0, 1) * np.clip(below * per, 0, 1) * (v > 0)
    on_cloth = away / math.cos(at)  # its shade lies on the cloth and turns with it
    on_cloth = sleeve.mood.side * on_cloth
    dark = 0.34 * np.exp(-np.maximum(on_cloth - half, 0) / 1.1) * (on_cloth > 0)
    dark = dark + 0.20 * np.exp(-np.maximum(-on_cloth - half, 0) / 0.6) * (on_cloth < 0)
    layers.darken(1 - dark * there * seen)
    bow = np.sqrt(np.clip(1 - (away / (half + 0.15)) ** 2, 0, 1))
    light = (0.68 + 0.28 * bow) * (1 - 0.14 * smooth(-1.0, 1.2, sleeve.mood.side * away)) + _bound(
        v + 0.4 * away, per
    )
    light = light * (1 - 0.35 * np.clip(1 - below / (sleeve.sole + 1.5), 0, 1) ** 1.5)
    # Where it has run out nothing is left of it, not even half a pixel.
    cover = np.clip((half - np.abs(away)) * per + 0.5, 0, 1) * np.clip(half * per * 2, 0, 1)
    cover = cover * np.clip((sleeve.radius - np.abs(x)) * per + 0.5, 0, 1)
    layers.lay(cover, bare=np.clip(light, 0, 1))
