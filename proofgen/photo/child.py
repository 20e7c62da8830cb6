"""The small process that opens strangers' pictures: started by path, fed and read by pipes.

Each request is one line of JSON (with `bytes`, the length of what follows) and the photo's bytes;
each reply one line of JSON and, where it has `size` and `mode`, the raw pixels. It never sees a
file name.
"""

from __future__ import annotations

import contextlib
import importlib
import json
import os
import sys
from pathlib import Path
from typing import IO, Any

# Started by path: the folder of this file, which Python puts first, would hide other modules.
sys.path[0] = str(Path(__file__).resolve().parents[2])

_ADDRESSES = 4 << 30  # bytes of address space: what we price at most, with room for threads
_SECONDS = 60  # of processor time for one photo


def _limit(*, seconds: int | None = None) -> None:
    """Memory, processor time, no core dumps, no files, where the system has such limits.

    Windows has none of these here; there only the parent's clock ends a process that hangs.
    macOS refuses some of them, hence one by one.
    """
    try:
        import resource
    except ImportError:
        return
    wishes = [
        (resource.RLIMIT_AS, _ADDRESSES),
        (resource.RLIMIT_CORE, 0),
        (resource.RLIMIT_FSIZE, 0),
    ]
    if seconds is not None:
        used = resource.getrusage(resource.RUSAGE_SELF)
        wishes = [(resource.RLIMIT_CPU, int(used.ru_utime + used.ru_stime) + 1 + seconds)]
    for what, most in wishes:
        with contextlib.suppress(ValueError, OSError):
            ceiling = resource.getrlimit(what)[1]
            resource.setrlimit(what, (most, ceiling))


def _answer(request: dict[str, Any], data: bytes, out: IO[bytes]) -> None:
    header_room = importlib.import_module("proofgen.photo.header")
    try:
        header = header_room.read_header(data, request["format"])
        reply: dict[str, Any] = {"header": header}
        if request["job"] != "header":
            pixels = importlib.import_module("proofgen.photo.pixels")
            done = pixels.decode(data, header, request["scale"])
            size = [done.image.width, done.image.height]
            reply |= {"notes": done.notes, "clear": done.clear, "clipped": done.clipped}
            reply["fresh"] = done.fresh
            if request["job"] == "pixels":
                reply |= {"mode": done.image.mode, "size": size}
                out.write(json.dumps(reply).encode() + b"\n")
                for strip in pixels.strips(done.image):
                    out.write(strip)
                return
    except header_room.RefusedError as refused:
        reply = {"refused": refused.code, "why": refused.why, "share": refused.share}
    except MemoryError:
        reply = {"refused": "too-big", "why": "memory", "share": 0.0}
    out.write(json.dumps(reply).encode() + b"\n")


def main() -> None:
    """Answers requests until the pipe is closed."""
    out = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)  # a library that prints must not end up among the pixels
    _limit()
    with out:
        while line := sys.stdin.buffer.readline():
            request = json.loads(line)
            data = sys.stdin.buffer.read(request["bytes"])
            _limit(seconds=_SECONDS)
            _answer(request, data, out)
            out.flush()
            del data


if __name__ == "__main__":
    main()
