"""What was asked for, kept beside the order in the customer's own words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from pathlib import Path

from proofgen import store
from proofgen.intake.arrived import Arrived
from proofgen.say.safe import for_terminal, visible
from proofgen.signoff.asked import (
    ALSO,
    ASKED,
    ASKED_HEAD,
    WORDS,
    also_in,
    also_lines,
    mark_in,
    read_asked,
    read_line,
)
from proofgen.signoff.mail import is_markup
from proofgen.signoff.order_slip import OrderPayload

_MOST = 600_000  # letters
COMPARED = "check compares the order's words with what the mail says"
_TOLD = "What was asked for, in the customer’s own words, as it came. A wish, which proves nothing."


def asked_text(
    arrived: Arrived,
    text: str,
    mark: str,
    today: date,
    also: Sequence[str] = (),
    wish: OrderPayload | None = None,
    words: Sequence[str] = (),
) -> str:
    """The file's text; `text` is the reading that was understood, `also` what a person wrote
    beside slip or answers, `wish` what a mail without a slip asks for, `words` all that one says
    that asks for nothing we understand."""
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
    head += [line for one in words for line in _also(one, WORDS)]
    return "\n".join([*head, "", _plain(text)[:_MOST].strip("\n"), ""])


def _plain(words: str) -> str:
    return for_terminal(words.replace("\r\n", "\n").replace("\r", "\n"))


def _also(words: str, key: str = ALSO) -> Iterator[str]:
    return also_lines(_plain(words), key)


def keep_also(folder: Path, arrived: Arrived, words: Sequence[str], today: date) -> list[str]:
    """Write what is new of a person's `words` into the order's asked.txt; what that is."""
    known = also_in(read_asked(folder))
    new = [one for one in words if not set(also_in(_head_of([one]))) <= {*known}]
    _add(folder, arrived, [line for one in new for line in _also(one)], today)
    return new


def keep_words(folder: Path, arrived: Arrived, today: date) -> list[str]:
    """Write all that a mail or text says, as it came, into the order's asked.txt; what of it is
    new."""
    known = {_folded(one) for one in also_in(read_asked(folder), WORDS)}
    new = [words for words in all_said(arrived) if _folded(words) not in known]
    _add(folder, arrived, [line for one in new for line in _also(one, WORDS)], today)
    return new


def all_said(arrived: Arrived) -> list[str]:
    """All that a mail or text says, in each reading that people read, once."""
    readings = [text for text in arrived.texts if not is_markup(text)] or arrived.texts[:1]
    found: dict[str, str] = {}
    for text in readings:
        words = _plain(text).strip("\n")[:_MOST]
        if words.strip():
            found.setdefault(_folded(words), words)
    return list(found.values())


def _folded(words: str) -> str:
    return " ".join(words.split())


def _add(folder: Path, arrived: Arrived, lines: Sequence[str], today: date) -> None:
    """Lines at the end of the file's head. What a person put into a file of that name, or a file
    that nothing was taken from, stays below it."""
    if not lines:
        return
    there = read_asked(folder)
    if not mark_in(there):
        text = there if there.strip() else arrived.texts[0] if arrived.texts else ""
        there = asked_text(arrived, text, arrived.mark, today)
    head, gap, rest = there.partition("\n\n")
    store.write(folder / ASKED, "\n".join([head, *lines]) + gap + rest, durable=True)


def _head_of(words: Sequence[str]) -> str:
    return "\n".join([ASKED_HEAD, *(line for one in words for line in _also(one))])


def marks(orders: Path) -> Iterator[tuple[str, str]]:
    """(mark, order) of everything that was taken before."""
    for file in sorted(orders.glob(f"*/{ASKED}")) if orders.is_dir() else ():
        if mark := mark_in(read_asked(file.parent)):
            yield mark, file.parent.name
