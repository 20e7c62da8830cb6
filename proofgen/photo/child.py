"""The small process that opens strangers' pictures: started by path, fed and read by pipes.

It never sees a file name, and starts without fonts or anything else of the house. What it was given
beside its seconds are the folders of the libraries it needs; before the first picture comes it has
loaded them all and gives up every right to open anything more (`confinement`).
"""

from __future__ import annotations

import os
import signal
import sys
import threading
import time
from pathlib import Path

sys.path.extend([str(Path(__file__).resolve().parents[2]), *sys.argv[2:]])

from PIL import Image

from proofgen.photo.confinement import confine, resource
from proofgen.photo.examining import examine, load_all, open_pixels
from proofgen.photo.exchange import (
    EVERYTHING,
    TOO_SLOW,
    Bar,
    RefusedError,
    Reply,
    Request,
    next_request,
    send_reply,
)
from proofgen.photo.heap import give_back_large_blocks
from proofgen.photo.pixels import forget

_LOOKS = 0.2  # s between two looks at the processor time


def _allow(seconds: int) -> None:
    """So much more processor time (s), where the system has such a limit.

    Windows has none: there a thread counts it.
    """
    if resource is None:
        _watch(seconds)
        return
    used = resource.getrusage(resource.RUSAGE_SELF)
    most = int(used.ru_utime + used.ru_stime) + 1 + seconds
    resource.setrlimit(resource.RLIMIT_CPU, (most, resource.getrlimit(resource.RLIMIT_CPU)[1]))


_until: float | None = None  # of processor time (s), by the thread's watch


def _watch(seconds: int) -> None:
    """Sets the processor time (s) from now on after which this process ends itself."""
    global _until
    if _until is None:
        threading.Thread(target=_end_when_due, daemon=True).start()
    _until = time.process_time() + seconds


def _end_when_due() -> None:
    while True:
        time.sleep(_LOOKS)
        if _until is not None and time.process_time() > _until:
            os._exit(TOO_SLOW)


def _opened(request: Request, data: bytes, bars: list[Bar]) -> tuple[Reply, Image.Image | None]:
    job, key, format = request["job"], request["key"], request["format"]
    if job == "forget":
        forget(everything=key == EVERYTHING)
        return {}, None
    if job == "bars":
        return {"bars": bars}, None
    if job != "pixels":
        content, fresh = examine(data, key, format, pixels=job == "verify")
        return {"content": content, "fresh": fresh}, None
    try:
        image, fresh = open_pixels(data, request)
    except RefusedError as refused:
        return {"refused": refused.why, "share": refused.share}, None
    except MemoryError:
        return {"refused": "memory", "share": 0.0}, None
    return {"fresh": fresh}, image


def main(seconds: int) -> None:
    """Answers requests until the pipe is closed, each within so much processor time (s)."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # who started it ends it
    out = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)  # a library that prints must not end up among the pixels
    load_all()
    give_back_large_blocks()
    bars = confine()
    with out:
        while asked := next_request(sys.stdin.buffer):
            _allow(seconds)
            reply, picture = _opened(*asked, bars)
            send_reply(out, reply, picture)
            del asked, picture  # the next photo needs the room


if __name__ == "__main__":
    main(int(sys.argv[1]))
