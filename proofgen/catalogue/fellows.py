"""Which designs are most like one, found without comparing each with every other."""

from __future__ import annotations

import heapq
from collections import Counter
from collections.abc import Sequence
from itertools import islice
from typing import NamedTuple

from proofgen.catalogue.content import Entry


class _Kind(NamedTuple):
    """What a design is beside what it is good for."""

    pieces: frozenset[str]
    photos: bool
    words: bool

    def like(self, other: _Kind) -> int:
        return 2 * bool(self.pieces & other.pieces) + (self[1:] == other[1:])


def _kind(entry: Entry) -> _Kind:
    pieces = frozenset(offer.blank for offer in entry.offers)
    return _Kind(pieces, bool(entry.photo_slots), bool(entry.word_slots))


class Fellows:
    """A season's designs. Asked for the fellows of each of many, it takes time with their number,
    not with its square: of those that are not good for the same only the first of each kind are
    looked at."""

    def __init__(self, entries: Sequence[Entry], most: int = 4) -> None:
        self._entries, self._most = entries, most
        self._kinds = [_kind(entry) for entry in entries]
        self._good_for: dict[str, list[int]] = {}
        self._of_kind: dict[_Kind, list[int]] = {}
        for at, entry in enumerate(entries):
            self._of_kind.setdefault(self._kinds[at], []).append(at)
            for occasion in {*entry.occasions}:
                self._good_for.setdefault(occasion, []).append(at)
        self._found: dict[tuple[frozenset[str], _Kind], list[int]] = {}

    def of(self, entry: Entry) -> list[Entry]:
        """The designs that are most like one: good for the same, on the same pieces, filled in
        alike; as listed where that says nothing. None that has nothing in common with it."""
        asked = frozenset(entry.occasions), _kind(entry)
        if asked not in self._found:
            self._found[asked] = self._most_alike(*asked)
        others = (self._entries[at] for at in self._found[asked])
        return [other for other in others if other.id != entry.id][: self._most]

    def _most_alike(self, occasions: frozenset[str], kind: _Kind) -> list[int]:
        """One more than are asked for, since the one that asks is among them."""
        few = self._most + 1
        shared = Counter(at for one in occasions for at in self._good_for.get(one, ()))
        scored = [(-4 * many - kind.like(self._kinds[at]), at) for at, many in shared.items()]
        for other, places in self._of_kind.items():
            if alike := kind.like(other):
                apart = (at for at in places if at not in shared)
                scored += [(-alike, at) for at in islice(apart, few)]
        return [at for _, at in heapq.nsmallest(few, scored)]
