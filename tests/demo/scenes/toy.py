"""A tin dog on wheels, let go on a wide wet beach: seen from low down, sharp where it runs."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
from scenes import stage
from scenes.film import Film
from scenes.stage import Solid, Stuff, ball, box, joined, linear, put, tube, turned

AXLE = 0.017  # m above the sand


def grown(name: str, solids: list[Solid], stuff: Stuff, fine: float) -> Any:
    """Solids grown together into one skin, its joints rounded: pressed tin."""
    thing = put(name, joined(solids), stuff, smooth=True)
    one = thing.modifiers.new("one", "REMESH")
    one.mode, one.voxel_size, one.use_smooth_shade = "VOXEL", fine, True
    soft = thing.modifiers.new("soft", "SMOOTH")
    soft.factor, soft.iterations = 0.5, 9
    return thing


def coat() -> Stuff:
    """Printed tin: a brown coat with white marks by place, worn to the metal at spots."""
    stuff = Stuff("coat", roughness=0.24, coat_weight=0.6)
    place = stuff.node("ShaderNodeSeparateXYZ", {"Vector": stuff.where()})
    x, z = place.outputs["X"], place.outputs["Z"]
    wave = stuff.noise(26, 2, 0.4)
    low = stuff.node(
        "ShaderNodeMath",
        {
            0: z,
            1: stuff.node("ShaderNodeMath", {0: wave, 1: 0.03}, operation="MULTIPLY").outputs[0],
        },
        operation="ADD",
    ).outputs[0]
    belly = stuff.node(
        "ShaderNodeMapRange", {"Value": low, "From Min": 0.0575, "From Max": 0.0585}
    ).outputs[0]
    snout = stuff.node(
        "ShaderNodeMapRange", {"Value": x, "From Min": 0.0775, "From Max": 0.0765}
    ).outputs[0]
    brown = stuff.node("ShaderNodeMath", {0: belly, 1: snout}, operation="MULTIPLY").outputs[0]
    coat_tint = stuff.ramp(brown, [(0.45, linear("#efe3c6")), (0.55, linear("#a4561f"))], "LINEAR")
    patch = stuff.ramp(stuff.noise(13, 1, 0.3), [(0.585, (0, 0, 0)), (0.592, (1, 1, 1))], "LINEAR")
    dark = stuff.node(
        "ShaderNodeMixRGB", {"Fac": patch, "Color1": coat_tint, "Color2": (*linear("#5f2d12"), 1)}
    ).outputs[0]
    worn = stuff.ramp(stuff.noise(90, 8, 0.75), [(0.68, (0, 0, 0)), (0.71, (1, 1, 1))], "LINEAR")
    tint = stuff.node(
        "ShaderNodeMixRGB", {"Fac": worn, "Color1": dark, "Color2": (*linear("#8d8578"), 1)}
    ).outputs[0]
    stuff.feed("Base Color", tint).feed("Metallic", worn)
    return stuff.bump(stuff.noise(40, 3), 0.0006)


def body(tin: Stuff) -> None:
    """Trunk, neck, head, legs stretched in a gallop, tail."""
    parts = [
        ball((-0.012, 0, 0.072), (0.05, 0.021, 0.022)),
        ball((0.026, 0, 0.076), (0.024, 0.02, 0.024)),
        ball((-0.046, 0, 0.072), (0.02, 0.019, 0.021)),
        ball((0.07, 0, 0.112), (0.02, 0.0165, 0.0175)),
        ball((0.09, 0, 0.106), (0.0165, 0.0105, 0.0095)),
        tube([(0.034, 0, 0.084), (0.06, 0, 0.106)], [0.0165, 0.0135], 20),
    ]
    for side in (-1, 1):
        y = side * 0.0125
        parts.append(
            tube(
                [(0.034, y, 0.068), (0.056, y, 0.05), (0.068, y, 0.026)],
                [0.0095, 0.0066, 0.0052],
                14,
            )
        )
        parts.append(ball((0.071, y, 0.0235), (0.0095, 0.0062, 0.005), 14))
        parts.append(
            tube(
                [(-0.05, y, 0.068), (-0.066, y, 0.05), (-0.074, y, 0.026)],
                [0.0115, 0.0066, 0.0052],
                14,
            )
        )
        parts.append(ball((-0.071, y, 0.0235), (0.0095, 0.0062, 0.005), 14))
    tail = [(-0.06, 0, 0.082), (-0.08, 0, 0.094), (-0.092, 0, 0.114), (-0.088, 0, 0.13)]
    parts.append(tube(tail, [0.006, 0.0048, 0.0036, 0.0026], 12))
    grown("dog", parts, tin, 0.0014)
    seam = Stuff("seam", linear("#b9a98c"), metallic=0.9, roughness=0.35)
    put("seam", joined([box((-0.012, 0, 0.0495), (0.07, 0.0012, 0.004))]), seam)


def features() -> None:
    """Ears, eyes, nose, collar, the key in its side."""
    ear = Stuff("ear", linear("#5f2d12"), roughness=0.25, coat_weight=0.5)
    for side in (-1, 1):
        flap = [
            (0.063, side * 0.015, 0.124),
            (0.056, side * 0.0205, 0.115),
            (0.05, side * 0.022, 0.101),
            (0.05, side * 0.021, 0.094),
        ]
        thing = put("ear", tube(flap, [0.004, 0.0075, 0.0085, 0.004], 16), ear, smooth=True)
        thing.scale = (1.0, 1.0, 1.0)
        put(
            "white",
            ball((0.0815, side * 0.0108, 0.1165), (0.0038, 0.0032, 0.0042), 20),
            Stuff("white", linear("#f5efdf"), roughness=0.15),
            smooth=True,
        )
        put(
            "eye",
            ball((0.0832, side * 0.0125, 0.1168), (0.0023, 0.0023, 0.0027), 20),
            Stuff("eye", (0.01, 0.008, 0.008), roughness=0.08),
            smooth=True,
        )
    put(
        "nose",
        ball((0.1062, 0, 0.1095), (0.0042, 0.0052, 0.0038), 20),
        Stuff("nose", (0.012, 0.01, 0.01), roughness=0.12),
        smooth=True,
    )
    ring = [
        (
            0.05 + 0.0135 * math.sin(a) * 0.78,
            0.0158 * math.cos(a),
            0.0965 - 0.0135 * math.sin(a) * 0.72,
        )
        for a in np.linspace(0, 2 * math.pi, 50)
    ]
    put(
        "collar",
        tube(ring, 0.0025, 10),
        Stuff("collar", linear("#b5302a"), roughness=0.3, coat_weight=0.5),
        smooth=True,
    )
    brass = Stuff("brass", linear("#cfa24a"), metallic=1.0, roughness=0.25)
    put("tag", ball((0.0575, -0.003, 0.0835), (0.0016, 0.0045, 0.0055), 20), brass, smooth=True)
    stem = tube([(-0.022, -0.019, 0.078), (-0.022, -0.034, 0.078)], 0.0021, 12)
    loops = [
        tube(
            [
                (-0.022 + s * (0.0075 + 0.0062 * math.cos(a)), -0.035, 0.078 + 0.0062 * math.sin(a))
                for a in np.linspace(0, 2 * math.pi, 30)
            ],
            0.0016,
            10,
        )
        for s in (-1, 1)
    ]
    put("key", joined([stem, *loops]), brass, smooth=True)


def wheels() -> None:
    """A tin frame on four red wheels."""
    frame = Stuff("frame", linear("#2c5f86"), roughness=0.3, coat_weight=0.5)
    bars = [box((0.0, y, AXLE + 0.0035), (0.17, 0.006, 0.0035)) for y in (-0.0125, 0.0125)]
    bars += [box((x, 0, AXLE + 0.0035), (0.007, 0.031, 0.0034)) for x in (-0.07, 0.07)]
    put("frame", joined(bars), frame, bevel=0.0008)
    red = Stuff("wheel", linear("#b3372a"), roughness=0.28, coat_weight=0.5)
    tyre = Stuff("tyre", linear("#e6d9b8"), roughness=0.35)
    steel = Stuff("steel", linear("#a7a39b"), metallic=1.0, roughness=0.3)
    rim = [
        (0.0, -0.003),
        (0.012, -0.003),
        (0.0135, -0.0018),
        (0.0135, 0.0018),
        (0.012, 0.003),
        (0.0, 0.003),
    ]
    edge = [(0.0132, -0.0026), (0.0165, -0.002), (0.017, 0.0), (0.0165, 0.002), (0.0132, 0.0026)]
    hub = [(0.0, 0.0055), (0.003, 0.005), (0.0034, -0.005), (0.0, -0.0055)]
    for x in (-0.062, 0.062):
        put("axle", tube([(x, -0.026, AXLE), (x, 0.026, AXLE)], 0.0014), steel, smooth=True)
        for y in (-0.024, 0.024):
            for profile, stuff in ((rim, red), (edge, tyre), (hub, steel)):
                thing = put("wheel", turned(profile, (0, 0, 0), 56), stuff, smooth=True)
                thing.location, thing.rotation_euler = (x, y, AXLE), (math.pi / 2, 0, 0)


def beach() -> None:
    """Sand with ripples, wheel tracks, shells; the wet edge; waves and the headland beyond."""
    sand = Stuff("sand", roughness=0.75)
    place = sand.node("ShaderNodeSeparateXYZ", {"Vector": sand.where()})
    wander = sand.node(
        "ShaderNodeMath", {0: sand.noise(0.5, 3), 1: 0.8}, operation="MULTIPLY"
    ).outputs[0]
    away = sand.node("ShaderNodeMath", {0: place.outputs["Y"], 1: wander}, operation="ADD").outputs[
        0
    ]
    wet = sand.node(
        "ShaderNodeMapRange", {"Value": away, "From Min": 1.0, "From Max": 1.7}
    ).outputs[0]
    grains = sand.noise(2600, 2, 0.6)
    dry = sand.ramp(
        grains, [(0.25, linear("#8a6f4c")), (0.5, linear("#c2a67a")), (0.75, linear("#e3cda4"))]
    )
    damp = sand.node(
        "ShaderNodeMixRGB", {"Fac": wet, "Color1": dry, "Color2": (*linear("#6e5a42"), 1)}
    ).outputs[0]
    sand.feed("Base Color", damp)
    sand.feed("Roughness", sand.ramp(wet, [(0.0, (0.8, 0.8, 0.8)), (1.0, (0.12, 0.12, 0.12))]))
    less = sand.node("ShaderNodeMapRange", {"Value": wet, "To Min": 1.0, "To Max": 0.06}).outputs[0]
    for height, deep in (
        (sand.noise(22, 3, 0.5, (1, 0.35, 1)), 0.006),
        (sand.noise(170, 5, 0.65), 0.0016),
        (grains, 0.0005),
    ):
        lumps = sand.node("ShaderNodeMath", {0: height, 1: less}, operation="MULTIPLY").outputs[0]
        sand.bump(lumps, deep)
    put(
        "sand",
        ([(-60, -2, 0), (60, -2, 0), (60, 14, -0.02), (-60, 14, -0.02)], [(0, 1, 2, 3)]),
        sand,
    )
    rng = np.random.default_rng(21)
    pebbles = []
    for _ in range(260):
        y = rng.uniform(-0.4, 1.6)
        x, r = rng.uniform(-0.5, 0.5) * (1 + y), 0.0012 + 0.004 * rng.random() ** 4
        if abs(y) > 0.05 or abs(x) > 0.12:
            pebbles.append(ball((x, y, r * 0.2), (r * rng.uniform(1, 1.7), r, r * 0.6), 12))
    put(
        "pebbles",
        joined(pebbles[:130]),
        Stuff("shell", linear("#d9cbb2"), roughness=0.4),
        smooth=True,
    )
    put(
        "stones",
        joined(pebbles[130:]),
        Stuff("stone", linear("#57504a"), roughness=0.5),
        smooth=True,
    )
    water()


def water() -> None:
    """The sea, three lines of foam coming in, a headland."""
    sea = Stuff("sea", linear("#2f7f8c"), roughness=0.1, ior=1.33)
    sea.bump(sea.noise(0.9, 4, 0.55, (0.25, 1, 1)), 0.35)
    put("sea", ([(-900, 5, 0), (900, 5, 0), (900, 3000, 0), (-900, 3000, 0)], [(0, 1, 2, 3)]), sea)
    foam = Stuff("foam", linear("#f4f3ee"), roughness=0.8)
    rng = np.random.default_rng(9)
    for y, thick in ((5.0, 0.05), (7.5, 0.12), (13.0, 0.3), (30.0, 0.5)):
        xs = np.linspace(-40, 40, 220)
        wave = np.cumsum(rng.normal(0, 0.05, 220)) + 0.3 * np.sin(xs / 3)
        radii = [
            float(max(thick * (0.6 + 0.5 * math.sin(x * 0.7 + y) + rng.normal(0, 0.12)), 0.01))
            for x in xs
        ]
        line = put(
            "foam",
            tube(
                [(float(x), y + float(w), 0.02) for x, w in zip(xs, wave, strict=True)], radii, 10
            ),
            foam,
            smooth=True,
        )
        line.scale = (1.0, 1.0, 0.3)
    xs = np.linspace(120, 700, 60)
    tops = [5 + 48 * min(1.0, (x - 120) / 190) ** 0.6 + rng.normal(0, 1.2) for x in xs]
    rows = [
        [(float(x), 900.0, 0.0) for x in xs],
        [(float(x), 930.0, float(t)) for x, t in zip(xs, tops, strict=True)],
    ]
    put("headland", stage.grid(rows), Stuff("headland", linear("#7c8f86"), roughness=1.0))


def light() -> None:
    """A late afternoon: sun from behind on the left, a bright sky with a few clouds."""
    tints = [linear(c) for c in ("#e6e4da", "#c6dbe6", "#95bfdd", "#5d97cb", "#3c78b4")]

    def paint(s: Stuff, way: object) -> object:
        z = s.node("ShaderNodeSeparateXYZ", {"Vector": way}).outputs["Z"]
        tint = s.ramp(z, list(zip((0.0, 0.06, 0.2, 0.5, 1.0), tints, strict=True)), "LINEAR")
        flat = s.node("ShaderNodeMapping", {"Vector": way, "Scale": (1.6, 1.6, 7.0)}).outputs[0]
        lumps = s.node("ShaderNodeTexNoise", {"Vector": flat, "Scale": 1.7, "Detail": 8.0}).outputs[
            0
        ]
        cover = s.ramp(lumps, [(0.5, (0, 0, 0)), (0.7, (0.9, 0.9, 0.9))])
        return s.node(
            "ShaderNodeMixRGB", {"Fac": cover, "Color1": tint, "Color2": (1.0, 0.97, 0.92, 1)}
        ).outputs[0]

    stage.sky(paint, 0.95)
    sun = stage.lamp("SUN", (-5, -4.2, 4.2), 4.2, (1.0, 0.87, 0.68), 0.55)
    stage.aim(sun, (0, 0, 0))


def toy() -> Film:
    """Builds the scene; gives the film it is taken on."""
    stage.empty()
    light()
    beach()
    body(coat())
    features()
    wheels()
    stage.camera((0.07, -0.62, 0.125), (0.006, 0, 0.036), mm=31, stop=2.0, focus=0.615, roll=-0.6)
    return Film(stops=0.05, warm=0.02, glow=0.04, grain=2.0)
