"""What a command printed, kept for the time when nothing changed: the half that writes.

Kept is what a run said that changed nothing, or what one that wrote knows the next will say; both
read from files that stayed as they were meanwhile.
"""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from datetime import datetime, timedelta
from datetime import time as clock
from pathlib import Path
from zoneinfo import ZoneInfo

from proofgen import again, store
from proofgen.errors import MachineError
from proofgen.render import carried
from proofgen.shop.stands import READ
from proofgen.store.standing import Stood, look, stood
from proofgen.workshop import RECORDS, Workshop

_STORE = "workroom/store"  # may change at any time
_PYC = "__pycache__"
# Folders of files made by us and read for nothing that is said.
_MADE = frozenset({"workroom/pages", "workroom/orders"})
# Below it only those files count that are looked at themselves: the journal names them.
_NAMED = "records/"


class Watch:
    """One run, watched: how the shop stood before it, what it says, of which day."""

    def __init__(self, arguments: Sequence[str], shop: Path) -> None:
        self._key = again.key_of(arguments)
        self._shop = shop
        at_ns = time.time_ns()
        self._before = _look(shop)[0]
        self._fresh = contents_of(shop, self._before, at_ns)
        self._said: list[tuple[str, str]] | None = []
        self._days: tuple[float, float] | None = None
        self._left: tuple[int, tuple[dict[str, Stood], dict[str, Stood]]] | None = None
        self._next: list[tuple[str, str]] | None = None

    def hears(self, stream: str, text: str) -> None:
        if self._said is not None:
            self._said.append((stream, text))

    def spoiled(self) -> None:
        """What this run says holds for no other: this machine lacked something."""
        self._said = None

    def of(self, workshop: Workshop) -> None:
        """What is said holds on the day of this run."""
        settings = workshop.shop.settings
        midnight = datetime.combine(workshop.today, clock(), ZoneInfo(settings.zone))
        ends = midnight + timedelta(days=1)
        always = (0.0, float("inf"))
        self._days = always if settings.today else (midnight.timestamp(), ends.timestamp())

    def has_written(self) -> None:
        """The shop is as this run leaves it, and nobody else can write there yet."""
        self._left = time.time_ns(), _look(self._shop)

    def says_next(self, lines: Sequence[str]) -> None:
        """What the next run prints instead of results, while all stays as this one left it."""
        self._next = [("stdout", line) for line in lines]

    def keep(self, code: int) -> None:
        """Keep what was said, where the run changed nothing and nobody else did; else what the next
        will say, where what it reads is as it was."""
        if self._said is None or self._days is None:
            return
        at_ns, (files, folders) = self._left or (time.time_ns(), _look(self._shop))
        said = self._said
        if not self._is_as_before(files, lambda _: True):
            if self._left is None or self._next is None or not self._is_as_before(files, _is_read):
                return
            said = [*self._next, *(one for one in said if one[0] != "stdout")]
        number = _keep_world(self._shop, files, folders, at_ns)
        if number:
            content = again.answer_file(self._key, number, self._days, code, said)
            again.renew(str(self._shop / again.HOME / again.file_of(self._key)), content)

    def _is_as_before(self, files: Mapping[str, Stood], asked: Callable[[str], bool]) -> bool:
        """Whether the files asked for are those that stood there before the run."""
        before, now = (
            {name: one for name, one in every.items() if asked(name)}
            for every in (self._before, files)
        )
        fresh = {name: one for name, one in self._fresh.items() if name in before}
        read = {name: now[name] for name in fresh if name in now}
        return now == before and contents_of(self._shop, read) == fresh


def _look(shop: Path) -> tuple[dict[str, Stood], dict[str, Stood]]:
    """How the files and folders of a shop stand that what is said may hang on."""
    files, folders = look(shop, _STORE, _MADE)
    files.pop(f"{RECORDS}/{store.LOCK}", None)  # who holds it now
    return files, {name: one for name, one in folders.items() if not name.startswith(_NAMED)}


def _is_read(file: str) -> bool:
    return file.partition("/")[0] in READ


def contents_of(home: Path, files: Mapping[str, Stood], at_ns: int | None = None) -> dict[str, str]:
    """Digest of each file, or of a folder's names; `at_ns`: only of what changed so shortly before
    that its signature may not tell of the next change."""
    found = {}
    for name, one in files.items():
        if at_ns is None or again.is_fresh(one, at_ns):
            try:
                found[name] = again.content_of(os.fsencode(home / name)).decode()
            except OSError:
                found[name] = ""  # as nothing else is
    return found


def installed() -> dict[str, Stood]:
    """How proofgen itself stands and what it brings, and which packages are there."""
    every: dict[str, Stood] = {}
    for top in (Path(__file__).resolve().parent.parent, carried("themes")):
        files, _ = look(top)
        every |= {str(top / name): one for name, one in files.items() if _PYC not in name}
    for folder in map(Path, sys.path):
        if folder.name in ("site-packages", "dist-packages") and folder.is_dir():
            every[str(folder.absolute())] = stood(folder.stat())
    return every


def _keep_world(
    shop: Path, files: Mapping[str, Stood], folders: Mapping[str, Stood], at_ns: int
) -> bytes | None:
    """Keep how all stands; the number it is known by, which is the one before where no file changed
    since. None where it cannot be kept."""
    below = {**folders, **files}
    every = {name or ".": below[name] for name in sorted(below)} | installed()
    contents = contents_of(shop, every, at_ns)
    fresh = {at: contents[name].encode() for at, name in enumerate(every) if name in contents}
    names, signatures = [os.fsencode(name) for name in every], [*every.values()]
    path = shop / again.HOME / again.WORLD
    try:
        digest = _digest_of(shop, every, folders)
        number = _number_before(shop, path, digest, names, len(below))
        if not number:  # what was said holds no longer
            number = os.urandom(8).hex().encode()
            for old in path.parent.iterdir() if path.parent.is_dir() else ():
                store.remove(old)
        content = again.world_file(number, digest, len(below), fresh, names, signatures)
        store.write(path, content, private=True)
    except (OSError, MachineError):
        return None
    return number


def _digest_of(shop: Path, every: Mapping[str, Stood], folders: Mapping[str, Stood]) -> bytes:
    """Digest of all files as they stand. A folder's times tell of files that come and go; its
    permissions count."""
    modes = {name or ".": (shop / name).stat().st_mode for name in folders}
    of_all = [(name, modes[name]) if name in modes else (name, *one) for name, one in every.items()]
    return store.digest(repr(of_all).encode("utf-8", "surrogatepass")).encode()


def _number_before(
    shop: Path, path: Path, digest: bytes, names: Sequence[bytes], below: int
) -> bytes:
    """The number of the world that is kept, if its files are these; else b''."""
    with suppress(OSError, ValueError, LookupError):
        head = path.read_bytes().partition(b"\n")[0]
        number, files, _, *fresh = again.opened(head).split(b" ")
        if files == digest and again.same_content(str(shop), fresh, names, below) is not None:
            return number
    return b""
