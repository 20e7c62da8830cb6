"""Which order of the journal is which: its lines know an order by an id that means nothing.

Orders are mostly named after people. A journal's lines can never be deleted, so the names stand in
a file of their own; when an order is forgotten, its name leaves that file, and the id stays behind.
Journals of older versions name orders as their folders are named: there an order is its own id.
"""

from __future__ import annotations

import json
import re
import secrets
from collections.abc import Callable, Container, Iterable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

from proofgen import store
from proofgen.signoff.digests import canonical
from proofgen.signoff.editions import is_order_id
from proofgen.signoff.journal import Journal, stamp_of

_LETTERS = "0123456789abcdefghjkmnpqrstvwxyz"  # nothing to misread; one case for every disk
_LENGTH = 10  # 50 bits: enough to tell orders apart; nothing is secret about it
_ID = re.compile(rf"order-[{_LETTERS}]{{{_LENGTH}}}")
_TOKEN_LENGTH = 28  # 140 bits; W3C TAG Good Practices for Capability URLs asks for 120
_TOKEN = re.compile(r"[A-Za-z0-9_-]{22,80}")
_SCHEMA = "proofgen/names/1"


def random_id(_: str) -> str:
    """An id that tells nothing of the name."""
    return made_up(secrets.token_bytes(_LENGTH))


def made_up(seed: bytes) -> str:
    """An id of ten bytes or more."""
    return "order-" + "".join(_LETTERS[byte % len(_LETTERS)] for byte in seed[:_LENGTH])


def new_key() -> bytes:
    """The secret of an edition: 32 bytes at random."""
    return secrets.token_bytes(32)


def sound_token(given: str | None) -> str:
    """The secret end of a link: the given one, or one at random. ValueError if it is too short."""
    drawn = "".join(secrets.choice(_LETTERS) for _ in range(_TOKEN_LENGTH))
    token = drawn if given is None else given
    if not _TOKEN.fullmatch(token):
        raise ValueError("a token has 22 to 80 letters, digits, _ or -")
    return token


def is_made_up(text: str) -> bool:
    """Whether a text is formed as the ids that `random_id` makes."""
    return _ID.fullmatch(text) is not None


class Names:
    """`names.json` beside the journal. Where it is lost, or lacks some of the `ids` that have a
    name (an older copy of it was put back), `found` tells the names by id anew."""

    def __init__(
        self,
        path: Path,
        found: Callable[[], Mapping[str, str]],
        ids: Callable[[], Iterable[str]],
        fresh: Callable[[str], str] = random_id,
    ) -> None:
        self.path = path
        self._found = found
        self._ids = ids
        self._fresh = fresh
        self.is_held = False  # nobody else writes meanwhile: what was read still stands
        self._seen: tuple[object, dict[str, str], dict[str, str]] | None = None

    def _read(self) -> tuple[dict[str, str], dict[str, str]]:
        """Names by id, and ids by name."""
        if self.is_held and self._seen is not None:
            return self._seen[1:]
        stamp = stamp_of(self.path)
        if self._seen is None or self._seen[0] != stamp:
            names = _kept(self.path) or {}
            if not names.keys() >= {*self._ids()}:
                taken = {*names.values()}
                more = {one: name for one, name in self._found().items() if name not in taken}
                names = {**more, **names}
            self._seen = (stamp, names, {name: one for one, name in names.items()})
        return self._seen[1:]

    def refresh(self) -> None:
        """Read again what changed."""
        self._read()

    @property
    def by_id(self) -> Mapping[str, str]:
        return self._read()[0]

    def name_of(self, one: str) -> str:
        """The name of an order by its id; the id itself where it has no other name (any more)."""
        return self._read()[0].get(one, one)

    def id_of(self, name: str) -> str:
        """The id of an order by its name; '' for a name that is another order's id."""
        names, ids = self._read()
        return ids.get(name) or ("" if name in names else name)

    def give_id(self, name: str, taken: Container[str]) -> str:
        """A new id for an order, none of those `taken`, kept on the disk before it is used.

        Errors: MachineError of the one writer.
        """
        names, ids = self._read()
        if name not in ids:
            one = self._fresh(name)
            while one in taken or one in names:
                one = random_id(name)
            self._write({**names, one: name})
        return self.id_of(name)

    def notes(self) -> list[str]:
        """That the file is lost or lacks names, where it does: harmless, `mend` writes it anew."""
        if self.by_id == (_kept(self.path) or {}):
            return []
        says = "is lost, damaged or too old; the names were found again in the folders"
        return [f"{self.path.name}: {says}"]

    def mend(self) -> None:
        """Write what was found anew. Errors: MachineError of the one writer."""
        if self.notes():
            self._write(self.by_id)

    def drop(self, one: str) -> None:
        """Let an order have no name but its id. Errors: MachineError of the one writer."""
        names = dict(self.by_id)
        if names.pop(one, None) is not None:
            self._write(names)

    def _write(self, names: Mapping[str, str]) -> None:
        document = canonical({"orders": dict(names), "schema": _SCHEMA})
        store.write(self.path, document + b"\n", durable=True, private=True)
        self._seen = None


def _kept(path: Path) -> dict[str, str] | None:
    """What the file says; None where it is missing or damaged."""
    try:
        kept = json.loads(path.read_bytes())
        names = kept["orders"]
        sound = all(is_order_id(text) for pair in names.items() for text in pair)
    except FileNotFoundError:
        return None
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return None
    return dict(names) if sound else None


@contextmanager
def held(journal: Journal, names: Names) -> Iterator[None]:
    """While a run holds the lock nobody else writes: both are read as they are now, and whether
    they still are is not asked a hundred times for each order."""
    before = journal.is_held
    if not before:
        journal.read()
        names.refresh()
    journal.is_held = names.is_held = True
    try:
        yield
    finally:
        journal.is_held = names.is_held = before
