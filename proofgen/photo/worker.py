"""Holds the small process that opens pictures: starts it, times it, ends it."""

from __future__ import annotations

import contextlib
import json
import subprocess
import sys
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import IO, Any

from PIL import Image

from proofgen.errors import MachineError
from proofgen.photo.header import MAX_PIXELS

SECONDS = 60.0  # one photo may take; then the process is ended
_CHILD = Path(__file__).with_name("child.py")
_ROWS = 1 << 17  # pixels read at a time: small enough to stay in the processor's cache
_here = threading.local()


Reply = tuple[dict[str, Any], Image.Image | None]


class WorkerLostError(Exception):
    """The process ended without a reply. `why` is 'slow' or 'crashed'."""

    def __init__(self, why: str) -> None:
        self.why = why
        super().__init__(why)


class Worker:
    """One process, started when first asked and again after it was lost. One thread uses it."""

    def __init__(self) -> None:
        self._process: subprocess.Popen[bytes] | None = None
        self._slow = False

    def _start(self) -> subprocess.Popen[bytes]:
        try:
            # -P keeps the script's folder off the import path; -B: it may not write files anyway.
            return subprocess.Popen(
                [sys.executable, "-P", "-B", str(_CHILD)],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
            )
        except OSError as error:
            raise MachineError(
                "the small process that opens photos cannot be started",
                "close other programs, then run it again; if it stays, install Python anew",
            ) from error

    def ask(self, request: dict[str, Any], data: bytes) -> Reply:
        """Send a photo's bytes with a request; the reply and its picture.

        Errors: WorkerLostError.
        """
        if self._process is None:
            self._process = self._start()
        process, self._slow = self._process, False
        clock = threading.Timer(SECONDS, self._too_slow)
        clock.daemon = True
        clock.start()
        try:
            return _exchange(process, {**request, "bytes": len(data)}, data)
        except (OSError, ValueError, EOFError, KeyError, TypeError) as error:
            self.close()
            raise WorkerLostError("slow" if self._slow else "crashed") from error
        except BaseException:
            self.close()  # half a reply is still in the pipe
            raise
        finally:
            clock.cancel()

    def _too_slow(self) -> None:
        self._slow = True
        if self._process is not None:
            self._process.kill()

    def close(self) -> None:
        """End the process and wait until it is gone."""
        process, self._process = self._process, None
        if process is None:
            return
        process.kill()
        for pipe in (process.stdin, process.stdout):
            with contextlib.suppress(OSError):
                if pipe is not None:
                    pipe.close()
        process.wait()


def _exchange(process: subprocess.Popen[bytes], request: dict[str, Any], data: bytes) -> Reply:
    assert process.stdin is not None and process.stdout is not None
    process.stdin.write(json.dumps(request).encode() + b"\n")
    process.stdin.write(data)
    process.stdin.flush()
    line = process.stdout.readline(1 << 20)
    if not line.endswith(b"\n"):
        raise EOFError
    reply = json.loads(line)
    return reply, _picture(reply, process.stdout) if "size" in reply else None


def _picture(reply: dict[str, Any], stream: IO[bytes]) -> Image.Image:
    """The picture from raw pixels as they arrive; nothing in a reply is taken on trust."""
    mode, (width, height) = reply["mode"], reply["size"]
    if mode not in ("RGB", "RGBA") or not 0 < width * height <= MAX_PIXELS:
        raise ValueError("a reply that announces an impossible picture")
    picture = Image.new(mode, (width, height))
    rows = max(1, _ROWS // width)
    for top in range(0, height, rows):
        size = (width, min(rows, height - top))
        strip = stream.read(size[0] * size[1] * len(mode))
        picture.paste(Image.frombytes(mode, size, strip), (0, top))  # ValueError if cut short
    return picture


@contextlib.contextmanager
def photo_worker() -> Iterator[None]:
    """Within it, all photos of this thread are opened by one process instead of one each.

    Nests freely; the outermost one ends the process.
    """
    if getattr(_here, "worker", None) is not None:
        yield
        return
    _here.worker = Worker()
    try:
        yield
    finally:
        worker, _here.worker = _here.worker, None
        worker.close()


def ask(request: dict[str, Any], data: bytes) -> Reply:
    """Ask this thread's process, or one started for this photo alone. Errors: WorkerLostError."""
    with photo_worker():
        worker: Worker = _here.worker
        return worker.ask(request, data)
