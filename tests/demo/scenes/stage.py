"""What every scene needs of the renderer: meshes, materials, light, a camera, and its raw light.

The renderer is Blender as a Python module (`pip install bpy`). Nothing but this folder needs it,
and it is imported by `renderer` alone. Lengths are metres, angles degrees, z points up.
"""

from __future__ import annotations

import importlib
import math
import tempfile
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any

import numpy as np

Vec = tuple[float, float, float]
Colour = tuple[float, float, float]  # linear light, 0 to 1
Faces = list[tuple[int, ...]]
Solid = tuple[list[Vec], Faces]

NOT_HERE = (
    "The scenes are rendered by Blender's Python module, which is not installed here. In an "
    "environment of its own say: pip install bpy 'numpy<2' pillow"
)


class NoRenderer(Exception):
    """The renderer is not installed."""


def renderer() -> Any:
    """The renderer's module; NoRenderer, in plain words, where it is not installed."""
    try:
        return importlib.import_module("bpy")
    except ImportError as error:
        raise NoRenderer(NOT_HERE) from error


def linear(code: str) -> Colour:
    """Linear light of a colour written #rrggbb (sRGB, IEC 61966-2-1)."""
    parts = [int(code[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    r, g, b = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return r, g, b


# Solids ---------------------------------------------------------------------------------------
def joined(solids: Sequence[Solid]) -> Solid:
    """Many solids as one."""
    verts: list[Vec] = []
    faces: Faces = []
    for more, their in solids:
        start = len(verts)
        verts.extend(more)
        faces.extend(tuple(start + i for i in face) for face in their)
    return verts, faces


def box(at: Vec, size: Vec, turn: float = 0.0) -> Solid:
    """A box about `at`, turned about the upright."""
    cos, sin = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    verts: list[Vec] = []
    for x, y, z in ((sx, sy, sz) for sz in (-0.5, 0.5) for sy in (-0.5, 0.5) for sx in (-0.5, 0.5)):
        u, v = x * size[0], y * size[1]
        verts.append((at[0] + u * cos - v * sin, at[1] + u * sin + v * cos, at[2] + z * size[2]))
    faces: Faces = [
        (0, 2, 3, 1),
        (4, 5, 7, 6),
        (0, 1, 5, 4),
        (2, 6, 7, 3),
        (0, 4, 6, 2),
        (1, 3, 7, 5),
    ]
    return verts, faces


def grid(rows: Sequence[Sequence[Vec]], around: bool = False) -> Solid:
    """A skin over rows of points; `around` closes each row upon itself."""
    wide = len(rows[0])
    verts = [p for row in rows for p in row]
    last = wide if around else wide - 1
    faces: Faces = []
    for j in range(len(rows) - 1):
        for i in range(last):
            k = (i + 1) % wide
            faces.append((j * wide + i, j * wide + k, (j + 1) * wide + k, (j + 1) * wide + i))
    return verts, faces


def turned(profile: Sequence[tuple[float, float]], at: Vec = (0, 0, 0), sides: int = 64) -> Solid:
    """A body of revolution about the upright through `at`, from pairs of radius and height."""
    rows: list[list[Vec]] = []
    for r, z in profile:
        ring = [2 * math.pi * i / sides for i in range(sides)]
        rows.append([(at[0] + r * math.cos(a), at[1] + r * math.sin(a), at[2] + z) for a in ring])
    return grid(rows, around=True)


def tube(path: Sequence[Vec], radius: float | Sequence[float], sides: int = 12) -> Solid:
    """A round rod along a path, of one radius or one for each point, with closed ends."""
    points = np.array(path, dtype=float)
    radii = [radius] * len(path) if isinstance(radius, (int, float)) else list(radius)
    rows: list[list[Vec]] = []
    up = np.array((0.0, 0.0, 1.0))
    for i, p in enumerate(points):
        way = points[min(i + 1, len(points) - 1)] - points[max(i - 1, 0)]
        way = way / (np.linalg.norm(way) or 1.0)
        if abs(way @ up) > 0.95:
            up = np.array((1.0, 0.0, 0.0)) if abs(way[0]) < 0.9 else np.array((0.0, 1.0, 0.0))
        side = np.cross(way, up)
        side /= np.linalg.norm(side)
        up = np.cross(side, way)
        angles = [2 * math.pi * k / sides for k in range(sides)]
        ring = [p + radii[i] * (math.cos(a) * side + math.sin(a) * up) for a in angles]
        rows.append([(float(q[0]), float(q[1]), float(q[2])) for q in ring])
    verts, faces = grid(rows, around=True)
    faces.append(tuple(range(sides)))
    faces.append(tuple(range((len(rows) - 1) * sides, len(rows) * sides)))
    return verts, faces


def ball(at: Vec, radii: Vec, sides: int = 24) -> Solid:
    """An ellipsoid."""
    rows: list[list[Vec]] = []
    for j in range(sides // 2 + 1):
        b = math.pi * j / (sides // 2) - math.pi / 2
        r, z = math.cos(b), math.sin(b)
        ring = [2 * math.pi * i / sides for i in range(sides)]
        rows.append(
            [
                (
                    at[0] + radii[0] * r * math.cos(a),
                    at[1] + radii[1] * r * math.sin(a),
                    at[2] + radii[2] * z,
                )
                for a in ring
            ]
        )
    return grid(rows, around=True)


def hanging(a: Vec, b: Vec, sag: float, count: int = 24) -> list[Vec]:
    """A rope's path between two points, sagging so far in its middle."""
    found: list[Vec] = []
    for i in range(count + 1):
        t = i / count
        p, q, r = (a[k] + (b[k] - a[k]) * t for k in range(3))
        found.append((p, q, r - 4 * sag * t * (1 - t)))
    return found


# Materials ------------------------------------------------------------------------------------
class Stuff:
    """A material being put together: a surface with what makes it uneven."""

    def __init__(self, name: str, colour: Colour = (0.5, 0.5, 0.5), **given: Any) -> None:
        bpy = renderer()
        self.made = bpy.data.materials.new(name)
        self.made.use_nodes = True
        self.nodes, self.links = self.made.node_tree.nodes, self.made.node_tree.links
        self.surface = self.nodes["Principled BSDF"]
        self.surface.inputs["Base Color"].default_value = (*colour, 1)
        for key, value in given.items():
            socket = "IOR" if key == "ior" else key.replace("_", " ").title()
            self.surface.inputs[socket].default_value = value

    def node(self, kind: str, inputs: Mapping[str, Any] | None = None, **fields: Any) -> Any:
        """A node of that kind; an input that is another's output is linked."""
        found = self.nodes.new(kind)
        for key, value in fields.items():
            setattr(found, key, value)
        for name, value in (inputs or {}).items():
            if hasattr(value, "is_linked"):
                self.links.new(value, found.inputs[name])
            else:
                found.inputs[name].default_value = value
        return found

    def where(self, stretch: Vec = (1, 1, 1), kind: str = "Object") -> Any:
        """The place on the thing, in metres, stretched."""
        place = self.node("ShaderNodeTexCoord").outputs[kind]
        return self.node("ShaderNodeMapping", {"Vector": place, "Scale": stretch}).outputs[0]

    def noise(
        self, scale: float, detail: float = 4, rough: float = 0.55, stretch: Vec = (1, 1, 1)
    ) -> Any:
        """A cloud of so many lumps a metre, 0 to 1."""
        given = {
            "Vector": self.where(stretch),
            "Scale": scale,
            "Detail": detail,
            "Roughness": rough,
        }
        return self.node("ShaderNodeTexNoise", given).outputs[0]

    def ramp(self, share: Any, stops: Sequence[tuple[float, Colour]], ease: str = "EASE") -> Any:
        """Colours along a share of 0 to 1."""
        found = self.node("ShaderNodeValToRGB", {"Fac": share})
        found.color_ramp.interpolation = ease
        rows = found.color_ramp.elements
        while len(rows) < len(stops):
            rows.new(0.5)
        for row, (at, colour) in zip(rows, stops, strict=True):
            row.position, row.color = at, (*colour, 1)
        return found.outputs[0]

    def feed(self, name: str, value: Any) -> Stuff:
        self.links.new(value, self.surface.inputs[name])
        return self

    def bump(self, height: Any, deep: float, strength: float = 1.0) -> Stuff:
        """Uneven by so many metres; heaps upon a bump that is there already."""
        given: dict[str, Any] = {"Height": height, "Distance": deep, "Strength": strength}
        before = self.surface.inputs["Normal"]
        if before.is_linked:
            given["Normal"] = before.links[0].from_socket
        return self.feed("Normal", self.node("ShaderNodeBump", given).outputs[0])


def wood(name: str, light: Colour, dark: Colour, along: int = 0, rough: float = 0.6) -> Stuff:
    """Grained wood, its grain running along an axis (0, 1 or 2)."""
    stretch = [14.0, 14.0, 14.0]
    stretch[along] = 0.6
    stuff = Stuff(name, roughness=rough)
    grain = stuff.noise(2.2, 8, 0.65, (stretch[0], stretch[1], stretch[2]))
    stuff.feed("Base Color", stuff.ramp(grain, [(0.3, dark), (0.7, light)]))
    return stuff.bump(grain, 0.004)


def shining(name: str, colour: Colour, strength: float) -> Stuff:
    """A thing that gives light itself."""
    stuff = Stuff(name, colour)
    stuff.surface.inputs["Emission Color"].default_value = (*colour, 1)
    stuff.surface.inputs["Emission Strength"].default_value = strength
    return stuff


# Things ---------------------------------------------------------------------------------------
def put(name: str, solid: Solid, stuff: Stuff, *, smooth: bool = False, bevel: float = 0.0) -> Any:
    """A thing on the stage; its edges rounded by so many metres."""
    bpy = renderer()
    data = bpy.data.meshes.new(name)
    data.from_pydata(solid[0], [], solid[1])
    data.materials.append(stuff.made)
    data.polygons.foreach_set("use_smooth", [smooth] * len(data.polygons))
    data.update()
    thing = bpy.data.objects.new(name, data)
    bpy.context.collection.objects.link(thing)
    if bevel:
        rounding = thing.modifiers.new("edges", "BEVEL")
        rounding.width, rounding.segments, rounding.limit_method = bevel, 2, "ANGLE"
    return thing


def lamp(kind: str, at: Vec, power: float, colour: Colour = (1, 1, 1), size: float = 0.1) -> Any:
    """A light: POINT and AREA in watts, SUN in watts a square metre; `size` in m, SUN's in °."""
    bpy = renderer()
    data = bpy.data.lights.new(kind, kind)
    data.energy, data.color = power, colour
    if kind == "SUN":
        data.angle = math.radians(size)
    elif kind == "AREA":
        data.size = size
    else:
        data.shadow_soft_size = size
    thing = bpy.data.objects.new(kind, data)
    thing.location = at
    bpy.context.collection.objects.link(thing)
    return thing


def aim(thing: Any, at: Vec) -> None:
    """Turn a light or a camera toward a point."""
    mathutils = importlib.import_module("mathutils")
    way = mathutils.Vector(at) - thing.location
    thing.rotation_euler = way.to_track_quat("-Z", "Y").to_euler()


def camera(at: Vec, to: Vec, *, mm: float, stop: float, focus: float, roll: float = 0.0) -> None:
    """A camera with a full frame of 36 mm: its lens in mm, f-stop, and distance that is sharp."""
    bpy = renderer()
    data = bpy.data.cameras.new("camera")
    data.lens, data.clip_end = mm, 5000
    data.dof.use_dof = True
    data.dof.focus_distance, data.dof.aperture_fstop, data.dof.aperture_blades = focus, stop, 7
    thing = bpy.data.objects.new("camera", data)
    thing.location = at
    aim(thing, to)
    thing.rotation_euler.rotate_axis("Z", math.radians(roll))
    bpy.context.collection.objects.link(thing)
    bpy.context.scene.camera = thing


def sky(paint: Callable[[Stuff, Any], Any], strength: float) -> None:
    """What is seen where nothing stands: `paint` gives a colour for the direction looked at."""
    bpy = renderer()
    world = bpy.data.worlds.new("sky")
    bpy.context.scene.world = world
    world.use_nodes = True
    stuff = Stuff.__new__(Stuff)
    stuff.nodes, stuff.links = world.node_tree.nodes, world.node_tree.links
    stuff.surface = stuff.nodes["Background"]
    way = stuff.node("ShaderNodeTexCoord").outputs["Generated"]
    stuff.feed("Color", paint(stuff, way))
    stuff.surface.inputs["Strength"].default_value = strength


def empty() -> None:
    """A stage with nothing on it."""
    renderer().ops.wm.read_factory_settings(use_empty=True)


def seen(width: int, height: int, samples: int) -> np.ndarray:
    """The light that falls on the film: rows from the top, three channels, linear."""
    bpy = renderer()
    scene = bpy.context.scene
    scene.render.engine = "CYCLES"
    scene.render.resolution_x, scene.render.resolution_y = width, height
    scene.cycles.samples, scene.cycles.use_denoising = samples, True
    scene.cycles.use_adaptive_sampling, scene.cycles.adaptive_threshold = True, 0.02
    scene.cycles.max_bounces, scene.cycles.sample_clamp_indirect = 5, 5.0
    scene.cycles.diffuse_bounces, scene.cycles.glossy_bounces = 2, 3
    scene.cycles.caustics_reflective = scene.cycles.caustics_refractive = False
    scene.render.image_settings.file_format = "OPEN_EXR"
    scene.render.image_settings.color_depth = "32"
    with tempfile.TemporaryDirectory() as folder:
        scene.render.filepath = str(Path(folder) / "seen.exr")
        bpy.ops.render.render(write_still=True)
        image = bpy.data.images.load(scene.render.filepath)
        flat = np.empty(width * height * 4, dtype=np.float32)
        image.pixels.foreach_get(flat)
    return flat.reshape(height, width, 4)[::-1, :, :3].astype(float)
