"""What was given as an answer: a mail, a page or bare text, and what a person wrote around it."""

from __future__ import annotations

import html
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date

from proofgen.signoff import blocks, mail, old_slip, slip
from proofgen.signoff.blocks import Block
from proofgen.signoff.editions import Answer
from proofgen.signoff.heading import only_names
from proofgen.signoff.kinds import AnswerKind, answer_of
from proofgen.signoff.wording import Known, is_plain_name, person_words


@dataclass(frozen=True, slots=True)
class Given:
    """What was given as an answer: ways to read it, best first, and what stands around it."""

    texts: tuple[str, ...]
    day: date | None = None
    beside: tuple[str, ...] = ()  # a mail's subject; what is said of files that were not read
    sender: str = ""  # the address a mail says it is from
    said: int = 2  # in how many of these readings a person's words are sought


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
            return Given(opened.texts, opened.day, (opened.subject, *unread), opened.sender)
    text = source if isinstance(source, str) else mail.decode_text(source)
    if mail.is_markup(text):
        return Given((mail.plain_from_html(text), text), said=1)  # the words, not the markup
    return Given((text,))


def sentences() -> dict[str, AnswerKind]:
    """The sentence of every answer, in every language and as older pages said it."""
    today = {words[kind]: kind for words in slip.words_everywhere() for kind in AnswerKind}
    return today | {says: answer_of(word) for word, says in old_slip.ANSWERS.items()}


def beside(
    given: Given,
    found: Sequence[Block],
    answers: Sequence[Answer],
    ours: Ours,
    said: Sequence[str] = (),
) -> tuple[str, ...]:
    """A person's words around the slips or the code of one mail. `said` are sentences of ours,
    such as those with the codes."""
    known = [ours(answer.order) for answer in answers]
    chosen = {answer.answer for answer in answers}
    says_it = sentences()
    titles = (t for a in answers for t in slip.titles(a.edition, a.order))
    ours_too = [summary for block in found for summary in block.summaries()]
    surroundings = Known(
        texts=(
            *said,  # before a letter that has half of such a sentence in a line of its own
            *(text for one in known for text in one.texts),
            *dict.fromkeys([*ours_too, *titles]),
            *(words["paste"] for words in slip.words_everywhere()),
        ),
        choices=tuple(says_it),
        chosen=[says for says, kind in says_it.items() if chosen == {kind}],
        names=(
            *(n for one in known for n in one.names),
            *(a.name for a in answers if is_plain_name(a.name)),
        ),
        marks=tuple(m for one in known for m in one.marks),
        named=tuple(name for a in answers for name in (a.order, str(a.edition))),
    )
    return words_in_it(given, surroundings)


def words_in_it(given: Given, known: Known) -> tuple[str, ...]:
    """A person's words in a mail or a text, apart from its coded blocks and what is `known`."""
    readings = [html.unescape(text) for text in given.texts[: given.said]]
    intact = " ".join(blocks.letters_of_blocks(text) for text in readings)
    first, *others = [blocks.without_blocks(text, intact) for text in readings]
    said = [text for text in given.beside if not only_names(text, known)]
    return person_words(["\n\n".join([*said, first]), *others], known)
