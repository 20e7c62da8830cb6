"""The workroom as pages for the maker: where everything stands, and a page for each order."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from operator import itemgetter
from typing import Any, Literal, TypedDict

from proofgen.model import Finding, OrderFindings
from proofgen.model.called import short_names
from proofgen.model.documents import StandingEntry
from proofgen.render import Theme
from proofgen.reports.findings import tally, told_once
from proofgen.reports.lines import what_differs
from proofgen.reports.page import WORDS, FindingShown, finding_shown
from proofgen.reports.tables import due_words, waits_words
from proofgen.say import capital

# Who is to move, in the order of the page: its anchor, its title, and the count of it in words.
Group = Literal["you", "press", "pressed", "customers", "done"]
_GROUPS: tuple[tuple[Group, str, tuple[str, str]], ...] = (
    ("you", "Waiting for you", ("waits for you", "wait for you")),
    ("press", "Ready to press", ("is ready to press", "are ready to press")),
    ("pressed", "Pressed, to hand over", ("is pressed", "are pressed")),
    ("customers", "Waiting for customers", ("waits for its customer", "wait for their customers")),
    ("done", "Done", ("is done", "are done")),
)
_COMMAND = re.compile(r"(.*: )proofgen (.+)", re.DOTALL)  # as the table of states writes them


class RoomPicture(TypedDict):
    """A picture of an order's line, beside its page."""

    line: int
    src: str
    width_px: int
    height_px: int


class RoomLink(TypedDict):
    """A file that is there: what it is, and the way from the order's page."""

    says: str
    href: str


class Room(TypedDict):
    """An order as its page tells it; made of JSON, so that it can be kept."""

    standing: StandingEntry
    group: Group
    lines: list[str]  # what is made: '2 × …'
    faults: list[str]  # why its folder cannot be read
    advice: dict[str, str]  # what to do about what the customer wrote with the order
    findings: list[FindingShown]
    tally: str
    worst: str
    pictures: list[RoomPicture]
    links: list[RoomLink]


class Step(TypedDict):
    """A part of the next step: words, and what to type after them ('' where it is nothing)."""

    says: str
    command: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """What all pages have in common. `typed` begins every command: 'proofgen --shop FOLDER'."""

    theme: Theme
    shop_name: str
    day: date
    typed: str
    demo: bool

    def page(self, template: str, **more: Any) -> str:
        """A page of the workroom: no other may see it."""
        return self.theme.render(
            template,
            styles=("base", "findings", "workroom"),
            scripts=("workroom",),
            private=True,
            shop_name=self.shop_name,
            demo=self.demo,
            typed=self.typed,
            **more,
        )


def steps_of(sentence: str, typed: str) -> list[Step]:
    """The sentence of a next step in parts, each with its command as one line to type."""
    steps: list[Step] = []
    before = ""
    for part in sentence.split("; "):
        found = _COMMAND.fullmatch(part)
        says = before + (found[1] if found else part).rstrip()
        before = "" if found else f"{says}; "
        if found:
            steps.append({"says": capital(says), "command": f"{typed} {found[2]}"})
    if before:
        steps.append({"says": capital(before.removesuffix("; ")), "command": ""})
    return steps


def findings_shown(order: str, findings: Sequence[Finding]) -> list[FindingShown]:
    """What was found and did not pass, each once."""
    once, called = told_once(list(findings)), short_names(findings)
    return [finding_shown(order, f, called) for f in once if f.status != "pass"]


def tally_of(found: OrderFindings) -> tuple[str, str]:
    """'1 stop, 2 warnings', without what passed, and the worst of it as a word; '' for nothing."""
    told = [f for f in told_once(found.findings) if f.status != "pass"]
    return (tally(told), WORDS[found.worst]) if told else ("", "")


def _shown(room: Room, frame: Frame) -> dict[str, object]:
    """What the templates ask of an order."""
    row = room["standing"]
    return {
        **room,
        "name": row["order"],
        "state": row["state"],
        "edition": row["edition"],
        "customer": row["customer"],
        "due": due_words(row),
        "waits": waits_words(row) if row["waits_since"] else "",  # for whom, its part tells
        "steps": steps_of(row["next"], frame.typed),
        "public": row["link"] if "://" in row["link"] else "",
        "differs": what_differs(
            row["edition"], why=row["why"], told=row["told"], since=row["since"]
        ),
    }


def order_page(room: Room, frame: Frame) -> str:
    """One order's page; nothing of any other order stands in it but what its findings name."""
    return frame.page("workroom-order.html", order=_shown(room, frame))


def _is_late(row: StandingEntry) -> bool:
    return row["days_left"] is not None and row["days_left"] < 0


def rooms_page(
    rooms: Sequence[Room],
    frame: Frame,
    *,
    faults: Sequence[str],
    links: Sequence[RoomLink],
    lacks: Sequence[Step],
) -> str:
    """Where everything stands: what waits for the maker first, in each part as `rooms` come.
    `lacks`: what could lie beside it and does not, and how it is made."""
    groups = [
        {"id": key, "title": title, "count": len(own), "says": words[len(own) != 1], "orders": own}
        for key, title, words in _GROUPS
        if (own := [_shown(room, frame) for room in rooms if room["group"] == key])
    ]
    late = [room["standing"]["order"] for room in rooms if _is_late(room["standing"])]
    return frame.page(
        "workroom.html",
        day=frame.day,
        groups=groups,
        count=len(rooms),
        late=late,
        old=[room["standing"]["order"] for room in rooms if room["standing"]["forget_since"]],
        faults=faults,
        links=sorted(links, key=itemgetter("says")),
        lacks=lacks if rooms else (),
    )
