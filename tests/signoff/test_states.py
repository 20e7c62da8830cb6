"""The one table of states: over every combination of what it asks, and asked by all others."""

from __future__ import annotations

import ast
import itertools
import string
from dataclasses import fields, replace
from datetime import timedelta
from pathlib import Path

import pytest

import proofgen
from proofgen.cli import customer_commands
from proofgen.cli.options import made
from proofgen.signoff import RULES, AnswerKind, EventKind, Notice, OrderFacts, Page, State, When
from proofgen.signoff.editions import Answer
from proofgen.signoff.facts import read_facts, verdict_of, words_key
from proofgen.signoff.states import Refusal
from tests.signoff.conftest import ANSWER_BY, NOW, TODAY, edition, new_edition, take
from tests.slips import compose_slip

PROOF = edition(2)
LATE = ANSWER_BY + timedelta(days=1)


def answered(*given: str, number: int = 2, wrong: tuple[int, ...] = ()):
    return [
        Answer(
            order="fenn",
            edition=number,
            answer=AnswerKind(a),
            fingerprint=PROOF.fingerprint,
            received=NOW,
            wrong=wrong,
        )
        for a in given
    ]


def facts(*happened: str, **over) -> OrderFacts:
    given = {"order": "fenn", "today": TODAY, "edition": 2, "answer_by": ANSWER_BY, **over}
    return OrderFacts(happened=happened, **given)


OK, CHANGED = answered("ok"), {"is_current": False}
BESIDE = [replace(OK[0], beside=("with y, please",))]
NOTED = [replace(OK[0], remarks="by Friday?")]
TABLE = [
    ((), {"edition": 0}, "draft", "proof 1: proofgen proof fenn"),
    ((), {"edition": 0, "has_stop": True}, "stopped", "proofgen check fenn"),
    ((), {}, "ready", "proofgen letter fenn --sent"),
    ((), {"has_stop": True}, "stopped", "proofgen check fenn"),
    (("sent",), {}, "out", "until 2026-11-30; when it comes: proofgen answer FILE"),
    (("sent",), {"today": ANSWER_BY}, "out", "2026-11-30"),
    (("sent",), {"today": LATE}, "expired", "proofgen proof fenn"),
    ((), {"today": LATE}, "expired", "proofgen proof fenn"),
    (("sent",), {"today": TODAY, "answer_by": TODAY - timedelta(days=1)}, "expired", ""),
    (("sent",), {"has_stop": True}, "stopped", "proofgen check fenn"),
    ((), {**CHANGED}, "draft", "proof 3: proofgen proof fenn"),
    (("sent",), {**CHANGED}, "draft", "proof 3: proofgen proof fenn"),
    (("sent",), {"answers": OK}, "signed", "proofgen press fenn; once pressed: proofgen press"),
    ((), {"answers": OK}, "signed", "proofgen press fenn --done"),
    ((), {"answers": OK, "today": LATE}, "signed", "proofgen press fenn"),
    ((), {"answers": OK, "has_stop": True}, "stopped", "proofgen check fenn"),
    ((), {"answers": OK, **CHANGED}, "voided", "proofgen proof fenn"),
    ((), {"answers": OK, "has_stop": True, **CHANGED}, "stopped", "proofgen check fenn"),
    ((), {"answers": answered("ok", wrong=(3,))}, "changes", "proofgen proof fenn"),
    ((), {"answers": answered("change")}, "changes", "proofgen proof fenn"),
    ((), {"answers": answered("change"), "has_stop": True}, "changes", ""),
    ((), {"answers": answered("change"), **CHANGED}, "changes", "proofgen proof fenn"),
    ((), {"answers": answered("change"), "today": LATE}, "changes", "proofgen proof fenn"),
    ((), {"answers": answered("change", "change")}, "changes", ""),
    ((), {"answers": answered("ok", "ok")}, "signed", ""),
    ((), {"answers": answered("ok", "change")}, "two answers", "Ask which one holds"),
    ((), {"answers": answered("ok", "change", "ok")}, "two answers", "proofgen proof fenn"),
    ((), {"answers": answered("change", "ok"), "has_stop": True}, "two answers", ""),
    ((), {"answers": BESIDE}, "words", "proofgen answer --read fenn"),
    ((), {"answers": BESIDE, "has_stop": True}, "words", "proofgen proof fenn"),
    ((), {"answers": BESIDE, **CHANGED}, "words", ""),
    ((), {"answers": OK + BESIDE}, "words", ""),
    ((), {"answers": OK + NOTED}, "words", "Read the words below"),
    ((), {"answers": NOTED + OK + BESIDE}, "words", ""),
    ((), {"answers": NOTED + OK, "read": {words_key("by Friday?")}}, "signed", ""),
    ((), {"answers": NOTED + answered("ok", wrong=(3,))}, "two answers", ""),
    ((), {"answers": BESIDE, "read": {words_key("with y, please")}}, "signed", ""),
    ((), {"answers": BESIDE, "read": {words_key("with i, please")}}, "words", ""),
    ((), {"answers": answered("change") + BESIDE}, "two answers", ""),
    (("pressed",), {"answers": BESIDE}, "pressed", ""),
    ((), {"answers": answered("ok", number=1)}, "ready", ""),
    ((), {"answers": answered("change", number=1) + OK}, "signed", ""),
    (("pressed",), {"answers": OK}, "pressed", "proofgen handed-over fenn"),
    (("pressed",), {"answers": OK, **CHANGED}, "pressed", ""),
    (("pressed", "handed-over"), {"answers": OK}, "handed over", "Nothing is left to do"),
    (("sent", "withdrawn"), {}, "withdrawn", "proofgen proof fenn"),
    (("withdrawn",), {"answers": OK}, "withdrawn", ""),
    (("withdrawn", "forgotten"), {"edition": 0}, "forgotten", "Nothing is left"),
    (("pressed", "handed-over", "forgotten"), {}, "forgotten", ""),
]


@pytest.mark.parametrize(("happened", "given", "state", "step"), TABLE)
def test_the_table(happened, given, state, step):
    order = facts(*happened, **given)
    assert order.state == state
    assert step in order.step


def test_every_state_is_reached_and_no_other():
    assert {state for *_, state, _ in TABLE} == set(State) == set(RULES)


def test_what_ends_in_a_state_is_closed_for_good():
    """Each closing event leads to one state, and an order in it takes no answer."""
    closing = {rules.after: state for state, rules in RULES.items() if rules.closed}
    assert len(closing) == sum(rules.closed for rules in RULES.values())
    open_still = {EventKind.SENT, EventKind.ACCEPTED, EventKind.READ, EventKind.WROTE}
    open_still |= {EventKind.SHOWN, EventKind.SHEETS, EventKind.SPOILED, EventKind.CLEARED}
    open_still |= {EventKind.NOT_PRESSED, EventKind.NOT_HANDED_OVER, EventKind.NOT_ACCEPTED}
    assert set(closing) == set(EventKind) - open_still
    for state, rules in RULES.items():
        assert bool(rules.no_answer) == rules.closed, state


def test_what_the_rules_of_a_state_say_fits_together():
    for state, rules in RULES.items():
        if rules.press is When.UNASKED:  # pressed once, and noted then
            assert EventKind.PRESSED in rules.notes, state
        if not isinstance(rules.press, Refusal):
            assert rules.page is Page.FORM and not rules.stops, state
        if isinstance(rules.page, Page) and rules.page is Page.UNTOUCHED:
            assert not rules.has_letter and rules.proof is not When.NEVER, state
        assert rules.can_be_shown or not rules.has_link, state


COMMANDS = (
    "change",
    "check",
    "proof",
    "letter",
    "answer",
    "press",
    "handed-over",
    "orders",
    "forget",
)


def sentences(state: State) -> list[str]:
    rules = RULES[state]
    refused = [*rules.press] if isinstance(rules.press, Refusal) else []
    notice = [rules.page.title, rules.page.says] if isinstance(rules.page, Notice) else []
    return [text for text in (rules.step, rules.no_answer, *refused, *notice) if text]


@pytest.mark.parametrize("state", State)
def test_sentences_are_plain_and_name_real_commands(state):
    assert RULES[state].step[0].isupper()
    for text in sentences(state):
        assert "!" not in text and len(text) < 140
        names = {name for _, name, _, _ in string.Formatter().parse(text) if name}
        assert names <= {"order", "edition", "next", "day", "both", "file"}
        words = text.split()
        for at, word in enumerate(words):
            if word == "proofgen":
                assert words[at + 1] in COMMANDS


ANSWERS = [(), ("ok",), ("change",), ("ok", "change")]
CLOSING = ("pressed", "handed-over", "withdrawn", "forgotten")
FLAGS = ("has_stop", "is_current", "sent", *CLOSING)


def test_what_must_hold_of_every_combination():
    """Signed, and so the press, needs an OK, the same artwork, and an order that is open."""
    count = 0
    for proof, given, today, *flags in itertools.product(
        (0, 2), ANSWERS, (TODAY, LATE), *[(False, True)] * len(FLAGS)
    ):
        told = dict(zip(FLAGS, flags, strict=True))
        order = facts(
            *(name for name in ("sent", *CLOSING) if told[name]),
            edition=proof,
            answers=answered(*given) if proof else [],
            today=today,
            has_stop=told["has_stop"],
            is_current=told["is_current"],
        )
        state, step = order.state, order.step
        closed = any(told[k] for k in CLOSING)
        may = given == ("ok",) and told["is_current"] and not told["has_stop"]
        assert (state == "signed") == bool(proof and may and not closed)
        assert order.rules.closed == closed
        assert "{" not in step and step.endswith(tuple("abcdefghijklmnopqrstuvwxyzE."))
        assert not told["forgotten"] or state == "forgotten"
        assert not (proof == 0 and state in ("ready", "out", "signed", "voided", "expired"))
        count += 1
    assert count == 2 * 4 * 2 * 2**7


def test_every_answer_leads_to_a_state_of_its_own():
    verdicts = [verdict_of(answered(kind), 2) for kind in AnswerKind]
    assert None not in verdicts and len(set(verdicts)) == len(AnswerKind)


def test_every_answer_can_be_typed_at_the_counter():
    says = next(one for one in fields(made(customer_commands.Answer)) if one.name == "says")
    assert says.metadata["how"]["choices"] == tuple(AnswerKind)


def test_from_the_records_to_the_state(records):
    """The whole way of one order, with a correction in between."""

    def state(order="fenn", **over):
        return replace(read_facts(records, order, TODAY), **over).state

    def say(answer):
        take(records, compose_slip(records.latest("fenn"), answer))

    seen = [state(has_stop=True), state()]
    new_edition(records)
    seen.append(state())
    records.mark("fenn", "sent", NOW)
    seen.append(state())
    say("change")
    seen.append(state())
    new_edition(records, fill=8)
    seen.append(state())
    say("ok")
    seen += [state(), state(is_current=False)]
    for event in ("pressed", "handed-over"):
        records.mark("fenn", event, NOW)
        seen.append(state())
    one = records.names.id_of("fenn")
    records.forget("fenn", NOW)
    seen.append(state(one))
    assert seen == [
        "stopped", "draft", "ready", "out", "changes", "ready", "signed", "voided", "pressed",
        "handed over", "forgotten",
    ]  # fmt: skip


# -- nobody else knows a state's name --------------------------------------------------------

# The same word for something else: (file, word).
OTHER_MEANINGS = {
    ("signoff/kinds.py", "pressed"),  # events have words of their own
    ("signoff/kinds.py", "withdrawn"),
    ("signoff/kinds.py", "forgotten"),
    ("signoff/outcome.py", "two answers"),  # what became of the second one
    ("shop/order_reader.py", "draft"),  # a field of order.yaml
    ("shop/told/orders.py", "draft"),  # the same, explained
    ("cli/stages.py", "ready"),  # a command
    ("pipeline/demo_shop.py", "ready"),
    ("catalogue/finding.py", "ready"),
    ("pipeline/letters.py", "ready"),  # a kind of letter
    ("cli/commands.py", "ready"),  # a command
    ("pipeline/workroom_rooms.py", "ready"),  # a kind of letter
    ("pipeline/workroom_rooms.py", "pressed"),  # a part of the workroom's page
    ("reports/workroom.py", "pressed"),  # that part
    ("pipeline/accounts.py", "pressed"),  # a field of the tally
    ("reports/tally.py", "pressed"),  # that field
    ("bootstrap.py", "ready"),  # a file that tells that all is installed
}


# "words" and "changes" are also keys of designs, orders, slips and documents, in many places.
COUNTED = set(State) - {State.WORDS, State.CHANGES}


def named_states(source: str) -> set[str]:
    """States that a module names: `State.DRAFT` or the bare word "draft"."""
    named = set()
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Attribute) and node.attr in State.__members__:
            if "State" in ast.unparse(node.value).split("."):
                named.add(State[node.attr].value)
        elif isinstance(node, ast.Constant) and node.value in COUNTED:
            named.add(str(node.value))
    return named


def test_no_other_module_asks_for_a_state_by_name():
    home = Path(proofgen.__file__).parent
    named = {
        (path.relative_to(home).as_posix(), word)
        for path in sorted(home.rglob("*.py"))
        if path.relative_to(home).as_posix() not in ("signoff/states.py", "signoff/facts.py")
        for word in named_states(path.read_text("utf-8"))
    }
    assert named == OTHER_MEANINGS


@pytest.mark.parametrize(
    "source",
    [
        'if row["state"] == "voided": pass',
        'if state in ("out", "voided"): pass',
        'match state:\n    case "voided": pass',
        "done = signoff.State.VOIDED",
        "if state is State.VOIDED: pass",
        'says = {"voided": 1}[state]',
    ],
)
def test_a_module_that_does_would_be_found(source):
    assert "voided" in named_states(source)
    assert named_states('"""Of voided orders."""\nsays = f"{order} is voided"') == set()
