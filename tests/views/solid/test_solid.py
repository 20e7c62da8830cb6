"""A piece as a model: its measures, where its picture lies on it, what outside validators say."""

from __future__ import annotations

import io
import json
import math
import shutil
import struct
import subprocess
import tarfile
import zipfile
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image

from proofgen.artwork.painting import paint
from proofgen.model import ColourLayer, Layout
from proofgen.store import NoStore, Store
from proofgen.views.hand.lying import piece_of
from proofgen.views.hand.sleeve import sleeve_of
from proofgen.views.solid import made
from proofgen.views.solid.made import Model, model_of, models_can_be_made
from proofgen.views.solid.thing import Thing, picture_of, thing_of
from proofgen.views.solid.turned import simplified
from proofgen.views.solid.usdz import packed
from tests.artwork.scenes import CAN_WRAP, COASTER, laid, mm
from tests.lacking import lacking
from tests.materials import MATERIALS
from tests.real_photos import Package, archive_of
from tests.views.test_hand import CAN_FOLD, CAN_SEWN

BLANKS = {"wrap": CAN_WRAP, "fold": CAN_FOLD, "sewn": CAN_SEWN, "flat": COASTER}
SHAPED = {
    **BLANKS,
    "round": replace(COASTER, shape="round"),
    "rounded": replace(COASTER, shape="rounded", corner_mm=8, thickness_mm=4),
}
needs_extra = pytest.mark.skipif(
    not models_can_be_made(), reason="the extra `table` is not installed: trimesh, usd-core"
)


def layout_of(kind: str) -> Layout:
    face = "front" if SHAPED[kind].construction == "flat" else "round"
    layers = (ColourLayer(colour="#e8c070"), ColourLayer(colour="#203060", at=mm(30, 20, 20, 20)))
    return laid(SHAPED[kind], {face: layers})


def thing(kind: str) -> Thing:
    layout = layout_of(kind)
    return thing_of(layout, picture_of(paint(layout, 100, MATERIALS)))


def of_cloth(made: Thing) -> np.ndarray[Any, Any]:
    return np.vstack([p.points for p in made.parts if p.material != "metal"]) * 1000


# -- measures ----------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", SHAPED)
def test_a_model_is_as_large_as_the_finished_piece(kind: str) -> None:
    layout, points = layout_of(kind), of_cloth(thing(kind))
    wide, high, deep = points.max(axis=0) - points.min(axis=0)
    if layout.plan.way_round is None:
        size = layout.plan.canvases["front"].size
        assert (wide, deep) == pytest.approx((size.width, size.height), abs=0.1)
        assert high == pytest.approx(max(layout.blank.thickness_mm, 0.6), abs=0.1)
        return
    # The cloth's middle goes once round: the way round over pi, and a thickness.
    across = layout.plan.way_round / math.pi + max(layout.blank.thickness_mm, 0.5)
    assert wide == pytest.approx(across, abs=0.1)
    base = sleeve_of(layout).base
    assert high == pytest.approx(layout.plan.canvases["round"].size.height - base, abs=0.1)
    closure = 0.62 * 0.55 * sleeve_of(layout).thickness if kind == "wrap" else 0.0
    assert across - 0.1 <= deep <= across + closure + 1.0
    if kind != "wrap":
        assert deep == pytest.approx(across, abs=0.1)


@pytest.mark.parametrize("kind", SHAPED)
def test_it_stands_on_the_ground_with_its_middle_over_the_origin(kind: str) -> None:
    every = np.vstack([p.points for p in thing(kind).parts])
    assert every[:, 1].min() == pytest.approx(0, abs=1e-4)
    assert every[:, 0].min() == pytest.approx(-every[:, 0].max(), abs=1e-4)


@pytest.mark.parametrize("kind", SHAPED)
def test_every_triangle_looks_where_its_normals_look(kind: str) -> None:
    for part in thing(kind).parts:
        a, b, c = (part.points[part.faces[:, k]].astype(float) for k in range(3))
        faces = np.cross(b - a, c - a)
        mean = part.normals[part.faces].mean(axis=1)
        assert (np.einsum("ij,ij->i", faces, mean) > 0).all(), part.name
        assert np.linalg.norm(part.normals, axis=1) == pytest.approx(1, abs=1e-5)


@pytest.mark.parametrize("kind", ["fold", "flat"])
def test_what_is_closed_below_lets_no_light_through(kind: str) -> None:
    points = of_cloth(thing(kind))
    floor = points[np.abs(points[:, 1] - points[:, 1].min()) < 1e-3]
    assert np.hypot(floor[:, 0], floor[:, 2]).min() < 0.01  # as far as the middle


# -- where the picture lies --------------------------------------------------------------------


def nearest_look(made: Thing, x: float, y: float, z: float) -> np.ndarray[Any, Any]:
    """Place on the picture, from its bottom left, of the printed point next to one in mm."""
    printed = [p for p in made.parts if p.looks is not None]
    points = np.vstack([p.points for p in printed]) * 1000
    looks = np.vstack([p.looks for p in printed if p.looks is not None])
    away = np.linalg.norm(points - (x, y, z), axis=1)
    assert away.min() < 0.2, "no point there"
    return np.asarray(looks[away.argmin()])


def test_points_of_the_cloth_look_where_the_formula_says() -> None:
    # By hand: the front's middle is half way round the picture; 90 degrees to the right (x = the
    # radius, z = 0) is a quarter of the way on. Half of the height is half of the picture.
    made, sleeve = thing("wrap"), sleeve_of(layout_of("wrap"))
    r, low, high = sleeve.radius, sleeve.lift, sleeve.height
    soft, deep = sleeve.sole, sleeve.crest_deep
    u, v = nearest_look(made, 0, low + soft, r)
    assert (u, v) == pytest.approx((0.5, soft / high), abs=1e-4)
    u, v = nearest_look(made, r, low + high - deep, 0)
    assert (u, v) == pytest.approx((0.75, 1 - deep / high), abs=1e-4)


def test_points_of_a_flat_piece_look_straight_down() -> None:
    # By hand: 100 x 100 mm, its middle at the origin, its upper side away from the one who looks.
    made, piece = thing("round"), piece_of(layout_of("round"))
    u, v = nearest_look(made, 0, piece.thickness, 0)
    assert (u, v) == pytest.approx((0.5, 0.5), abs=1e-4)
    edge = 50 - min(piece.soft, 0.8 * piece.thickness)
    u, v = nearest_look(made, 0, piece.thickness, -edge)
    assert (u, v) == pytest.approx((0.5, (50 + edge) / 100), abs=1e-4)


def test_what_is_printed_at_a_place_is_seen_there() -> None:
    # 40 mm from the left and 30 from the top is in the middle of the dark square.
    made = thing("flat")
    with Image.open(io.BytesIO(made.picture)) as image:
        wide, high = image.size
        dark = image.getpixel((round(0.4 * wide), round(0.3 * high)))
        pale = image.getpixel((round(0.7 * wide), round(0.7 * high)))
    assert isinstance(dark, tuple) and isinstance(pale, tuple)
    assert max(dark) < 120 < min(pale[:2])


def test_a_line_without_what_it_does_not_need_is_nowhere_further_off() -> None:
    t = np.linspace(0, math.pi, 300)
    line = list(zip(np.cos(t).tolist(), np.sin(t).tolist(), strict=True))
    few = simplified(line, 0.01)
    assert len(few) < 30
    inside = [math.hypot((a + c) / 2, (b + d) / 2) for (a, b), (c, d) in pairwise(few)]
    assert min(inside) > 1 - 0.011


# -- files -------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def models() -> dict[str, Model]:
    return {k: model_of(paint(layout_of(k), 100, MATERIALS), NoStore()) for k in SHAPED}


def parts_of_glb(data: bytes) -> tuple[dict[str, Any], bytes]:
    (length,) = struct.unpack_from("<I", data, 12)
    tree: dict[str, Any] = json.loads(data[20 : 20 + length])
    return tree, data[20 + length + 8 :]


def picture_in_glb(data: bytes) -> bytes:
    tree, body = parts_of_glb(data)
    [image] = tree["images"]
    view = tree["bufferViews"][image["bufferView"]]
    return body[view.get("byteOffset", 0) :][: view["byteLength"]]


KHRONOS = Package(
    "gltf-validator",
    "2.0.0-dev.3.10",
    "gltf-validator-2.0.0-dev.3.10.tgz",
    "4e03dbdc3bc0d1342afd5d2d7ae341a7e3474502ccb872b02dbbaddaee0fdec6",
)  # Apache-2.0, 0.3 MB; used here alone, never carried
_ASK = """const read = require('fs').readFileSync, validator = require('./package');
Promise.all(process.argv.slice(2).map(async (name) =>
  (await validator.validateBytes(new Uint8Array(read(name)))).issues))
  .then((all) => console.log(JSON.stringify(all)))"""


@needs_extra
def test_the_khronos_validator_finds_nothing_wrong(
    models: dict[str, Model], tmp_path: Path
) -> None:
    if not (node := shutil.which("node")):
        lacking("gltf-validator needs node")
    with tarfile.open(fileobj=io.BytesIO(archive_of(KHRONOS)), mode="r:gz") as archive:
        archive.extractall(tmp_path, filter="data")
    (tmp_path / "ask.js").write_text(_ASK)
    files = [tmp_path / f"{kind}.glb" for kind in models]
    for file, model in zip(files, models.values(), strict=True):
        file.write_bytes(model.glb)
    asked = [node, tmp_path / "ask.js", *files]
    done = subprocess.run(asked, capture_output=True, text=True, check=True)
    told = json.loads(done.stdout)
    assert len(told) == len(SHAPED)
    wrong = [one for one in told if one["numErrors"] or one["numWarnings"] or one["numHints"]]
    assert wrong == []


@needs_extra
@pytest.mark.parametrize("kind", SHAPED)
def test_the_validators_of_usd_find_nothing_wrong(
    kind: str, models: dict[str, Model], tmp_path: Path
) -> None:
    from pxr import Usd, UsdGeom, UsdValidation

    file = tmp_path / "a.usdz"
    file.write_bytes(models[kind].usdz)
    stage = Usd.Stage.Open(str(file))
    every = UsdValidation.ValidationRegistry().GetOrLoadAllValidators()
    assert len(every) > 20
    found = UsdValidation.ValidationContext(every).Validate(stage)
    assert [(one.GetName(), one.GetMessage()) for one in found] == []
    box = UsdGeom.BBoxCache(0, ["default"]).ComputeWorldBound(stage.GetDefaultPrim()).GetRange()
    metres = UsdGeom.GetStageMetersPerUnit(stage)
    size = [1000 * metres * one for one in box.GetSize()]
    assert size == pytest.approx(models[kind].size_mm, abs=0.1)


@needs_extra
@pytest.mark.parametrize("kind", SHAPED)
def test_a_glb_tells_the_same_size(kind: str, models: dict[str, Model]) -> None:
    tree, _ = parts_of_glb(models[kind].glb)
    boxes = [
        tree["accessors"][one["attributes"]["POSITION"]]
        for mesh in tree["meshes"]
        for one in mesh["primitives"]
    ]
    low = np.min([b["min"] for b in boxes], axis=0)
    high = np.max([b["max"] for b in boxes], axis=0)
    assert ((high - low) * 1000).tolist() == pytest.approx(models[kind].size_mm, abs=0.1)


@needs_extra
@pytest.mark.parametrize("kind", SHAPED)
def test_the_picture_in_it_is_bare_and_small(kind: str, models: dict[str, Model]) -> None:
    model = models[kind]
    with zipfile.ZipFile(io.BytesIO(model.usdz)) as package:
        in_usdz = package.read("textures/print.jpg")
        for entry in package.infolist():
            assert entry.compress_type == zipfile.ZIP_STORED
            begins = entry.header_offset + 30 + len(entry.filename) + len(entry.extra)
            assert begins % 64 == 0, entry.filename
    assert picture_in_glb(model.glb).rstrip(b"\0") == in_usdz  # filled up to four bytes
    with Image.open(io.BytesIO(in_usdz)) as image:
        assert not image.getexif() and set(image.info) <= {
            *("jfif", "jfif_version", "jfif_unit", "jfif_density", "progressive", "progression")
        }
    assert len(model.glb) < 1_000_000 and len(model.usdz) < 1_000_000


@needs_extra
def test_a_model_is_made_once_and_always_the_same(
    tmp_path: Path, models: dict[str, Model], monkeypatch: pytest.MonkeyPatch
) -> None:
    rasters = paint(layout_of("wrap"), 100, MATERIALS)
    first = model_of(rasters, Store(tmp_path))
    assert first == models["wrap"]
    monkeypatch.setattr(made, "thing_of", lambda *_: pytest.fail("made again"))
    assert model_of(rasters, Store(tmp_path)) == first


def test_a_package_is_the_same_at_any_time_of_day() -> None:
    files = {"a.usdc": b"x" * 70, "textures/print.jpg": b"y" * 3}
    assert packed(files) == packed(files)
    with zipfile.ZipFile(io.BytesIO(packed(files))) as package:
        assert {name: package.read(name) for name in package.namelist()} == files
