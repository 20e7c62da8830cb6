"""What the page's script reads of a file before anything is decoded, beside what `look` reads."""

from __future__ import annotations

import io
import random
from collections.abc import Iterator
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import Browser, Page

from proofgen.photo.opening import Pictures
from proofgen.render import carried
from proofgen.store import NoStore
from tests.real_photos import PHOTOS, real_photo

pytestmark = pytest.mark.browser
# A picture with two frames; those that look refuses are asked for a size all the same.
NAMES = [name for name in PHOTOS if name != "phone-200mp.heic"]


@pytest.fixture(scope="module")
def page(browser: Browser) -> Iterator[Page]:
    context = browser.new_context()
    page = context.new_page()
    page.add_script_tag(content=(carried("themes") / "base" / "photo-size.js").read_text("utf-8"))
    page.set_content("<input type='file'>")
    yield page
    context.close()


def read(page: Page, file: Path | dict[str, object]) -> dict[str, object] | None:
    page.set_input_files("input", file)  # type: ignore[arg-type]
    told: dict[str, object] | None = page.evaluate(
        "photoSize(document.querySelector('input').files[0])"
    )
    return told


def payload(content: bytes) -> dict[str, object]:
    return {"name": "it.jpg", "mimeType": "image/jpeg", "buffer": content}


@pytest.mark.parametrize("name", NAMES)
def test_real_photographs_have_the_size_that_look_counts(page: Page, name: str) -> None:
    path = real_photo(name)
    with Pictures(NoStore()) as pictures:
        facts = pictures.inspect(path)
    found = read(page, path)
    assert found and (found["width"], found["height"]) == (facts.width_px, facts.height_px)


@pytest.mark.parametrize("kind", ["PNG", "WEBP", "GIF", "TIFF", "JPEG", "AVIF"])
@pytest.mark.parametrize("orientation", [1, 3, 6, 8])
def test_made_pictures_too(page: Page, tmp_path: Path, kind: str, orientation: int) -> None:
    exif = Image.Exif()
    exif[0x112] = orientation
    out = io.BytesIO()
    turns = kind in ("PNG", "WEBP", "JPEG", "TIFF")
    how = {"exif": exif} if turns else {}
    image = Image.effect_mandelbrot((123, 45), (-2, -1, 1, 1), 20).convert("RGB")
    image.save(out, kind, **how)  # in memory
    path = tmp_path / f"made.{kind.lower()}"
    path.write_bytes(out.getvalue())
    with Pictures(NoStore()) as pictures:
        facts = pictures.inspect(path)
    assert facts.usable, facts.problem
    found = read(page, path)
    assert found and (found["width"], found["height"]) == (facts.width_px, facts.height_px)
    if turns:
        assert (found["width"] == 45) == (orientation >= 5)


@pytest.mark.parametrize("quality", [{"lossless": True}, {"quality": 60}])
def test_every_kind_of_webp(page: Page, quality: dict[str, object]) -> None:
    out = io.BytesIO()
    Image.new("RGB", (77, 31), "#7090a8").save(out, "WEBP", **quality)  # in memory
    assert read(page, payload(out.getvalue())) == {"kind": "WebP", "width": 77, "height": 31}


def test_what_tells_the_size_may_lie_far_in(page: Page) -> None:
    """Cameras put large previews before it."""
    out = io.BytesIO()
    Image.new("RGB", (60, 40), "#7090a8").save(out, "JPEG")  # in memory
    whole = out.getvalue()
    filler = b"\xff\xe2\xff\xff" + bytes(65533)
    assert read(page, payload(whole[:2] + filler * 6 + whole[2:])) == {
        "kind": "JPEG",
        "width": 60,
        "height": 40,
    }


@pytest.mark.parametrize(
    "content",
    [b"", b"\xff\xd8\xff", b"%PDF-1.7\n" + bytes(400), b"<svg xmlns='http://www.w3.org/2000/svg'/>",
     b"BM" + bytes(200), b"RIFF\0\0\0\0WAVE" + bytes(60), bytes(3000)],
)  # fmt: skip
def test_what_is_no_picture_we_print_has_none(page: Page, content: bytes) -> None:
    found = read(page, payload(content))
    assert found is None


def test_a_file_cut_before_its_size_is_told_as_damaged(page: Page) -> None:
    out = io.BytesIO()
    Image.new("RGB", (60, 40)).save(out, "JPEG")  # in memory
    heads = [
        out.getvalue()[:30],
        b"\x89PNG\r\n\x1a\n" + bytes(6),
        b"\0\0\0\x18ftypheic" + bytes(40),
    ]
    for head in heads:
        assert read(page, payload(head)) == {"kind": ""}


def test_no_file_makes_it_fail(page: Page) -> None:
    """Bytes of each kind, a few of them changed or the end cut off: a size, or none, or damaged."""
    chance = random.Random(5)
    kept = []
    for kind in ("JPEG", "PNG", "WEBP", "GIF", "TIFF", "AVIF"):
        out = io.BytesIO()
        Image.new("RGB", (60, 40)).save(out, kind)  # in memory
        for _ in range(60):
            changed = bytearray(out.getvalue()[: chance.randrange(12, 2 + len(out.getvalue()))])
            for _ in range(chance.randrange(6)):
                changed[chance.randrange(len(changed))] = chance.randrange(256)
            kept.append(list(changed))
    told = page.evaluate(
        """async (all) => {
          const told = [];
          for (const one of all) {
            const found = await photoSize(new File([new Uint8Array(one)], "x"));
            told.push(found === null || typeof found.kind === "string");
          }
          return told;
        }""",
        kept,
    )
    assert len(told) == 360 and all(told)
