"""Faces found in photos that scikit-image carries, and what happens without it."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from PIL import Image

from proofgen.photo import faces as room
from proofgen.photo.faces import find_faces
from proofgen.photo.opening import Pictures
from proofgen.store import Store
from tests.artwork.scenes import saved
from tests.materials import PICTURES


@pytest.fixture
def astronaut() -> Image.Image:
    skimage = pytest.importorskip("skimage.data")
    return Image.fromarray(skimage.astronaut())


def test_the_astronauts_face_is_found_and_nothing_else(
    astronaut: Image.Image, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    facts = PICTURES.inspect(saved(astronaut, tmp_path / "a.png"))
    with Pictures(Store(tmp_path / "store")) as pictures:
        found = find_faces(facts, pictures)
    assert found is not None and len(found) == 1
    # Of 512 × 512 px her eyes are at about (200, 110) and (245, 110), her chin at (225, 175).
    face = found[0]
    assert face.x < 200 and face.right > 245 and face.y < 110 and face.bottom > 140
    assert 60 < face.width < 130

    # The second time it is remembered: neither the library nor the file is needed.
    monkeypatch.setattr(room, "_detector", lambda: None)
    (tmp_path / "a.png").unlink()
    assert find_faces(facts, Pictures(Store(tmp_path / "store"))) == found


def test_a_plain_wall_has_no_face(tmp_path: Path) -> None:
    pytest.importorskip("skimage.data")
    file = saved(Image.new("RGB", (600, 400), (180, 170, 160)), tmp_path / "wall.png")
    assert find_faces(PICTURES.inspect(file), PICTURES) == ()
    narrow = saved(Image.new("RGB", (900, 20), (180, 170, 160)), tmp_path / "narrow.png")
    assert find_faces(PICTURES.inspect(narrow), PICTURES) == ()


def test_without_the_library_nobody_looks(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = saved(Image.new("RGB", (60, 40)), tmp_path / "dark.png")
    monkeypatch.setitem(sys.modules, "skimage.feature", None)
    room._detector.cache_clear()
    assert find_faces(PICTURES.inspect(file), PICTURES) is None
    room._detector.cache_clear()
