"""Puts the chosen focus of photos into order.yaml, every other letter kept."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import yaml

from proofgen import store
from proofgen.errors import Place, ShopError
from proofgen.model import Focus, Order
from proofgen.say import number
from proofgen.shop.nodes import read_text
from proofgen.shop.parsers import parse_number
from proofgen.shop.yaml_text import as_yaml, entry, flow_map, with_entry
from proofgen.units import parse_share

ANEW = "auto"  # written as a focus: choose one
_BOM = b"\xef\xbb\xbf"


@dataclass(frozen=True, slots=True)
class PhotoAt:
    """A photo of an order: the number of its line, from 1, and its slot."""

    line: int
    slot: str


def share_of_side(text: str) -> float:
    """A share of a photo's side, as an order writes it. Errors: ValueError."""
    text = text.strip()
    return parse_share(text) if text.endswith("%") else parse_number(text)


def as_focus(focus: Focus) -> str:
    """A focus as an order writes it."""
    return f"[{number(focus[0], 4)}, {number(focus[1], 4)}]"


def write_focuses(
    order: Order, wanted: Mapping[PhotoAt, Focus], instead: Mapping[PhotoAt, Focus]
) -> list[PhotoAt]:
    """Write every wanted focus whose photo is given none in the file now, or the one it shall stand
    `instead` of; those that were written.

    The file is written whole or not at all, and only when it reads back as it was but for the
    focuses. Errors: ShopError where it does not; MachineError.
    """
    file = order.folder / "order.yaml"
    text = read_text(file, file.name)
    meant = yaml.load(text, Loader=yaml.BaseLoader)  # texts alone, no objects
    done = []
    for at, focus in wanted.items():
        found = _written(text, at, instead.get(at))
        if found is None:
            continue
        key, photo = found
        slots = meant["lines"][at.line - 1]["photos"]
        if isinstance(photo, yaml.ScalarNode):  # the file's name alone
            start, end = photo.start_mark.index, photo.end_mark.index
            end -= len(text[start:end]) - len(text[start:end].rstrip())
            use = flow_map([("file", as_yaml(photo.value)), ("focus", as_focus(focus))])
            text = text[:start] + use + text[end:]
            slots[key] = {"file": photo.value}
        else:
            text = with_entry(text, photo, "focus", entry(photo, "focus"), as_focus(focus))
        slots[key]["focus"] = as_focus(focus)[1:-1].split(", ")
        done.append(at)
    if done:
        _check(text, meant, order.place)
        bom = _BOM if file.read_bytes().startswith(_BOM) else b""
        store.write(file, bom + text.encode(), durable=True)
    return done


def _check(text: str, meant: object, place: Place) -> None:
    try:
        same = yaml.load(text, Loader=yaml.BaseLoader) == meant
    except yaml.YAMLError:
        same = False
    if not same:
        raise ShopError(
            "the focus could not be put into this file as it is written",
            "write it there by hand",
            Place(place.file),
        )


def _written(text: str, at: PhotoAt, outdated: Focus | None) -> tuple[str, yaml.Node] | None:
    """The slot as it is spelt and what the file says of its photo; None where it has no such photo
    any more, or has a focus that is not the `outdated` one."""
    lines = entry(yaml.compose(text, Loader=yaml.SafeLoader), "lines")
    if not lines or not isinstance(lines[1], yaml.SequenceNode) or len(lines[1].value) < at.line:
        return None
    photos = entry(lines[1].value[at.line - 1], "photos")
    found = entry(photos[1], at.slot) if photos else None
    if found is None:
        return None
    focus = entry(found[1], "focus")
    given = focus and not _is_open(focus[1], outdated)
    return None if given else (str(found[0].value), found[1])


def _is_open(focus: yaml.Node, outdated: Focus | None) -> bool:
    """Whether a focus in the file is none, or the outdated one."""
    if isinstance(focus, yaml.ScalarNode):
        return focus.value.strip() in ("", ANEW)
    try:
        said = [share_of_side(part.value) for part in focus.value]
    except (AttributeError, TypeError, ValueError):
        return False
    return outdated is not None and said == [*outdated]
