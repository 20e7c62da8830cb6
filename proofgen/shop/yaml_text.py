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
