"""The press evening: what is printed, taken from the shelf and pressed tonight, and what waits."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

from proofgen.geometry import Size
from proofgen.model import Order, Settings
from proofgen.press.batches import LineWork, Stage, seconds, stages
from proofgen.press.figures import Figure, figures_of
from proofgen.press.pieces import Setting
from proofgen.press.planning import SheetPlan
from proofgen.press.run import Laid
from proofgen.press.splitting import evenings_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """An order and its day: `start_by` is the last evening it can be begun, None without a day;
    `seconds` is what it takes alone, with warming up, in so many `evenings`."""

    order: str
    due: date | None
    start_by: date | None
    seconds: float
    evenings: int

    def must(self, today: date) -> bool:
        """Whether it must be pressed on that evening."""
        return self.start_by is not None and self.start_by <= today


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """One line of an order at the press, or what one evening holds of it (`is_part`): its work, the
    sheets its papers lie on (as its order counts them, of so many), and the seconds from the
    evening's beginning until it is done."""

    work: LineWork
    due: date | None
    sheets: tuple[int, ...]
    of: int
    papers: int
    done_s: float
    is_part: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Heat:
    """A stage of an evening, tonight's or of one after it (counted from 1), with its tasks."""

    evening: int
    stage: Stage
    begins_s: float
    tasks: tuple[Task, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Print:
    """Sheets to print of one file: their paper, the pages of the file and the size of each (mm),
    whose sheets they are under which numbers, and orders of another evening that lie on them
    too."""

    file: str
    paper: str
    sizes: tuple[Size, ...]
    pages: tuple[int, ...]
    whole: int  # pages the file has
    numbers: Mapping[str, tuple[int, ...]]
    keep: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Pick:
    """Blanks to take from the shelf: of one kind and cloth, those that are to come out good and
    the spares."""

    blank: str  # its id
    name: str
    cloth: str  # the colour's name, as the blank's stock has it
    finish: str
    good: int
    spares: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Evening:
    """The plan of one evening. `tonight` and `another` are the orders by their days, `left_out`
    says why an order that its customer said yes to is not pressed, `late` names the orders of all
    that are past their day. `heats` are tonight's and those of the evenings after it, where the
    work is longer than the time. `seconds` is all of it in one go, from switching the press on to
    the last piece."""

    day: date
    seconds: float
    has_s: float  # the time the maker has
    tonight: tuple[Turn, ...]
    another: tuple[Turn, ...]
    heats: tuple[Heat, ...]
    prints: tuple[Print, ...]
    picks: tuple[Pick, ...]
    late: Mapping[str, int]  # days
    left_out: Mapping[str, str]
    refused: tuple[str, ...]  # what else cannot be pressed as it stands
    figures: tuple[Figure, ...] = field(repr=False)

    @property
    def tasks(self) -> list[Task]:
        """All of it, in the order of the work."""
        return [task for heat in self.heats for task in heat.tasks]


def plan_evening(
    laid: Laid,
    orders: Mapping[str, Order],
    settings: Settings,
    today: date,
    *,
    named: Iterable[str] = (),
    left_out: Mapping[str, str],
    refused: Sequence[str] = (),
) -> Evening:
    """What `laid` asks of one evening; `orders` are all that were looked at, by name.

    What must be pressed tonight (its day, less the days for making, has come) and what the maker
    named is pressed tonight in any case; then, by the day it is due, whatever the minutes still
    hold. Where all of it is longer than the evening, what is due first comes first; each evening
    goes from the coolest heat to the hottest (`batches.stages`).
    """
    asked = set(named)
    turns = [_turn(orders[order], works, settings) for order, works in laid.works.items() if works]
    turns.sort(key=lambda turn: (not turn.must(today), turn.due or date.max, turn.order))
    tonight: list[Turn] = []
    for turn in turns:
        works = [work for one in (*tonight, turn) for work in laid.works[one.order]]
        holds = seconds(works, settings.times) <= settings.times.evening_s
        if turn.order in asked or turn.must(today) or holds:
            tonight.append(turn)
    chosen = [turn.order for turn in tonight]
    works = [work for order in chosen for work in laid.works[order]]
    return Evening(
        day=today,
        seconds=seconds(works, settings.times),
        has_s=settings.times.evening_s,
        tonight=tuple(tonight),
        another=tuple(turn for turn in turns if turn not in tonight),
        heats=_heats(works, laid.sheets, orders, settings),
        prints=_prints(laid, set(chosen)),
        picks=_picks(works),
        late={
            name: (today - due).days
            for name in (*(turn.order for turn in turns), *left_out)
            if (due := orders[name].due) and due < today
        },
        left_out=left_out,
        refused=tuple(refused),
        figures=figures_of(works, [orders[order] for order in chosen], settings),
    )


def _turn(order: Order, works: Sequence[LineWork], settings: Settings) -> Turn:
    """An order that takes more than one evening must be begun so many evenings earlier."""
    alone, times = seconds(works, settings.times), settings.times
    parts = len(evenings_of(sorted(works, key=lambda work: work.setting), times))
    evenings = max(parts, math.ceil(alone / times.evening_s))
    days = timedelta(days=settings.lead_days + evenings - 1)
    return Turn(
        order=order.id,
        due=order.due,
        start_by=order.due - days if order.due else None,
        seconds=alone,
        evenings=evenings,
    )


def _heats(
    works: Sequence[LineWork],
    sheets: Sequence[SheetPlan],
    orders: Mapping[str, Order],
    settings: Settings,
) -> tuple[Heat, ...]:
    """The stages of each evening; inside each what is due first is pressed first. What is due on
    one day is pressed by its heat, so that few heats come up twice."""

    def urgency(work: LineWork) -> tuple[date, Setting]:
        return orders[work.order].due or date.max, work.setting

    whole = {(work.order, work.line): work.start for work in works}
    place = {key: at for at, key in enumerate(whole)}
    heats: list[Heat] = []
    parted = evenings_of(sorted(works, key=urgency), settings.times)
    for evening, tonight in enumerate(parted, 1):
        clock = 0.0
        tonight.sort(key=lambda work: place[work.order, work.line])
        for stage in stages(tonight, settings.times):
            begins, tasks = clock, list[Task]()
            clock += stage.setup_s
            for work in stage.works:
                clock += work.seconds
                is_part = work.start < whole[work.order, work.line]
                due = orders[work.order].due
                tasks.append(_task(work, sheets, due=due, done_s=clock, is_part=is_part))
            heats.append(Heat(evening=evening, stage=stage, begins_s=begins, tasks=tuple(tasks)))
    return tuple(heats)


def _task(
    work: LineWork, sheets: Sequence[SheetPlan], *, due: date | None, done_s: float, is_part: bool
) -> Task:
    """A line's task; of a part the sheets with papers of its own pieces."""
    own = [
        (plan, on)
        for plan in sheets
        for on in plan.pieces
        if (on.piece.order, on.piece.line) == (work.order, work.line)
        and (not is_part or on.piece.piece in work.pieces)
    ]
    return Task(
        work=work,
        due=due,
        sheets=tuple(sorted({plan.number_of(work.order) for plan, _ in own})),
        of=max(
            (of for plan, _ in own for order, _, of in plan.numbers if order == work.order),
            default=0,
        ),
        papers=len(own),
        done_s=done_s,
        is_part=is_part,
    )


def _prints(laid: Laid, tonight: set[str]) -> tuple[Print, ...]:
    """The sheets with a piece of tonight's, file by file."""
    prints = []
    for file, sheets in laid.files.items():
        pages = [page for page, plan in enumerate(sheets, 1) if tonight & {*plan.orders}]
        if not pages:
            continue
        wanted = [sheets[page - 1] for page in pages]
        numbers: dict[str, list[int]] = {}
        for plan in wanted:
            for order, number, _ in plan.numbers:
                numbers.setdefault(order, []).append(number)
        prints.append(
            Print(
                file=file,
                paper=wanted[0].paper,
                sizes=tuple(plan.size for plan in wanted),
                pages=tuple(pages),
                whole=len(sheets),
                numbers={o: tuple(n) for o, n in numbers.items() if o in tonight},
                keep=tuple(order for order in numbers if order not in tonight),
            )
        )
    return tuple(prints)


def _picks(works: Sequence[LineWork]) -> tuple[Pick, ...]:
    """Blanks by kind and cloth, in the order they are pressed."""
    kinds: dict[tuple[str, str], list[LineWork]] = {}
    for work in sorted(works, key=lambda work: work.setting):
        kinds.setdefault((work.blank.id, work.cloth), []).append(work)
    return tuple(
        Pick(
            blank=blank,
            name=alike[0].blank.name,
            cloth=cloth,
            finish=alike[0].blank.cloth.finish,
            good=sum(work.good for work in alike),
            spares=sum(work.spares for work in alike),
        )
        for (blank, cloth), alike in kinds.items()
    )
