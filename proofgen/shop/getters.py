"""Typed getters over a map of the tree: each notes its faults with line and cure, and goes on."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Sequence
from typing import TypeGuard, TypeVar

from proofgen.say import did_you_mean, near_names, quoted, sentences
from proofgen.shop.nodes import ListNode, MapNode, Node, Source, TextNode, key_lines
from proofgen.shop.values import Kind

T = TypeVar("T")
Option = TypeVar("Option", bound=str)

MOST_TEXT = 200
_MOST_NAMES = 200  # keys of the maker's own in one map
_MOST_UNKNOWN = 20  # unknown keys named one by one in one map


def is_line(text: str) -> bool:
    """Whether a text stays on one line and holds no control characters."""
    return not any(unicodedata.category(c) in ("Cc", "Zl", "Zp") for c in text)


_TURNED = re.compile("[“„”‟«»‘‚’](.+)[“”«»‘’]")


def in_turned_quotes(text: str) -> str:
    """What stands between the quotation marks that a writing program turns, so that YAML takes them
    for letters; '' where there are none."""
    found = _TURNED.fullmatch(text.strip())
    return found[1].strip() if found else ""


def _is_written(node: Node | None) -> TypeGuard[Node]:
    return node is not None and not (isinstance(node, TextNode) and not node.text)


def _is_name(text: str) -> bool:
    return bool(text.strip()) and len(text) <= MOST_TEXT and is_line(text)


def _filled(cure: str, default: object) -> str:
    """The cure of a line with nothing on it; what is needed must not be taken out."""
    return cure if default is None else f"{cure}, or take the line out"


def named(names: Iterable[str]) -> str:
    """Names as a list for a sentence."""
    return ", ".join(names)


def or_meant(name: str, known: Iterable[str], cure: str) -> str:
    """A cure, after the known name that was probably meant."""
    return sentences(did_you_mean(name, known), cure)


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
            meant = self._meant(key) or "take it out."
            self.source.fault(
                self.node.entries[key].line,
                f"{quoted(key)} is not known in {self.what}",
                f"{meant} Known here: {named(self.known) or 'nothing'}",
            )
        if len(unknown) > _MOST_UNKNOWN:
            self.source.fault(
                self.node.line,
                f"{self.what} has {len(unknown) - _MOST_UNKNOWN} words more that are not known",
                "take them out",
            )

    def _meant(self, key: str) -> str:
        """The known key that was probably meant, and what it is for."""
        from proofgen.shop.told import meaning_of  # only a slip needs it

        open_ones = [name for name in self.known if name not in self.node.entries]  # none twice
        meant = did_you_mean(key, open_ones)
        near = near_names(key, open_ones)
        says = meaning_of(self.source.file, f"{self.path}{near[0]}") if near else ""
        return f"{meant} ({says})" if says else meant

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

    def filled(self, key: str) -> bool:
        """Whether something stands behind the key."""
        return _is_written(self.value(key))

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
            self.fault(key, f"{self.label(key)} is empty", _filled("write it", default))
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
            return options[0] if default is None else default
        for option in options:
            if node.text.strip() == option:
                return option
        self.fault(
            key,
            f"{self.label(key)}: {quoted(node.text)} is not known",
            or_meant(node.text, options, f"Write one of: {named(options)}"),
        )
        return options[0] if default is None else default

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

    def read(self, key: str, kind: Kind[T], default: T | None = None) -> T:
        """A single value of a kind; without a default it must be there."""
        node = self.scalar(key, default is None)
        if node is not None:
            try:
                if len(node.text) > MOST_TEXT or not node.text.isprintable():
                    raise ValueError(f"{quoted(node.text)} is not a value this can have")
                if not node.text.strip():
                    raise ValueError("there is no value (a # begins a remark unless quoted)")
                return kind.parse(node.text)
            except ValueError as error:
                problem, _, hint = str(error).partition("; ")
                cure = hint or kind.cure or _filled("write a value", default)
                if inside := in_turned_quotes(node.text):
                    problem = f"{quoted(node.text)} stands in turned quotation marks"
                    cure = f'write straight ones: "{inside}"'
                self.fault(key, f"{self.label(key)}: {problem}", cure)
        return kind.stand_in if default is None else default

    def read_filled(self, key: str, kind: Kind[T], default: T) -> T:
        """The same, but a key with nothing behind it counts as left out."""
        return self.read(key, kind, default) if self.filled(key) else default

    # Parts

    def map(self, key: str, what: str, needed: bool = False) -> Record:
        """The map of a key; an empty one when it is not there."""
        return as_record(self.value(key, needed), self, key, what)

    def items(self, key: str, needed: bool = False) -> tuple[Node, ...]:
        """The items of a list."""
        node = self.value(key, needed)
        if isinstance(node, ListNode):
            return node.items
        if _is_written(node):
            self.fault(key, f"{self.label(key)} must be a list", "begin each item with a dash: - …")
        return ()


def as_record(node: Node | None, parent: Record, key: str, what: str) -> Record:
    """A node as a map; anything but a map (or nothing at all) is a fault at its line."""
    path = f"{parent.path}{key}."
    if isinstance(node, MapNode):
        return Record(node, parent.source, what, path)
    if _is_written(node):
        parent.source.fault(
            node.line,
            f"{parent.label(key)} takes lines of its own",
            "write each below it, indented, like name: value",
        )
    return Record(None, parent.source, what, path, parent.line(key))


def root(node: Node | None, source: Source, what: str) -> Record:
    """The whole file as a map."""
    if isinstance(node, MapNode):
        return Record(node, source, what)
    if node is None:
        source.fault(1, "this file is empty", f"write down {what}, or take the file away")
    else:
        source.fault(
            node.line, "this file must be lines with a colon", "write each like name: value"
        )
    return Record(None, source, what)
