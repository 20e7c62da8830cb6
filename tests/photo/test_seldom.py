"""Photos that come seldom: bytes that the standards allow and hardly anybody writes, kinds of
pixels that are not opened, a machine without a library, and what no reader makes sense of."""

from __future__ import annotations

import struct
import sys
from typing import get_args

import numpy as np
import pytest
from PIL import Image

from proofgen.errors import ProofgenError
from proofgen.photo import troubles
from proofgen.photo.containers import boxes, missing_share, scans
from proofgen.photo.exchange import Bar
from proofgen.photo.measures.resampling import repeated_lines
from proofgen.photo.opening import Pictures
from proofgen.photo.parts import refuse_many_parts
from proofgen.photo.profiles import read_profile
from proofgen.store import Store
from tests.materials import PICTURES
from tests.photo import picture_files as make
from tests.photo.test_photo_kinds import zipped

JPEG = make.saved(make.scene(240, 160), "JPEG", quality=90)


def test_fill_bytes_between_the_segments_of_a_jpeg_are_nothing(look):
    """ITU-T T.81, B.1.1.2: any marker may be preceded by any number of FF."""
    filled = JPEG[:2] + b"\xff\xff\xff" + JPEG[2:]
    assert missing_share(filled, "JPEG") is None
    plain, seen = look(JPEG, "plain.jpg"), look(filled)
    assert seen.usable and (seen.width_px, seen.height_px) == (240, 160)
    pixels = [np.asarray(PICTURES.open_pixels(facts)) for facts in (plain, seen)]
    assert (pixels[0] == pixels[1]).all()


def test_marks_that_stand_alone_are_no_segments():
    refuse_many_parts(make.with_segments(JPEG, b"\xff\x01" * 3, b"\xff\xd3"), "JPEG")


def test_a_scan_whose_head_is_bent_ends_the_count_of_scans():
    at = JPEG.index(b"\xff\xda")
    assert len(list(scans(JPEG))) == 1
    for head in (b"\xff\xda\0\x04\x01\x01", b"\xff\xda\0\x0c\x09" + bytes(9)):
        assert list(scans(JPEG[:at] + head + JPEG[at + 14 :])) == []


def test_a_box_may_tell_its_size_in_eight_bytes_or_reach_to_the_end():
    """ISO/IEC 14496-12, 4.2: size 1 and size 0."""
    small = struct.pack(">I4s", 12, b"ftyp") + b"heic"
    large = struct.pack(">I4sQ", 1, b"free", 24) + bytes(8)
    open_end = struct.pack(">I4s", 0, b"mdat") + bytes(100)
    found = list(boxes(small + large + open_end))
    assert found == [(0, 12), (12, 36), (36, 144)]
    assert missing_share(small + large + open_end, "HEIF") is None
    torn = small + struct.pack(">I4sQ", 1, b"free", 200) + bytes(84)
    assert missing_share(torn, "HEIF") == pytest.approx(1 - 112 / 212)


@pytest.mark.parametrize(
    ("data", "what"),
    [
        (b"RIFF\0\1\0\0CDRAvrsn" + bytes(40), "a drawing of a drawing program"),
        (zipped("Index/Document.iwa", "preview.jpg"), "an office document"),
    ],
)
def test_other_files_are_called_what_they_are(look, data, what):
    assert what in look(data).problem


def test_a_kind_of_pixels_that_is_not_opened_is_told(look):
    heights = Image.fromarray(np.linspace(0, 1, 64 * 48, dtype=np.float32).reshape(48, 64))
    facts = look(make.saved(heights, "TIFF"), "heights.tif")
    assert facts.problem_code == "unsupported"
    assert "holds a kind of TIFF picture that is not opened here" in facts.problem


def test_pixels_that_cannot_be_read_are_told_when_they_are_asked_for(look):
    """Its head alone was read, and is sound."""
    torn = make.png(64, 48, 8, 2, b"")
    facts = look(torn, decode=False)
    assert facts.usable and facts.width_px == 64
    with pytest.raises(ProofgenError, match="not all of its pixels can be read"):
        PICTURES.open_pixels(facts)


def test_a_profile_without_a_name_is_called_unnamed(look):
    icc = bytearray(make.srgb_profile())
    entry = icc.index(b"desc", 128)
    icc[entry : entry + 4] = b"none"
    assert (read_profile(bytes(icc)).space, read_profile(bytes(icc)).name) == ("RGB", "")
    facts = look(make.saved(make.scene(), "PNG", icc_profile=bytes(icc)))
    assert (facts.usable, facts.profile) == (True, "unnamed")


def test_without_the_library_of_a_kind_the_line_to_type_is_told(look):
    facts = look(make.saved(make.scene(), "HEIF"), "pier.heic")
    told = troubles.refused(facts, "HEIF", "library", 0.0)
    assert told.code == "unsupported" and "is a HEIC picture" in told.problem
    assert "python -m pip install pillow-heif" in told.cure


def test_what_lacks_a_library_today_is_asked_for_again_another_day(look, tmp_path, monkeypatch):
    store, data = Store(tmp_path / "store"), make.saved(make.scene(), "HEIF")
    with monkeypatch.context() as lacking, Pictures(store) as pictures:
        plain = pictures._worker.ask

        def refuse(request, content):
            plain(request, content)
            return {"content": {"refused": "library", "share": 0.0}, "fresh": True}, None

        lacking.setattr(pictures._worker, "ask", refuse)
        assert "is not installed" in look(data, "pier.heic", by=pictures).problem
    with Pictures(store) as pictures:
        assert look(data, "pier.heic", by=pictures).usable


@pytest.mark.skipif(sys.platform != "linux", reason="its bars are tried on Linux alone")
def test_what_keeps_the_process_from_harm_is_told(own):
    bars = own.bars()
    assert set(bars) <= set(get_args(Bar)) and {"memory", "writing", "descriptors"} <= set(bars)


def test_two_lines_tell_nothing_of_an_enlargement():
    assert repeated_lines(np.repeat(np.arange(40, dtype=np.uint8)[None], 2, axis=0)) == 0.0
