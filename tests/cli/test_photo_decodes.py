"""How often a check opens a photo: once, and never again while its bytes stay the same; and the
process that opens photos ends with the command."""

from __future__ import annotations

import subprocess
from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from proofgen.errors import MachineError
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
