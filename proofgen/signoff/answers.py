"""Customers' answers into the records: a slip, a mail, pasted text, a spoken code, in person."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from proofgen.errors import UsageError
from proofgen.say import pieces, plural, quoted, quoted_whole, visible
from proofgen.signoff import blocks, codes, mail, replies, spoken
from proofgen.signoff.documents import EditionHead
from proofgen.signoff.editions import Answer, AskedChange, moment
from proofgen.signoff.facts import read_facts, what_to_do
from proofgen.signoff.given import Given, Ours, beside, nothing_of_ours, read_given
from proofgen.signoff.kinds import ANSWERS, CHOICES, AnswerKind, DayFrom
from proofgen.signoff.outcome import Outcome, Taken, refused
from proofgen.signoff.records import Records
from proofgen.signoff.states import WORDS_CURE, Notice, Refusal, When, file_of

_CLOCKS = timedelta(days=1)  # clocks and zones may be apart by so much
_SEND_AGAIN = (
    "ask the customer to send the answer again, with “Copy it” or “Save it” on the page; "
    "or take the code that stands beside the answer by telephone"
)


@dataclass(frozen=True, slots=True)
class _Days:
    """The days that bear on an answer: today, the maker's `--on`, the mail's own, the moment."""

    today: date
    on: date | None
    mail: date | None
    now: datetime


def take_answer(
    records: Records,
    source: str | bytes,
    *,
    today: date,
    now: datetime,
    on: date | None = None,
    ours: Ours = nothing_of_ours,
) -> Outcome:
    """Read one text or mail and record what it answers. Never raises for what a customer sent.

    Several answers in one mail are all taken; the outcome then has the worst status and every
    sentence. `on` is the day the maker says it came; else a mail's own Date counts, else today.
    A person's words around the slip or the code are kept with the answer; `ours` tells what is
    not theirs.
    """
    if len(source) > mail.MOST_BYTES:
        return refused(
            "this is far too large for an answer", cure="give the mail without its pictures"
        )
    if on and on > today:
        return refused(f"{on.isoformat()} has not come yet", cure="give the day the answer came")
    given = read_given(source)
    if not any(map(blocks.has_answer, given.texts)) and any(map(blocks.read_orders, given.texts)):
        return refused("this is an order slip, not an answer to a proof", cure="proofgen take FILE")
    days = _Days(today, on, given.day, now)
    outcomes = _from_blocks(records, given, days, ours) or _from_codes(records, given, days, ours)
    day = on or given.day or today
    outcomes = replies.keep_refused(records, given, outcomes, ours, now=now, day=day)
    outcomes = [_from_another(outcome, given, ours) for outcome in outcomes]
    worst = min(outcomes, key=lambda o: list(Taken).index(o.status))
    orders = tuple(dict.fromkeys(o.order for o in outcomes if o.order))
    several = "see what each of these orders needs: proofgen orders"
    return replace(
        worst,
        orders=orders,
        sentence=" ".join(o.sentence for o in outcomes),
        cure=several if len(orders) > 1 else worst.cure,
        asked=tuple(dict.fromkeys(text for o in outcomes for text in o.asked)),
    )


def _from_another(outcome: Outcome, given: Given, ours: Ours) -> Outcome:
    """Told of a mail that came from neither the customer's address nor one of the shop's, which
    forwards to itself: perhaps another person answered."""
    if outcome.status is not Taken.RECORDED or not given.sender or not outcome.order:
        return outcome
    known = ours(outcome.order)
    addresses = {name.casefold() for name in (known.address, *known.names) if "@" in name}
    if not known.address or given.sender.casefold() in addresses:
        return outcome
    told = (
        f"The mail came from {visible(given.sender)[:200]}, and the order has {known.address}: "
        "look whether that is your customer."
    )
    return replace(outcome, sentence=f"{outcome.sentence} {told}")


def take_in_person(
    records: Records,
    order: str,
    name: str,
    answer: str,
    now: datetime,
    today: date | None = None,
) -> Outcome:
    """Record what someone said at the counter about the latest proof, under their name.

    Errors: UsageError for an answer that is none, or no name.
    """
    if answer not in frozenset(CHOICES):
        raise UsageError(
            f"{quoted(answer, 40)} is no answer", f"write one of: {', '.join(CHOICES)}"
        )
    if not name.strip():
        raise UsageError("an answer in person needs a name", "write who gave it: --in-person NAME")
    heads = records.heads(order)
    if not heads:
        return refused(
            f"there is no proof of {order} to answer", order, cure=f"proofgen proof {order}"
        )
    spoken = replace(
        _bare_answer(heads[-1], AnswerKind(answer), now), way="person", name=name.strip()[:200]
    )
    return _take(records, heads[-1], spoken, _Days(today or now.date(), today, None, now))


# -- reading ---------------------------------------------------------------------------------


def _from_blocks(records: Records, given: Given, days: _Days, ours: Ours) -> list[Outcome]:
    """Outcomes of the coded blocks; empty when no reading has one.

    When any block of a mail was damaged, none of it is taken: the damaged one may be the answer
    that was meant, above an older one that was quoted whole.
    """
    damaged: list[Outcome] = []
    for text in given.texts:
        found = blocks.read_blocks(text)
        if not found:
            continue
        judged = [_believed(records, block, days) for block in found]
        broken = [j for j in judged if isinstance(j, Outcome)]
        if not broken:
            believed = [j for j in judged if isinstance(j, tuple)]
            written = beside(
                given,
                found,
                [answer for _, answer in believed],
                ours,
                [text for head, _ in believed for text in codes.as_said(head)],
            )
            return _take_all(records, [(h, replace(a, beside=written)) for h, a in believed], days)
        damaged = damaged or broken[:1]
    return damaged


def _believed(
    records: Records, block: blocks.Block, days: _Days
) -> tuple[EditionHead, Answer] | Outcome:
    """The edition and the answer of a block whose code fits; else why it is refused."""
    payload = block.payload
    if payload is None:
        return refused("the coded part of this answer was damaged on the way", cure=_SEND_AGAIN)
    order, number = payload["order"], payload["edition"]
    if order not in records.orders():
        return refused(f"there is no order {order} in these records", order, number)
    if records.is_forgotten(order):
        facts = read_facts(records, order)
        return refused(facts.filled(facts.rules.no_answer), order, number)
    head = next((h for h in records.heads(order) if h["edition"] == number), None)
    if head is None:
        return refused(f"there is no proof {number} of {order}", order, number, _SEND_AGAIN)
    if not block.fits(bytes.fromhex(head["key"]), head["fingerprint"]):
        return refused(
            f"the coded part of this answer to proof {number} of {order} was changed on the way",
            order, number, _SEND_AGAIN,
        )  # fmt: skip
    answer = replace(
        _bare_answer(head, AnswerKind(payload["answer"]), days.now),
        changes=tuple(map(AskedChange.of, payload.get("changes", ()))),
        wrong=tuple(payload.get("wrong", ())),
        marked=tuple(payload.get("marked", ())),
        may_print=payload.get("print"),
        may_show=payload.get("show"),
        name=payload.get("name", ""),
        remarks=payload.get("note", ""),
        written=payload["time"],
    )
    marked = {*answer.wrong, *(n for one in answer.changes for n in one.pieces)}
    there = records.pieces(head) if marked else frozenset()
    strange = sorted(marked - there) if there else []
    if strange:
        return refused(
            f"this answer marks {pieces(strange)}, and proof {number} of {order} has "
            f"{pieces(there)}",
            order, number, "ask the customer which one is meant",
        )  # fmt: skip
    return head, answer


def _take_all(
    records: Records, believed: Sequence[tuple[EditionHead, Answer]], days: _Days
) -> list[Outcome]:
    """Every answer of one mail; one to an older proof, quoted below a newer, is passed over."""
    newest: dict[str, int] = {}
    for _, answer in believed:
        newest[answer.order] = max(answer.edition, newest.get(answer.order, 0))
    return [_take(records, h, a, days) for h, a in believed if a.edition == newest[a.order]]


def _from_codes(records: Records, given: Given, days: _Days, ours: Ours) -> list[Outcome]:
    """The outcome of a spoken code, alone or somewhere in a text."""
    found = spoken.find(records, given, ours, days.now, days.on or days.mail or days.today)
    if not isinstance(found, spoken.Found):
        return found
    answer = replace(_bare_answer(found.head, found.kind, days.now), way="code")
    written = beside(found.around, (), [answer], ours, codes.as_said(found.head))
    return [_take(records, found.head, replace(answer, beside=written), days)]


# -- judging ---------------------------------------------------------------------------------


def _take(records: Records, head: EditionHead, answer: Answer, days: _Days) -> Outcome:
    """Record an answer that is known to be for this edition, or say why not."""
    made = moment(head["made"])
    if days.on and days.on < made.date() - _CLOCKS:
        early = refused(
            f"proof {head['edition']} of {head['order']} was made on {made.date().isoformat()}, "
            f"after {days.on.isoformat()}",
            head["order"], head["edition"], "give the day the answer came",
        )  # fmt: skip
        return replace(early, mistyped=True)
    day, day_from = _dated(made, days)
    answer = replace(answer, dated=day, dated_by=day_from)
    before = [a for a in records.answers(answer.order) if a.edition == answer.edition]
    same = any(answer.agrees(a) and not answer.adds(a) for a in before)
    if same and not answer.brings_words(before):
        return Outcome(
            status=Taken.NOTHING_NEW,
            sentence=f"{_what(answer)} was recorded before: nothing new.",
            order=answer.order,
            edition=answer.edition,
            answer=answer.answer,
        )
    late = _too_late(records, head, day)
    if late:
        return replace(late, wrote=_said_with(answer))
    records.record_answer(answer)
    outcome = _recorded(answer, [a for a in before if not answer.agrees(a)])
    facts = read_facts(records, answer.order)
    waits = facts.rules.press if answer.plain_ok and not answer.words else None
    if outcome.status is Taken.RECORDED and isinstance(waits, Refusal):
        return replace(outcome, cure=facts.filled(waits.cure))  # something came before it
    return outcome


def _too_late(records: Records, head: EditionHead, day: date) -> Outcome | None:
    """Why an edition takes no answer of that day any more; None while it does."""
    order, number = head["order"], head["edition"]
    facts = read_facts(records, order)
    rules = facts.rules
    new_proof = f"if it is still wanted, make a new proof: proofgen proof {order}"
    closed = None
    if rules.no_answer:
        cure = "" if rules.proof is When.NEVER else new_proof
        closed = refused(facts.filled(rules.no_answer), order, number, cure)
    if isinstance(rules.page, Notice) and closed:
        return closed  # no other edition is to be seen there either
    if number != facts.edition:
        now = f"proof {facts.edition}"
        return refused(
            f"this answers proof {number} of {order}, but {now} is the current one",
            order, number, f"ask the customer to look at {now}; the link is the same",
        )  # fmt: skip
    if closed:
        return closed
    if day > date.fromisoformat(head["answer_by"]):
        return refused(
            f"this answer to proof {number} of {order} is of {day.isoformat()}; "
            f"it could be answered until {head['answer_by']}",
            order, number, f"{new_proof}; if it came in time: --on DAY",
        )  # fmt: skip
    return None


def _dated(made: datetime, days: _Days) -> tuple[date, DayFrom]:
    """The day an answer counts for, and where it comes from.

    A mail's clock can be wrong: a day before the proof was made, or after today, is not believed.
    """
    if days.on:
        return days.on, "given"
    if days.mail and made.date() - _CLOCKS <= days.mail <= days.today:
        return days.mail, "mail"
    return days.today, "received"


def _said_with(answer: Answer) -> tuple[str, ...]:
    """What a customer said with an answer, beside a plain OK; quoted where it is told, so without
    quotation marks of its own."""
    asked = tuple(
        f"{one.old} → {one.new}" if one.new else f"wrong: {one.old}" for one in answer.changes
    )
    marked = (f"wrong: {pieces(answer.wrong)}",) if answer.wrong else ()
    words = (*answer.words, *asked, *marked)
    return words if words or answer.plain_ok else (ANSWERS[answer.answer].says,)


def _recorded(answer: Answer, differing: Sequence[Answer]) -> Outcome:
    file = file_of(answer.order)
    sentence = f"{_what(answer)} is recorded"
    sentence += f" ({answer.covers})." if answer.covers else "."
    if answer.wrong:
        sentence += f" Wrong pieces: {', '.join(map(str, answer.wrong))}."
    if answer.remarks.strip():
        sentence += f" Remarks: {quoted_whole(answer.remarks.strip())}."
    if answer.beside:
        beside_it = "; ".join(map(quoted_whole, answer.beside))
        sentence += f" Beside it stands: {beside_it}."
    if answer.unmarked:
        sentence += f" {answer.unmarked}"
    if answer.may_print is not None:
        sentence += f" You may {'' if answer.may_print else 'not '}use the pictures, they say."
    if answer.may_show is not None:
        sentence += f" You may {'' if answer.may_show else 'not '}show the work to others."
    cure = ANSWERS[answer.answer].to_do.format(order=answer.order, file=file)
    if answer.changes:
        sentence += f" {plural(len(answer.changes), 'text is', 'texts are')} to change:"
        cure = what_to_do(answer.changes).format(order=answer.order, file=file)
    elif answer.plain_ok and answer.words:
        sentence += " So the press waits."
        cure = WORDS_CURE.format(order=answer.order, file=file).partition("; ")[2]
    elif not answer.plain_ok and answer.answer is AnswerKind.OK:
        cure = f"proofgen proof {answer.order}"
    status = Taken.RECORDED
    if differing:
        status = Taken.TWO
        first = differing[0]
        sentence += (
            f" It differs from the answer of {first.day.isoformat()} "
            f"(“{ANSWERS[first.answer].called}”), so the order waits."
        )
        cure = f"ask which one holds, then make a new proof: proofgen proof {answer.order}"
    return Outcome(
        status=status,
        sentence=sentence,
        order=answer.order,
        edition=answer.edition,
        answer=answer.answer,
        cure=cure,
        asked=tuple(one.said for one in answer.changes),
    )


# -- small -----------------------------------------------------------------------------------


def _bare_answer(head: EditionHead, kind: AnswerKind, now: datetime) -> Answer:
    return Answer(
        order=head["order"],
        edition=head["edition"],
        fingerprint=head["fingerprint"],
        answer=kind,
        received=now,
    )


def _what(answer: Answer) -> str:
    who = f" from {visible(answer.name.strip())}" if answer.name.strip() else ""
    called = ANSWERS[answer.answer].called
    return f"The answer “{called}”{who} to proof {answer.edition} of {answer.order}"
