"""The findings on disk: what `build` leaves in the workroom, and `check --page`."""

from __future__ import annotations

import base64
import io
import json
import re
from pathlib import Path

import pytest
from PIL import Image

from tests.cli.small import make_shop, order_text, run, write


def halves(path: Path, side: int = 400) -> None:
    """Red left, blue right; a green bar along the top."""
    image = Image.new("RGB", (side, side), "#c02020")
    image.paste("#2020c0", (side // 2, 0, side, side))
    image.paste("#20a020", (0, 0, side, side // 10))
    path.parent.mkdir(parents=True, exist_ok=True)
    image.save(path, quality=95)


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    shop = make_shop(tmp_path / "shop", "fenn")
    text = order_text(design="snap").replace(
        "{file: photos/pier.jpg}", "{file: photos/pier.jpg, focus: [0.5, 0.5]}"
    )
    write(shop / "orders" / "pic" / "order.yaml", text)
    halves(shop / "orders" / "pic" / "photos" / "pier.jpg")
    return shop


def prints(html: str) -> list[Image.Image]:
    found = re.findall(r"data:image/jpeg;base64,([A-Za-z0-9+/=]+)", html)
    return [Image.open(io.BytesIO(base64.b64decode(data))).convert("RGB") for data in found]


def test_build_leaves_document_and_page_in_the_workroom(shop: Path) -> None:
    run(shop, "build").ended(1)
    document = json.loads((shop / "workroom" / "findings.json").read_text("utf-8"))
    html = (shop / "workroom" / "findings.html").read_text("utf-8")
    assert document["worst"] == "stop"
    assert html.index('id="pic"') < html.index('id="fenn"')
    assert not [p for p in (shop / "site").rglob("*") if "findings" in p.name]


def test_the_print_is_the_busiest_part_of_the_photo_at_its_own_pixels(
    shop: Path, tmp_path: Path
) -> None:
    target = tmp_path / "found.html"
    told = run(shop, "check", "pic", "--page", target).ended(1)
    assert "found.html" in told.err
    html = target.read_text("utf-8")
    (picture,) = prints(html)
    size = re.search(r'<svg class="to-scale"[^>]* width="([\d.]+)mm"', html)
    assert size and float(size[1]) == 85.0
    fits = run(
        shop, "look", shop / "orders/pic/photos/pier.jpg", "--blank", "coaster-round", "--json"
    )
    ppi = fits.document["fits"][0]["ppi"]
    # No pixel is made up: the print has what the photo has on 85 mm.
    assert picture.width == pytest.approx(85 / 25.4 * ppi, abs=1)
    assert picture.height == pytest.approx(50 / 25.4 * ppi, abs=1)
    left, right = (
        picture.getpixel((int(picture.width * x), picture.height - 9)) for x in (0.25, 0.75)
    )
    assert left[0] > 150 > left[2] and right[2] > 150 > right[0]  # the right way round
    assert picture.getextrema()[1][1] > 150  # and with the bar, where most is to be seen


def test_a_print_is_cut_once(shop: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    target = tmp_path / "found.html"
    run(shop, "check", "--page", target).ended(1)
    first = target.read_bytes()

    def never(*_: object) -> None:
        raise AssertionError("the photo was opened again")

    monkeypatch.setattr("proofgen.photo.opening.Pictures.open_pixels", never)
    run(shop, "check", "--page", target).ended(1)
    assert target.read_bytes() == first


def test_nothing_of_the_photos_file_but_pixels_is_in_the_page(shop: Path, tmp_path: Path) -> None:
    photo = shop / "orders" / "pic" / "photos" / "pier.jpg"
    with Image.open(photo) as image:
        image.load()
        exif = Image.Exif()
        exif[0x010E] = "canary in the description"
        image.save(photo, exif=exif, comment=b"canary in a comment")
    target = tmp_path / "found.html"
    run(shop, "check", "--page", target).ended(1)
    html = target.read_text("utf-8")
    for data in re.findall(r"base64,([A-Za-z0-9+/=]+)", html):
        assert b"canary" not in base64.b64decode(data)


def test_a_page_below_site_is_refused(shop: Path) -> None:
    target = shop / "site" / "found.html"
    refused = run(shop, "check", "--page", target).ended(2)
    assert "would be uploaded" in refused.err and not target.exists()


def test_a_photo_nobody_can_open_has_no_print(shop: Path, tmp_path: Path) -> None:
    write(shop / "orders/pic/photos/pier.jpg", "no picture")
    target = tmp_path / "found.html"
    run(shop, "check", "--page", target).ended(1)
    assert prints(target.read_text("utf-8")) == []
