"""What a customer wrote for an order that is there: a list of names, as a rule. It is kept beside
the order, and `check` compares the order's words with it."""

from __future__ import annotations

from collections.abc import Sequence

from proofgen.intake.arrived import Arrived, arrivals
from proofgen.intake.asked import Asked, TurnedAway
from proofgen.intake.beside import words_beside
from proofgen.intake.keeping import keep_also, keep_words
from proofgen.intake.taken import Taken
from proofgen.photo.kinds import kind_of
from proofgen.say import plural
from proofgen.signoff.asked import ASKED
from proofgen.signoff.blocks import has_answer, has_mark
from proofgen.signoff.name_lines import bare_lines, lists_in
from proofgen.workshop import Workshop

_WIDE = (b"\xff\xfe", b"\xfe\xff")  # how a text in UTF-16 begins
_NO_TEXT = (b"%PDF", b"{\\rtf", b"PK\x03\x04")


def words_in(content: bytes) -> Sequence[Arrived]:
    """The mails or texts in what was given; none where it is something else, or a photo hangs on
    one. Errors: as `arrivals`."""
    if kind_of(content).picture or content.startswith(_NO_TEXT):
        return ()
    if b"\0" in content and not content.startswith(_WIDE):
        return ()
    some = list(arrivals(content))
    attached = (file for one in some for file in one.attached)
    if any(kind_of(file.content).picture for file in attached):
        return ()
    return some if any(text.strip() for one in some for text in one.texts) else ()


def add_words(workshop: Workshop, name: str, arrived: Arrived) -> Taken:
    """Keep all that a mail or text says beside an order; what of it is no list is told as a
    remark, too. Errors: TurnedAway for an answer or a slip; UsageError for an unknown order."""
    order = workshop.order(name)
    if any(map(has_answer, arrived.texts)):
        raise TurnedAway("this is an answer to a proof", "proofgen answer FILE")
    if any(map(has_mark, arrived.texts)):
        raise TurnedAway("an order slip is in this, which makes an order", "proofgen take FILE")
    known = Asked(name=order.customer.name, mail=order.customer.email)
    said = [one for one in words_beside(arrived, workshop.shop, known) if one.strip()]
    listed = {line for text in arrived.texts for block in lists_in(text) for line in block}
    names = frozenset(order.customer.name.casefold().split())  # a name alone is a signature
    said = [
        one
        for one in said
        if not _is_of_list(one, listed) and not names.issuperset(one.casefold().split())
    ]
    new = keep_words(order.folder, arrived, workshop.today)
    remarks = keep_also(order.folder, arrived, said, workshop.today)
    if not new and not remarks:
        return Taken(order=name, is_new=False, step=f"proofgen check {name}")
    lines = sum(bool(line.strip()) for text in new for line in text.split("\n"))
    return Taken(
        order=name,
        is_new=True,
        told=(
            f"{plural(lines, 'line')} of what the customer wrote {'is' if lines == 1 else 'are'} "
            f"kept beside orders/{name}; check compares its words with them",
        ),
        step=f"proofgen check {name}",
        adds=True,
        remarks=tuple(remarks),
        kept_in=f"orders/{name}/{ASKED}",
    )


def _is_of_list(paragraph: str, listed: set[str]) -> bool:
    """Whether most of its lines are lines of a list."""
    lines = [line for line in bare_lines(paragraph) if line]
    return sum(line in listed for line in lines) * 2 > len(lines)
