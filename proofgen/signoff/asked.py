"""What came with an order, as it is kept beside it: asked.txt, and the customer's words in it."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from proofgen.signoff.digests import canonical, digest_of
from proofgen.signoff.order_slip import OrderPayload, payload_in, slips_in

ASKED = "asked.txt"
ASKED_HEAD = "proofgen/asked/1"
ALSO = "Also written: "  # in the file's head; what a person wrote beside slip or answers
READ = "Read: "  # in the file's head; what a mail without a slip was understood to ask for
WORDS = "Their words: "  # in the file's head; a mail or text that came for an order that was there
_FURTHER = "  "  # begins the next line of the same


def read_asked(folder: Path) -> str:
    """What was kept beside an order; '' where nothing was."""
    try:
        return (folder / ASKED).read_text("utf-8", errors="replace")
    except OSError:
        return ""


def mark_in(text: str) -> str:
    """The mark of the slip or mail that an order was taken from; '' where the text is no such."""
    head, _, mark = text.partition("\n")[0].partition(" ")
    return mark if head == ASKED_HEAD and " " not in mark else ""


def mark_of(slip: OrderPayload) -> str:
    """What tells a slip from every other."""
    return digest_of(canonical(slip))[:32]


def remark_of(slip: OrderPayload) -> str:
    """What the customer wrote to the shop beside the order's fields; '' for nothing."""
    return slip.get("note", "").strip()


def also_lines(words: str, key: str = ALSO) -> Iterator[str]:
    """A paragraph that somebody wrote, as lines of the file's head."""
    first, *others = words.split("\n")
    yield key + first
    yield from (_FURTHER + line for line in others)


def also_in(text: str, key: str = ALSO) -> tuple[str, ...]:
    """The paragraphs that somebody wrote beside slip or answers, out of the file's head; with
    another `key` those."""
    found: list[str] = []
    is_one = False
    for line in text.partition("\n\n")[0].split("\n")[1:]:
        if line.startswith(_FURTHER):
            if is_one:
                found[-1] += "\n" + line.removeprefix(_FURTHER)
            continue
        is_one = line.startswith(key)
        if is_one:
            found.append(line.removeprefix(key))
    return tuple(found)


def read_line(wish: OrderPayload) -> str:
    """What a mail asks for, as a line of the file's head, in ASCII."""
    return READ + json.dumps(wish)


@dataclass(frozen=True, slots=True)
class Came:
    """What came with an order. `slip` is what it was taken from, or what a mail that answers the
    catalogue's questions was understood to ask for; `remarks` is what the customer wrote beside
    the order's fields: the remark in the slip, of a mail with several its own, and what stood
    around it; `written` are the mails and texts that came when the order was there, whole."""

    slip: OrderPayload | None = None
    remarks: tuple[str, ...] = ()
    written: tuple[str, ...] = ()


def came_with(folder: Path) -> Came:
    """What was kept beside an order; its file is read once."""
    text = read_asked(folder)
    if not mark_in(text):
        return Came()
    slip = _slip_in(text)
    remark = remark_of(slip) if slip else ""
    return Came(slip, (*([remark] if remark else []), *also_in(text)), also_in(text, WORDS))


def _slip_in(text: str) -> OrderPayload | None:
    mark = mark_in(text)
    if not mark:
        return None
    slips = [one for one in slips_in(text) if one]
    if slips:
        return next((one for one in slips if mark_of(one) == mark), None)
    head = text.partition("\n\n")[0].split("\n")
    line = next((line for line in head if line.startswith(READ)), "")
    return payload_in(line.removeprefix(READ))
