"""Questions at the desk: put to a person, put again after a slip, answered by an option, or told as
missing where nobody is there."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection
from contextlib import nullcontext, suppress
from dataclasses import dataclass, field
from typing import Generic, Protocol, TypeVar

from proofgen.errors import ProofgenError, UsageError
from proofgen.say.safe import visible

Ask = Callable[[str], str]  # shows a question, gives what was typed; '' for nothing
# Short answers in the languages of our makers, whatever the capitals.
_YES = frozenset(("y", "yes", "j", "ja", "s", "si", "sí", "o", "oui", "نعم"))
_NO = frozenset(("n", "no", "nein", "non", "لا"))
# What a question says of Enter: “ (Enter: not known)”, or the end of “(yes / Enter: no)”.
_ENTER = re.compile(
    r"(?: \(|(?:;| /) (?=Enter[^()]*(?P<ends>\))))Enter(?: to|:) (?P<means>[^()]*)\)"
)
_ADD = "add "  # begins the cure for an option that is missing
TRIES = 5  # a person may mistype; a pipe that answers nonsense must not loop

T = TypeVar("T")


def means_yes(typed: str) -> bool:
    """Whether an answer is a plain yes."""
    return typed.strip().casefold() in _YES


def means_no(typed: str) -> bool:
    """Whether an answer is a plain no."""
    return typed.strip().casefold() in _NO


class Refused(Exception):
    """An answer that will not do. `error` tells it to who wrote it as an option; `again` is said
    before the question when a person is asked once more."""

    def __init__(self, error: ProofgenError, again: str = "") -> None:
        super().__init__(error.problem)
        self.error = error
        self.again = again.replace("?. ", "? ")  # “did you mean de?” ends by itself


def yes_or_no(text: str, option: str = "") -> bool | None:
    """A yes or no; None for nothing. Refused, in the name of the option, for anything else: a slip
    must not count as either."""
    if means_yes(text) or means_no(text):
        return means_yes(text)
    if not text.strip():
        return None
    said = f"“{visible(text)}” is neither yes nor no"
    told = f"{option}: {said}" if option else said
    raise Refused(UsageError(told, "write yes or no"), f"{said}. ")


@dataclass(frozen=True, slots=True, kw_only=True)
class Question(Generic[T]):
    """One thing to know. `parse` makes the value of an answer, or raises Refused.

    `enter` is the answer that nothing typed stands for, also where nobody can be asked; or the
    refusal, where an answer is needed. `first` is how the question is put before any slip, where
    that says more. `gave_up` is raised after TRIES bad answers, else what was said of the last.
    """

    asks: str
    parse: Callable[[str], T]
    enter: str | Refused
    first: str = ""
    gave_up: ProofgenError | None = None


class Remembers(Protocol):
    """Answers of the time before, by their questions."""

    def answer_to(self, question: str) -> str: ...

    def note(self, question: str, text: str) -> None: ...


@dataclass(frozen=True, slots=True)
class Asker:
    """The person at the desk; `ask` None: nobody. `draft` offers what was answered before, and
    keeps what is answered now; `notes` are said ahead of the next question."""

    ask: Ask | None
    draft: Remembers | None = None
    notes: list[str] = field(default_factory=list)

    def answer(self, question: Question[T], given: str | None = None, *, before: str = "") -> T:
        """The value of what was `given` as an option, else of what is typed; `before` is said
        ahead of the question. Errors: those of the question."""
        asks, tries = question.first or question.asks, 0
        typed, refused_before = None, set[str | None]()
        while True:
            tries += given is None  # an option was not typed at a question
            try:
                typed = self._said(question, f"{before}{asks}", given, refused_before)
                value = question.parse(_or_enter(question, typed))
                if self.draft and given is None:
                    self.draft.note(question.asks, typed or "")
                return value
            except Refused as refused:
                refused_before.add(typed)
                if self.ask is None:
                    raise refused.error from None
                if tries == TRIES:
                    raise question.gave_up or _to_a_person(refused) from None
                before, asks, given = refused.again, question.asks, None

    def for_later(
        self, asks: str, parse: Callable[[str], str], given: str | None = None, first: str = ""
    ) -> str:
        """Something that can be left out: '' when it is, or when it was mistyped too often. `parse`
        refuses with ValueError (“what is wrong; what to write”). UsageError for an option that will
        not do where nobody can be asked."""

        def tried(text: str) -> str:
            try:
                return parse(text) if text else ""
            except ValueError as error:
                problem, _, cure = str(error).partition("; ")
                raise Refused(UsageError(problem, cure), f"{error}. ") from None

        with suppress(UsageError) if self.ask else nullcontext():
            return self.answer(Question(asks=asks, first=first, parse=tried, enter=""), given)
        return ""

    def _said(
        self, question: Question[T], asks: str, given: str | None, refused: Collection[str | None]
    ) -> str | None:
        """What was given, else typed; None for nothing. What was `refused` is offered no more."""
        if given is not None or self.ask is None:
            return given
        asks = "".join(self.notes) + asks
        self.notes.clear()
        return self._typed(question.asks, asks, refused) or None

    def _typed(self, key: str, asks: str, refused: Collection[str | None]) -> str:
        """What is typed, Enter standing for what was answered before."""
        assert self.ask
        before = self.draft.answer_to(key) if self.draft else ""
        if not before or before in refused:
            return self.ask(asks)
        # One hint of what Enter does: the answer of before; what it did else stands for a dash.
        hint = _ENTER.search(asks)
        plain = _ENTER.sub(lambda found: found["ends"] or "", asks)
        else_is = f": {hint['means']}" if hint else " for nothing"
        typed = self.ask(f"{plain}\n    [Enter: {before} as before; a single -{else_is}]")
        return "" if typed == "-" else typed or before


@dataclass(slots=True)
class Lacking:
    """What is missing of an order, gathered: who types options is told of all of it at once; a
    person is asked for one thing after the other."""

    asker: Asker
    errors: list[UsageError] = field(default_factory=list)

    def note(self, error: UsageError) -> None:
        if self.asker.ask:
            raise error
        self.errors.append(error)

    def tell(self) -> None:
        if self.errors:
            problem = "; ".join(error.problem for error in self.errors)
            cures = list(dict.fromkeys(error.cure for error in self.errors))
            if all(cure.startswith(_ADD) for cure in cures):  # as one line to type
                raise UsageError(problem, _ADD + " ".join(c.removeprefix(_ADD) for c in cures))
            raise UsageError(problem, "; ".join(cures))


def _to_a_person(refused: Refused) -> ProofgenError:
    """What ends a talk: in the words that were said at the question. Who answers there types no
    option, so none is named."""
    if "--" not in refused.error.sentence():
        return refused.error
    said = refused.again.strip().rstrip(".") or refused.error.problem
    problem, _, cure = said.partition("; ")
    return UsageError(problem, cure or "run the same again, and answer otherwise")


def _or_enter(question: Question[T], typed: str | None) -> str:
    """What nothing stands for, where nothing was said."""
    if typed is not None:
        return typed
    if isinstance(question.enter, Refused):
        raise question.enter
    return question.enter
