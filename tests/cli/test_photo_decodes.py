"""How often a check opens a photo: once, and never again while its bytes stay the same."""

from __future__ import annotations

import importlib
from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from tests.cli.small import make_shop, order_text, run, write
from tests.photo import picture_files as make

# The room gives out a function of the same name.
photo_worker = importlib.import_module("proofgen.photo.worker")
PHOTOS = {"a": ("pier.png", "PNG"), "b": ("pier.heic", "HEIF"), "c": ("pier.jpg", "JPEG")}


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> list[dict[str, Any]]:
    """Every request to the process that opens photos, with what it replied."""
    seen: list[dict[str, Any]] = []
    plain = photo_worker.Worker.ask

    def ask(self: Any, request: dict[str, Any], data: bytes) -> Any:
        reply, picture = plain(self, request, data)
        seen.append({**request, **reply})
        return reply, picture

    monkeypatch.setattr(photo_worker.Worker, "ask", ask)
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
