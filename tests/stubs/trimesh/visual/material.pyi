class PBRMaterial:
    def __init__(
        self,
        *,
        name: str,
        baseColorFactor: list[int],
        baseColorTexture: object,
        metallicFactor: float,
        roughnessFactor: float,
    ) -> None: ...
