"""A press evening for people: the same words in a terminal, on a page and on paper."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TypedDict

from proofgen.model.evening_document import (
    EveningDocument,
    HeatEntry,
    PrintEntry,
    TaskEntry,
    TurnEntry,
)
from proofgen.render import Theme, html_to_pdf
from proofgen.reports.lines import columns, commands_apart, wrapped
from proofgen.say import capital, heat, joined, number, plural, runs, sentences, visible
from proofgen.say.local import say_date

_INDENT = "  "


class SaidPrint(TypedDict):
    """Sheets to print, in words."""

    sheets: str
    size: str
    orders: str
    file: str


class SaidPick(TypedDict):
    take: str
    spares: str
    name: str
    cloth: str


class SaidTask(TypedDict):
    """A line of an order at the press; `boxes` are its sheets to tick."""

    order: str
    due: str
    what: str
    count: str
    how: str
    minutes: str
    done: str
    boxes: list[int]
    of: int


class SaidHeat(TypedDict):
    """`figures` are read at arm's length: heat both ways, and time. `evening` stands over the first
    heat of each where there are several."""

    evening: str
    figures: list[str]
    pressure: str
    setup: str
    tasks: list[SaidTask]


class Said(TypedDict):
    """All of a plan in words, in reading order."""

    day: str
    late: list[str]
    lead: str
    must: str
    evenings: list[str]
    prints: list[SaidPrint]
    picks: list[SaidPick]
    heats: list[SaidHeat]
    another: list[tuple[str, str, str]]
    left_out: list[str]
    figures: list[tuple[str, str, str]]
    next: str


def evening_said(document: EveningDocument) -> Said:
    """The plan in words."""
    today = date.fromisoformat(document["day"])
    tonight = document["tonight"]
    return {
        "day": say_date(today, "en"),
        "late": _late(document),
        "lead": _lead(document),
        "must": _must(tonight, today),
        "evenings": _evenings(document["heats"]),
        "prints": [_print(one) for one in document["prints"]],
        "picks": [
            {
                "take": str(one["good"] + one["spares"]),
                "spares": f"{one['spares']} of them spare" if one["spares"] else "",
                "name": one["name"],
                "cloth": f"{one['cloth']} {one['finish']}".strip(),
            }
            for one in document["picks"]
        ],
        "heats": _heats(document["heats"]),
        "another": [_waits(one) for one in document["another"]],
        "left_out": [
            *(
                why if why.startswith(order) else capital(why)
                for order, why in document["left_out"].items()
            ),
            *document["refused"],
        ],
        "figures": [(one["what"], one["value"], one["where"]) for one in document["figures"]],
        "next": document["next"],
    }


def _day(iso: str) -> str:
    return say_date(date.fromisoformat(iso), "en", long=False)


def _late(document: EveningDocument) -> list[str]:
    """What is past its day, longest first, and why it is not pressed where it is not."""
    late = sorted(document["late"].items(), key=lambda one: -one[1])
    says = []
    for order, days in late:
        why = document["left_out"].get(order)
        then = "It is not pressed tonight: see below." if why else "It is pressed tonight."
        says.append(f"{order} was due {plural(days, 'day')} ago. {then}")
    return says


def _lead(document: EveningDocument) -> str:
    tonight = document["tonight"]
    if not tonight and document["another"]:
        return (
            "Nothing must be pressed tonight, and what waits takes more than your "
            f"{number(document['has_minutes'], 0)} minutes. To begin with it all the same: "
            f"proofgen press {document['another'][0]['order']} --plan"
        )
    if not tonight:
        return "No order is signed and ready to be pressed."
    heats = {one["heat_c"] for one in document["heats"]}
    sheets = sum(len(one["pages"]) for one in document["prints"])
    takes, has = document["minutes"], document["has_minutes"]
    says = [
        f"{plural(len(tonight), 'order')}, {plural(len(heats), 'heat')}, "
        f"{plural(sheets, 'sheet')} to print: {number(takes, 0)} of your {number(has, 0)} minutes."
    ]
    if takes > has:
        says.append(f"That is {number(takes - has, 0)} minutes more than you have.")
    return sentences(*says)


def _evenings(heats: Sequence[HeatEntry]) -> list[str]:
    """What each evening takes, and what of it is cut in two, where it takes several."""
    tasks: dict[int, list[TaskEntry]] = {}
    for one in heats:
        tasks.setdefault(one["evening"], []).extend(one["tasks"])
    if len(tasks) < 2:
        return []
    said = [f"It takes {len(tasks)} evenings; what is due first is pressed first."]
    for evening, those in tasks.items():
        again = "warm up again, " if evening > 1 else ""
        takes = f"{_titles(evening)}: {again}{number(those[-1]['done_minute'], 0)} min"
        cut = [f"of {one['order']} {_part(one)}" for one in those if one["is_part"]]
        said.append(", ".join([takes, *cut]) + ".")
    return said


def _part(one: TaskEntry) -> str:
    """What of a line is pressed on this evening, where another presses the rest."""
    if not one["pieces"]:
        return "only spares"
    return f"only piece{'s' * (len(one['pieces']) > 1)} {runs(one['pieces'])}"


def _must(tonight: Sequence[TurnEntry], today: date) -> str:
    """Which must be pressed tonight, and since when."""
    must = []
    for one in tonight:
        if one["must"] and one["due"] and one["start_by"]:
            must.append(f"{one['order']} (due {_day(one['due'])}{_left(one, today)})")
    if not must:
        return "None of it must be pressed tonight." if tonight else ""
    return f"Must be pressed tonight: {joined(must)}."


def _left(one: TurnEntry, today: date) -> str:
    """', in 4 days; 6 of your 10 days for making are gone'; nothing on the first of these days."""
    if not (one["due"] and one["start_by"]):
        return ""
    due, start = date.fromisoformat(one["due"]), date.fromisoformat(one["start_by"])
    left, gone, all_of = (due - today).days, (today - start).days, (due - start).days
    if left <= 0:
        return f", {plural(-left, 'day')} late" if left else ", today"
    if gone <= 0:
        return ""
    are = "is" if gone == 1 else "are"
    return (
        f", in {plural(left, 'day')}; {gone} of your {plural(all_of, 'day')} for making {are} gone"
    )


def _print(one: PrintEntry) -> SaidPrint:
    count, heights = len(one["pages"]), sorted(set(one["heights_mm"]))
    size = f"{number(one['width_mm'])} × {joined(map(number, heights))} mm"
    orders = [f"{order} {runs(numbers)}" for order, numbers in one["numbers"].items()]
    others = joined(one["keep"])
    keep = f"; they hold papers of {others}, to keep for another evening" if others else ""
    pages = f", page{'s' * (count > 1)} {runs(one['pages'])}" if count < one["whole"] else ""
    return {
        "sheets": f"{count} × {one['paper']}",
        "size": size,
        "orders": joined(orders) + keep,
        "file": one["file"].rpartition("/")[2] + pages,
    }


def _heats(heats: Sequence[HeatEntry]) -> list[SaidHeat]:
    several, before, said = any(one["evening"] > 1 for one in heats), 0, list[SaidHeat]()
    for one in heats:
        first, before = one["evening"] > before, one["evening"]
        said.append(_heat(one, first=first, title=_titles(before) if first and several else ""))
    return said


def _titles(evening: int) -> str:
    return "Tonight" if evening == 1 else f"Evening {evening}"


def _heat(one: HeatEntry, *, first: bool, title: str) -> SaidHeat:
    setup = number(one["setup_minutes"])
    begins = "Warm up and lay out" if first else "Change the heat"
    return {
        "evening": title,
        "figures": [*heat(one["heat_c"]), f"{number(one['time_s'])} s"],
        "pressure": f"{one['pressure']} pressure",
        "setup": f"{begins}: {setup} min" if one["setup_minutes"] else "The same heat",
        "tasks": [_task(task) for task in one["tasks"]],
    }


def _task(one: TaskEntry) -> SaidTask:
    spares = f" + {one['spares']}" if one["spares"] else ""
    sides = ", both sides" if one["sides"] > 1 else ""
    seconds = " + ".join(
        number(part) for part in (one["preheat_s"], one["time_s"], one["handling_s"]) if part
    )
    return {
        "order": one["order"],
        "due": _day(one["due"]) if one["due"] else "",
        "what": f"{one['name']}, {one['cloth']} {one['finish']}".strip(),
        "count": f"{one['good']}{spares}",
        "how": f"{plural(one['pressings'], 'pressing')} of {seconds} s, "
        f"{one['at_once']} at once{sides}" + (f"; {_part(one)}" if one["is_part"] else ""),
        "minutes": number(one["minutes"]),
        "done": number(one["done_minute"], 0),
        "boxes": one["sheets"],
        "of": one["of"],
    }


def _waits(one: TurnEntry) -> tuple[str, str, str]:
    day = (
        f"due {_day(one['due'])}, begin by {_day(one['start_by'])}"
        if one["due"] and one["start_by"]
        else "no day"
    )
    evenings = f", {one['evenings']} evenings" if one["evenings"] > 1 else ""
    return one["order"], day, f"{number(one['minutes'], 0)} min alone{evenings}"


def evening_text(document: EveningDocument) -> str:
    """The plan for a terminal, from its document."""
    said = evening_said(document)
    lines = [line for text in said["late"] for line in wrapped(f"Late: {text}", _INDENT, "")]
    lines.append(said["day"])
    leads = (said["lead"], said["must"], *said["evenings"])
    lines += [line for text in leads if text for line in wrapped(text, _INDENT)]
    prints = [
        f"{one['sheets']} ({one['size']}): {one['orders']}. {one['file']}" for one in said["prints"]
    ]
    lines += _titled("Print at actual size, mirror off", prints)
    picks = [
        (f"  {one['take']}", visible(one["name"]), visible(one["cloth"]), one["spares"])
        for one in said["picks"]
    ]
    lines += _titled("Take from the shelf", [], columns(picks, right=frozenset({0})))
    for one in said["heats"]:
        tasks = [_task_line(task) for task in one["tasks"]]
        lines += ["", f"{one['evening']}:"] if one["evening"] else []
        lines += _titled(
            " · ".join([*one["figures"], one["pressure"]]), [f"{one['setup']}.", *tasks]
        )
    waits = [(f"  {order}", day, alone) for order, day, alone in said["another"]]
    lines += _titled("Another evening", [], columns(waits))
    lines += _titled("Not pressed", said["left_out"])
    figures = [f"{what}: {value}; {where}" for what, value, where in said["figures"]]
    lines += _titled("Where the figures stand", figures if said["heats"] else [])
    return "\n".join(lines)


def _sheets(numbers: Sequence[int]) -> str:
    return f"Sheet{'s' * (len(numbers) > 1)} {runs(numbers)}"


def _task_line(task: SaidTask) -> str:
    due = f", due {task['due']}" if task["due"] else ""
    return sentences(
        f"{task['order']}{due}: {task['count']} of {task['what']}.",
        f"{capital(task['how'])}: {task['minutes']} min, done at {task['done']} min.",
        f"{_sheets(task['boxes'])} of {task['of']}." if task["boxes"] else "",
    )


def _titled(title: str, texts: Sequence[str], rows: Sequence[str] = ()) -> list[str]:
    """A title over texts and rows; nothing without any."""
    lines = [*(line for text in texts for line in wrapped(text, "    ", _INDENT)), *rows]
    return ["", visible(title), *lines] if lines else []


def evening_page(document: EveningDocument, theme: Theme, *, shop_name: str, demo: bool) -> str:
    """The plan as one page that loads nothing; for the maker."""
    return theme.render(
        "evening.html",
        styles=("base", "evening"),
        apart=commands_apart,
        private=True,
        shop_name=shop_name,
        demo=demo,
        said=evening_said(document),
    )


def evening_pdf(document: EveningDocument, theme: Theme, *, shop_name: str) -> bytes:
    """The same on A4. MachineError when PDFs cannot be made here."""
    html = theme.render(
        "evening_pdf.html",
        medium="sheet",
        styles=("press", "evening", "evening_pdf"),
        apart=commands_apart,
        shop_name=shop_name,
        said=evening_said(document),
    )
    return html_to_pdf(html, {}, page_title=f"Press evening {document['day']}")
