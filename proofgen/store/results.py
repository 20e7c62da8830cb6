"""Results worked out before: the last ones in memory, and all in a folder that may be deleted."""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import stat
import time
from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping
from functools import partial
from pathlib import Path
from typing import Generic, TypeVar

from proofgen.errors import MachineError, ProofgenError
from proofgen.store.files import file_digest, used_now, write
from proofgen.store.vanishing import remove

Made = TypeVar("Made")

# What a reader meets in an entry that an older or newer proofgen wrote.
UNREADABLE = (ValueError, LookupError, TypeError, AttributeError, ProofgenError)
_DAY = 86_400  # s
_USED_ANEW, _UNUSED = _DAY, 180 * _DAY
_PART = 0.05  # of all that may be kept
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


class Lazy(Mapping[str, Made]):
    """Things by name, each made when it is asked for; `most` of them stay in memory."""

    def __init__(self, names: Iterable[str], make: Callable[[str], Made], most: int = 0) -> None:
        self._names = dict.fromkeys(names)
        self._make = make
        self._recent: Recent[Made] = Recent(most)

    def __getitem__(self, name: str) -> Made:
        if name not in self._names:
            raise KeyError(name)
        return self._recent.remember(name, partial(self._make, name))

    def __contains__(self, name: object) -> bool:
        return name in self._names

    def __iter__(self) -> Iterator[str]:
        return iter(self._names)

    def __len__(self) -> int:
        return len(self._names)


class Store:
    """Worked-out results, kept in a folder that may be deleted at any time.

    An entry that is damaged or unreadable is worked out again, and so is what cannot be kept: a
    shop on a full or read-only disk can still be looked at.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._kept = 0  # bytes, by this run

    def _path(self, kind: str, key: str) -> Path:
        name = digest(kind.encode(), key.encode("utf-8", "surrogatepass"))
        return self._folder / name[:2] / name[2:]

    def recall(self, kind: str, key: str) -> bytes | None:
        """What was kept under this key, to the byte; None where there is nothing whole."""
        path = self._path(kind, key)
        try:
            with path.open("rb") as stream:
                entry = stream.read()
                used = os.fstat(stream.fileno()).st_mtime
            if time.time() - used > _USED_ANEW:
                used_now(path)  # so that what was used long ago can be told
        except OSError:
            return None
        seal, content = entry[:_SEAL], entry[_SEAL:]
        return content if seal == hashlib.sha256(content).digest() else None

    def keep(self, kind: str, key: str, content: bytes) -> None:
        """Keep it until the key is given other content."""
        with contextlib.suppress(MachineError):
            write(self._path(kind, key), hashlib.sha256(content).digest() + content)
            self._kept += len(content)

    def drop(self, kind: str, key: str) -> None:
        """Keep it no longer."""
        with contextlib.suppress(MachineError):
            remove(self._path(kind, key))

    def trim(self, most: int) -> None:
        """Let go of what nobody used for half a year, such as what older versions kept, and of what
        was used longest ago, until no more than `most` bytes are kept. Looked at when this run kept
        a good part of them, and once a day."""
        mark = self._folder / "trimmed"
        with contextlib.suppress(OSError, MachineError):
            now, last = time.time(), mark.stat().st_mtime if mark.exists() else 0.0
            if not self._kept or (self._kept < most * _PART and now - last < _USED_ANEW):
                return
            left = most
            for path, used, size in sorted(self._entries(), key=lambda one: -one[1]):
                left -= size
                if left < 0 or now - used > _UNUSED:
                    remove(path)
            write(mark, b"")
            used_now(mark)
            self._kept = 0

    def _entries(self) -> Iterator[tuple[Path, float, int]]:
        """Every entry with the time it was used last and its size; what else lies there is not
        ours to judge, and no link is followed."""
        for folder in self._folder.iterdir():
            if len(folder.name) == 2 and folder.is_dir() and not folder.is_symlink():
                for path in folder.iterdir():
                    about = path.lstat()
                    if stat.S_ISREG(about.st_mode):
                        yield path, about.st_mtime, about.st_size

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
            with contextlib.suppress(*UNREADABLE):
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

    def trim(self, most: int) -> None:
        pass


def digest(*parts: bytes) -> str:
    """SHA-256 of the parts, length-prefixed so that neighbours cannot run together; hex."""
    total = hashlib.sha256()
    for part in parts:
        total.update(len(part).to_bytes(8, "big"))
        total.update(part)
    return total.hexdigest()


def known_digest(path: Path, store: Store) -> str:
    """The same, read only once while the file keeps its size and its times.

    Errors: OSError for a file that cannot be read.
    """
    about = path.stat()
    stamp = repr((str(path.absolute()), about.st_size, about.st_mtime_ns, about.st_ctime_ns))
    return store.remember(
        "file digest/1", stamp, lambda: file_digest(path), bytes.decode, str.encode
    )


_IN_DOUBT_NS = 2_000_000_000  # some disks note a file's time in steps of two seconds (FAT)


def signature(folder: Path) -> tuple[str, bool]:
    """How a folder and its entries stand, without a byte of them read: kind, permissions, size,
    times and number of each by name; '' where it cannot be looked at. And whether a later change
    is sure to show: not as long as something changed within the last two seconds."""
    try:
        found = {"": folder.lstat()}
        with os.scandir(folder) as entries:
            found |= {entry.name: entry.stat(follow_symlinks=False) for entry in entries}
    except OSError:
        return "", False
    newest = max(max(about.st_mtime_ns, about.st_ctime_ns) for about in found.values())
    seen = [
        (name, a.st_mode, a.st_size, a.st_mtime_ns, a.st_ctime_ns, a.st_ino)
        for name, a in sorted(found.items())
    ]
    whole = repr(seen).encode("utf-8", "surrogatepass")
    return hashlib.sha256(whole).hexdigest(), time.time_ns() - newest > _IN_DOUBT_NS
