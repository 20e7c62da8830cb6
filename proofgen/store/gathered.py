"""The last results about many things of few kinds, in one file, so that what did not change is
read at once."""

from __future__ import annotations

import json
from collections.abc import Container, Iterator
from contextlib import suppress

from proofgen.store.results import Store

_KIND = "gathered/1"
_MOST = 30_000  # bytes of one result; a larger one stays a file of its own


class Gathered:
    """The last result of each kind about each thing, kept in a store: one by one as they are made,
    so that a killed run loses none, and all of them in one file by `gather`. Who reads one judges
    whether it still holds."""

    def __init__(self, store: Store) -> None:
        self._store = store
        self._every: dict[tuple[str, str], bytes] | None = None
        self._alone: set[tuple[str, str]] = set()  # as files of their own

    def _entries(self) -> dict[tuple[str, str], bytes]:
        if self._every is None:
            self._every = {}
            content = self._store.recall(_KIND, "") or b""
            head, _, rest = content.partition(b"\n")
            with suppress(ValueError, TypeError):
                at = 0
                for kind, name, size in json.loads(head or b"[]"):
                    self._every[kind, name] = rest[at : at + size]
                    at += size
        return self._every

    def found(self, kind: str, name: str) -> Iterator[bytes]:
        """What is kept of this kind about a thing: as it was gathered, then what was kept since by
        who works beside, where there is such."""
        entries = self._entries()
        if (kind, name) in entries:
            yield entries[kind, name]
        alone = self._store.recall(kind, name)
        if alone is not None:
            yield alone

    def keep(self, kind: str, name: str, content: bytes) -> None:
        """Keep it until another is kept."""
        self._entries().pop((kind, name), None)
        self._store.keep(kind, name, content)
        self.holds(kind, name, content)

    def holds(self, kind: str, name: str, content: bytes) -> None:
        """It was found to hold: from now on it is gathered with the others."""
        if self._entries().get((kind, name)) != content and len(content) <= _MOST:
            self._entries()[kind, name] = content
            self._alone.add((kind, name))

    def let_go(self) -> None:
        """Know nothing more: what was kept was deleted, for good reason."""
        self._every, self._alone = {}, set()

    def gather(self, names: Container[str]) -> None:
        """Write what was made or found apart into the one file, and let go of the apart; of what
        is not among these `names`, nothing."""
        if not self._alone:
            return
        entries = {key: one for key, one in self._entries().items() if key[1] in names}
        index = [(kind, name, len(content)) for (kind, name), content in entries.items()]
        head = json.dumps(index, ensure_ascii=True).encode()
        whole = b"".join([head, b"\n", *entries.values()])
        self._store.keep(_KIND, "", whole)
        if self._store.recall(_KIND, "") == whole:  # the disk may be full
            for kind, name in self._alone:
                self._store.drop(kind, name)
        self._alone.clear()
