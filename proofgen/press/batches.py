"""How many to start with, and how long a batch takes at the press."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from proofgen.geometry import Size
from proofgen.model import Layout, Settings, Variant, start_quantity
from proofgen.press.packing import step_and_repeat
from proofgen.press.pieces import Setting, inked_panels, on_paper, press_of, setting_of

# Warming the press and laying out, once a batch; and changing blanks at each pressing.
# Common practice, no source.
SETUP_S = 600.0
HANDLING_S = 45.0
# More blanks than this under one platen are hard to keep in place. Common practice, no source.
MOST_AT_ONCE = 2


def batch_seconds(start: int, at_once: int, setup_s: float, cycle_s: float) -> float:
    """Time of a batch in s: setup + ceil(start / at_once) × cycle."""
    return setup_s + math.ceil(start / at_once) * cycle_s


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """One line's work at the press: how many, how often, how long (s)."""

    order: str
    line: int
    setting: Setting
    good: int
    start: int
    at_once: int
    pressings: int
    cycle_s: float

    @property
    def spares(self) -> int:
        return self.start - self.good

    @property
    def seconds(self) -> float:
        """Without the setup, which a batch needs once."""
        return self.pressings * self.cycle_s


def runs(order: str, variants: Sequence[Variant], settings: Settings) -> list[Run]:
    """The work of each line of an order. A blank with two inked panels is pressed twice."""
    by_line: dict[int, list[Variant]] = {}
    for variant in variants:
        by_line.setdefault(variant.line, []).append(variant)
    found = []
    for line, alike in sorted(by_line.items()):
        layout = alike[0].layout
        press = press_of(layout.blank)
        good = sum(len(v.pieces) for v in alike)
        start = start_quantity(good, settings.spares)
        panels = list(dict.fromkeys(p for v in alike for p in inked_panels(v.layout)))
        most = min((at_once(layout, p, settings) for p in panels), default=1)
        times = max(len(panels), press.sides)
        found.append(
            Run(
                order=order,
                line=line,
                setting=setting_of(layout.blank),
                good=good,
                start=start,
                at_once=most,
                pressings=math.ceil(start / most) * times,
                cycle_s=press.preheat_s + press.time_s + HANDLING_S,
            )
        )
    return found


def at_once(layout: Layout, panel: str, settings: Settings) -> int:
    """How many paper pieces of a panel lie side by side on the platen: one or two."""
    item = on_paper(layout, panel, settings).paper
    platen = Size(*settings.platen_mm)
    grids = [step_and_repeat(platen, s) for s in (item, Size(item.height, item.width))]
    return max(1, min(MOST_AT_ONCE, max(columns * rows for columns, rows in grids)))


def batches(work: Sequence[Run]) -> list[dict[str, float | int]]:
    """What shares heat, time and pressure, as the press document tells it; hottest last."""
    groups: dict[Setting, list[Run]] = {}
    for run in work:
        groups.setdefault(run.setting, []).append(run)
    return [
        {
            "heat_c": round(setting.heat_c, 1),
            "time_s": setting.time_s,
            "pressings": sum(run.pressings for run in alike),
            "minutes": round((SETUP_S + sum(run.seconds for run in alike)) / 60, 1),
        }
        for setting, alike in sorted(
            groups.items(), key=lambda g: (g[0].heat_c, g[0].time_s, g[0].pressure)
        )
    ]
