"""The largest photos there are: opened within a known memory, or refused before they cost any."""

import re
import sys
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from proofgen.photo import containers, pixels
from proofgen.photo.exchange import RefusedError
from proofgen.photo.opening import Pictures
from proofgen.photo.pixels import choose_scale
from proofgen.store import NoStore
from tests.photo import picture_files as make
from tests.real_photos import real_photo

SIDE = 10_000  # px: 100 megapixels

pytestmark = pytest.mark.skipif(
    sys.platform != "linux", reason="read from Linux's own account of a process"
)


@pytest.fixture(scope="module")
def large() -> Image.Image:
    """A tile with grain, laid out to 100 megapixels."""
    y, x = np.mgrid[0:500, 0:500]
    waves = [128 + 60 * np.sin(x / (9 + i)) + 40 * np.cos(y / (7 + i)) for i in range(3)]
    grain = np.random.default_rng(1).normal(0, 4, (500, 500, 3))
    tile = (np.stack(waves, axis=-1) + grain).clip(0, 255).astype(np.uint8)
    return Image.fromarray(np.tile(tile, (SIDE // 500, SIDE // 500, 1)))


def peak(pictures: Pictures) -> int:
    """The most memory (bytes) their process has held: its ru_maxrss, without what a child
    inherits from the process that started it."""
    told = Path(f"/proc/{pictures._worker._process.pid}/status").read_text("ascii")
    return int(re.search(r"VmHWM:\s+(\d+) kB", told)[1]) * 1024


@pytest.mark.parametrize("progressive", [False, True], ids=["baseline", "progressive"])
def test_100_megapixels(large, tmp_path, progressive):
    """With a wide profile, so that every pixel is converted too."""
    path = tmp_path / "pier.jpg"
    large.save(path, progressive=progressive, icc_profile=make.p3_profile())
    with Pictures(NoStore()) as pictures:
        facts = pictures.inspect(path)
        assert facts.usable, facts.problem
        assert facts.clipped is not None  # all pixels were decoded and seen
        for wanted in ((2_800, 1_200), None):
            picture = pictures.open_pixels(facts, wanted)
            assert picture.width >= 2_800
        assert peak(pictures) < 600e6


def test_photos_of_orders_that_are_done_are_let_go(tmp_path):
    """Of 16 megapixels each: three of them kept would be 192 MB more than one."""
    most = []
    with Pictures(NoStore()) as pictures:
        for number in range(4):
            path = tmp_path / f"{number}.jpg"
            Image.new("RGB", (4_000, 4_000), (90, 40 * number, 60)).save(path)
            pictures.let_go()
            assert pictures.inspect(path).usable
            most.append(peak(pictures))
    assert most[-1] - most[0] < 20e6


def test_a_photo_kept_open_leaves_room_for_the_next(tmp_path):
    """Many photos of one order: what is kept and what is being decoded stay within the room."""
    with Pictures(NoStore()) as pictures:
        for number in range(9):
            path = tmp_path / f"{number}.jpg"
            Image.new("RGB", (4_000, 4_000), (90, 20 * number, 60)).save(path)
            assert pictures.inspect(path).usable
        assert peak(pictures) < pixels.ROOM + 60e6


def test_what_would_cost_more_is_refused_by_its_header(large, tmp_path):
    """Progressive with full colour: all coefficients of 100 megapixels are 600 MB."""
    path = tmp_path / "pier.jpg"
    large.save(path, progressive=True, subsampling=0)
    with Pictures(NoStore()) as pictures:
        facts = pictures.inspect(path)
        assert peak(pictures) < 150e6  # libraries and the file
    assert facts.problem_code == "too-big"
    assert "10,000 × 10,000 pixels" in facts.problem
    assert facts.cure == "Ask for a copy of at most 7,700 × 7,700 pixels"


INKS = {"mode": "CMYK", "samples": 4.0, "progressive": True, "bytes": 60_000_000}


def test_printing_inks_in_several_scans():
    with pytest.raises(RefusedError, match="size"):
        choose_scale(make.header(**INKS), (1, 1))
    as_the_cure_says = make.header(**INKS, width=7_700, height=7_700)
    assert choose_scale(as_the_cure_says, (1, 1)) == 8


@pytest.mark.photos
def test_a_phones_200_megapixels():
    """The one kind that cannot be decoded smaller."""
    with Pictures(NoStore()) as pictures:
        facts = pictures.inspect(real_photo("phone-200mp.heic"))
        assert facts.usable, facts.problem
        assert facts.width_px * facts.height_px > 199e6
        assert peak(pictures) < 1.0e9


@pytest.mark.parametrize("progressive", [False, True])
@pytest.mark.parametrize("mode", ["RGB", "L", "CMYK"])
def test_scans_are_told_by_the_bytes(progressive, mode):
    data = make.saved(make.scene().convert(mode), "JPEG", progressive=progressive)
    assert containers.in_several_scans(data) is progressive


def test_a_baseline_file_in_several_scans_is_priced_as_such():
    """One component in the first scan is enough to make a reader hold everything."""
    data = bytearray(make.saved(make.scene(), "JPEG"))
    at = data.index(b"\xff\xda")
    data[at + 4] = 1
    assert containers.in_several_scans(bytes(data))


def test_a_file_that_breaks_off_is_priced_as_the_dearer():
    data = make.saved(make.scene(), "JPEG")
    scan = data.index(b"\xff\xda")
    assert not containers.in_several_scans(data[: scan + 10])
    assert all(containers.in_several_scans(data[:at]) for at in range(scan + 10))
