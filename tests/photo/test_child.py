"""The small process that opens photos: what it loads, and that it starts from anywhere."""

import io
import subprocess
import sys

import pytest

from proofgen.photo import worker
from proofgen.photo.exchange import next_reply, send_request
from tests.photo import picture_files as make

JOBS = ("header", "verify", "pixels")
KINDS = ("JPEG", "PNG", "WEBP", "TIFF", "HEIF", "GIF")
# All of the house that a stranger's bytes ever meet.
ROOM = {f"proofgen.photo.{name}" for name in (
    "child", "containers", "exchange", "gaps", "header", "pixels", "profiles"
)}  # fmt: skip


def ask(kinds: tuple[str, ...], cwd) -> tuple[set[str], list[tuple[str, tuple[int, int]]]]:
    """The modules it loaded over one photo of each kind, and the pictures it sent: started from
    another folder, without a word where the house lies."""
    requests = io.BytesIO()
    for kind in kinds:
        data = make.saved(make.scene(), kind, icc_profile=make.p3_profile())
        for job in JOBS:
            send_request(requests, {"job": job, "format": kind, "scale": 1}, data)
    done = subprocess.run(
        [sys.executable, "-X", "importtime", "-P", "-B", worker._CHILD, "60"],
        input=requests.getvalue(),
        capture_output=True,
        cwd=cwd,
        env={"PATH": ""},
        check=True,
    )
    loaded = {
        line.rsplit("|", 1)[1].strip()
        for line in done.stderr.decode().splitlines()
        if line.startswith("import time:")
    }
    replies = io.BytesIO(done.stdout)
    return loaded, [next_reply(replies, job) for _ in kinds for job in JOBS]


@pytest.fixture(scope="module")
def asked(tmp_path_factory) -> tuple[set[str], list[tuple[str, tuple[int, int]]]]:
    return ask(KINDS, tmp_path_factory.mktemp("elsewhere"))


def test_it_loads_neither_fonts_nor_the_house_and_numbers_for_a_jpeg_alone(asked):
    loaded = asked[0]
    assert {"PIL.Image", "pillow_heif", "simplejpeg", "numpy"} <= loaded
    for heavy in ("fontTools", "yaml", "jinja2", "babel", "PIL.ImageFont"):
        assert not {name for name in loaded if name == heavy or name.startswith(f"{heavy}.")}
    house = {name for name in loaded if name.startswith("proofgen")}
    assert house <= ROOM | {"proofgen", "proofgen.photo"}
    assert house > ROOM - {"proofgen.photo.child"}  # which is started, not imported


def test_other_kinds_need_no_numbers(tmp_path):
    assert "numpy" not in ask(("PNG",), tmp_path)[0]


def test_it_answers_what_it_was_asked(asked):
    for at, kind in enumerate(KINDS):
        (header, none), (verified, nothing), (_, picture) = asked[1][3 * at : 3 * at + 3]
        assert (header["header"]["format"], none, nothing) == (kind, None, None)
        assert verified["clipped"] is None or 0 <= verified["clipped"] <= 1
        assert (picture.mode, picture.size) == ("RGB", (96, 64))
