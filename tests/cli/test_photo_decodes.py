"""How often a check opens a photo: once, and never again while its bytes stay the same; and the
process that opens photos ends with the command."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from proofgen.errors import MachineError
from proofgen.photo import worker
from proofgen.photo.worker import Worker
from tests.cli.small import make_shop, order_text, run, write
from tests.photo import picture_files as make

PHOTOS = {"a": ("pier.png", "PNG"), "b": ("pier.heic", "HEIF"), "c": ("pier.jpg", "JPEG")}


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> list[dict[str, Any]]:
    """Every request to the process that opens photos, with what it replied."""
    seen: list[dict[str, Any]] = []
    plain = Worker.ask

    def ask(self: Any, request: dict[str, Any], data: bytes) -> Any:
        reply, picture = plain(self, request, data)
        seen.append({**request, **reply})
        return reply, picture

    monkeypatch.setattr(Worker, "ask", ask)
    return seen


def shop_of(folder: Path, kinds: dict[str, tuple[str, str]]) -> Path:
    """A shop with an order for each, its photo large enough to be decoded at several scales."""
    shop = make_shop(folder)
    for number, (order, (name, kind)) in enumerate(kinds.items()):
        text = order_text(design="snap").replace("pier.jpg", name)
        write(shop / "orders" / order / "order.yaml", text)
        photo = shop / "orders" / order / "photos" / name
        photo.parent.mkdir()
        photo.write_bytes(make.saved(make.scene(1600 + 8 * number, 1200), kind))
    return shop


def test_at_most_one_decode_then_none(tmp_path: Path, asked: list[dict[str, Any]]) -> None:
    shop = shop_of(tmp_path / "shop", PHOTOS)
    run(shop, "check", "--page", str(tmp_path / "findings.html"))
    assert asked
    decodes = Counter(a["format"] for a in asked if a.get("fresh"))
    assert decodes == {"PNG": 1, "HEIF": 1, "JPEG": 1}
    asked.clear()
    run(shop, "check", "--json")
    assert asked == []
    run(shop, "proof")
    assert Counter(a["format"] for a in asked if a.get("fresh")) == decodes  # its press raster


def test_all_of_a_photo_s_pixels_are_sent_once(tmp_path: Path, asked: list[dict[str, Any]]) -> None:
    """To who measures them; whatever shows the photo asks for a part, made small where it lies."""
    shop = shop_of(tmp_path / "shop", PHOTOS)
    run(shop, "check", "--page", str(tmp_path / "findings.html"))
    whole = Counter(a["key"] for a in asked if a.get("size", (0, 0))[0] >= 1600)
    assert set(whole.values()) == {1} and len(whole) == len(PHOTOS)


def test_a_photo_in_two_orders_is_decoded_once(tmp_path: Path, asked: list[dict[str, Any]]) -> None:
    shop = shop_of(tmp_path / "shop", {"a": PHOTOS["a"], "b": PHOTOS["a"]})
    same = (shop / "orders" / "a" / "photos" / "pier.png").read_bytes()
    (shop / "orders" / "b" / "photos" / "pier.png").write_bytes(same)
    run(shop, "check", "--json")
    assert sum(bool(a.get("fresh")) for a in asked) == 1


@pytest.fixture
def started(monkeypatch: pytest.MonkeyPatch) -> list[subprocess.Popen[bytes]]:
    """Every process that was started to open photos."""
    seen: list[subprocess.Popen[bytes]] = []
    plain = Worker._start

    def start(self: Worker) -> subprocess.Popen[bytes]:
        seen.append(plain(self))
        return seen[-1]

    monkeypatch.setattr(Worker, "_start", start)
    return seen


def test_one_process_opens_the_photos_of_all_orders(
    tmp_path: Path, started: list[subprocess.Popen[bytes]]
) -> None:
    shop = shop_of(tmp_path / "shop", PHOTOS)
    assert run(shop, "build").code == 0
    assert len(started) == 1
    run(shop, "build")
    assert len(started) == 1  # nothing is new: none is needed


HOSTILE = """
import os, signal, sys
sys.path[:0] = [{house!r}, *sys.argv[2:]]
from proofgen.photo import child, examining
plain = examining.decode
def decode(data, *given, **more):
    if {mark!r} in data:
        {harm}
    return plain(data, *given, **more)
examining.decode = decode
child.main(int(sys.argv[1]))
"""
MARK = b"a stranger's own comment"


def hostile(folder: Path, monkeypatch: pytest.MonkeyPatch, harm: str) -> Path:
    """A shop whose second order has a photo that does such harm to the process that opens it."""
    shop = shop_of(folder / "shop", PHOTOS)
    photo = shop / "orders" / "b" / "photos" / PHOTOS["b"][0]
    photo.write_bytes(make.saved(make.scene(1600, 1200), "JPEG", comment=MARK))
    child = folder / "child.py"
    house = str(Path(worker.__file__).parents[2])
    child.write_text(HOSTILE.format(house=house, mark=MARK, harm=harm))
    monkeypatch.setattr(worker, "_CHILD", child)
    return shop


def test_a_photo_that_ends_the_process_takes_no_other_with_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, started: list[subprocess.Popen[bytes]]
) -> None:
    shop = hostile(tmp_path, monkeypatch, "os._exit(9)")
    assert run(shop, "build").code == 1
    assert len(started) == 2  # one until it was lost, one for all that came after
    assert len(list((shop / "site" / "p").glob("*/index.html"))) == 2
    assert "broke off" in run(shop, "check", "b").out
    assert len(started) == 2  # it is remembered


@pytest.mark.skipif(sys.platform == "win32", reason="signals of a terminal")
@pytest.mark.parametrize("whole_group", [True, False], ids=["Ctrl-C", "from another program"])
def test_a_run_is_stopped_at_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, whole_group: bool
) -> None:
    """While the process that opens photos is at work and looks at nothing else."""
    began = tmp_path / "began"
    shop = hostile(tmp_path, monkeypatch, "while True: pass")
    starts = "import sys; from pathlib import Path; from proofgen.photo import worker; "
    starts += f"worker._CHILD = Path({str(worker._CHILD)!r}); from proofgen.cli import main; "
    starts += (
        f"plain = worker.Worker.ask; sys.argv = ['proofgen', '--shop', {str(shop)!r}, 'build']\n"
    )
    starts += (
        "plain = worker.Worker.ask\n"
        "def ask(self, request, data):\n"
        f"    if {MARK!r} in data: self._process or plain(self, worker.request_for('bars'), b'')\n"
        f"    if {MARK!r} in data: Path({str(began)!r}).write_text(str(self._process.pid))\n"
        "    return plain(self, request, data)\n"
        "worker.Worker.ask = ask\n"
        "sys.exit(main())\n"
    )
    run_ = subprocess.Popen(
        [sys.executable, "-c", starts],
        start_new_session=True,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
    )
    for _ in range(600):
        if began.exists() and began.read_text():
            break
        time.sleep(0.1)
    else:
        run_.kill()
        raise AssertionError("the command did not come to the photo within a minute")
    time.sleep(0.5)  # it is at the photo now
    if whole_group:
        os.killpg(run_.pid, signal.SIGINT)
    else:
        os.kill(run_.pid, signal.SIGINT)
    # Less than a second here; two minutes of the processor's time where nobody ends it.
    _, told = run_.communicate(timeout=60)
    assert run_.returncode and b"Traceback" not in told
    with pytest.raises(ProcessLookupError):
        os.kill(int(began.read_text()), 0)


COMMANDS = {
    "check": ["check", "--json"],
    "a finding that stops": ["proof", "a"],
    "no such order": ["proof", "a", "nobody"],
    "look": ["look", "orders/a/photos/pier.png"],
}


@pytest.mark.parametrize("way", COMMANDS)
def test_the_process_ends_with_the_command(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    started: list[subprocess.Popen[bytes]],
    way: str,
) -> None:
    shop = shop_of(tmp_path / "shop", {"a": PHOTOS["a"]})
    if way == "a finding that stops":
        coarse = make.saved(make.scene(60, 45), "PNG")
        (shop / "orders" / "a" / "photos" / "pier.png").write_bytes(coarse)
    monkeypatch.chdir(shop)
    done = run(shop, *COMMANDS[way])
    assert done.code == (0 if way in ("check", "look") else 1 if "stops" in way else 2)
    assert len(started) == (0 if way == "no such order" else 1)
    assert all(process.poll() is not None for process in started)


@pytest.mark.parametrize(
    "trouble", [MachineError("the disk is full", "free some"), KeyboardInterrupt()]
)
def test_the_process_ends_when_the_command_breaks_off(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    started: list[subprocess.Popen[bytes]],
    trouble: BaseException,
) -> None:
    shop = shop_of(tmp_path / "shop", {"a": PHOTOS["a"]})

    def breaks(*_: object, **__: object) -> None:
        raise trouble

    monkeypatch.setattr("proofgen.pipeline.preflight.measure_all", breaks)
    run(shop, "check", "--json")
    assert len(started) == 1 and started[0].poll() is not None
