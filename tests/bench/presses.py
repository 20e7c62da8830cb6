"""What press sheets cost: memory, and time for each sheet, for lists of several lengths.

    python tests/bench/presses.py [--names 60 120 500] [--photo seeding.jpg] [--shops FOLDER]

Prints a table; nothing here passes or fails, because machines differ and are shared. The aim: 500
names within 400 MB, and the time for a sheet does not grow with their number. A proof of each list
is made and signed first, which takes longer than all else; with --shops they are kept in that
folder and used again. The photograph is real (`tests/real_photos.py`), at 300 ppi.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
from pathlib import Path

HOUSE = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(HOUSE))

from tests.bench import proofs  # noqa: E402
from tests.real_photos import real_photo  # noqa: E402

_LONGEST = 19  # letters of a name that fit their place in the design


def signed_shop(folder: Path, photo: Path, count: int) -> None:
    """A shop with one order of so many names on foam wraps, signed."""
    if folder.exists():
        return
    proofs._BLANK = "can-wrap-foam"
    every = proofs.names
    proofs.names = lambda many: [n for n in every(3 * many) if len(n) <= _LONGEST][:many]
    proofs.shop_of(folder, photo, {"party": count})
    proofs.names = every
    proofs.measured(folder, "proof", "party")
    proofs.measured(folder, "answer", "party", "--in-person", "Ada Fenwick")


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--names", type=int, nargs="+", default=[60, 120, 500])
    asked.add_argument("--photo", default="seeding.jpg")
    asked.add_argument("--shops", type=Path, help="keep the shops here, and use those that are")
    given = asked.parse_args()
    print("names  sheets  peak MB  s in all  s a sheet beyond the first list")
    before: tuple[int, float] | None = None
    with tempfile.TemporaryDirectory() as scratch:
        for count in given.names:
            folder = (given.shops or Path(scratch)) / f"party-{count}"
            signed_shop(folder, real_photo(given.photo), count)
            seconds, peak = proofs.measured(folder, "press", "party")
            sheets = -(-count // 3)
            line = f"{count:5}  {sheets:6}  {peak / 1e6:7.0f}  {seconds:8.1f}"
            if before:
                line += f"  {(seconds - before[1]) / (sheets - before[0]):.2f}"
            before = before or (sheets, seconds)
            print(line, flush=True)


if __name__ == "__main__":
    main()
