"""Commands about a customer: order, letter, answer, withdraw, forget."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path

from proofgen import desk, pipeline
from proofgen.cli import printing, running
from proofgen.cli.commands import Order
from proofgen.cli.customer_commands import Answer, Change, Forget, Letter, Withdraw
from proofgen.errors import (
    EXIT_DONE,
    EXIT_FINDING,
    EXIT_UNSIGNED,
    READ_CURE,
    UsageError,
    worst_exit,
)
from proofgen.say import capital, joined, quoted, quoted_whole, visible
from proofgen.workshop import Workshop


def order(given: Order) -> int:
    """Write a new order from options; ask for what is missing when a person is there."""
    with running.unasked("order"), running.workshop_of(given, writes=True) as workshop:
        ask = running.ask()
        name, twin = desk.new_order(
            workshop,
            desk.Wish(
                customer=given.customer,
                email=given.email,
                language=given.language,
                due=given.due,
                design=given.design,
                blank=given.blank,
                cloth=given.cloth,
                quantity=given.quantity,
                photos=given.photo,
                sizes=given.size,
                words=given.words,
                list_file=given.list,
                name=given.name,
                like=given.like,
                price=given.price,
                offer=given.offer,
                may_print=given.rights_print,
                bill={
                    key: said
                    for key in ("postage", "discount", "note", "paid")
                    if (said := getattr(given, key))
                },
            ),
            ask,
        )
    printing.result(f"The order is in orders/{name}.")
    if twin:
        printing.result(
            f"    It asks for the same as {twin}. If it was typed twice, delete the folder "
            f"orders/{name}; nothing else knows of it yet."
        )
    printing.result(f"    Next: proofgen check {name}")
    return EXIT_DONE


def letter(given: Letter) -> int:
    """Print one of an order's letters, or the reminders that are due; record that the proof's was
    sent."""
    if given.all:
        return _reminders(given)
    if not given.order:
        raise UsageError("which order?", "proofgen letter ORDER, or proofgen letter --all")
    if given.sent and (given.photo or given.ready):
        kind = "--photo" if given.photo else "--ready"
        raise UsageError(
            "--sent belongs to the letter with the proof", f"proofgen letter {given.order} {kind}"
        )
    with running.workshop_of(given, writes=True) as workshop:
        if given.photo:
            written = pipeline.photo_letter(workshop, given.order)
        elif given.ready:
            written = pipeline.ready_to_collect(workshop, given.order)
        else:
            written = pipeline.letter(workshop, given.order, sent=given.sent)
    printing.as_it_is(written.text)
    for line in (*written.says, f"As a mail to open and send: {written.mail}"):
        printing.aside(line)
    if given.sent:
        printing.aside(f"Recorded: the letter for {given.order} was sent.")
    return EXIT_DONE


def _reminders(given: Letter) -> int:
    """Print what is due, and for each order why it is or is not."""
    if given.order or given.sent or given.photo or given.ready:
        raise UsageError("--all stands alone", "proofgen letter --all")
    with running.workshop_of(given, writes=True) as workshop:
        found = list(pipeline.reminders(workshop))
    for _, written, _ in found:
        if written:
            printing.as_it_is(written.text)
    for name, written, why in found:
        printing.aside(f"{name}: {why}{f', {written.mail}' if written else ''}")
        for line in written.says if written else ():
            printing.aside(f"    {line}")
    printing.faults(workshop.trouble)
    return workshop.exit_code


_FILE = re.compile(r"[/\\]|\.\w{2,4}$")


def sources(given: Sequence[str]) -> list[tuple[str, str | bytes]]:
    """(name, content) of every answer that was given; a code may come in several words."""
    if len(given) > 1 and all(Path(one).exists() for one in given):
        return [source for one in given for source in sources([one])]
    source = " ".join(given)
    if source == "-":
        if running.ask() is not None:
            printing.aside(
                "Paste the whole mail or the slip, or type the code; then end with "
                "Ctrl-D on a line of its own (Windows: Ctrl-Z, then Enter)."
            )
        return [("what was typed", sys.stdin.buffer.read())]
    path = Path(source)
    try:
        if path.is_dir():
            files = sorted(p for p in path.iterdir() if p.is_file() and not p.name.startswith("."))
            return [(p.name, p.read_bytes()) for p in files]
        if path.is_file():
            return [(path.name, path.read_bytes())]
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise UsageError(f"{quoted(source)} cannot be read ({reason})", READ_CURE) from error
    if not _FILE.search(source) and pipeline.looks_like_code(source):
        return [("what was read out", source)]
    raise UsageError(
        f"there is no file “{visible(source)}”",
        "name a mail, a text file or a folder that is there; or - to paste what came",
    )


def _mail_by_mail(given: list[tuple[str, str | bytes]]) -> Iterator[tuple[str, str | bytes]]:
    """The same, each mail of a mailbox by itself: one customer's words are not another's."""
    for name, content in given:
        mails = pipeline.mails_in(content) if isinstance(content, bytes) else (content,)
        if len(mails) == 1:
            yield name, content
        else:
            yield from ((f"{name}, mail {number}", one) for number, one in enumerate(mails, 1))


def _words_read(given: Answer) -> int:
    order = " ".join(given.source)
    with running.workshop_of(given, writes=True) as workshop:
        words, step = pipeline.words_read(workshop, order)
    for text in words:
        printing.result(f"The customer wrote: {quoted_whole(text)}")
    printing.result("Recorded: you read it, and nothing is to change.")
    printing.result(f"    Next: {step}")
    printing.result(f"    If something is to change after all: proofgen proof {order}")
    return EXIT_DONE


def _apply(given: Answer) -> int:
    """Put what a customer wants otherwise into the order, once it was listed."""
    order = " ".join(given.source)
    with running.workshop_of(given, writes=True) as workshop:
        asked = pipeline.asked_changes(workshop, order)
        printing.result(f"What the customer of {order} wants to read:")
        for one in asked:
            printing.result(f"    {one.said}")
        done = pipeline.apply_changes(workshop, order, asked)
    written = joined(done.files)
    printing.result(f"Written into {written}." if done.files else "Nothing was written.")
    for not_put in done.left:
        printing.aside(f"Left for you: {not_put.asked.said}; {not_put.why}.")
    if done.beside:
        printing.aside("Not done by this; the customer said as well:")
        for said in done.beside:
            printing.aside(f"    {said}")
        printing.result(f"    Next: {done.step}")
    else:
        printing.result(f"    Next: proofgen check {order}; then: proofgen proof {order}")
    return EXIT_FINDING if done.left or done.beside else EXIT_DONE


def change(given: Change) -> int:
    """Put another word into an order."""
    with running.workshop_of(given, writes=True) as workshop:
        done = pipeline.change_word(workshop, given.order, given.old, given.new, given.piece)
    printing.result(f"{capital(done.said)}")
    printing.result(f"It stands in {done.place}; all else is as it was.")
    printing.result(f"    Next: proofgen check {given.order}; then: proofgen proof {given.order}")
    return EXIT_DONE


def answer(given: Answer) -> int:
    """Take answers: from mails, texts, spoken codes, or in person."""
    if given.read or given.apply:
        return _words_read(given) if given.read else _apply(given)
    codes = [EXIT_DONE]
    on = desk.read_day(given.on, "2026-11-25")
    with running.workshop_of(given, writes=True) as workshop:
        if given.in_person is not None:
            outcomes = [
                (
                    "",
                    pipeline.answer_in_person(
                        workshop, " ".join(given.source), given.in_person, given.says, on
                    ),
                )
            ]
        else:
            outcomes = [
                (name, pipeline.answer(workshop, content, on))
                for name, content in _mail_by_mail(sources(given.source))
            ]
        gone = pipeline.take_back(
            workshop, [order for _, o in outcomes for order in o.orders or (o.order,) if order]
        )
        receipts = [pipeline.answer_receipt(workshop, outcome) for _, outcome in outcomes]
    if given.in_person is not None and outcomes[0][1].status == "recorded":
        printing.result(
            f"This stands for your word: that {visible(given.in_person)} saw this very proof and "
            "said so to you. No code proves it."
        )
    for (name, outcome), receipt in zip(outcomes, receipts, strict=True):
        head = f"{visible(name)}: " if name and len(outcomes) > 1 else ""
        good = outcome.status in ("recorded", "nothing new")
        (printing.result if good else printing.aside)(f"{head}{outcome.sentence}")
        for text in outcome.asked:
            (printing.result if good else printing.aside)(f"    {text}")
        if outcome.cure:
            (printing.result if good else printing.aside)(f"    Next: {outcome.cure}")
        if receipt:
            printing.result(f"    A receipt to send to the customer: {receipt.mail}")
        if not good:
            codes.append(EXIT_UNSIGNED)
    for line in gone:
        printing.aside(line)
    return worst_exit(*codes)


def _be_sure(workshop: Workshop, order: str, sure: str | None, command: str, why: str) -> None:
    """Have an order's name given once more, typed or with --sure, where there is a reason `why`.
    UsageError where it is not: nothing was done."""
    if not why:
        return
    ask = running.ask()
    if sure is None and ask is not None:
        printing.aside(f"{capital(why)}.")
        sure = ask(f"To {command} {order}, type its name:")
    if sure != order:
        raise UsageError(
            f"nothing was done yet; {why}",
            f"if you mean it: proofgen {command} {order} --sure {order}",
        )


def withdraw(given: Withdraw) -> int:
    """Take a proof back."""
    with running.workshop_of(given, writes=True) as workshop:
        why = pipeline.why_not_withdraw(workshop, given.order)
        _be_sure(workshop, given.order, given.sure, "withdraw", why)
        printing.result(pipeline.withdraw(workshop, given.order))
        for line in pipeline.take_back(workshop, [given.order]):
            printing.aside(line)
    return EXIT_DONE


def forget(given: Forget) -> int:
    """Remove a customer's data."""
    with running.workshop_of(given, writes=True) as workshop:
        why = pipeline.why_not_forget(workshop, given.order)
        _be_sure(workshop, given.order, given.sure, "forget", why)
        printing.result(pipeline.forget(workshop, given.order))
    return EXIT_DONE
