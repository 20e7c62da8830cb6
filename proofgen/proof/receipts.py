"""Letters of what comes after the proof: an answer taken down, and ready to collect."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal

from proofgen.model import Rights
from proofgen.proof.correspondence import Post
from proofgen.proof.mails import Attached, Letter, Part, facts, plain_body, points, says
from proofgen.say.tongue import Tongue, to_say
from proofgen.signoff import ANSWERS, Answer


def _to_pay(post: Post, total: Decimal | None) -> list[Part]:
    """The price that was signed, and what of it is not paid yet, as far as they are known."""
    if total is None:
        return []
    tongue, paid = post.tongue, post.order.paid
    money = {
        "total": tongue.money(total, post.settings.currency),
        "paid": tongue.money(paid or Decimal(0), post.settings.currency),
        "rest": tongue.money(max(total - (paid or 0), Decimal(0)), post.settings.currency),
    }
    if paid is None:
        return [says(tongue("The price is {total}.", **money))]
    if paid >= total:
        return [says(tongue("The price is {total}, and it is paid.", **money))]
    return [says(tongue("The price is {total}. Paid: {paid}; still to pay: {rest}.", **money))]


def ready_letter(post: Post, total: Decimal | None, keep_days: int | None) -> Letter:
    """Pressed, and to be fetched; `total` is the price that was signed, `keep_days` how long the
    photos are kept from now on."""
    tongue = post.tongue
    has_photos = post.order.has_photos
    keeps = [] if keep_days is None or not has_photos else [
        says(tongue.several(
            "We keep your photos for {n} day after you have your order, then we delete them.",
            "We keep your photos for {n} days after you have your order, then we delete them.",
            keep_days,
        ))
    ]  # fmt: skip
    return post.letter(
        tongue(
            "Ready to collect: your order {order} from {shop}",
            order=post.order.id,
            shop=post.settings.name,
        ),
        says(tongue("your order is pressed and ready to collect:")),
        points(*post.things),
        *_to_pay(post, total),
        says(tongue("Write to us if you want to agree on a day and an hour.")),
        *keeps,
        *post.signed(),
    )


_HOW_IT_CAME = {
    "slip": to_say("as the answer that the proof’s page wrote"),
    "code": to_say("as a code"),
    "person": to_say("in person"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class AnswerKept:
    """An answer that the records hold, the day its proof was made, and what follows from it: the
    first sentence of the receipt, marked, and whether it goes to the press."""

    answer: Answer
    made: date
    thanks: str
    to_press: bool = False
    total: str = ""  # as it was signed
    due: date | None = None
    rights: Rights = field(default_factory=Rights)  # as the order's file and all answers have it
    terms: str = ""  # digest of what was signed beside the artwork


def receipt(post: Post, taken: AnswerKept) -> Letter:
    """What was taken down of an answer, for the customer to keep."""
    tongue, answer = post.tongue, taken.answer
    thanks = tongue(taken.thanks, number=answer.edition)
    ready = [says(tongue("It is to be ready on {day}.", day=tongue.date(taken.due)))] if (
        taken.due and taken.to_press
    ) else []  # fmt: skip
    certificate = facts(*_certificate(post, taken))
    attached = Attached(
        name=f"{post.order.id}-proof-{answer.edition}.txt",
        content=plain_body(
            Letter(subject="", sender=("", ""), to=("", ""), parts=(certificate,))
        ).encode(),
        subtype="plain",
    )
    return replace(post, recorded="").letter(  # the certificate says it
        tongue(
            "Your answer to proof {edition} from {shop}, order {order}, has come",
            edition=answer.edition,
            shop=post.settings.name,
            order=post.order.id,
        ),
        says(thanks),
        *ready,
        says(tongue("This is what we wrote down. Please keep this mail; the file that comes with "
                    "it says the same.")),
        certificate,
        says(tongue("If anything in it is not what you meant, answer this mail at once.")),
        *post.signed(),
        attached=(attached,),
    )  # fmt: skip


def _leave(given: bool, answered: bool | None, tongue: Tongue) -> str:
    """What is allowed, and who said so: this answer, or what was noted before."""
    if answered is given:
        yes, no = to_say("allowed, by this answer"), to_say("not allowed, by this answer")
    else:
        yes, no = (
            to_say("allowed, as you told us before"),
            to_say("not allowed, as you told us before"),
        )
    return tongue(yes if given else no)


def _certificate(post: Post, taken: AnswerKept) -> Iterator[tuple[str, str]]:
    tongue, answer = post.tongue, taken.answer
    yield tongue("Order"), post.order.id
    shown = to_say("What is pressed") if answer.plain_ok else to_say("What the proof shows")
    yield tongue(shown), tongue.joined(post.things)
    yield (
        tongue("Proof"),
        tongue("{number}, made on {day}", number=answer.edition, day=tongue.date(taken.made)),
    )
    yield tongue("Reference for exactly this artwork"), answer.fingerprint
    yield tongue("Your answer"), tongue(ANSWERS[answer.answer].says)
    if answer.name.strip():
        yield tongue("Name"), answer.name
    for change in answer.changes:
        yield (
            tongue("To change"),
            tongue("“{old}” to “{new}”", old=change.old, new=change.new)
            if change.new
            else tongue("“{old}” is wrong; what it should be is not said", old=change.old),
        )
    if answer.wrong:
        wrong = tongue.joined([tongue.number(n, 0) for n in answer.wrong])
        yield tongue("Marked as wrong"), tongue.several(
            "piece {numbers}", "pieces {numbers}", len(answer.wrong), numbers=wrong
        )  # fmt: skip
    for text in answer.words:
        yield tongue("You wrote"), text
    yield tongue("How it came"), tongue(_HOW_IT_CAME.get(answer.way, _HOW_IT_CAME["slip"]))
    yield tongue("It counts for"), tongue.date(answer.day)
    if taken.total:
        yield tongue("Price"), taken.total
    if taken.due:
        yield tongue("Ready on"), tongue.date(taken.due)
    for label, leave, answered in (
        (tongue("Using your pictures for this order"), taken.rights.print, answer.may_print),
        (tongue("Showing your order to others"), taken.rights.show, answer.may_show),
    ):
        if leave is not None:
            yield label, _leave(leave, answered, tongue)
    if taken.terms:
        yield tongue("Reference for this price, day and terms"), taken.terms
    if post.recorded:
        yield tongue("Our records, with this answer in them"), post.recorded
