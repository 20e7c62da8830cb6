"""What a customer's browser loads on opening a proof, before anybody scrolls."""

from __future__ import annotations

from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest
from playwright.sync_api import Browser

from tests.whole.running import copy_of_demo, inside, page_of

ORDER = "okafor-garden"  # eight pieces with two faces
MOST_BYTES = 600_000


@pytest.mark.whole
@pytest.mark.browser
def test_the_first_view_of_a_proof_of_two_faces_is_light(tmp_path: Path, browser: Browser) -> None:
    shop = copy_of_demo(tmp_path / "shop", ORDER)
    inside(shop, "proof")
    file = page_of(shop, ORDER)
    for width, pixels in ((390, 3), (1440, 2)):
        context = browser.new_context(
            viewport={"width": width, "height": 860}, device_scale_factor=pixels
        )
        page = context.new_page()
        asked: set[Path] = set()
        page.on("request", lambda it, asked=asked: asked.add(Path(unquote(urlsplit(it.url).path))))
        page.goto(file.as_uri(), wait_until="load")
        page.wait_for_timeout(500)
        context.close()
        names = {one.name.rpartition("-")[0] for one in asked}
        assert {"letters", "flat-1-front"} <= names, "nothing was asked for"
        assert not [name for name in names if name.startswith("real-size")]  # far below
        assert sum(one.stat().st_size for one in asked) <= MOST_BYTES, (width, sorted(names))
