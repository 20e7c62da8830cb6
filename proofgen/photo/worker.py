"""Holds the small process that opens pictures: starts it, times it, ends it."""

from __future__ import annotations

import contextlib
import importlib.util
import os
import signal
import subprocess
import sys
import threading
from functools import cache
from pathlib import Path

from PIL import Image

from proofgen.errors import MachineError
from proofgen.photo.exchange import (
    EVERYTHING,
    TOO_SLOW,
    Bar,
    Refusal,
    RefusedError,
    Reply,
    Request,
    next_reply,
    request_for,
    send_request,
)

# What one photo may take: of the processor's time, which a busy machine does not use up, and by the
# clock, for a process that hangs without working. A phone's 200 megapixels take 8 s of the first.
# The clock stands still while the machine sleeps or the command is halted.
SECONDS = 120
CLOCK = 900.0
_TICK = 1.0  # s
_SLOW_ENDS = {TOO_SLOW, -getattr(signal, "SIGXCPU", TOO_SLOW)}
# Ended by somebody else, as a system does that runs out of memory.
_KILLED = -getattr(signal, "SIGKILL", TOO_SLOW)
_CHILD = Path(__file__).with_name("child.py")
_LIBRARIES = ("PIL", "pillow_heif", "simplejpeg", "numpy")
# The GNU C library asks for pages of 2 MB where the system gives them on request: a picture is new
# memory, and of small pages that takes a fifth of all its time. Others do not know the setting.
_LARGE_PAGES = {"GLIBC_TUNABLES": "glibc.malloc.hugetlb=1"}
_KEPT_ON_WINDOWS = ("SYSTEMROOT",)  # without it nothing starts there


@cache
def _folders() -> tuple[str, ...]:
    """Where the libraries lie that open pictures."""
    specs = (importlib.util.find_spec(name) for name in _LIBRARIES)
    found = (spec.origin for spec in specs if spec and spec.origin)
    return tuple(dict.fromkeys(str(Path(origin).parents[1]) for origin in found))


def command() -> list[str]:
    """The small process's command line: Python without what this machine or its user add to it."""
    # -I: no variables, no folder of the user's, none of the script's; -S: no packages but ours;
    # -B: it may not write files anyway.
    return [sys.executable, "-I", "-S", "-B", str(_CHILD), str(SECONDS), *_folders()]


def environment() -> dict[str, str]:
    """Nothing of ours, but for what Windows cannot start without; how memory is asked for."""
    kept = {name: os.environ[name] for name in _KEPT_ON_WINDOWS if name in os.environ}
    return kept | _LARGE_PAGES


class Worker:
    """One process, started when first asked and again after it was lost or closed."""

    def __init__(self) -> None:
        self._process: subprocess.Popen[bytes] | None = None
        self._slow = False

    def _start(self) -> subprocess.Popen[bytes]:
        try:
            return subprocess.Popen(
                command(),
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
                env=environment(),
            )
        except OSError as error:
            raise MachineError(
                "the small process that opens photos cannot be started",
                "close other programs, then run it again; if it stays, install Python anew",
            ) from error

    def ask(self, request: Request, data: bytes) -> tuple[Reply, Image.Image | None]:
        """Send a photo's bytes with a request; the reply and its picture.

        Errors: RefusedError; 'slow', 'memory' or 'crashed' where the process ended without a reply.
        """
        if self._process is not None and self._process.poll() is not None:
            self.close()  # it was lost while nobody asked: no photo's fault
        if self._process is None:
            self._process = self._start()
        process, self._slow = self._process, False
        answered = threading.Event()
        threading.Thread(target=self._watch, args=(process, answered), daemon=True).start()
        assert process.stdin is not None and process.stdout is not None
        try:
            send_request(process.stdin, request, data)
            return next_reply(process.stdout, request["job"])
        except RefusedError:
            raise
        except (OSError, ValueError, EOFError, KeyError, TypeError) as error:
            answered.set()
            raise RefusedError(self._why_lost(process)) from error
        except BaseException:
            self.close()  # half a reply is still in the pipe
            raise
        finally:
            answered.set()

    def _why_lost(self, process: subprocess.Popen[bytes]) -> Refusal:
        ended = None
        with contextlib.suppress(subprocess.TimeoutExpired):  # its pipe may close a little earlier
            ended = process.wait(_TICK)
        self.close()
        if self._slow or ended in _SLOW_ENDS:
            return "slow"
        return "memory" if ended == _KILLED else "crashed"

    def _watch(self, process: subprocess.Popen[bytes], answered: threading.Event) -> None:
        left = CLOCK
        while left > 0:
            if answered.wait(min(_TICK, left)):
                return
            left -= _TICK
        self._slow = True
        process.kill()

    def forget(self, *, everything: bool = False) -> None:
        """Let go of the photos that the process keeps decoded, small ones too if asked."""
        if self._process is not None:
            with contextlib.suppress(RefusedError):  # a lost process keeps nothing either
                self.ask(request_for("forget", key=EVERYTHING if everything else ""), b"")

    def bars(self) -> list[Bar]:
        """What keeps the process from harm on this system. Errors: RefusedError; MachineError."""
        return self.ask(request_for("bars"), b"")[0]["bars"]

    def close(self) -> None:
        """End the process and wait until it is gone."""
        process, self._process = self._process, None
        if process is None:
            return
        process.kill()
        for pipe in filter(None, (process.stdin, process.stdout)):
            with contextlib.suppress(OSError):
                pipe.close()
        process.wait()
