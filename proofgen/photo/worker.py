"""Holds the small process that opens pictures: starts it, times it, ends it."""

from __future__ import annotations

import contextlib
import signal
import subprocess
import sys
import threading
from pathlib import Path

from PIL import Image

from proofgen.errors import MachineError
from proofgen.photo.exchange import (
    TOO_SLOW,
    RefusedError,
    Reply,
    Request,
    next_reply,
    send_request,
)

# What one photo may take: of the processor's time, which a busy machine does not use up, and by the
# clock, for a process that hangs without working. A phone's 200 megapixels take 8 s of the first.
SECONDS = 120
CLOCK = 900.0
_SLOW_ENDS = {TOO_SLOW, -getattr(signal, "SIGXCPU", TOO_SLOW)}
_CHILD = Path(__file__).with_name("child.py")


class Worker:
    """One process, started when first asked and again after it was lost or closed."""

    def __init__(self) -> None:
        self._process: subprocess.Popen[bytes] | None = None
        self._slow = False

    def _start(self) -> subprocess.Popen[bytes]:
        try:
            # -P keeps the script's folder off the import path; -B: it may not write files anyway.
            return subprocess.Popen(
                [sys.executable, "-P", "-B", str(_CHILD), str(SECONDS)],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
            )
        except OSError as error:
            raise MachineError(
                "the small process that opens photos cannot be started",
                "close other programs, then run it again; if it stays, install Python anew",
            ) from error

    def ask(self, request: Request, data: bytes) -> tuple[Reply, Image.Image | None]:
        """Send a photo's bytes with a request; the reply and its picture.

        Errors: RefusedError; 'slow' or 'crashed' where the process ended without a reply.
        """
        if self._process is None:
            self._process = self._start()
        process, self._slow = self._process, False
        clock = threading.Timer(CLOCK, self._too_slow)
        clock.daemon = True
        clock.start()
        assert process.stdin is not None and process.stdout is not None
        try:
            send_request(process.stdin, request, data)
            return next_reply(process.stdout, request["job"])
        except RefusedError:
            raise
        except (OSError, ValueError, EOFError, KeyError, TypeError) as error:
            slow = self.close() in _SLOW_ENDS or self._slow
            raise RefusedError("slow" if slow else "crashed") from error
        except BaseException:
            self.close()  # half a reply is still in the pipe
            raise
        finally:
            clock.cancel()

    def _too_slow(self) -> None:
        self._slow = True
        if self._process is not None:
            self._process.kill()

    def forget(self) -> None:
        """Let go of the photos that the process keeps decoded."""
        if self._process is not None:
            with contextlib.suppress(RefusedError):  # a lost process keeps nothing either
                self.ask({"job": "forget", "format": "JPEG", "scale": 1}, b"")

    def close(self) -> int | None:
        """End the process and wait until it is gone; how it ended, None if there was none."""
        process, self._process = self._process, None
        if process is None:
            return None
        process.kill()
        for pipe in (process.stdin, process.stdout):
            with contextlib.suppress(OSError):
                if pipe is not None:
                    pipe.close()
        return process.wait()
