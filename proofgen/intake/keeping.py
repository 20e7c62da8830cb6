"""What was asked for, kept beside the order in the customer's own words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from pathlib import Path

from proofgen import store
from proofgen.intake.arrived import Arrived
from proofgen.say.safe import for_terminal, visible
from proofgen.signoff.asked import (
    ASKED,
    ASKED_HEAD,
    also_in,
    also_lines,
    mark_in,
    read_asked,
    read_line,
)
from proofgen.signoff.order_slip import OrderPayload

_MOST = 600_000  # letters
_TOLD = "What was asked for, in the customer’s own words, as it came. A wish, which proves nothing."


def asked_text(
    arrived: Arrived,
    text: str,
    mark: str,
    today: date,
    also: Sequence[str] = (),
    wish: OrderPayload | None = None,
) -> str:
    """The file's text; `text` is the reading that was understood, `also` what a person wrote
    beside slip or answers, `wish` what a mail without a slip asks for."""
    head = [f"{ASKED_HEAD} {mark}", _TOLD, f"Taken: {today.isoformat()}"]
    files = [visible(one.name) or "a file without a name" for one in arrived.attached]
    told = {
        "From": f"{arrived.sender_name} <{arrived.sender}>" if arrived.sender else "",
        "Sent": arrived.day.isoformat() if arrived.day else "",
        "Subject": arrived.subject,
        "With it": ", ".join(files),
    }
    for what, said in told.items():
        if said:
            head.append(f"{what}: {visible(said)[:500]}")
    head += [read_line(wish)] if wish else []
    head += [line for one in also for line in _also(one)]
    words = for_terminal(text.replace("\r\n", "\n").replace("\r", "\n"))[:_MOST]
    return "\n".join([*head, "", words.strip("\n"), ""])


def _also(words: str) -> Iterator[str]:
    return also_lines(for_terminal(words.replace("\r\n", "\n").replace("\r", "\n")))


def keep_also(folder: Path, arrived: Arrived, words: Sequence[str], today: date) -> list[str]:
    """Write what is new of a person's `words` into the order's asked.txt; what that is."""
    there = read_asked(folder)
    known = also_in(there)
    new = [one for one in words if not set(also_in(_head_of([one]))) <= {*known}]
    if not new:
        return []
    if not mark_in(there):
        there = asked_text(arrived, arrived.texts[0] if arrived.texts else "", arrived.mark, today)
    head, gap, rest = there.partition("\n\n")
    lines = [line for one in new for line in _also(one)]
    store.write(folder / ASKED, "\n".join([head, *lines]) + gap + rest, durable=True)
    return new


def _head_of(words: Sequence[str]) -> str:
    return "\n".join([ASKED_HEAD, *(line for one in words for line in _also(one))])


def marks(orders: Path) -> Iterator[tuple[str, str]]:
    """(mark, order) of everything that was taken before."""
    for file in sorted(orders.glob(f"*/{ASKED}")) if orders.is_dir() else ():
        if mark := mark_in(read_asked(file.parent)):
            yield mark, file.parent.name
