# The part of trimesh that views.solid.glb uses.
from collections.abc import Callable
from typing import Any

class Trimesh:
    visual: object
    def __init__(
        self, *, vertices: object, faces: object, vertex_normals: object, process: bool
    ) -> None: ...

class Scene:
    def __init__(self, *, base_frame: str) -> None: ...
    def add_geometry(self, geometry: Trimesh, *, node_name: str, geom_name: str) -> str: ...
    def export(
        self,
        *,
        file_type: str,
        include_normals: bool,
        tree_postprocessor: Callable[[dict[str, Any]], None],
    ) -> bytes: ...
