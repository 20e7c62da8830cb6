"""Letters that bring a customer to their proof, and those that remind them of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from proofgen.model import Order, Settings, Shop
from proofgen.model.blank_names import called_in
from proofgen.proof.content import ProofContent
from proofgen.proof.mails import Attached, Letter, Part, facts, lines, points, says
from proofgen.say import visible
from proofgen.say.tongue import Tongue, to_say
from proofgen.signoff import ANSWERS, AnswerKind, Earlier, spelled


@dataclass(frozen=True, slots=True, kw_only=True)
class Post:
    """Who writes to whom about which order, and in which language."""

    shop: Shop
    order: Order
    tongue: Tongue
    sign: str = ""  # the secret part of the order's link: an answer is known by it
    recorded: str = ""  # how far the order's records are

    def signed(self) -> tuple[Part, ...]:
        """The sign, for letters that hold no link."""
        return (says(self.tongue("Our sign for this order: {sign}", sign=self.sign)),)

    def _recorded(self) -> Iterator[Part]:
        if self.recorded:
            yield says(
                self.tongue(
                    "Our records of your order, when this was written: {recorded}. Keep this "
                    "mail: it would show if anything were taken out of them later.",
                    recorded=self.recorded,
                )
            )

    @property
    def settings(self) -> Settings:
        return self.shop.settings

    def letter(self, subject: str, *parts: Part, attached: tuple[Attached, ...] = ()) -> Letter:
        """A letter with its salutation and who wrote it."""
        shop, customer = self.settings, self.order.customer
        return Letter(
            subject=subject,
            sender=(shop.name, shop.contact),
            to=(customer.name, customer.email),
            parts=(
                says(self.tongue("Dear {name},", name=customer.name)),
                *parts,
                *self._recorded(),
                lines(*filter(None, (shop.name, shop.contact, shop.telephone))),
            ),
            attached=attached,
        )

    @property
    def things(self) -> list[str]:
        """What was ordered, a line each."""
        tongue = self.tongue
        return [
            tongue(
                "{count} × {design}: {blank}, {cloth}",
                count=tongue.number(line.quantity, 0),
                design=self.shop.designs[line.design].title,
                blank=called_in(self.shop.blanks[line.blank], tongue),
                cloth=tongue.message(line.cloth),
            )
            for line in self.order.lines
        ]


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """A proof that waits for an answer, and the way to it: the page's address, or the file that
    goes with the letter."""

    edition: int
    answer_by: date
    codes: Mapping[AnswerKind, str]
    link: str = ""
    file: Attached | None = None
    earlier: Sequence[Earlier] = ()  # what was said of the proof before

    @property
    def attached(self) -> tuple[Attached, ...]:
        return (self.file,) if self.file else ()


# -- the proof -------------------------------------------------------------------------------


def proof_letter(post: Post, asked: Asked, content: ProofContent) -> Letter:
    """The letter that brings a customer to their proof."""
    tongue = post.tongue
    return post.letter(
        tongue(
            "Your proof {edition} from {shop}, order {order}: answer by {day}",
            edition=asked.edition,
            shop=post.settings.name,
            order=post.order.id,
            day=tongue.day(asked.answer_by),
        ),
        says(tongue("your proof is ready. Please look at it before we press anything:")),
        points(*post.things),
        *_way(asked, tongue),
        says(tongue("Please check four things:")),
        Part(kind="steps", items=tuple(_four(post, content))),
        *([Part(kind="house", text=content.paying)] if content.paying else []),
        *_asked_before(asked.earlier, tongue),
        *_told(content, tongue),
        *_how_to_answer(post, asked),
        attached=asked.attached,
    )


def reminder_letter(post: Post, asked: Asked) -> Letter:
    """A friendly word when half the time has gone by."""
    tongue = post.tongue
    return post.letter(
        tongue(
            "A reminder: your proof {edition} from {shop}, order {order}, can be answered "
            "until {day}",
            edition=asked.edition,
            shop=post.settings.name,
            order=post.order.id,
            day=tongue.day(asked.answer_by),
        ),
        says(tongue("your proof is still waiting for you. It shows what we are to press:")),
        points(*post.things),
        *_way(asked, tongue),
        says(tongue("If you have answered already, your answer has not reached us: please send it "
                    "once more.")),
        *_how_to_answer(post, asked),
        attached=asked.attached,
    )  # fmt: skip


def _way(asked: Asked, tongue: Tongue) -> Iterator[Part]:
    if asked.link:
        yield Part(kind="link", text=asked.link)
    elif asked.file:
        yield says(
            tongue(
                "The proof is the file {file} that comes with this mail. Save it, then open it: "
                "your browser shows it.",
                file=asked.file.name,
            )
        )
    else:
        yield says(tongue("The proof comes with this mail."))


def _four(post: Post, content: ProofContent) -> Iterator[str]:
    tongue = post.tongue
    yield tongue("The words: every name and date, letter by letter.")
    yield (
        tongue("The cut: what the edges take away, and what falls where the cloth meets.")
        if any(len(work.views) > 1 for work in content.works)
        else tongue("The cut: what the edges take away.")
    )
    yield tongue("The colours: ink on cloth is quieter than a lit screen.")
    yield _amount(post, content)


def _amount(post: Post, content: ProofContent) -> str:
    tongue, many = post.tongue, content.quantity
    due = tongue.date(content.due) if content.due and content.in_time else ""
    if content.total is None:
        if due:
            return tongue.several(
                "The amount: {n} piece, ready on {day}.",
                "The amount: {n} pieces, ready on {day}.",
                many,
                day=due,
            )
        return tongue.several("The amount: {n} piece.", "The amount: {n} pieces.", many)
    total = tongue.money(content.total, post.settings.currency)
    if due:
        return tongue.several(
            "The amount: {n} piece for {total}, ready on {day}.",
            "The amount: {n} pieces for {total}, ready on {day}.",
            many,
            total=total,
            day=due,
        )
    return tongue.several(
        "The amount: {n} piece for {total}.", "The amount: {n} pieces for {total}.", many,
        total=total,
    )  # fmt: skip


def _asked_before(earlier: Sequence[Earlier], tongue: Tongue) -> Iterator[Part]:
    """What the customer said of the proof before, and what became of it."""
    if earlier:
        number = earlier[0].edition
        yield says(tongue("What you asked for at proof {number}:", number=number))
        yield points(*(_became(one, tongue) for one in earlier))


_BECAME = {
    "changed": to_say("“{new}” instead of “{old}”: it is changed."),
    "as it was": to_say("“{new}” instead of “{old}”: it stands as it was."),
    "other": to_say("“{new}” instead of “{old}”: it now reads “{now}”."),
    "gone": to_say("“{new}” instead of “{old}”: it is no longer there."),
}
_WAS_WRONG = {
    "as it was": to_say("You marked “{old}” as wrong: it stands as it was."),
    "other": to_say("You marked “{old}” as wrong: it now reads “{now}”."),
    "gone": to_say("You marked “{old}” as wrong: it is no longer there."),
}


def _became(one: Earlier, tongue: Tongue) -> str:
    asked = one.asked
    if asked and asked.new:
        return tongue(_BECAME[one.became], old=asked.old, new=asked.new, now=one.now)
    if asked:
        return tongue(_WAS_WRONG[one.became], old=asked.old, now=one.now)
    if one.wrong:
        return tongue.several(
            "You marked piece {numbers} as wrong: please look at it once more.",
            "You marked pieces {numbers} as wrong: please look at them once more.",
            len(one.wrong),
            numbers=tongue.runs_of(one.wrong),
        )
    return tongue(
        "You wrote “{words}”: please look whether it is as you wish.",
        words=visible(one.words),
    )


def _told(content: ProofContent, tongue: Tongue) -> Iterator[Part]:
    """What changed since the proof before, and what we noticed."""
    if content.changes:
        yield says(tongue("What changed since proof {number}:", number=content.before))
        yield points(*(change.says for change in content.changes))
    if content.findings:
        yield says(tongue("What we noticed:"))
        yield points(*(_noticed(one.says, one.accepted, tongue) for one in content.findings))


def _noticed(sentence: str, accepted: str, tongue: Tongue) -> str:
    if not accepted:
        return sentence
    return tongue("{finding} We went on all the same, because: {reason}", finding=sentence,
                  reason=accepted)  # fmt: skip


def _how_to_answer(post: Post, asked: Asked) -> Iterator[Part]:
    tongue, telephone = post.tongue, post.settings.telephone
    yield Part(kind="head", text=tongue("How to answer"))
    yield says(
        tongue(
            "At the end of the page you choose your answer and send it to us. Answering this mail "
            "is enough, too: write in your own words what is wrong, or the code of your answer."
        )
    )
    if telephone:
        yield says(tongue("The codes can also be read out on the telephone, {number}:",
                          number=telephone))  # fmt: skip
    yield facts(
        *((tongue(ANSWERS[kind].says), f"{code} ({spelled(code)})") for kind, code in
          asked.codes.items())
    )  # fmt: skip
    yield says(
        tongue(
            "We need your answer by {day}; without it nothing is pressed.",
            day=tongue.date(asked.answer_by),
        )
    )
    yield says(
        tongue("This mail is for you alone: who has it can see the proof, and answer in your name.")
    )
    if not asked.link:
        yield from post.signed()
