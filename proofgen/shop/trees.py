"""YAML that was read before: to make a tree of an order's text takes longer than all else that an
unchanged order of a season costs, and the same text gives the same tree."""

from __future__ import annotations

import hashlib
import json
from contextlib import suppress
from typing import Any

import yaml

from proofgen import __version__
from proofgen.shop.nodes import Entry, ListNode, MapNode, Node, Source, TextNode, parse

KIND = f"trees of orders/1 {__version__} {yaml.__version__}"  # in the store
_UNREADABLE = (ValueError, LookupError, TypeError, AttributeError)


class Trees:
    """The trees of all texts that this run read, and those that an earlier run read (`kept`, what
    `as_kept` made; anything else counts for nothing), by the text's digest."""

    def __init__(self, kept: bytes | None = None) -> None:
        self._kept: dict[str, Any] = {}
        self._used: dict[str, Any] = {}
        with suppress(*_UNREADABLE):
            self._kept = dict(json.loads(kept or b"{}"))

    def read(self, text: str, source: Source) -> Node | None:
        """As `parse`, and with its errors; a text with a fault is read each time."""
        key = hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()
        if key in self._kept:
            with suppress(*_UNREADABLE):
                tree = _tree(self._kept[key])
                self._used[key] = self._kept[key]
                return tree
        before = len(source.faults)
        node = parse(text, source)
        if node is not None and len(source.faults) == before:
            self._used[key] = _plain(node)
        return node

    def as_kept(self) -> bytes | None:
        """What the next run needs; None where that is what is kept already."""
        if self._used.keys() == self._kept.keys():
            return None
        return json.dumps(self._used).encode()


def _plain(node: Node) -> list[Any]:
    """A node as JSON: its line, and its text, its items or its entries."""
    match node:
        case TextNode(text, line):
            return [line, text]
        case ListNode(items, line):
            return [line, [_plain(item) for item in items]]
        case MapNode(entries, line):
            return [line, {key: [one.line, _plain(one.value)] for key, one in entries.items()}]


def _tree(plain: Any) -> Node:
    """The node again. Errors: ValueError, TypeError or AttributeError for what is none."""
    line, said = plain
    if isinstance(said, str):
        return TextNode(said, line)
    if isinstance(said, list):
        return ListNode(tuple(map(_tree, said)), line)
    return MapNode({key: Entry(at, _tree(value)) for key, (at, value) in said.items()}, line)
