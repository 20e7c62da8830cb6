"""What our letters say: the proof, a reminder, a better photo, ready to collect, an answer taken."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from proofgen.model import Order, Settings
from proofgen.proof.content import PriceLine, ProofContent
from proofgen.proof.mails import Attached, Letter, Part, facts, lines, plain_body, points, says
from proofgen.say.tongue import Tongue, to_say
from proofgen.signoff import ANSWERS, Answer, AnswerKind, spelled


@dataclass(frozen=True, slots=True, kw_only=True)
class Post:
    """Who writes to whom about which order, and in which language."""

    settings: Settings
    order: Order
    tongue: Tongue
    bill: Sequence[PriceLine]

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
                design=line.design,
                blank=line.blank,
                cloth=line.cloth,
            )
            for line in self.bill
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
    reference: str = ""  # the link's secret part: an answer is known by it

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
        Part(kind="steps", items=tuple(_four(content, tongue))),
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


def _four(content: ProofContent, tongue: Tongue) -> Iterator[str]:
    yield tongue("The words: every name and date, letter by letter.")
    yield (
        tongue("The cut: what the edges take away, and what falls on the join.")
        if any(len(work.views) > 1 for work in content.works)
        else tongue("The cut: what the edges take away.")
    )
    yield tongue("The colours: ink on cloth is quieter than a lit screen.")
    yield _amount(content, tongue)


def _amount(content: ProofContent, tongue: Tongue) -> str:
    many, due = content.quantity, tongue.date(content.due) if content.due else ""
    if content.total is None:
        if due:
            return tongue.several(
                "The amount: {n} piece, ready on {day}.",
                "The amount: {n} pieces, ready on {day}.",
                many,
                day=due,
            )
        return tongue.several("The amount: {n} piece.", "The amount: {n} pieces.", many)
    total = tongue.money(content.total, content.currency)
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


def _told(content: ProofContent, tongue: Tongue) -> Iterator[Part]:
    """What changed since the proof before, and what we noticed."""
    if content.changes:
        before = content.edition - 1
        yield says(tongue("What changed since proof {number}:", number=before))
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
        tongue(
            "This mail is for you alone: who has it can see the proof, and answer in your name."
        )
    )
    if not asked.link:
        yield says(tongue("Our sign for this proof: {sign}", sign=asked.reference))


# -- what comes after ------------------------------------------------------------------------


def ready_letter(post: Post) -> Letter:
    """Pressed, and to be fetched."""
    tongue, kept = post.tongue, post.settings.keep_days
    keeps = [] if kept is None else [
        says(tongue.several(
            "We keep your photos for {n} day after you have your order, then we delete them.",
            "We keep your photos for {n} days after you have your order, then we delete them.",
            kept,
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
        says(tongue("Write to us if you want to agree on a day and an hour.")),
        *keeps,
    )


_HOW_IT_CAME = {
    "slip": to_say("as the answer that the proof’s page wrote"),
    "code": to_say("as a code"),
    "person": to_say("in person"),
}
_THANKS = {
    "words": to_say(
        "thank you for your answer. You also wrote something to us; we read it before anything is "
        "pressed."
    ),
    "two answers": to_say(
        "thank you for your answer. It differs from one that came before, so nothing is pressed "
        "until we have asked you which of them holds."
    ),
    "change": to_say(
        "thank you for your answer. We change what you wrote and show you a new proof; nothing is "
        "pressed before you have said yes to it."
    ),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """An answer that the records hold, the day its proof was made, and how matters stand since:
    'signed', 'words', 'two answers' or 'change'."""

    answer: Answer
    made: date
    stands: str
    total: str = ""  # as it was signed
    due: date | None = None
    terms: str = ""  # digest of what was signed beside the artwork


def receipt(post: Post, taken: Taken) -> Letter:
    """What was taken down of an answer, for the customer to keep."""
    tongue, answer = post.tongue, taken.answer
    thanks = (
        tongue(_THANKS[taken.stands])
        if taken.stands in _THANKS
        else tongue(
            "thank you for your answer. We press your order exactly as you saw it on proof "
            "{number}.",
            number=answer.edition,
        )
    )
    signed = taken.stands == "signed"
    ready = [says(tongue("It is to be ready on {day}.", day=tongue.date(taken.due)))] if (
        taken.due and signed
    ) else []  # fmt: skip
    certificate = facts(*_certificate(post, taken))
    attached = Attached(
        name=f"{post.order.id}-proof-{answer.edition}.txt",
        content=plain_body(
            Letter(subject="", sender=("", ""), to=("", ""), parts=(certificate,))
        ).encode(),
        subtype="plain",
    )
    return post.letter(
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
        attached=(attached,),
    )  # fmt: skip


def _certificate(post: Post, taken: Taken) -> Iterator[tuple[str, str]]:
    tongue, answer = post.tongue, taken.answer
    yield tongue("Order"), post.order.id
    yield tongue("What is pressed"), tongue.joined(post.things)
    yield (
        tongue("Proof"),
        tongue("{number}, made on {day}", number=answer.edition, day=tongue.date(taken.made)),
    )
    yield tongue("Fingerprint of the artwork"), answer.fingerprint
    yield tongue("Your answer"), tongue(ANSWERS[answer.answer].says)
    if answer.name.strip():
        yield tongue("Name"), answer.name
    for change in answer.changes:
        yield (
            tongue("To change"),
            tongue("“{old}” to “{new}”", old=change.old, new=change.new),
        )
    if answer.wrong:
        wrong = tongue.joined([tongue.number(n, 0) for n in answer.wrong])
        yield tongue("Marked as wrong"), tongue.several(
            "piece {numbers}", "pieces {numbers}", len(answer.wrong), numbers=wrong
        )  # fmt: skip
    for text in answer.words:
        yield tongue("You wrote"), text
    yield tongue("How it came"), tongue(_HOW_IT_CAME.get(answer.way, _HOW_IT_CAME["slip"]))
    yield tongue("It counts for"), tongue.date(answer.dated or answer.received.date())
    if taken.total:
        yield tongue("Price"), taken.total
    if taken.due:
        yield tongue("Day"), tongue.date(taken.due)
    if taken.terms:
        yield tongue("Fingerprint of price, day and terms"), taken.terms


# -- before the proof ------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedPhoto:
    """A photo to ask for: the file's name as the customer knows it ('' if none came), what is
    wrong with it, its pixels and those it needs at least (0: not known), all upright."""

    name: str
    says: tuple[str, ...]
    width_px: int = 0
    height_px: int = 0
    needs_width_px: int = 0
    needs_height_px: int = 0


def photo_letter(post: Post, photos: Sequence[AskedPhoto], how: str) -> Letter:
    """The letter that asks for better photos; `how` is the shop's own text on sending them."""
    tongue = post.tongue
    parts: list[Part] = []
    for photo in photos:
        parts.append(Part(kind="head", text=photo.name))
        parts.append(points(*photo.says, *_pixels(photo, tongue)))
    advice = Part(kind="house", text=how) if how.strip() else points(
        tongue("The best file is the one your camera or telephone made. From a telephone, send it "
               "as a file or by mail at its original size; pictures passed on in a chat have "
               "usually been made small on the way."),
        tongue("A picture of a screen, or a copy saved from a web page, is nearly always too "
               "small."),
        tongue("Do not crop it; tell us what matters, and we place it. You see the result before "
               "anything is pressed."),
    )  # fmt: skip
    return post.letter(
        tongue("May we have a better photo for your order, {order}?", order=post.order.id),
        says(tongue.several(
            "thank you for your order. Before anything is made we look at how each photo would "
            "come out on the cloth, and with this one we would rather ask you first.",
            "thank you for your order. Before anything is made we look at how each photo would "
            "come out on the cloth, and with these we would rather ask you first.",
            len(photos),
        )),
        *parts,
        Part(kind="head", text=tongue("How to send it:")),
        advice,
        says(tongue("If there is no other, write to us all the same: a small photo can often be "
                    "used smaller.")),
        says(tongue("Nothing is pressed until you have seen the proof and agreed to it.")),
    )  # fmt: skip


def _pixels(photo: AskedPhoto, tongue: Tongue) -> list[str]:
    if not photo.needs_width_px:
        return []
    wide, high = (tongue.number(n, 0) for n in (photo.needs_width_px, photo.needs_height_px))
    if not photo.width_px:
        return [tongue("Please send one that is at least {wide} pixels wide and {high} pixels "
                       "high.", wide=wide, high=high)]  # fmt: skip
    return [
        tongue(
            "Please send one that is at least {wide} pixels wide and {high} pixels high; this one "
            "is {width} × {height}.",
            wide=wide,
            high=high,
            width=tongue.number(photo.width_px, 0),
            height=tongue.number(photo.height_px, 0),
        )
    ]
