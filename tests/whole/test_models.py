"""Models of pieces on private pages: made, mended and taken away with them."""

from __future__ import annotations

from pathlib import Path

import pytest

from proofgen.views.solid.made import models_can_be_made
from tests.whole.running import copy_of_demo, inside, page_of

pytestmark = pytest.mark.whole
ORDER = "abara-coasters"


def shop_with_models(folder: Path) -> Path:
    """The demo says no."""
    shop = copy_of_demo(folder, ORDER)
    lines = (shop / "shop.yaml").read_text("utf-8").splitlines(keepends=True)
    wanted = [line for line in lines if not line.startswith("models:")]
    assert len(wanted) == len(lines) - 1
    (shop / "shop.yaml").write_text("".join(wanted), "utf-8")
    return shop


@pytest.mark.skipif(
    not models_can_be_made(), reason="the extra `table` is not installed: trimesh, usd-core"
)
def test_a_model_is_mended_and_forgotten_with_its_page(tmp_path: Path) -> None:
    shop = shop_with_models(tmp_path / "shop")
    inside(shop, "proof")
    page = page_of(shop, ORDER)
    glb, usdz = (next(page.parent.glob(f"model-*.{end}")) for end in ("glb", "usdz"))
    text, made = page.read_text("utf-8"), glb.read_bytes()
    assert f'<a rel="ar" href="{usdz.name}">' in text and f'href="{glb.name}"' in text
    glb.write_bytes(b"other")
    assert glb.name in inside(shop, "build", exits=None).out
    assert glb.read_bytes() == made
    inside(shop, "forget", ORDER, "--sure", ORDER)
    assert not list(shop.rglob("model-*")), "left behind"


def test_a_shop_that_says_no_has_none(tmp_path: Path) -> None:
    shop = copy_of_demo(tmp_path / "shop", ORDER)
    inside(shop, "proof")
    assert not list(shop.rglob("model-*"))
    assert 'rel="ar" href' not in page_of(shop, ORDER).read_text("utf-8")
