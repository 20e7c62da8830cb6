"""Picture files of a great many parts, or of parts that promise a great deal, made in code.

    python tests/photo/hostile_files.py

prints what each costs the process that asks for it and the one that opens it.
"""

from __future__ import annotations

import argparse
import resource
import struct
import sys
import tempfile
import time
import zlib
from collections.abc import Callable
from pathlib import Path

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.photo import picture_files as make

Made = Callable[[int], bytes]  # of about so many bytes


def _png(parts: Callable[[int], bytes]) -> Made:
    def made(size: int) -> bytes:
        return make.with_chunks(make.saved(make.scene(), "PNG"), parts(size))

    return made


def _jpeg(parts: Callable[[int], bytes]) -> Made:
    def made(size: int) -> bytes:
        data = make.saved(make.scene(), "JPEG")  # 20: behind the mark and what stands first
        return data[:20] + parts(size) + data[20:]

    return made


def _many(part: bytes) -> Callable[[int], bytes]:
    return lambda size: part * (size // len(part))


def _in_codes(size: int) -> bytes:
    """A PNG whose pixels come in pieces of a byte."""
    data = make.saved(make.scene(), "PNG")
    at = data.index(b"IDAT") - 4
    return data[:at] + make.chunk(b"IDAT", b"") * (size // 12) + data[at:]


def _moving_png(size: int) -> bytes:
    count = size // 70
    head = make.chunk(b"acTL", struct.pack(">II", count, 0))
    frames = b"".join(
        make.chunk(b"fcTL", struct.pack(">IIIIIHHBB", 2 * at, 96, 64, 0, 0, 1, 1, 0, 0))
        + make.chunk(b"fdAT", struct.pack(">I", 2 * at + 1) + b"\0")
        for at in range(count)
    )
    data = make.saved(make.scene(), "PNG")
    return data[:33] + head + data[33:-12] + frames + data[-12:]


def _scans(size: int) -> bytes:
    """A progressive JPEG of 4 megapixels whose last scan comes again and again."""
    data = make.saved(make.scene(2400, 1600), "JPEG", progressive=True, quality=20)
    last = data.rindex(b"\xff\xda")
    return data[:-2] + data[last:-2] * max(2, size // (len(data) - last)) + b"\xff\xd9"


def _gif(parts: Callable[[int], bytes]) -> Made:
    def made(size: int) -> bytes:
        data = make.saved(make.scene(), "GIF")
        at = 13 + (3 << (data[10] & 7) + 1)
        return data[:at] + parts(size) + data[at:]

    return made


def _gif_frames(size: int) -> bytes:
    data = make.saved(make.scene(), "GIF")
    frame = b"\x2c" + struct.pack("<HHHHB", 0, 0, 1, 1, 0) + b"\2\2\x4c\1\0"
    return data[:-1] + frame * (size // len(frame)) + b";"


def _tiff_tags(size: int) -> bytes:
    """65,000 tags that each claim the whole file."""
    entries = b"".join(struct.pack("<HHII", 700, 1, size, 8) for _ in range(65_000))
    data = b"II*\0" + struct.pack("<IH", 8, 65_000) + entries + bytes(4)
    return data + bytes(max(0, size - len(data)))


def _tiff_pictures(size: int) -> bytes:
    data = bytearray(make.saved(make.scene(), "TIFF"))
    first = struct.unpack_from("<I", data, 4)[0]
    (count,) = struct.unpack_from("<H", data, first)
    whole = bytes(data[first : first + 2 + 12 * count])
    link, directories = first + 2 + 12 * count, bytearray()
    start = len(data)
    number = size // (len(whole) + 4)
    for at in range(number):
        following = start + (at + 1) * (len(whole) + 4) if at + 1 < number else 0
        directories += whole + struct.pack("<I", following)
    struct.pack_into("<I", data, link, start)
    return bytes(data + directories)


def _boxes(size: int) -> bytes:
    data = make.saved(make.scene(), "HEIF")
    return data + struct.pack(">I4s", 8, b"free") * (size // 8)


def _webp(size: int) -> bytes:
    data = make.saved(make.scene(), "WEBP", exif=make.exif())
    data += (b"abcd" + bytes(4)) * (size // 8)
    return data[:4] + struct.pack("<I", len(data) - 8) + data[8:]


def _bomb(kind: bytes, start: bytes) -> Made:
    packer = zlib.compressobj(9)
    packed = b"".join(packer.compress(bytes(1 << 20)) for _ in range(200)) + packer.flush()
    return _png(lambda _: make.chunk(kind, start + packed))


EXIF = make.segment(0xE1, b"Exif\0\0" + make.exif(True)[6:] + bytes(65_000))
EIGHT = make.segment(0xED, b"Photoshop 3.0\0" + (b"8BIM\3\1\0\0" + bytes(4)) * 5_000)
FILES: dict[str, tuple[str, Made]] = {
    "PNG of empty chunks": ("a.png", _png(_many(make.chunk(b"prVt", b"")))),
    "PNG of small texts": ("a.png", _png(_many(make.chunk(b"tEXt", b"a\0b")))),
    "PNG of empty pixels": ("a.png", _in_codes),
    "PNG that moves": ("a.png", _moving_png),
    "PNG, text packed": ("a.png", _bomb(b"zTXt", b"a\0\0")),
    "PNG, profile packed": ("a.png", _bomb(b"iCCP", b"a\0\0")),
    "JPEG of EXIF": ("a.jpg", _jpeg(_many(EXIF))),
    "JPEG of comments": ("a.jpg", _jpeg(_many(make.segment(0xFE, b"")))),
    "JPEG of fill bytes": ("a.jpg", _jpeg(_many(b"\xff"))),
    "JPEG of odd bytes": ("a.jpg", _jpeg(_many(b"\0"))),
    "JPEG of settings": ("a.jpg", _jpeg(_many(EIGHT))),
    "JPEG of scans": ("a.jpg", _scans),
    "GIF of pictures": ("a.gif", _gif_frames),
    "GIF of comments": ("a.gif", _gif(lambda size: b"!\xfe" + b"\1x" * (size // 2) + b"\0")),
    "GIF of odd bytes": ("a.gif", _gif(_many(b"\1"))),
    "TIFF of tags": ("a.tif", _tiff_tags),
    "TIFF of pictures": ("a.tif", _tiff_pictures),
    "HEIC of boxes": ("a.heic", _boxes),
    "WebP of chunks": ("a.webp", _webp),
}


def cost(path: Path) -> tuple[float, float, float, str]:
    """Of looking at it: the processor's time of this process (s) and by how much its memory grew
    at most (bytes); the clock (s); what was said."""
    from proofgen.photo.opening import Pictures
    from proofgen.store import NoStore

    with Pictures(NoStore()) as pictures:
        Path("/proc/self/clear_refs").write_text("5", "ascii")  # the peak begins anew
        start, before, began = _memory("VmRSS"), time.process_time(), time.monotonic()
        facts = pictures.inspect(path)
        used, clock = time.process_time() - before, time.monotonic() - began
    return used, _memory("VmHWM") - start, clock, facts.problem


def _memory(kind: str) -> int:
    """Bytes that this process holds (`VmRSS`) or held at most (`VmHWM`), by Linux's account."""
    told = Path("/proc/self/status").read_text("ascii")
    return int(told.partition(f"{kind}:")[2].split()[0]) * 1024


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked.add_argument("--size", type=float, default=20, help="of each file, in MB")
    asked.add_argument("--only", default="")
    asked.add_argument("--one", type=Path)
    given = asked.parse_args()
    if given.one:
        print("{:.2f} {:.0f} {:.1f} {}".format(*cost(given.one)))
        return
    import subprocess

    with tempfile.TemporaryDirectory() as folder:
        for name, (file, made) in FILES.items():
            if given.only not in name:
                continue
            path = Path(folder) / file
            path.write_bytes(made(int(given.size * 1e6)))
            command = [sys.executable, __file__, "--one", str(path)]
            done = subprocess.run(command, capture_output=True, text=True, check=True)
            used = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime
            own, grown, clock, said = done.stdout.split(maxsplit=3) + (
                [] if len(done.stdout.split()) > 3 else [""]
            )
            print(
                f"{name:<22} {path.stat().st_size / 1e6:6.1f} MB: own {own} s, "
                f"{int(grown) / 1e6:6.0f} MB; clock {clock} s, all {used:.0f}; {said.strip()[:70]}",
                flush=True,
            )


if __name__ == "__main__":
    main()
