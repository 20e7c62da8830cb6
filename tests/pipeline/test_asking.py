"""`letter ORDER --photo`: what is wrong with which photo, and the pixels to ask for."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image

from tests.cli.small import files, make_shop, order_text, paint, run, write


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    shop = make_shop(tmp_path / "shop")
    write(shop / "orders" / "pic" / "order.yaml", order_text(design="snap"))
    return shop


def _needed(shop: Path) -> int:
    """Pixels that the coaster needs, from its own numbers."""
    fits = run(
        shop, "look", shop / "orders/pic/photos/pier.jpg", "--blank", "coaster-round", "--json"
    )
    (fit,) = fits.document["fits"]
    assert fit["needs_width_px"] == -(-fit["width_mm"] * 200 // 25.4)
    return int(fit["needs_width_px"])


def test_a_coarse_photo_is_asked_for_with_exact_pixels(shop: Path) -> None:
    paint(shop / "orders/pic/photos/pier.jpg", 300)
    told = run(shop, "letter", "pic", "--photo").ended(0).out
    assert told.startswith(
        "Subject: May we have a better photo for your order, pic?\n\nDear Odalys"
    )
    side = f"{_needed(shop):,}"
    assert f"at least {side} × {side} pixels (" in told and "this one has 300 × 300." in told
    assert "\npier.jpg\n\n- Your photo is too small for this piece: it will look coarse." in told
    assert (
        "- Please send it as the camera or the telephone made it, not a copy from a chat." in told
    )
    assert "original size" in told and "hello@puffinyard.example" in told
    assert "--" not in told and "photo/" not in told and "order.yaml" not in told
    kept = shop / "workroom" / "letters" / "pic.photo.txt"
    assert kept.read_text("utf-8").strip() == told.strip()


def test_the_pixels_that_were_asked_for_are_enough(shop: Path) -> None:
    photo = paint(shop / "orders/pic/photos/pier.jpg", 300)
    side = _needed(shop)
    # Grain in every pixel: a picture of even blocks looks enlarged, and rightly so.
    Image.effect_noise((side, side), 60).convert("RGB").save(photo, quality=95)
    told = run(shop, "letter", "pic", "--photo").ended(0)
    assert "at least" not in told.out and "too small" not in told.out


def test_a_file_nobody_can_open_is_asked_for(shop: Path) -> None:
    write(shop / "orders/pic/photos/pier.jpg", "no picture")
    told = run(shop, "letter", "pic", "--photo").ended(0).out
    assert "pier.jpg" in told and "as a JPEG or PNG file" in told and "at least" not in told


def test_a_photo_that_never_came_is_asked_for(shop: Path) -> None:
    text = order_text(design="snap").replace("photos: {photo: {file: photos/pier.jpg}}", "")
    write(shop / "orders/pic/order.yaml", text)
    told = run(shop, "letter", "pic", "--photo")
    assert "The photo that is still missing" in told.ended(0).out
    assert "at least" in told.out


def test_one_file_on_two_lines_is_asked_for_once(shop: Path) -> None:
    paint(shop / "orders/pic/photos/pier.jpg", 300)
    text = order_text(design="snap")
    second = text[text.index("  - design") :]
    write(shop / "orders/pic/order.yaml", text + second)
    told = run(shop, "letter", "pic", "--photo").ended(0).out
    assert told.count("pier.jpg") == 1 and told.count("at least") == 1


def test_what_the_maker_let_through_is_not_asked_for_beside_what_stands(shop: Path) -> None:
    photo = paint(shop / "orders/pic/photos/pier.jpg", 300)
    Image.new("CMYK", (300, 300), (90, 40, 20, 10)).save(photo)
    run(
        shop, "check", "pic", "--accept", "photo/effective-resolution", "--because", "No other"
    ).ended(0)
    told = run(shop, "letter", "pic", "--photo").ended(0).out
    assert "(RGB)" in told and "it will look coarse" not in told


def test_the_shops_own_words_on_sending_photos_come_first(shop: Path) -> None:
    paint(shop / "orders/pic/photos/pier.jpg", 300)
    write(shop / "words" / "photo.md", "Bring it on a stick.\n")
    told = run(shop, "letter", "pic", "--photo").ended(0).out
    assert "Bring it on a stick." in told and "share it by mail" not in told


def test_the_shops_own_words_on_sending_photos_go_to_those_who_read_them(shop: Path) -> None:
    paint(shop / "orders/pic/photos/pier.jpg", 300)
    write(shop / "words" / "photo.md", "Bring it on a stick.\n")
    order = shop / "orders" / "pic" / "order.yaml"
    said = order.read_text("utf-8")
    write(order, said.replace("customer: {", "customer: {language: de, "))
    told = run(shop, "letter", "pic", "--photo").ended(0).out
    assert "Bring it on a stick." not in told and "Vom Telefon" in told


def test_it_is_no_letter_that_counts_as_sent(shop: Path) -> None:
    paint(shop / "orders/pic/photos/pier.jpg", 300)
    refused = run(shop, "letter", "pic", "--photo", "--sent").ended(2)
    assert "proofgen letter pic --photo" in refused.err
    assert run(shop, "letter", "nobody", "--photo").ended(2)


def test_forgetting_an_order_takes_letter_and_page_along(shop: Path) -> None:
    paint(shop / "orders/pic/photos/pier.jpg", 300)
    run(shop, "letter", "pic", "--photo").ended(0)
    run(shop, "build").ended(1)
    before = files(shop / "workroom")
    assert {"letters/pic.photo.txt", "findings.html", "findings.json"} <= set(before)
    run(shop, "forget", "pic", "--sure", "pic").ended(0)
    left = files(shop / "workroom")
    assert not [n for n, data in left.items() if "pic" in n or b"pier.jpg" in data]


def test_the_letter_speaks_the_customers_language(shop: Path) -> None:
    paint(shop / "orders/pic/photos/pier.jpg", 300)
    text = order_text(design="snap").replace("{name:", "{language: de, name:")
    write(shop / "orders/pic/order.yaml", text)
    told = run(shop, "letter", "pic", "--photo").ended(0).out
    assert "Ihr Foto" in told and "Please" not in told and "photo" not in told
