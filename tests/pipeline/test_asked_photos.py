"""Letters for spoilt photographs, written by the command and read as their customer: each asks
plainly for what would help, once, and for nothing that came already."""

from __future__ import annotations

import functools
import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageEnhance

from tests.bench.photo_set import path_of
from tests.bench.photo_spoils import blurred, exposed
from tests.cli.small import make_shop, order_text, run, write
from tests.photo import picture_files as make

pytestmark = pytest.mark.photos

SHARPER = "Please send a sharper one, if there is one."
DAYLIGHT = "Please send one taken in daylight or more light, if there is one."
DEEPER = "Please send one with deeper colours, if there is one."
CLEARER = "Please send one in which light and dark differ more, if there is one."
ORIGINAL = "Please send it as the camera or the telephone made it, not a copy from a chat."
LARGER = "Please send it, or one like it, with more pixels, if you can."
ITSELF = "Please send the photo itself, not a picture of the screen."
NO_BARS = "Please send the photo itself, without the bars."
AGAIN = "Please send the photo once more."
WHOLE = "Please send the whole photo once more."
BEFORE = "Please send it as it was before it was made larger."
KIND = "Please send it as a JPEG or PNG picture."
A_PHOTO = "Please send the photo itself, as a JPEG or PNG file."
ANEW = "Please send a copy that you have opened and saved anew as a PNG picture."
SCREENS = "Please send it in the colours of screens (RGB), as cameras and telephones do."
PLACE = "Please send the photo for this place."
BY_MAIL = "From a telephone, share it by mail at its original size, or as a file."
PLAIN = "May we have another photo, or the original of this one?"
OFTEN_SMALLER = "a small photo can often be used smaller"
NO_CROP = "Do not crop it; tell us what matters, and we place it."


@functools.cache
def rocks(width: int = 1600) -> Image.Image:
    """A phone's photo, made smaller."""
    with Image.open(path_of("highland-rocks.jpg")) as photo:
        photo.load()
    return photo.resize((width, round(photo.height * width / photo.width)), Image.Resampling.BOX)


def jpeg(image: Image.Image, quality: int = 92, **more: object) -> bytes:
    return make.saved(image, "JPEG", quality=quality, **more)


def png(image: Image.Image) -> bytes:
    return make.saved(image, "PNG")


def enlarged(way: Image.Resampling) -> bytes:
    small = rocks(700)
    return png(small.resize((1400, small.height * 2), way))


def screen(*, signs: bool) -> bytes:
    """A picture of a phone's screen with the photo across it."""
    shown = Image.new("RGB", (1170, 2532), (18, 18, 20))
    photo = rocks(1170)
    shown.paste(photo, (0, (2532 - photo.height) // 2))
    for left, right in ((90, 190), (960, 1090)) if signs else ():
        for x in range(left, right, 9):
            shown.paste((240, 240, 240), (x, 50, x + 4, 84))
    return png(shown)


def framed() -> bytes:
    """The photo with white bars above and below, so little that a coaster shows them."""
    photo = rocks(1300).crop((0, 0, 1000, 900))
    frame = Image.new("RGB", (1000, 1000), "white")
    frame.paste(photo, (0, 50))
    return png(frame)


def four_inks() -> bytes:
    return jpeg(rocks().convert("CMYK"))


def broken_off() -> bytes:
    return jpeg(rocks())[:90_000]


def twelve_bits() -> bytes:
    """A PNG whose pixels are of no kind that PNG has."""
    data = bytearray(png(rocks(300)))
    data[24] = 3
    return bytes(data)


def huge() -> bytes:
    """All colour of 100 megapixels in several scans: more than is opened."""
    return jpeg(Image.new("RGB", (10_000, 10_000), (90, 120, 60)), progressive=True, subsampling=0)


def camera(image: Image.Image) -> bytes:
    return jpeg(image, exif=make.exif(make="Teasel"))


def grainy(image: Image.Image, noise: float) -> Image.Image:
    """With noise of so many codes in every pixel."""
    pixels = np.asarray(image, dtype=np.float32)
    grain = np.random.default_rng(5).normal(0, noise, pixels.shape)
    return Image.fromarray(np.clip(pixels + grain, 0, 255).astype(np.uint8))


@dataclass(frozen=True)
class Kind:
    """A way to spoil a photograph; what the letter must wish for, and whether it gives a size:
    'least', 'most', or none."""

    make: Callable[[], bytes]
    wishes: list[str]
    size: str = ""
    file: str = "pier.jpg"
    zoom: float = 1.0
    crop: bool = True
    mail: bool = True


KINDS = {
    "coarse": Kind(lambda: jpeg(rocks(500)), [ORIGINAL], "least"),
    "a little small": Kind(lambda: jpeg(rocks(950)), [ORIGINAL], "least"),
    "a camera's own, zoomed in": Kind(lambda: camera(rocks()), [LARGER], "least", zoom=2.5),
    "blurred": Kind(lambda: jpeg(blurred(rocks(), 1.9)), [SHARPER]),
    "blurred until nothing is left": Kind(lambda: jpeg(blurred(rocks(), 1.9)), [SHARPER]),
    "blurred under grain": Kind(lambda: jpeg(grainy(blurred(rocks(), 4), 8)), [SHARPER]),
    "dark": Kind(lambda: jpeg(exposed(rocks(), -6)), [DAYLIGHT]),
    "pale": Kind(lambda: jpeg(rocks().point(lambda c: 215 + c * 40 / 255)), [DEEPER]),
    # So flat that no edge is clear.
    "flat": Kind(lambda: jpeg(ImageEnhance.Contrast(rocks()).enhance(0.1)), [SHARPER, CLEARER]),
    "squeezed": Kind(lambda: jpeg(rocks(), 30), [ORIGINAL]),
    "squeezed and small": Kind(lambda: jpeg(rocks(700), 30), [ORIGINAL], "least"),
    "made larger": Kind(lambda: enlarged(Image.Resampling.BICUBIC), [BEFORE], file="pier.png"),
    "made larger in squares": Kind(
        lambda: enlarged(Image.Resampling.NEAREST), [BEFORE], file="pier.png"
    ),
    "a screen": Kind(lambda: screen(signs=True), [ITSELF], file="Screenshot 12.png"),
    "bars": Kind(framed, [NO_BARS], file="pier.png", crop=False),
    "dark and squeezed": Kind(lambda: jpeg(exposed(rocks(), -6), 40), [DAYLIGHT, ORIGINAL]),
    "blurred and squeezed": Kind(lambda: jpeg(blurred(rocks(), 4), 50), [SHARPER, ORIGINAL]),
    "printing inks": Kind(four_inks, [SCREENS]),
    "cut short": Kind(broken_off, [WHOLE]),
    "cut short and small": Kind(lambda: jpeg(rocks(600))[:20_000], [WHOLE, ORIGINAL], "least"),
    "a little soft": Kind(lambda: jpeg(blurred(rocks(), 1.9)), [SHARPER]),
    "rather dark": Kind(lambda: jpeg(exposed(rocks(), -4)), [DAYLIGHT]),
    "empty": Kind(lambda: b"", [AGAIN]),
    "a video": Kind(lambda: b"\0\0\0\x18ftypmp42" + bytes(200), [A_PHOTO], file="pier.mp4"),
    "a layered picture": Kind(lambda: b"8BPS\0\1" + bytes(200), [KIND], file="pier.psd"),
    "an odd kind of a kind we take": Kind(twelve_bits, [WHOLE], file="pier.png"),
    "huge": Kind(huge, [], "most", mail=False),
}


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = make_shop(tmp_path_factory.mktemp("letters") / "shop")
    settings = (folder / "shop.yaml").read_text("utf-8")
    write(folder / "shop.yaml", settings.replace("ppi: 72", "ppi: 300"))
    return folder


@functools.cache
def made(make: Callable[[], bytes]) -> bytes:
    """A spoilt photograph, spoilt once for all languages."""
    return make()


def letter(shop: Path, kind: Kind, language: str = "en") -> str:
    """The letter that `letter --photo` writes for an order with this photo on a coaster."""
    use = f'photos: {{photo: {{file: "photos/{kind.file}", zoom: {kind.zoom}}}}}'
    text = order_text(design="snap").replace("photos: {photo: {file: photos/pier.jpg}}", use)
    order = write(
        shop / "orders" / "pic" / "order.yaml",
        text.replace("{name:", f"{{language: {language}, name:"),
    ).parent
    for old in order.glob("photos/*"):
        old.unlink()
    (order / "photos").mkdir(exist_ok=True)
    (order / "photos" / kind.file).write_bytes(made(kind.make))
    return run(shop, "letter", "pic", "--photo").ended(0).out


def said(told: str) -> list[str]:
    """The letter's points, each on one line."""
    return [" ".join(one.split()) for one in re.findall(r"^- (.+(?:\n  .+)*)", told, re.MULTILINE)]


def hold(told: str, kind: Kind) -> None:
    """What every letter must hold to."""
    every = said(told)
    asked = [one for one in every if one.startswith("Please send") and "smaller copy" not in one]
    assert asked == kind.wishes
    assert len(set(every)) == len(every)  # nothing twice
    sizes = [one for one in every if "pixels (" in one]
    if not kind.size:
        assert sizes == [] and "cm" not in told
    else:
        assert [("at least" in one, "at most" in one) for one in sizes] == [
            (kind.size == "least", kind.size == "most")
        ]
    for trade in ("bleed", "ppi", "inch", "dpi", "megapixel", "mm", "photo/", "order.yaml"):
        assert trade not in told
    assert (NO_CROP in every) is kind.crop
    assert (BY_MAIL in every) is kind.mail


@pytest.mark.parametrize("name", KINDS)
def test_a_letter_asks_for_what_would_help(shop: Path, name: str) -> None:
    kind = KINDS[name]
    told = letter(shop, kind)
    hold(told, kind)
    assert kind.file in told
    assert OFTEN_SMALLER not in " ".join(told.split())  # the photo covers the coaster


def test_a_small_photo_may_be_used_smaller_where_its_piece_leaves_room(shop: Path) -> None:
    design = shop / "designs" / "snap" / "design.md"
    before = design.read_text("utf-8")
    write(design, before.replace("at: fill", "at: [20%, 20%, 60%, 60%]"))
    try:
        small, also_blurred = (
            " ".join(letter(shop, Kind(lambda one=one: jpeg(one), [])).split())
            for one in (rocks(300), blurred(rocks(300), 4))
        )
    finally:
        write(design, before)
    assert OFTEN_SMALLER in small
    assert OFTEN_SMALLER not in also_blurred and SHARPER in also_blurred


def test_of_a_strip_it_is_said_how_little_would_be_seen(shop: Path) -> None:
    strip = rocks(1366).crop((0, 300, 1366, 700))
    told = said(letter(shop, Kind(lambda: jpeg(strip), [])))
    assert "It is wide enough for that, but not high enough." in told
    (seen,) = (one for one in told if one.startswith("Of this picture only about"))
    assert seen.startswith(
        "Of this picture only about 30 % would be seen, because it is much wider"
    )
    tall = said(letter(shop, Kind(lambda: jpeg(strip.transpose(Image.Transpose.ROTATE_90)), [])))
    assert "It is high enough for that, but not wide enough." in tall
    assert any("much taller than its place" in one for one in tall)
    small = said(letter(shop, KINDS["coarse"]))
    assert not [one for one in small if "enough for that" in one or "would be seen" in one]


def test_a_file_that_breaks_off_may_look_whole(shop: Path) -> None:
    told = said(letter(shop, KINDS["cut short"]))
    assert any(one.startswith("Your photo may look whole on your screen") for one in told)


def test_what_was_let_through_is_asked_for_again_where_the_maker_asks(shop: Path) -> None:
    letter(shop, KINDS["blurred"])
    run(shop, "check", "pic", "--accept", "photo/blur", "--because", "No other").ended(0)
    told = run(shop, "letter", "pic", "--photo").ended(0)
    assert SHARPER in said(told.out) and "No check asked" not in told.err


def test_any_photo_can_be_asked_for_and_the_maker_is_told_that_no_check_did(shop: Path) -> None:
    letter(shop, Kind(lambda: jpeg(rocks()), []))
    told = run(shop, "letter", "pic", "--photo").ended(0)
    assert PLAIN in said(told.out) and "No check asked for another photo of pic" in told.err
    write(shop / "orders" / "wordy" / "order.yaml", order_text())
    assert "has no photo" in run(shop, "letter", "wordy", "--photo").ended(2).err


def test_the_size_that_is_asked_for_is_enough_and_was_not_sent(shop: Path) -> None:
    told = letter(shop, KINDS["coarse"])
    least = re.search(r"at least ([\d,]+) × ([\d,]+) pixels", told)
    has = re.search(r"this one has ([\d,]+) × ([\d,]+)\.", told)
    assert least and has and "10 × 10 cm" in told
    wide, high = (int(side.replace(",", "")) for side in least.groups())
    assert has.groups() == ("500", "375")
    enough = make.saved(rocks().resize((wide, high)), "JPEG", quality=92)
    assert PLAIN in said(letter(shop, Kind(lambda: enough, [])))  # no check asks for another


def test_two_photos_are_asked_for_each_by_its_own_name(shop: Path) -> None:
    """And one that stands on two lines only once, for the larger of its two places."""
    order = shop / "orders" / "pic"
    letter(shop, KINDS["squeezed and small"])
    text = (order / "order.yaml").read_text("utf-8")
    line = text[text.index("  - design") :]
    other = line.replace("pier.jpg", "dark.jpg")
    wrapped = line.replace("coaster-round", "can-wrap-linen")
    write(order / "order.yaml", text + other + wrapped)
    (order / "photos" / "dark.jpg").write_bytes(KINDS["dark"].make())
    told = run(shop, "letter", "pic", "--photo").ended(0).out
    assert told.count("pier.jpg") == told.count("dark.jpg") == 1
    assert told.count("at least") == 1
    least = re.search(r"at least ([\d,]+) × ([\d,]+) pixels", told)
    assert least and max(int(side.replace(",", "")) for side in least.groups()) > 851
    asked = [one for one in said(told) if one.startswith("Please")]
    assert sorted(asked) == sorted([ORIGINAL, DAYLIGHT])


def test_a_photo_that_never_came_is_asked_for_with_its_size(shop: Path) -> None:
    text = order_text(design="snap").replace("photos: {photo: {file: photos/pier.jpg}}", "")
    write(shop / "orders" / "none" / "order.yaml", text)
    told = run(shop, "letter", "none", "--photo").ended(0).out
    assert told.startswith("Subject: A photo is still missing for your order, none\n")
    assert [one for one in said(told) if one.startswith("Please")] == [PLACE]
    assert "it will be 10 × 10 cm. For that it needs at least" in told
    assert "this one has" not in told and "If there is no" not in told


@pytest.mark.parametrize("language", ["de", "es", "ar"])
@pytest.mark.parametrize("name", ["coarse", "blurred", "made larger", "huge"])
def test_a_letter_speaks_the_customers_language(shop: Path, name: str, language: str) -> None:
    told = letter(shop, KINDS[name], language).removesuffix(
        "Puffin Yard\nhello@puffinyard.example\n"
    )
    ours = " ".join(told.split()).replace("JPEG", "").replace("PNG", "")
    for word in ("please", "photo", "send", "your", "pixels (", "cm."):
        assert not (word in ours.lower() and language == "ar"), word
        assert not (word in ("please", "photo ", "send", "your") and word in ours.lower()), word
