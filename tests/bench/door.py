"""What checking the records at the door of a command costs, beside reading the journal at all.

    python tests/bench/door.py [--lines 10000]

Rows are ratios of processor time, medians of runs taken in turn: the whole chain checked, against
every line of the same file read as JSON and nothing else (bar: 1.5); the same in a process of its
own, less that process without a journal, in bare interpreter starts (bar: 5 for 10,000 lines); and
a careless door that reads the file once for the chain and once for the orders, which must not pass.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Mapping
from pathlib import Path

HOUSE = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(HOUSE))

from proofgen.signoff.digests import canonical  # noqa: E402
from proofgen.signoff.journal import Journal  # noqa: E402

ROUNDS = 11
_OF_AN_ORDER = (
    *("edition", "token", "shown", "sent", "answer", "read", "sheets", "pressed"),
    *("handed-over", "cleared"),
)


def written(folder: Path, lines: int) -> Path:
    """A journal of so many lines, ten of each order, as the records write them."""
    before, raws = "0" * 64, []
    for n in range(lines):
        head = {
            "at": "2026-11-25T09:30:00+00:00",
            "before": before,
            "edition": 1,
            "kind": _OF_AN_ORDER[n % len(_OF_AN_ORDER)],
            "order": f"order-{n // len(_OF_AN_ORDER):010d}",
            "payload": hashlib.sha256(str(n).encode()).hexdigest(),
        }
        raws.append(canonical(head))
        before = hashlib.sha256(raws[-1]).hexdigest()
    path = folder / "journal.jsonl"
    path.write_bytes(b"".join(raw + b"\n" for raw in raws))
    path.with_suffix(".head").write_bytes(canonical({"digest": before, "lines": lines}))
    return path


def in_turn(works: Mapping[str, Callable[[], object]]) -> dict[str, float]:
    """Median seconds of processor time of each, run one after the other, ROUNDS times."""
    times: dict[str, list[float]] = {name: [] for name in works}
    for _ in range(ROUNDS):
        for name, work in works.items():
            start = time.process_time()
            work()
            times[name].append(time.process_time() - start)
    return {name: statistics.median(every) for name, every in times.items()}


def floor(path: Path) -> list[object]:
    """Every line read, and nothing asked of it."""
    return [json.loads(line) for line in path.read_bytes().split(b"\n") if line]


def in_process(path: Path) -> dict[str, float]:
    """Median processor seconds of a bare start, of one that loads the journal's code, and of one
    that checks the journal too."""
    load = "from pathlib import Path; from proofgen.signoff.journal import Journal"
    check = f"{load}; Journal(Path({str(path)!r})).sound()"
    programs = {"bare": "pass", "loaded": load, "checked": check}
    times: dict[str, list[float]] = {name: [] for name in programs}
    for _ in range(ROUNDS):
        for name, program in programs.items():
            before = resource.getrusage(resource.RUSAGE_CHILDREN)
            subprocess.run([sys.executable, "-c", program], check=True, cwd=HOUSE)
            after = resource.getrusage(resource.RUSAGE_CHILDREN)
            spent = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
            times[name].append(spent)
    return {name: statistics.median(every) for name, every in times.items()}


def main() -> None:
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--lines", type=int, default=10_000)
    lines = options.parse_args().lines
    with tempfile.TemporaryDirectory() as folder:
        path = written(Path(folder), lines)
        took = in_turn(
            {
                "floor": lambda: floor(path),
                "door": lambda: Journal(path).sound(),
                "careless": lambda: (Journal(path).sound(), Journal(path).read()),
            }
        )
        alone = in_process(path)
    print(f"a journal of {lines} lines, every line read as JSON: 1 ({took['floor'] * 1e3:.1f} ms)")
    print(f"  the door: {took['door'] / took['floor']:.2f} (bar 1.5)")
    print(f"  read twice, as a careless door does: {took['careless'] / took['floor']:.2f}")
    print(f"a bare interpreter start: 1 ({alone['bare'] * 1e3:.1f} ms)")
    spent = (alone["checked"] - alone["loaded"]) / alone["bare"]
    print(f"  the door, in a process of its own: {spent:.2f} (bar 5 for 10,000 lines)")


if __name__ == "__main__":
    main()
