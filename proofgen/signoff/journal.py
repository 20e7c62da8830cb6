"""An append-only file of lines, each carrying the digest of the line before it."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import cast

from proofgen import store
from proofgen.signoff.digests import canonical, digest_of
from proofgen.signoff.documents import JournalLine
from proofgen.signoff.editions import is_order_id

_FIRST = "0" * 64

_Stamp = tuple[int, int, int] | None  # time, size and number of a file


@dataclass(frozen=True, slots=True)
class Entry:
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
    lost: bool = False  # the last line is not the one that the head names
    by_order: dict[str, list[Entry]] = field(default_factory=dict)

    @property
    def last(self) -> str:
        return self.entries[-1].digest if self.entries else _FIRST

    def take(self, number: int, raw: bytes, name: str) -> None:
        """Add one raw line, and say what does not fit."""
        where, head = f"{name}:{number}", _head_of(raw)
        if head is None:
            self.torn.append(digest_of(raw))
            self.notes.append(
                f"{where}: a run that was stopped left half a line; it counts for nothing"
            )
            return
        if head["before"] != self.last or head.get("torn", []) != self.torn:
            self.problems.append(
                f"{where}: this line does not follow from the one before it: "
                "a line was changed, removed, added or moved"
            )
        if "lost" in head:
            self.problems.append(f"{where}: lines before this one were lost or changed")
        self.torn = []
        self.entries.append(Entry(number, digest_of(raw), head))
        order, kind, edition = (head.get(k) for k in ("order", "kind", "edition"))
        if is_order_id(order) and isinstance(kind, str) and isinstance(edition, int):
            self.by_order.setdefault(order, []).append(self.entries[-1])


class Journal:
    """`journal.jsonl` and, beside it, `journal.head`, which names the last line.

    The head makes lines cut off at the end show. It is written after the line, so a run killed
    between the two leaves it one line behind, which is no fault. Whoever can rewrite every line and
    the head can still forge the whole: the customer's own copy of the mail is the evidence then.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        self.head = path.with_suffix(".head")
        self._seen: tuple[object, Read] | None = None

    def read(self) -> Read:
        """Every whole line, with what is wrong with the chain; read again only when it changed."""
        stamp = (_stamp(self.path), _stamp(self.head))
        if self._seen is None or self._seen[0] != stamp:
            read = _read(_content(self.path), _content(self.head), self.path.name)
            self._seen = (stamp, read)
        return self._seen[1]

    def append(self, head: Mapping[str, object]) -> None:
        """Add a line and flush it to disk. `before` is added to it; `torn` after a crash; `lost`
        when the end of the file was tampered with, so that the new head does not hide it.

        Errors: MachineError of the one writer.
        """
        known = self.read()
        line: dict[str, object] = {**head, "before": known.last}
        if known.torn:
            line["torn"] = known.torn
        if known.lost:
            line["lost"] = digest_of(_content(self.head))
        raw = canonical(line)
        before = _stamp(self.path)
        store.append_line(self.path, raw.decode())
        last = canonical({"digest": digest_of(raw), "lines": len(known.entries) + 1})
        store.write(self.head, last + b"\n", durable=True)
        self._grow(known, raw, before)

    def _grow(self, known: Read, raw: bytes, before: _Stamp) -> None:
        """Keep what was read in step with a file that is ours alone; else it is read again."""
        self._seen = None
        size, now = before[1] if before else 0, _stamp(self.path)
        if now and now[1] == size + len(raw) + 1 and not (known.torn or known.problems):
            known.take((known.entries[-1].line if known.entries else 0) + 1, raw, self.path.name)
            self._seen = ((now, _stamp(self.head)), known)


def _stamp(path: Path) -> _Stamp:
    try:
        stat = path.stat()
    except FileNotFoundError:
        return None
    return (stat.st_mtime_ns, stat.st_size, stat.st_ino)


def _content(path: Path) -> bytes:
    return path.read_bytes() if path.is_file() else b""


def _read(content: bytes, head: bytes, name: str) -> Read:
    read = Read()
    for number, raw in enumerate(content.split(b"\n"), 1):
        if raw:  # empty: after the last line end
            read.take(number, raw, name)
    at_end = _end_problems(read.entries, head, name)
    read.lost = bool(at_end)
    read.problems += at_end
    return read


def _head_of(raw: bytes) -> JournalLine | None:
    """What a line says; None when it is not whole. Only `before` is sure to be in it: `by_order`
    holds the lines that have the rest."""
    try:
        line = json.loads(raw)
    except (ValueError, RecursionError):
        return None
    return cast(JournalLine, line) if isinstance(line, dict) and "before" in line else None


def _end_problems(entries: list[Entry], head: bytes, name: str) -> list[str]:
    if not head:
        lost = f"{name}: the file beside it that names its last line is missing"
        return [lost] if len(entries) > 1 else []
    try:
        last = json.loads(head)
        count, digest = int(last["lines"]), str(last["digest"])
    except (ValueError, KeyError, TypeError):
        return [f"{name}: the file beside it that names its last line cannot be read"]
    if not 0 < count <= len(entries):
        return [f"{name}: lines are missing at its end, {count} were written"]
    if entries[count - 1].digest != digest:
        return [f"{name}:{entries[count - 1].line}: this line is not the one that was written"]
    return []
