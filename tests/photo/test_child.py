"""The small process that opens photos: what it loads, and that it starts from anywhere."""

import io
import json
import subprocess
from pathlib import Path

import pytest

from proofgen.photo import worker
from proofgen.photo.exchange import next_reply, request_for, send_request
from tests.photo import picture_files as make

JOBS = ("header", "verify", "pixels")
KINDS = ("JPEG", "PNG", "WEBP", "TIFF", "HEIF", "AVIF", "GIF")
# All of the house that a stranger's bytes ever meet.
ROOM = {f"proofgen.photo.{name}" for name in (
    "child", "confinement", "containers", "examining", "exchange", "gaps", "header", "heap",
    "parts", "pixels", "profiles",
)}  # fmt: skip


NOTING = """
import json, sys
sys.path[:0] = [{house!r}, *sys.argv[2:]]
from proofgen.photo import child
plain, loaded = child.confine, []
def confine():
    loaded.append(sorted(sys.modules))
    return plain()
child.confine = confine
child.main(int(sys.argv[1]))
print(json.dumps([loaded[0], sorted(sys.modules)]), file=sys.stderr)
"""


def ask(folder: Path, kinds: tuple[str, ...]) -> tuple[list[list[str]], list]:
    """The modules it has loaded before it gives its rights up, and after one photo of each kind;
    and its replies: started from another folder, without a word where the house lies."""
    requests = io.BytesIO()
    for kind in kinds:
        data = make.saved(make.scene(), kind, icc_profile=make.p3_profile(), exif=make.exif(True))
        for job in JOBS:
            send_request(requests, request_for(job, kind, kind), data)
    noting = folder / "noting.py"
    noting.write_text(NOTING.format(house=str(Path(worker.__file__).parents[2])))
    done = subprocess.run(
        [str(noting) if part == str(worker._CHILD) else part for part in worker.command()],
        input=requests.getvalue(),
        capture_output=True,
        cwd=folder,
        env=worker.environment(),
        check=True,
    )
    replies = io.BytesIO(done.stdout)
    return json.loads(done.stderr), [next_reply(replies, job) for _ in kinds for job in JOBS]


@pytest.fixture(scope="module")
def asked(tmp_path_factory) -> tuple[list[list[str]], list]:
    return ask(tmp_path_factory.mktemp("elsewhere"), KINDS)


def test_it_loads_neither_fonts_nor_the_house(asked):
    loaded = set(asked[0][1])
    assert {"PIL.Image", "pillow_heif", "simplejpeg", "numpy"} <= loaded
    for heavy in ("fontTools", "yaml", "jinja2", "babel", "PIL.ImageFont"):
        assert not {name for name in loaded if name == heavy or name.startswith(f"{heavy}.")}
    house = {name for name in loaded if name.startswith("proofgen")}
    assert house == ROOM | {"proofgen", "proofgen.photo"}


def test_nothing_is_loaded_once_its_rights_are_gone(asked):
    before, after = asked[0]
    assert set(after) == set(before)


def test_it_answers_what_it_was_asked(asked):
    for at, kind in enumerate(KINDS):
        (header, none), (verified, nothing), (_, picture) = asked[1][3 * at : 3 * at + 3]
        assert (header["content"]["header"]["format"], none, nothing) == (kind, None, None)
        assert verified["content"]["clipped"] is None or 0 <= verified["content"]["clipped"] <= 1
        assert (picture.mode, picture.size) == ("RGB", (96, 64))
