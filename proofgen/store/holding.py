"""The lock of a folder: one run holds it, and says in it which it is and since when."""

from __future__ import annotations

import contextlib
import json
import os
import re
import socket
import sys
import time
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from typing import BinaryIO

from proofgen.errors import MachineError
from proofgen.store.files import OWNERS_FILE, make_folder, set_mode, set_readers
from proofgen.store.vanishing import LOCK, cannot_write

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl

# On Windows nobody else can read the byte that is locked, the first; behind it stands the note. It
# is always written at its whole length, so that nothing of an older one is left.
_AT, _ROOM = 1, 255
_CALLED = re.compile(r"[a-z]+(-[a-z]+)*")


@contextlib.contextmanager
def lock(folder: Path, command: str = "") -> Iterator[None]:
    """Hold a folder for one run of a command. The system frees it when the process ends, however it
    ends.

    Errors: MachineError when another run holds it.
    """
    try:
        make_folder(folder)
        set_readers(folder, everybody=False)
        (folder / LOCK).touch()
        stream = (folder / LOCK).open("r+b", buffering=0)
    except OSError as error:
        raise cannot_write(error, folder) from error
    with stream:
        with contextlib.suppress(OSError):
            set_mode(folder / LOCK, OWNERS_FILE)
        try:
            _take(stream)
        except OSError as error:
            cure = "wait for it to end, then try again"
            raise MachineError(_who(stream), cure, folder) from error
        me = {"process": os.getpid(), "machine": socket.gethostname(), "since": time.time()}
        _note(stream, json.dumps({"command": command, **me}))
        try:
            yield
        finally:
            _note(stream, "")


def _take(stream: BinaryIO) -> None:
    """OSError where another run holds it."""
    if sys.platform == "win32":
        stream.seek(0)
        msvcrt.locking(stream.fileno(), msvcrt.LK_NBLCK, 1)
    else:
        fcntl.flock(stream, fcntl.LOCK_EX | fcntl.LOCK_NB)


def _note(stream: BinaryIO, text: str) -> None:
    """What others are told; without it they are told less."""
    with contextlib.suppress(OSError):
        stream.seek(_AT)
        stream.write(text.encode().ljust(_ROOM))


def _who(stream: BinaryIO) -> str:
    """Which run holds the folder. Of a note that a killed run may have left nothing is believed:
    one was ended at once by the next, but not where a child of the killed run lives on."""
    told = "another run is at work in this shop folder"
    try:
        stream.seek(_AT)
        note = json.loads(stream.read(_ROOM))
        command, process, since = note["command"], note["process"], float(note["since"])
        is_now = note["machine"] == socket.gethostname() and _lives(process)
        if not is_now or not _CALLED.fullmatch(command) or not 0 < since <= time.time():
            return told
        began = datetime.fromtimestamp(since)
    except (OSError, ValueError, LookupError, TypeError, OverflowError):
        return told
    day = "" if began.date() == datetime.now().date() else f" on {began.day} {began:%B}"
    return f"{told}: `proofgen {command}`, since {began:%H:%M}{day} (process {process})"


def _lives(process: int) -> bool:
    """Whether there is such a process. Windows is not asked: its way of asking ends it."""
    if sys.platform == "win32":
        return True
    try:
        os.kill(process, 0)
    except PermissionError:
        return True
    except OSError:
        return False
    return True
