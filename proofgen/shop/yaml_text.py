"""Values as YAML that this tool writes: quoted so that every reader reads them back."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable

import yaml

from proofgen.errors import ShopError
from proofgen.say import quoted


def as_yaml(text: str) -> str:
    """A YAML double-quoted scalar that reads back as `text`.

    Whatever cannot be seen is escaped (YAML 1.1, 5.7), so that the file holds no hidden letter.
    ShopError for half of a surrogate pair, which is no text at all.
    """
    if any(unicodedata.category(c) == "Cs" for c in text):
        raise ShopError(f"{quoted(text)} holds a broken letter", "type the words again")
    return '"' + "".join(_escaped(c) for c in text) + '"'


def _escaped(letter: str) -> str:
    if letter in '"\\':
        return "\\" + letter
    if letter.isprintable():
        return letter
    if letter in "\n\t\r":
        return {"\n": "\\n", "\t": "\\t", "\r": "\\r"}[letter]
    code = ord(letter)
    if code < 0x100:
        return f"\\x{code:02X}"
    return f"\\u{code:04X}" if code < 0x10000 else f"\\U{code:08X}"


Entry = tuple[yaml.ScalarNode, yaml.Node]


def entry(node: yaml.Node | None, key: str) -> Entry | None:
    """The key and the value of a map's entry, as they were written."""
    if isinstance(node, yaml.MappingNode):
        for name, value in node.value:
            plain = isinstance(name, yaml.ScalarNode) and unicodedata.normalize("NFC", name.value)
            if plain == key:
                return name, value
    return None


def flow_map(entries: Iterable[tuple[str, str]]) -> str:
    """A map in one line, of keys and values that are YAML already."""
    return "{" + ", ".join(f"{key}: {value}" for key, value in entries) + "}"


def _end(node: yaml.Node) -> int:
    """Where the last letter of a node stands; a block's own end mark lies at what follows it."""
    while isinstance(node, yaml.CollectionNode) and not node.flow_style and node.value:
        last = node.value[-1]
        node = last[1] if isinstance(last, tuple) else last
    return int(node.end_mark.index)


def with_entry(text: str, node: yaml.Node, key: str, there: Entry | None, value: str) -> str:
    """The text with `key: value` in the map `node`, in place of the entry that is `there`; every
    other letter is kept."""
    newline = "\r\n" if "\r\n" in text else "\n"
    value = value.replace("\n", newline)
    if there is not None:
        start, end = there[0].end_mark.index, _end(there[1])
        return f"{text[:start]}: {value}{text[max(end, start) :]}"
    if not isinstance(node, yaml.MappingNode) or not node.value:
        return f"{text[: node.start_mark.index]}{{{key}: {value}}}{text[node.end_mark.index :]}"
    end = _end(node.value[-1][1])
    if node.flow_style:
        return f"{text[:end]}, {key}: {value}{text[end:]}"
    rest = text.find("\n", end)
    end = len(text) if rest < 0 else rest + 1  # a remark behind the last value stays with it
    gap = "" if text[:end].endswith("\n") else newline
    indent = " " * node.value[0][0].start_mark.column
    return f"{text[:end]}{gap}{indent}{key}: {value}{newline}{text[end:]}"
