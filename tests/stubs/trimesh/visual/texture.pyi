from trimesh.visual.material import PBRMaterial

class TextureVisuals:
    def __init__(self, *, uv: object, material: PBRMaterial) -> None: ...
