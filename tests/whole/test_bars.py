"""The table of bars: careless work misses its bar, floors are short and know nothing of us."""

from __future__ import annotations

import ast
import json
from pathlib import Path

import pytest

from tests.bench import table
from tests.bench.bars import Scale, Took, held

BENCH = Path(table.__file__).parent
BARS = {bar.key: bar for bar in table.BARS}


def test_careless_work_misses_its_bar(tmp_path):
    """The one row that counts bytes: rows of time are asked by `table.py --careless`, on a machine
    that has nothing else to do."""
    took = BARS["png-bytes"].measure(Scale(home=tmp_path, shrink=4), True)
    assert not BARS["png-bytes"].met(took), f"{took.ratio:.2f} is inside {BARS['png-bytes'].limit}"


def test_a_row_tells_whether_it_is_met_and_a_fault_outweighs_the_number():
    at_most, at_least = BARS["png-time"], BARS["cores"]
    assert at_most.met(Took(ours=1, floor=4)) and not at_most.met(Took(ours=2, floor=4))
    assert at_least.met(Took(ours=1.8, floor=1)) and not at_least.met(Took(ours=1.6, floor=1))
    assert not at_most.met(Took(ours=1, floor=4, fault="not verbatim"))
    told = table.told(at_most, Took(ours=2, floor=4, memory=7_000_000), False)
    assert "MISSED" in told and "0.50" in told and told.rstrip().endswith("7")


def test_a_row_that_fails_is_told_and_the_others_go_on(tmp_path, capsys):
    def broken(*_: object) -> Took:
        raise OSError("no disk")

    class Gone:
        key, row, measure = "gone", "a row that is gone", staticmethod(broken)

    rows = table.measured([Gone, BARS["png-bytes"]], Scale(home=tmp_path, shrink=8), True)
    assert [row["key"] for row in rows] == ["gone", "png-bytes"]
    assert "a row that is gone: not measured: OSError: no disk" in capsys.readouterr().out
    assert json.loads(json.dumps(rows))[1]["met"] is False


def test_rows_that_take_long_are_measured_only_when_named():
    assert [bar.key for bar in table.chosen([])] == [b.key for b in table.BARS if not b.takes]
    assert [bar.key for bar in table.chosen(["growth"])] == ["growth"]
    assert table.chosen(["all"]) == list(table.BARS)
    with pytest.raises(KeyError, match="nothing"):
        table.chosen(["nothing"])
    assert len(BARS) == len(table.BARS)


@pytest.mark.parametrize("path", sorted(BENCH.glob("floor_*.py")), ids=lambda path: path.stem)
def test_a_floor_is_short_and_uses_no_code_of_ours(path):
    text = path.read_text("utf-8")
    assert len(text.splitlines()) <= 80
    names = set()
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Import):
            names |= {alias.name.split(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            names.add((node.module or ".").split(".")[0])
    assert not names & {"proofgen", "tests", "."}


def test_memory_is_what_work_needs_beyond_what_was_held():
    if not Path("/proc/self/clear_refs").exists():
        pytest.skip("Linux tells it alone")
    kept = bytearray(40_000_000)
    assert held(lambda: bytearray(b"x") * 60_000_000) == pytest.approx(60e6, rel=0.2)
    assert len(kept) == 40_000_000
