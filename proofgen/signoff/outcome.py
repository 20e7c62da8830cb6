"""What became of an answer: recorded, nothing new, differing from another, or refused."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from proofgen.signoff.kinds import AnswerKind


class Taken(StrEnum):
    """What became of an answer, worst first."""

    REFUSED = "refused"
    WORDS = "words"  # and no answer
    TWO = "two answers"
    RECORDED = "recorded"
    NOTHING_NEW = "nothing new"


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What became of an answer, in a sentence; and what to do about it."""

    status: Taken
    sentence: str
    order: str = ""
    edition: int = 0
    answer: AnswerKind | None = None
    cure: str = ""
    orders: tuple[str, ...] = ()  # all that it speaks of, where several came in one mail
    asked: tuple[str, ...] = ()  # the words that are to change, one a line

    # What a customer said with an answer that was refused.
    wrote: tuple[str, ...] = ()
    mistyped: bool = False  # by the maker: it is given once more, and says nothing of the customer

    @property
    def counts(self) -> bool:
        """Whether the records hold the answer, and nothing speaks against it."""
        return self.status in (Taken.RECORDED, Taken.NOTHING_NEW)


def refused(problem: str, order: str = "", edition: int = 0, cure: str = "") -> Outcome:
    """Nothing was recorded, and why."""
    sentence = f"{problem[0].upper()}{problem[1:]}: nothing was recorded."
    return Outcome(status=Taken.REFUSED, sentence=sentence, order=order, edition=edition, cure=cure)
