"""What a proof costs: memory, processor time and weight, for one piece and for a long list.

    python tests/bench/proofs.py [--names 120] [--photo seeding.jpg] [--keep FOLDER]

Prints a table of ratios; nothing here passes or fails, because machines differ and are shared. The
photograph is real (`tests/real_photos.py`); the names are made up of syllables, a third of them too
long for their place.
"""

from __future__ import annotations

import argparse
import csv
import os
import random
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

HOUSE = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(HOUSE))

from tests.real_photos import real_photo  # noqa: E402

_SYLLABLES = "ba lo mi ren ta vi no sel ka du fer ina jo wen hal ste"
_DESIGN, _BLANK = "two-on-a-hill", "can-wrap-linen"


def names(count: int) -> list[str]:
    """Names nobody has, all different, some of them long."""
    dice, made = random.Random(7), dict[str, None]()
    while len(made) < count:
        long = dice.random() < 0.35
        parts = [
            "".join(dice.choices(_SYLLABLES.split(), k=dice.randint(2, 3))).capitalize()
            for _ in range(3 if long else dice.randint(1, 2))
        ]
        made[" ".join(parts)] = None
    return list(made)


def shop_of(folder: Path, photo: Path, lists: dict[str, int]) -> None:
    """A shop at 300 ppi with an order for each list: its name, and how many names it has."""
    shutil.copytree(HOUSE / "content", folder, ignore=shutil.ignore_patterns("records", "orders"))
    settings = (folder / "shop.yaml").read_text("utf-8")
    (folder / "shop.yaml").write_text(settings.replace("ppi: 150", "ppi: 300"), "utf-8")
    for name, count in lists.items():
        order = folder / "orders" / name
        (order / "photos").mkdir(parents=True)
        shutil.copy(photo, order / "photos")
        listed = names(count)
        with (order / "guests.csv").open("w", encoding="utf-8", newline="") as file:
            csv.writer(file).writerows([["guest"], *([one] for one in listed)])
        (order / "order.yaml").write_text(
            "customer: {name: Ada Fenwick, email: ada@fenwick.example, language: en}\n"
            "due: 2026-12-19\nlines:\n"
            f"  - design: {_DESIGN}\n    blank: {_BLANK}\n    cloth: white\n    quantity: {count}\n"
            f"    photos: {{photo: {{file: photos/{photo.name}, focus: [0.5, 0.5]}}}}\n"
            '    words: {couple: "Maren & Sören", day: "Saturday 12 June 2027"}\n'
            "    list: guests.csv\n",
            "utf-8",
        )


def _tree(root: int) -> list[int]:
    """A process and all below it."""
    found, left = [], [root]
    while left:
        one = left.pop()
        found.append(one)
        try:
            children = Path(f"/proc/{one}/task/{one}/children").read_text().split()
        except OSError:
            continue
        left += [int(child) for child in children]
    return found


def _held(pid: int) -> int:
    """Bytes of memory a process holds now; what it shares with others counts in parts."""
    try:
        rollup = Path(f"/proc/{pid}/smaps_rollup").read_text()
    except OSError:
        return 0
    sizes = [int(line.split()[1]) for line in rollup.splitlines() if line.startswith("Pss:")]
    return 1024 * sum(sizes)


def measured(folder: Path, *arguments: str, may_find: bool = False) -> tuple[float, int]:
    """Processor seconds and the most bytes held at once, by the command and all it starts;
    `may_find`: a check that stops something is as good as one that does not."""
    command = [sys.executable, "-m", "proofgen", "-q", "--shop", str(folder), *arguments]
    before, peak = os.times(), 0
    with subprocess.Popen(command, cwd=HOUSE, stdout=subprocess.DEVNULL) as running:
        while running.poll() is None:
            peak = max(peak, sum(map(_held, _tree(running.pid))))
            time.sleep(0.05)
    after = os.times()
    assert running.returncode in ((0, 1) if may_find else (0,)), arguments
    seconds = after.children_user + after.children_system
    return seconds - before.children_user - before.children_system, peak


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--names", type=int, default=120)
    asked.add_argument("--photo", default="seeding.jpg")
    asked.add_argument("--keep", type=Path, help="leave the shop here to look at")
    given = asked.parse_args()
    with tempfile.TemporaryDirectory() as scratch:
        folder = given.keep or Path(scratch) / "shop"
        shop_of(folder, real_photo(given.photo), {"one": 1, "two": 2, "many": given.names})
        times, most = {}, {}
        for name in ("one", "two", "many"):
            measured(folder, "check", name)
            times[name], most[name] = measured(folder, "proof", name)
        again, peak = measured(folder, "proof", "many", "--one-file")
    further = (times["many"] - times["one"]) / (given.names - 1)
    print(f"proof of one piece: 1 ({times['one']:.1f} s of processor time here)")
    print(f"  of {given.names} names: {times['many'] / times['one']:.1f}")
    print(f"  each further name: {further / times['one']:.2f}")
    print(f"  the page of {given.names} names set again: {again / times['one']:.1f}")
    print(f"peak memory for one piece: {most['one'] / 1e6:.0f} MB")
    print(f"  for {given.names} names: {most['many'] / 1e6:.0f} MB, set again {peak / 1e6:.0f} MB")


if __name__ == "__main__":
    main()
