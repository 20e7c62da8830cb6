"""The whole table of bars: ours, floor, ratio, bar, met or missed, memory; each row in one run.

    python tests/bench/table.py [--only ROW …] [--careless] [--small] [--json FILE] [--list]

Processor time, medians of seven runs by turns with the floor, on real photographs. Rows that take
long are measured only where `--only` names them (`--only all`: every row); `--list` tells all rows,
what their floor is and how long they take. `--careless` runs each row's deliberately slow or
careless variant, which must miss its bar, and ends with 1 where one does not. `--small` makes the
counts small, to try a row; what a count was stands in the row.
"""

from __future__ import annotations

import argparse
import json
import os
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import asdict, replace
from pathlib import Path

HOUSE = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(HOUSE))

from tests.bench import bars_papers, bars_photos, bars_shop  # noqa: E402
from tests.bench.bars import Bar, Scale, Took  # noqa: E402

BARS: tuple[Bar, ...] = (*bars_shop.BARS, *bars_photos.BARS, *bars_papers.BARS)
_HEAD = f"{'row':<58} {'ours':>10} {'floor':>10} {'ratio':>7} {'bar':>7} {'':<6} {'MB':>6}"


def small(scale: Scale) -> Scale:
    """Counts with which any row takes a few minutes at most; photographs stay as they are."""
    return replace(scale, orders=12, first_orders=8, names=6, pages=200, sheets=12)


def chosen(only: Sequence[str]) -> list[Bar]:
    """The rows of these keys; the quick ones where none is named. KeyError for an unknown key."""
    if unknown := set(only) - {bar.key for bar in BARS} - {"all"}:
        raise KeyError(", ".join(sorted(unknown)))
    if not only:
        return [bar for bar in BARS if not bar.takes]
    return [bar for bar in BARS if bar.key in only or "all" in only]


def told(bar: Bar, took: Took, careless: bool) -> str:
    """A row in letters."""
    unit = 1 if took.of in ("bytes", "MB") else 1000
    name = f"{bar.row}{f', {took.of}' if took.of and unit == 1000 else ''}"
    sign = "≥" if bar.least else "≤"
    word = "met" if bar.met(took) else "MISSED"
    memory = f"{took.memory / 1e6:6.0f}" if took.memory else f"{'':>6}"
    line = (
        f"{name:<58} {took.ours * unit:10.1f} {took.floor * unit:10.1f} {took.ratio:7.2f} "
        f"{sign}{bar.limit:>6g} {word:<6} {memory}"
    )
    line += f"  {took.fault}" if took.fault else ""
    return f"{line}  careless: {bar.careless}" if careless else line


def document(bar: Bar, took: Took, careless: bool) -> dict[str, object]:
    """A row for machines; seconds but where `of` says bytes or MB."""
    return {
        **asdict(took),
        "key": bar.key,
        "row": bar.row,
        "floor_is": bar.floor,
        "ratio": took.ratio,
        "bar": bar.limit,
        "at_least": bar.least,
        "met": bar.met(took),
        "careless": careless,
    }


def listed() -> None:
    for bar in BARS:
        print(f"{bar.key:<16} {bar.row}; floor: {bar.floor}; careless: {bar.careless}")
        if bar.takes:
            print(f"{'':<16} only when named: takes {bar.takes}")


def _asked() -> argparse.Namespace:
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked.add_argument("--json", type=Path, help="write what was measured here, too")
    asked.add_argument("--only", nargs="+", default=[], metavar="ROW", help="these rows, or all")
    asked.add_argument("--careless", action="store_true", help="the variants that must miss")
    asked.add_argument("--small", action="store_true", help="small counts, to try a row")
    asked.add_argument("--list", action="store_true", help="tell the rows, measure nothing")
    asked.add_argument("--rounds", type=int, default=7)
    asked.add_argument("--keep", type=Path, help="leave shops here for the next time")
    for count in ("orders", "first-orders", "names", "pages", "sheets"):
        asked.add_argument(f"--{count}", type=int, help="another count than the bar asks for")
    return asked.parse_args()


def scale_of(given: argparse.Namespace, home: Path) -> Scale:
    scale = Scale(home=home, rounds=given.rounds)
    scale = small(scale) if given.small else scale
    counts = ("orders", "first_orders", "names", "pages", "sheets")
    return replace(scale, **{n: v for n in counts if (v := getattr(given, n)) is not None})


def measured(bars: Sequence[Bar], scale: Scale, careless: bool) -> list[dict[str, object]]:
    """Each row measured and printed at once; a row that fails says so and the others go on."""
    print(f"load {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores; ms of processor time")
    print(_HEAD, flush=True)
    rows = []
    for bar in bars:
        began = time.monotonic()
        try:
            took = bar.measure(scale, careless)
        except (Exception, SystemExit) as error:
            print(f"{bar.row}: not measured: {type(error).__name__}: {error}", flush=True)
            rows.append({"key": bar.key, "row": bar.row, "met": False, "error": str(error)})
            continue
        print(told(bar, took, careless), flush=True)
        row = document(bar, took, careless)
        rows.append({**row, "minutes": (time.monotonic() - began) / 60, "load": os.getloadavg()[0]})
    return rows


def main() -> int:
    given = _asked()
    if given.list:
        listed()
        return 0
    with tempfile.TemporaryDirectory() as scratch:
        home = given.keep or Path(scratch)
        home.mkdir(parents=True, exist_ok=True)
        rows = measured(chosen(given.only), scale_of(given, home), given.careless)
    if given.json:
        given.json.write_text(json.dumps(rows, indent=1) + "\n", "utf-8")
    passed = [str(row["key"]) for row in rows if row["met"]]
    if given.careless and passed:
        print(f"careless, and yet inside the bar: {', '.join(passed)}")
    return int(given.careless and bool(passed))


if __name__ == "__main__":
    sys.exit(main())
