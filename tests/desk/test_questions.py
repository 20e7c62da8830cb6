"""One way to ask: an option, a person who may mistype, or nobody."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest

from proofgen.desk.questions import TRIES, Asker, Question, Refused, yes_or_no
from proofgen.errors import UsageError


def parse(text: str) -> int:
    if text.isdecimal():
        return int(text)
    raise Refused(UsageError(f"--cups: {text} is no number", "write 6"), f"“{text}” is none. ")


NEEDED = Refused(UsageError("how many cups is missing", "add --cups"), "A number is needed. ")
CUPS = Question(asks="How many cups?", first="How many cups? (1 to 9)", parse=parse, enter=NEEDED)


def person(*answers: str) -> tuple[Asker, list[str]]:
    """Somebody who types these and then nothing, and what was shown to them."""
    typed: Iterator[str] = iter(answers)
    shown: list[str] = []

    def ask(question: str) -> str:
        shown.append(question)
        return next(typed, "")

    return Asker(ask), shown


def test_an_option_is_not_asked_for() -> None:
    asker, shown = person()
    assert asker.answer(CUPS, "4") == 4 and shown == []


def test_a_slip_is_told_and_the_question_put_again() -> None:
    asker, shown = person("four", "", "4")
    assert asker.answer(CUPS, before="Tea. ") == 4
    assert shown == [
        "Tea. How many cups? (1 to 9)",
        "“four” is none. How many cups?",
        "A number is needed. How many cups?",
    ]


def test_a_bad_option_is_asked_for_where_somebody_is_there() -> None:
    asker, shown = person("4")
    assert asker.answer(CUPS, "x") == 4
    assert shown == ["“x” is none. How many cups?"]


def test_nobody_is_told_which_option_to_write() -> None:
    with pytest.raises(UsageError, match=r"missing\n.*add --cups"):
        Asker(None).answer(CUPS)
    with pytest.raises(UsageError, match=r"--cups: x is no number\n.*write 6"):
        Asker(None).answer(CUPS, "x")


def test_enter_stands_for_an_answer_also_where_nobody_is() -> None:
    usual = Question(asks="How many?", parse=parse, enter="2")
    asker, _ = person("")
    assert asker.answer(usual) == Asker(None).answer(usual) == 2


def test_asking_ends() -> None:
    asker, shown = person(*"abcdefghij")
    # Said as at the question: a person types no --cups.
    with pytest.raises(UsageError, match=r"^“e” is none\n.*run the same again"):
        asker.answer(CUPS)
    assert len(shown) == TRIES
    tired = Question(asks="?", parse=parse, enter=NEEDED, gave_up=UsageError("nobody counts"))
    with pytest.raises(UsageError, match="nobody counts"):
        person(*"abcdefghij")[0].answer(tired)


class Kept:
    """A draft with one answer."""

    def __init__(self, text: str) -> None:
        self.text = text

    def answer_to(self, question: str) -> str:
        return self.text

    def note(self, question: str, text: str) -> None:
        self.text = text


def test_a_slip_does_not_lose_what_was_answered_before() -> None:
    asker, shown = person("four", "")
    asker = replace(asker, draft=Kept("6"))
    assert asker.answer(CUPS) == 6
    assert all(line.endswith("[Enter: 6 as before; a single - for nothing]") for line in shown)


@pytest.mark.parametrize(
    ("asks", "shown"),
    [
        (
            "How wide? (Enter: not known)",
            "How wide?\n    [Enter: 6 as before; a single -: not known]",
        ),
        (
            "Hot? (hot or cold; Enter: hot)",
            "Hot? (hot or cold)\n    [Enter: 6 as before; a single -: hot]",
        ),
        ("Show? (yes / Enter: no)", "Show? (yes)\n    [Enter: 6 as before; a single -: no]"),
        ("How many?", "How many?\n    [Enter: 6 as before; a single - for nothing]"),
    ],
)
def test_enter_is_told_once(asks: str, shown: str) -> None:
    asker, told = person("")
    asker = replace(asker, draft=Kept("6"))
    asker.answer(Question(asks=asks, parse=str, enter=""))
    assert told == [shown]


def test_what_is_refused_is_not_offered_again() -> None:
    asker, shown = person("", "4")
    asker = replace(asker, draft=Kept("six"))
    assert asker.answer(CUPS) == 4
    assert "Enter: six" in shown[0] and "Enter" not in shown[1]


def test_a_bad_option_takes_none_of_a_persons_tries() -> None:
    asker, shown = person(*["x"] * (TRIES - 1), "4")
    assert asker.answer(CUPS, "x") == 4
    assert len(shown) == TRIES


@pytest.mark.parametrize(("typed", "value"), [("Ja", True), ("no", False), ("", None)])
def test_a_yes_a_no_or_nothing(typed: str, value: bool | None) -> None:
    asker, _ = person("sewn", typed)
    question = Question(asks="Show it?", parse=yes_or_no, enter="")
    assert asker.answer(question) is value, "what answers another question is neither"


def test_an_option_that_is_neither_is_named() -> None:
    with pytest.raises(Refused) as refused:
        yes_or_no("me@example.org", "--rights-print")
    assert str(refused.value.error).startswith("--rights-print: “me@example.org” is neither")
    assert refused.value.again == "“me@example.org” is neither yes nor no. "
