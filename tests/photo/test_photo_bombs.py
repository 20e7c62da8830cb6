"""Files of far too many parts, or that promise too much: a plain sentence or bare pixels, and the
process of the one who asked neither works on them nor holds more than their bytes."""

import sys
from pathlib import Path

import pytest

from proofgen.photo import parts
from proofgen.photo.exchange import RefusedError
from tests.photo import hostile_files
from tests.photo import picture_files as make

SIZE = 8_000_000
OPENED = {
    "PNG, text packed", "PNG, profile packed", "GIF of pictures", "TIFF of pictures",
    "WebP of chunks",
}  # fmt: skip


@pytest.mark.skipif(sys.platform != "linux", reason="read from Linux's own account of a process")
@pytest.mark.parametrize("name", hostile_files.FILES)
def test_what_a_hostile_file_costs(tmp_path: Path, name: str) -> None:
    file, made = hostile_files.FILES[name]
    path = tmp_path / file
    path.write_bytes(made(SIZE))
    seconds, grown, _, said = hostile_files.cost(path)
    assert grown < 2 * path.stat().st_size + 3e6  # 300 bytes for each chunk once
    assert seconds < 0.3  # of the processor; 1 to 10 once
    assert "than any camera makes" in said or (name in OPENED and not said) or "TIFF" in name


def many(part: bytes, count: int) -> bytes:
    data = make.saved(make.scene(), "JPEG")
    return data[:20] + part * count + data[20:]


PNG = make.saved(make.scene(), "PNG")
CHUNK, COMMENT = make.chunk(b"prVt", b""), make.segment(0xFE, b"a")


@pytest.mark.parametrize(
    ("format", "data", "most", "limit"),
    [
        (
            "PNG",
            lambda n: make.with_chunks(make.saved(make.scene(), "PNG"), CHUNK * n),
            4,
            "CHUNKS",
        ),
        ("JPEG", lambda n: many(COMMENT, n), 9, "SEGMENTS"),
        ("JPEG", lambda n: many(hostile_files.EXIF, n), 1, "EXIF"),
        ("JPEG", lambda n: many(hostile_files.EIGHT, n), 1, "SETTINGS"),
        ("JPEG", lambda n: many(b"\0", n), 3, "BETWEEN"),
    ],
    ids=["chunks", "segments", "EXIF", "settings", "between"],
)
def test_a_limit_is_met_to_the_part(monkeypatch, format, data, most, limit) -> None:
    """`most` others stand in the file; as many as are allowed pass, one more does not."""
    allowed = 20
    if limit in ("EXIF", "SETTINGS"):
        monkeypatch.setitem(parts._FEW, b"\xe1Exif" if limit == "EXIF" else b"\xedPhot", allowed)
    else:
        monkeypatch.setattr(parts, f"MAX_{limit}", allowed)
    fits = next(n for n in range(allowed, 0, -1) if passes(data(n), format))
    assert allowed - most <= fits <= allowed
    assert not passes(data(fits + 1), format)


def passes(data: bytes, format: str) -> bool:
    try:
        parts.refuse_many_parts(data, format)
    except RefusedError as refused:
        assert refused.why == "parts"
        return False
    return True


def test_pictures_are_counted_without_going_through_them() -> None:
    frames = [make.scene().point(lambda v, k=k: v // (k + 1)) for k in range(3)]
    for kind, count in (("GIF", parts.gif_frames), ("TIFF", parts.tiff_pictures)):
        several = make.saved(frames[0], kind, save_all=True, append_images=frames[1:])
        assert (count(several), count(make.saved(frames[0], kind))) == (3, 1)
    assert parts.gif_frames(hostile_files.FILES["GIF of pictures"][1](100_000)) == parts.MAX_FRAMES
    assert parts.tiff_pictures(b"II*\0\x08\0\0\0\0\0\x08\0\0\0") == 1  # points at itself
