"""A brass lamp on a window sill at nightfall, rain on the panes, a lighthouse over the water."""

from __future__ import annotations

import math

import numpy as np
from painting.brush import smooth
from scenes import stage
from scenes.film import Film
from scenes.stage import Solid, Stuff, Vec, ball, box, joined, linear, put, tube, turned

PANE = 0.235  # m behind the sill's front where the glass stands


def clear(name: str, tint: tuple[float, float, float] = (1, 1, 1)) -> Stuff:
    """Thin glass: light goes straight through, and glances off at a slant."""
    stuff = Stuff(name)
    through = stuff.node("ShaderNodeBsdfTransparent", {"Color": (*tint, 1)}).outputs[0]
    off = stuff.node("ShaderNodeBsdfGlossy", {"Roughness": 0.02}).outputs[0]
    slant = stuff.node("ShaderNodeFresnel", {"IOR": 1.45}).outputs[0]
    slant = stuff.node("ShaderNodeMath", {0: slant, 1: 0.55}, operation="MULTIPLY").outputs[0]
    both = stuff.node("ShaderNodeMixShader", {0: slant, 1: through, 2: off}).outputs[0]
    stuff.links.new(both, stuff.nodes["Material Output"].inputs["Surface"])
    return stuff


def oil_lamp(at: Vec) -> None:
    """Foot, stem and tank of brass, a burner with its wheel, a chimney, a flame."""
    brass = Stuff("brass", linear("#c99a3f"), metallic=1.0, roughness=0.22)
    stains = brass.noise(22, 6, 0.65)
    brass.feed(
        "Roughness", brass.ramp(stains, [(0.35, (0.16, 0.16, 0.16)), (0.7, (0.42, 0.42, 0.42))])
    )
    brass.feed(
        "Base Color", brass.ramp(stains, [(0.3, linear("#d2a347")), (0.75, linear("#9a7232"))])
    )
    body = [
        (0.0, 0.0), (0.062, 0.0), (0.066, 0.004), (0.064, 0.012), (0.05, 0.018), (0.03, 0.026),
        (0.02, 0.036), (0.017, 0.048), (0.022, 0.056), (0.022, 0.06), (0.034, 0.066), (0.054, 0.08),
        (0.061, 0.096), (0.06, 0.11), (0.05, 0.124), (0.036, 0.131), (0.026, 0.134), (0.026, 0.142),
        (0.03, 0.144), (0.03, 0.149), (0.022, 0.152), (0.02, 0.158), (0.038, 0.163), (0.039, 0.176),
        (0.0365, 0.176), (0.036, 0.166), (0.016, 0.162), (0.0, 0.162),
    ]  # fmt: skip
    put("brass", turned(body, at, 96), brass, smooth=True)
    x, y, z = at
    wheel = [
        tube([(x + 0.02, y - 0.012, z + 0.155), (x + 0.058, y - 0.022, z + 0.155)], 0.0022),
        tube([(x + 0.056, y - 0.0215, z + 0.155), (x + 0.0595, y - 0.0225, z + 0.155)], 0.0085, 20),
    ]
    prongs = [tube([(x + 0.0375 * math.cos(a), y + 0.0375 * math.sin(a), z + 0.17),
                    (x + 0.0345 * math.cos(a), y + 0.0345 * math.sin(a), z + 0.198)], 0.0016)
              for a in np.linspace(0.3, 2 * math.pi + 0.3, 7)[:-1]]  # fmt: skip
    put("wheel", joined([*wheel, *prongs]), brass, smooth=True)
    chimney = [
        (0.0325, 0.166),
        (0.0325, 0.18),
        (0.034, 0.19),
        (0.041, 0.212),
        (0.0425, 0.226),
        (0.039, 0.244),
        (0.031, 0.264),
        (0.0255, 0.286),
        (0.0235, 0.32),
        (0.0237, 0.345),
        (0.0245, 0.35),
    ]
    fine = smooth_profile(chimney)
    put("chimney", turned(fine, at, 96), clear("chimney", (0.98, 0.96, 0.92)), smooth=True)
    flame = [
        (0.0, 0.17),
        (0.008, 0.174),
        (0.0115, 0.184),
        (0.0105, 0.196),
        (0.0062, 0.212),
        (0.0022, 0.226),
        (0.0, 0.234),
    ]
    fire = Stuff("flame")
    high = fire.node("ShaderNodeSeparateXYZ", {"Vector": fire.where()}).outputs["Z"]
    share = fire.node(
        "ShaderNodeMapRange", {"Value": high, "From Min": z + 0.17, "From Max": z + 0.234}
    ).outputs[0]
    tint = fire.ramp(
        share, [(0.0, (0.9, 0.32, 0.06)), (0.3, (1.0, 0.62, 0.22)), (1.0, (1.0, 0.42, 0.1))]
    )
    light = fire.node("ShaderNodeEmission", {"Color": tint, "Strength": 16.0}).outputs[0]
    fire.links.new(light, fire.nodes["Material Output"].inputs["Surface"])
    thing = put(
        "flame", turned([(r * 0.9, h) for r, h in smooth_profile(flame)], at, 24), fire, smooth=True
    )
    thing.visible_shadow = thing.visible_diffuse = False
    stage.lamp("POINT", (x, y, z + 0.2), 2.4, (1.0, 0.56, 0.24), 0.012)


def smooth_profile(rough: list[tuple[float, float]], steps: int = 8) -> list[tuple[float, float]]:
    """A profile with its corners rounded: a cubic through its points, by their number."""
    return smooth(rough, steps=steps)


def window() -> None:
    """A white frame, its bars, glass, and rain upon it."""
    paint = Stuff("paint", linear("#e9e4d8"), roughness=0.38)
    paint.bump(paint.noise(30, 5, 0.6, (1, 1, 0.1)), 0.0012)
    bars = [box((x, PANE, 0.45), (0.034, 0.04, 1.2)) for x in (-0.235, 0.305)]
    bars += [box((0, PANE, 0.43), (2.0, 0.036, 0.028)), box((0, PANE, 0.012), (2.0, 0.06, 0.05))]
    bars += [box((x, PANE + 0.01, 0.5), (0.09, 0.09, 1.4)) for x in (-0.76, 0.82)]
    put("bars", joined(bars), paint, bevel=0.004)
    put("sill", box((0, -0.2, -0.02), (2.2, 0.88, 0.04)), sill_wood(), bevel=0.006)
    wall = Stuff("plaster", linear("#8f8a80"), roughness=0.9)
    sides = [
        box((-1.8, PANE, 0.3), (2.0, 0.12, 4)),
        box((1.86, PANE, 0.3), (2.0, 0.12, 4)),
        box((0, PANE, -1.2), (5, 0.12, 2.36)),
        box((0, -2.6, 0.5), (6, 0.1, 5)),
        box((-2.6, -1, 0.5), (0.1, 5, 5)),
        box((2.6, -1, 0.5), (0.1, 5, 5)),
        box((0, -1, 2.4), (6, 5, 0.1)),
        box((0, -1, -1.5), (6, 5, 0.1)),
    ]
    put("walls", joined(sides), wall)
    put(
        "glass",
        ([(-0.8, PANE, 0), (0.8, PANE, 0), (0.8, PANE, 1.1), (-0.8, PANE, 1.1)], [(0, 1, 2, 3)]),
        clear("glass"),
    )
    rain()


def sill_wood() -> Stuff:
    """An oak board, oiled, its grain along the window."""
    stuff = stage.wood("oak", linear("#9c6f42"), linear("#5d3a1e"), 0, 0.52)
    return stuff.bump(stuff.noise(60, 4, 0.6, (0.1, 1, 1)), 0.0008)


def rain() -> None:
    """Drops on the far side of the glass, some with the trail they ran down."""
    rng = np.random.default_rng(17)
    drops: list[Solid] = []
    for _ in range(1500):
        x, z = rng.uniform(-0.62, 0.66), rng.uniform(0.03, 0.72)
        r = 0.0011 + 0.0035 * rng.random() ** 3
        drops.append(ball((x, PANE + 0.002, z), (r, r * 0.55, r * rng.uniform(1.0, 1.5)), 12))
    for _ in range(26):
        x, z, r = rng.uniform(-0.6, 0.62), rng.uniform(0.12, 0.5), rng.uniform(0.0022, 0.0038)
        way = [
            (x + 0.003 * math.sin(9 * t + x), PANE + 0.0015, z + 0.16 * t)
            for t in np.linspace(0, 1, 14)
        ]
        drops.append(tube(way, [r * (1 - 0.75 * t) for t in np.linspace(0, 1, 14)], 8))
        drops.append(ball((x, PANE + 0.002, z), (r * 1.25, r * 0.7, r * 1.7), 12))
    wet = Stuff("rain", (1, 1, 1), roughness=0.0, ior=1.33)
    wet.surface.inputs["Transmission Weight"].default_value = 1.0
    put("rain", joined(drops), wet, smooth=True)


def outside() -> None:
    """Evening over the sea; a lighthouse on its rock, lights of a far shore."""
    tints = [linear(c) for c in ("#c9a58d", "#8f94a6", "#55719a", "#2b466f", "#1c3155")]

    def paint(s: Stuff, way: object) -> object:
        z = s.node("ShaderNodeSeparateXYZ", {"Vector": way}).outputs["Z"]
        return s.ramp(z, list(zip((0.0, 0.05, 0.16, 0.4, 1.0), tints, strict=True)), "LINEAR")

    stage.sky(paint, 0.42)
    sea = Stuff("sea", linear("#16303f"), roughness=0.12, ior=1.33)
    sea.bump(sea.noise(0.4, 3, 0.5, (0.4, 1, 1)), 0.4)
    far = 2000.0
    put(
        "sea", ([(-far, 8, -6), (far, 8, -6), (far, far, -6), (-far, far, -6)], [(0, 1, 2, 3)]), sea
    )
    rock = Stuff("rock", linear("#23262b"), roughness=0.9)
    put(
        "rock",
        joined(
            [
                ball((14, 108, -6), (13, 6, 2.6)),
                ball((23, 108, -6), (8, 4, 1.8)),
                ball((8, 107, -6), (7, 3, 1.9)),
            ]
        ),
        rock,
    )
    at = (14.5, 108.0, -4.2)
    put(
        "tower",
        turned([(2.0, 0), (1.35, 9.5), (1.7, 9.6), (1.7, 10.0), (1.2, 10.0)], at, 32),
        Stuff("white", linear("#d9d6cf"), roughness=0.7),
    )
    put(
        "band",
        turned([(1.84, 3.0), (1.6, 6.0)], at, 32),
        Stuff("red", linear("#a03326"), roughness=0.7),
    )
    put("roof", turned([(1.5, 11.7), (0.0, 13.2)], at, 32), Stuff("roof", linear("#7d2a20")))
    put(
        "light",
        turned([(0.75, 10.1), (0.75, 11.6)], at, 24),
        stage.shining("light", (1.0, 0.8, 0.5), 10),
    )
    rng = np.random.default_rng(4)
    spots = [
        ball((float(x), 900.0, -6 + float(rng.uniform(4, 22))), (1.5, 1.5, 1.5), 8)
        for x in rng.uniform(-330, -90, 9)
    ]
    put("spots", joined(spots), stage.shining("spots", (1.0, 0.66, 0.36), 9))
    land = [
        [(-500.0, 950.0, -6.0), (-40.0, 950.0, -6.0)],
        [(-500.0, 960.0, 42.0), (-40.0, 960.0, -4.0)],
    ]
    put("land", stage.grid(land), Stuff("land", linear("#2c3644"), roughness=1.0))


def things() -> None:
    """A mug, and books read on such evenings."""
    enamel = Stuff("enamel", linear("#e6e0d0"), roughness=0.18)
    at = (0.215, -0.03, 0.0)
    mug = [
        (0.0, 0.003),
        (0.036, 0.003),
        (0.04, 0.008),
        (0.041, 0.082),
        (0.0425, 0.085),
        (0.0395, 0.084),
        (0.0385, 0.01),
        (0.0, 0.008),
    ]
    put("mug", turned(mug, at, 64), enamel, smooth=True)
    put(
        "lip",
        turned([(0.0412, 0.081), (0.0432, 0.085), (0.0415, 0.0868), (0.0393, 0.085)], at, 64),
        Stuff("lip", linear("#1f3f6e"), roughness=0.2),
        smooth=True,
    )
    loop = [
        (at[0] + 0.04 + 0.024 * math.sin(t), at[1] - 0.004, 0.046 + 0.027 * math.cos(t))
        for t in np.linspace(0.05, math.pi - 0.05, 20)
    ]
    put("loop", tube(loop, 0.0042, 12), enamel, smooth=True)
    put(
        "tea",
        turned([(0.0, 0.07), (0.039, 0.07)], at, 48),
        Stuff("tea", linear("#4a2410"), roughness=0.05),
    )
    page = Stuff("page", linear("#d8cdb0"), roughness=0.9)
    z = 0.0
    for tint, wide, deep, thick, turn in (
        ("#27485a", 0.15, 0.2, 0.022, 12),
        ("#8a3a2c", 0.135, 0.185, 0.017, 4),
        ("#b99a55", 0.12, 0.165, 0.013, 21),
    ):
        put(
            "pages",
            box((-0.235, 0.03, z + thick / 2), (wide - 0.005, deep - 0.006, thick - 0.004), turn),
            page,
        )
        covers = [
            box((-0.235, 0.03, z + h), (wide, deep, 0.0022), turn) for h in (0.0011, thick - 0.0011)
        ]
        put("covers", joined(covers), Stuff("cover", linear(tint), roughness=0.65), bevel=0.0008)
        cos, sin = math.cos(math.radians(turn)), math.sin(math.radians(turn))
        spine = (-0.235 + deep / 2 * sin, 0.03 - deep / 2 * cos, z + thick / 2)
        put(
            "spine",
            box(spine, (wide, 0.0035, thick), turn),
            Stuff("spine", linear(tint), roughness=0.65),
            bevel=0.001,
        )
        z += thick


def sill() -> Film:
    """Builds the scene; gives the film it is taken on."""
    stage.empty()
    outside()
    window()
    things()
    oil_lamp((0.0, 0.04, 0.0))
    stage.lamp("AREA", (-1.3, -1.7, 1.3), 20.0, (1.0, 0.78, 0.56), 0.9)
    stage.camera((0.03, -1.12, 0.235), (0.005, 0.05, 0.1), mm=47, stop=2.8, focus=1.125, roll=-0.3)
    return Film(stops=1.3, warm=-0.06, glow=0.08, grain=2.6)
