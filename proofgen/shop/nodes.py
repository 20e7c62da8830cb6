"""YAML at the door: a small tree of texts, lists and maps that knows the line of every value.

Scalars stay the text that was written (YAML 1.1 would turn NO into False and 12:30 into 750); the
getters decide what a text means. Everything with which a file could grow, hide or recurse is
refused: anchors, aliases, merge keys, tags, double keys, deep nesting, large files.
"""

from __future__ import annotations

import re
import stat
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

import yaml
from yaml.reader import Reader

from proofgen.errors import READ_CURE, Place, ShopError
from proofgen.say import quoted, visible
from proofgen.say.wide import is_wide
from proofgen.say.yaml_slips import slip_of
from proofgen.shop.paths import near

MOST_BYTES = 256 * 1024
MOST_DEPTH = 20
MOST_KEY = 100  # letters of one key
MOST_FAULTS = 200  # of one file: beyond that nobody reads them

_BREAK = re.compile(r"\r\n|\r|\n")
_LOADER: type[yaml.SafeLoader] = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_AS_UTF8 = "save the file again as UTF-8 (in a spreadsheet: “CSV UTF-8”)"
_SPECIAL_CURE = "write it out in full; if these are words, put them in double quotes"


@dataclass(frozen=True, slots=True)
class TextNode:
    """A value as it was written, quoted or not."""

    text: str
    line: int


@dataclass(frozen=True, slots=True)
class ListNode:
    items: tuple[Node, ...]
    line: int


@dataclass(frozen=True, slots=True)
class Entry:
    """One key of a map: the line the key stands in, and its value."""

    line: int
    value: Node


@dataclass(frozen=True, slots=True)
class MapNode:
    """Keys, in Unicode NFC, in the order they were written."""

    entries: dict[str, Entry]
    line: int


Node = TextNode | ListNode | MapNode


@dataclass(slots=True)
class Source:
    """One file being read: how it is named to people, the faults found in it, and the money
    (ISO 4217; '' not known) that amounts in it are of."""

    file: str
    faults: list[ShopError] = field(default_factory=list)
    currency: str = ""

    def place(self, line: int | None) -> Place:
        return Place(self.file, line)

    def fault(self, line: int | None, problem: str, cure: str) -> None:
        """Note a fault and go on; the last one kept says that there are more. Keys and names of the
        file may stand in it as they are: what cannot be seen of them is written out here."""
        if len(self.faults) < MOST_FAULTS:
            self.faults.append(ShopError(visible(problem), visible(cure), self.place(line)))
        elif len(self.faults) == MOST_FAULTS:
            self.faults.append(
                ShopError(
                    "this file has more faults than are listed here",
                    "mend these first",
                    self.place(None),
                )
            )


def line_at(text: str, position: int) -> int:
    """The line, from 1, in which a position of `text` lies."""
    return len(_BREAK.findall(text, 0, position)) + 1


def read_text(path: Path, file: str, most: int = MOST_BYTES) -> str:
    """The text of a UTF-8 file of at most `most` bytes. ShopError names the line of bad bytes."""
    place = Place(file)
    try:
        if not stat.S_ISREG(path.stat().st_mode):
            raise ShopError("this is not a file", "put a plain text file here", place)
        with path.open("rb") as stream:
            data = stream.read(most + 1)
    except FileNotFoundError:
        meant = near(path.parent, path.name)
        home = Path(file).parent
        cure = (
            f"rename {meant} to {path.name}"
            if meant
            else f"put {path.name} into {home.as_posix()}, or move that folder out of "
            f"{home.parent.as_posix()}"
        )
        raise ShopError("this file is missing", cure, place) from None
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise ShopError(f"this file cannot be read ({reason})", READ_CURE, place) from error
    if len(data) > most:
        raise ShopError(
            f"this file is larger than {most // 1024} KB", "take out what does not belong", place
        )
    if is_wide(data):
        raise ShopError("the letters of this file are UTF-16, not UTF-8", _AS_UTF8, place)
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = len(re.findall(rb"\r\n|\r|\n", data[: error.start])) + 1
        raise ShopError(
            "some letters of this line are not UTF-8 text", _AS_UTF8, Place(file, line)
        ) from None
    if (at := text.find("\0")) >= 0:
        raise ShopError(
            "a zero byte (U+0000) lies in this line, which no editor shows",
            "delete the whole line and type it anew",
            Place(file, line_at(text, at)),
        )
    return text


def split_front(text: str, source: Source) -> tuple[str, str]:
    """The front matter between two lines `---` and the Markdown after it. ShopError if missing."""
    lines = text.splitlines(keepends=True)
    if not lines or lines[0].rstrip() != "---":
        raise ShopError(
            "the file must begin with a line ---, then its settings, then a line ---",
            "write --- as the first line",
            source.place(1),
        )
    for index, line in enumerate(lines[1:], start=1):
        if line.rstrip() == "---":
            return "".join(lines[1:index]), "".join(lines[index + 1 :]).strip("\n")
    raise ShopError(
        "the settings at the top have no end",
        "write a line --- between the settings and the text",
        source.place(1),
    )


def parse(text: str, source: Source, first_line: int = 1) -> Node | None:
    """The tree of a YAML text whose first line is line `first_line` of its file; None if empty.

    Double keys are noted in `source`; whatever else is refused raises ShopError with its line.
    """
    for position, problem, cure in (
        (
            text.find("\t"),
            "there is a tab in this line; settings are indented with spaces only",
            "put spaces in its place",
        ),
        (
            match.start() if (match := Reader.NON_PRINTABLE.search(text)) else -1,
            "there is a control character in this line",
            "take it out",
        ),
    ):
        if position >= 0:
            line = line_at(text, position) + first_line - 1
            raise ShopError(problem, cure, source.place(line))
    try:
        return _Builder(text, source, first_line).document()
    except yaml.MarkedYAMLError as error:
        problem, before = slip_of(error)
        raise ShopError(
            problem,
            "check the colon and the space after it, the quotes, brackets and indentation here "
            "and in the line above",
            source.place(before + first_line),
        ) from None
    except yaml.YAMLError as error:
        raise ShopError(
            f"this file is not YAML ({' '.join(str(error).split())})",
            "check its quotes and brackets",
            source.place(first_line),
        ) from None


class _Builder:
    """Events in, nodes out; stops at the first thing that is refused."""

    def __init__(self, text: str, source: Source, first_line: int) -> None:
        self.events: Iterator[yaml.Event] = yaml.parse(text, Loader=_LOADER)
        self.source = source
        self.first_line = first_line

    def line(self, event: yaml.Event) -> int:
        return self.first_line + (event.start_mark.line if event.start_mark else 0)

    def refuse(self, event: yaml.Event, problem: str, cure: str = _SPECIAL_CURE) -> ShopError:
        return ShopError(problem, cure, self.source.place(self.line(event)))

    def document(self) -> Node | None:
        root: Node | None = None
        documents = 0
        for event in self.events:
            if isinstance(event, yaml.DocumentStartEvent):
                documents += 1
                if documents > 1:
                    raise self.refuse(
                        event, "a second document begins here", "keep one, without a line ---"
                    )
                if event.tags or event.version:
                    raise self.refuse(event, "lines that begin with % are not taken", "delete it")
            elif isinstance(event, yaml.NodeEvent):
                root = self.node(event, 1)
        return None if isinstance(root, TextNode) and not root.text else root

    def node(self, event: yaml.Event, depth: int) -> Node:
        if isinstance(event, yaml.AliasEvent):
            raise self.refuse(event, f"an alias (*{event.anchor}) is not taken here")
        assert isinstance(event, yaml.ScalarEvent | yaml.CollectionStartEvent)  # nothing else comes
        if event.anchor:
            raise self.refuse(event, f"an anchor (&{event.anchor}) is not taken here")
        if event.tag:
            raise self.refuse(event, f"a tag ({quoted(event.tag)}) is not taken here")
        line = self.line(event)
        if isinstance(event, yaml.ScalarEvent):
            return TextNode(event.value, line)
        if depth > MOST_DEPTH:
            raise self.refuse(
                event,
                f"the brackets or indents are more than {MOST_DEPTH} levels deep",
                "take the extra levels out",
            )
        if isinstance(event, yaml.SequenceStartEvent):
            items = []
            while not isinstance(following := next(self.events), yaml.SequenceEndEvent):
                items.append(self.node(following, depth + 1))
            return ListNode(tuple(items), line)
        return self.map(line, depth)

    def map(self, line: int, depth: int) -> MapNode:
        entries: dict[str, Entry] = {}
        while not isinstance(event := next(self.events), yaml.MappingEndEvent):
            key = self.node(event, depth + 1)
            if not isinstance(key, TextNode):
                raise self.refuse(
                    event, "what stands before a colon must be a word", "write it like name: value"
                )
            name = unicodedata.normalize("NFC", key.text)
            if name == "<<":
                raise self.refuse(event, "a merge key (<<) is not taken here")
            if len(name) > MOST_KEY:
                raise self.refuse(
                    event, f"a word before a colon has more than {MOST_KEY} letters", "shorten it"
                )
            value = self.node(next(self.events), depth + 1)
            if name in entries:
                self.source.fault(
                    key.line,
                    f"{quoted(name)} stands here twice; first in line {entries[name].line}",
                    "keep one of the two",
                )
            else:
                entries[name] = Entry(key.line, value)
        return MapNode(entries, line)


def key_lines(node: Node, prefix: str = "", depth: int = 7) -> dict[str, int]:
    """Where each key stands: 'press' and 'press.heat' to line; items of lists count from 0."""
    lines: dict[str, int] = {}
    if depth == 0:
        return lines  # nothing we read lies deeper
    if isinstance(node, MapNode):
        for key, entry in node.entries.items():
            lines[prefix + key] = entry.line
            lines.update(key_lines(entry.value, f"{prefix}{key}.", depth - 1))
    elif isinstance(node, ListNode):
        for index, item in enumerate(node.items):
            lines[f"{prefix}{index}"] = item.line
            lines.update(key_lines(item, f"{prefix}{index}.", depth - 1))
    return lines
