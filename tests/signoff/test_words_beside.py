"""Whatever a person writes beside an OK is kept, shown, and holds the press until it was read."""

from __future__ import annotations

import html
import json
import textwrap
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from email.header import Header
from email.message import EmailMessage
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from proofgen.errors import SignoffError
from proofgen.say.tongue import Tongue
from proofgen.signoff import (
    EventKind,
    Known,
    State,
    admit,
    read_facts,
    spelled,
    words_in,
    words_key,
)
from proofgen.signoff.heading import only_names
from proofgen.signoff.manners import TO_ALL
from proofgen.signoff.wording import person_words
from tests.signoff.conftest import (
    ANSWER_BY,
    DOCUMENT,
    KEY,
    MADE,
    NOW,
    PICTURE,
    RASTERS,
    TODAY,
    code,
    new_edition,
    seen,
    take,
)
from tests.slips import WORDS as WORDS_OF
from tests.slips import compose_slip, facts_of

LETTER = """Subject: Your proof 1 from Tern Row Press Room, answer by Monday 30 November

Dear Odalys Fenn,

your proof is ready. Please look at it before we press anything:

https://ternrow.example/p/3f9akz7v0q8r2m1c5x6d4w9bhnte/

Please check four things:

1. The words: every name and date, letter by letter.
2. The cut: what the edges take away.
3. The colours: ink on cloth is quieter than a lit screen.
4. The amount: 12 pieces for €174.00, ready on Saturday 12 December 2026.

At the end of the page you choose your answer. We need it by Monday 30 November 2026.

Tern Row Press Room
hello@ternrow.example
"""
SHOP = ("Tern Row Press Room", "hello@ternrow.example", "Odalys Fenn", "odalys@example.org")
OURS = Known(texts=(LETTER,), names=SHOP, marks=("3f9akz7v0q8r2m1c5x6d4w9bhnte",))


def ours(_: str) -> Known:
    return OURS


@dataclass(frozen=True)
class Mail:
    """An answer before a mail program has put it into its own form. Everything here is ours, a
    greeting or a signature, until a test writes something into one of the places."""

    slip: tuple[str, ...]
    subject: str = "Re: Your proof 1 from Tern Row Press Room, answer by Monday 30 November"
    top: tuple[str, ...] = ("Hello Tern Row,", "")
    below: tuple[str, ...] = ("", "Many thanks", "Odalys")
    signature: tuple[str, ...] = ("Odalys Fenn", "+353 1 555 0199")
    quoted: tuple[str, ...] = field(default=tuple(LETTER.splitlines()[2:]))
    after: tuple[str, ...] = ()
    files: tuple[tuple[str, str, bytes], ...] = ()


def _quoted(mail: Mail) -> list[str]:
    return [f"> {line}".rstrip() for line in mail.quoted]


INTRO = "On Wed, 25 Nov 2026 at 10:12, Tern Row Press Room <hello@ternrow.example> wrote:"


def webmail(mail: Mail) -> EmailMessage:
    """Plain and HTML, the letter quoted below an introduction that wraps."""
    lines = [*mail.top, *mail.slip, *mail.below, "", "-- ", *mail.signature, ""]
    plain = [*lines, *textwrap.wrap(INTRO, 60), "", *_quoted(mail), "", *mail.after]
    made = _message(mail, "\n".join(plain))
    body = [f"<div>{html.escape(line) or '<br>'}</div>" for line in [*lines, INTRO]]
    body += ["<blockquote>", *(f"<div>{html.escape(q) or '<br>'}</div>" for q in mail.quoted)]
    body += ["</blockquote>", *(f"<div>{html.escape(a)}</div>" for a in mail.after)]
    made.add_alternative("<html><body>" + "".join(body) + "</body></html>", subtype="html")
    return _with_files(mail, made)


def phone(mail: Mail) -> EmailMessage:
    """Plain, with the phone's own line above the quoted letter."""
    lines = [*mail.top, *mail.slip, *mail.below, "", "-- ", *mail.signature, ""]
    lines += ["Sent from my iPhone", "", INTRO, "", *_quoted(mail), *mail.after]
    return _with_files(mail, _message(mail, "\n".join(lines)))


def office(mail: Mail) -> EmailMessage:
    """HTML alone; the letter below a block of header lines, without quote marks."""
    lines = [*mail.top, *mail.slip, *mail.below, "", "-- ", *mail.signature, ""]
    head = [
        "From: Tern Row Press Room <hello@ternrow.example>",
        "Sent: Wednesday, 25 November 2026 10:12",
        "To: Odalys Fenn <odalys@example.org>",
        "Subject: Your proof 1 from Tern Row Press Room, answer by Monday 30 November",
        "",
    ]
    body = "".join(
        f"<p>{html.escape(line) or '&nbsp;'}</p>"
        for line in [*lines, *head, *mail.quoted, *mail.after]
    )
    made = _message(mail, "")
    made.set_content(f"<html><head><style>p{{margin:0}}</style></head>{body}</html>", "html")
    return _with_files(mail, made)


def flowed(mail: Mail) -> EmailMessage:
    """Plain, everything wrapped at 60, the slip itself quoted as a forwarded text would be."""
    lines = [w for x in [*mail.top, *mail.slip] for w in (textwrap.wrap(x, 60) or [""])]
    quoted = [f"> {w}" for x in mail.quoted for w in (textwrap.wrap(x, 60) or [""])]
    lines = [f"> {line}" if 2 < at < 2 + len(mail.slip) else line for at, line in enumerate(lines)]
    lines += [*mail.below, "", "-- ", *mail.signature, "", INTRO, *quoted, *mail.after]
    return _with_files(mail, _message(mail, "\n".join(lines)))


def _message(mail: Mail, text: str) -> EmailMessage:
    made = EmailMessage()
    made["From"] = "Odalys Fenn <odalys@example.org>"
    made["To"] = "hello@ternrow.example"
    made["Date"] = "Thu, 26 Nov 2026 08:30:00 +0000"
    made["Subject"] = mail.subject
    made.set_content(text)
    return made


def _with_files(mail: Mail, made: EmailMessage) -> EmailMessage:
    for name, kind, content in mail.files:
        main, sub = kind.split("/")
        made.add_attachment(content, maintype=main, subtype=sub, filename=name)
    return made


PROGRAMS: dict[str, Callable[[Mail], EmailMessage]] = {
    "webmail": webmail,
    "phone": phone,
    "office": office,
    "flowed": flowed,
}


def _put(lines: tuple[str, ...], at: int, text: str) -> tuple[str, ...]:
    return (*lines[:at], text, *lines[at:])


def _onto(lines: tuple[str, ...], start: str, text: str) -> tuple[str, ...]:
    """Typed onto the end of the line that begins so."""
    assert any(line.startswith(start) for line in lines)
    return tuple(f"{line}{text}" if line.startswith(start) else line for line in lines)


WORDS = "please write Willy with y"
PLACES: dict[str, Callable[[Mail], Mail]] = {
    "subject": lambda m: replace(m, subject=f"Re: {WORDS}"),
    "subject, behind ours": lambda m: replace(m, subject=f"{m.subject}, {WORDS}"),
    "first line": lambda m: replace(m, top=(WORDS, *m.top)),
    "in the greeting": lambda m: replace(m, top=(f"Hello, {WORDS}", "")),
    "below the greeting": lambda m: replace(m, top=(*m.top, WORDS, "")),
    "right above the slip": lambda m: replace(m, top=(*m.top, WORDS)),
    "right below the code": lambda m: replace(m, below=(WORDS, *m.below)),
    "below the code": lambda m: replace(m, below=("", WORDS, *m.below)),
    "behind the thanks": lambda m: replace(m, below=("", f"Many thanks, {WORDS}", "Odalys")),
    "behind the name": lambda m: replace(m, below=(*m.below, WORDS)),
    "a postscript": lambda m: replace(m, below=(*m.below, "", f"PS: {WORDS}")),
    "in the signature": lambda m: replace(m, signature=(*m.signature, WORDS)),
    "first in the signature": lambda m: replace(m, signature=(WORDS, *m.signature)),
    "above the quoted letter": lambda m: replace(m, quoted=(WORDS, *m.quoted)),
    "between its lines": lambda m: replace(m, quoted=_put(m.quoted, 9, WORDS)),
    "onto one of its lines": lambda m: replace(m, quoted=_onto(m.quoted, "1. The", f" {WORDS}")),
    "in one of its lines": lambda m: replace(
        m, quoted=tuple(x.replace("letter by letter", WORDS) for x in m.quoted)
    ),
    "behind its last line": lambda m: replace(m, quoted=(*m.quoted, WORDS)),
    "below everything": lambda m: replace(m, after=("", WORDS)),
    "a text hung on": lambda m: replace(m, files=(("note.txt", "text/plain", WORDS.encode()),)),
    "a text of no kind": lambda m: replace(
        m, files=(("note.txt", "application/octet-stream", WORDS.encode()),)
    ),
    "a page hung on": lambda m: replace(
        m, files=(("note.html", "text/html", f"<p>{WORDS}</p>".encode()),)
    ),
    "in Arabic": lambda m: replace(m, below=("", "من فضلك اكتب ويلي بالياء", *m.below)),
    "in German, short": lambda m: replace(m, top=("Hallo, aber ohne Datum", "")),
    "one word": lambda m: replace(m, top=(*m.top, "STOP", "")),
    "a picture of a thumb": lambda m: replace(m, top=(*m.top, "👎", "")),
    "a scan hung on": lambda m: replace(
        m, files=(("scan.jpg", "image/jpeg", b"\xff\xd8\xff\xe0 not read"),)
    ),
}  # fmt: skip


# In the lines of the slip itself.
IN_SLIP: dict[str, Callable[[Mail], Mail]] = {
    "onto the slip's title": lambda m: replace(m, slip=_onto(m.slip, "Answer to", f" {WORDS}")),
    "below the slip's title": lambda m: replace(m, slip=_put(m.slip, 1, WORDS)),
    "onto the answer": lambda m: replace(m, slip=_onto(m.slip, "Yes.", f" {WORDS}")),
    "before the answer": lambda m: replace(
        m, slip=tuple(x.replace("Yes.", f"{WORDS} Yes.") for x in m.slip)
    ),
    "in the answer": lambda m: replace(
        m, slip=tuple(x.replace("as shown", f"as shown, {WORDS}") for x in m.slip)
    ),
    "onto the name": lambda m: replace(m, slip=_onto(m.slip, "Name:", f", {WORDS}")),
    "before the name": lambda m: replace(m, slip=_put(m.slip, 3, WORDS)),
    "as remarks": lambda m: replace(m, slip=_put(m.slip, 4, f"Remarks: {WORDS}")),
    "as a change": lambda m: replace(m, slip=_put(m.slip, 3, f"Words to change: {WORDS}")),
    "above the last sentence": lambda m: replace(m, slip=_put(m.slip, 5, WORDS)),
    "onto the last sentence": lambda m: replace(m, slip=_onto(m.slip, "Please send", f" {WORDS}")),
    "right above the code": lambda m: replace(m, slip=_put(m.slip, 6, WORDS)),
    "NOT before the yes": lambda m: replace(
        m, slip=tuple(x.replace("Yes.", "NOT Yes.") for x in m.slip)
    ),
    "the other answer above": lambda m: replace(
        m, slip=_put(m.slip, 2, "Not yet. Change what I write and show me again."),
        below=(*m.below, "y not i"),
    ),
    "a letter turned": lambda m: replace(
        m, slip=tuple(x.replace("exactly", "exactly NOT") for x in m.slip),
        below=(*m.below, "y not i"),
    ),
}  # fmt: skip
IN_OLD_SLIP: dict[str, Callable[[Mail], Mail]] = {
    "onto the slip's title": lambda m: replace(m, slip=_onto(m.slip, "Answer to", f" {WORDS}")),
    "below the slip's title": lambda m: replace(m, slip=_put(m.slip, 1, WORDS)),
    "onto the answer": lambda m: replace(m, slip=_onto(m.slip, "OK:", f" {WORDS}")),
    "before the answer": lambda m: replace(
        m, slip=tuple(x.replace("OK:", f"{WORDS} OK:") for x in m.slip)
    ),
    "onto what was checked": lambda m: replace(m, slip=_onto(m.slip, "I checked", f", {WORDS}")),
    "onto the name": lambda m: replace(m, slip=_onto(m.slip, "Name:", f", {WORDS}")),
    "as remarks": lambda m: replace(m, slip=_put(m.slip, 6, f"Remarks: {WORDS}")),
    "onto the time": lambda m: replace(m, slip=_onto(m.slip, "Written:", f" {WORDS}")),
    "above the last sentence": lambda m: replace(m, slip=_put(m.slip, 7, WORDS)),
    "onto the last sentence": lambda m: replace(m, slip=_onto(m.slip, "The lines", f" {WORDS}")),
    "right above the code": lambda m: replace(m, slip=_put(m.slip, 9, WORDS)),
    "NOT before the OK": lambda m: replace(
        m, slip=tuple(x.replace("OK:", "NOT OK:") for x in m.slip)
    ),
    "a letter turned": lambda m: replace(
        m, slip=tuple(x.replace("the shop", "the Shop may NOT") for x in m.slip[:-3]) + m.slip[-3:],
        below=(*m.below, "y not i"),
    ),
}  # fmt: skip
OLD = json.loads((Path(__file__).parent / "old_slip_vector.json").read_bytes())


def old_proof(records: Any) -> tuple[str, ...]:
    """The published slip of version 1, and the proof that it answers kept in the records."""
    rasters = {"line1-a-round.png": (PICTURE, RASTERS["line1-a-round.png"])}
    made = records.new_edition("fenn", DOCUMENT, rasters, MADE, ANSWER_BY, KEY)
    assert made.fingerprint == OLD["fingerprint"]
    return tuple(OLD["vectors"][0]["slip"].splitlines())


def ok_slip(kept: Any, remarks: str = "") -> tuple[str, ...]:
    return tuple(compose_slip(kept, name="Odalys Fenn", note=remarks).splitlines())


def state(records: Any) -> State:
    return read_facts(records, "fenn", TODAY).state


def press(records: Any) -> Any:
    return admit(records, "fenn", {**DOCUMENT, "order": "fenn", "ppi": 307}, seen)


@pytest.mark.parametrize("program", PROGRAMS)
def test_an_answer_with_nothing_beside_it_opens_the_press(records, kept, program):
    got = take(records, PROGRAMS[program](Mail(ok_slip(kept))).as_bytes(), ours=ours)
    assert got.status == "recorded", got
    assert records.answers("fenn")[0].words == ()
    assert state(records) == "signed" and press(records)


@pytest.mark.parametrize("heads", [3, 2, 1])
@pytest.mark.parametrize(
    "line", ["---------- Forwarded message ----------", "-----Ursprüngliche Nachricht-----"]
)
def test_an_answer_that_was_forwarded_under_few_header_lines_opens_the_press(
    records, kept, line, heads
):
    head = [
        "From: Odalys Fenn <odalys@example.org>",
        "Subject: Answer",
        "To: hello@ternrow.example",
    ]
    quoted = [f"> {one}" for one in ok_slip(kept)]
    said = "\n".join([line, *head[:heads], "", *quoted])
    take(records, said, ours=ours)
    assert records.answers("fenn")[0].words == ()
    assert state(records) == "signed" and press(records)


def test_lines_that_hold_nothing_cost_no_more_than_others() -> None:
    """Each was compared with all above it: ten thousand took minutes (pytest's timeout tells)."""
    assert person_words(["\n" * 10_000 + "hello there, please wait"], OURS)


def test_what_is_no_header_line_of_a_forward_stays(records, kept):
    said = ["Forwarded by me", "From: the left the second name is wrong", *ok_slip(kept)]
    take(records, "\n".join(said), ours=ours)
    assert "the second name is wrong" in " ".join(records.answers("fenn")[0].words)


# How mail programs of other languages head the mail they quote without marks; from memory.
HEADS = {
    "it": "Da: {}|Inviato: mercoledì 25 novembre 2026 10:12|A: {}|Oggetto: {}",
    "pt": "De: {}|Enviado: quarta-feira, 25 de novembro de 2026 10:12|Para: {}|Assunto: {}",
    "pl": "Od: {}|Wysłano: środa, 25 listopada 2026 10:12|Do: {}|Temat: {}",
    "nl": "Van: {}|Verzonden: woensdag 25 november 2026 10:12|Aan: {}|Onderwerp: {}",
    "sv": "Från: {}|Skickat: onsdag den 25 november 2026 10:12|Till: {}|Ämne: {}",
    "da": "Fra: {}|Sendt: onsdag den 25. november 2026 10:12|Til: {}|Emne: {}",
    "tr": "Kimden: {}|Gönderildi: 25 Kasım 2026 Çarşamba 10:12|Kime: {}|Konu: {}",
    "cs": "Od: {}|Odesláno: středa 25. listopadu 2026 10:12|Komu: {}|Předmět: {}",
    "fr": "De : {}|Envoyé : mercredi 25 novembre 2026 10:12|À : {}|Objet : {}",
}
SENT = [
    "Inviato da iPhone", "Inviato dal mio iPad", "Enviado do meu iPhone", "Wysłane z iPhone",
    "Verstuurd vanaf mijn iPhone", "Verzonden met Outlook voor iOS", "Skickat från min iPhone",
    "Sendt fra min iPhone", "Odesláno z iPhone",
]  # fmt: skip


def headed(language: str) -> list[str]:
    who = ("Tern Row Press Room <hello@ternrow.example>", "Odalys Fenn <odalys@example.org>")
    subject = LETTER.splitlines()[0].removeprefix("Subject: ")
    return HEADS[language].format(*who, subject).split("|")


@pytest.mark.parametrize("language", HEADS)
def test_a_letter_quoted_below_another_languages_head_holds_nothing(records, kept, language):
    below = [*headed(language), "", *LETTER.splitlines()[2:]]
    take(records, "\n".join([*ok_slip(kept), "", *below]), ours=ours)
    assert state(records) == "signed", records.answers("fenn")[0].words


@pytest.mark.parametrize("language", HEADS)
def test_a_wish_in_the_guise_of_one_line_of_such_a_head_is_not_lost(records, kept, language):
    for line in (*headed(language)[:3], f"{headed(language)[1].partition(':')[0]}: 12 June"):
        wish = f"{line.partition(':')[0]}: 12 June 2027"
        take(records, "\n".join([wish, *ok_slip(kept)]), ours=ours)
        assert state(records) == "words"
    head = headed(language)
    head[1] += ", 8 pieces please"
    take(records, "\n".join([*ok_slip(kept), "", *head, "", "y"]), ours=ours)
    assert any("8 pieces" in words for words in read_facts(records, "fenn", TODAY).words)


@pytest.mark.parametrize("line", SENT)
def test_where_another_languages_mail_was_sent_from_holds_nothing(records, kept, line):
    take(records, "\n".join([*ok_slip(kept), "", line]), ours=ours)
    assert state(records) == "signed", records.answers("fenn")[0].words


ASKED = [
    {"pieces": [12], "slot": "name", "line": 1, "old": "Odalis", "new": "Odalys"},
    {"pieces": list(range(1, 13)), "slot": "date", "line": 1, "old": "12 June", "new": "١٣ يونيو"},
]
NOTE = "The sky is too dark for me, please make it lighter.\n\n> Many thanks\nthe other way, y"


@pytest.mark.parametrize("program", PROGRAMS)
@pytest.mark.parametrize("language", ["en", "de", "ar"])
@pytest.mark.parametrize("note", ["Lighter sky", NOTE], ids=["short", "long"])
@pytest.mark.parametrize("whole", [True, False])
def test_what_the_slip_tells_of_her_changes_is_ours(records, kept, program, language, note, whole):
    """It is in the block already; a letter changed in it is a person's word."""
    facts = {**facts_of(kept, words_in(Tongue(language))), "pieces": 12}
    given = {"name": "Odalys Fenn", "note": note, "changes": ASKED, "wrong": [2, 3, 4, 12]}
    text = compose_slip(facts, "change", whole=whole, **given)
    if whole:
        assert "Odalis" in text and note in text and "2–4, 12" in text
    got = take(records, PROGRAMS[program](Mail(tuple(text.splitlines()))).as_bytes(), ours=ours)
    assert got.status == "recorded", got
    (answer,) = records.answers("fenn")
    assert answer.words == (note,)  # which came in the block
    if whole:
        turned = text.replace("Odalys", "Odalyss")
        take(records, PROGRAMS[program](Mail(tuple(turned.splitlines()))).as_bytes(), ours=ours)
        assert any("Odalyss" in words for words in read_facts(records, "fenn", TODAY).words)


@pytest.mark.parametrize("program", PROGRAMS)
@pytest.mark.parametrize("place", [*PLACES, *IN_SLIP])
def test_words_are_kept_and_hold_the_press(records, kept, place, program):
    beside = {**PLACES, **IN_SLIP}[place](Mail(ok_slip(kept)))
    got = take(records, PROGRAMS[program](beside).as_bytes(), ours=ours)
    if got.status == "refused":  # a line inside the code, or a mark spoiled: nothing is taken
        assert records.answers("fenn") == [] and state(records) != "signed"
        return
    facts = held(records, got, beside)
    with pytest.raises(SignoffError, match="wrote something"):
        press(records)
    records.mark("fenn", EventKind.READ, NOW, words=[words_key(text) for text in facts.words])
    assert state(records) == "signed" and press(records)


@pytest.mark.parametrize("program", PROGRAMS)
@pytest.mark.parametrize("place", [*PLACES, *IN_OLD_SLIP])
def test_words_beside_an_older_slip_are_kept_as_well(records, place, program):
    beside = {**PLACES, **IN_OLD_SLIP}[place](Mail(old_proof(records)))
    got = take(records, PROGRAMS[program](beside).as_bytes(), ours=ours)
    if got.status == "refused":
        assert records.answers("fenn") == [] and state(records) != "signed"
        return
    held(records, got, beside)


def held(records: Any, got: Any, beside: Mail) -> Any:
    """What is known of an order whose answer came with words, and so does not open the press."""
    assert got.status == "recorded" and "the press waits" in got.sentence
    assert "proofgen answer --read fenn" in got.cure
    facts = read_facts(records, "fenn", TODAY)
    assert facts.state == "words" and facts.words
    if WORDS in " ".join(repr(beside).split()):
        assert "Willy" in " ".join(facts.words)
    return facts


@pytest.mark.parametrize("program", PROGRAMS)
def test_an_older_slip_with_nothing_beside_it_opens_the_press(records, program):
    mail = Mail(old_proof(records))
    take(records, PROGRAMS[program](mail).as_bytes(), ours=ours)
    assert state(records) == "signed", records.answers("fenn")[0].words


def test_there_are_enough_places():
    assert len({**PLACES, **IN_SLIP}) >= 40 and len(PROGRAMS) == 4


def test_other_words_after_the_first_were_read_hold_it_again(records, kept):
    take(records, "\n".join([WORDS, *ok_slip(kept)]), ours=ours)
    first = read_facts(records, "fenn", TODAY).words
    records.mark("fenn", EventKind.READ, NOW, words=[words_key(text) for text in first])
    assert state(records) == "signed"
    assert take(records, "\n".join([WORDS, *ok_slip(kept)]), ours=ours).status == "nothing new"
    assert state(records) == "signed"
    assert take(records, "\n".join(["and in blue", *ok_slip(kept)]), ours=ours).status == "recorded"
    assert state(records) == "words"


def test_words_read_of_one_proof_are_not_read_of_the_next(records, kept):
    take(records, "\n".join([WORDS, *ok_slip(kept)]), ours=ours)
    words = read_facts(records, "fenn", TODAY).words
    records.mark("fenn", EventKind.READ, NOW, words=[words_key(text) for text in words])
    second = new_edition(records, fill=8)
    take(records, "\n".join([WORDS, *ok_slip(second)]), ours=ours)
    assert state(records) == "words"


@pytest.mark.parametrize("remarks", ["but please with y", "Perfect, but no date", "👍 and blue"])
def test_remarks_in_the_form_hold_it_too(records, kept, remarks):
    take(records, "\n".join(ok_slip(kept, remarks)))
    assert state(records) == "words"
    assert read_facts(records, "fenn", TODAY).words == (remarks,)


@pytest.mark.parametrize("remarks", ["Thank you!", "Many thanks, Odalys", "Vielen Dank", "Gracias"])
def test_mere_thanks_are_kept_and_hold_nothing(records, kept, remarks):
    take(records, "\n".join(ok_slip(kept, remarks)))
    assert state(records) == "signed"
    assert records.answers("fenn")[0].remarks == remarks


CODE_MAILS = {
    "but please": ("The code is {code} but please with y", True),
    "a line above": ("STOP\n{code}", True),
    "a line below": ("{code}\nwith y", True),
    "not ok": ("NOT OK {code}", True),
    "alone": ("{code}", False),
    "ok": ("OK {code}", False),
    "with manners": ("Hello Tern Row,\n\nmy code is {code}.\n\nMany thanks\nOdalys Fenn\n", False),
    "small letters": ("{small}", False),
    "spaced": ("{spaced}", False),
}  # fmt: skip


@pytest.mark.parametrize("case", CODE_MAILS)
def test_words_beside_a_code(records, kept, case):
    text, holds = CODE_MAILS[case]
    spoken = code(kept, "ok")
    given = text.format(code=spoken, small=spoken.lower(), spaced=spoken.replace("-", " "))
    assert take(records, given, ours=ours).status == "recorded"
    assert state(records) == ("words" if holds else "signed")


CHOICES = ("Yes. Press it exactly as shown.", "Not yet. Change what I write.")


def test_the_sentence_of_the_other_answer_is_a_word_where_it_stands_alone():
    known = replace(OURS, choices=CHOICES, chosen=CHOICES[:1])
    assert person_words([f"{CHOICES[0]}\n"], known) == ()
    assert person_words([f"{CHOICES[1]}\n{CHOICES[0]}\n"], known) == (CHOICES[1],)


QUOTED = [f"> {line}" for line in LETTER.splitlines()[2:]]
FULL = "\n".join(["Hi Tern Row,", "", "Many thanks!", "Odalys", "", INTRO, *QUOTED])


@settings(max_examples=300, suppress_health_check=[HealthCheck.too_slow], deadline=None)
@given(
    at=st.integers(0, len(FULL.splitlines())),
    words=st.lists(
        st.text("abcdefghijklmnopqrstuvwxyzäöüñéعربيةŁ", min_size=2, max_size=9),
        min_size=2,
        max_size=6,
    ),
)
def test_a_line_put_anywhere_is_never_lost(at, words):
    line = " ".join(words)
    if not person_words([line], OURS) or set(words) <= set(TO_ALL):
        return  # a greeting or a name, by chance
    lines = FULL.splitlines()
    lines.insert(at, line)
    assert line in "\n".join(person_words(["\n".join(lines)], OURS))


# -- found by somebody who had not read the code ---------------------------------------------

SIGNED = "\n-- \nOdalys Fenn\n"
WISHES = [
    "Danke und mit y",
    "Hello\nHauptstraße 5",
    "Thanks and best in blue",
    "Gracias y sin fecha",
    "Danke und schöne Grüße und bitte grün",
    "Sent from my iPhone - please make it red",
    "Von meinem Mann in Blau gewünscht",
    "Get with the year 1986",
    "www.photos.example/better-quay.jpg",
    "On second thought make all 12 of them blue\nas Bram wrote:",
    "Am liebsten 12 Stück in Blau\nwie Bram schrieb:",
    "On Wed, 25 Nov 2026 at 10:12, please all in blue <hello@ternrow.example> wrote:",
    "śr., 25 lis 2026 o 10:12 wszystko na niebiesko <hello@ternrow.example> napisał(a):",
    "Bram 12:30 alle",
    "From: Tern Row\nSent: 25 November 2026 10:12\nAn: Bramm mit zwei m <odalys@example.org>",
    SIGNED + "needed by 12.12.2026",
    SIGNED + "12.12.2026",
    SIGNED + "2 mm weiter links 12.12.2026",
    SIGNED + "my new mail: odalys@new.example",
    SIGNED + "https://photos.example/better-quay.jpg",
    SIGNED + "8 Stück",
    SIGNED + "IN BLUE",
    SIGNED + "1986",
    "???",
    "12:30",
    # in the guise of a device, a picture, a number, an address or a subject
    "Von meinem iPhone gesendet, bitte in Blau",
    "Von meinem Herzen gesendet in Blau",
    "Gesendet mit 12 Stück",
    "Enviado desde mi iPhone en azul",
    "Envoyé de mon iPhone, en bleu",
    "Sent from my iPhone 12 pieces",
    "Get 8",
    "Get blue for Android",
    "أُرسلت من هاتفي بالأزرق",
    "👎",
    "👎🏽",
    "😢",
    "Thanks 👎",
    "Odalys 😢",
    "👍👎",
    "👍 but blue",
    "💙",
    "❌",
    "🤔",
    "Hello?",
    "Kind regards\nOdalys\n1986 - 2026",
    "Kind regards\nOdalys\n12 06 2027",
    "Kind regards\nOdalys\n01-06-2027",
    "Kind regards\nOdalys\n24 pieces",
    "Kind regards\nOdalys\n2027 Hochzeit",
    "Kind regards\nOdalys\nMehr Platz 5 mm",
    "Kind regards\nOdalys\n12 Blue Sleeves",
    "Kind regards\nOdalys\n12 quay street in gold",
    "Kind regards\nOdalys\nHerz statt Stern",
    "Kind regards\nOdalys\n+353 1 555 0199 in gold",
    "Kind regards\nOdalys\nplease print 12 Quay Street",
    SIGNED + "Odalys Fenn 👎",
    SIGNED + "1986 - 2026",
    SIGNED + "12 06 2027",
]
NOTHING = [
    "Danke und schöne Grüsse\nOdalys\n\nGesendet von meinem Telefon",
    "Vielen Dank und liebe Grüße, Odalys",
    "Thanks and best wishes\nOdalys Fenn",
    "Muchas gracias y un saludo\nOdalys",
    "Merci beaucoup et à bientôt",
    "Merci d’avance,\nOdalys Fenn",
    "Hoi zäme\nMerci vielmal, Odalys",
    "Hello, thank you! Kind regards, Odalys",
    "Mit freundlichen Grüßen\nOdalys Fenn",
    "Viele Grüße\nOdalys",
    "Gruß Odalys",
    "Get Outlook for iOS<https://aka.ms/o0ukef>",
    "Get Outlook for Android",
    "Sent from my Galaxy S21",
    "Gesendet mit der GMX Mail App".replace("der ", ""),
    "Enviado desde mi iPhone",
    "Am Mi., 25. Nov. 2026 um 10:12 Uhr schrieb Tern Row Press Room <hello@ternrow.example>:",
    "El mié, 25 nov 2026 a las 10:12, Tern Row Press Room (<hello@ternrow.example>) escribió:",
    "Le mer. 25 nov. 2026 à 10:12, Tern Row Press Room <hello@ternrow.example> a écrit :",
    "Il giorno mer 25 nov 2026 alle ore 10:12 Tern Row Press Room <hello@ternrow.example> ha "
    "scritto:",
    "Op wo 25 nov 2026 om 10:12 schreef Tern Row Press Room <hello@ternrow.example>:",
    "Em qua., 25 de nov. de 2026 às 10:12, Tern Row Press Room <hello@ternrow.example> escreveu:",
    "śr., 25 lis 2026 o 10:12 Tern Row Press Room <hello@ternrow.example> napisał(a):",
    "W dniu 25.11.2026 o 10:12, Tern Row Press Room napisał:",
    "Den ons 25 nov. 2026 kl 10:12 skrev Tern Row Press Room <hello@ternrow.example>:",
    "Tern Row Press Room <hello@ternrow.example>, 25 Kas 2026 Çar, 10:12 tarihinde şunu yazdı:",
    "في الأربعاء، 25 نوفمبر 2026 في 10:12 ص تمت كتابة ما يلي بواسطة Tern Row Press Room "
    "<hello@ternrow.example>:",
    "[28.11.26, 20:01:12] Odalys:",
    "28/11/2026, 20:01 - Odalys:",
    SIGNED + "+353 1 555 0199",
    SIGNED + "Fenn & Daughter Ltd",
    "Von meinem iPhone gesendet",
    "Von meinem Samsung Galaxy Smartphone gesendet.",
    "Gesendet von Outlook für iOS",
    "Gesendet von meinem iPhone 14 Pro",
    "Enviado desde mi Samsung Galaxy A12",
    "Enviado con Outlook para Android",
    "Envoyé de mon iPhone",
    "Envoyé depuis l'application Mail Orange".replace(" Orange", " Yahoo"),
    "أُرسلت من هاتفي",
    "تم الإرسال من جهاز iPhone",
    "Get Outlook for iOS<https://aka.ms/o0ukef?src=1>",
    "👍",
    "👍🏽",
    "🙏❤️",
    "Thanks 👍",
    "OK 👌🏼",
    "Thanks\nOdalys 😊",
    "Kind regards\nOdalys Fenn\n+353 1 555 0199\nodalys@example.org",
    "Kind regards\n\nOdalys Fenn\n12 Quay Street, Galway\nTel. 01632 960000",
    "Viele Grüße\nOdalys Fenn\nHauptstraße 5\n10115 Berlin\n☎ 030 5550199",
    "Un saludo\nOdalys Fenn\nCalle Mayor, 5\n28013 Madrid",
    "Best\nOdalys\n📱 (555) 555-0199",
    SIGNED + "12 Quay Street\nGalway H91 X2Y3".replace("\nGalway", "\nGalway,"),
]


@pytest.mark.parametrize("wish", WISHES)
@pytest.mark.parametrize("above", [True, False])
def test_a_wish_in_the_guise_of_manners_is_not_lost(records, kept, wish, above):
    lines = [wish, *ok_slip(kept)] if above else [*ok_slip(kept), "", wish]
    take(records, "\n".join(lines), ours=ours)
    assert state(records) == "words"


@pytest.mark.parametrize("line", NOTHING)
def test_what_says_nothing_holds_nothing(records, kept, line):
    take(records, "\n".join([*ok_slip(kept), "", line]), ours=ours)
    assert state(records) == "signed", records.answers("fenn")[0].words


def test_a_struck_out_answer_holds(records, kept):
    lines = [f"<p>{html.escape(x)}</p>".replace("Yes. ", "<s>Yes. ") for x in ok_slip(kept)]
    body = "".join(x.replace("</p>", "</s></p>") if "<s>" in x else x for x in lines)
    take(records, f"<html><body>{body}</body></html>", ours=ours)
    assert state(records) == "words"
    second = new_edition(records, fill=8)
    struck = "\n".join(x.replace("Yes. Press", "~~Yes. Press") for x in ok_slip(second))
    take(records, struck, ours=ours)
    assert state(records) == "words"


def test_a_sentence_in_the_name_is_no_name(records, kept):
    text = compose_slip(kept, name="Odalys Fenn, please 8 pieces")
    take(records, f"{text}\nplease 8 pieces\n", ours=ours)
    facts = read_facts(records, "fenn", TODAY)
    assert facts.state == "words" and "Odalys Fenn, please 8 pieces" in facts.words
    assert "please 8 pieces" in facts.words


def test_the_mail_that_a_tap_on_the_code_opens_holds_nothing(records, kept):
    spoken = code(kept, "ok")
    chosen = "Yes. Press it exactly as shown."
    take(records, f"Answer to proof 1 of order fenn\n\n{chosen}\n{spoken}\n", ours=ours)
    assert state(records) == "signed"


# -- a letter that holds the codes, quoted back ----------------------------------------------


def letter_with_codes(proof: Any) -> str:
    """As letters end: each answer, and below it its code and how it is said."""
    shown = []
    for answer in ("ok", "change"):
        spoken = code(proof, answer)
        shown.append(f"{WORDS_OF[answer]}\n    {spoken} ({spelled(spoken)})")
    return LETTER.replace("At the end", "\n".join(shown) + "\n\nAt the end")


def reply(proof: Any, written: str, quoted: str = "") -> str:
    below = quoted or letter_with_codes(proof)
    return f"{written}\n\n{INTRO}\n\n" + "\n".join(
        f"> {line}" for line in below.splitlines() if not line.startswith("Subject:")
    )


def knowing(proof: Any) -> Callable[[str], Known]:
    return lambda _: replace(OURS, texts=(letter_with_codes(proof),))


@pytest.mark.parametrize("answer", ["ok", "change"])
@pytest.mark.parametrize("how", ["{}", "My code is {}.", "Hello Tern Row,\n\n{}\n\nThanks\nOdalys"])
def test_the_code_above_the_quoted_codes_is_the_answer(records, kept, answer, how):
    for said in (code(kept, answer), spelled(code(kept, answer)).lower()):
        got = take(records, reply(kept, how.format(said)), ours=knowing(kept))
        assert got.status in ("recorded", "nothing new") and got.answer == answer, got
    assert [a.words for a in records.answers("fenn")] == [()]


def test_words_above_the_quoted_codes_hold_the_press(records, kept):
    take(records, reply(kept, f"{code(kept, 'ok')}\nbut with y"), ours=knowing(kept))
    assert state(records) == "words" and read_facts(records, "fenn", TODAY).words == ("but with y",)


@pytest.mark.parametrize("written", ["", "Thanks, I will look at it", "Yes please!", "No."])
def test_codes_that_are_only_quoted_are_no_answer(records, kept, written):
    whole = letter_with_codes(kept)
    up_to_the_first = whole[: whole.index(WORDS_OF["change"])]
    for quoted in (whole, up_to_the_first, up_to_the_first[len(LETTER) // 2 :]):
        got = take(records, reply(kept, written, quoted), ours=knowing(kept))
        assert got.status in ("refused", "words") and "our" in got.sentence, got
    assert records.answers("fenn") == []


def test_the_line_of_the_letter_copied_is_an_answer(records, kept):
    spoken = code(kept, "ok")
    take(records, f"{WORDS_OF['ok']}\n{spoken} ({spelled(spoken)})", ours=knowing(kept))
    assert state(records) == "signed"


def test_a_near_miss_above_the_quoted_codes_is_refused(records, kept):
    near = code(kept, "ok")[:-1] + ("7" if code(kept, "ok")[-1] != "7" else "8")
    got = take(records, reply(kept, near), ours=knowing(kept))
    assert got.status in ("refused", "words") and records.answers("fenn") == []


def test_a_slip_above_the_quoted_codes_opens_the_press(records, kept):
    got = take(records, reply(kept, "\n".join(ok_slip(kept))), ours=knowing(kept))
    assert got.answer == "ok" and state(records) == "signed", records.answers("fenn")[0].words


def test_the_other_sentence_without_its_code_is_a_word(records, kept):
    text = f"{WORDS_OF['change']}\n\n{code(kept, 'ok')}"
    take(records, reply(kept, text), ours=knowing(kept))
    assert read_facts(records, "fenn", TODAY).words == (WORDS_OF["change"],)


@pytest.mark.parametrize("language", ["de", "es", "ar"])
def test_a_slip_in_another_language_is_ours_as_well(records, kept, language):
    """Its words come with the page; a mail brings them back, with or without somebody's own."""
    words = words_in(Tongue(language))
    slip = compose_slip(facts_of(kept, words), name="Odalys Fenn")
    take(records, f"Hola Tern Row,\n\n{slip}\nMuchas gracias\nOdalys", ours=ours)
    assert state(records) == "signed", records.answers("fenn")[0].words
    second = new_edition(records, fill=8)
    slip = compose_slip(facts_of(second, words), name="Odalys Fenn")
    take(records, f"Hola Tern Row,\n\nsin fecha\n\n{slip}", ours=ours)
    assert read_facts(records, "fenn", TODAY).words == ("sin fecha",)


SUBJECT = "Your proof 1 from Tern Row Press Room, answer by Monday 30 November"


def about(subject: str) -> str:
    said = Header(subject, "utf-8").encode(maxlinelen=1000)
    return f"From: Odalys Fenn <odalys@example.org>\nSubject: {said}\n\n"


@pytest.mark.parametrize("cut", [10, 14, 22, 31, 40, len(SUBJECT) - 3])
@pytest.mark.parametrize("how", ["Re: {}", "AW: {}…", "Fwd: Re: {}...", "[EXTERN] {} ..."])
def test_a_subject_of_ours_that_was_cut_holds_nothing(records, kept, cut, how):
    subject = how.format(SUBJECT[:cut].strip())
    take(records, about(subject) + "\n".join(ok_slip(kept)), ours=ours)
    assert state(records) == "signed", records.answers("fenn")[0].words


@pytest.mark.parametrize(
    "subject",
    [
        "Re: Your proof 1 in blue",
        "Re: Your proof … in blue",
        "Re: Your blue proof 1",
        "Your",
        "Re: proof 1 from Tern Row",
        "Re: Your proof 1 from Tern Row? ",
        "Re: Your proof 2",
        "AW: blau bitte",
    ],
)
def test_a_subject_with_a_word_of_its_own_is_kept(records, kept, subject):
    take(records, about(subject) + "\n".join(ok_slip(kept)), ours=ours)
    assert state(records) == "words"


@pytest.mark.parametrize(
    "subject",
    [
        *("Proof", "proof 1", "Our order", "Re: Our order", "AW: Ihre Bestellung", "Mi pedido"),
        *("Antwort: Korrekturabzug", "Odp: " + SUBJECT, "Odp: Re[2]: Order", "Sv: Your proof!"),
        *("Order fenn", "Proof 1 of fenn", "Order no. fenn", "الطلب رقم fenn", "رد: طلبنا"),
    ],
)
def test_a_subject_that_only_names_the_order_holds_nothing(records, kept, subject):
    take(records, about(subject) + "\n".join(ok_slip(kept)), ours=ours)
    assert state(records) == "signed", records.answers("fenn")[0].words


@pytest.mark.parametrize(
    "subject",
    [
        *("But with one l!", "Order: but with one l", "Our order?", "Our order :(", "Proof 👎"),
        *("No order", "No: proof 1", "Proof 1: no", "Order 12", "2 l", "Two l", "Not our order"),
        *("Fenn", "Fen", "1", "no 1", "Our blue order", "Bestellung stornieren", "Order in white"),
        *("Your", "Ihre", "Pedido sin fecha", "Odp: bez daty", "Our order please"),
    ],
)
def test_a_subject_that_says_more_holds_the_press(records, kept, subject):
    take(records, about(subject) + "\n".join(ok_slip(kept)), ours=ours)
    assert state(records) == "words", subject


def test_an_order_s_number_alone_is_a_subject() -> None:
    known = Known(named=("2026-118", "1"))
    for subject in ("2026-118", "#2026-118", "Re: 2026-118", "Order no. 2026-118", "(2026-118)"):
        assert only_names(subject, known), subject
    for subject in ("2026-119", "118", "2026-118 x 3", "No. 2026-118", "2026-118, 30 pieces"):
        assert not only_names(subject, known), subject


def test_an_order_called_like_a_person_is_named_only_beside_what_a_mail_is_about() -> None:
    known = Known(named=("anna-lena", "1"))
    for subject in ("Anna Lena", "anna-lena", "Re: Anna-Lena", "For Anna Lena"):
        assert not only_names(subject, known), subject  # the name may be what is put right
    for subject in ("Order anna-lena", "Re: Proof 1 of Anna Lena", "Order no. anna-lena"):
        assert only_names(subject, known), subject
    assert only_names("Anna Lena 2026", Known(named=("anna-lena-2026", "1")))


def test_a_cut_subject_above_a_quoted_mail_holds_nothing(records, kept):
    head = ["From: Tern Row Press Room <hello@ternrow.example>", "Sent: 25 November 2026 10:12",
            "To: Odalys Fenn <odalys@example.org>", f"Subject: {SUBJECT[:20]}…"]  # fmt: skip
    take(records, "\n".join([*ok_slip(kept), "", *head]), ours=ours)
    assert state(records) == "signed", records.answers("fenn")[0].words


# -- both codes in one mail ----------------------------------------------------------------------


@pytest.mark.parametrize("words", ["", "I am not sure yet about the name"])
def test_a_mail_with_both_codes_says_which_two_answers_it_holds(records, kept, words):
    written = f"{code(kept, 'ok')}\n{code(kept, 'change')}\n{words}"
    got = take(records, written, ours=knowing(kept))
    both = "two answers that differ, “OK” to proof 1 of fenn and “change it” to proof 1 of fenn"
    assert both in got.sentence and "no code" not in got.sentence, got
    assert "which of them holds" in got.cure
    assert records.answers("fenn") == []
    assert got.status in ("words", "refused")
    assert state(records) == ("words" if words else "ready")
    if words:
        assert read_facts(records, "fenn", TODAY).words == (words,)


def test_a_line_of_ours_that_holds_one_of_another_text_is_ours_whole() -> None:
    """What a Yes is given for ends with the day, which a letter says by itself."""
    day = "fertig am Samstag, 19. Dezember 2026"
    yes = f"12 × Hafen, Wickelhülle, Leinenoptik, Weiß · 141,60\u00a0€ · {day}"
    for texts in ((f"Gut zu wissen:\n{day}", yes), (yes, f"Gut zu wissen:\n{day}")):
        known = Known(texts=texts)
        assert person_words([f"Ola heißt Olla. {yes}"], known) == ("Ola heißt Olla.",)
        assert person_words([yes], known) == ()
        assert person_words([yes.replace(" · ", "\n· ")], known) == ()
        assert person_words([yes.replace("Weiß", "Blau")], known) != ()
