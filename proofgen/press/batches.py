"""How many to start with, and how long a batch takes at the press."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from proofgen.geometry import Size
from proofgen.model import Blank, Layout, PressSetting, Settings, Variant, start_quantity
from proofgen.press.documents import Batch
from proofgen.press.packing import step_and_repeat
from proofgen.press.pieces import Setting, inked_panels, on_paper, press_of, setting_of, sides_of

# Warming the press and laying out, once a batch; and changing blanks at each pressing.
# Common practice, no source.
SETUP_S = 600.0
HANDLING_S = 45.0
# More blanks than this under one platen are hard to keep in place. Common practice, no source.
MOST_AT_ONCE = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class LineWork:
    """One line's work at the press: on what, how hot, how many, how often, how long.

    `panels` are those that get ink; `good` and `start` count blanks, `at_once` how many of them
    lie under one platen.
    """

    order: str
    line: int
    blank: Blank
    press: PressSetting
    panels: tuple[str, ...]
    good: int
    start: int
    at_once: int

    @property
    def setting(self) -> Setting:
        return setting_of(self.blank)

    @property
    def spares(self) -> int:
        return self.start - self.good

    @property
    def sides(self) -> int:
        """How often each blank goes under the press."""
        return sides_of(self.press, self.panels)

    @property
    def pressings(self) -> int:
        return math.ceil(self.start / self.at_once) * self.sides

    @property
    def cycle_s(self) -> float:
        """One pressing, in s."""
        return self.press.preheat_s + self.press.time_s + HANDLING_S

    @property
    def seconds(self) -> float:
        """All pressings, in s, without the setup, which a batch needs once."""
        return self.pressings * self.cycle_s


def line_works(order: str, variants: Sequence[Variant], settings: Settings) -> list[LineWork]:
    """The work of each line of an order. StopError for a blank without heat and time."""
    by_line: dict[int, list[Variant]] = {}
    for variant in variants:
        by_line.setdefault(variant.line, []).append(variant)
    works = []
    for line, alike in sorted(by_line.items()):
        layout = alike[0].layout
        good = sum(len(v.pieces) for v in alike)
        panels = tuple(dict.fromkeys(p for v in alike for p in inked_panels(v.layout)))
        works.append(
            LineWork(
                order=order,
                line=line,
                blank=layout.blank,
                press=press_of(layout.blank),
                panels=panels,
                good=good,
                start=start_quantity(good, settings.spares),
                at_once=min((_side_by_side(layout, p, settings) for p in panels), default=1),
            )
        )
    return works


def _side_by_side(layout: Layout, panel: str, settings: Settings) -> int:
    """How many paper pieces of a panel lie on the platen at once: one or two."""
    item = on_paper(layout.blank, layout.plan, panel, settings).paper
    platen = Size(*settings.platen_mm)
    grids = [step_and_repeat(platen, way) for way in (item, item.turned)]
    return max(1, min(MOST_AT_ONCE, max(columns * rows for columns, rows in grids)))


def minutes(works: Sequence[LineWork]) -> float:
    """Time at the press: a setup for each setting, and every pressing."""
    setups = len({work.setting for work in works})
    return (SETUP_S * setups + sum(work.seconds for work in works)) / 60


def batches_of(works: Sequence[LineWork]) -> list[Batch]:
    """What shares heat, time and pressure, as the press document lists it; hottest last."""
    groups: dict[Setting, list[LineWork]] = {}
    for work in works:
        groups.setdefault(work.setting, []).append(work)
    return [
        {
            "heat_c": round(setting.heat_c, 1),
            "time_s": setting.time_s,
            "pressings": sum(work.pressings for work in alike),
            "minutes": round(minutes(alike), 1),
        }
        for setting, alike in sorted(groups.items())
    ]
