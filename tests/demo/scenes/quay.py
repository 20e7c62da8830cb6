"""A jetty with boats: at dusk, or on a summer's morning."""

from __future__ import annotations

import math

import numpy as np
from scenes import stage
from scenes.boats import Boat
from scenes.film import Film
from scenes.stage import Solid, Stuff, Vec, box, joined, linear, put, tube

EDGE = 3.1  # m: where the jetty begins, right of the middle
DECK = 1.15  # m above the water


def heavens(morning: bool) -> None:
    """A sky by height, brighter toward the sun on the left, with streaks of cloud."""
    dusk = ["#ffb27a", "#f6a887", "#b8a2b4", "#5f80a8", "#2c4a78"]
    day = ["#eef0e6", "#cfe0ea", "#9cc4e2", "#5f9dd2", "#2f6fb5"]
    tints = [linear(code) for code in (day if morning else dusk)]

    def paint(s: Stuff, way: object) -> object:
        parts = s.node("ShaderNodeSeparateXYZ", {"Vector": way})
        x, y, z = (parts.outputs[i] for i in range(3))
        stops = list(zip((0.0, 0.05, 0.16, 0.36, 1.0), tints, strict=True))
        tint = s.ramp(z, stops, "LINEAR")
        over = s.node("ShaderNodeMath", {0: z, 1: 0.09}, operation="ADD").outputs[0]
        flat = s.node("ShaderNodeCombineXYZ", {
            "X": s.node("ShaderNodeMath", {0: x, 1: over}, operation="DIVIDE").outputs[0],
            "Y": s.node("ShaderNodeMath", {0: y, 1: over}, operation="DIVIDE").outputs[0],
        }).outputs[0]  # fmt: skip
        spread = s.node("ShaderNodeMapping", {"Vector": flat, "Scale": (0.35, 1.3, 1)}).outputs[0]
        lumps = s.node(
            "ShaderNodeTexNoise", {"Vector": spread, "Scale": 0.9, "Detail": 9.0, "Roughness": 0.6}
        )
        cover = s.ramp(lumps.outputs[0], [(0.5, (0, 0, 0)), (0.78, (0.8, 0.8, 0.8))])
        cloud = linear("#ffffff") if morning else linear("#ffb79a")
        mixed = s.node(
            "ShaderNodeMixRGB", {"Fac": cover, "Color1": tint, "Color2": (*cloud, 1)}
        ).outputs[0]
        sunward = s.node(
            "ShaderNodeMapRange",
            {"Value": x, "From Min": 0.9, "From Max": -0.9, "To Min": 0.55, "To Max": 1.35},
        )
        return s.node(
            "ShaderNodeMixRGB",
            {"Fac": 1.0, "Color1": mixed, "Color2": sunward.outputs[0]},
            blend_type="MULTIPLY",
        ).outputs[0]

    stage.sky(paint, 1.05 if morning else 0.62)
    if morning:
        sun = stage.lamp("SUN", (-9, -6, 8), 3.6, (1.0, 0.9, 0.76), 0.6)
        stage.aim(sun, (0, 0, 0))
    else:
        sun = stage.lamp("SUN", (-10, -4.5, 2.2), 3.0, (1.0, 0.52, 0.28), 2.0)
        stage.aim(sun, (0, 0, 0))


def water(morning: bool) -> None:
    """Rippled water to the horizon: small waves over larger ones, calmer in patches."""
    tint = linear("#12404a") if morning else linear("#0c2630")
    stuff = Stuff("water", tint, roughness=0.03, ior=1.33)
    stuff.bump(stuff.noise(0.55, 2, 0.5, (0.5, 1, 1)), 0.2, 0.55)
    stuff.bump(stuff.noise(2.6, 4, 0.55, (0.6, 1, 1)), 0.035, 0.9)
    far = 3000.0
    put(
        "water",
        ([(-far, -20, 0), (far, -20, 0), (far, far, 0), (-far, far, 0)], [(0, 1, 2, 3)]),
        stuff,
    )


def jetty(glow: float) -> None:
    """Planks on piles, running away on the right, with lamps."""
    rng = np.random.default_rng(3)
    planks: list[Solid] = []
    piles: list[Solid] = []
    for i in range(360):
        size = (2.6 + rng.normal(0, 0.03), 0.185, 0.06)
        at = (EDGE + 1.3 + rng.normal(0, 0.015), 6 + 0.205 * i, DECK + rng.normal(0, 0.004))
        planks.append(box(at, size, rng.normal(0, 0.4)))
    for i in range(24):
        for x in (EDGE + 0.1, EDGE + 2.5):
            lean = rng.normal(0, 0.05, 2)
            y = 8.0 + 3.1 * i
            top = DECK + (0.42 if i % 2 == 0 else -0.05) + rng.normal(0, 0.03)
            piles.append(tube([(x, y, -2), (x + lean[0], y + lean[1], top)], 0.15, 20))
    beams = [box((x, 43, DECK - 0.17), (0.16, 74, 0.24)) for x in (EDGE + 0.1, EDGE + 2.5)]
    put(
        "planks",
        joined(planks),
        stage.wood("planks", linear("#a08c74"), linear("#54463a"), 0, 0.7),
        bevel=0.008,
    )
    pile = Stuff("pile", roughness=0.75)
    height = pile.node("ShaderNodeSeparateXYZ", {"Vector": pile.where()}).outputs["Z"]
    wet = pile.node("ShaderNodeMath", {0: height, 1: pile.noise(3, 5)}, operation="ADD").outputs[0]
    half = pile.node("ShaderNodeMath", {0: wet, 1: 0.5}, operation="MULTIPLY").outputs[0]
    stops = [(0.3, linear("#141d14")), (0.42, linear("#33382a")), (0.6, linear("#6a5847"))]
    pile.feed("Base Color", pile.ramp(half, stops)).bump(pile.noise(8, 6, 0.7, (1, 1, 0.12)), 0.03)
    put("piles", joined(piles), pile, smooth=True)
    put("beams", joined(beams), stage.wood("beams", linear("#7a634c"), linear("#3a2c20"), 1))
    for y in (15.5, 27.9, 40.3, 52.7, 65.1):
        light_post((EDGE + 2.35, y, DECK), glow)
    crates = [
        ((EDGE + 1.9, 20.0, DECK + 0.2), "#2f6f8f"),
        ((EDGE + 1.95, 20.05, DECK + 0.5), "#c9a13a"),
        ((EDGE + 1.8, 20.9, DECK + 0.2), "#b5482f"),
    ]
    for at, tint in crates:
        put(
            "crate",
            box(at, (0.55, 0.75, 0.28), 8),
            Stuff("crate", linear(tint), roughness=0.45),
            bevel=0.03,
        )


def light_post(at: Vec, glow: float) -> None:
    """An iron post with a glass lamp."""
    iron = Stuff("iron", (0.03, 0.035, 0.035), roughness=0.5)
    x, y, z = at
    foot = stage.turned(
        [(0.1, 0), (0.1, 0.25), (0.06, 0.35), (0.04, 0.4), (0.034, 2.7), (0.07, 2.75), (0.0, 2.76)],
        at,
        20,
    )
    cap = stage.turned([(0.17, 3.1), (0.16, 3.14), (0.05, 3.27), (0.02, 3.34), (0.0, 3.36)], at, 20)
    put("post", joined([foot, cap]), iron, smooth=True)
    bulb = stage.turned([(0.0, 2.76), (0.08, 2.78), (0.13, 3.1), (0.0, 3.1)], at, 20)
    if glow:
        put("glass", bulb, stage.shining("glass", (1.0, 0.66, 0.32), glow), smooth=True)
        stage.lamp("POINT", (x - 0.02, y, z + 2.6), 60, (1.0, 0.62, 0.3), 0.1)
    else:
        put("glass", bulb, Stuff("glass", linear("#dfe3dc"), roughness=0.15), smooth=True)


def shore(morning: bool) -> None:
    """What lies across the water."""
    rng = np.random.default_rng(8)
    hills(morning, rng)
    town(morning, rng)


def hills(morning: bool, rng: np.random.Generator) -> None:
    """Two lines of hills, the far one paler."""
    for y, high, tint in (
        ((900, 44, "#8fa9bd"), (640, 21, "#7590a0"))
        if morning
        else ((900, 44, "#8d8aa2"), (640, 21, "#5d6078"))
    ):
        xs = np.linspace(-900, 900, 200)
        wave = sum(
            np.sin(xs / w + p) / k for k, (w, p) in enumerate(((160, 1.0), (71, 2.2), (29, 0.5)), 1)
        )
        tops = high * (0.55 + 0.25 * wave) + rng.normal(0, high * 0.006, len(xs))
        rows = [
            [(float(x), float(y), 0.0) for x in xs],
            [(float(x), y + 30.0, float(max(t, 2))) for x, t in zip(xs, tops, strict=True)],
        ]
        hill = stage.shining("hill", linear(tint), 0.5 if morning else 0.22)
        hill.surface.inputs["Roughness"].default_value = 1.0
        put("hill", stage.grid(rows), hill)


def town(morning: bool, rng: np.random.Generator) -> None:
    """Houses along the water, with lights in their windows at dusk."""
    walls = ["#d8cdb8", "#c98f78", "#e0c48f", "#8fa7b0", "#cfd2cc", "#b5675a", "#dfe0d6", "#7f9a8c"]
    panes: list[Solid] = []
    x = -150.0
    while x < 90:
        wide, high = rng.uniform(5, 9), rng.uniform(5.5, 10)
        y = 300 + rng.uniform(0, 6)
        tint = linear(walls[int(rng.integers(len(walls)))])
        put(
            "house",
            box((x + wide / 2, y + 4, high / 2 + 1), (wide, 8, high)),
            Stuff("wall", tint, roughness=0.9),
        )
        slates = Stuff(
            "roof", linear(("#4b4a50", "#5a463f", "#3f4850")[int(rng.integers(3))]), roughness=0.8
        )
        if rng.random() < 0.45:
            put("roof", gable((x, y, high + 1), wide, 8, wide * 0.36), slates)
        else:
            put("roof", box((x + wide / 2, y + 5, high + 1.9), (wide + 0.4, 7, 2.0)), slates)
            put("chimney", box((x + wide * 0.2, y + 6, high + 3.2), (0.9, 0.9, 2.2)), slates)
        for fx in np.arange(1.0, wide - 1.2, 1.9):
            for fz in np.arange(2.4, high - 0.6, 2.6):
                if rng.random() < 0.28:
                    panes.append(box((x + fx + 0.5, y - 0.1, fz + 1), (0.7, 0.1, 1.0)))
        x += wide + (rng.uniform(4, 16) if rng.random() < 0.2 else 0.0)
    put(
        "wall",
        box((-30, 297, 0.6), (300, 4, 2.6)),
        Stuff("stone", linear("#6a6a68"), roughness=0.9),
    )
    put(
        "panes",
        joined(panes),
        Stuff("pane", (0.02, 0.03, 0.04))
        if morning
        else stage.shining("pane", (1.0, 0.6, 0.25), 2.5),
    )
    if not morning:
        spots = [
            stage.ball((float(p), 296.0, 5.0), (0.28, 0.28, 0.28), 8)
            for p in np.arange(-150, 90, 12.5)
        ]
        put("street", joined(spots), stage.shining("street", (1.0, 0.7, 0.4), 60))


def gable(at: Vec, wide: float, deep: float, high: float) -> Solid:
    """A roof with its pointed end toward us; `at` is its lower left corner."""
    x, y, z = at
    verts = [
        (x + a * wide, y + b * deep, z + high * (a == 0.5)) for b in (0, 1) for a in (0, 0.5, 1)
    ]
    return verts, [(0, 1, 2), (3, 4, 5), (0, 1, 4, 3), (1, 2, 5, 4)]


def near() -> None:
    """What stands close by, out of focus: a bollard with a turn of rope on the edge of our quay."""
    stone = Stuff("edge", linear("#8d867a"), roughness=0.9)
    put(
        "edge",
        box((-1.9, 4.0, 0.42), (2.6, 1.5, 0.5), -9),
        stone.bump(stone.noise(18, 6), 0.03),
        bevel=0.03,
    )
    at = (-1.3, 4.3, 0.65)
    iron = Stuff("bollard", linear("#20242a"), roughness=0.45, metallic=0.3)
    shape = [
        (0.12, 0.0),
        (0.1, 0.06),
        (0.085, 0.2),
        (0.1, 0.3),
        (0.15, 0.34),
        (0.15, 0.38),
        (0.08, 0.42),
        (0.0, 0.43),
    ]
    put("bollard", stage.turned(shape, at, 40), iron.bump(iron.noise(30), 0.006), smooth=True)
    turns = [
        (at[0] + 0.11 * math.cos(a), at[1] + 0.11 * math.sin(a), at[2] + 0.08 + 0.006 * a)
        for a in np.linspace(0, 22, 160)
    ]
    put(
        "turns", tube(turns, 0.02, 10), Stuff("rope", linear("#c7ae80"), roughness=0.9), smooth=True
    )


def quay(morning: bool = False) -> Film:
    """Builds the scene; gives the film it is taken on."""
    stage.empty()
    heavens(morning)
    water(morning)
    jetty(0.0 if morning else 90.0)
    shore(morning)
    near()
    main = Boat(6.2, "#d97a1c" if morning else "#20505c", "#efe7d4", (0.15, 23.2, 0), 203)
    main.wheelhouse(0.0 if morning else 1.7)
    main.rig("#7d2f24" if morning else "#8a3b2a")
    main.gear("#e9e4d6" if morning else "#d9622b")
    main.moored(0.02, 1, (EDGE + 0.1, 26.6, DECK + 0.3))
    main.moored(0.95, 1, (EDGE + 0.1, 20.4, DECK + 0.3))
    for at, turn, tint, rail, long in (
        ((-7.4, 33.0, 0), 160, "#b5432f", "#efe6d2", 4.6),
        ((-4.6, 41.0, 0), 20, "#d9d3c2", "#2f5d7c", 4.2),
        ((-14.5, 58.0, 0), 190, "#2f5d7c", "#efe6d2", 6.5),
        ((1.0, 62.0, 0), 175, "#3d5a45", "#e6dcc4", 6.0),
    ):
        other = Boat(long, tint, rail, at, turn)
        if long > 5:
            other.wheelhouse(0.0 if morning else 4.0)
            other.rig("#d8cdb6")
    stage.camera((0, 0, 1.75), (0, 23, 0.12), mm=46, stop=1.0, focus=22.2, roll=0.35)
    if morning:
        return Film(stops=0.5, warm=0.05, colour=1.08)
    return Film(stops=0.75, warm=0.05, glow=0.09)


def morning() -> Film:
    """The same quay in the morning, with another boat."""
    return quay(morning=True)
