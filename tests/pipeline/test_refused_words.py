"""What a customer said with an answer that is refused is kept, told, and holds the press."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from email.message import EmailMessage
from pathlib import Path

import pytest

from tests.cli.small import code_seen, make_shop, run, state
from tests.slips import compose_slip, facts_on

STOP = "Stop please! The name must be Berty."
Mail = Callable[[Path, str], str]


@pytest.fixture(scope="module")
def signed_shop(tmp_path_factory) -> Path:
    """A shop whose order is signed and whose sheets lie ready."""
    folder = make_shop(tmp_path_factory.mktemp("refused") / "shop", "fenn")
    run(folder, "proof", "fenn").ended(0)
    run(folder, "answer", "-", typed=code_seen(folder, "ok")).ended(0)
    run(folder, "press", "fenn").ended(0)
    return folder


@pytest.fixture
def shop(signed_shop, tmp_path) -> Path:
    return Path(shutil.copytree(signed_shop, tmp_path / "shop"))


def mailed(text: str, sender: str = "someone@fenn.example", subject: str = "hello") -> str:
    mail = EmailMessage()
    mail["From"], mail["Subject"] = f"Odalys <{sender}>", subject
    mail["Date"] = "Thu, 26 Nov 2026 09:30:00 +0000"
    mail.set_content(text)
    return mail.as_string()


def slip_of(shop: Path, answer: str = "ok", **given: object) -> str:
    (page,) = shop.glob("site/p/*/index.html")
    return compose_slip(facts_on(page), answer, name="Odalys", **given)


def spoilt(slip: str) -> str:
    """With one letter of its coded block changed."""
    head, mark, block = slip.partition("BEGIN ANSWER CODE\n")
    at = next(i for i, letter in enumerate(block) if letter.isalnum())
    return head + mark + block[:at] + ("0" if block[at] != "0" else "2") + block[at + 1 :]


def near(code: str) -> str:
    return code[:-1] + ("0" if code[-1] != "0" else "2")


MAILS: dict[str, Mail] = {
    "words from the customer's address": lambda shop, slip: mailed(STOP),
    "words above a damaged slip": lambda shop, slip: mailed(f"{STOP}\n\n{spoilt(slip)}", "a@b.c"),
    "words above a slip that was cut": lambda shop, slip: f"{STOP}\n\n{slip[: len(slip) - 90]}",
    "words beside a code that is near": lambda shop, slip: (
        f"{near(code_seen(shop, 'ok'))}\n{STOP}\n"
    ),
    "words beside both codes": lambda shop, slip: mailed(
        f"{code_seen(shop, 'ok')}\n{code_seen(shop, 'change')}\n{STOP}\n"
    ),
}


@pytest.mark.parametrize("name", MAILS)
def test_words_of_a_refused_answer_hold_the_press(shop, name):
    mail = MAILS[name](shop, slip_of(shop))
    said = run(shop, "answer", "-", typed=mail).ended(4).err
    next_step = "answer CODE" if name.endswith("both codes") else "answer --read fenn"
    assert "The name must be Berty" in said and next_step in said
    assert "nothing was recorded" not in said
    now = state(shop, "fenn")
    assert now["state"] == "words" and any(STOP in text for text in now["words"])
    assert not list((shop / "workroom" / "press").glob("fenn*"))
    run(shop, "press", "fenn").ended(4)
    run(shop, "answer", "--read", "fenn").ended(0)
    assert state(shop, "fenn")["state"] == "signed"


def test_a_late_answer_to_an_older_proof_loses_no_word(shop):
    old = slip_of(shop, "ok", note="please make the name smaller")
    order = shop / "orders" / "fenn" / "order.yaml"
    order.write_text(order.read_text("utf-8").replace("Odalys & Bram", "Odalys & Bran"), "utf-8")
    run(shop, "proof", "fenn").ended(0)
    said = run(shop, "answer", "-", typed=f"PS: without the lamp\n\n{old}").ended(4).err
    assert "proof 2 is the current one" in said
    assert "please make the name smaller" in said and "without the lamp" in said
    assert state(shop, "fenn")["state"] == "words"


def test_a_no_after_pressing_is_told_and_kept(shop):
    run(shop, "press", "fenn", "--done").ended(0)
    said = run(shop, "answer", "-", typed=code_seen(shop, "change")).ended(4).err
    assert "pressed already" in said and "Not yet" in said
    assert any("Not yet" in text for text in state(shop, "fenn")["words"])


def test_a_mistyped_code_alone_changes_nothing(shop):
    before = (shop / "records" / "journal.jsonl").read_bytes()
    run(shop, "answer", "-", typed=near(code_seen(shop, "ok"))).ended(4)
    assert (shop / "records" / "journal.jsonl").read_bytes() == before
    assert state(shop, "fenn")["state"] == "signed"


def test_what_was_asked_of_the_proof_before_is_not_forgotten(shop):
    run(shop, "answer", "-", typed=slip_of(shop, "change", note="Write Berty, and four pieces."))
    order = shop / "orders" / "fenn" / "order.yaml"
    order.write_text(order.read_text("utf-8").replace("Odalys & Bram", "Odalys & Bran"), "utf-8")
    run(shop, "proof", "fenn").ended(0)
    assert state(shop, "fenn")["earlier"] == ["“Write Berty, and four pieces.”"]
    assert "Asked at an earlier proof: “Write Berty, and four pieces.”" in run(shop, "orders").out


def test_an_ok_beside_words_that_wait_does_not_send_to_the_press(shop):
    run(shop, "answer", "-", typed=mailed(STOP)).ended(4)
    said = run(shop, "answer", "fenn", "--in-person", "Odalys").ended(0).out
    assert "--read fenn" in said and "proofgen press" not in said
