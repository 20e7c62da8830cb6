"""The one writer: files and folders whole or not at all, what vanishes, and the lock of a folder.

Nothing else of the program may change a disk: the linter bans what would, and a test what the
linter cannot see.
"""

from __future__ import annotations

import contextlib
import errno
import hashlib
import os
import secrets
import shutil
import sys
import time
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import BinaryIO

from proofgen.errors import MachineError

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl

_TEMPORARY = ".part-"
_RETRIES = 20  # a virus scanner on Windows holds a fresh file for a moment


def file_digest(path: Path) -> str:
    """SHA-256 of a file's bytes, hex."""
    with path.open("rb") as stream:
        return hashlib.file_digest(stream, "sha256").hexdigest()


def _reason(error: OSError) -> str:
    return (error.strerror or str(error)).lower()


def _cannot_write(error: OSError, path: Path) -> MachineError:
    if error.errno == errno.ENOSPC:
        return MachineError("the disk is full", "free some space, then run the same again", path)
    if error.errno in (errno.EACCES, errno.EPERM, errno.EROFS):
        return MachineError(
            "this folder may not be written to",
            "check its permissions, or work on a copy in your own folder",
            path,
        )
    return MachineError(
        f"cannot be written ({_reason(error)})", "check the disk, then run it again", path
    )


def _sync_folder(folder: Path) -> None:
    if sys.platform == "win32":
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
            if sys.platform != "win32" or attempt == _RETRIES - 1:
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
        raise _cannot_write(error, path) from error
    return True


def saved(path: Path, save: Callable[[BinaryIO], None]) -> bool:
    """Have `save` write a file that is too large for the memory; whole or not at all, True if it
    changed.

    Errors: MachineError when the disk is full or the folder closed to us.
    """
    temporary = path.parent / f"{_TEMPORARY}{secrets.token_hex(6)}"
    try:
        _make_folder(path.parent, durable=False)
        try:
            with temporary.open("xb") as stream:
                save(stream)
            if path.is_file() and file_digest(path) == file_digest(temporary):
                return False
            _replace(temporary, path)
        finally:
            temporary.unlink(missing_ok=True)
    except OSError as error:
        raise _cannot_write(error, path) from error
    return True


def _flush_handle(handle: int) -> None:
    """Down to the disk itself; macOS keeps it in the drive's own memory unless asked."""
    if sys.platform == "darwin":
        fcntl.fcntl(handle, fcntl.F_FULLFSYNC)
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
        raise _cannot_write(error, path) from error


def remove(path: Path) -> None:
    """Delete a file if it is there."""
    try:
        path.unlink(missing_ok=True)
    except OSError as error:
        raise _cannot_write(error, path) from error


# Folders


def make_folder(folder: Path) -> None:
    """A folder and those above it, where they are missing."""
    try:
        _make_folder(folder, durable=False)
    except OSError as error:
        raise _cannot_write(error, folder) from error


@contextlib.contextmanager
def appearing(folder: Path, *, durable: bool = False) -> Iterator[Path]:
    """A side folder to fill; when the block ends well it becomes `folder` by one rename, in the
    place of an empty one if need be. `durable` flushes its name to the disk.

    Errors: MachineError when the folder cannot be made. After any error nothing is left behind.
    """
    side = folder.parent / f"{_TEMPORARY}{secrets.token_hex(6)}"
    try:
        _make_folder(folder.parent, durable)
        side.mkdir()
        side.chmod(0o755)
        yield side
        if sys.platform == "win32" and folder.is_dir():
            folder.rmdir()  # Windows does not rename onto a folder, even an empty one
        _replace(side, folder)
        if durable:
            _sync_folder(folder.parent)
    except OSError as error:
        raise MachineError(
            f"this folder cannot be made ({_reason(error)})",
            "check its permissions and the disk",
            folder,
        ) from error
    finally:
        shutil.rmtree(side, ignore_errors=True)


def write_folder(folder: Path, files: Mapping[str, bytes], *, last: str) -> bool:
    """Make a folder hold these files and no others; whether anything changed.

    A new one appears whole. In one that is there, `last`, which shows the others, is written after
    them, and only then does what is left over go: what it shows is there at any moment.
    """
    names = sorted(files, key=lambda name: name == last)
    if not folder.exists():
        with appearing(folder) as side:
            for name in names:
                write(side / name, files[name])
        return True
    changed = [write(folder / name, files[name]) for name in names]
    gone = [path for path in folder.iterdir() if path.name not in files]
    for path in gone:
        remove(path)
    return any(changed) or bool(gone)


def remove_folder(folder: Path) -> None:
    """Delete a folder if it is there; it goes out of sight by one rename, so that none is left half
    full. Errors: MachineError when it cannot be removed."""
    side = folder.parent / f"{_TEMPORARY}{secrets.token_hex(6)}"
    try:
        if folder.exists():
            _replace(folder, side)
            shutil.rmtree(side)
    except OSError as error:
        raise MachineError(
            f"this folder cannot be removed ({_reason(error)})", "check its permissions", folder
        ) from error


def sweep(folder: Path) -> int:
    """Remove what a killed run left half-made below `folder`; how many files and folders."""
    if not folder.is_dir():
        return 0
    left = list(folder.rglob(f"{_TEMPORARY}*"))
    for path in left:
        if path.is_dir() and not path.is_symlink():
            shutil.rmtree(path, ignore_errors=True)
        else:
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
        raise _cannot_write(error, folder) from error
    with stream:
        try:
            if sys.platform == "win32":
                stream.seek(0)
                msvcrt.locking(stream.fileno(), msvcrt.LK_NBLCK, 1)
            else:
                fcntl.flock(stream, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError as error:
            raise MachineError(
                "another run is at work in this shop folder",
                "wait for it to end, then try again",
                folder,
            ) from error
        yield
