"""The one writer: files and folders whole or not at all.

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
import stat
import sys
import tempfile
from collections.abc import Callable, Iterator, Mapping
from itertools import takewhile
from pathlib import Path
from typing import BinaryIO

from proofgen.errors import WRITE_CURE, MachineError
from proofgen.store.vanishing import TEMPORARY, cannot_write, reason, replace, take_away

if sys.platform == "darwin":
    import fcntl


def file_digest(path: Path) -> str:
    """SHA-256 of a file's bytes, hex. OSError for what is none: a pipe would be waited for."""
    if not path.is_file():
        raise FileNotFoundError(errno.ENOENT, os.strerror(errno.ENOENT), str(path))
    with path.open("rb") as stream:
        return hashlib.file_digest(stream, "sha256").hexdigest()


def _sync_folder(folder: Path) -> None:
    if sys.platform == "win32":
        return  # Windows has no handle on a folder to flush
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


# Who may read what is made, whatever the umask says: its owner, or everybody.
OWNERS_FILE, _OPEN_FILE = 0o600, 0o644
_OWNERS_FOLDER, _OPEN_FOLDER = 0o700, 0o755


def set_mode(path: Path, mode: int) -> bool:
    """Give a file or folder these permissions, where the system has them; whether it had others."""
    if sys.platform == "win32" or stat.S_IMODE(path.stat().st_mode) == mode:
        return False
    path.chmod(mode)
    return True


def used_now(path: Path) -> None:
    """Note at a file that is there that it was used. Errors: OSError."""
    os.utime(path)


def _make_folder(folder: Path, durable: bool, private: bool) -> None:
    """Make a folder and those above it; `durable` flushes each new name into its parent."""
    above = [folder, *folder.parents]
    missing = list(takewhile(lambda path: not path.exists(), above))
    for made in reversed(missing):
        made.mkdir(mode=_OWNERS_FOLDER, exist_ok=True)
        set_mode(made, _OWNERS_FOLDER if private else _OPEN_FOLDER)
    if durable:
        for made in reversed(missing):
            _sync_folder(made.parent)


def write(path: Path, content: bytes | str, *, durable: bool = False, private: bool = True) -> bool:
    """Write a file whole or not at all; True if it changed. `durable` also flushes file and folder.
    It is for its owner alone, as are folders made for it; if it is not `private`, it and its folder
    are for everybody.

    Errors: MachineError when the disk is full or the folder closed to us.
    """
    data = content.encode() if isinstance(content, str) else content
    try:
        if not path.parent.is_dir():
            _make_folder(path.parent, durable, private)
        elif not private:
            set_readers(path.parent, everybody=True)
        changed = _put(path, data, durable, private)
        if changed and durable:
            _sync_folder(path.parent)
    except OSError as error:
        raise cannot_write(error, path) from error
    return changed


def _put(path: Path, data: bytes, durable: bool, private: bool) -> bool:
    """`write` in a folder that is there; its new name is not flushed yet."""
    mode = OWNERS_FILE if private else _OPEN_FILE
    if path.is_file() and path.stat().st_size == len(data) and _holds(path, data):
        if durable:
            _flush(path)  # who wrote it may not have
        return set_mode(path, mode)
    temporary = path.parent / f"{TEMPORARY}{secrets.token_hex(6)}"
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
    handle = os.open(temporary, flags, OWNERS_FILE)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
            set_mode(temporary, mode)
            if durable:
                stream.flush()
                _flush_handle(stream.fileno())
        replace(temporary, path)
    except BaseException:
        with contextlib.suppress(OSError):
            temporary.unlink()
        raise
    return True


def _holds(path: Path, data: bytes) -> bool:
    """Whether a file has this content; not where it cannot be read."""
    with contextlib.suppress(PermissionError):
        return path.read_bytes() == data
    return False


def saved(
    path: Path, save: Callable[[BinaryIO], None], *, durable: bool = False, mark: str = ""
) -> bool:
    """Have `save` write a file that is too large for the memory; whole or not at all, True if it
    changed. It may read back what it wrote. It is for its owner alone; `durable` as for `write`; a
    `mark` stands in the temporary name, so that `sweep` finds what a killed run left in a folder of
    others.

    Errors: MachineError when the disk is full or the folder closed to us.
    """
    temporary = path.parent / f"{TEMPORARY}{mark}{secrets.token_hex(6)}"
    flags = os.O_RDWR | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
    try:
        if not path.parent.is_dir():
            _make_folder(path.parent, durable, private=True)
        try:
            with os.fdopen(os.open(temporary, flags, OWNERS_FILE), "w+b") as stream:
                save(stream)
                if durable:
                    stream.flush()
                    _flush_handle(stream.fileno())
            if path.is_file() and file_digest(path) == file_digest(temporary):
                return False
            replace(temporary, path)
            if durable:
                _sync_folder(path.parent)
        finally:
            temporary.unlink(missing_ok=True)
    except OSError as error:
        raise cannot_write(error, path) from error
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
            _make_folder(path.parent, durable=True, private=True)
        fresh = not path.exists()
        with path.open("ab+") as stream:
            set_mode(path, OWNERS_FILE)
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
        raise cannot_write(error, path) from error


# Folders


def make_folder(folder: Path) -> None:
    """A folder and those above it, where they are missing, for their owner alone."""
    try:
        _make_folder(folder, durable=False, private=True)
    except OSError as error:
        raise cannot_write(error, folder) from error


@contextlib.contextmanager
def appearing(
    folder: Path, *, durable: bool = False, private: bool = False, mark: str = ""
) -> Iterator[Path]:
    """A side folder to fill; when the block ends well it becomes `folder` by one rename, in the
    place of an empty one if need be. `durable` flushes its names and its own to the disk;
    `private`: for its owner alone; a `mark` is as for `saved`.

    Errors: MachineError when the folder cannot be made. After any error nothing is left behind.
    """
    side = folder.parent / f"{TEMPORARY}{mark}{secrets.token_hex(6)}"
    try:
        if not folder.parent.is_dir():
            _make_folder(folder.parent, durable, private)
        side.mkdir(mode=_OWNERS_FOLDER)
        set_mode(side, _OWNERS_FOLDER if private else _OPEN_FOLDER)
        yield side
        if durable:
            _sync_folder(side)
        if sys.platform == "win32" and folder.is_dir():
            folder.rmdir()  # Windows does not rename onto a folder, even an empty one
        replace(side, folder)
        if durable:
            _sync_folder(folder.parent)
    except OSError as error:
        raise MachineError(
            f"this folder cannot be made ({reason(error)})",
            f"{WRITE_CURE}, and look whether the disk is there",
            folder,
        ) from error
    finally:
        shutil.rmtree(side, ignore_errors=True)


@contextlib.contextmanager
def passing_folder() -> Iterator[Path]:
    """A folder of the system's for what a library writes to a disk alone; gone when the block ends.

    Errors: MachineError when it cannot be made.
    """
    try:
        with tempfile.TemporaryDirectory(prefix=TEMPORARY) as made:
            yield Path(made)
    except OSError as error:
        raise cannot_write(error, Path(tempfile.gettempdir())) from error


def write_folder(
    folder: Path, files: Mapping[str, bytes], *, last: str, private: bool = False
) -> bool:
    """Make a folder hold these files and no others, each a file of its own on the disk when this
    returns; whether anything changed. Everybody may read them, unless `private`.

    A new one appears whole. In one that is there, `last`, which shows the others, is written after
    them, and only then does what is left over go: what it shows is there at any moment.
    Errors: MachineError when the disk is full or the folder closed to us.
    """
    names = sorted(files, key=lambda name: name == last)
    if folder.is_symlink() or not folder.is_dir():
        take_away(folder)
        with appearing(folder, durable=True, private=private) as side:
            for name in names:
                _put(side / name, files[name], durable=True, private=private)
        return True
    changed = False
    try:
        changed = set_mode(folder, _OWNERS_FOLDER if private else _OPEN_FOLDER)
        for name in names:
            path = folder / name
            if path.is_symlink() or path.is_dir():
                take_away(path)
            if name == last and changed:
                _sync_folder(folder)
            changed |= _put(path, files[name], durable=True, private=private)
        gone = [path for path in folder.iterdir() if path.name not in files]
        for path in gone:
            take_away(path)
        if changed or gone:
            _sync_folder(folder)
    except OSError as error:
        raise cannot_write(error, folder) from error
    return changed or bool(gone)


def set_readers(folder: Path, *, everybody: bool) -> None:
    """Who may look into a folder that is there: everybody, or its owner alone."""
    with contextlib.suppress(OSError):  # another's folder, or a disk that knows no permissions
        set_mode(folder, _OPEN_FOLDER if everybody else _OWNERS_FOLDER)


def is_open(path: Path) -> bool:
    """Whether everybody may read a file or look into a folder; True where the system has no such
    permissions."""
    asked = 0o555 if path.is_dir() else 0o444
    return sys.platform == "win32" or path.stat().st_mode & asked == asked
