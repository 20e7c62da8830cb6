"""The one table of states, over every combination of what it asks."""

from __future__ import annotations

import itertools
from datetime import timedelta

import pytest

from proofgen.signoff import STATES, OrderFacts, compose_slip, state_of
from tests.signoff.conftest import ANSWER_BY, NOW, TODAY, WRITTEN, edition, new_edition, take

PROOF = edition(2)
LATE = ANSWER_BY + timedelta(days=1)


def answered(*given: str, number: int = 2, wrong: tuple[int, ...] = ()):
    from proofgen.signoff import Answer

    return [
        Answer(
            order="fenn",
            edition=number,
            answer=a,
            fingerprint=PROOF.fingerprint,
            received=NOW,
            wrong=wrong,
        )
        for a in given
    ]


def facts(**over) -> OrderFacts:
    return OrderFacts(**{"order": "fenn", "today": TODAY, "edition": PROOF, **over})


OK, CHANGED = answered("ok"), {"current_fingerprint_matches": False}
TABLE = [
    ({"edition": None}, "draft", "proof 1: proofgen proof fenn"),
    ({"edition": None, "has_stop": True}, "stopped", "proofgen check fenn"),
    ({}, "ready", "proofgen letter fenn --sent"),
    ({"has_stop": True}, "stopped", "proofgen check fenn"),
    ({"sent": True}, "out", "until 2026-11-30; when it comes: proofgen answer FILE"),
    ({"sent": True, "today": ANSWER_BY}, "out", "2026-11-30"),
    ({"sent": True, "today": LATE}, "expired", "proofgen proof fenn"),
    ({"today": LATE}, "expired", "proofgen proof fenn"),
    ({"sent": True, "today": TODAY, "answer_by": TODAY - timedelta(days=1)}, "expired", ""),
    ({"sent": True, "has_stop": True}, "stopped", "proofgen check fenn"),
    ({**CHANGED}, "draft", "proof 3: proofgen proof fenn"),
    ({"sent": True, **CHANGED}, "draft", "proof 3: proofgen proof fenn"),
    ({"sent": True, "answers": OK}, "signed", "proofgen press fenn; once pressed: proofgen press"),
    ({"answers": OK}, "signed", "proofgen press fenn --done"),
    ({"answers": OK, "today": LATE}, "signed", "proofgen press fenn"),
    ({"answers": OK, "has_stop": True}, "stopped", "proofgen check fenn"),
    ({"answers": OK, **CHANGED}, "voided", "proofgen proof fenn"),
    ({"answers": OK, "has_stop": True, **CHANGED}, "stopped", "proofgen check fenn"),
    ({"answers": answered("ok", wrong=(3,))}, "corrections", "proofgen proof fenn"),
    ({"answers": answered("corrections")}, "corrections", "proofgen proof fenn"),
    ({"answers": answered("corrections"), "has_stop": True}, "corrections", ""),
    ({"answers": answered("corrections"), **CHANGED}, "corrections", "proofgen proof fenn"),
    ({"answers": answered("again"), "today": LATE}, "again", "proofgen proof fenn"),
    ({"answers": answered("ok", "ok")}, "signed", ""),
    ({"answers": answered("ok", "again")}, "two answers", "Ask which one holds"),
    ({"answers": answered("ok", "again", "ok")}, "two answers", "proofgen proof fenn"),
    ({"answers": answered("again", "corrections"), "has_stop": True}, "two answers", ""),
    ({"answers": answered("ok", number=1)}, "ready", ""),
    ({"answers": answered("again", number=1) + OK}, "signed", ""),
    ({"answers": OK, "pressed": True}, "pressed", "proofgen orders --handed-over fenn"),
    ({"answers": OK, "pressed": True, **CHANGED}, "pressed", ""),
    ({"answers": OK, "pressed": True, "handed": True}, "handed over", "Nothing is left to do"),
    ({"withdrawn": True, "sent": True}, "withdrawn", "proofgen proof fenn"),
    ({"withdrawn": True, "answers": OK}, "withdrawn", ""),
    ({"edition": None, "forgotten": True, "withdrawn": True}, "forgotten", "Nothing is left"),
    ({"forgotten": True, "handed": True, "pressed": True}, "forgotten", ""),
]


@pytest.mark.parametrize(("given", "state", "step"), TABLE)
def test_the_table(given, state, step):
    got, said = state_of(facts(**given))
    assert got == state
    assert step in said


def test_every_state_is_reached_and_no_other():
    assert {state for _, state, _ in TABLE} == set(STATES)


def test_the_states_are_those_of_the_trade():
    assert list(STATES) == [
        "draft", "stopped", "ready", "out", "corrections", "again", "two answers", "signed",
        "voided", "pressed", "handed over", "expired", "withdrawn", "forgotten",
    ]  # fmt: skip


COMMANDS = ("check", "proof", "letter", "answer", "press", "orders", "forget")


@pytest.mark.parametrize("state", STATES)
def test_sentences_are_plain_and_name_real_commands(state):
    one = STATES[state]
    for text in (one.meaning, one.step):
        assert text[0].isupper() and "!" not in text and len(text) < 140
    words = one.step.split()
    for at, word in enumerate(words):
        if word == "proofgen":
            assert words[at + 1] in COMMANDS


ANSWERS = [(), ("ok",), ("corrections",), ("again",), ("ok", "again")]
FLAGS = ("has_stop", "current_fingerprint_matches", "sent", "pressed", "handed", "withdrawn",
         "forgotten")  # fmt: skip


def test_what_must_hold_of_every_combination():
    """Signed, and so the press, needs an OK, the same artwork, and an order that is open."""
    count = 0
    for proof, given, today, *flags in itertools.product(
        (None, PROOF), ANSWERS, (TODAY, LATE), *[(False, True)] * len(FLAGS)
    ):
        told = dict(zip(FLAGS, flags, strict=True))
        answers = answered(*given) if proof else []
        state, step = state_of(facts(edition=proof, answers=answers, today=today, **told))
        closed = any(told[k] for k in ("pressed", "handed", "withdrawn", "forgotten"))
        may = given == ("ok",) and told["current_fingerprint_matches"] and not told["has_stop"]
        assert (state == "signed") == bool(proof and may and not closed)
        assert "{" not in step and step.endswith(tuple("abcdefghijklmnopqrstuvwxyzE."))
        assert not told["forgotten"] or state == "forgotten"
        assert not (proof is None and state in ("ready", "out", "signed", "voided", "expired"))
        count += 1
    assert count == 2 * 5 * 2 * 2**7


def test_from_the_records_to_the_state(records):
    """The whole way of one order, with a correction in between."""

    def state(**over):
        latest = records.latest("fenn")
        events = [e.kind for e in records.events("fenn") if latest and e.edition == latest.number]
        return state_of(
            facts(
                edition=latest,
                answers=records.answers("fenn"),
                sent="sent" in events,
                pressed="pressed" in events,
                handed="handed-over" in events,
                withdrawn=records.is_withdrawn("fenn"),
                forgotten=records.is_forgotten("fenn"),
                **over,
            )
        )[0]

    def say(answer):
        take(records, compose_slip(records.latest("fenn"), answer, [], False, [], "", "", WRITTEN))

    seen = [state(has_stop=True), state()]
    new_edition(records)
    seen.append(state())
    records.mark("fenn", "sent", NOW)
    seen.append(state())
    say("corrections")
    seen.append(state())
    new_edition(records, fill=8)
    seen.append(state())
    say("ok")
    seen += [state(), state(current_fingerprint_matches=False)]
    for event in ("pressed", "handed-over"):
        records.mark("fenn", event, NOW)
        seen.append(state())
    records.forget("fenn", NOW)
    seen.append(state())
    assert seen == [
        "stopped", "draft", "ready", "out", "corrections", "ready", "signed", "voided", "pressed",
        "handed over", "forgotten",
    ]  # fmt: skip
