"""What was asked for, kept beside the order in the customer's own words."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

from proofgen.intake.arrived import Arrived
from proofgen.say.safe import for_terminal, visible
from proofgen.signoff.asked import ASKED, ASKED_HEAD, mark_in, read_asked

_MOST = 600_000  # letters
_TOLD = "What was asked for, in the customer’s own words, as it came. A wish, which proves nothing."


def asked_text(arrived: Arrived, text: str, mark: str, today: date) -> str:
    """The file's text; `text` is the reading that was understood."""
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
    words = for_terminal(text.replace("\r\n", "\n").replace("\r", "\n"))[:_MOST]
    return "\n".join([*head, "", words.strip("\n"), ""])


def marks(orders: Path) -> Iterator[tuple[str, str]]:
    """(mark, order) of everything that was taken before."""
    for file in sorted(orders.glob(f"*/{ASKED}")) if orders.is_dir() else ():
        if mark := mark_in(read_asked(file.parent)):
            yield mark, file.parent.name
