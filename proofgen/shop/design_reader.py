"""designs/NAME/design.md: faces and layers of a design, its prices and its sample."""

from __future__ import annotations

import unicodedata
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise
from pathlib import Path
from typing import assert_never

from proofgen.geometry import FACES, FaceName
from proofgen.model import (
    ALIGNMENTS,
    LAYER_KINDS,
    PATTERN_LAYS,
    Amount,
    ArtLayer,
    Blank,
    Box,
    ColourLayer,
    Design,
    Layer,
    LayerKind,
    PatternLayer,
    PhotoLayer,
    SlotKind,
    WordsLayer,
)
from proofgen.say import did_you_mean, quoted
from proofgen.shop.getters import MOST_TEXT, Record, as_record, named, or_meant, root
from proofgen.shop.money import money
from proofgen.shop.nodes import (
    ListNode,
    Source,
    TextNode,
    parse,
    read_text,
    split_front,
)
from proofgen.shop.parsers import parse_whole
from proofgen.shop.paths import inside, near
from proofgen.shop.values import COLOUR, length
from proofgen.units import parse_length, parse_share

DEFAULT_FONT = "Caladea"
# A layer of each kind, as it is written.
_WRITTEN: dict[LayerKind, str] = {
    "colour": 'colour: "#dfe9dc"',
    "pattern": "pattern: {file: dots.png, repeat: 30 mm, at: fill}",
    "art": "art: {file: frame.png, at: [10 %, 10 %, 80 %, 50 %]}",
    "photo": "photo: {slot: photo, at: fill}",
    "words": "words: {slot: name, at: [10 %, 70 %, 80 %, 20 %], size: 9 mm}",
}
_MOST_MM = 2000.0
_MOST_SHARE = 10.0  # ten times the face's side
_REPEAT = length(least=0.5, most=_MOST_MM)
_TYPE = length(above=0, most=500)


def read_file(record: Record, key: str, folder: Path, home: str, *, spare: bool = False) -> Path:
    """A file named in a record: below `folder`, and there. `home` names the folder to people;
    `spare`: the record can do without it."""
    node = record.scalar(key, needed=True)
    if node is None:
        return folder
    try:
        path = inside(folder, node.text)
    except ValueError as error:
        record.fault(
            key,
            f"{record.label(key)} {quoted(node.text)}: {error}",
            f"put the file into {home} and write its name from there",
        )
        return folder
    if not path.is_file():
        meant = near(folder, node.text)
        hint = f"did you mean “{meant}”? Or put" if meant else "put"
        record.fault(
            key,
            f"the file {quoted(node.text)} is not in {home}",
            f"{hint} it there under this name" + (", or take this line away" if spare else ""),
        )
    return path


def _amount(text: str, side: bool) -> Amount:
    text = text.strip()
    if len(text) > 40 or not text.isprintable():
        raise ValueError(f"{quoted(text)} is not an amount")
    try:
        share = text.endswith("%")
        amount = Amount(parse_share(text) if share else parse_length(text), share)
    except ValueError:
        raise ValueError(f"“{text}” is not an amount") from None
    if abs(amount.value) > (_MOST_SHARE if share else _MOST_MM):
        raise ValueError(f"“{text}” is far outside the face")
    if side and amount.value <= 0:
        raise ValueError(f"“{text}” is no width or height")
    return amount


def read_box(record: Record, key: str = "at") -> Box | None:
    """`at`: left, top, width, height, each a share or mm; None for `fill` or when absent."""
    node = record.value(key)
    if node is None or (isinstance(node, TextNode) and node.text.strip() == "fill"):
        return None
    cure = "write fill, or left, top, width and height: [10 %, 70 %, 80 %, 20 %] or in mm"
    items = node.items if isinstance(node, ListNode) else ()
    texts = [item.text for item in items if isinstance(item, TextNode)]
    if len(items) != 4 or len(texts) != 4:
        record.fault(key, f"{record.label(key)} must be fill or four amounts", cure)
        return None
    try:
        return Box(*(_amount(text, side=index >= 2) for index, text in enumerate(texts)))
    except ValueError as error:
        record.fault(key, f"{record.label(key)}: {error}", cure)
        return None


def read_slot(record: Record, key: str = "slot") -> str:
    """The name of a slot: short, printable, no dot (dots part keys from each other)."""
    slot = record.text(key, most=40)
    if slot != slot.strip() or "." in slot or not slot.isprintable():
        record.fault(
            key,
            f"{quoted(slot)} cannot name a place for words or a photo (a slot)",
            "use letters, digits, hyphens and spaces",
        )
    return slot


def read_words(record: Record, key: str) -> str:
    """Somebody's words as they are, in Unicode NFC; only their length is judged here."""
    node = record.scalar(key)
    text = unicodedata.normalize("NFC", node.text) if node else ""
    if len(text) > MOST_TEXT:
        record.fault(
            key,
            f"{record.label(key)} has {len(text)} letters; {MOST_TEXT} is the most",
            "shorten it",
        )
    return text


def _layer(item: Record, folder: Path, home: str) -> Layer | None:
    kinds = [k for k in LAYER_KINDS if item.has(k)]
    if len(kinds) != 1:
        item.source.fault(
            item.node.line,
            "a layer must be one thing" if kinds else "this layer is of no known kind",
            f"write one of: {named(LAYER_KINDS)}",
        )
        return None
    kind = kinds[0]
    place = item.source.place(item.node.entries[kind].line)
    if kind == "colour" and isinstance(item.value(kind), TextNode):
        return ColourLayer(colour=item.read(kind, COLOUR), at=read_box(item), place=place)
    if isinstance(item.value(kind), TextNode | ListNode):
        item.fault(
            kind, f"{item.label(kind)} takes lines of its own", f"write it like {_WRITTEN[kind]}"
        )
        return None
    with item.map(kind, f"a {kind} layer", needed=True) as part:
        if not part.there:
            return None
        at = read_box(part)
        match kind:
            case "colour":
                return ColourLayer(at=at, colour=part.read("colour", COLOUR), place=place)
            case "photo":
                return PhotoLayer(at=at, slot=read_slot(part), place=place)
            case "art":
                return ArtLayer(at=at, file=read_file(part, "file", folder, home), place=place)
            case "pattern":
                return PatternLayer(
                    at=at,
                    file=read_file(part, "file", folder, home),
                    repeat_mm=part.read("repeat", _REPEAT),
                    lay=part.choice("lay", PATTERN_LAYS, "straight"),
                    place=place,
                )
            case "words":
                return _words(part, at)
            case _:
                assert_never(kind)


def _words(part: Record, at: Box | None) -> WordsLayer:
    if at is None and part.there:
        part.fault("at", "words need a box to stand in", "write at: [10 %, 70 %, 80 %, 20 %]")
    fixed = part.has("text")
    if fixed and part.has("slot"):
        part.fault("text", "these words have both slot and text", "keep one of the two")
    slot = "" if fixed else read_slot(part)
    return WordsLayer(
        at=at,
        slot=slot,
        text=read_words(part, "text") if fixed else "",
        font=part.text("font", DEFAULT_FONT, most=60),
        size_mm=part.read("size", _TYPE),
        colour=part.read("colour", COLOUR, "#000000"),
        align=part.choice("align", ALIGNMENTS, "centre"),
        place=part.source.place(part.node.line),
    )


def _faces(design: Record, folder: Path, home: str) -> dict[FaceName, tuple[Layer, ...]]:
    drawn: dict[FaceName, tuple[Layer, ...]] = {}
    with design.map("faces", "the faces", needed=True) as faces:
        for name in FACES:
            if not faces.has(name):
                continue
            layers = []
            for node in faces.items(name):
                with as_record(node, faces, name, "a layer") as item:
                    if item.there:
                        layers.append(_layer(item, folder, home))
            drawn[name] = tuple(layer for layer in layers if layer is not None)
            if not layers:
                faces.fault(name, f"face {name} has no layer", "add one, or take the face out")
    if faces.there and not faces.names():
        design.fault("faces", "no face is drawn", f"write one of: {named(FACES)}")
    return drawn


def _steps(offered: Record, blank: str) -> tuple[tuple[int, Decimal], ...]:
    """(from quantity, price), rising."""
    if isinstance(offered.value(blank), TextNode):
        return ((1, offered.read(blank, money(offered.source.currency))),)
    steps = {}
    with offered.map(blank, "a list of prices", needed=True) as prices:
        for key in prices.names():
            if not prices.filled(key):
                prices.fault(
                    key,
                    f"there is no price behind {quoted(key)}: in these brackets a comma parts two "
                    "prices",
                    "write cents behind a point, like {1: 14.50, 10: 12.00}",
                )
                continue
            price = prices.read(key, money(prices.source.currency))
            try:
                start = parse_whole(key)
                if start < 1:
                    raise ValueError
            except ValueError:
                prices.fault(
                    key, f"{quoted(key)} is not a quantity", "write it like {1: 12.00, 10: 10.50}"
                )
                continue
            if start in steps:
                prices.fault(key, f"a price from {start} up stands here twice", "keep one")
            steps[start] = price
    for (less, cheap), (more, dear) in pairwise(sorted(steps.items())):
        if dear > cheap:
            prices.fault(
                str(more),
                f"from {more} up each piece is dearer ({dear}) than from {less} up ({cheap})",
                "write the price of one piece, which falls as more are ordered",
            )
    if prices.there and not steps:
        offered.fault(blank, f"there is no price for {quoted(blank)}", "write a price, like 14.50")
    return tuple(sorted(steps.items()))


@dataclass(frozen=True, slots=True)
class _Sample:
    photos: dict[str, Path]
    words: dict[str, str]
    cloth: str


def _sample(design: Record, folder: Path, home: str) -> _Sample:
    with design.map("sample", "the sample") as sample:
        with sample.map("photos", "the sample's photos") as pictures:
            photos = {slot: read_file(pictures, slot, folder, home) for slot in pictures.names()}
        with sample.map("words", "the sample's words") as texts:
            words = {slot: read_words(texts, slot) for slot in texts.names()}
        return _Sample(photos, words, sample.text("cloth", "", most=40))


def _labels(design: Record) -> dict[str, str]:
    """Slot to the plain words people call it by."""
    with design.map("labels", "the labels") as labels:
        called: dict[str, str] = {}
        for slot in labels.names():
            label = labels.text(slot, most=60)
            if label in called.values():
                labels.fault(slot, f"two places are called {quoted(label)}", "give each its own")
            called[slot] = label
        return called


def _sample_fits(design: Design, record: Record, blanks: Mapping[str, Blank]) -> None:
    """Note labels and samples of slots the design lacks, and a cloth none of its blanks has."""
    for slot in design.labels:
        if slot not in design.slots("photo"):
            known_slot(record.map("labels", ""), slot, design, "words")
    sample = record.map("sample", "the sample")
    samples: tuple[tuple[SlotKind, str, Iterable[str]], ...] = (
        ("photo", "photos", design.sample_photos),
        ("words", "words", design.sample_words),
    )
    for kind, key, given in samples:
        for slot in given:
            known_slot(sample.map(key, ""), slot, design, kind)
    shades = {c: None for b in design.offered if b in blanks for c in blanks[b].cloth.colours}
    if design.sample_cloth and shades and design.sample_cloth not in shades:
        unknown(sample, "cloth", design.sample_cloth, "a colour of its blanks", shades)


def unknown(
    record: Record, key: str, name: str, what: str, known: Iterable[str], line: int | None = None
) -> None:
    """Note a name that is not among the known ones, with the one that was probably meant."""
    known = tuple(known)
    record.source.fault(
        line or record.line(key),
        f"{record.label(key)}: {quoted(name)} is not {what}",
        or_meant(name, known, f"Known: {named(known) or 'none yet'}"),
    )


def read_design(
    folder: Path, source: Source, blanks: Mapping[str, Blank], broken: Collection[str]
) -> Design | None:
    """One design; None when it has a fault, which `source` then holds.

    `broken` are blanks that have faults of their own: an offer on one is left out quietly.
    """
    front, body = split_front(read_text(folder / "design.md", source.file), source)
    record = root(parse(front, source, first_line=2), source, "a design")
    home = f"designs/{folder.name}"
    offered = {}
    with record.map("offered", "the prices", needed=True) as offers:
        for blank in offers.names():
            steps = _steps(offers, blank)
            if blank in blanks:
                offered[blank] = steps
            elif blank not in broken:
                unknown(offers, blank, blank, "a blank", blanks)
    sample = _sample(record, folder, home)
    design = Design(
        id=folder.name,
        title=record.text("title", most=80),
        faces=_faces(record, folder, home),
        offered=offered,
        occasions=tuple(
            unicodedata.normalize("NFC", node.text) for node in record.texts("occasions")
        ),
        text=body,
        sample_photos=sample.photos,
        sample_words=sample.words,
        sample_cloth=sample.cloth,
        folder=folder,
        place=source.place(None),
        lines=record.lines(),
        labels=_labels(record),
    )
    record.finish()
    if not source.faults:
        _sample_fits(design, record, blanks)
    return None if source.faults else design


_PLACE: dict[SlotKind, str] = {"photo": "a photo", "words": "words"}


def known_slot(
    record: Record, slot: str, design: Design, kind: SlotKind, *, spare: bool = False
) -> None:
    """Note a slot that the design does not have; with `spare`, only one that looks misspelt."""
    known = design.slots(kind)
    if slot in known or (spare and not did_you_mean(slot, known)):
        return
    record.fault(
        slot,
        f"design {quoted(design.id)} has no place (slot) for {_PLACE[kind]} called {quoted(slot)}",
        or_meant(slot, known, f"Its places for {_PLACE[kind]}: {named(known) or 'none'}"),
    )
