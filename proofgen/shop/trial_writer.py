"""What a press trial found, into blanks/NAME.yaml; every other letter is kept, but for remarks at
its top that are true no more."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

import yaml

from proofgen.model import Blank, PressSetting
from proofgen.shop.blank_fields import PRESS, SHRINK
from proofgen.shop.blank_writer import TO_LABEL, TO_TRY, change_blank
from proofgen.shop.fields import Map, T
from proofgen.shop.practice import practice_press
from proofgen.shop.yaml_text import entry, flow_map, with_entry
from proofgen.units import Temperature


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """What a trial of that day found; None: not tried. Shares of the shrink along and across."""

    day: date
    heat: Temperature | None = None
    time_s: float | None = None
    shrink: tuple[float | None, float | None] = (None, None)


def write_trial(folder: Path, blank: Blank, found: Found) -> Path:
    """Write what was found into the blank's file; its path. Errors: as `change_blank`."""

    def wanted(before: Blank) -> Blank:
        x, y = found.shrink
        old_x, old_y = before.shrink
        shrink = (old_x if x is None else x, old_y if y is None else y)
        return replace(before, press=_press(before, found), shrink=shrink)

    return change_blank(folder, blank, lambda text: _edited(text, blank, found), wanted)


def _press(blank: Blank, found: Found) -> PressSetting | None:
    if found.heat is None and found.time_s is None:
        return blank.press
    before = blank.press or practice_press(blank.construction, blank.cloth.finish)
    heat = found.heat or Temperature(before.heat_c, before.heat_f_written)
    return replace(
        before,
        heat_c=heat.celsius,
        heat_f_written=heat.fahrenheit,
        time_s=before.time_s if found.time_s is None else found.time_s,
        source="trial",
        tried=found.day,
    )


def _edited(text: str, blank: Blank, found: Found) -> str:
    press = _press(blank, found)
    if press is not None and press is not blank.press:
        new = _entries(PRESS, press)
        tried = {key: new[key] for key in ("heat", "time", "from", "tried")}
        text = _with(text, "press", tried if blank.press else new)
        text = _without(text, rf"^# {TO_TRY}.*")
        text = _without(text, r" ?Heat and time: common practice[^.]*\.")
    if blank.cloth.polyester is not None:
        text = _without(text, f"^# {TO_LABEL}")
    shares = {k: s for k, s in zip("xy", found.shrink, strict=True) if s is not None}
    if shares:
        written = _entries(SHRINK, (shares.get("x", 0.0), shares.get("y", 0.0)))
        text = _with(text, "shrink", {k: written[k] for k in shares})
    return text


def _without(text: str, remark: str) -> str:
    """The text without a remark (a pattern) in the comment it begins with."""
    head = re.match(r"(?:#.*\r?\n)*", text)
    assert head is not None
    kept = re.sub(remark, "", head[0], flags=re.MULTILINE)
    if kept != head[0]:
        kept = re.sub(r"(?m)^#?[ \t]*\r?\n", "", kept)
    return kept + text[head.end() :]


def _entries(of: Map[T], value: T) -> dict[str, str]:
    """The entries of a map as YAML."""
    parts = zip(of.entries, of.parts(value), strict=True)
    return {e.key: e.value.write(part) for e, part in parts if not part == e.usual == ""}


def _with(text: str, key: str, entries: dict[str, str]) -> str:
    """The text with these entries in the map under `key`, which is made where there is none."""
    for name, value in entries.items():
        root = yaml.compose(text, Loader=yaml.SafeLoader)
        assert root is not None  # it was read as a blank
        there = entry(root, key)
        if there is None or not isinstance(there[1], yaml.MappingNode):
            text = with_entry(text, root, key, there, flow_map([(name, value)]))
        else:
            text = with_entry(text, there[1], name, entry(there[1], name), value)
    return text
