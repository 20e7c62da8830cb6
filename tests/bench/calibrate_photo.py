"""How well the checks of photos tell good pictures from spoilt ones, on real photographs.

    python tests/bench/calibrate_photo.py [--group G] [--rows NAME,…] [--photos N] [--jobs N]
                                           [--fit]

Real photographs are cut as they would be printed, spoilt in known ways, measured and judged by the
checks themselves: those that the limits were set on, and others that nobody had measured before
the limits stood, which is what counts. What was measured is remembered beside the fetched
photographs, so that a second run measures only what changed. `--rows` takes beginnings of the rows'
names, and "heads" and "quality" for what is asked last. `--fit` prints the weights of
proofgen/checks/traces.py anew.
"""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from pathlib import Path

HOUSE = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(HOUSE))

from proofgen.checks.listed import CHECKS  # noqa: E402
from proofgen.checks.runner import run_over  # noqa: E402
from proofgen.checks.subjects import Spot  # noqa: E402
from proofgen.model import Limits, PhotoFacts  # noqa: E402
from proofgen.photo.measures import quality_of  # noqa: E402
from tests.bench import heads  # noqa: E402
from tests.bench.photo_fit import fit  # noqa: E402
from tests.bench.photo_rows import spoilt  # noqa: E402
from tests.bench.photo_set import GROUPS, group, names, opened  # noqa: E402
from tests.bench.photo_spoils import jpeg, tables_in  # noqa: E402
from tests.bench.photo_table import table  # noqa: E402


def compressed(name: str) -> list[tuple[int, bool, int | None]]:
    """What the JPEG check says of one photograph saved at each quality: the quality, whether it
    warns, the quality read."""
    photo = opened(name).resize((320, 240))
    rows = []
    for quality in range(1, 101):
        tables = tables_in(jpeg(photo, quality))
        facts = PhotoFacts(file=Path("photo.jpg"), jpeg_tables=tables)
        (found,) = run_over(CHECKS["photo/jpeg-quality"], [(Spot(), facts)], Limits())
        rows.append((quality, found.status == "warn", quality_of(tables)))
    return rows


def _qualities(some: list[str], pool: ProcessPoolExecutor) -> Iterator[str]:
    found = list(zip(some, pool.map(compressed, some), strict=True))
    for whose in GROUPS:
        mine = [row for name, rows in found if group(name) == whose for row in rows]
        low = [row for row in mine if row[0] <= 40]
        if mine:
            yield (
                f"{whose}: JPEG quality <= 40: warned of {sum(row[1] for row in low)} of {len(low)}"
                f"; >= 60: {sum(row[1] for row in mine if row[0] >= 60)}; "
                f"read wrongly: {sum(row[0] != row[2] for row in mine)} of {len(mine)}"
            )


def main() -> None:
    """Measure, judge, print."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--photos", type=int, help="only so many photographs")
    parser.add_argument("--group", choices=GROUPS, help="only this group")
    parser.add_argument("--rows", default="", help="only rows whose names begin so, with commas")
    parser.add_argument("--jobs", type=int, default=os.cpu_count(), help="processes")
    parser.add_argument("--fit", action="store_true", help="print the faint score's weights anew")
    given = parser.parse_args()
    wanted = tuple(part.strip() for part in given.rows.split(",") if part.strip())
    some = [n for n in names() if not given.group or group(n) == given.group][: given.photos]
    with ProcessPoolExecutor(given.jobs) as pool:
        seen = []
        if set(wanted) != {"heads"}:
            seen = [
                one for found in pool.map(partial(spoilt, wanted=wanted), some) for one in found
            ]
        print(f"{len(some)} photographs, {len(seen)} pictures")
        for line in table(seen):
            print(line)
        if not wanted or "quality" in wanted:
            for line in _qualities(some, pool):
                print(line)
        if not wanted or "heads" in wanted:
            for line in heads.lines(some, pool):
                print(line)
    if given.fit:
        print("weights and offset:", fit(seen))


if __name__ == "__main__":
    main()
