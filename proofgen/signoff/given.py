"""What was given as an answer: a mail, a page or bare text, and what a person wrote around it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date

from proofgen.signoff import mail, slip
from proofgen.signoff.documents import SlipPayload
from proofgen.signoff.editions import Answer
from proofgen.signoff.kinds import ANSWERS
from proofgen.signoff.wording import Known, is_plain_name, person_words


@dataclass(frozen=True, slots=True)
class Given:
    """What was given as an answer: ways to read it, best first, and what stands around it."""

    texts: tuple[str, ...]
    day: date | None = None
    beside: tuple[str, ...] = ()  # a mail's subject; what is said of files that were not read


# What we wrote to the customer of an order (letters, other texts), the names that belong to it,
# and marks of ours such as the secret part of its link.
Ours = Callable[[str], Known]


def nothing_of_ours(_: str) -> Known:
    return Known()


def read_given(source: str | bytes) -> Given:
    raw = source.encode("utf-8", "surrogatepass") if isinstance(source, str) else source
    if mail.looks_like_mail(raw):
        opened = mail.open_mail(raw)
        if opened.texts:
            unread = (f"({name} hangs on the mail and was not read.)" for name in opened.unread)
            return Given(opened.texts, opened.day, (opened.subject, *unread))
    text = source if isinstance(source, str) else mail.decode_text(source)
    if "<" in text and "</" in text:
        return Given((mail.plain_from_html(text), text))
    return Given((text,))


def beside(
    given: Given, payloads: Sequence[SlipPayload], answers: Sequence[Answer], ours: Ours
) -> tuple[str, ...]:
    """A person's words around the slips or the code of one mail."""
    known = [ours(answer.order) for answer in answers]
    chosen = {ANSWERS[answer.answer].on_slip for answer in answers}
    surroundings = Known(
        texts=(
            *(text for one in known for text in one.texts),
            *map(slip.summary, payloads),
            *(slip.title(answer.edition, answer.order) for answer in answers),
        ),
        choices=tuple(words.on_slip for words in ANSWERS.values()),
        chosen=chosen.pop() if len(chosen) == 1 else "",
        names=(
            *(n for one in known for n in one.names),
            *(a.name for a in answers if is_plain_name(a.name)),
        ),
        marks=tuple(m for one in known for m in one.marks),
    )
    readings = given.texts[:2]  # of a page saved as a file the words, not its markup
    intact = " ".join(slip.letters_of_blocks(text) for text in readings)
    first, *others = [slip.without_blocks(text, intact) for text in readings]
    return person_words(["\n\n".join([*given.beside, first]), *others], surroundings)
