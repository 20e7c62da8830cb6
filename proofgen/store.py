"""The one writer of files: whole or not at all; the lock; the store of worked-out results."""

from __future__ import annotations

import contextlib
import errno
import hashlib
import json
import os
import secrets
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from proofgen.errors import MachineError

if os.name == "nt":
    fcntl: Any = None
else:
    import fcntl

_TEMPORARY = ".part-"
_RETRIES = 20  # a virus scanner on Windows holds a fresh file for a moment


def digest(*parts: bytes) -> str:
    """SHA-256 of the parts, length-prefixed so that neighbours cannot run together; hex."""
    total = hashlib.sha256()
    for part in parts:
        total.update(len(part).to_bytes(8, "big"))
        total.update(part)
    return total.hexdigest()


def file_digest(path: Path) -> str:
    """SHA-256 of a file's bytes, hex."""
    with path.open("rb") as stream:
        return hashlib.file_digest(stream, "sha256").hexdigest()


def known_digest(path: Path, store: Store | None) -> str:
    """The same, read only once while the file keeps its size and its times.

    Errors: OSError for a file that cannot be read.
    """
    about = path.stat()
    stamp = (str(path.absolute()), about.st_size, about.st_mtime_ns, about.st_ctime_ns)
    key = digest(b"file digest", repr(stamp).encode("utf-8", "surrogateescape"))
    kept = store.get(key) if store else None
    if kept is not None:
        return kept.decode()
    found = file_digest(path)
    if store:
        store.put(key, found.encode())
    return found


def _said(error: OSError, path: Path) -> MachineError:
    if error.errno == errno.ENOSPC:
        return MachineError("the disk is full", "free some space, then run the same again", path)
    if error.errno in (errno.EACCES, errno.EPERM, errno.EROFS):
        return MachineError(
            "this folder may not be written to",
            "check its permissions, or work on a copy in your own folder",
            path,
        )
    reason = (error.strerror or str(error)).lower()
    return MachineError(f"cannot be written ({reason})", "check the disk, then run it again", path)


def _sync_folder(folder: Path) -> None:
    if os.name == "nt":
        return  # Windows has no handle on a folder to flush
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _replace(source: Path, target: Path) -> None:
    for attempt in range(_RETRIES):
        try:
            source.replace(target)
            return
        except PermissionError:
            if os.name != "nt" or attempt == _RETRIES - 1:
                raise
            time.sleep(0.05)


def _make_folder(folder: Path, durable: bool) -> None:
    """Make a folder and those above it; `durable` flushes each new name into its parent."""
    missing = [folder]
    while not missing[-1].parent.exists():
        missing.append(missing[-1].parent)
    folder.mkdir(parents=True, exist_ok=True)
    if durable:
        for made in reversed(missing):
            _sync_folder(made.parent)


def write(
    path: Path, content: bytes | str, *, durable: bool = False, private: bool = False
) -> bool:
    """Write a file whole or not at all; True if it changed. `durable` also flushes file and folder,
    `private` leaves it readable by its owner alone.

    Errors: MachineError when the disk is full or the folder closed to us.
    """
    data = content.encode() if isinstance(content, str) else content
    try:
        if path.is_file() and path.stat().st_size == len(data) and path.read_bytes() == data:
            if durable:
                _flush(path)  # who wrote it may not have
            return False
        if not path.parent.is_dir():
            _make_folder(path.parent, durable)
        temporary = path.parent / f"{_TEMPORARY}{secrets.token_hex(6)}"
        flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
        handle = os.open(temporary, flags, 0o600)
        try:
            with os.fdopen(handle, "wb") as stream:
                stream.write(data)
                if durable:
                    stream.flush()
                    _flush_handle(stream.fileno())
            if not private:
                temporary.chmod(0o644)
            _replace(temporary, path)
        except BaseException:
            with contextlib.suppress(OSError):
                temporary.unlink()
            raise
        if durable:
            _sync_folder(path.parent)
    except OSError as error:
        raise _said(error, path) from error
    return True


def _flush_handle(handle: int) -> None:
    """Down to the disk itself; macOS keeps it in the drive's own memory unless asked."""
    full = getattr(fcntl, "F_FULLFSYNC", None) if fcntl else None
    if fcntl and full is not None:
        fcntl.fcntl(handle, full)
    else:
        os.fsync(handle)


def _flush(path: Path) -> None:
    with path.open("rb+") as stream:
        _flush_handle(stream.fileno())


def append_line(path: Path, line: str) -> None:
    """Add one line to an append-only file and flush it to disk before returning.

    A line that a crash left without its end is closed off first, so that nothing runs together.
    """
    try:
        if not path.parent.is_dir():
            _make_folder(path.parent, durable=True)
        fresh = not path.exists()
        with path.open("ab+") as stream:
            if stream.tell() > 0:
                stream.seek(-1, os.SEEK_END)
                if stream.read(1) != b"\n":
                    stream.write(b"\n")
            stream.write(line.encode() + b"\n")
            stream.flush()
            _flush_handle(stream.fileno())
        if fresh:
            _sync_folder(path.parent)
    except OSError as error:
        raise _said(error, path) from error


def remove(path: Path) -> None:
    """Delete a file if it is there."""
    try:
        path.unlink(missing_ok=True)
    except OSError as error:
        raise _said(error, path) from error


def sweep(folder: Path) -> int:
    """Remove what a killed run left half-written below `folder`; how many files."""
    if not folder.is_dir():
        return 0
    left = list(folder.rglob(f"{_TEMPORARY}*"))
    for path in left:
        with contextlib.suppress(OSError):
            path.unlink()
    return len(left)


@contextlib.contextmanager
def lock(folder: Path) -> Iterator[None]:
    """Hold a folder for one run. The system frees it when the process ends, however it ends.

    Errors: MachineError when another run holds it.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
        stream = (folder / ".lock").open("a+b")
    except OSError as error:
        raise _said(error, folder) from error
    with stream:
        try:
            if os.name == "nt":
                import msvcrt

                stream.seek(0)
                msvcrt.locking(stream.fileno(), msvcrt.LK_NBLCK, 1)  # type: ignore[attr-defined]
            else:
                fcntl.flock(stream, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError as error:
            raise MachineError(
                "another run is at work in this shop folder",
                "wait for it to end, then try again",
                folder,
            ) from error
        yield


class Store:
    """Results by content key, kept in a folder that may be deleted at any time."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def path(self, key: str) -> Path:
        return self.folder / key[:2] / key[2:]

    def get(self, key: str) -> bytes | None:
        path = self.path(key)
        return path.read_bytes() if path.is_file() else None

    def put(self, key: str, content: bytes) -> bytes:
        write(self.path(key), content)
        return content

    def get_json(self, key: str) -> Any:
        content = self.get(key)
        if content is None:
            return None
        try:
            return json.loads(content)
        except ValueError:
            return None  # a damaged entry is worked out again
