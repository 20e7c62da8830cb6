"""The small process that opens strangers' pictures: started by path, fed and read by pipes.

It never sees a file name, and starts without fonts, numbers or anything else of the house.
"""

from __future__ import annotations

import contextlib
import os
import sys
import threading
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))  # what is started by path must find

from PIL import Image

from proofgen.photo.exchange import (
    TOO_SLOW,
    Header,
    RefusedError,
    Reply,
    Request,
    next_request,
    send_reply,
)
from proofgen.photo.gaps import invented
from proofgen.photo.header import read_header
from proofgen.photo.pixels import decode, forget

_ADDRESSES = 4 << 30  # bytes of address space: what we price at most, with room for threads
_LOOKS = 0.2  # s between two looks at the processor time


def _limit(*, seconds: int | None = None) -> None:
    """Memory, processor time, no core dumps, no files, where the system has such limits.

    Windows has none of these: there a thread counts the processor time. macOS refuses some of
    them, hence one by one.
    """
    try:
        import resource
    except ImportError:
        _watch(seconds)
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


_until: float | None = None  # of processor time (s), by the thread's watch


def _watch(seconds: int | None) -> None:
    """Sets the processor time (s) from now on after which this process ends itself."""
    global _until
    if _until is None:
        threading.Thread(target=_end_when_due, daemon=True).start()
    _until = time.process_time() + seconds if seconds is not None else float("inf")


def _end_when_due() -> None:
    while True:
        time.sleep(_LOOKS)
        if _until is not None and time.process_time() > _until:
            os._exit(TOO_SLOW)


def _opened(request: Request, data: bytes) -> tuple[Reply, Image.Image | None]:
    try:
        if request["job"] == "forget":
            forget()
            return {}, None
        header = read_header(data, request["format"])
        if request["job"] == "header":
            return {"header": header}, None
        decoded = decode(data, header, request["scale"], sent=request["job"] == "pixels")
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


def main(seconds: int) -> None:
    """Answers requests until the pipe is closed, each within so much processor time (s)."""
    out = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)  # a library that prints must not end up among the pixels
    _limit()
    with out:
        while asked := next_request(sys.stdin.buffer):
            _limit(seconds=seconds)
            reply, picture = _opened(*asked)
            send_reply(out, reply, picture)
            del asked, picture  # the next photo needs the room


if __name__ == "__main__":
    main(int(sys.argv[1]))
