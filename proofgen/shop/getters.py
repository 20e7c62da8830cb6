"""Typed getters over a map of the tree: each notes its faults with line and cure, and goes on."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Iterable, Sequence
from datetime import date
from decimal import Decimal
from typing import TypeVar

from proofgen.say import number
from proofgen.shop.nodes import ListNode, MapNode, Node, Source, TextNode, key_lines, show
from proofgen.shop.parsers import (
    parse_amount,
    parse_colour,
    parse_date,
    parse_number,
    parse_whole,
    parse_yes,
)
from proofgen.shop.paths import suggest
from proofgen.units import (
    Temperature,
    parse_length,
    parse_share,
    parse_temperature,
    parse_time,
)

T = TypeVar("T")
Option = TypeVar("Option", bound=str)

MOST_TEXT = 200
_MOST_NAMES = 200  # keys of the maker's own in one map
_MOST_UNKNOWN = 20  # unknown keys named one by one in one map


def is_line(text: str) -> bool:
    """Whether a text stays on one line and holds no control characters."""
    return not any(unicodedata.category(c) in ("Cc", "Zl", "Zp") for c in text)


def _is_name(text: str) -> bool:
    return bool(text.strip()) and len(text) <= MOST_TEXT and is_line(text)


def named(names: Iterable[str]) -> str:
    """Names as a list for a sentence."""
    return ", ".join(names)


class Record:
    """One map of a file. Ask for its keys, then `finish` (or leave the `with`): keys that nobody
    asked for and keys that are missing become faults. A getter whose value is bad notes the fault
    and returns the default, or a harmless stand-in: look at `source.faults` before using it.
    Without `node` it stands for a map that is not there and lacks nothing.
    """

    def __init__(
        self, node: MapNode | None, source: Source, what: str, path: str = "", line: int = 1
    ) -> None:
        self.there = node is not None
        self.node = node or MapNode({}, line)
        self.source = source
        self.what = what
        self.path = path
        self.known: dict[str, None] = {}
        self.missing: list[str] = []

    def __enter__(self) -> Record:
        return self

    def __exit__(self, kind: type[BaseException] | None, *rest: object) -> None:
        if kind is None:
            self.finish()

    def finish(self) -> None:
        """Note the unknown and the missing keys."""
        if self.missing and self.there:
            self.source.fault(
                self.node.line,
                f"{self.what} lacks {named(self.missing)}",
                f"add a line {self.missing[0]}: …",
            )
        unknown = [k for k in self.node.entries if k not in self.known]
        for key in unknown[:_MOST_UNKNOWN]:
            meant = suggest(key, self.known)
            cure = f"did you mean “{meant}”? " if meant else "take it out. "
            self.source.fault(
                self.node.entries[key].line,
                f"{show(key)} is not a key of {self.what}",
                f"{cure}Known here: {named(self.known) or 'nothing'}",
            )
        if len(unknown) > _MOST_UNKNOWN:
            self.source.fault(
                self.node.line,
                f"{self.what} has {len(unknown) - _MOST_UNKNOWN} more unknown keys",
                "take them out",
            )

    # What is there

    def has(self, key: str) -> bool:
        """Whether the key is written; from now on it is a known key."""
        self.known[key] = None
        return key in self.node.entries

    def names(self) -> tuple[str, ...]:
        """All keys, as written: for maps whose keys are the maker's own names."""
        names = tuple(self.node.entries)
        if len(names) > _MOST_NAMES:
            self.source.fault(
                self.node.line, f"{self.what} has more than {_MOST_NAMES} entries", "take some out"
            )
        return names[:_MOST_NAMES]

    def line(self, key: str) -> int:
        """The line of a value, or of the map when the key is not there."""
        entry = self.node.entries.get(key)
        if entry is None:
            return self.node.line
        return entry.value.line if isinstance(entry.value, TextNode) else entry.line

    def lines(self) -> dict[str, int]:
        return key_lines(self.node)

    def fault(self, key: str, problem: str, cure: str) -> None:
        self.source.fault(self.line(key), problem, cure)

    def label(self, key: str) -> str:
        return f"{self.path}{key}"

    def value(self, key: str, needed: bool = False) -> Node | None:
        """The node of a key; a missing one is noted when `needed`."""
        if self.has(key):
            return self.node.entries[key].value
        if needed:
            self.missing.append(key)
        return None

    # Texts

    def scalar(self, key: str, needed: bool = False) -> TextNode | None:
        """The text node of a key; a list or map there is a fault."""
        node = self.value(key, needed)
        if node is None or isinstance(node, TextNode):
            return node
        self.fault(key, f"{self.label(key)} must be a single value", f"write it like {key}: …")
        return None

    def text(self, key: str, default: str | None = None, most: int = MOST_TEXT) -> str:
        """One line of text in Unicode NFC, not empty unless the default is."""
        node = self.scalar(key, default is None)
        if node is None:
            return default or ""
        text = unicodedata.normalize("NFC", node.text)
        if not text.strip() and default != "":
            self.fault(key, f"{self.label(key)} is empty", "write it, or take the line out")
        elif len(text) > most:
            self.fault(
                key, f"{self.label(key)} has {len(text)} letters; {most} is the most", "shorten it"
            )
        elif not is_line(text):
            self.fault(
                key, f"{self.label(key)} holds a line break or control character", "take it out"
            )
        else:
            return text
        return default or ""

    def choice(self, key: str, options: Sequence[Option], default: Option | None = None) -> Option:
        """One of the options."""
        node = self.scalar(key, default is None)
        if node is None:
            return default or options[0]
        for option in options:
            if node.text.strip() == option:
                return option
        meant = suggest(node.text, options)
        cure = f"did you mean “{meant}”? " if meant else ""
        self.fault(
            key,
            f"{self.label(key)}: {show(node.text)} is not known",
            f"{cure}Write one of: {named(options)}",
        )
        return default or options[0]

    def texts(self, key: str, needed: bool = False) -> list[TextNode]:
        """A list of texts; one text alone counts as a list of one."""
        node = self.value(key, needed)
        if isinstance(node, TextNode):
            node = ListNode((node,) if node.text else (), node.line)
        if isinstance(node, ListNode):
            texts = [i for i in node.items if isinstance(i, TextNode) and _is_name(i.text)]
            if len(texts) == len(node.items):
                return texts
        if node is not None:
            self.fault(key, f"{self.label(key)} must be a list of names", f"write {key}: [a, b]")
        return []

    # Amounts

    def typed(
        self, key: str, parse: Callable[[str], T], default: T | None, stand_in: T, cure: str = ""
    ) -> T:
        """Any scalar by its own reader, whose ValueError reads “what is wrong; what to write”."""
        node = self.scalar(key, default is None)
        if node is not None:
            try:
                if len(node.text) > MOST_TEXT or not node.text.isprintable():
                    raise ValueError(f"{show(node.text)} is not a value this can have")
                if not node.text.strip():
                    raise ValueError("there is no value (a # begins a remark unless quoted)")
                return parse(node.text)
            except ValueError as error:
                problem, _, hint = str(error).partition("; ")
                cure = hint or cure or "write a value, or take the line out"
                self.fault(key, f"{self.label(key)}: {problem}", cure)
        return stand_in if default is None else default

    def _amount(
        self,
        key: str,
        parse: Callable[[str], float],
        say: Callable[[float], str],
        default: float | None,
        above: float | None,
        least: float | None,
        most: float | None,
    ) -> float:
        def within(text: str) -> float:
            value = parse(text)
            if above is not None and value <= above:
                raise ValueError(f"{show(text)} is too little; write more than {say(above)}")
            if least is not None and value < least:
                raise ValueError(f"{show(text)} is too little; write at least {say(least)}")
            if most is not None and value > most:
                raise ValueError(f"{show(text)} is too much; write at most {say(most)}")
            return value

        stand_in = least if least is not None else 1.0 if above is None else above + 1.0
        return self.typed(key, within, default, stand_in)

    def length(
        self,
        key: str,
        default: float | None = None,
        *,
        above: float | None = None,
        least: float | None = None,
        most: float | None = None,
    ) -> float:
        """A length in mm."""

        def say(mm: float) -> str:
            return f"{number(mm)} mm"

        return self._amount(key, parse_length, say, default, above, least, most)

    def share(
        self,
        key: str,
        default: float | None = None,
        *,
        above: float | None = None,
        least: float | None = 0.0,
        most: float | None = 1.0,
    ) -> float:
        """A percentage as a share: 0.05 for 5 %."""

        def say(share: float) -> str:
            return f"{number(share * 100)} %"

        return self._amount(key, parse_share, say, default, above, least, most)

    def seconds(
        self,
        key: str,
        default: float | None = None,
        *,
        above: float | None = None,
        least: float | None = None,
        most: float | None = 3600.0,
    ) -> float:
        """A time in s."""

        def say(s: float) -> str:
            return f"{number(s)} s"

        return self._amount(key, parse_time, say, default, above, least, most)

    def decimal(
        self,
        key: str,
        default: float | None = None,
        *,
        above: float | None = None,
        least: float | None = None,
        most: float | None = None,
    ) -> float:
        """A plain number."""
        return self._amount(key, parse_number, number, default, above, least, most)

    def whole(self, key: str, default: int | None = None, *, least: int = 0, most: int) -> int:
        """A whole number."""

        def say(n: float) -> str:
            return str(int(n))

        return int(self._amount(key, parse_whole, say, default, None, least, most))

    def temperature(
        self, key: str, default: Temperature | None = None, *, least: float, most: float
    ) -> Temperature:
        """A heat; limits in °C."""

        def within(text: str) -> Temperature:
            heat = parse_temperature(text)
            if not least <= heat.celsius <= most:
                raise ValueError(
                    f"{show(text)} is not a heat this can have; "
                    f"write {number(least)} C to {number(most)} C"
                )
            return heat

        return self.typed(key, within, default, Temperature(least))

    def money(self, key: str) -> Decimal:
        """An amount of money, exact."""
        return self.typed(key, parse_amount, None, Decimal(0))

    def day(self, key: str) -> date:
        """A date."""
        return self.typed(key, parse_date, None, date(2000, 1, 1))

    def colour(self, key: str, default: str | None = None) -> str:
        """A colour as `#rrggbb`."""
        return self.typed(key, parse_colour, default, "#000000", 'write it like "#6fb7e9"')

    def yes(self, key: str, default: bool) -> bool:
        return self.typed(key, parse_yes, default, default)

    # Parts

    def map(self, key: str, what: str, needed: bool = False) -> Record:
        """The map of a key; an empty one when it is not there."""
        return as_record(self.value(key, needed), self, key, what)

    def items(self, key: str, needed: bool = False) -> tuple[Node, ...]:
        """The items of a list."""
        node = self.value(key, needed)
        if isinstance(node, ListNode):
            return node.items
        if node is not None and not (isinstance(node, TextNode) and not node.text):
            self.fault(key, f"{self.label(key)} must be a list", "begin each item with a dash: - …")
        return ()


def as_record(node: Node | None, parent: Record, key: str, what: str) -> Record:
    """A node as a map; anything but a map (or nothing at all) is a fault at its line."""
    path = f"{parent.path}{key}."
    if isinstance(node, MapNode):
        return Record(node, parent.source, what, path)
    if node is not None and not (isinstance(node, TextNode) and not node.text):
        parent.source.fault(
            node.line, f"{parent.label(key)} must be a map", "write it like key: value"
        )
    return Record(None, parent.source, what, path, parent.line(key))


def root(node: Node | None, source: Source, what: str) -> Record:
    """The whole file as a map."""
    if isinstance(node, MapNode):
        return Record(node, source, what)
    if node is None:
        source.fault(1, "this file is empty", f"write down {what}, or take the file away")
    else:
        source.fault(node.line, "this file must be a map", "write its lines like key: value")
    return Record(None, source, what)
