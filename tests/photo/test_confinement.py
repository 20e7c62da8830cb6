"""What the process that opens strangers' pictures can still do: tried from inside, every bar by
itself, and all pixels are what they are without any."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from proofgen.photo import worker
from proofgen.photo.examining import examine, open_pixels
from proofgen.photo.exchange import request_for
from proofgen.photo.opening import Pictures
from proofgen.store import NoStore
from tests.photo import picture_files as make
from tests.real_photos import real_photo

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="tried on Linux alone")

INSIDE = """
import ctypes, json, os, socket, sys
sys.path[:0] = [{house!r}, *sys.argv[2:]]
from proofgen.photo import child, confinement
from proofgen.photo.examining import load_all
for name in {without!r}:
    setattr(confinement, name, lambda *_, name=name: [] if name == "_limits" else False)
load_all()
server, own, other = socket.socket(), os.getpid(), os.getppid()
server.bind(("127.0.0.1", 0))
server.listen()
libc = ctypes.CDLL(None, use_errno=True)
bars = confinement.confine()

def called(*number):
    if libc.syscall(*number) < 0:
        raise OSError(ctypes.get_errno(), "refused")

def reach():
    with socket.socket() as client:
        client.connect(server.getsockname())

TRIES = {{
    "read a photo": lambda: open({photo!r}, "rb"),
    "read by its own call": lambda: called(2, {photo!r}.encode(), 0),
    "write a file": lambda: open({other!r}, "wb"),
    "look into a folder": lambda: os.listdir({folder!r}),
    "rename": lambda: os.rename({photo!r}, {other!r}),
    "remove": lambda: os.unlink({photo!r}),
    "make a folder": lambda: os.mkdir({other!r}),
    "change rights": lambda: os.chmod({photo!r}, 0o644),
    "look at a file": lambda: os.stat({photo!r}),
    "open a socket": lambda: socket.socket(),
    "open a local socket": lambda: socket.socket(socket.AF_UNIX),
    "reach a server": reach,
    "a pipe": lambda: os.pipe(),
    "another process": lambda: os.fork() or os._exit(0),
    "start a program": lambda: os.execv("/bin/true", ["/bin/true"]),
    "signal who started it": lambda: os.kill(other, 0),
    "trace who started it": lambda: called(101, 16, other, 0, 0),
    "read who started it": lambda: called(310, other, None, 0, None, 0, 0),
    "new rights": lambda: called(272, 0x10000000),
    "more memory": lambda: child.resource.setrlimit(child.resource.RLIMIT_AS, (8 << 30, 8 << 30)),
    "limits of another": lambda: child.resource.prlimit(other, child.resource.RLIMIT_CPU, (9, 9)),
}}
went = []
for what, do in TRIES.items():
    if what in {tried!r}:
        try:
            do()
            went.append(what)
        except (OSError, ValueError):
            pass
print(json.dumps([bars, went, dict(os.environ)]))
"""
FILES = [
    "read a photo", "read by its own call", "write a file", "look into a folder", "rename",
    "remove", "make a folder",
]  # fmt: skip
DESCRIPTORS = ["read a photo", "read by its own call", "write a file", "look into a folder",
    "open a socket", "open a local socket", "reach a server", "a pipe"]  # fmt: skip
CALLS = [
    *FILES, "change rights", "look at a file", *DESCRIPTORS, "another process", "start a program",
    "signal who started it", "trace who started it", "read who started it", "new rights",
    "limits of another",
]  # fmt: skip
BARS = {
    "all": ([], [*CALLS, "more memory"]),
    "Landlock": (["_limits", "_few_calls"], [*FILES, "reach a server", "start a program"]),
    "seccomp": (["_limits", "_no_files"], CALLS),
    "limits": (["_no_files", "_few_calls"], DESCRIPTORS),
    "none": (["_limits", "_no_files", "_few_calls"], ["read a photo", "reach a server"]),
}


def lacks(bars: list[str], way: str) -> bool:
    needed = {"all": ("landlock", "seccomp"), "Landlock": ("landlock",), "seccomp": ("seccomp",)}
    return not set(needed.get(way, ())) <= set(bars)


@pytest.mark.parametrize("way", BARS)
def test_what_it_can_still_do(tmp_path: Path, way: str) -> None:
    without, tried = BARS[way]
    photo = tmp_path / "pier.jpg"
    photo.write_bytes(make.saved(make.scene(), "JPEG"))
    inside = tmp_path / "inside.py"
    house = str(Path(worker.__file__).parents[2])
    inside.write_text(
        INSIDE.format(
            house=house,
            without=without,
            tried=tried,
            photo=str(photo),
            other=str(tmp_path / "other"),
            folder=str(tmp_path),
        )
    )
    done = subprocess.run(
        [str(inside) if part == str(worker._CHILD) else part for part in worker.command()],
        capture_output=True,
        check=False,
        env=worker.environment(),
        cwd="/",
    )
    assert done.returncode == 0, done.stderr.decode()
    bars, went, environment = json.loads(done.stdout)
    if lacks(bars, way):
        pytest.skip("this system has no such bar")
    assert went == (["read a photo", "reach a server"] if way == "none" else [])
    assert set(environment) <= {"OPENBLAS_NUM_THREADS", "LC_CTYPE", "GLIBC_TUNABLES"}
    assert photo.is_file() and not (tmp_path / "other").exists()


# Several kinds, a profile of each sort, printing inks, a turn, several pictures in one file.
PHOTOS = (
    "seeding.jpg", "sunset.jpg", "dragonfly.jpg", "wine.jpg", "adobe-rgb.jpg", "cmyk.jpg",
    "fujifilm.mpo", "pug.heic", "arrow.heic", "guitar.hif", "hopper-6.jpg",
)  # fmt: skip


@pytest.mark.photos
@pytest.mark.parametrize("name", PHOTOS)
def test_pixels_are_those_of_a_process_without_bars(name: str) -> None:
    path = real_photo(name)
    with Pictures(NoStore()) as pictures:
        facts = pictures.inspect(path)
        assert facts.usable, facts.problem
        data = path.read_bytes()
        content, _ = examine(data, facts.sha256, facts.format, pixels=True)
        assert content["clipped"] == facts.clipped
        for wanted in ((600, 400), None):
            asked = request_for("pixels", facts.format, facts.sha256, wanted=wanted)
            free, _ = open_pixels(data, asked)
            held = pictures.open_pixels(facts, wanted)
            assert (held.mode, held.size) == (free.mode, free.size)
            assert held.tobytes() == free.tobytes()
