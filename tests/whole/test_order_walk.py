"""From the catalogue's page to the press sheet: a real photograph tried, a slip mailed and taken,
the proof answered, and the sheet carries the crop that was dragged."""

from __future__ import annotations

import io
from email.message import EmailMessage
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image, ImageOps
from playwright.sync_api import Browser, Page

from proofgen.signoff.order_slip import slips_in
from tests.real_photos import PHOTOS, real_photo
from tests.slips import compose_slip, facts_on
from tests.whole.papers import pictures_on
from tests.whole.reckoning import crop
from tests.whole.running import HOUSE, command, copy_of_demo, page_of, state_of

pytestmark = [pytest.mark.whole, pytest.mark.browser]

PHOTO = "dragonfly.jpg"
DESIGN = """\
---
title: Just a photo
occasions: [gift]
offered: {pouch-flat: {1: 13.00, 4: 11.80}}
faces:
  front:
    - photo: {slot: photo, at: fill}
labels: {photo: your photo}
sample:
  photos: {photo: sample.jpg}
---
Edge to edge.
"""
SEASON = "---\ntitle: Winter\nsentence: Small things.\ndesigns: [just-photo]\n---\nCome in.\n"


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A shop of one design, its catalogue made."""
    folder = copy_of_demo(tmp_path_factory.mktemp("order-walk") / "shop")
    design = folder / "designs" / "just-photo"
    design.mkdir()
    (design / "design.md").write_text(DESIGN, "utf-8")
    with Image.open(HOUSE / "content" / "designs" / "harbour-photo" / "sample.jpg") as sample:
        sample.save(design / "sample.jpg", quality=90)  # a fixture's own
    (folder / "seasons").mkdir(exist_ok=True)
    (folder / "seasons" / "winter.md").write_text(SEASON, "utf-8")
    command(folder, "catalogue")
    return folder


def dragged(page: Page) -> None:
    """The crop moved and zoomed by the sliders, as a keyboard does."""
    page.set_input_files("#fit-file", real_photo(PHOTO))
    page.wait_for_selector(".fit-board:not([hidden])")
    page.fill(".fit-zoom", "1.4")
    page.fill(".fit-across", "0.83")
    page.fill(".fit-down", "0.21")


def slip_of(page: Page) -> str:
    page.fill("#order-many", "2")
    page.fill("#order-name", "Zoë Núñez-Fenn")
    page.fill("#order-mail", "zoe@fenn.example")
    page.check("#order-print")
    assert page.inner_text("#order-price").startswith("2 × €13.00 = €26.00")
    assert PHOTO in page.inner_text("#order-photo")
    page.click("#order-form button[type=submit]")
    page.wait_for_selector("#order-result:not([hidden])")
    return page.input_value("#order-text")


def mail_of(slip: str, photo: bytes, name: str) -> bytes:
    mail = EmailMessage()
    mail["From"], mail["To"] = "Zoë <zoe@fenn.example>", "hello@ternrow.example"
    mail["Subject"], mail["Date"] = "Order", "Wed, 25 Nov 2026 18:45:00 +0000"
    mail.set_content(f"Hello,\n\n{slip}\nZoë\n", cte="quoted-printable")
    mail.add_attachment(photo, maintype="image", subtype="jpeg", filename=name)
    return mail.as_bytes()


def test_from_the_page_to_the_sheet(browser: Browser, shop: Path, tmp_path: Path) -> None:
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    page = context.new_page()
    page.goto((shop / "site" / "designs" / "just-photo.html").as_uri())
    dragged(page)
    slip = slip_of(page)
    context.close()
    (payload,) = slips_in(slip)
    assert payload
    tried = payload["photos"]["photo"]
    assert (tried["width"], tried["height"]) == (PHOTOS[PHOTO].width, PHOTOS[PHOTO].height)
    assert tried["zoom"] == 1.4
    # What a messenger leaves of it comes first; then the original.
    small = io.BytesIO()
    with Image.open(real_photo(PHOTO)) as image:
        image.resize((1600, 1200)).save(small, "JPEG", quality=60)  # in memory
    (tmp_path / "mail.eml").write_bytes(mail_of(slip, small.getvalue(), "IMG-WA0001.jpg"))
    said = command(shop, "take", str(tmp_path / "mail.eml"), exits=1).out
    order = "zoe-nunez-fenn"
    assert f"orders/{order}" in said
    assert "tried was 4,224 × 3,168, this one is 1,600 × 1,200: ask for the original" in said
    command(shop, "take", str(real_photo(PHOTO)), "--for", order)
    assert state_of(shop, order)["state"] == "draft"
    assert "Nothing new" in command(shop, "take", str(tmp_path / "mail.eml")).out
    command(shop, "check", order)
    command(shop, "proof", order)
    proof = page_of(shop, order).read_text("utf-8")
    assert "What you ordered on" in proof and "2 pieces: Just a photo on" in proof
    (tmp_path / "answer.txt").write_text(
        compose_slip(facts_on(page_of(shop, order)), name="Zoë"), "utf-8"
    )
    command(shop, "answer", str(tmp_path / "answer.txt"))
    assert state_of(shop, order)["state"] == "signed"
    document = command(shop, "press", order, "--json").document
    sheet = shop / document["sheets"][0]["file"]
    carried = max(pictures_on(sheet, tmp_path), key=lambda one: one.pixels.size).pixels
    _is_the_crop(carried, tried["focus"], tried["zoom"])


def _is_the_crop(carried: NDArray[np.uint8], focus: list[float], zoom: float) -> None:
    """Within a pixel of the sheet, by trying the crop a little to each side: mirrored, and perhaps
    turned for the paper."""
    if carried.shape[0] > carried.shape[1]:
        carried = np.rot90(carried)
    # pouch-flat: 200 × 130 mm finished, with its bleed; the focus at the middle of it.
    with Image.open(real_photo(PHOTO)) as image:
        photo = ImageOps.exif_transpose(image).convert("RGB")
    high, wide = carried.shape[:2]
    box = crop(photo.size, (wide, high), (focus[0], focus[1]), zoom, (wide / 2, high / 2))
    scale = wide / box[2]
    apart = {}
    for x in range(-3, 4):
        for y in range(-3, 4):
            left, top = box[0] + x / scale, box[1] + y / scale
            part = (left, top, left + box[2], top + box[3])
            drawn = photo.resize((wide, high), Image.Resampling.BICUBIC, box=part)
            seen = np.asarray(ImageOps.mirror(drawn))[40:-40:3, 40:-40:3].astype(float)
            apart[x, y] = float(np.abs(seen - carried[40:-40:3, 40:-40:3]).mean())
    best = min(apart, key=lambda at: apart[at])
    assert max(map(abs, best)) <= 1, (best, apart[best], apart[0, 0])
    assert apart[best] < 4 and apart[3, 3] > 2 * apart[best], apart
