"""An append-only file of lines, each carrying the digest of the line before it."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import NamedTuple, cast

from proofgen import store
from proofgen.errors import SignoffError
from proofgen.signoff.digests import canonical, digest_of
from proofgen.signoff.documents import JournalLine
from proofgen.signoff.editions import is_order_id

_FIRST = "0" * 64


class _Stamp(NamedTuple):
    size: int
    mtime_ns: int
    inode: int


class Entry(NamedTuple):
    """A whole line: its number in the file (from 1), its digest, and what it says."""

    line: int
    digest: str
    head: JournalLine


@dataclass(slots=True)
class Read:
    """The file as read. `problems` break the chain; `notes` are what a stopped run left behind."""

    entries: list[Entry] = field(default_factory=list)
    torn: list[str] = field(default_factory=list)  # digests of half-written lines at the end
    problems: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    by_order: dict[str, list[Entry]] = field(default_factory=dict)

    @property
    def last(self) -> str:
        return self.entries[-1].digest if self.entries else _FIRST

    def take(self, number: int, raw: bytes, head: JournalLine | None, name: str) -> None:
        """Add one raw line and what it says (None: it is not whole), and say what does not fit."""
        if head is None:
            self.torn.append(digest_of(raw))
            self.notes.append(
                f"{name}:{number}: a run that was stopped left half a line; it counts for nothing"
            )
            return
        if head["before"] != self.last or head.get("torn", []) != self.torn:
            self.problems.append(
                f"{name}:{number}: this line does not follow from the one before it: "
                "a line was changed, removed, added or moved"
            )
        if "lost" in head:  # older versions wrote on
            self.problems.append(f"{name}:{number}: lines before this one were lost or changed")
        if self.torn:
            self.torn = []
        entry = Entry(number, digest_of(raw), head)
        self.entries.append(entry)
        order, kind, edition = head.get("order"), head.get("kind"), head.get("edition")
        if isinstance(kind, str) and isinstance(edition, int) and isinstance(order, str):
            if order in self.by_order:
                self.by_order[order].append(entry)
            elif is_order_id(order):
                self.by_order[order] = [entry]


class Journal:
    """`journal.jsonl` and, beside it, `journal.head`, which names the last line.

    The head makes lines cut off at the end show. It is written after the line, so a run killed
    between the two leaves it one line behind, which is no fault. Whoever can rewrite every line and
    the head can still forge the whole: the customer's own copy of the mail is the evidence then.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        self.head = path.with_suffix(".head")
        self.is_held = False  # nobody else writes meanwhile: what was read still stands
        self._seen: tuple[tuple[_Stamp | None, _Stamp | None], Read] | None = None

    def read(self) -> Read:
        """Every whole line, with what is wrong with the chain; read again only when it changed."""
        if self.is_held and self._seen is not None:
            return self._seen[1]
        stamp = (stamp_of(self.path), stamp_of(self.head))
        if self._seen is None or self._seen[0] != stamp:
            # The head first: of a line that another run adds meanwhile, the head is the older one.
            head = _content(self.head)
            content = _content(self.path)
            self._seen = (stamp, _read(content, head, self.path.name))
            if not content and not head and _was_written(self.path.parent):
                problem = f"{self.path.name}: it is gone, and the file beside it, too"
                self._seen[1].problems.append(problem)
        return self._seen[1]

    def sound(self) -> Read:
        """What `read` gives. SignoffError when the journal is not as it was written: nothing may
        stand on it."""
        read = self.read()
        if read.problems:
            raise SignoffError(
                read.problems[0],
                "look at all of it with `proofgen records verify`, then put the records folder "
                "back from your last backup; without one, set it aside and make new proofs",
            )
        return read

    def append(self, head: Mapping[str, object]) -> None:
        """Add a line and flush it to disk. `before` is added to it; `torn` after a crash.

        Errors: SignoffError when the chain is broken, MachineError of the one writer.
        """
        known = self.sound()
        line: dict[str, object] = {**head, "before": known.last}
        if known.torn:
            line["torn"] = known.torn
        raw = canonical(line)
        before = stamp_of(self.path)
        store.append_line(self.path, raw.decode())
        last = canonical({"digest": digest_of(raw), "lines": len(known.entries) + 1})
        store.write(self.head, last + b"\n", durable=True)
        self._grow(known, raw, before)

    def _grow(self, known: Read, raw: bytes, before: _Stamp | None) -> None:
        """Keep what was read in step with a file that is ours alone; else it is read again."""
        self._seen = None
        size, now = before.size if before else 0, stamp_of(self.path)
        if now and now.size == size + len(raw) + 1 and not known.torn:
            number = (known.entries[-1].line if known.entries else 0) + 1
            known.take(number, raw, _head_of(raw), self.path.name)
            self._seen = ((now, stamp_of(self.head)), known)


def stamp_of(path: Path) -> _Stamp | None:
    """What changes when a file does; None where there is none."""
    try:
        stat = path.stat()
    except FileNotFoundError:
        return None
    return _Stamp(stat.st_size, stat.st_mtime_ns, stat.st_ino)


def _content(path: Path) -> bytes:
    return path.read_bytes() if path.is_file() else b""


def _read(content: bytes, head: bytes, name: str) -> Read:
    read, raws = Read(), content.split(b"\n")
    if not raws[-1]:  # after the last line end
        raws.pop()
    for number, (raw, said) in enumerate(zip(raws, _heads_of(raws), strict=True), 1):
        if raw:
            read.take(number, raw, said, name)
    read.problems += _end_problems(read.entries, head, name)
    return read


def _was_written(folder: Path) -> bool:
    """Whether an order's files tell that there was a journal: the second of them is written once
    the line of the first is there."""
    homes = [home for home in folder.glob("*") if is_order_id(home.name)]
    return any(len({f.stem[:-17] for f in home.glob("*-*-*.json")}) > 1 for home in homes)


def _heads_of(raws: list[bytes]) -> list[JournalLine | None]:
    """What every line says. All are read at once, which takes half the time of one by one; that
    each is a document of its own is proved by the chain, or read again where it is in doubt."""
    try:
        lines = json.loads(b"[" + b",\n".join(raws) + b"]")
    except (ValueError, RecursionError):
        lines = []
    if len(lines) == len(raws) and all(isinstance(one, dict) and "before" in one for one in lines):
        return cast(list[JournalLine | None], lines)
    return [_head_of(raw) for raw in raws]


def _head_of(raw: bytes) -> JournalLine | None:
    """What a line says; None when it is not whole. Only `before` is sure to be in it: `by_order`
    holds the lines that have the rest."""
    try:
        line = json.loads(raw)
    except (ValueError, RecursionError):
        return None
    return cast(JournalLine, line) if isinstance(line, dict) and "before" in line else None


def _last_of(head: bytes) -> tuple[int, str] | None:
    """How many lines were written, and the last one's digest; None where that cannot be read."""
    try:
        last = json.loads(head)
        return int(last["lines"]), str(last["digest"])
    except (ValueError, KeyError, TypeError, RecursionError):
        return None


def _end_problems(entries: list[Entry], head: bytes, name: str) -> list[str]:
    if not head:
        lost = f"{name}: the file beside it that names its last line is missing"
        return [lost] if len(entries) > 1 else []
    last = _last_of(head)
    if last is None:
        return [f"{name}: the file beside it that names its last line cannot be read"]
    count, digest = last
    if not 0 < count <= len(entries):
        return [f"{name}: lines are missing at its end, {count} were written"]
    if entries[count - 1].digest != digest:
        return [f"{name}:{entries[count - 1].line}: this line is not the one that was written"]
    return []
