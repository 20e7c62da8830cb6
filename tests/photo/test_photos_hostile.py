"""Bad, broken and hostile files: a plain sentence, never a crash, never half a photo."""

import os
import struct
import zlib

import numpy as np
import pytest
from PIL import Image, ImageFile

from proofgen.photo import containers, opening, troubles
from proofgen.photo.exchange import MAX_PIXELS, MAX_SIDE
from proofgen.photo.pixels import choose_scale
from tests.materials import PICTURES
from tests.photo import picture_files as make

JPEG = make.saved(make.scene(240, 160), "JPEG", quality=90)
SCANS = make.saved(make.scene(240, 160), "JPEG", quality=90, progressive=True)
PNG = make.saved(make.scene(240, 160), "PNG")


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (
            b"Dear all, here is the photo.\n",
            "“pier.jpg” is not a picture: it begins like a text file",
        ),
        ("Grüße vom Kai".encode("utf-16"), "it begins like a text file"),
        (b"<!DOCTYPE html><title>Not found</title>", "it begins like a web page"),
        (b"%PDF-1.7\n", "it begins like a PDF document"),
        (b"PK\x03\x04" + bytes(30), "it begins like a zip folder or an office document"),
        (b"\0\0\0\x18ftypmp42" + bytes(40), "it begins like a video"),
        (bytes(5000), "it begins like a file of nothing but zeros"),
        (bytes(range(256)) * 8, "it is no kind of file we know"),
    ],
)
def test_not_a_picture(look, data, said):
    facts = look(data)
    assert facts.problem_code == "not-a-picture"
    assert facts.problem.endswith(said)
    assert facts.cure


@pytest.mark.parametrize(
    ("data", "kind"),
    [
        (b"BM" + bytes(60), "a BMP picture"),
        (b'<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg"/>', "an SVG drawing"),
        (b"8BPS\0\x01" + bytes(30), "a layered picture of a picture program"),
        (b"%!PS-Adobe-3.0 EPSF-3.0\n", "a PostScript drawing"),
    ],
)
def test_pictures_of_other_kinds(look, data, kind):
    facts = look(data, "pier.png")
    assert facts.problem_code == "unsupported"
    assert facts.problem == f"“pier.png” is {kind}, which is not opened here"


def test_no_other_reader_is_tried(look):
    """A PostScript file named .png must never reach the reader that runs another program."""
    assert look(make.saved(make.scene(), "EPS"), "a.png").problem_code == "unsupported"
    assert look(make.saved(make.scene(), "PPM"), "a.png").problem_code == "unsupported"


def test_empty_missing_and_no_file(look, tmp_path):
    assert look(b"").problem == "“pier.jpg” is empty"
    assert PICTURES.inspect(tmp_path / "gone.jpg").problem_code == "missing"
    assert PICTURES.inspect(tmp_path).problem_code == "not-a-picture"
    assert PICTURES.inspect(tmp_path / "a\0b.jpg").problem_code == "unreadable"


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
def test_a_pipe_is_not_waited_for(tmp_path):
    os.mkfifo(tmp_path / "pier.jpg")
    assert PICTURES.inspect(tmp_path / "pier.jpg").problem_code == "not-a-picture"


def test_too_many_bytes(look, monkeypatch):
    monkeypatch.setattr(opening, "MAX_BYTES", 5_000)
    facts = look(PNG, "pier.png")
    assert facts.problem_code == "too-big"
    assert "at most" in facts.cure


def test_half_a_jpeg(look):
    large = make.saved(make.scene(960, 640), "JPEG", quality=90)
    facts = look(large[: len(large) // 2])
    assert facts.problem == "“pier.jpg” ends too early: about half of it is missing"
    assert facts.problem_code == "damaged"
    assert (facts.width_px, facts.height_px) == (960, 640)


@pytest.mark.parametrize("whole", [JPEG, SCANS, PNG], ids=["jpeg", "progressive", "png"])
@pytest.mark.parametrize("decode", [True, False])
def test_cut_anywhere(look, whole, decode):
    """At 40 places and at each of the last 14 bytes, nothing that was cut passes for whole."""
    points = sorted({*range(1, len(whole), len(whole) // 40), *range(len(whole) - 14, len(whole))})
    passed = [at for at in points if look(whole[:at], decode=decode).usable]
    assert passed == []


@pytest.mark.parametrize("kind", ["WEBP", "TIFF", "HEIF"])
def test_other_kinds_cut(look, kind):
    whole = make.saved(make.scene(240, 160), kind)
    for at in (len(whole) // 4, len(whole) // 2, len(whole) - 1):
        assert look(whole[:at], "pier.x").problem_code == "damaged", at


def test_a_png_that_lacks_two_bytes(look):
    facts = look(PNG[:-2], "pier.png")
    assert facts.problem == "“pier.png” ends too early: its last bytes are missing"


def test_a_jpeg_filled_up_with_zeros(look):
    """A broken transfer may leave the right length."""
    cut = JPEG[: len(JPEG) // 2]
    assert look(cut + bytes(len(JPEG) - len(cut))).problem_code == "damaged"


def test_the_end_of_the_small_copy_does_not_count(look):
    """The thumbnail inside EXIF has an end mark of its own."""
    inside = make.with_segments(
        JPEG, make.segment(0xE1, b"Exif\0\0" + make.saved(make.scene(), "JPEG"))
    )
    assert look(inside).usable
    assert look(inside[:-200]).problem_code == "damaged"


@pytest.mark.parametrize("size", [(50_000, 50_000), (1, 1_000_000_000), (20_000, 20_000)])
def test_header_of_a_giant_png(look, size):
    data = make.png(*size, 1, 0, b"\0" * 1000)
    facts = look(data, "pier.png")
    assert facts.problem_code == "too-big"
    assert facts.problem == (
        f"“pier.png” is {size[0]:,} × {size[1]:,} pixels; more than this machine should open"
    )
    assert facts.cure.startswith("Ask for a copy of at most ")


def test_header_of_a_giant_jpeg(look):
    facts = look(make.jpeg_header(50_000, 50_000))
    assert facts.problem_code == "too-big"
    assert facts.cure == "Ask for a copy of at most 7,700 × 7,700 pixels"


@pytest.mark.parametrize("data", [JPEG, SCANS, PNG], ids=["jpeg", "progressive", "png"])
def test_this_process_decodes_no_pixels(look, data, monkeypatch):
    monkeypatch.setattr(ImageFile.ImageFile, "load", lambda _: pytest.fail("decoded here"))
    monkeypatch.setattr(Image, "open", lambda *_, **__: pytest.fail("opened here"))
    late = data[:-12] + make.chunk(b"eXIf", make.exif(True)[6:]) + data[-12:]
    facts = look(late if data is PNG else data, decode=False)
    assert (facts.width_px, facts.problem) == (240, "")
    assert facts.has_location == (data is PNG)
    assert look(data).usable


@pytest.mark.parametrize("size", [(50_000, 50_000), (60_000, 9_000), (300, 3_000_000)])
@pytest.mark.parametrize(
    "kind",
    [
        {"mode": "CMYK", "samples": 4.0, "progressive": True, "bytes": 60_000_000},
        {"format": "PNG"},
        {"format": "HEIF", "alpha": True},
    ],
    ids=["inks in scans", "png", "heic"],
)
def test_the_cure_is_a_size_that_opens(size, kind):
    width, height = troubles.largest(*size)
    assert max(width, height) <= MAX_SIDE and width * height <= MAX_PIXELS
    assert width / height == pytest.approx(size[0] / size[1], rel=0.25)
    assert choose_scale(make.header(width=width, height=height, **kind), None) <= 8


def test_a_bomb_within_the_limits_costs_only_the_child(look):
    """88 megapixels in 100 KB: allowed, decoded apart, and gone with the child's memory."""
    facts = look(make.png(9_380, 9_380, 1, 0, b"\0" * (1 + 9_380 // 8 + 1) * 9_380), "pier.png")
    assert facts.bytes < 100_000
    assert facts.usable, facts.problem


def test_a_giant_phone_jpeg_is_opened_small(look):
    wide = Image.new("L", (14_000, 14_000), 200)
    facts = look(make.saved(wide, "JPEG"))
    assert facts.usable, facts.problem
    assert PICTURES.open_pixels(facts, (1000, 1000)).size == (3500, 3500)


def bomb(megabytes: int) -> bytes:
    packer = zlib.compressobj(9)
    return b"".join(packer.compress(bytes(1 << 20)) for _ in range(megabytes)) + packer.flush()


@pytest.mark.parametrize(
    "chunk",
    [
        make.chunk(b"zTXt", b"a\0\0" + bomb(80)),
        make.chunk(b"iTXt", b"a\0\1\0\0\0" + bomb(80)),
        make.chunk(b"iCCP", b"a\0\0" + bomb(80)),
        make.chunk(b"iCCP", b"a\0\0broken"),
        make.chunk(b"tEXt", b"a\0" + b"x" * 3_000_000),
        make.chunk(b"tEXt", b"a\0text") * 2_000,
    ],
    ids=["zTXt", "iTXt", "iCCP", "iCCP broken", "tEXt", "many"],
)
@pytest.mark.parametrize("decode", [True, False])
def test_packed_texts_and_profiles_do_no_harm(look, chunk, decode):
    facts = look(make.with_chunks(PNG, chunk), "pier.png", decode=decode)
    assert facts.usable, facts.problem
    assert bool(facts.profile_fault) == (b"iCCP" in chunk)


def test_polyglots_lose_their_other_half(look):
    for extra in (b"<html><script>alert(1)</script>", b"PK\x03\x04" + b"canary-in-zip" * 20):
        facts = look(JPEG + extra)
        assert facts.usable
        assert extra[:20] not in PICTURES.open_pixels(facts).tobytes()


def test_nothing_hidden_travels_on(look):
    """Canaries in every corner of a file; none is left in the picture or in its next file."""
    icc = make.srgb_profile() + b"canary-icc"
    tags = make.exif(True, make="canary-make", artist="canary-artist", about="canary-about")
    clear = np.zeros((64, 96, 4), np.uint8)
    clear[..., 3] = 255
    clear[:8, :8] = (*b"can", 0)  # colour beneath fully clear pixels
    files = {
        "a.jpg": make.with_segments(
            make.saved(make.scene(), "JPEG", exif=tags, icc_profile=icc, comment=b"canary-comment"),
            make.segment(0xED, b"Photoshop 3.0\x008BIMcanary-iptc"),
            make.segment(0xE1, b"http://ns.adobe.com/xap/1.0/\0<x>canary-xmp</x>"),
            make.segment(0xEF, b"canary-app15"),
        )
        + b"canary-after-the-end",
        "b.png": make.with_chunks(
            make.saved(Image.fromarray(clear), "PNG", exif=tags, icc_profile=icc),
            make.chunk(b"tEXt", b"Author\0canary-text"),
            make.chunk(b"prVt", b"canary-private"),
        )
        + b"canary-after-the-end",
        "c.webp": make.saved(
            make.scene(), "WEBP", exif=tags, xmp=b"<x>canary</x>", icc_profile=icc
        ),
        "d.heic": make.saved(make.scene(), "HEIF", exif=tags, xmp=b"<x>canary</x>"),
        "e.tif": make.saved(make.scene(), "TIFF", exif=tags, icc_profile=icc),
    }
    for name, data in files.items():
        assert b"canary" in data, name
        facts = look(data, name)
        assert facts.usable, facts.problem
        picture = PICTURES.open_pixels(facts)
        assert picture.info == {} and not picture.getexif()
        assert b"canary" not in picture.tobytes()
        assert b"canary" not in make.saved(picture, "PNG") + make.saved(picture, "TIFF")
        if name == "b.png":
            assert picture.getpixel((2, 2)) == (255, 255, 255, 0)


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "TIFF", "HEIF"])
def test_the_place_is_found(look, kind):
    assert look(make.saved(make.scene(), kind, exif=make.exif(gps=True)), "a.x").has_location
    assert not look(make.saved(make.scene(), kind, exif=make.exif()), "a.x").has_location


def test_the_place_in_xmp_is_found(look):
    xmp = b'<x:xmpmeta xmlns:x="adobe:ns:meta/"><d exif:GPSLatitude="53,20.1N"/></x:xmpmeta>'
    for kind in ("JPEG", "WEBP", "HEIF"):
        assert look(make.saved(make.scene(), kind, xmp=xmp), "a.x").has_location, kind
    text = make.chunk(b"iTXt", b"XML:com.adobe.xmp\0\0\0\0\0" + xmp)
    assert look(make.with_chunks(PNG, text), "a.png").has_location


def test_private_things_have_plain_names(look):
    tags = make.exif(
        True, make="Tern", artist="O. Fenn", about="harbour", time="2026:06:12 10:00:00"
    )
    facts = look(make.saved(make.scene(), "JPEG", exif=tags))
    assert facts.private == ("camera", "comment", "name", "place", "time")
    assert look(make.saved(make.scene(), "JPEG")).private == ()


def test_a_clock_without_a_place_is_no_location(look):
    tags = Image.Exif()
    tags.get_ifd(0x8825).update({0: b"\2\3\0\0", 29: "2026:06:12"})
    assert not look(make.saved(make.scene(), "JPEG", exif=tags.tobytes())).has_location


def test_damaged_exif_is_no_reason_to_refuse(look):
    good = make.saved(make.scene(), "JPEG", exif=make.exif(True, 6))
    at = good.index(b"Exif\0\0") + 6
    for change in (
        b"\xff" * 40,
        b"II*\0\xff\xff\xff\x7f",
        b"MM\0*\0\0\0\x08\xff\xff" + b"\x88\x25" * 40,
    ):
        facts = look(good[:at] + change + good[at + len(change) :])
        assert facts.usable, facts.problem


def test_random_bytes_behind_every_beginning(look):
    """Whatever follows a right beginning, there is a sentence and no crash."""
    noise = np.random.default_rng(7).bytes(3_000)
    for start in (
        b"\xff\xd8\xff\xe0", b"\x89PNG\r\n\x1a\n", b"GIF89a", b"II*\0", b"MM\0*",
        b"RIFF\0\1\0\0WEBP", b"\0\0\0\x18ftypheic", b"\0\0\0\x18ftypavif",
    ):  # fmt: skip
        assert look(start + noise).problem_code in ("damaged", "too-big", "unsupported"), start


def test_flipped_bytes_never_crash(look):
    rng = np.random.default_rng(9)
    for whole in (JPEG, PNG, make.saved(make.scene(), "WEBP"), make.saved(make.scene(), "TIFF")):
        for _ in range(12):
            data = bytearray(whole)
            for at in rng.integers(0, len(data), 6):
                data[at] = rng.integers(256)
            facts = look(bytes(data), "pier.x")
            if facts.usable:
                assert PICTURES.open_pixels(facts).mode in ("RGB", "RGBA")


def test_a_name_cannot_play_tricks(tmp_path):
    path = tmp_path / ("a\u202egpj.exe\n" + "x" * 80 + ".jpg")
    path.write_bytes(b"text")
    problem = PICTURES.inspect(path).problem
    assert "\u202e" not in problem and "\n" not in problem and len(problem) < 130


def test_the_end_of_a_small_copy_is_not_the_photos():
    """A file that breaks off in the segment that holds it, behind its end mark."""
    small = make.segment(0xE1, b"Exif\0\0" + make.saved(make.scene(8, 8), "JPEG") + bytes(99))
    data = make.with_segments(JPEG, small)
    assert containers.missing_share(data, "JPEG") is None
    assert containers.missing_share(data[: len(small) - 50], "JPEG") == 0.0


def test_boxes_behind_the_picture_do_not_count_as_missing():
    heic = make.saved(make.scene(), "HEIF")
    assert containers.missing_share(heic, "HEIF") is None
    assert containers.missing_share(heic + b"\0\0\xff\xff\0\1\2\3", "HEIF") is None
    share = containers.missing_share(heic + struct.pack(">I4s", 1000, b"free"), "HEIF")
    assert share is not None and share > 0


@pytest.mark.parametrize("kind", ["HEIF", "WEBP"])
def test_a_header_that_lacks_its_end_says_so(look, kind):
    data = make.saved(make.scene(240, 160), kind)
    assert "ends too early" in look(data[: len(data) // 8], "pier.x").problem


def test_pixels_that_lack_their_end_say_so(look):
    at = PNG.index(b"IDAT")
    assert look(PNG[: at + 6], "pier.png").problem.endswith("its last bytes are missing")


def test_a_side_has_its_limit_too(look):
    facts = look(make.png(MAX_SIDE + 1, 2, 8, 0, b"\0" * 40), "pier.png")
    assert (facts.problem_code, facts.width_px) == ("too-big", MAX_SIDE + 1)
