"""What came with an order, as it is kept beside it: asked.txt, and the customer's remark in it."""

from __future__ import annotations

from pathlib import Path

from proofgen.signoff.digests import canonical, digest_of
from proofgen.signoff.order_slip import OrderPayload, slips_in

ASKED = "asked.txt"
ASKED_HEAD = "proofgen/asked/1"


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


def remark_beside(folder: Path) -> str:
    """The remark in the slip that an order was taken from, of a mail with several its own."""
    text = read_asked(folder)
    mark = mark_in(text)
    slips = (one for one in slips_in(text) if one) if mark else ()
    return next((remark_of(one) for one in slips if mark_of(one) == mark), "")
