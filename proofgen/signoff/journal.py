"""An append-only file of lines, each carrying the digest of the line before it."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from proofgen import store
from proofgen.signoff.canonical import canonical, digest_of
from proofgen.signoff.editions import is_order_id

FIRST = "0" * 64


@dataclass(frozen=True, slots=True)
class Entry:
    """A whole line: its number in the file (from 1), its digest, and what it says."""

    line: int
    digest: str
    said: Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Read:
    """The file as read. `problems` break the chain; `notes` are what a stopped run left behind."""

    entries: tuple[Entry, ...] = ()
    torn: tuple[str, ...] = ()  # digests of half-written lines at the end
    problems: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    by_order: Mapping[str, tuple[Entry, ...]] = field(default_factory=dict)

    @property
    def last(self) -> str:
        return self.entries[-1].digest if self.entries else FIRST


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
            content = self.path.read_bytes() if self.path.is_file() else b""
            head = self.head.read_bytes() if self.head.is_file() else b""
            self._seen = (stamp, _read(content, head, self.path.name))
        return self._seen[1]

    def append(self, said: Mapping[str, Any]) -> None:
        """Add a line and flush it to disk; `before` and, after a crash, `torn` are added to it.

        Errors: MachineError of the one writer.
        """
        known = self.read()
        line: dict[str, Any] = {**said, "before": known.last}
        if known.torn:
            line["torn"] = list(known.torn)
        raw = canonical(line)
        store.append_line(self.path, raw.decode())
        head = canonical({"digest": digest_of(raw), "lines": len(known.entries) + 1})
        store.write(self.head, head + b"\n", durable=True)


def _stamp(path: Path) -> tuple[int, int, int] | None:
    try:
        found = path.stat()
    except FileNotFoundError:
        return None
    return (found.st_mtime_ns, found.st_size, found.st_ino)


def _read(content: bytes, head: bytes, name: str) -> Read:
    entries: list[Entry] = []
    torn: list[str] = []
    problems: list[str] = []
    notes: list[str] = []
    before = FIRST
    for number, raw in enumerate(content.split(b"\n"), 1):
        if not raw:
            continue  # after the last line end, or where a crash was closed off
        said = _said(raw)
        if said is None:
            torn.append(digest_of(raw))
            notes.append(
                f"{name}:{number}: a run that was stopped left half a line; it counts for nothing"
            )
            continue
        if said.get("before") != before or said.get("torn", []) != torn:
            problems.append(
                f"{name}:{number}: this line does not follow from the one before it: "
                "a line was changed, removed, added or moved"
            )
        torn = []
        before = digest_of(raw)
        entries.append(Entry(number, before, said))
    problems += _head_problems(entries, head, name)
    return Read(tuple(entries), tuple(torn), tuple(problems), tuple(notes), _by_order(entries))


def _said(raw: bytes) -> dict[str, Any] | None:
    """What a line says; None when it is not whole."""
    try:
        said = json.loads(raw)
    except (ValueError, RecursionError):
        return None
    return said if isinstance(said, dict) and "before" in said else None


def _by_order(entries: list[Entry]) -> dict[str, tuple[Entry, ...]]:
    found: dict[str, list[Entry]] = {}
    for entry in entries:
        order, kind, edition = (entry.said.get(k) for k in ("order", "kind", "edition"))
        if is_order_id(order) and isinstance(kind, str) and isinstance(edition, int):
            found.setdefault(str(order), []).append(entry)
    return {order: tuple(several) for order, several in found.items()}


def _head_problems(entries: list[Entry], head: bytes, name: str) -> list[str]:
    if not head:
        lost = f"{name}: the file beside it that names its last line is missing"
        return [lost] if len(entries) > 1 else []
    try:
        said = json.loads(head)
        count, digest = int(said["lines"]), str(said["digest"])
    except (ValueError, KeyError, TypeError):
        return [f"{name}: the file beside it that names its last line cannot be read"]
    if not 0 < count <= len(entries):
        return [f"{name}: lines are missing at its end, {count} were written"]
    if entries[count - 1].digest != digest:
        return [f"{name}:{entries[count - 1].line}: this line is not the one that was written"]
    return []
