"""Customers' answers into the records."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from proofgen import shop, signoff
from proofgen.artwork.words import tidy
from proofgen.errors import SignoffError, UsageError
from proofgen.model import AskedChange, Order
from proofgen.pipeline import letters
from proofgen.pipeline.changing import with_its_lines
from proofgen.proof.signing import signed_for
from proofgen.say.tongue import Tongue
from proofgen.workshop import Workshop


def answer(workshop: Workshop, source: str | bytes, on: date | None) -> signoff.Outcome:
    """A slip, a mail, pasted text or a spoken code."""
    return signoff.take_answer(
        workshop.sound_records(),
        source,
        today=workshop.today,
        on=on,
        now=workshop.now,
        ours=lambda order: _ours(workshop, order),
    )


def _ours(workshop: Workshop, name: str) -> signoff.Known:
    """What a mail about an order may hold that its customer did not write."""
    order = workshop.shop.orders.get(name)
    settings = workshop.shop.settings
    every = [edition.terms for edition in workshop.records.editions(name)]
    signed = (signed_for(terms, Tongue(terms["language"])) for terms in every if terms)
    return signoff.Known(
        texts=(*letters.all_of(workshop, name), *("\n".join(lines) for lines in signed)),
        names=(settings.name, settings.contact, *_customer(order)),
        marks=tuple(filter(None, (workshop.records.token(name), settings.site))),
        address=order.customer.email if order else "",
        named=(name,),
    )


def _customer(order: Order | None) -> tuple[str, ...]:
    return (order.customer.name, order.customer.email) if order else ()


def words_read(workshop: Workshop, name: str) -> tuple[tuple[str, ...], str]:
    """Record that nothing is to change for what the customer wrote; those words, and what is next.

    Errors: SignoffError where there are none that wait.
    """
    workshop.order(name)
    records = workshop.sound_records()
    facts = signoff.read_facts(records, name, workshop.today)
    if signoff.EventKind.READ not in facts.rules.notes:
        raise SignoffError(
            f"of {name} there are no words of its customer that wait to be read",
            f"`proofgen orders {name}` shows where it is",
        )
    keys = [signoff.words_key(text) for text in facts.words]
    records.mark(name, signoff.EventKind.READ, workshop.now, words=keys)
    return facts.words, signoff.read_facts(records, name, workshop.today).step


def asked_changes(workshop: Workshop, name: str) -> tuple[AskedChange, ...]:
    """The words that the latest answer to an order's latest proof wants otherwise.

    Errors: SignoffError where it names none.
    """
    workshop.order(name)
    records = workshop.sound_records()
    edition = len(records.heads(name))
    given = [a for a in records.answers(name) if a.edition == edition and a.changes]
    if not given:
        raise SignoffError(
            f"no answer to the latest proof of {name} says which words are to change",
            f"`proofgen orders {name}` shows what was written; change it in "
            f"orders/{name}/order.yaml",
        )
    return given[-1].changes


class Applied(NamedTuple):
    """What `apply_changes` did: the files it wrote, the words it left, what else its customer said
    of the same proof, and the next step where there is any."""

    files: list[str]
    left: list[shop.Left]
    beside: list[str]
    step: str


def apply_changes(workshop: Workshop, name: str, asked: Sequence[AskedChange]) -> Applied:
    """Write the words into the order's order.yaml or its list, as far as these still read as they
    were shown. Errors: ShopError, MachineError."""
    files, left = shop.reword(workshop.order(name), asked, tidy)
    facts = with_its_lines(workshop, signoff.read_facts(workshop.records, name, workshop.today))
    return Applied(
        [path.relative_to(workshop.folder).as_posix() for path in files],
        left,
        facts.beside(asked),
        facts.change_it,
    )


def answer_in_person(
    workshop: Workshop, order: str, name: str, says: str, on: date | None
) -> signoff.Outcome:
    """An answer given at the counter, under the name of who gave it."""
    workshop.order(order)
    if on and on > workshop.today:
        raise UsageError(f"{on.isoformat()} has not come yet", "give the day the answer came")
    return signoff.take_in_person(
        workshop.sound_records(), order, name, says, now=workshop.now, today=on or workshop.today
    )
