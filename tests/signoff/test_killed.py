"""Killed at any moment, the records lose nothing that was acknowledged."""

from __future__ import annotations

import random
import subprocess
import sys
import time
from pathlib import Path

from proofgen.signoff import Records
from tests.signoff.conftest import MADE

# Takes answers one after the other and says so on a line of its own after each.
WRITER = """
import sys
from datetime import date, datetime, timezone
from pathlib import Path
from proofgen.signoff import Records, take_in_person
records = Records(Path(sys.argv[1]))
now = datetime(2026, 11, 26, 12, tzinfo=timezone.utc)
for n in range(int(sys.argv[2]), 100000):
    order = f"order-{n}"
    records.new_edition(order, {"order": order}, {"a.png": (b"a", "00")}, now, now.date())
    assert take_in_person(records, order, "Odalys", "ok", now).status == "recorded"
    print(order, flush=True)
"""

# Says so before it is true: what the test must be able to catch.
CARELESS = WRITER.replace("    assert take", "    print(order, flush=True)\n    assert take")


def harvest(folder: Path, program: str, lot: random.Random, start: int) -> list[str]:
    """Run the writer, kill it a moment after its first word, and give what it acknowledged."""
    child = subprocess.Popen(
        [sys.executable, "-c", program, str(folder), str(start)], stdout=subprocess.PIPE, text=True
    )
    assert child.stdout is not None
    with child.stdout as told:
        first = told.readline()
        time.sleep(lot.uniform(0.0, 0.03))
        child.kill()
        rest = told.read()
        child.wait()
    whole = (first + rest).split("\n")[:-1]  # a line cut short was not told
    assert whole, "the writer never got going"
    return whole


def lost(folder: Path, told: list[str]) -> list[str]:
    records = Records(folder)
    assert records.verify() == []
    return [order for order in told if [a.answer for a in records.answers(order)] != ["ok"]]


def test_acknowledged_answers_survive_a_kill(tmp_path):
    lot = random.Random(11)
    told: list[str] = []
    for _ in range(20):
        start = 1 + max((int(o.split("-")[1]) for o in Records(tmp_path).orders()), default=0)
        told += harvest(tmp_path, WRITER, lot, start)
        assert lost(tmp_path, told) == []
    records = Records(tmp_path)
    records.tidy()
    records.mark("order-1", "sent", MADE)
    assert Records(tmp_path).verify() == []
    assert len(told) >= 20 and len(set(told)) == len(told)


def test_the_same_hunt_catches_a_careless_writer(tmp_path):
    """Otherwise the test above would prove nothing."""
    lot = random.Random(12)
    for n in range(12):
        folder = tmp_path / str(n)
        if lost(folder, harvest(folder, CARELESS, lot, 1)):
            return
    raise AssertionError("twelve careless writers were killed and nothing was missed")
