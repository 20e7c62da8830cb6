"""The door to the press: shut for everything but a plain OK to exactly this artwork."""

from __future__ import annotations

import re
from datetime import timedelta
from pathlib import Path

import pytest

import proofgen
from proofgen.errors import MachineError, SignoffError
from proofgen.signoff import Signed, admit, take_in_person
from tests.signoff.conftest import ANSWER_BY, NOW, PICTURE, code, new_edition, seen, take
from tests.slips import compose_slip


def ok(records, edition, **over):
    return take(records, compose_slip(edition, "ok", **{"name": "O", **over}))


def let_in(records, edition, document=None) -> Signed:
    return admit(records, edition.order, document or edition.document, pixel_digest=seen)


@pytest.fixture
def signed(records, kept):
    ok(records, kept)
    return kept


def test_a_plain_ok_opens_the_door(records, signed):
    got = let_in(records, signed)
    assert (got.order, got.edition, got.fingerprint) == ("fenn", 1, signed.fingerprint)
    assert got.rasters == {"line1-a-round.png": seen(PICTURE)}
    assert [a.answer for a in got.answers] == ["ok"]
    with pytest.raises(AttributeError):
        got.edition = 2


def test_a_code_or_a_word_in_person_opens_it_too(records):
    by_code, by_person = new_edition(records, "a"), new_edition(records, "b")
    take(records, code(by_code, "ok"))
    take_in_person(records, "b", "Bram", "ok", NOW)
    assert let_in(records, by_code).answers[0].way == "code"
    assert let_in(records, by_person).answers[0].way == "person"


def test_an_ok_given_in_time_stays_good(records, kept):
    ok(records, kept)
    late = ANSWER_BY + timedelta(days=300)
    assert take(records, code(kept, "ok"), today=late).status == "nothing new"
    assert let_in(records, kept)


def no_proof(records, kept):
    records.folder.joinpath("journal.jsonl").unlink()
    records.folder.joinpath("journal.head").unlink()


def changes(records, kept):
    take(records, code(kept, "change"))


def two(records, kept):
    ok(records, kept)
    changes(records, kept)


def typed_over(records, kept):
    asked = {"pieces": [1], "slot": "name", "line": 1, "old": "Odalis", "new": "Odalys"}
    ok(records, kept, changes=[asked])


def wrong_piece(records, kept):
    ok(records, kept, wrong=[3])


def newer(records, kept):
    ok(records, kept)
    new_edition(records, fill=8)


def withdrawn(records, kept):
    ok(records, kept)
    records.mark("fenn", "withdrawn", NOW)


def forgotten(records, kept):
    ok(records, kept)
    records.forget("fenn", NOW)


def late(records, kept):
    take(records, code(kept, "ok"), today=ANSWER_BY + timedelta(days=1))


@pytest.mark.parametrize(
    ("happens", "says", "cure"),
    [
        (no_proof, "fenn has no proof yet", "proofgen proof fenn"),
        (lambda records, kept: None, "proof 1 of fenn is not answered", "proofgen answer"),
        (changes, "wants changes", "proofgen proof fenn"),
        (two, "two answers that differ", "ask which one holds"),
        (wrong_piece, "wants changes", "proofgen proof fenn"),
        (typed_over, "wants changes", "proofgen proof fenn"),
        (newer, "proof 2 of fenn is not answered", "proofgen answer"),
        (withdrawn, "was withdrawn", "proofgen proof fenn"),
        (forgotten, "fenn has no proof yet", "proofgen proof fenn"),  # nobody knows the name
        (late, "proof 1 of fenn is not answered", "proofgen answer"),
    ],
)
def test_everything_else_keeps_it_shut(records, kept, happens, says, cure):
    happens(records, kept)
    with pytest.raises(SignoffError, match=says) as told:
        let_in(records, kept)
    assert cure in told.value.cure
    assert told.value.exit_code == 4


def test_changed_artwork_is_named(records, signed):
    with pytest.raises(SignoffError) as told:
        let_in(records, signed, {**signed.document, "ppi": 240})
    assert "fenn changed after proof 1 was signed" in told.value.problem
    assert "The number of pixels per inch was 307, is now 240." in told.value.problem
    assert let_in(records, signed), "put back, it is signed again"


def test_the_kept_picture_must_be_the_signed_one(records, signed):
    path = next((records.folder / "fenn" / "rasters").iterdir())
    path.write_bytes(b"a better pier")
    with pytest.raises(SignoffError, match=r"line1-a-round.png in the records was altered"):
        let_in(records, signed)
    path.unlink()
    with pytest.raises(SignoffError, match=r"line1-a-round.png is missing from the records"):
        let_in(records, signed)
    path.write_bytes(PICTURE)
    assert let_in(records, signed)


def unreadable(content: bytes) -> str:
    raise MachineError("cannot be opened")


@pytest.mark.parametrize("read", [unreadable, lambda content: "00" * 32])
def test_the_pixels_are_counted_again(records, signed, read):
    with pytest.raises(SignoffError, match="is not the one that was signed"):
        admit(records, "fenn", signed.document, pixel_digest=read)


def test_a_broken_journal_keeps_the_door_shut(records, kept):
    """Take the second answer out of the records, and the first would count again."""
    two(records, kept)
    lines = records.journal.path.read_bytes().splitlines(keepends=True)
    records.journal.path.write_bytes(b"".join(lines[:-1]))
    with pytest.raises(SignoffError, match="lines are missing") as told:
        let_in(records, kept)
    assert "proofgen records verify" in told.value.cure


def test_only_the_door_makes_what_the_press_takes():
    makers = []
    for path in sorted(Path(proofgen.__file__).parent.rglob("*.py")):
        if re.search(
            r"(?<!class )\bSigned\(", path.read_text("utf-8").replace("class Signed(", "")
        ):
            makers.append(path.name)
    assert makers == ["door.py"]
