"""Records that were damaged: never written on, and never another order's trouble."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from proofgen import store
from tests.cli.small import files, id_of, make_shop, order_text, run, state, write


@pytest.fixture(scope="module")
def ready(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A shop with two proofs, both signed."""
    shop = make_shop(tmp_path_factory.mktemp("damaged") / "shop", "fenn", season=True)
    text = order_text("Maren", customer="Maren Quill")
    write(shop / "orders" / "quill" / "order.yaml", text)
    run(shop, "build").ended(0)
    for name in ("fenn", "quill"):
        run(shop, "answer", name, "--in-person", "O").ended(0)
    run(shop, "build").ended(0)
    return shop


def _altered(journal: Path) -> None:
    lines = journal.read_bytes().splitlines(keepends=True)
    journal.write_bytes(b"".join([lines[0], lines[2], lines[1], *lines[3:]]))


def _noise(journal: Path) -> None:
    journal.write_bytes(b"\x00\xff\n" * 9)


def _shorter(journal: Path) -> None:
    lines = journal.read_bytes().splitlines(keepends=True)
    journal.write_bytes(b"".join(lines[:-2]))


def _line_out(journal: Path) -> None:
    lines = journal.read_bytes().splitlines(keepends=True)
    journal.write_bytes(b"".join(lines[:2] + lines[3:]))


def _twice(journal: Path) -> None:
    lines = journal.read_bytes().splitlines(keepends=True)
    journal.write_bytes(b"".join([*lines, lines[-1]]))


def _forgotten(journal: Path) -> None:
    journal.write_bytes(journal.read_bytes().replace(b'"kind":"answer"', b'"kind":"forgotten"', 1))


def _no_head(journal: Path) -> None:
    journal.with_suffix(".head").unlink()


def _all_gone(journal: Path) -> None:
    journal.unlink()
    journal.with_suffix(".head").unlink()


EVERY_COMMAND = (
    ["orders"],
    ["orders", "--tally"],
    ["check"],
    ["build"],
    ["catalogue"],
    ["proof", "fenn"],
    ["press", "fenn"],
    ["press", "fenn", "--done"],
    ["letter", "fenn"],
    ["letter", "--all"],
    ["answer", "fenn", "--in-person", "O"],
    ["answer", "-"],
    ["withdraw", "fenn", "--sure", "fenn"],
    ["forget", "fenn", "--sure", "fenn"],
    ["order", "--like", "fenn"],
    ["blanks"],
    ["blanks", "coaster-round", "--count", "white=4"],
    ["look", "pier.jpg"],
    ["serve"],
)


@pytest.mark.parametrize(
    "spoil", [_altered, _noise, _shorter, _line_out, _twice, _forgotten, _no_head, _all_gone]
)
def test_no_command_goes_through_the_door_with_broken_records(shop, spoil):
    """Not one file changes, and none says where an order stands."""
    spoil(shop / "records" / "journal.jsonl")
    (shop / "records" / ".part-0123456789ab").write_bytes(b"a killed run's")
    before = files(shop)
    for command in EVERY_COMMAND:
        told = run(shop, *command, typed="x").ended(4)
        assert "records verify" in told.err and "backup" in told.err, command
        assert "signed" not in told.out and not told.out, command
    assert files(shop) == before
    told = run(shop, "records", "verify").ended(3)
    assert "journal.jsonl" in told.out


def test_the_lock_lies_where_nobody_deletes(shop):
    """Two runs at once, one of which began before the workroom was thrown away."""
    with store.lock(shop / "records"):
        shutil.rmtree(shop / "workroom")
        told = run(shop, "withdraw", "fenn", "--sure", "fenn").ended(5)
    assert "another run is at work" in told.err
    run(shop, "withdraw", "fenn", "--sure", "fenn").ended(0)
    assert not (shop / "workroom" / ".lock").exists()


@pytest.mark.parametrize("spoil", [_altered, _noise, _shorter])
def test_nothing_is_written_on_a_journal_that_was_changed(shop, spoil: Callable[[Path], None]):
    journal = shop / "records" / "journal.jsonl"
    spoil(journal)
    before = files(shop / "records")
    write(shop / "orders" / "fenn" / "order.yaml", order_text("Changed"))
    for command in (
        ["proof", "fenn"],
        ["press", "fenn"],
        ["answer", "fenn", "--in-person", "O"],
        ["answer", "-"],
    ):
        told = run(shop, *command, typed="x").ended(4)
        assert "records verify" in told.err and "backup" in told.err
    run(shop, "records", "verify").ended(3)
    run(shop, "build").ended(4)
    assert files(shop / "records") == before
    assert not [n for n in files(shop / "workroom" / "press") if n.startswith("fenn-sheet")]


@pytest.mark.parametrize("part", ["edition", "document", "token", "answer", "rasters/*"])
def test_lost_records_of_one_order_leave_the_other_alone(shop, part):
    for path in (shop / "records" / "fenn").glob(part if "*" in part else f"{part}-*"):
        path.unlink()
    write(shop / "orders" / "bram" / "order.yaml", order_text("Bram", customer="Bram"))
    told = run(shop, "-q", "build").ended(4)
    assert told.err.count("fenn") >= 1 and "last backup" in told.err
    assert state(shop, "bram")["state"] == "ready"
    assert state(shop, "quill")["state"] == "signed"
    assert "quill-ticket.pdf" in files(shop / "workroom" / "press")
    assert "fenn-ticket.pdf" not in files(shop / "workroom" / "press") or part == "token"
    assert run(shop, "check").out.count("bram")
    told = run(shop, "records", "verify").ended(3)
    assert "fenn" in told.out


def test_costs_are_not_added_up_in_silence_where_a_proof_is_lost(shop):
    """Nothing else in these commands reads what an order without photos was shown as."""
    for path in (shop / "records" / "fenn").glob("edition-*"):
        path.unlink()
    for command in (["orders", "--tally"], ["orders", "--cost", "fenn"]):
        told = run(shop, *command).ended(4)
        assert "records/fenn/edition-1-" in told.err and "last backup" in told.err
    assert run(shop, "orders", "--cost", "quill").ended(0).err.count("fenn") == 0


def test_customer_with_damaged_records_can_still_be_forgotten(shop):
    for path in (shop / "records" / "fenn").glob("token-*"):
        path.unlink()
    one = id_of(shop, "fenn")
    told = run(shop, "forget", "fenn", "--sure", "fenn").ended(0)
    assert "look through site/p/" in told.out
    assert not (shop / "orders" / "fenn").exists()
    assert state(shop, one)["state"] == "forgotten"


def test_answer_of_a_day_to_come_is_refused(shop):
    run(shop, "proof", "fenn").ended(0)
    told = run(shop, "answer", "fenn", "--in-person", "O", "--on", "2099-01-01").ended(2)
    assert "has not come yet" in told.err
    told = run(shop, "answer", "fenn", "--in-person", " ").ended(2)
    assert "name" in told.err
    run(shop, "answer", "fenn", "--in-person", "").ended(2)
