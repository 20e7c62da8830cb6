"""Photos opened strictly: every allowed kind comes out upright, in sRGB and bare."""

import base64
import io
import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageFile, TiffImagePlugin, features

from proofgen.errors import ProofgenError
from proofgen.photo import opening
from proofgen.photo import pixels as photo_pixels
from proofgen.photo.exchange import RefusedError
from proofgen.photo.header import read_header
from proofgen.photo.opening import Pictures
from proofgen.photo.worker import Worker
from proofgen.store import NoStore, Store
from tests.browsers import NoBrowser, running_browser
from tests.lacking import lacking
from tests.materials import PICTURES
from tests.photo import picture_files as make

DATA = Path(__file__).parents[1] / "data"


@pytest.fixture
def put(tmp_path):
    def write(name: str, data: bytes) -> Path:
        path = tmp_path / name
        path.write_bytes(data)
        return path

    return write


def pixels(path: Path, wanted=None) -> np.ndarray:
    facts = PICTURES.inspect(path)
    assert facts.usable, facts.problem
    return np.asarray(PICTURES.open_pixels(facts, wanted)).astype(int)


LOSSLESS = {"PNG": {}, "TIFF": {}, "WEBP": {"lossless": True}}
KINDS = {
    "JPEG": ("pier.jpg", {"quality": 95}),
    "PNG": ("pier.png", {}),
    "WEBP": ("pier.webp", {"quality": 95}),
    "TIFF": ("pier.tif", {}),
    "HEIF": ("pier.heic", {"quality": 95}),
    "GIF": ("pier.gif", {}),
    "MPO": ("pier.mpo", {"quality": 95}),
    "AVIF": ("pier.avif", {"quality": 95}),
}


@pytest.mark.parametrize("kind", KINDS)
def test_every_allowed_kind(put, kind):
    if kind == "AVIF" and not features.check("avif"):
        pytest.skip("this Pillow was built without AVIF")
    name, options = KINDS[kind]
    original = make.scene()
    more = {"save_all": True, "append_images": [make.scene(96, 64)]} if kind == "MPO" else {}
    path = put(name, make.saved(original, kind, **options, **more))
    facts = PICTURES.inspect(path)
    assert (facts.problem, facts.frames) == ("", 2 if kind == "MPO" else 1)
    assert (facts.profile_fault, facts.ink_doubts) == ("", ())
    assert (facts.format, facts.width_px, facts.height_px) == (kind, 96, 64)
    assert (facts.orientation, facts.profile, facts.has_alpha) == (0, "", False)
    assert facts.bytes == path.stat().st_size and len(facts.sha256) == 64
    picture = PICTURES.open_pixels(facts)
    assert (picture.mode, picture.size, picture.info) == ("RGB", (96, 64), {})
    off = np.abs(np.asarray(picture).astype(int) - np.asarray(original))
    assert off.mean() < (6 if kind == "GIF" else 4)


@pytest.mark.parametrize("decode", [True, False])
def test_header_alone_tells_the_same(put, decode):
    path = put("pier.jpg", make.saved(make.scene(), "JPEG", exif=make.exif(True, 6)))
    facts = PICTURES.inspect(path, decode=decode)
    assert (facts.width_px, facts.height_px, facts.orientation) == (64, 96, 6)
    assert facts.has_location
    assert set(facts.jpeg_tables) == {0, 1}
    assert all(len(table) == 64 for table in facts.jpeg_tables.values())


# TIFF 6.0 and EXIF (CIPA DC-008), tag 0x0112: what each value says of the stored rows.
TURNS = json.loads((DATA / "exif_orientation.json").read_text())


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "TIFF", "WEBP"])
@pytest.mark.parametrize("turn", TURNS, ids=lambda t: str(t["orientation"]))
def test_orientation(put, kind, turn):
    stored = np.kron(np.array(turn["stored"], np.uint8), np.ones((16, 16), np.uint8)) * 40 + 20
    picture = Image.fromarray(np.repeat(stored[..., None], 3, axis=2))
    tags = make.exif(orientation=turn["orientation"])
    options = LOSSLESS.get(kind, {"quality": 95})
    path = put("turned" + KINDS[kind][0][4:], make.saved(picture, kind, exif=tags, **options))
    facts = PICTURES.inspect(path)
    assert facts.orientation == turn["orientation"]
    assert (facts.width_px, facts.height_px) == (48, 32)
    cells = pixels(path)[8::16, 8::16, 0]
    assert np.abs((cells - 20) / 40 - turn["upright"]).max() < 0.1


@pytest.mark.parametrize("kind", ["HEIF", "AVIF"])
def test_orientation_in_boxes(put, kind):
    """These kinds turn by a box of their own, whatever EXIF repeats."""
    if kind == "AVIF" and not features.check("avif"):
        pytest.skip("this Pillow was built without AVIF")
    path = put(KINDS[kind][0], make.saved(make.scene(), kind, exif=make.exif(orientation=6)))
    facts = PICTURES.inspect(path)
    assert (facts.width_px, facts.height_px) == (64, 96)
    upright = make.scene().transpose(Image.Transpose.ROTATE_270)
    assert np.abs(pixels(path) - np.asarray(upright)).mean() < 8


@pytest.mark.parametrize("value", [0, 9, 65535])
def test_impossible_orientation_is_ignored(put, value):
    path = put("a.jpg", make.saved(make.scene(), "JPEG", exif=make.exif(orientation=value)))
    assert PICTURES.inspect(path).orientation == 0
    assert pixels(path).shape == (64, 96, 3)


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "TIFF", "WEBP", "HEIF"])
def test_profile_is_applied(put, kind):
    """With red and green exchanged an ignored profile would leave the corner red."""
    options = LOSSLESS.get(kind, {"quality": 95})
    data = make.saved(make.scene(), kind, icc_profile=make.swapped_profile(), **options)
    path = put(KINDS[kind][0], data)
    assert PICTURES.inspect(path).profile
    red, green, _ = pixels(path)[8, 8]
    assert green > 200 > 100 > red


def test_display_p3_and_what_srgb_cannot_show(put):
    # CSS Color 4, section 10: sRGB red is (.917488, .200287, .138561) in Display P3.
    picture = make.scene()
    picture.paste((234, 51, 35), (0, 0, 96, 32))  # sRGB's own red, written in P3
    picture.paste((0, 255, 0), (0, 32, 96, 64))  # a green that sRGB does not have
    path = put("p3.png", make.saved(picture, "PNG", icc_profile=make.p3_profile()))
    facts = PICTURES.inspect(path)
    assert facts.clipped == pytest.approx(0.5, abs=0.05)
    seen = pixels(path)
    assert np.abs(seen[10, 50] - (255, 0, 0)).max() <= 3
    assert seen[50, 50].tolist() == [0, 255, 0]


def test_srgb_profile_changes_nothing(put):
    path = put("a.png", make.saved(make.scene(), "PNG", icc_profile=make.srgb_profile()))
    assert np.array_equal(pixels(path), np.asarray(make.scene()))
    assert PICTURES.inspect(path).clipped == 0


@pytest.mark.parametrize(
    ("icc", "word"),
    [
        (b"nonsense" * 40, "broken"),
        (make.srgb_profile()[:300], "broken"),
        (make.swapped_profile() + bytes(1_100_000), "oversized"),  # used it would show
    ],
)
@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
@pytest.mark.parametrize("decode", [True, False])
def test_bad_profile_is_left_out_and_said(put, icc, word, kind, decode):
    path = put(KINDS[kind][0], make.saved(make.scene(), kind, icc_profile=icc))
    facts = PICTURES.inspect(path, decode=decode)
    assert facts.usable, facts.problem
    assert facts.profile_fault == word
    assert np.abs(pixels(path) - np.asarray(make.scene())).mean() < 4


def test_profile_of_another_colour_space_is_left_out(put):
    icc = bytearray(make.srgb_profile())
    icc[16:20] = b"CMYK"
    path = put("a.png", make.saved(make.scene(), "PNG", icc_profile=bytes(icc)))
    assert PICTURES.inspect(path).profile_fault == "broken"
    assert np.array_equal(pixels(path), np.asarray(make.scene()))


def cmyk_scene() -> Image.Image:
    """The scene in printing inks: plain complement, no black."""
    inks = 255 - np.asarray(make.scene())
    return Image.fromarray(np.dstack([inks, np.zeros(inks.shape[:2], np.uint8)]), "CMYK")


def test_cmyk_as_adobe_writes_it(put):
    path = put("inks.jpg", make.saved(cmyk_scene(), "JPEG", quality=95))
    facts = PICTURES.inspect(path)
    assert facts.mode == "CMYK"
    assert facts.ink_doubts == ("unknown",)
    assert np.abs(pixels(path) - np.asarray(make.scene())).mean() < 6


def as_a_browser_shows_it(data: bytes) -> np.ndarray:
    """The pixels of a JPEG in Chromium: a reader of its own, and what customers look with."""
    try:
        shown = running_browser().new_page()
    except NoBrowser as error:
        lacking(str(error))
    coded = base64.b64encode(data).decode()
    shown.set_content(f'<img src="data:image/jpeg;base64,{coded}">')
    shown.evaluate("document.images[0].decode()")
    taken = shown.locator("img").screenshot()
    shown.close()
    return np.asarray(Image.open(io.BytesIO(taken)).convert("RGB"), dtype=np.int16)


def test_cmyk_without_the_marker_looks_as_in_other_readers(put):
    """Their writers turned the inks over or did not; readers take them all for turned over."""
    data = make.without_segment(make.saved(cmyk_scene(), "JPEG", quality=95), 0xEE)
    assert b"Adobe" not in data
    path = put("inks.jpg", data)
    assert "unmarked" in PICTURES.inspect(path).ink_doubts
    assert np.abs(pixels(path) - as_a_browser_shows_it(data)).mean() < 6


def test_grey(put):
    grey = make.scene().convert("L")
    path = put("grey.png", make.saved(grey, "PNG"))
    assert np.array_equal(pixels(path)[..., 1], np.asarray(grey))


def test_grey_with_a_colour_profile(put):
    grey = make.scene().convert("L")
    path = put("grey.jpg", make.saved(grey, "JPEG", icc_profile=make.srgb_profile()))
    assert PICTURES.inspect(path).profile_fault == ""
    assert np.abs(pixels(path)[..., 1] - np.asarray(grey)).mean() < 3


@pytest.mark.parametrize("kind", ["PNG", "TIFF"])
def test_sixteen_bit_grey_is_scaled(put, kind):
    ramp = np.linspace(0, 65535, 96 * 64).astype(np.uint16).reshape(64, 96)
    path = put("deep" + KINDS[kind][0][4:], make.saved(Image.fromarray(ramp), kind))
    assert np.abs(pixels(path)[..., 0] - ramp / 257).max() <= 1


def test_sixteen_bit_colour_is_scaled(put):
    values = np.array([[0x1234, 0x80FF, 0xFFFF], [0x0000, 0x00FF, 0xFE00]], ">u2")
    path = put("deep.png", make.png(2, 1, 16, 2, b"\0" + values.tobytes()))
    assert np.abs(pixels(path)[0] - values / 257).max() <= 1


def test_palette_with_clear_parts(put):
    picture = make.scene().quantize(32)
    data = make.saved(picture, "PNG", transparency=picture.getpixel((2, 2)))
    facts = PICTURES.inspect(put("clear.png", data))
    seen = PICTURES.open_pixels(facts)
    assert (facts.has_alpha, seen.mode) == (True, "RGBA")
    assert seen.getpixel((2, 2)) == (255, 255, 255, 0)
    assert seen.getpixel((90, 60))[3] == 255


def test_alpha_that_hides_nothing_is_dropped(put):
    opaque = make.scene().convert("RGBA")
    path = put("a.png", make.saved(opaque, "PNG"))
    assert PICTURES.inspect(path, decode=False).has_alpha  # the header cannot know better
    assert not PICTURES.inspect(path).has_alpha
    assert PICTURES.open_pixels(PICTURES.inspect(path)).mode == "RGB"


def test_first_frame_of_several(put):
    frames = [make.scene(), Image.new("RGB", (96, 64), "navy"), Image.new("RGB", (96, 64), "red")]
    for kind in ("GIF", "WEBP", "TIFF", "PNG"):
        name = KINDS[kind][0]
        path = put(name, make.saved(frames[0], kind, save_all=True, append_images=frames[1:]))
        facts = PICTURES.inspect(path)
        assert facts.frames == 3, kind
        assert np.abs(pixels(path)[8, 8] - (230, 60, 60)).max() < 25, kind


def test_a_wrong_name_does_no_harm(put):
    facts = PICTURES.inspect(put("pier.jpg", make.saved(make.scene(), "PNG")))
    assert facts.usable
    assert facts.format == "PNG"


WANTED = [(None, 1), ((201, 150), 1), ((101, 75), 1), ((100, 75), 2), ((50, 37), 4), ((9, 9), 8)]


@pytest.mark.parametrize(("wanted", "scale"), WANTED)
@pytest.mark.parametrize("turn", [1, 6])
@pytest.mark.parametrize("kind", ["JPEG", "PNG", "HEIF"])
def test_twice_the_wanted_pixels_come(put, kind, wanted, scale, turn):
    stored = make.scene(400, 300) if turn == 1 else make.scene(300, 400)
    data = make.saved(stored, kind, quality=95, exif=make.exif(orientation=turn))
    picture = PICTURES.open_pixels(PICTURES.inspect(put(KINDS[kind][0], data)), wanted)
    assert picture.size == (-(-400 // scale), -(-300 // scale))
    upright = stored if turn == 1 else stored.transpose(Image.Transpose.ROTATE_270)
    small = np.asarray(upright.resize(picture.size, Image.Resampling.BOX)).astype(int)
    assert np.abs(np.asarray(picture) - small).mean() < 5


@pytest.mark.parametrize("kind", KINDS)
def test_kept_pixels_are_those_of_a_fresh_decoding(put, kind):
    """However a photo was asked for before, the same pixels come."""
    stored = make.scene(400, 300)
    stored.putalpha(Image.linear_gradient("L").resize((400, 300)))
    stored = stored if kind in ("PNG", "WEBP", "TIFF", "HEIF") else stored.convert("RGB")
    facts = PICTURES.inspect(put(KINDS[kind][0], make.saved(stored, kind)))
    sizes = [None, (100, 75), (9, 9), (200, 150), None]
    kept = [PICTURES.open_pixels(facts, wanted).tobytes() for wanted in sizes]
    for wanted, before in zip(sizes, kept, strict=True):
        data = facts.file.read_bytes()
        photo_pixels._kept.clear()
        header = read_header(data, kind)
        scale = photo_pixels.choose_scale(header, wanted)
        photo_pixels.decode(data, kind, header)
        assert photo_pixels.upright(kind, scale, sent=False).tobytes() == before
    assert kept[0] == kept[-1]


@pytest.mark.parametrize("turn", [0, 90, 180, 270])
@pytest.mark.parametrize("orientation", [1, 6])
def test_a_part_is_that_of_the_whole(put, turn, orientation):
    """To the pixel: what is pressed must not depend on where it was made smaller."""
    data = make.saved(make.scene(400, 300), "JPEG", exif=make.exif(orientation=orientation))
    facts = PICTURES.inspect(put("a.jpg", data)).turned(turn)
    for wanted, box, size in (
        ((120, 90), (0.1, 0.2, 0.93, 0.71), (97, 45)),
        ((400, 400), (-0.0001, 0.0, 1.0001, 1.0), (300, 200)),
        ((20, 20), (0.3, 0.3, 0.6, 0.7), (31, 33)),
    ):
        whole = PICTURES.open_pixels(facts, wanted)
        wide, high = whole.size
        left, top = max(box[0] * wide, 0.0), max(box[1] * high, 0.0)
        right, bottom = min(box[2] * wide, wide), min(box[3] * high, high)
        shown = whole.resize(size, Image.Resampling.LANCZOS, box=(left, top, right, bottom))
        part = PICTURES.open_part(facts, wanted, {"box": box, "size": size})
        assert (part.size, part.tobytes()) == (size, shown.tobytes())


def test_memory_is_priced_before_decoding():
    # Peaks measured with a 100-megapixel JPEG, in MB: baseline at full, half and quarter scale
    # 401, 112, 40; progressive 4:2:0 690 at full; progressive 4:4:4 979 (Pillow 13, Debian 12).
    usual, full = make.header(), make.header(samples=3.0)
    for scale, peak in ((1, 401), (2, 112), (4, 40)):
        assert photo_pixels.cost(usual, scale) >= peak * 1e6
    assert photo_pixels.cost({**usual, "progressive": True}, 1) >= 690e6
    assert photo_pixels.cost({**full, "progressive": True}, 1) >= 979e6
    phone = make.header(width=12_240, height=16_320, format="HEIF")
    assert photo_pixels.choose_scale(phone, None) == 2  # 200 megapixels: allowed, at a half
    assert photo_pixels.choose_scale({**phone, "format": "PNG"}, None) == 2
    with pytest.raises(RefusedError, match="size"):
        photo_pixels.choose_scale(make.header(width=50_000, format="PNG"), None)


def test_truncated_pictures_stay_errors_whatever_others_set(put, monkeypatch):
    monkeypatch.setattr(ImageFile, "LOAD_TRUNCATED_IMAGES", True)  # as an import elsewhere does
    data = make.saved(make.scene(), "PNG")
    assert not PICTURES.inspect(put("a.png", data[: len(data) // 2])).usable
    assert ImageFile.LOAD_TRUNCATED_IMAGES is True  # theirs is left as it was


def test_verification_is_remembered_by_content(put, tmp_path, monkeypatch):
    store = Store(tmp_path / "store")
    good, bad = make.saved(make.scene(), "JPEG"), make.saved(make.scene(), "PNG")[:-40]
    paths = [put("a.jpg", good), put("b.png", bad)]
    with Pictures(store) as pictures:
        first = [pictures.inspect(path) for path in paths]
    monkeypatch.setattr(Worker, "ask", lambda *_: pytest.fail("decoded a second time"))
    assert [Pictures(store).inspect(path) for path in paths] == first
    renamed = Pictures(store).inspect(put("c.png", good))
    assert renamed == replace(first[0], file=renamed.file)


def test_a_header_read_is_not_taken_for_a_verification(put, tmp_path):
    store = Store(tmp_path / "store")
    good = make.saved(make.scene(200, 200), "TIFF")
    path = put("a.tif", good[: len(good) // 2 + 5000])
    with Pictures(store) as pictures:
        assert pictures.inspect(path, decode=False).usable
        assert pictures.inspect(path).problem_code == "damaged"


def test_in_one_run_a_file_is_read_again_only_when_it_changed(put, monkeypatch):
    reads = []
    plain = opening._read
    monkeypatch.setattr(opening, "_read", lambda path: reads.append(path.name) or plain(path))
    one, other = make.saved(make.scene(), "PNG"), make.saved(make.scene(80, 64), "PNG")
    with Pictures(NoStore()) as pictures:
        first = pictures.inspect(put("a.png", one))
        assert pictures.inspect(put("b.png", one)).sha256 == first.sha256
        assert pictures.inspect(first.file) == first and reads == ["a.png", "b.png"]
        put("a.png", other)
        assert (pictures.inspect(first.file).width_px, len(reads)) == (80, 3)
        first.file.unlink()
        assert pictures.inspect(first.file).problem_code == "missing"
        put("a.png", one)
        assert pictures.inspect(first.file) == first


def test_a_photo_that_changed_is_not_opened(put):
    facts = PICTURES.inspect(put("a.png", make.saved(make.scene(), "PNG")))
    put("a.png", make.saved(make.scene(80, 64), "PNG"))
    with pytest.raises(ProofgenError, match="has changed since"):
        PICTURES.open_pixels(facts)


def test_a_photo_with_a_problem_is_not_opened(put):
    facts = PICTURES.inspect(put("a.png", b"hello"))
    with pytest.raises(ProofgenError, match="is not a picture"):
        PICTURES.open_pixels(facts)


def test_a_photo_that_went_is_not_opened(put):
    path = put("a.png", make.saved(make.scene(), "PNG"))
    facts = PICTURES.inspect(path)
    path.unlink()
    with pytest.raises(ProofgenError, match="there is no file"):
        PICTURES.open_pixels(facts)


def test_what_is_kept_and_the_next_fit_the_memory(monkeypatch):
    """The oldest is let go of first, and only as far as is needed."""
    pixels = 96 * 64
    monkeypatch.setattr(photo_pixels, "_kept", {})
    monkeypatch.setattr(photo_pixels, "ROOM", 24 * pixels)  # decoding takes 8, keeping 4
    for grey in range(7):
        data = make.saved(Image.new("RGB", (96, 64), (grey,) * 3), "PNG")
        photo_pixels.decode(data, str(grey), read_header(data, "PNG"))
    kept = [decoded.image.getpixel((5, 5))[0] for decoded in photo_pixels._kept.values()]
    assert kept == [2, 3, 4, 5, 6]


@pytest.mark.parametrize(
    "written, read",
    [
        ((2, 1), 2.0),
        ((137, 100), 1.37),
        ((100, 100), 1.0),
        ((0, 1), 1.0),
        ((1, 2), 1.0),
        ((1, 0), None),
        ((0, 0), None),
        ((4_000_000_000, 1), None),
    ],
)
def test_the_cameras_own_zoom_is_read(put, written, read):
    """EXIF tag 0xA404; 0 says that it was not used."""
    tags = Image.Exif()
    tags.get_ifd(0x8769)[0xA404] = TiffImagePlugin.IFDRational(*written)
    path = put("pier.jpg", make.saved(make.scene(), "JPEG", exif=tags.tobytes()))
    assert PICTURES.inspect(path).zoom == read


def test_no_zoom_is_told_where_none_is_written(put):
    assert PICTURES.inspect(put("pier.jpg", make.saved(make.scene(), "JPEG"))).zoom is None


def test_a_large_photo_is_let_go_when_all_of_it_was_sent(monkeypatch):
    """Not before: what is looked at first must not cost a decoding of its own."""
    monkeypatch.setattr(photo_pixels, "_kept", {})
    monkeypatch.setattr(photo_pixels, "_LARGE", 4 * 96 * 64 - 1)
    data = make.saved(make.scene(96, 64), "PNG")
    header = read_header(data, "PNG")
    asked = [(1, False), (2, True), (1, True), (1, True)]
    fresh = []
    for scale, sent in asked:
        fresh.append(photo_pixels.decode(data, "a", header).fresh)
        photo_pixels.upright("a", scale, sent=sent)
    assert fresh == [True, False, False, True]
