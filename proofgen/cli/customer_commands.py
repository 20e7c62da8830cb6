"""The commands about what comes back from a customer, and what goes out to one."""

from __future__ import annotations

from proofgen.cli.options import Given, command, operand, option

_SURE = "its name once more: needed while it is signed and not pressed, and nobody can be asked"


@command(
    "letter",
    "customers",
    "the mail that brings the customer to the proof",
    "proofgen letter quill-wedding",
    "proofgen letter thistle-sill --photo",
    "proofgen letter --all",
)
class Letter(Given):
    order: str | None = operand("ORDER", "whose letter", nargs="?")
    sent: bool = option(False, "record that it was sent")
    photo: bool = option(False, "instead, a mail that asks for a better photo")
    ready: bool = option(False, "instead, a mail that says it can be collected")
    all: bool = option(False, "reminders of all proofs half of whose time has gone by")


@command("answer", "customers", "take a customer's answer", "proofgen answer slip.txt")
class Answer(Given):
    source: tuple[str, ...] = operand(
        "ANSWER",
        "a mail or text with the answer slip that the proof page wrote, a folder or mailbox of "
        "them, a code read out to you, - to paste text; the order's name after --in-person NAME, "
        "--read or --apply",
        nargs="+",
    )
    on: str | None = option(None, "the day it came, as 2026-11-25", "DAY")
    in_person: str | None = option(None, "who said it, standing before you", "NAME")
    read: bool = option(
        False, "you read what the customer wrote beside the OK, and nothing is to change"
    )
    apply: bool = option(
        False, "write the words that the customer wants otherwise into the order or its list"
    )
    says: str = option(
        "ok",
        "with --in-person: OK as shown, or change it and show it again",
        choices=("ok", "change"),
    )


@command(
    "change",
    "customers",
    "put another word or name into an order; all else of its files is kept",
    'proofgen change fenn-harbour "Bram" "Bran"',
    'proofgen change quill-wedding "Conor" "Connor" --piece 2',
)
class Change(Given):
    order: str = operand("ORDER", "whose words")
    old: str = operand("OLD", "the word, name or whole text as it stands there, in quotes")
    new: str = operand("NEW", "as it is to be, in quotes")
    piece: int | None = option(None, "only on this piece, as check and ticket number them", "N")


@command(
    "withdraw",
    "customers",
    "take an order's proof back; its page becomes a notice",
    "proofgen withdraw fenn-harbour",
)
class Withdraw(Given):
    order: str = operand("ORDER", "whose proof")
    sure: str | None = option(None, _SURE, "ORDER")


@command(
    "forget",
    "customers",
    "remove a customer's data for good; the bare fact of the sale stays",
    "proofgen forget fenn-harbour --sure fenn-harbour",
)
class Forget(Given):
    order: str = operand("ORDER", "whose data")
    sure: str | None = option(
        None,
        "its name once more: needed where nobody can be asked, unless it is withdrawn or "
        "the days of keep: are over",
        "ORDER",
    )
