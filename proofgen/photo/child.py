"""The small process that opens strangers' pictures: started by path, fed and read by pipes.

It never sees a file name, and starts without fonts, numbers or anything else of the house.
"""

from __future__ import annotations

import contextlib
import os
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))  # what is started by path must find

from PIL import Image

from proofgen.photo.exchange import Header, RefusedError, Reply, Request, next_request, send_reply
from proofgen.photo.gaps import invented
from proofgen.photo.header import read_header
from proofgen.photo.pixels import decode

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


def _opened(request: Request, data: bytes) -> tuple[Reply, Image.Image | None]:
    try:
        header = read_header(data, request["format"])
        if request["job"] == "header":
            return {"header": header}, None
        decoded = decode(data, header, request["scale"])
        if request["job"] == "verify" and _is_gapped(data, header):
            raise RefusedError("pixels")
    except RefusedError as refused:
        return {"refused": refused.why, "share": refused.share}, None
    except MemoryError:
        return {"refused": "memory", "share": 0.0}, None
    reply: Reply = {
        "profile_fault": decoded.profile_fault,
        "ink_doubts": decoded.ink_doubts,
        "clear": decoded.clear,
        "clipped": decoded.clipped,
        "fresh": decoded.fresh,
    }
    return reply, decoded.image if request["job"] == "pixels" else None


def _is_gapped(data: bytes, header: Header) -> bool:
    return header["format"] in ("JPEG", "MPO") and invented(data, header)


def main() -> None:
    """Answers requests until the pipe is closed."""
    out = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)  # a library that prints must not end up among the pixels
    _limit()
    with out:
        while asked := next_request(sys.stdin.buffer):
            _limit(seconds=_SECONDS)
            reply, picture = _opened(*asked)
            send_reply(out, reply, picture)
            del asked, picture  # the next photo needs the room


if __name__ == "__main__":
    main()
