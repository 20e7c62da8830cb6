"""Whether blanks are kept for an order is asked of its records again only once they changed."""

from __future__ import annotations

from pathlib import Path

import pytest

from proofgen import workshop as at
from proofgen.errors import SignoffError
from proofgen.signoff import EventKind
from proofgen.signoff.used import is_to_press
from proofgen.workshop import Workshop, at_work, open_workshop
from tests.cli.small import make_shop, run


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The orders whose records were read for it; what was just written counts as settled."""
    names: list[str] = []

    def asking(records: object, name: str, today: object) -> bool:
        names.append(name)
        return is_to_press(records, name, today)  # type: ignore[arg-type]

    monkeypatch.setattr(at, "is_to_press", asking)
    monkeypatch.setattr(at, "is_fresh", lambda *_: False)
    return names


def waiting(shop: Path) -> list[str]:
    with open_workshop(shop) as workshop:
        return workshop.still_to_press()


def proofed(tmp_path: Path) -> Path:
    shop = make_shop(tmp_path / "shop", "fenn", "reed")
    run(shop, "proof").ended(0)
    return shop


def test_it_is_read_once_and_again_after_a_line_of_the_journal(
    tmp_path: Path, asked: list[str]
) -> None:
    shop = proofed(tmp_path)
    asked.clear()
    for _ in range(3):
        assert waiting(shop) == ["fenn", "reed"]
    assert sorted(asked) == ["fenn", "reed"], "a later run knows"
    with open_workshop(shop) as workshop, at_work(workshop):
        assert workshop.still_to_press() == ["fenn", "reed"]
        workshop.records.mark("fenn", EventKind.PRESSED, workshop.now)
        assert workshop.still_to_press() == ["reed"], "in the same run"
    asked.clear()
    assert waiting(shop) == ["reed"]
    with open_workshop(shop) as workshop, at_work(workshop):
        workshop.records.mark("fenn", EventKind.NOT_PRESSED, workshop.now)
    assert waiting(shop) == ["fenn", "reed"]


def test_damaged_records_are_read_again(tmp_path: Path, asked: list[str]) -> None:
    shop = proofed(tmp_path)
    assert waiting(shop) == ["fenn", "reed"]
    edition = next((shop / "records" / "fenn").glob("edition-*.json"))
    edition.write_bytes(edition.read_bytes() + b" ")
    assert waiting(shop) == ["reed"]
    edition.unlink()
    assert waiting(shop) == ["reed"]
    with open_workshop(shop) as workshop, pytest.raises(SignoffError):
        is_to_press(workshop.records, "fenn", workshop.today)


def test_what_was_just_written_is_not_relied_on(
    tmp_path: Path, asked: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    shop = proofed(tmp_path)
    monkeypatch.setattr(at, "is_fresh", lambda *_: True)
    asked.clear()
    for _ in range(2):
        waiting(shop)
    assert sorted(asked) == ["fenn", "fenn", "reed", "reed"]


def test_another_day_is_asked_anew(
    tmp_path: Path, asked: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    shop = proofed(tmp_path)
    waiting(shop)
    asked.clear()
    with open_workshop(shop) as workshop:
        later = workshop.today.replace(year=workshop.today.year + 1)
    monkeypatch.setattr(Workshop, "today", later)
    waiting(shop)
    assert sorted(asked) == ["fenn", "reed"]
