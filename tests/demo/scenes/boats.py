"""Boats of planks: a hull from its lines, with a wheelhouse, a mast and what lies about."""

from __future__ import annotations

import math

import numpy as np
from scenes.stage import (
    Colour,
    Solid,
    Stuff,
    Vec,
    ball,
    box,
    grid,
    hanging,
    joined,
    linear,
    put,
    shining,
    tube,
    wood,
)

STRAKES = 8
LAP = 0.028  # m that a plank stands out over the one above it


def hull_point(long: float, u: float, v: float, side: int, out: float = 0.0) -> Vec:
    """A point of the hull: u from stern 0 to bow 1, v from keel 0 to rail 1."""
    wide = long * 0.185
    fall = ((u - 0.42) / 0.58) ** 2.5 if u > 0.42 else 0.34 * ((0.42 - u) / 0.42) ** 2
    half = wide * max(1 - fall, 0.0)
    rail = long * (0.125 + 0.085 * u**2.6 + 0.012 * (1 - u) ** 2)
    keel = -long * 0.055 + long * 0.03 * max(0.0, u - 0.8) ** 2 * 25
    y = half * (1 - (1 - v) ** 2.3) ** 0.62 + out
    x = long * (u - 0.5) + long * 0.075 * u**6 * v
    return x, side * y, keel + (rail - keel) * v**1.15


def planks(long: float, low: int, high: int) -> Solid:
    """The strakes from one number to another, each standing out over the next, both sides."""
    us = [i / 48 for i in range(49)]
    parts: list[Solid] = []
    for side in (-1, 1):
        for k in range(low, high):
            v, w = k / STRAKES, (k + 1) / STRAKES
            lower = [hull_point(long, u, v, side, LAP * (1 - u**8)) for u in us]
            under = [hull_point(long, u, v, side) for u in us]
            upper = [hull_point(long, u, w, side, 0.004) for u in us]
            parts += [grid([under, lower]), grid([lower, upper])]
    return joined(parts)


def paint_by_height(name: str, low: Colour, line: Colour, main: Colour) -> Stuff:
    """Boat paint: red lead under the water's line, a thin line, then the boat's own colour."""
    stuff = Stuff(name, roughness=0.32)
    place = stuff.node("ShaderNodeSeparateXYZ", {"Vector": stuff.where()}).outputs["Z"]
    share = stuff.node("ShaderNodeMapRange", {"Value": place, "From Min": -0.5, "From Max": 1.5})
    stops = [(0.0, low), (0.285, line), (0.305, main)]
    tint = stuff.ramp(share.outputs[0], stops, "CONSTANT")
    worn = stuff.ramp(
        stuff.noise(3.0, 8, 0.7, (1, 1, 4)), [(0.35, (0.6, 0.6, 0.6)), (0.6, (1, 1, 1))]
    )
    mixed = stuff.node(
        "ShaderNodeMixRGB", {"Fac": 1.0, "Color1": tint, "Color2": worn}, blend_type="MULTIPLY"
    )
    stuff.feed("Base Color", mixed.outputs[0])
    return stuff.bump(stuff.noise(9, 4, 0.6, (0.3, 1, 2)), 0.004)


class Boat:
    """A boat being fitted out. All of its things share one place and one turn."""

    def __init__(self, long: float, colour: str, rail: str, at: Vec, turn: float) -> None:
        self.long, self.at, self.turn = long, at, math.radians(turn)
        main = paint_by_height("hull", linear("#6e2a20"), linear("#e9e2d0"), linear(colour))
        self.timber = wood("timber", linear("#9a6a3c"), linear("#4f3018"))
        self.white = Stuff("white", linear("#e8e2d2"), roughness=0.4)
        self.rope = Stuff("rope", linear("#b89f72"), roughness=0.9)
        self.fit(planks(long, 0, STRAKES - 1), main, smooth=True)
        self.fit(
            planks(long, STRAKES - 1, STRAKES),
            Stuff("rail", linear(rail), roughness=0.3),
            smooth=True,
        )
        self.hull()

    def fit(self, solid: Solid, stuff: Stuff, *, smooth: bool = False, bevel: float = 0.0) -> None:
        thing = put("boat", solid, stuff, smooth=smooth, bevel=bevel)
        thing.location, thing.rotation_euler = self.at, (math.radians(1.2), 0, self.turn)

    def hull(self) -> None:
        """Rail, stem, stern, floor and seats."""
        long = self.long
        us = [i / 40 for i in range(41)]
        rails = [tube([hull_point(long, u, 1.0, s, 0.01) for u in us], 0.035) for s in (-1, 1)]
        stem = tube([hull_point(long, 1.0, v / 12, 1) for v in range(13)], 0.05)
        self.fit(joined([*rails, stem]), self.timber, smooth=True)
        vs = [k / 12 for k in range(13)]
        stern = grid([[hull_point(long, 0, v, s) for v in vs] for s in (-1, 1)])
        floor = grid([[hull_point(long, u, 0.45, s, -0.03) for u in us[:37]] for s in (-1, 1)])
        seats = []
        for u in (0.12, 0.32, 0.52):
            _, y, z = hull_point(long, u, 0.78, 1)
            seats.append(box((long * (u - 0.5), 0, z), (0.26, 2 * y, 0.04)))
        self.fit(joined([stern, floor, *seats]), self.timber)

    def wheelhouse(self, glow: float) -> None:
        """A small white house with lit windows."""
        x, floor, high, wide, deep = self.long * 0.13, 0.35, 1.55, 1.1, 1.15
        self.fit(box((x, 0, floor + high / 2), (deep, wide, high)), self.white, bevel=0.03)
        self.fit(
            box((x - 0.05, 0, floor + high + 0.03), (deep + 0.24, wide + 0.2, 0.07)),
            self.timber,
            bevel=0.02,
        )
        pane = (
            shining("pane", (1.0, 0.62, 0.28), glow)
            if glow
            else Stuff("pane", (0.03, 0.05, 0.06), roughness=0.05)
        )
        z = floor + high * 0.7
        panes, frames = [], []
        for side in (-1, 1):
            for dx in (-0.27, 0.27):
                panes.append(box((x + dx, side * (wide / 2 + 0.004), z), (0.36, 0.02, 0.42)))
                frames.append(box((x + dx, side * wide / 2, z), (0.44, 0.02, 0.5)))
        for dy in (-0.27, 0.27):
            for end in (-1, 1):
                panes.append(box((x + end * (deep / 2 + 0.004), dy, z), (0.02, 0.36, 0.42)))
                frames.append(box((x + end * deep / 2, dy, z), (0.02, 0.44, 0.5)))
        self.fit(joined(frames), self.timber)
        self.fit(joined(panes), pane)

    def rig(self, sail: str) -> None:
        """A mast before the house, a boom with its furled sail, stays."""
        x, top = self.long * 0.26, self.long * 0.52
        boom = [(x - 0.05 - 2.6 * t, 0.0, 2.35 - 0.25 * t) for t in np.linspace(0, 1, 30)]
        mast = tube([(x, 0, 0.2), (x, 0, top)], [0.06, 0.035])
        self.fit(joined([mast, tube(boom, 0.035)]), self.timber, smooth=True)
        rng = np.random.default_rng(5)
        lumps = [
            0.1 + 0.035 * math.sin(9 * t) * math.sin(3 * t) + rng.normal(0, 0.008)
            for t in np.linspace(0, 3.1, 30)
        ]
        lifted = [(p[0], p[1], p[2] + 0.12) for p in boom]
        cloth = Stuff("sail", linear(sail), roughness=0.85)
        self.fit(tube(lifted, lumps, 16), cloth.bump(cloth.noise(14), 0.03), smooth=True)
        bow = hull_point(self.long, 0.99, 1.0, 1)
        stays = [
            tube([(x, 0, top), end], 0.009, 6)
            for end in (
                bow,
                (x - 0.3, hull_point(self.long, 0.7, 1, 1)[1], 1.0),
                (x - 0.3, -hull_point(self.long, 0.7, 1, 1)[1], 1.0),
                (-self.long * 0.49, 0.0, 0.9),
            )
        ]
        self.fit(joined(stays), Stuff("wire", (0.05, 0.05, 0.05), roughness=0.4))

    def gear(self, floats_are: str) -> None:
        """Floats over the side, a coil of rope, a heap of net."""
        floats = []
        lines = []
        for u in (0.2, 0.42, 0.64):
            x, y, z = hull_point(self.long, u, 0.72, 1, 0.02)
            floats.append(ball((x, y + 0.15, z), (0.13, 0.13, 0.17)))
            lines.append(
                tube([(x, y + 0.13, z + 0.15), hull_point(self.long, u, 1.0, 1)], 0.012, 6)
            )
        self.fit(joined(floats), Stuff("float", linear(floats_are), roughness=0.35), smooth=True)
        net = Stuff("net", linear("#2f5a54"), roughness=0.9)
        self.fit(
            ball((-self.long * 0.33, 0.1, 0.55), (0.7, 0.5, 0.34)),
            net.bump(net.noise(16, 6), 0.12),
            smooth=True,
        )
        self.fit(joined(lines), self.rope)

    def moored(self, u: float, side: int, to: Vec) -> None:
        """A line from the rail to a place on the quay."""
        x, y, z = hull_point(self.long, u, 1.0, side)
        cos, sin = math.cos(self.turn), math.sin(self.turn)
        start = (self.at[0] + x * cos - y * sin, self.at[1] + x * sin + y * cos, self.at[2] + z)
        put("line", tube(hanging(start, to, 0.35), 0.018, 8), self.rope, smooth=True)
