"""Maps of pictures in the hand hang on a blank's numbers alone: a process draws each once for all
its tests, whatever store a shop of theirs has."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from proofgen.views.hand import maps

_plain = maps._kept
_drawn: dict[str, bytes] = {}


class _Once:
    """A store that keeps what was drawn for all shops, and lets each shop's own keep it too."""

    def __init__(self, store: Any) -> None:
        self._store = store

    def remember(
        self,
        kind: str,
        key: str,
        make: Callable[[], maps.Bytes],
        load: Callable[[bytes], maps.Bytes],
        dump: Callable[[maps.Bytes], bytes],
    ) -> maps.Bytes:
        def once() -> maps.Bytes:
            if key not in _drawn:
                _drawn[key] = dump(make())
            return load(_drawn[key])

        return self._store.remember(kind, key, once, load, dump)


def kept(thing: Any, frame: Any, turn: float, keeping: Any, make: Any) -> maps.Bytes:
    """What `maps._kept` gives, drawn once a process."""
    return _plain(thing, frame, turn, maps._Keeping(_Once(keeping.store)), make)  # type: ignore[arg-type]
