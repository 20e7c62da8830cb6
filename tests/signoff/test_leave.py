"""What a customer gives leave to, from file and answers."""

from __future__ import annotations

import itertools
from datetime import UTC, datetime

import pytest

from proofgen.model import Rights
from proofgen.signoff import Answer, AnswerKind, leave_given


def answered(may_print: bool | None, may_show: bool | None = None) -> Answer:
    return Answer(
        order="fenn",
        edition=1,
        answer=AnswerKind.OK,
        fingerprint="0" * 64,
        received=datetime(2026, 11, 25, tzinfo=UTC),
        may_print=may_print,
        may_show=may_show,
    )


@pytest.mark.parametrize(
    ("noted", "answers", "leave"),
    [
        (None, [], None),
        (True, [], True),
        (None, [None], None),
        (None, [True], True),
        (None, [False, True], True),  # they thought better of it
        (None, [True, False], False),
        (None, [True, None], True),
        (False, [True], False),  # the maker knows of a no that no answer holds
        (True, [False], False),
    ],
)
def test_a_no_of_either_is_a_no(
    noted: bool | None, answers: list[bool | None], leave: bool | None
) -> None:
    given = leave_given(Rights(print=noted, show=noted), [answered(one, one) for one in answers])
    assert given == Rights(print=leave, show=leave)


def test_the_two_do_not_mix() -> None:
    for a, b in itertools.product((None, True, False), repeat=2):
        assert leave_given(Rights(), [answered(a, b)]) == Rights(print=a, show=b)
