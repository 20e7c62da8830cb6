"""A model as a GLB file (glTF 2.0, Khronos Group; ISO/IEC 12113:2022), by trimesh."""

from __future__ import annotations

from typing import Any, BinaryIO

from proofgen.views.solid.looks import LOOKS
from proofgen.views.solid.thing import Thing
from proofgen.views.solid.turned import Material


class _Jpeg:
    """A picture that is written as it is: trimesh would set one of Pillow's anew, and coarser."""

    format = "JPEG"
    mode = "RGB"

    def __init__(self, data: bytes) -> None:
        self._data = data

    def save(self, stream: BinaryIO, format: str) -> None:
        stream.write(self._data)


_VERTICES, _TRIANGLES = 34962, 34963  # glTF 2.0, 5.11.5: what a view of the buffer is for
_REPEATED, _CLAMPED = 10497, 33071  # 5.26: the picture is a ring, and has an upper and lower end


def _finished(tree: dict[str, Any]) -> None:
    """What trimesh leaves open: the uses of the buffer's views, and how the picture goes on."""
    for mesh in tree["meshes"]:
        for one in mesh["primitives"]:
            for number in one["attributes"].values():
                view = tree["accessors"][number]["bufferView"]
                tree["bufferViews"][view]["target"] = _VERTICES
            view = tree["accessors"][one["indices"]]["bufferView"]
            tree["bufferViews"][view]["target"] = _TRIANGLES
    tree["samplers"] = [{"wrapS": _REPEATED, "wrapT": _CLAMPED}]
    for texture in tree["textures"]:
        texture["sampler"] = 0


def glb_of(thing: Thing) -> bytes:
    """The file; the same bytes for the same model. ImportError where trimesh is not installed."""
    import trimesh
    from trimesh.visual.material import PBRMaterial
    from trimesh.visual.texture import TextureVisuals

    scene = trimesh.Scene(base_frame="piece")
    materials: dict[Material, PBRMaterial] = {}
    for name, look in LOOKS.items():
        colour = look.colour or thing.cloth
        materials[name] = PBRMaterial(
            name=name,
            baseColorFactor=[round(255 * one) for one in (*colour, 1.0)],
            baseColorTexture=_Jpeg(thing.picture) if name == "print" else None,
            metallicFactor=look.metallic,
            roughnessFactor=look.roughness,
        )
    for part in thing.parts:
        mesh = trimesh.Trimesh(
            vertices=part.points,
            faces=part.faces,
            vertex_normals=part.normals,
            process=False,
        )
        mesh.visual = TextureVisuals(uv=part.looks, material=materials[part.material])
        scene.add_geometry(mesh, node_name=part.name, geom_name=part.name)
    return scene.export(file_type="glb", include_normals=True, tree_postprocessor=_finished)
