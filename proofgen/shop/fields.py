"""What a map of a file holds, declared once: its keys, and how the value of each is read, written
and asked for."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Generic, TypeVar

from proofgen.shop.getters import Record
from proofgen.shop.values import Kind
from proofgen.shop.yaml_text import as_yaml, flow_map

T = TypeVar("T")
Option = TypeVar("Option", bound=str)


@dataclass(frozen=True, slots=True)
class Value(Generic[T]):
    """A value that is more than one text. `read` takes the record, the key and what is usual
    (None: it must be there) and notes faults; `write` gives YAML."""

    read: Callable[[Record, str, T | None], T]
    write: Callable[[T], str]


@dataclass(frozen=True, slots=True)
class Choice(Value[T]):
    options: Sequence[T]


@dataclass(frozen=True, slots=True)
class Map(Value[T]):
    """`parts` gives the values of its entries, in their order, and `make` is its inverse."""

    entries: tuple[AnyEntry, ...]
    parts: Callable[[T], Sequence[object]]
    make: Callable[..., T]


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry(Generic[T]):
    """One key of a map. `usual` stands where it is not written; None: it must be.

    What is measured has `asks`: kind of blank to the question; `enter` is the answer that Enter
    stands for, `option` the name it has in `measure`, where that is not the key.
    """

    key: str
    value: Kind[T] | Value[T]
    usual: T | None = None
    asks: Mapping[str, str] = field(default_factory=dict)
    enter: str = ""
    option: str = ""

    def read(self, record: Record, usual: T | None) -> T:
        if isinstance(self.value, Kind):
            return record.read(self.key, self.value, usual)
        return self.value.read(record, self.key, usual)


AnyEntry = Entry[Any]


def text(most: int) -> Value[str]:
    """One line of text."""
    return Value(lambda record, key, usual: record.text(key, usual, most), as_yaml)


def choice(options: Sequence[Option]) -> Choice[Option]:
    """One of the options."""
    return Choice(lambda record, key, usual: record.choice(key, options, usual), str, options)


def mapped(
    what: str,
    make: Callable[..., T],
    parts: Callable[[T], Sequence[object]],
    *entries: AnyEntry,
) -> Map[T]:
    """A map, called `what` to people; `make` takes the values of its entries, `parts` gives them
    back."""

    def read(record: Record, key: str, usual: T | None) -> T:
        with record.map(key, what, needed=usual is None) as part:
            return make(*(entry.read(part, entry.usual) for entry in entries))

    def write(value: T) -> str:
        written = zip(entries, parts(value), strict=True)
        return flow_map(
            (entry.key, entry.value.write(part))
            for entry, part in written
            if not part == entry.usual == ""  # not said
        )

    return Map(read, write, entries, parts, make)
