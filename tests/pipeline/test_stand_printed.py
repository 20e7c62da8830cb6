"""Tickets, letters, receipts and backups say how far the records were, and that is compared."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest

from proofgen.signoff import Records, stand
from tests.cli.small import code_seen, make_shop, order_text, run, write

STAND = re.compile(r"\b[0-9a-f]{5}\.[0-9a-f]{5}\.[0-9a-f]{5}\b")


@pytest.fixture(scope="module")
def ready(tmp_path_factory: pytest.TempPathFactory) -> Path:
    shop = make_shop(tmp_path_factory.mktemp("stand") / "shop", "fenn", demo=False)
    write(shop / "orders" / "quill" / "order.yaml", order_text("Maren", customer="Maren Quill"))
    run(shop, "build").ended(0)
    return shop


def _now(shop: Path, order: str = "") -> str:
    return stand(Records(shop / "records"), order)


def _kept(shop: Path) -> list[tuple[Path, bytes]]:
    both = (shop / "records" / name for name in ("journal.jsonl", "journal.head"))
    return [(path, path.read_bytes()) for path in both]


def _only(text: str) -> str:
    found = {*STAND.findall(text)}
    assert len(found) == 1, found
    return found.pop()


def _since(shop: Path, printed: str, code: int) -> str:
    told = run(shop, "records", "verify", "--since", printed).ended(code)
    return told.out + told.err


def test_a_receipt_tells_when_the_answer_was_taken_out_again(shop: Path) -> None:
    before = _kept(shop)
    run(shop, "answer", code_seen(shop, "ok")).ended(0)
    mail = (shop / "workroom" / "letters" / "fenn.receipt-1.txt").read_text("utf-8")
    printed = _only(mail)
    assert mail.count(printed) == 1 and printed == _now(shop, "fenn")
    assert "Our records, with this answer in them" in mail
    last = len(before[0][1].splitlines()) + 1
    assert f"Line {last} of {last} is the one" in _since(shop, printed, 0)
    for path, content in before:
        path.write_bytes(content)
    run(shop, "records", "verify").ended(0)  # which alone cannot tell
    told = _since(shop, printed, 3)
    assert f"no line of the records is “{printed}”" in told and "backup" in told
    run(shop, "answer", "quill", "--in-person", "Maren Quill").ended(0)
    _since(shop, printed, 3)


def test_letter_and_backup_say_it(shop: Path) -> None:
    letter = _only(run(shop, "letter", "fenn").ended(0).out)
    assert "1 came" not in _since(shop, letter, 0)
    told = run(shop, "backup", shop.parent / "friday.zip").ended(0).out
    printed = _only(told)
    assert printed == _now(shop) and f"records verify --since {printed}" in told
    assert printed in run(shop, "records", "verify").ended(0).out
    run(shop, "letter", "fenn", "--sent").ended(0)
    assert "; 1 came since" in _since(shop, printed, 0)
    run(shop, "restore", shop.parent / "friday.zip", shop.parent / "again").ended(0)
    assert "none came since" in _since(shop.parent / "again", printed, 0)
    _since(shop.parent / "again", _now(shop), 3)  # the letter was sent after the backup
    _since(shop, "soon", 2)


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="pdftotext reads the ticket")
def test_a_ticket_says_it_and_stays_as_it_is(shop: Path) -> None:
    run(shop, "answer", "fenn", "--in-person", "Odalys Fenn").ended(0)
    before = _kept(shop)
    run(shop, "press", "fenn").ended(0)
    ticket = shop / "workroom" / "press" / "fenn-ticket.pdf"
    content = ticket.read_bytes()
    text = subprocess.run(["pdftotext", "-layout", ticket, "-"], capture_output=True, check=True)
    said = text.stdout.decode()
    printed = _only(said)
    assert printed == _now(shop, "fenn") and "proofgen records verify --since" in " ".join(
        said.split()
    )
    _since(shop, printed, 0)
    run(shop, "answer", "quill", "--in-person", "Maren Quill").ended(0)
    run(shop, "press", "fenn").ended(0)
    assert ticket.read_bytes() == content  # what came to others changes no ticket
    for path, old in before:
        path.write_bytes(old)
    _since(shop, printed, 3)


def test_records_put_back_to_an_older_day_are_told_by_every_command(shop: Path) -> None:
    """By the older ones an order that is pressed already would be pressed once more."""
    says = "The records are not those that were here last"
    before = _kept(shop)
    assert says not in run(shop, "answer", code_seen(shop, "ok")).ended(0).err
    newer = _kept(shop)
    for path, content in before:
        path.write_bytes(content)
    for command in (("orders",), ("press", "--plan"), ("letter", "quill", "--sent"), ("orders",)):
        assert says in run(shop, *command).err, command
    told = run(shop, "orders").err
    assert "records.txt" in told and "letters" in told
    for path, content in newer:
        path.write_bytes(content)
    assert says not in run(shop, "orders").ended(0).err
    run(shop, "letter", "quill", "--sent").ended(0)
    for path, content in before:
        path.write_bytes(content)
    (shop / "workroom" / "records.txt").unlink()  # these are the ones that are wanted
    run(shop, "letter", "quill", "--sent").ended(0)
    assert says not in run(shop, "orders").ended(0).err
