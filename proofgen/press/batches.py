"""How many to start with, and how long a batch takes at the press."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from proofgen.geometry import Size
from proofgen.model import (
    Blank,
    Layout,
    PressSetting,
    PressTimes,
    Settings,
    Variant,
    start_quantity,
)
from proofgen.press.documents import Batch
from proofgen.press.packing import step_and_repeat
from proofgen.press.pieces import Setting, inked_panels, on_paper, press_of, setting_of, sides_of

# More blanks than this under one platen are hard to keep in place. Common practice, no source.
MOST_AT_ONCE = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class LineWork:
    """One line's work at the press: on what, how hot, how many, how often, how long.

    `cloth` is its colour's name, `panels` are those that get ink, `pieces` the numbers of those
    that are to come out good; `good` and `start` count blanks, `at_once` how many of them lie under
    one platen, `handling_s` is for changing them.
    """

    order: str
    line: int
    blank: Blank
    cloth: str
    press: PressSetting
    panels: tuple[str, ...]
    pieces: tuple[int, ...]
    start: int
    at_once: int
    handling_s: float

    @property
    def setting(self) -> Setting:
        return setting_of(self.blank)

    @property
    def good(self) -> int:
        return len(self.pieces)

    @property
    def spares(self) -> int:
        return self.start - self.good

    @property
    def sides(self) -> int:
        """How often each blank goes under the press."""
        return sides_of(self.blank, self.panels)

    @property
    def pressings(self) -> int:
        return math.ceil(self.start / self.at_once) * self.sides

    @property
    def cycle_s(self) -> float:
        """One pressing, in s."""
        return self.press.preheat_s + self.press.time_s + self.handling_s

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
        pieces = tuple(sorted(piece for v in alike for piece in v.pieces))
        panels = tuple(dict.fromkeys(p for v in alike for p in inked_panels(v.layout)))
        works.append(
            LineWork(
                order=order,
                line=line,
                blank=layout.blank,
                cloth=layout.cloth,
                press=press_of(layout.blank),
                panels=panels,
                pieces=pieces,
                start=start_quantity(len(pieces), settings.spares),
                at_once=min((_side_by_side(layout, p, settings) for p in panels), default=1),
                handling_s=settings.times.handling_s,
            )
        )
    return works


def _side_by_side(layout: Layout, panel: str, settings: Settings) -> int:
    """How many paper pieces of a panel lie on the platen at once: one or two."""
    item = on_paper(layout.blank, layout.plan, panel, settings).paper
    platen = Size(*settings.platen_mm)
    grids = [step_and_repeat(platen, way) for way in (item, item.turned)]
    return max(1, min(MOST_AT_ONCE, max(columns * rows for columns, rows in grids)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage:
    """What shares heat, time and pressure, once the press is warm: `setup_s` until then."""

    setting: Setting
    setup_s: float
    works: tuple[LineWork, ...]

    @property
    def seconds(self) -> float:
        return self.setup_s + sum(work.seconds for work in self.works)


def stages(works: Sequence[LineWork], times: PressTimes) -> list[Stage]:
    """The work as it is pressed, each heat once, from the coolest to the hottest, because a press
    warms faster than it cools (practice). Before the first it warms up, before each further heat
    it changes; another time or pressure takes no time."""
    groups: dict[Setting, list[LineWork]] = {}
    for work in works:
        groups.setdefault(work.setting, []).append(work)
    made: list[Stage] = []
    for setting, alike in sorted(groups.items()):
        setup = times.change_s if made else times.warm_up_s
        if made and made[-1].setting.heat_c == setting.heat_c:
            setup = 0.0
        made.append(Stage(setting=setting, setup_s=setup, works=tuple(alike)))
    return made


def seconds(works: Sequence[LineWork], times: PressTimes) -> float:
    """Time at the press for some work alone, with warming up and every change of heat."""
    return sum(stage.seconds for stage in stages(works, times))


def batches_of(works: Sequence[LineWork], times: PressTimes) -> list[Batch]:
    """The stages of some work, as the press document lists them."""
    return [
        {
            "heat_c": round(stage.setting.heat_c, 1),
            "time_s": stage.setting.time_s,
            "pressings": sum(work.pressings for work in stage.works),
            "minutes": round(stage.seconds / 60, 1),
        }
        for stage in stages(works, times)
    ]
