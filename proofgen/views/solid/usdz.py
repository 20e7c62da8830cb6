"""A model as a USDZ file (Universal Scene Description, its package of files), by usd-core."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path
from typing import Any

from proofgen import store
from proofgen.views.solid.looks import LOOKS
from proofgen.views.solid.thing import Thing
from proofgen.views.solid.turned import Material, Part

_ALIGNED = 64  # bytes: where a file's content begins in a package
_PICTURE = "textures/print.jpg"
_HEAD = 30  # bytes of an entry before its name


def packed(files: dict[str, bytes]) -> bytes:
    """A package: files as they are, uncompressed, each content at a multiple of 64 bytes; the same
    bytes at any time of day."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_STORED) as package:
        for name, content in files.items():
            entry = zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0))
            entry.create_system = 0
            begins = out.tell() + _HEAD + len(name.encode())
            gap = -begins % _ALIGNED
            if gap:  # a field of padding has four bytes of its own
                gap += _ALIGNED if gap < 4 else 0
                entry.extra = b"\x86\x19" + (gap - 4).to_bytes(2, "little") + bytes(gap - 4)
            package.writestr(entry, content)
    return out.getvalue()


def _material(stage: Any, name: Material, thing: Thing) -> Any:
    from pxr import Gf, Sdf, UsdShade

    look, path = LOOKS[name], f"/piece/materials/{name}"
    material = UsdShade.Material.Define(stage, path)
    surface = UsdShade.Shader.Define(stage, f"{path}/surface")
    surface.CreateIdAttr("UsdPreviewSurface")
    surface.CreateInput("metallic", Sdf.ValueTypeNames.Float).Set(look.metallic)
    surface.CreateInput("roughness", Sdf.ValueTypeNames.Float).Set(look.roughness)
    colour = surface.CreateInput("diffuseColor", Sdf.ValueTypeNames.Color3f)
    if name == "print":
        reader = UsdShade.Shader.Define(stage, f"{path}/place")
        reader.CreateIdAttr("UsdPrimvarReader_float2")
        reader.CreateInput("varname", Sdf.ValueTypeNames.String).Set("st")
        place = reader.CreateOutput("result", Sdf.ValueTypeNames.Float2)
        texture = UsdShade.Shader.Define(stage, f"{path}/picture")
        texture.CreateIdAttr("UsdUVTexture")
        texture.CreateInput("file", Sdf.ValueTypeNames.Asset).Set(Sdf.AssetPath(_PICTURE))
        texture.CreateInput("sourceColorSpace", Sdf.ValueTypeNames.Token).Set("sRGB")
        texture.CreateInput("wrapS", Sdf.ValueTypeNames.Token).Set("repeat")
        texture.CreateInput("wrapT", Sdf.ValueTypeNames.Token).Set("clamp")
        texture.CreateInput("st", Sdf.ValueTypeNames.Float2).ConnectToSource(place)
        colour.ConnectToSource(texture.CreateOutput("rgb", Sdf.ValueTypeNames.Float3))
    else:
        colour.Set(Gf.Vec3f(*(look.colour or thing.cloth)))
    material.CreateSurfaceOutput().ConnectToSource(
        surface.CreateOutput("surface", Sdf.ValueTypeNames.Token)
    )
    return material


def _mesh(stage: Any, part: Part, material: Any) -> None:
    from pxr import Sdf, UsdGeom, UsdShade, Vt

    mesh = UsdGeom.Mesh.Define(stage, f"/piece/{part.name}")
    points = Vt.Vec3fArray.FromNumpy(part.points)
    mesh.CreatePointsAttr(points)
    mesh.CreateExtentAttr(UsdGeom.PointBased.ComputeExtent(points))
    mesh.CreateNormalsAttr(Vt.Vec3fArray.FromNumpy(part.normals))
    mesh.SetNormalsInterpolation("vertex")
    mesh.CreateFaceVertexCountsAttr([3] * len(part.faces))
    mesh.CreateFaceVertexIndicesAttr(part.faces.ravel().tolist())
    mesh.CreateSubdivisionSchemeAttr("none")
    mesh.CreateDoubleSidedAttr(False)
    if part.looks is not None:
        places = UsdGeom.PrimvarsAPI(mesh).CreatePrimvar(
            "st", Sdf.ValueTypeNames.TexCoord2fArray, "vertex"
        )
        places.Set(Vt.Vec2fArray.FromNumpy(part.looks))
    UsdShade.MaterialBindingAPI.Apply(mesh.GetPrim()).Bind(material)


def _layer(thing: Thing, folder: Path) -> bytes:
    """The scene in USD's own binary form, which it writes to a file alone."""
    from pxr import Kind, Usd, UsdGeom

    stage = Usd.Stage.CreateInMemory()
    UsdGeom.SetStageUpAxis(stage, UsdGeom.Tokens.y)
    UsdGeom.SetStageMetersPerUnit(stage, 1.0)
    root = UsdGeom.Xform.Define(stage, "/piece")
    stage.SetDefaultPrim(root.GetPrim())
    Usd.ModelAPI(root.GetPrim()).SetKind(Kind.Tokens.component)
    UsdGeom.Scope.Define(stage, "/piece/materials")
    materials = {name: _material(stage, name, thing) for name in LOOKS}
    for part in thing.parts:
        _mesh(stage, part, materials[part.material])
    file = folder / "piece.usdc"
    stage.GetRootLayer().Export(str(file), comment="")
    return file.read_bytes()


def usdz_of(thing: Thing) -> bytes:
    """The file; the same bytes for the same model. ImportError where usd-core is not installed."""
    with store.passing_folder() as folder:
        layer = _layer(thing, folder)
    return packed({"piece.usdc": layer, _PICTURE: thing.picture})
