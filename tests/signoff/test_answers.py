"""Answers into the records: which count, which are nothing new, which are refused, and why."""

from __future__ import annotations

import re
import shutil
from dataclasses import replace
from datetime import date, timedelta
from email.message import EmailMessage

import pytest

from proofgen.errors import UsageError
from proofgen.signoff import (
    Known,
    Records,
    looks_like_code,
    read_facts,
    spelled,
    spoken_codes,
    take_in_person,
)
from proofgen.signoff.codes import ALPHABET, heard, read_code
from proofgen.signoff.facts import verdict_of, words_key
from proofgen.signoff.mail import looks_like_mail, open_mail
from tests.signoff.conftest import (
    ANSWER_BY,
    DOCUMENT,
    KEY,
    MADE,
    NOW,
    PICTURE,
    TODAY,
    code,
    new_edition,
    seen,
    take,
)
from tests.slips import WORDS, compose_slip, facts_of, payload_of, read_mail, signed


def slip(edition, answer="ok", name="Odalys Fenn", **given):
    return compose_slip(edition, answer, name=name, **given)


def mailed(text: str, day: str = "Thu, 26 Nov 2026 23:30:00 -0500", html: str = "") -> bytes:
    message = EmailMessage()
    message["From"] = "Odalys Fenn <odalys@example.org>"
    message["Subject"] = "Re: Answer to proof 1 of order fenn"
    if day:
        message["Date"] = day
    message.set_content(text)
    if html:
        message.add_alternative(html, subtype="html")
    return message.as_bytes()


def test_an_ok_is_recorded(records, kept):
    got = take(records, slip(kept, note="Lovely"))
    assert (got.status, got.order, got.edition, got.answer) == ("recorded", "fenn", 1, "ok")
    assert "Odalys Fenn" in got.sentence and "“Lovely”" in got.sentence
    assert "the press waits" in got.sentence and "proofgen answer --read fenn" in got.cure
    (answer,) = records.answers("fenn")
    assert (answer.way, answer.name, answer.remarks) == ("slip", "Odalys Fenn", "Lovely")
    assert answer.fingerprint == kept.fingerprint and answer.covers == ""


def test_the_other_answer_leads_to_a_new_proof(records, kept):
    got = take(records, slip(kept, "change", wrong=[12, 37]))
    assert got.status == "recorded" and "12, 37" in got.sentence
    assert got.cure.endswith("proofgen proof fenn")


def test_the_same_answer_twice_is_nothing_new(records, kept):
    take(records, slip(kept))
    lines = records.journal.path.read_bytes()
    for source in (
        slip(kept),
        slip(kept, written="2026-11-26T08:00:00Z"),
        mailed(slip(kept)),
        code(kept, "ok"),
        slip(kept) + slip(kept),
    ):
        got = take(records, source)
        assert got.status == "nothing new" and "recorded before" in got.sentence
    assert records.journal.path.read_bytes() == lines


@pytest.mark.parametrize(
    "second",
    [
        {"answer": "change"},
        {"wrong": [3]},
        {"answer": "change", "note": "but the name is wrong"},
        {"changes": [{"pieces": [1], "slot": "name", "line": 1, "old": "a", "new": "b"}]},
    ],
)
def test_a_differing_second_answer_stops_the_order(records, kept, second):
    take(records, slip(kept))
    got = take(records, slip(kept, **second))
    assert got.status == "two answers" and "the order waits" in got.sentence
    assert got.cure.endswith("proofgen proof fenn")
    assert len(records.answers("fenn")) == 2
    assert verdict_of(records.answers("fenn"), 1) == "two answers"


@pytest.mark.parametrize("turn", [1, -1])
@pytest.mark.parametrize("other", [{}, {"note": "by Friday, please"}])
def test_two_yeses_are_no_contradiction_and_words_beside_either_wait(records, kept, other, turn):
    said = "but the name is wrong"
    for given in [other, {"note": said}][::turn]:
        got = take(records, slip(kept, **given))
        assert got.status == "recorded" and "differs" not in got.sentence
    assert "--read fenn" in got.cure
    facts = read_facts(records, "fenn", TODAY)
    assert facts.state == "words" and set(facts.words) == {said, *other.values()}
    records.mark("fenn", "read", NOW, words=[words_key(said)])
    assert read_facts(records, "fenn", TODAY).state == ("words" if other else "signed")


def test_mere_thanks_beside_a_second_yes_hold_nothing(records, kept):
    take(records, slip(kept))
    assert take(records, slip(kept, note="Thank you!")).status == "recorded"
    assert verdict_of(records.answers("fenn"), 1) == "signed"


@pytest.mark.parametrize("around", ["", "PS, just between us: "])
def test_what_stands_beside_an_answer_is_told_whole(records, kept, around):
    long = around + " ".join(f"word{n}" for n in range(400)) + " the end"
    assert long in take(records, slip(kept, note=long)).sentence
    assert long in take(records, mailed(slip(kept) + "\n\n" + long + " of it")).sentence


@pytest.mark.parametrize("first", ["ok", "change"])
@pytest.mark.parametrize("second", ["ok", "change"])
@pytest.mark.parametrize("ways", ["slip code", "code slip", "code person", "person slip"])
def test_ways_may_be_mixed(records, kept, first, second, ways):
    def give(way, answer):
        if way == "person":
            return take_in_person(records, "fenn", "Bram", answer, NOW)
        return take(records, code(kept, answer) if way == "code" else slip(kept, answer))

    one, other = ways.split()
    assert give(one, first).status == "recorded"
    got = give(other, second)
    if first != second:
        assert got.status == "two answers"
        assert verdict_of(records.answers("fenn"), 1) == "two answers"
    else:
        assert got.status == ("nothing new" if one == "slip" else "recorded")
        assert (
            verdict_of(records.answers("fenn"), 1) == {"ok": "signed", "change": "changes"}[first]
        )


def test_a_later_permission_is_kept_beside_the_same_answer(records, kept):
    take(records, slip(kept))
    assert take(records, slip(kept, show=True)).status == "recorded"
    assert [a.may_show for a in records.answers("fenn")] == [None, True]
    assert verdict_of(records.answers("fenn"), 1) == "signed"


def test_an_ok_that_marks_pieces_wrong_is_no_plain_ok(records, kept):
    got = take(records, slip(kept, wrong=[2]))
    assert verdict_of(records.answers("fenn"), 1) == "changes"
    assert got.cure == "proofgen proof fenn"
    assert take(records, code(kept, "ok")).status == "two answers"


def test_two_differing_answers_in_one_mail_are_both_recorded(records, kept):
    got = take(records, mailed(slip(kept) + "\n> ".join(slip(kept, "change").splitlines())))
    assert got.status == "two answers"
    assert len(records.answers("fenn")) == 2


def test_one_mail_may_answer_two_orders(records, kept):
    other = new_edition(records, "quill", fill=9)
    got = take(records, slip(kept) + slip(other, "change"))
    assert got.status == "recorded"
    assert "of fenn" in got.sentence and "of quill" in got.sentence
    assert [records.answers(o)[0].answer for o in ("fenn", "quill")] == ["ok", "change"]


def test_a_damaged_answer_above_a_whole_one_takes_neither(records, kept):
    damaged = slip(kept, "change").replace("\nEND", "x\nEND")
    got = take(records, damaged + slip(kept))
    assert got.status == "refused" and "send the answer again" in got.cure
    assert records.answers("fenn") == []


# -- what is refused -------------------------------------------------------------------------


def test_a_changed_answer_is_refused_with_words_that_help(records, kept):
    text = slip(kept)
    at = text.index("BEGIN") + 20
    got = take(records, text[:at] + ("B" if text[at] != "B" else "C") + text[at + 1 :])
    assert got.status == "refused" and "on the way" in got.sentence
    assert "ask the customer to send the answer again" in got.cure
    assert records.answers("fenn") == []


def test_an_answer_under_another_key_is_refused(records, kept):
    got = take(records, slip(replace(kept, key=bytes(32))))
    assert (got.status, got.order, got.edition) == ("refused", "fenn", 1)
    assert "changed on the way" in got.sentence


def test_an_answer_for_other_artwork_is_refused(records, kept):
    """The right key, another fingerprint."""
    got = take(records, slip(replace(kept, fingerprint="00" * 32)))
    assert got.status == "refused" and records.answers("fenn") == []


def test_unknown_orders_and_editions_are_refused(records, kept):
    got = take(records, slip(replace(kept, order="nobody")))
    assert got.status == "refused" and "no order nobody" in got.sentence
    got = take(records, slip(replace(kept, number=4)))
    assert got.status == "refused" and "no proof 4 of fenn" in got.sentence


def test_an_old_proof_is_refused_and_the_current_one_named(records, kept):
    new_edition(records, fill=8)
    for source in (slip(kept), code(kept, "ok")):
        got = take(records, source)
        assert (got.status, got.edition) == ("refused", 1)
        assert "proof 1 of fenn" in got.sentence and "proof 2 is the current one" in got.sentence
    assert records.answers("fenn") == []


def test_what_an_old_proof_was_answered_is_quoted_once(records, kept):
    new_edition(records, fill=8)
    wish = {"pieces": [1], "slot": "name", "line": 1, "old": "Odalis", "new": "Odalys"}
    lost = {**wish, "slot": "couple", "old": "Brm", "new": ""}
    got = take(records, slip(kept, "change", changes=[wish, lost]))
    assert "“Odalis → Odalys”" in got.sentence and "“wrong: Brm”" in got.sentence
    assert "““" not in got.sentence and "””" not in got.sentence


def test_an_old_answer_quoted_below_a_new_one_is_passed_over(records, kept):
    take(records, slip(kept, "change"))
    second = new_edition(records, fill=8)
    got = take(records, slip(second) + slip(kept, "change"))
    assert got.status == "recorded" and got.edition == 2
    assert [(a.edition, a.answer) for a in records.answers("fenn")] == [(1, "change"), (2, "ok")]
    assert take(records, slip(kept, "change")).status == "nothing new"


def test_words_asked_otherwise_are_those_of_the_latest_proof(records, kept):
    """Said twice they stand there once; a new proof answers them, and what is asked then is new."""
    asked = {"pieces": [1], "slot": "name", "line": 1, "old": "Odalis", "new": "Odalys"}
    take(records, slip(kept, "change", changes=[asked]))
    take(records, slip(kept, "change", changes=[asked], note="Thank you!"))
    assert len(records.answers("fenn")) == 2
    assert [one.new for one in read_facts(records, "fenn", TODAY).asked] == ["Odalys"]
    second = new_edition(records, fill=8)
    assert read_facts(records, "fenn", TODAY).asked == ()
    take(records, slip(second, "change", changes=[{**asked, "old": "Odalys", "new": "Bram"}]))
    assert [one.new for one in read_facts(records, "fenn", TODAY).asked] == ["Bram"]


@pytest.mark.parametrize("event", ["withdrawn", "pressed", "handed-over"])
def test_a_closed_proof_takes_no_answer(records, kept, event):
    take(records, slip(kept))
    records.mark("fenn", event, NOW)
    got = take(records, slip(kept, "change"))
    assert got.status == "refused" and len(records.answers("fenn")) == 1
    assert take(records, slip(kept)).status == "nothing new"


def test_a_forgotten_order_takes_no_answer(records, kept):
    text = slip(kept)
    spoken = code(kept, "ok")
    one = records.names.id_of("fenn")
    records.forget("fenn", NOW)
    got = take(records, text)
    assert got.status == "refused" and "fenn" in got.sentence  # nobody knows that name
    assert take(records, spoken).status == "refused"
    for name in ("fenn", one):
        assert take_in_person(records, name, "Bram", "ok", NOW).status == "refused"


def test_what_is_no_answer_is_said_to_be_none(records, kept):
    for source in (
        "",
        "hello",
        b"\xff\x00\xfe",
        "Thanks, that looks very nice. " * 40,
        b"%PDF-1.7",
    ):
        got = take(records, source)
        assert got.status == "refused" and "no answer in this text" in got.sentence
    assert "too large" in take(records, "x" * 50_000_001).sentence


def test_words_of_a_customer_cannot_steer_a_terminal(records, kept):
    nasty = "Bob\x1b[2J\u202e\nrecorded: everything"
    got = take(records, slip(kept, name=nasty, note="\x1b]0;x\x07"))
    assert got.status == "recorded"
    assert got.sentence.isprintable()
    assert records.answers("fenn")[0].name == nasty


# -- days ------------------------------------------------------------------------------------

LATE = ANSWER_BY + timedelta(days=1)


@pytest.mark.parametrize(
    ("day", "on", "today", "status", "dated", "by"),
    [
        ("", None, ANSWER_BY, "recorded", ANSWER_BY, "received"),
        ("", None, LATE, "refused", None, None),
        ("Mon, 30 Nov 2026 23:59:00 +0100", None, LATE, "recorded", ANSWER_BY, "mail"),
        ("Tue, 01 Dec 2026 00:01:00 +0100", None, LATE, "refused", None, None),
        ("Tue, 01 Dec 2026 00:01:00 +0100", ANSWER_BY, LATE, "recorded", ANSWER_BY, "given"),
        ("Mon, 30 Nov 2026 23:59:00 +0100", LATE, LATE, "refused", None, None),
        ("Thu, 01 Jan 1970 00:00:00 +0000", None, LATE, "refused", None, None),
        ("Thu, 01 Jan 1970 00:00:00 +0000", None, TODAY, "recorded", TODAY, "received"),
        ("Fri, 01 Jan 2100 00:00:00 +0000", None, TODAY, "recorded", TODAY, "received"),
        ("no day at all", None, TODAY, "recorded", TODAY, "received"),
        ("", LATE, TODAY, "refused", None, None),
    ],
)
def test_the_day_that_counts(records, kept, day, on, today, status, dated, by):
    """A mail's own Date, unless the maker says one; a clock that must be wrong is not believed."""
    source = mailed(slip(kept), "")
    if day:
        source = b"Date: " + day.encode() + b"\n" + source
    got = take(records, source, on=on, today=today)
    assert got.status == status, got.sentence
    if status == "recorded":
        (answer,) = records.answers("fenn")
        assert (answer.dated, answer.dated_by) == (dated, by)
    else:
        assert records.answers("fenn") == []


def test_a_late_answer_is_told_its_days(records, kept):
    got = take(records, slip(kept), today=LATE)
    assert "2026-12-01" in got.sentence and "2026-11-30" in got.sentence
    assert "--on DAY" in got.cure and "proofgen proof fenn" in got.cure


# -- mails -----------------------------------------------------------------------------------


def test_a_mail_is_read_with_its_own_day():
    text, day = read_mail(mailed("Grüße\n"))
    assert text.strip() == "Grüße"
    assert day == date(2026, 11, 26)


def test_html_is_read_when_the_plain_part_was_spoiled(records, kept):
    body = "".join(f"<div>{line}</div>" for line in slip(kept).splitlines())
    for plain in ("This mail needs a newer program.", slip(kept)[:300]):
        got = take(records, mailed(plain, html=body))
        assert got.status in ("recorded", "nothing new")
    assert len(records.answers("fenn")) == 1


def test_html_saved_as_a_file_is_read(records, kept):
    body = "<html><body>" + slip(kept).replace("\n", "<br>\n") + "</body></html>"
    assert take(records, body.encode()).status == "recorded"


def test_a_mail_pasted_whole_is_read(records, kept):
    assert take(records, mailed(slip(kept)).decode()).status == "recorded"
    assert records.answers("fenn")[0].dated_by == "mail"


def test_a_slip_is_not_taken_for_a_mail(kept):
    assert not looks_like_mail(slip(kept).encode())
    assert not looks_like_mail(b"Name: Odalys\n\nHello")
    assert looks_like_mail(b"From odalys Thu Nov 26\nSubject: x\nDate: Thu, 26 Nov 2026\n\nHi")


HOSTILE = {
    "unknown charset": b"Date: x\nContent-Type: text/plain; charset=klingon\n\nhi",
    "broken base64": b"Date: x\nContent-Type: text/plain\nContent-Transfer-Encoding: base64\n\n!!!",
    "no end": b"Date: x\nContent-Type: multipart/mixed; boundary=a\n\n--a\n\nhi",
    "empty boundary": b"Date: x\nContent-Type: multipart/mixed\n\n--\n\nhi",
    "nested": b"Date: x\n" + b"".join(
        b"Content-Type: multipart/mixed; boundary=b%d\n\n--b%d\n" % (n, n) for n in range(400)
    ) + b"\nhi",
    "nul": b"Date: x\nFrom: \x00\n\n\x00\x00",
    "many headers": b"Date: x\n" * 5000 + b"\nhi",
    "year 0": b"Date: Thu, 00 Xyz 0000 99:99:99 +9999\nFrom: x\n\nhi",
    "nested markup": b"Date: x\nContent-Type: text/html\n\n" + b"<div>" * 20000 + b"<!--<![",
    "markup": b"<html>" + b"<p><script>" * 500 + b"</p>",
}  # fmt: skip


@pytest.mark.parametrize("case", HOSTILE)
def test_a_hostile_mail_is_refused_not_fatal(records, kept, case):
    assert take(records, HOSTILE[case]).status == "refused"
    assert isinstance(open_mail(HOSTILE[case]).texts, tuple)


# -- codes -----------------------------------------------------------------------------------


def both(edition):
    return {answer: code(edition, answer) for answer in ("ok", "change")}


def test_the_codes_are_the_published_ones(kept, records):
    """Looked up in vectors.json, which is made without proofgen."""
    later = new_edition(records, fill=8)
    every = [*both(kept).values(), *both(later).values()]
    assert [*spoken_codes(kept).values(), *spoken_codes(later).values()] == every
    assert len(set(every)) == 4
    for one in every:
        assert [len(part) for part in one.split("-")] == [4, 4]
        assert set(one) <= set(ALPHABET + "-")


def mishear(code: str) -> str:
    return code.replace("0", "o").replace("1", "l")


@pytest.mark.parametrize(
    "say",
    [
        str, str.lower, mishear, lambda c: mishear(c).upper(), lambda c: c.replace("1", "I"),
        lambda c: c.replace("-", ""), lambda c: c.replace("-", " "), lambda c: " ".join(c),
        lambda c: c.replace("-", " – "), lambda c: f"  {c}.\n", lambda c: c.replace("-", "\u00a0"),
        lambda c: "".join(chr(ord(x) + 0xFEE0) if x.isalnum() else x for x in c),
        lambda c: f"Dear shop, many thanks for this. My code is {c.lower()}, see you on Friday.",
        lambda c: "> hello\n> and so on, this is quoted by a mail program\n> code: " + c,
    ],
)  # fmt: skip
@pytest.mark.parametrize("fill", [7, 21])
def test_a_code_is_forgiven_its_spelling(records, say, fill):
    edition = new_edition(records, fill=fill)
    got = take(records, say(code(edition, "change")))
    assert (got.status, got.answer) == ("recorded", "change"), got.sentence
    assert "by code alone, which does not prove who gave it" in got.sentence
    (answer,) = records.answers("fenn")
    assert (answer.way, answer.name, answer.changes) == ("code", "", ())
    assert answer.covers == "by code alone, which does not prove who gave it"


def test_the_mail_that_a_page_without_script_opens_is_read(records, kept):
    words = WORDS["title"].format(edition=1, order="fenn")
    body = f"{words}\r\n\r\n{WORDS['change']}\r\n{code(kept, 'change')}\r\n"
    assert take(records, mailed(body)).answer == "change"


def test_a_code_in_a_mail_counts_by_its_day(records, kept):
    got = take(records, mailed(f"My code: {code(kept, 'ok')}"), today=LATE)
    assert got.status == "recorded"
    assert records.answers("fenn")[0].dated == date(2026, 11, 26)


def near_ones(code: str) -> set[str]:
    """Every code that one slip of the tongue or the finger makes of it."""
    plain = read_code(code)
    found = {plain[:n] + c + plain[n + 1 :] for n in range(8) for c in ALPHABET}
    found |= {plain[:n] + c + plain[n:] for n in range(9) for c in ALPHABET}
    found |= {plain[:n] + plain[n + 1 :] for n in range(8)}
    found |= {plain[:n] + plain[n + 1] + plain[n] + plain[n + 2 :] for n in range(7)}
    return found - {plain}


def test_a_near_miss_names_the_proof_and_is_refused(records, kept, tmp_path):
    """Single symbols, swaps with a neighbour, one too many or too few: all there are."""
    new_edition(records, "quill", fill=9)
    count = 0
    for answer, said in both(kept).items():
        for near in sorted(near_ones(said)):
            if count % 20 == 0:  # what is refused is kept, and each reads all that was
                one = shutil.copytree(tmp_path / "records", tmp_path / f"records {count}")
                records = Records(one)
            got = take(records, near)
            assert got.status == "refused", near
            assert (got.order, got.edition) == ("fenn", 1)
            assert "proof 1 of fenn" in got.sentence and "close to a code" in got.sentence
            assert answer not in got.sentence and said not in got.sentence + got.cure
            assert records.answers("fenn") == []
            count += 1
    assert count > 1000


def test_a_near_miss_in_a_longer_text_is_told(records, kept):
    near = code(kept, "ok")
    near = near[:3] + ("7" if near[3] != "7" else "8") + near[4:]
    text = f"When they were here last week, they said that your code must read {near} okay? Thanks"
    assert "close to a code of proof 1 of fenn" in take(records, text).sentence


def test_a_code_that_takes_no_answer_any_more_is_no_near_miss(records, kept):
    """Only proofs that can still be answered are compared; the very code is told its reason."""
    records.mark("fenn", "withdrawn", NOW)
    near = next(iter(near_ones(code(kept, "ok"))))
    assert take(records, near).order == ""
    assert "withdrawn" in take(records, code(kept, "ok")).sentence


SPOKEN = {
    "in words": lambda c: spelled(c),
    "in small words": lambda c: spelled(c).lower(),
    "numbers as words": lambda c: re.sub(r"\d", lambda m: f" {NUMBERS[int(m[0])]} ", spelled(c)),
    "as others spell them": lambda c: spelled(c)
    .replace("Alfa", "Alpha").replace("Juliett", "Juliet").replace("X-ray", "xray"),
    "half in words": lambda c: f"{c[:4]} {spelled(c[5:])}",
    "with manners": lambda c: f"Hello,\n\nmy code is {spelled(c)}.\n\nThank you!",
    "with dashes": lambda c: spelled(c).replace(" ", "-"),
    "one a line": lambda c: spelled(c).replace(" ", "\n> "),
}  # fmt: skip
NUMBERS = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")


@pytest.mark.parametrize("way", SPOKEN)
@pytest.mark.parametrize("answer", ["ok", "change"])
@pytest.mark.parametrize("fill", [7, 21])
def test_a_code_may_be_spelled(records, way, answer, fill):
    proof = new_edition(records, fill=fill)
    got = take(records, SPOKEN[way](code(proof, answer)), ours=lambda _: Known(names=("Tern",)))
    assert (got.status, got.answer) == ("recorded", answer), got.sentence
    assert records.answers("fenn")[0].words == ()


def test_every_word_of_the_alphabet_is_shown_and_understood():
    """ICAO Annex 10 volume II 5.2.1.3; digits are said as digits."""
    assert spelled("K2VC-2559") == "Kilo 2 Victor Charlie, 2 5 5 9"
    said = [spelled(letter) for letter in ALPHABET]
    assert said[:10] == list("0123456789")
    assert said[10:] == [
        "Alfa", "Bravo", "Charlie", "Delta", "Echo", "Foxtrot", "Golf", "Hotel", "Juliett",
        "Kilo", "Mike", "November", "Papa", "Quebec", "Romeo", "Sierra", "Tango", "Victor",
        "Whiskey", "X-ray", "Yankee", "Zulu",
    ]  # fmt: skip
    for start in range(0, 32, 8):
        symbols = ALPHABET[start : start + 8]
        assert symbols in {one.symbols for one in heard(spelled(symbols))}


def test_a_group_that_reads_like_a_word_is_a_group():
    assert {"PAPAK2VC", "PK2VC"} & {one.symbols for one in heard("papa-k2vc")} == {"PAPAK2VC"}


def test_looks_like_a_code():
    for text in ("K2VC-2559", "k2vc 2559", "KXVC-ABCD", "kilo two victor charlie 2 5 5 9",
                 "K2VC-255", "2559K2VC", "ABCD-EFGH-JKMN-PQRS"):  # fmt: skip
        assert looks_like_code(text), text
    for text in ("answers", "mail", "-", "the answer of mine", "", "fenn", "K2VC"):
        assert not looks_like_code(text), text


def test_far_codes_name_nobody(records, kept):
    got = take(records, "0000-0000")
    assert got.status == "refused" and got.order == ""


def test_a_text_with_several_codes_is_no_answer(records, kept):
    text = "Answer by telephone: " + ", ".join(both(kept).values())
    got = take(records, text)
    assert got.status == "refused" and "two answers" in got.sentence
    assert records.answers("fenn") == []


def test_a_block_counts_before_a_code(records, kept):
    text = slip(kept, "change") + "\nAnswer by telephone: " + ", ".join(both(kept).values())
    assert take(records, text).answer == "change"
    assert len(records.answers("fenn")) == 1


# -- in person -------------------------------------------------------------------------------


def test_an_answer_in_person_is_recorded_as_such(records, kept):
    got = take_in_person(records, "fenn", " Bram Okoro ", "ok", NOW)
    assert got.status == "recorded" and "given in person" in got.sentence
    (answer,) = records.answers("fenn")
    assert (answer.way, answer.name, answer.edition) == ("person", "Bram Okoro", 1)
    assert take_in_person(records, "fenn", "Bram Okoro", "ok", NOW).status == "nothing new"
    assert take_in_person(records, "fenn", "Odalys", "change", NOW).status == "two answers"


def test_an_answer_in_person_has_the_same_limits(records, kept):
    assert take_in_person(records, "fenn", "B", "ok", NOW, today=LATE).status == "refused"
    assert take_in_person(records, "nobody", "B", "ok", NOW).status == "refused"
    records.mark("fenn", "withdrawn", NOW)
    assert take_in_person(records, "fenn", "B", "ok", NOW).status == "refused"
    with pytest.raises(UsageError, match="is no answer"):
        take_in_person(records, "fenn", "B", "fine", NOW)
    with pytest.raises(UsageError, match="needs a name"):
        take_in_person(records, "fenn", "  ", "ok", NOW)
    assert records.answers("fenn") == []


# -- nonsense under a right key --------------------------------------------------------------

LINES = [{"variants": [{"pieces": list(range(1, 9))}, {"pieces": [9, 10, 11, 12]}]}]


def with_pieces(records):
    document = {**DOCUMENT, "order": "fenn", "lines": LINES}
    picture = {"line1-a-round.png": (PICTURE, seen(PICTURE))}
    return records.new_edition("fenn", document, picture, MADE, ANSWER_BY, KEY)


def test_a_piece_that_is_not_there_is_refused(records):
    proof = with_pieces(records)
    got = take(records, slip(proof, "change", wrong=[12, 99999]))
    assert got.status == "refused" and "piece 99999" in got.sentence
    assert "pieces 1 to 12" in got.sentence
    assert records.answers("fenn") == []
    assert take(records, slip(proof, "change", wrong=[12])).status == "recorded"


@pytest.mark.parametrize("time", ["2026-11-25T99:99:99Z", "2026-13-01T10:00:00Z"])
def test_a_time_that_no_clock_shows_is_refused(records, kept, time):
    got = take(records, signed(payload_of(facts_of(kept), "ok", time), facts_of(kept)))
    assert got.status == "refused" and records.answers("fenn") == []


@pytest.mark.parametrize("day", [date(2026, 11, 23), date(2020, 1, 1)])
def test_an_answer_from_before_the_proof_is_refused(records, kept, day):
    got = take(records, slip(kept), on=day)
    assert got.status == "refused" and "2026-11-25" in got.sentence
    assert records.answers("fenn") == []
    said = take_in_person(records, "fenn", "Odalys", "ok", now=NOW, today=day)
    assert said.status == "refused" and records.answers("fenn") == []
