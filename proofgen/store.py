"""The one writer of files: whole or not at all; the lock; the store of worked-out results."""

from __future__ import annotations

import contextlib
import errno
import hashlib
import json
import os
import secrets
import time
from collections.abc import Callable, Hashable, Iterator
from pathlib import Path
from typing import Any, Generic, TypeVar

from proofgen.errors import MachineError, ProofgenError

if os.name == "nt":
    fcntl: Any = None
else:
    import fcntl

Made = TypeVar("Made")

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


def known_digest(path: Path, store: Store) -> str:
    """The same, read only once while the file keeps its size and its times.

    Errors: OSError for a file that cannot be read.
    """
    about = path.stat()
    stamp = repr((str(path.absolute()), about.st_size, about.st_mtime_ns, about.st_ctime_ns))
    return store.remember(
        "file digest/1", stamp, lambda: file_digest(path), bytes.decode, str.encode
    )


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


# What a reader meets in an entry that an older or newer proofgen wrote.
_UNREADABLE = (ValueError, LookupError, TypeError, AttributeError, ProofgenError)
_SEAL = hashlib.sha256().digest_size


def dump_json(value: object) -> bytes:
    """A value as JSON, the same for the same value."""
    return json.dumps(value, sort_keys=True).encode()


class Recent(Generic[Made]):
    """The results used last, in memory: `most` of them."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._made: dict[Hashable, Made] = {}

    def remember(self, key: Hashable, make: Callable[[], Made]) -> Made:
        """What `make` made under this key, if it is among the last; else made now."""
        made = self._made.pop(key) if key in self._made else make()
        self._made[key] = made
        if len(self._made) > self._most:
            del self._made[next(iter(self._made))]
        return made


class Store:
    """Worked-out results, kept in a folder that may be deleted at any time.

    An entry that is damaged or unreadable is worked out again, and so is what cannot be kept: a
    shop on a full or read-only disk can still be looked at.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def _path(self, kind: str, key: str) -> Path:
        name = digest(kind.encode(), key.encode("utf-8", "surrogatepass"))
        return self._folder / name[:2] / name[2:]

    def recall(self, kind: str, key: str) -> bytes | None:
        """What was kept under this key, to the byte; None where there is nothing whole."""
        try:
            entry = self._path(kind, key).read_bytes()
        except OSError:
            return None
        seal, content = entry[:_SEAL], entry[_SEAL:]
        return content if seal == hashlib.sha256(content).digest() else None

    def keep(self, kind: str, key: str, content: bytes) -> None:
        """Keep it until the key is given other content."""
        with contextlib.suppress(MachineError):
            write(self._path(kind, key), hashlib.sha256(content).digest() + content)

    def remember(
        self,
        kind: str,
        key: str,
        make: Callable[[], Made],
        load: Callable[[bytes], Made],
        dump: Callable[[Made], bytes | None],
    ) -> Made:
        """What `make` made under this key, now or before. `kind` says what it is and carries the
        version of the code that makes it; `key` names all that it is made from. `load` may refuse
        an entry with a ValueError; what `dump` gives None for is not kept.

        Errors: what `make` raises.
        """
        content = self.recall(kind, key)
        if content is not None:
            with contextlib.suppress(*_UNREADABLE):
                return load(content)
        made = make()
        content = dump(made)
        if content is not None:
            self.keep(kind, key, content)
        return made


class NoStore(Store):
    """A store that keeps nothing: everything is worked out when it is asked for."""

    def __init__(self) -> None:
        super().__init__(Path())

    def recall(self, kind: str, key: str) -> bytes | None:
        return None

    def keep(self, kind: str, key: str, content: bytes) -> None:
        pass
