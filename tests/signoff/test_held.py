"""What is asked of the records a hundred times for each order is read once, and never too late."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest

from proofgen.signoff import EventKind, Records
from proofgen.signoff.names import held

NOW = datetime(2026, 11, 25, 12, tzinfo=UTC)
ORDERS = [f"o{number:03}" for number in range(300)]


def marked(folder: Path, names: list[str]) -> Records:
    records = Records(folder)
    for name in names:
        records.mark(name, EventKind.SENT, NOW)
    return records


def test_of_a_season_each_payload_is_read_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    marked(tmp_path, ORDERS)
    records, read = Records(tmp_path), list[Path]()
    plain = Path.read_bytes

    def counted(path: Path) -> bytes:
        read.append(path)
        return plain(path)

    monkeypatch.setattr(Path, "read_bytes", counted)
    for _ in range(3):
        assert all(records.happened(name) == {EventKind.SENT} for name in ORDERS)
    assert len([path for path in read if path.name.startswith("sent-")]) == len(ORDERS)


def test_a_run_that_holds_the_records_sees_what_came_before_and_what_it_adds(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    mine = marked(tmp_path, ["ada"])
    assert mine.orders() == ["ada"]
    marked(tmp_path, ["bo"])  # another run, before this one holds the folder
    with held(mine.journal, mine.names):
        assert mine.orders() == ["ada", "bo"]
        mine.mark("cy", EventKind.SENT, NOW)
        assert mine.orders() == ["ada", "bo", "cy"]
        asked = list[Path]()
        plain = Path.stat

        def counted(path: Path, **more: bool) -> object:
            asked.append(path)
            return plain(path, **more)

        monkeypatch.setattr(Path, "stat", counted)
        for _ in range(20):
            mine.last_line("ada")
        assert asked == []
    marked(tmp_path, ["di"])
    assert mine.orders() == ["ada", "bo", "cy", "di"]
