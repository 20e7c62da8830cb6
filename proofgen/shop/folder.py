"""A shop folder read whole: everything usable, and every fault of every file."""

from __future__ import annotations

import unicodedata
from collections import deque
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Generic, TypeVar

from proofgen.errors import READ_CURE, Place, ShopError, ShopFaults
from proofgen.model import Blank, Season, Settings, Shop
from proofgen.model.blank_names import offered_by, told_apart
from proofgen.render.fonts import FOLDER as FONTS
from proofgen.render.fonts import own_fonts
from proofgen.say import did_you_mean, file_name, quoted, sentences
from proofgen.shop.blank_reader import built_in_blanks, read_blank
from proofgen.shop.copies import without_copies
from proofgen.shop.design_reader import read_design, unknown
from proofgen.shop.elsewhere import way_to_a_shop
from proofgen.shop.getters import Record, root
from proofgen.shop.nodes import Source, parse, read_text, split_front
from proofgen.shop.order_reader import Known, read_order
from proofgen.shop.paths import is_id
from proofgen.shop.settings_reader import read_settings
from proofgen.shop.trees import Trees
from proofgen.shop.values import COLOUR, DAY

MOST_NAMES = 2_000_000  # bytes: some hundred thousand names

T = TypeVar("T")


@dataclass(slots=True)
class _Files(Generic[T]):
    """What could be read, by id, and the ids of what is there but has faults."""

    good: dict[str, T] = field(default_factory=dict)
    broken: set[str] = field(default_factory=set)


def read_shop(folder: Path, trees: Trees | None = None) -> Shop:
    """Read a shop folder. What has a fault is left out of the shop and told in `Shop.faults`.
    `trees`: orders' texts that were read before.

    Errors: ShopFaults when shop.yaml is missing or cannot be read at all; it then holds the
    faults of all other files too.
    """
    faults: list[ShopError] = []
    settings = _settings(folder, faults)
    currency = settings.currency if settings else ""
    user = _gather(_files(folder, "blanks", ".yaml", faults), folder, faults, read_blank, currency)
    blanks: dict[str, Blank] = {
        k: b for k, b in built_in_blanks().items() if k not in user.broken
    } | user.good
    designs = _gather(
        _folders(folder, "designs", "design.md", faults),
        folder,
        faults,
        lambda path, source: read_design(path.parent, source, blanks, user.broken),
        currency,
    )
    known = Known(
        designs=designs.good,
        blanks=blanks,
        broken_designs=designs.broken,
        broken_blanks=user.broken,
        trees=trees or Trees(),
    )
    orders = _gather(
        _folders(folder, "orders", "order.yaml", faults),
        folder,
        faults,
        lambda path, source: read_order(path.parent, source, known, folder),
        currency,
    )
    seasons = _gather(
        _files(folder, "seasons", ".md", faults),
        folder,
        faults,
        lambda path, source: _season(path, source, known),
    )
    if settings and settings.season not in ("", *seasons.good, *seasons.broken):
        faults.append(_no_season(settings, seasons.good))
    words = _gather(_files(folder, "words", ".md", faults), folder, faults, _house_text)
    names = _names(folder, faults)
    for home in (folder, folder / "records"):
        _tell_copies(home, folder, faults)
    faults.extend(_font_faults(folder))
    if settings is None:
        raise ShopFaults(faults)
    return Shop(
        folder=folder,
        settings=settings,
        blanks=told_apart(blanks, offered_by(designs.good), settings.language),
        designs=designs.good,
        orders=orders.good,
        seasons=tuple(seasons.good.values()),
        words=words.good,
        faults=tuple(faults),
        names=names,
    )


def _no_season(settings: Settings, seasons: Iterable[str]) -> ShopError:
    known_ones = sentences(
        did_you_mean(settings.season, seasons), "Write the name of a file in seasons/, without .md"
    )
    problem = f"there is no season called {quoted(settings.season)}"
    return ShopError(problem, known_ones, settings.place)


def _names(folder: Path, faults: list[ShopError]) -> frozenset[str] | None:
    """words/names.txt: one name a line, lines after # left out; None where there is no such file
    or it cannot be read."""
    path = folder / "words" / "names.txt"
    if not path.exists():
        return None
    try:
        lines = read_text(path, "words/names.txt", MOST_NAMES).splitlines()
    except ShopError as error:
        faults.append(error)
        return None
    names = (unicodedata.normalize("NFC", " ".join(line.split())) for line in lines)
    return frozenset(name for name in names if name and not name.startswith("#"))


def _font_faults(folder: Path) -> list[ShopError]:
    """Fonts of the shop's own that cannot be used."""
    return [
        ShopError(
            f"this font is left out: {reason}",
            "put a .ttf or .otf of a single style here, or take it away",
            Place(f"{FONTS}/{path.name}"),
        )
        for path, reason in own_fonts(folder)[1].items()
    ]


def _settings(folder: Path, faults: list[ShopError]) -> Settings | None:
    path = folder / "shop.yaml"
    if not path.is_file():
        raise ShopFaults(
            [
                ShopError(
                    "this folder is not a shop: it has no shop.yaml",
                    way_to_a_shop(folder),
                    Place("shop.yaml"),
                )
            ]
        )
    source = Source("shop.yaml")
    try:
        record = root(parse(read_text(path, source.file), source), source, "shop.yaml")
        return read_settings(record, folder)
    except ShopError as error:
        source.faults.append(error)
        return None
    finally:
        faults.extend(_in_order(source.faults))


def _in_order(faults: Iterable[ShopError]) -> list[ShopError]:
    """By file, then by line; a file without a line comes last."""

    def key(fault: ShopError) -> tuple[str, float]:
        place = fault.place if isinstance(fault.place, Place) else Place("")
        return place.file, place.line or float("inf")

    return sorted(faults, key=key)


def _gather(
    paths: Iterable[tuple[str, Path]],
    folder: Path,
    faults: list[ShopError],
    read: Callable[[Path, Source], T | None],
    currency: str = "",
) -> _Files[T]:
    """Read each file by itself; a fault in one leaves the others alone."""
    files: _Files[T] = _Files()
    seen: dict[str, str] = {}
    for name, path in paths:
        source = Source(path.relative_to(folder).as_posix(), currency=currency)
        result: T | None = None
        _judge_name(name, path, source, seen)
        try:
            result = read(path, source)
        except ShopError as error:
            source.faults.append(error)
        if source.faults or result is None:
            files.broken.add(name)
            faults.extend(_in_order(source.faults))
        else:
            files.good[name] = result
    return files


def _judge_name(name: str, path: Path, source: Source, seen: dict[str, str]) -> None:
    """Names stand in links and file names: plain letters, and no two that differ only in case."""
    if not is_id(name):
        source.fault(
            None,
            f"the name {quoted(name)} may hold letters a to z, digits, hyphens and underscores "
            "only",
            f"rename it to {file_name(name)}",
        )
    twin = seen.setdefault(name.casefold(), name)
    if twin != name:
        source.fault(
            None,
            f"{quoted(name)} and {quoted(twin)} differ only in capitals, which many computers take "
            "for the same",
            "rename one of them",
        )


def _files(
    folder: Path, part: str, ending: str, faults: list[ShopError]
) -> Iterable[tuple[str, Path]]:
    """The files of a part of the shop, hidden ones left out; .yml is told to be .yaml."""
    for path in _children(folder, part, faults):
        if path.suffix == ending:
            yield path.stem, path
        elif ending == ".yaml" and path.suffix.lower() in (".yml", ".yaml"):
            faults.append(
                ShopError(
                    "this file is not read, because of its ending",
                    f"rename it to {path.stem}{ending}",
                    Place(f"{part}/{path.name}"),
                )
            )


def _folders(
    folder: Path, part: str, file: str, faults: list[ShopError]
) -> Iterable[tuple[str, Path]]:
    for path in _children(folder, part, faults):
        if path.is_dir():
            _tell_copies(path, folder, faults)
            yield path.name, path / file


def _children(folder: Path, part: str, faults: list[ShopError]) -> list[Path]:
    """What lies in a part of the shop, hidden names left out; a part need not be there."""
    try:
        seen = sorted(p for p in (folder / part).iterdir() if not p.name.startswith("."))
        return list(without_copies(seen, folder, faults))
    except FileNotFoundError:
        return []
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        faults.append(ShopError(f"this folder cannot be read ({reason})", READ_CURE, Place(part)))
        return []


_KEPT_ALIKE = (".yaml", ".md", ".jsonl", ".head")  # what the maker or proofgen writes


def _tell_copies(home: Path, folder: Path, faults: list[ShopError]) -> None:
    """Tell the copies of the shop's own files that lie right in a folder."""
    try:
        texts = sorted(p for p in home.iterdir() if p.suffix in _KEPT_ALIKE)
    except OSError:
        return  # told by who reads it
    deque(without_copies(texts, folder, faults), maxlen=0)


def _house_text(path: Path, source: Source) -> str:
    return read_text(path, source.file)


def _season(path: Path, source: Source, known: Known) -> Season | None:
    front, body = split_front(read_text(path, source.file), source)
    with root(parse(front, source, first_line=2), source, "a season") as record:
        begins = record.read("from", DAY) if record.has("from") else None
        ends = record.read("until", DAY) if record.has("until") else None
        if begins and ends and ends < begins:
            record.fault("until", "this season ends before it begins", "change from: or until:")
        season = Season(
            id=path.stem,
            title=record.text("title", most=80),
            sentence=record.text("sentence", "", most=300),
            colour=record.read("colour", COLOUR) if record.has("colour") else "",
            designs=_season_designs(record, known),
            text=body,
            begins=begins,
            ends=ends,
            due=_due_days(record),
            place=source.place(None),
        )
    return None if source.faults else season


def _due_days(record: Record) -> dict[str, date]:
    """The days that people want things by, each with the maker's own name for it."""
    with record.map("due", "the days things are wanted by") as due:
        return {name: due.read(name, DAY) for name in due.names()}


def _season_designs(record: Record, known: Known) -> tuple[str, ...]:
    """The designs of a season, once each; those with faults of their own are left out."""
    names: dict[str, None] = {}
    for node in record.texts("designs", needed=True):
        if node.text in known.designs:
            names[node.text] = None
        elif node.text not in known.broken_designs:
            what = "a design of this shop"
            unknown(record, "designs", node.text, what, known.designs, node.line)
    return tuple(names)
