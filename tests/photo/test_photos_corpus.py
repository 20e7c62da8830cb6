"""Pillow's own test pictures, hostile ones among them, and endless files, through the strict door:
each gets facts or a problem in time, within its memory, and leaves nothing behind."""

import re
import struct
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

import pytest
from PIL import Image

from proofgen.photo import worker
from proofgen.photo.opening import Pictures
from proofgen.store import Store
from tests.materials import PICTURES
from tests.photo import picture_files as make
from tests.picture_set import pillow_pictures

HOSTILE = re.compile(r"\d+-(crash-|timeout-|oom-|decompression_bomb)")
LOST = ("broke off", "took longer")


def _listing(folder: Path) -> dict[Path, tuple[int, int]]:
    about = ((path, path.stat()) for path in folder.rglob("*"))
    return {path: (told.st_size, told.st_mtime_ns) for path, told in about}


def _peak(pictures: Pictures) -> int:
    """The most memory (bytes) that their process has held since it began, from Linux's own
    account; 0 without a child or on other systems."""
    process = pictures._worker._process
    if sys.platform != "linux" or process is None:
        return 0
    told = Path(f"/proc/{process.pid}/status").read_text(encoding="ascii")
    return int(re.search(r"VmHWM:\s+(\d+) kB", told)[1]) * 1024


@pytest.mark.photos
def test_pillows_own_test_pictures(tmp_path, monkeypatch):
    pictures, work, store = (tmp_path / name for name in ("pictures", "work", "store"))
    for folder in (pictures, work):
        folder.mkdir()
    files = pillow_pictures(pictures)
    monkeypatch.chdir(work)
    monkeypatch.setenv("TMPDIR", str(work))
    monkeypatch.setattr(tempfile, "tempdir", None)
    monkeypatch.setattr(worker, "SECONDS", 15)
    before = _listing(pictures)
    codes, lost, slow = Counter(), [], []
    with Pictures(Store(store)) as opened:
        for path in files:
            began = time.monotonic()
            facts = opened.inspect(path)
            codes[facts.problem_code] += 1
            assert facts.cure if facts.problem else facts.width_px * facts.height_px, path.name
            lost += [path.name] if any(word in facts.problem for word in LOST) else []
            slow += [path.name] if time.monotonic() - began > 15 else []
        assert _peak(opened) < 600e6
    assert (lost, slow) == ([], [])
    assert len(files) > 700 and sum(HOSTILE.match(path.name) is not None for path in files) >= 36
    assert codes[""] > 500 and codes["damaged"] >= 10  # most are good pictures, and stay so
    assert _listing(pictures) == before
    assert list(work.iterdir()) == []


@pytest.mark.photos
def test_hostile_ones_are_refused_or_bare(tmp_path):
    """What opens of them opens as plain pixels; what does not says why, and with no trace of
    the reader's own words."""
    for path in pillow_pictures(tmp_path):
        if not HOSTILE.match(path.name):
            continue
        facts = PICTURES.inspect(path)
        if facts.usable:
            assert PICTURES.open_pixels(facts, (64, 64)).mode in ("RGB", "RGBA")
        else:
            assert not re.search(r"Error|Traceback|PIL|0x", facts.problem)


@pytest.mark.parametrize("kind", ["GIF", "WEBP", "PNG"])
def test_long_animations_open_as_their_first_picture(tmp_path, kind):
    many = 1_200 if kind == "GIF" else 300
    colours = [(i * 37 % 256, i * 101 % 256, i // 8) for i in range(many)]
    frames = [make.scene(24, 16), *(Image.new("RGB", (24, 16), colour) for colour in colours)]
    how = {"lossless": True} if kind == "WEBP" else {}
    path = tmp_path / f"pier.{kind.lower()}"
    path.write_bytes(make.saved(frames[0], kind, save_all=True, append_images=frames[1:], **how))
    began = time.monotonic()
    facts = PICTURES.inspect(path)
    assert time.monotonic() - began < 15
    assert facts.usable, facts.problem
    assert facts.frames == (1000 if kind == "GIF" else many + 1)
    red, green, blue = PICTURES.open_pixels(facts).getpixel((2, 2))
    assert red > 180 and green < 110 and blue < 110


@pytest.mark.parametrize("chain", ["itself", "thousands"])
def test_a_tiff_whose_pictures_never_end(tmp_path, chain):
    whole = make.saved(make.scene(24, 16), "TIFF")
    first = struct.unpack("<I", whole[4:8])[0]
    entries = struct.unpack("<H", whole[first : first + 2])[0]
    after = first + 2 + 12 * entries
    directory = whole[first:after]
    if chain == "itself":
        data = whole[:after] + struct.pack("<I", first) + whole[after + 4 :]
    else:
        places = [len(whole) + i * (len(directory) + 4) for i in range(5_000)]
        data = whole[:after] + struct.pack("<I", places[0]) + whole[after + 4 :]
        data += b"".join(directory + struct.pack("<I", p) for p in [*places[1:], 0])
    path = tmp_path / "pier.tif"
    path.write_bytes(data)
    began = time.monotonic()
    facts = PICTURES.inspect(path)
    assert time.monotonic() - began < 15
    assert facts.usable or facts.problem_code == "damaged"
    assert facts.frames <= 1000
