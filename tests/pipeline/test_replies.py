"""Our own mails answered as mail programs answer them: which order, which code, whose words."""

from __future__ import annotations

import email
import email.policy
import re
import shutil
from collections.abc import Callable
from email.message import EmailMessage
from html import escape
from pathlib import Path

import pytest

from tests.cli.small import Ran, code_seen, make_shop, run, state, write

Program = Callable[[EmailMessage, str], EmailMessage]


def parts_of(letter: EmailMessage) -> tuple[str, str]:
    bodies = [letter.get_body((kind,)) for kind in ("plain", "html")]
    assert bodies[0] and bodies[1]
    plain, html = (str(body.get_content()).replace("\r\n", "\n") for body in bodies if body)
    return plain, html


def reply(letter: EmailMessage, prefix: str = "Re: ") -> EmailMessage:
    mail = EmailMessage()
    mail["From"], mail["To"] = str(letter["To"]), str(letter["From"])
    mail["Subject"] = prefix + str(letter["Subject"])
    mail["Date"] = "Thu, 26 Nov 2026 09:30:00 +0000"
    return mail


def wrapped(text: str, width: int) -> list[str]:
    """Lines as a program breaks them, at spaces and behind hyphens."""
    out = []
    for line in text.split("\n"):
        row = ""
        for word in re.findall(r"\S+?-(?=\S)|\S+\s*", line):
            if len(row) + len(word.rstrip()) > width and row:
                out.append(row.rstrip())
                row = ""
            row += word
        out.append(row.rstrip())
    return out


def top_posted(letter: EmailMessage, words: str) -> EmailMessage:
    """Plain text, the words above, every quoted line with a mark, broken at 64 letters."""
    mail, plain = reply(letter), parts_of(letter)[0]
    quoted = "\n".join(f"> {line}".rstrip() for line in wrapped(plain, 64))
    intro = "On 25 Nov 2026, at 18:02, Puffin Yard <hello@puffinyard.example> wrote:"
    mail.set_content(f"{words}\n\n{intro}\n\n{quoted}\n")
    return mail


def html_quoted(letter: EmailMessage, words: str) -> EmailMessage:
    """Both parts; the page quotes ours whole, the plain part has no marks at all."""
    mail, (plain, html) = reply(letter), parts_of(letter)
    intro = "On 25 Nov 2026, at 18:02, Puffin Yard &lt;hello@puffinyard.example&gt; wrote:"
    inner = html.partition("<body>")[2].partition("</body>")[0]
    mail.set_content(f"{words}\n\nAm 25. November 2026 18:02 schrieb Puffin Yard:\n\n{plain}\n")
    mail.add_alternative(
        f"<html><body><div>{escape(words)}</div><div><br></div><div>{intro}</div>"
        f'<blockquote type="cite">{inner}</blockquote></body></html>',
        subtype="html",
    )
    return mail


def not_quoted(letter: EmailMessage, words: str) -> EmailMessage:
    mail = reply(letter)
    mail.set_content(f"{words}\n")
    return mail


def forwarded(letter: EmailMessage, words: str) -> EmailMessage:
    """From another address, with the head of ours above its text."""
    mail, plain = reply(letter, "Fwd: "), parts_of(letter)[0]
    head = "\n".join(f"{key}: {letter[key]}" for key in ("From", "To", "Subject"))
    mail.set_content(f"{words}\n\n---------- Forwarded message ----------\n{head}\n\n{plain}\n")
    return mail


QUOTING: list[Program] = [top_posted, html_quoted, forwarded]
ALL: list[Program] = [*QUOTING, not_quoted]


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    shop = make_shop(tmp_path_factory.mktemp("replies") / "shop", "fenn", "quill")
    run(shop, "proof").ended(0)
    for order in ("fenn", "quill"):
        run(shop, "letter", order, "--sent").ended(0)
    text = (shop / "shop.yaml").read_text("utf-8")
    write(shop / "shop.yaml", text.replace("today: 2026-11-25", "today: 2026-11-26"))
    return shop


@pytest.fixture
def shop(made: Path, tmp_path: Path) -> Path:
    shop = Path(shutil.copytree(made, tmp_path / "shop"))
    run(shop, "orders").ended(0)  # so that its pages are looked at
    return shop


def letter(shop: Path, name: str = "fenn") -> EmailMessage:
    content = (shop / "workroom" / "letters" / f"{name}.eml").read_bytes()
    mail = email.message_from_bytes(content, policy=email.policy.default)
    assert isinstance(mail, EmailMessage)
    return mail


def give(shop: Path, mail: EmailMessage) -> Ran:
    path = shop.parent / "reply.eml"
    path.write_bytes(mail.as_bytes(policy=email.policy.SMTP))
    return run(shop, "answer", path)


def now(shop: Path) -> str:
    return str(state(shop, "fenn")["state"])


@pytest.mark.parametrize(
    ("sender", "told"),
    [
        ("Somebody <other@elsewhere.example>", True),
        ("Odalys Fenn <SOMEONE@fenn.example>", False),
        ("Puffin Yard <hello@puffinyard.example>", False),  # forwarded to itself
    ],
)
def test_an_answer_from_another_address_is_told(shop: Path, sender: str, told: bool) -> None:
    mail = top_posted(letter(shop), code_seen(shop, "ok", "fenn"))
    mail.replace_header("From", sender)
    ran = give(shop, mail)
    assert now(shop) == "signed"
    wanted = "The mail came from other@elsewhere.example, and the order has someone@fenn.example"
    assert (wanted in ran.out + ran.err) is told


@pytest.mark.parametrize("program", ALL)
def test_a_code_typed_above_our_letter_is_the_answer(shop: Path, program: Program) -> None:
    for answer, lands in (("ok", "signed"), ("change", "two answers")):
        code = code_seen(shop, answer, "fenn")
        told = give(shop, program(letter(shop), f"Hello,\n\n{code}\n\nThank you\nOdalys"))
        assert "recorded" in told.out + told.err, told
        assert now(shop) == lands, (told.out, told.err, state(shop, "fenn")["words"])


@pytest.mark.parametrize("program", ALL)
@pytest.mark.parametrize("words", ["", "I am not sure yet about the name"])
def test_both_codes_above_our_letter_are_two_answers(
    shop: Path, program: Program, words: str
) -> None:
    both = [code_seen(shop, answer, "fenn") for answer in ("ok", "change")]
    told = give(shop, program(letter(shop), "\n".join([*both, words]))).ended(4)
    said = "two answers that differ, “OK” to proof 1 of fenn and “change it” to proof 1 of fenn"
    assert said in told.err and "no code" not in told.err
    assert "which of them holds" in told.err
    assert state(shop, "fenn")["words"] == ([words] if words else [])
    assert now(shop) == ("words" if words else "out")


@pytest.mark.parametrize("program", QUOTING)
def test_words_alone_are_matched_kept_and_hold_the_press(shop: Path, program: Program) -> None:
    told = give(
        shop, program(letter(shop), "Please write Willy with a y!\n\nThank you\nOdalys")
    ).ended(4)
    assert "belongs to proof 1 of fenn" in told.err and "Willy with a y!" in told.err
    row = state(shop, "fenn")
    assert (row["state"], row["words"]) == ("words", ["Please write Willy with a y!"])
    assert state(shop, "quill")["state"] == "out"
    again = give(
        shop, program(letter(shop), "Please write Willy with a y!\n\nThank you\nOdalys")
    ).ended(0)
    assert "recorded before" in again.out
    assert "you have not read" in run(shop, "press", "fenn").ended(4).err
    read = run(shop, "answer", "fenn", "--read").ended(0)
    assert "Wait for the answer" in read.out and now(shop) == "out"


@pytest.mark.parametrize("program", QUOTING)
@pytest.mark.parametrize("words", ["Yes please, it is perfect", "STOP! That is not my dog."])
def test_no_words_are_ever_an_ok(shop: Path, program: Program, words: str) -> None:
    give(shop, program(letter(shop), words)).ended(4)
    assert now(shop) == "words" and state(shop, "fenn")["words"] == [words]
    run(shop, "press", "fenn").ended(4)


@pytest.mark.parametrize("program", QUOTING)
def test_words_that_come_after_the_ok_shut_the_press(shop: Path, program: Program) -> None:
    run(shop, "answer", "-", typed=code_seen(shop, "ok", "fenn")).ended(0)
    run(shop, "press", "fenn").ended(0)
    give(shop, program(letter(shop), "Wait, the date is wrong")).ended(4)
    assert now(shop) == "words"
    assert not list((shop / "workroom" / "press").glob("fenn-*"))
    run(shop, "press", "fenn").ended(4)
    run(shop, "answer", "fenn", "--read").ended(0)
    assert now(shop) == "signed"


@pytest.mark.parametrize("program", QUOTING)
def test_a_mail_with_nothing_but_our_letter_says_nothing(shop: Path, program: Program) -> None:
    for words in ("", "Thank you\nOdalys"):
        told = give(shop, program(letter(shop), words)).ended(4)
        assert "nothing was recorded" in told.err and "fenn" in told.err
    assert now(shop) == "out"


def test_words_without_any_quote_belong_to_no_order(shop: Path) -> None:
    told = give(shop, not_quoted(letter(shop), "It is lovely"))
    assert "there is no answer in this text" in told.ended(4).err.lower()


@pytest.mark.parametrize("program", QUOTING)
@pytest.mark.parametrize("kind", ["ok", "change"])
def test_a_line_of_ours_copied_to_the_top(shop: Path, program: Program, kind: str) -> None:
    """The code and its spelling are an answer; with its sentence it is our own line, which may
    have broken on its way, and is asked about."""
    lines = parts_of(letter(shop))[0].split("\n")
    at = next(i for i, row in enumerate(lines) if code_seen(shop, kind, "fenn") in row)
    give(shop, program(letter(shop), f"{lines[at - 1]}\n{lines[at]}"))
    assert now(shop) in ("out", "words")
    give(shop, program(letter(shop), lines[at].strip()))
    assert now(shop) in {"ok": ("signed", "words"), "change": ("changes",)}[kind]


def test_a_code_torn_by_wrapping_in_the_quote_is_no_answer(shop: Path) -> None:
    """Whichever of our two lines is broken, at every width: nothing is signed."""
    plain = parts_of(letter(shop))[0]
    for width in range(12, 90):
        mail = reply(letter(shop))
        mail.set_content("\n".join(f"> {line}" for line in wrapped(plain, width)) + "\n")
        assert give(shop, mail).code == 4, width
    assert now(shop) in ("out", "words")


@pytest.mark.parametrize("program", QUOTING)
def test_every_kind_of_letter_is_known(shop: Path, program: Program) -> None:
    write(shop / "shop.yaml", (shop / "shop.yaml").read_text().replace("11-26", "11-29"))
    run(shop, "letter", "--all").ended(0)
    code = code_seen(shop, "ok", "fenn")
    give(shop, program(letter(shop, "fenn.reminder-1"), code)).ended(0)
    assert now(shop) == "signed", state(shop, "fenn")["words"]
    receipt = letter(shop, "fenn.receipt-1")
    give(shop, program(receipt, code)).ended(0)
    assert now(shop) == "signed", state(shop, "fenn")["words"]


@pytest.mark.parametrize("program", QUOTING)
def test_the_certificate_is_answered_with_an_objection(shop: Path, program: Program) -> None:
    run(shop, "answer", "-", typed=code_seen(shop, "ok", "fenn")).ended(0)
    told = give(shop, program(letter(shop, "fenn.receipt-1"), "That was not me!"))
    assert told.code == 4 and now(shop) == "words", told


@pytest.mark.parametrize("program", QUOTING)
def test_a_proof_that_came_as_a_file_is_matched_by_its_sign(
    tmp_path: Path, program: Program
) -> None:
    shop = make_shop(tmp_path / "shop", "fenn")
    text = (shop / "shop.yaml").read_text("utf-8")
    write(shop / "shop.yaml", text.replace("site: https://puffinyard.example\n", ""))
    run(shop, "proof").ended(0)
    run(shop, "letter", "fenn", "--sent").ended(0)
    give(shop, program(letter(shop), "The name has a hyphen")).ended(4)
    assert state(shop, "fenn")["words"] == ["The name has a hyphen"]
    give(shop, program(letter(shop), code_seen(shop, "ok", "fenn"))).ended(0)


def test_no_word_beside_a_code_is_eaten(shop: Path) -> None:
    """Where a word of the spelling alphabet stands about, a code is heard twice in one place."""
    code = code_seen(shop, "ok", "fenn")
    told = run(shop, "answer", "-", typed=f"{code} wrong name for Mike, please wait").ended(0)
    assert state(shop, "fenn")["words"] == ["wrong name for Mike, please wait"], told
