"""Answers in a mailbox: several mails that a program keeps as one file (RFC 4155)."""

from __future__ import annotations

import base64
from pathlib import Path

from tests.cli.small import code_seen, make_shop, run

BETWEEN = b"From someone@fenn.example Thu Nov 26 08:30:00 2026\n"


def mail(body: str) -> bytes:
    coded = base64.encodebytes(body.encode())
    head = b"From: someone@fenn.example\nSubject: Re:\nContent-Type: text/plain; charset=utf-8\n"
    return BETWEEN + head + b"Content-Transfer-Encoding: base64\n\n" + coded + b"\n"


def test_each_mail_is_an_answer_of_its_own(tmp_path: Path) -> None:
    shop = make_shop(tmp_path / "shop", "fenn", "quill")
    assert run(shop, "proof").code == 0
    box = tmp_path / "answers.mbox"
    said = f"The code is {code_seen(shop, 'ok', 'quill')}\n\nIn blue, if you can"
    box.write_bytes(mail(f"My code is {code_seen(shop, 'ok')}") + mail(said))
    ran = run(shop, "answer", box)
    first, second = (line for line in ran.out.splitlines() if line.startswith("answers.mbox"))
    assert first.startswith("answers.mbox, mail 1: ") and "fenn" in first
    assert second.startswith("answers.mbox, mail 2: ") and "quill" in second
    assert "In blue" in second and "Beside it" not in first
