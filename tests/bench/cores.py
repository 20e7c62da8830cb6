"""What a first build of a shop gains from working side by side, as ratios to a build alone.

    python tests/bench/cores.py [--orders 60] [--workers 2] [--rounds 1] [--json FILE]

Each order has a whole real photograph of its own (8 to 16 megapixels), at 300 ppi, and the season
of the demo is drawn, too. Prints the ratio by the clock, which other programs spoil, and one by the
processor's time: that of all processes, halved between two cores but for what the run did while
none of its processes did anything. Nothing here passes or fails, because machines differ and are
shared.
"""

from __future__ import annotations

import argparse
import json
import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path

from PIL import Image

HOUSE = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(HOUSE))

from tests.bench.proofs import _held  # noqa: E402
from tests.real_photos import real_photo  # noqa: E402

_PHOTOS = ("sunset.jpg", "dragonfly.jpg", "wine.jpg", "seeding.jpg")
_CUT = 12  # px by which the next order's photograph is cut
_LINES = (
    "  - {design: harbour-photo, blank: can-wrap-linen, cloth: white, quantity: 2,\n"
    "     photos: {photo: {file: photos/photo.jpg}},\n"
    '     words: {name: "The Fenwicks NUMBER", line: "Tern Row, 2026"}}\n',
    "  - {design: stall-window, blank: market-patch, cloth: white, quantity: 1,\n"
    "     photos: {photo: {file: photos/photo.jpg}},\n"
    '     words: {name: "Stall NUMBER", line: "Fridays"}}\n',
)
_BAR = 1.7  # of two processes, at least
_LOOKS = 0.1  # s
_TICKS = os.sysconf("SC_CLK_TCK")


def shop_of(folder: Path, count: int) -> Path:
    """A shop at 300 ppi with so many orders, each with a whole photograph of its own."""
    shutil.copytree(HOUSE / "content", folder, ignore=shutil.ignore_patterns("records", "orders"))
    settings = folder / "shop.yaml"
    settings.write_text(settings.read_text("utf-8").replace("ppi: 150,", "ppi: 300,"), "utf-8")
    for number in range(count):
        order = folder / "orders" / f"o{number:04}"
        (order / "photos").mkdir(parents=True)
        at = number // len(_PHOTOS) * _CUT
        with Image.open(real_photo(_PHOTOS[number % len(_PHOTOS)])) as photo:
            part = photo.convert("RGB").crop((at, at, photo.width, photo.height))
        part.save(order / "photos" / "photo.jpg", quality=92)
        line = _LINES[number // len(_PHOTOS) % len(_LINES)].replace("NUMBER", str(number))
        (order / "order.yaml").write_text(
            f"customer: {{name: Ada Fenwick {number}, email: ada{number}@fenwick.example, "
            f"language: en}}\ndue: 2026-12-19\nrights: {{print: yes, show: no}}\nlines:\n{line}",
            "utf-8",
        )
    return folder


@dataclass
class Took:
    """Seconds of a build: by the clock; of the processor, all processes and the run itself; of it
    while no other process of the build worked. And the most memory of all at once (bytes)."""

    clock: float
    every: float
    own: float
    alone: float
    memory: int


def _processes(session: int) -> dict[int, float]:
    """Processor seconds so far of each process of a session."""
    found = {}
    for path in Path("/proc").glob("[0-9]*/stat"):
        try:
            told = path.read_text("ascii", "replace").rpartition(")")[2].split()
        except OSError:
            continue
        if int(told[3]) == session:
            found[int(path.parent.name)] = (int(told[11]) + int(told[12])) / _TICKS
    return found


def build(shop: Path, workers: int) -> Took:
    """A build of a shop that was never built, by so many processes."""
    command = [sys.executable, "-m", "proofgen", "-q", "--shop", str(shop), "build"]
    began, memory, alone = time.monotonic(), 0, 0.0
    seen: dict[int, float] = {}
    with subprocess.Popen(
        command,
        cwd=HOUSE,
        stdout=subprocess.DEVNULL,
        start_new_session=True,
        env={**os.environ, "PROOFGEN_WORKERS": str(workers)},
    ) as running:
        while running.poll() is None:
            now = _processes(running.pid)
            own = now.get(running.pid, 0.0) - seen.get(running.pid, 0.0)
            others = sum(t - seen.get(p, 0.0) for p, t in now.items() if p != running.pid)
            alone += own if others <= 0 else 0.0
            seen |= now
            memory = max(memory, sum(map(_held, now)))
            time.sleep(_LOOKS)
    assert running.returncode == 0
    clock = time.monotonic() - began
    return Took(clock, sum(seen.values()), seen[running.pid], alone, memory)


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked.add_argument("--orders", type=int, default=60)
    asked.add_argument("--workers", type=int, default=2)
    asked.add_argument("--rounds", type=int, default=1)
    asked.add_argument("--json", type=Path, help="write what was measured here, too")
    given = asked.parse_args()
    took: dict[int, list[Took]] = {1: [], given.workers: []}
    with tempfile.TemporaryDirectory() as scratch:
        shop = shop_of(Path(scratch) / "shop", given.orders)
        for number in range(given.rounds):
            for workers, times in took.items():
                copy = Path(scratch) / f"copy-{number}-{workers}"
                shutil.copytree(shop, copy)
                times.append(build(copy, workers))
                shutil.rmtree(copy)
    one, many = took.values()
    middle = {
        name: (
            statistics.median(getattr(t, name) for t in one),
            statistics.median(getattr(t, name) for t in many),
        )
        for name in ("clock", "every", "own", "alone", "memory")
    }
    every, alone = middle["every"], middle["alone"][1]
    reckoned = every[0] / ((every[1] - alone) / given.workers + alone)
    by_clock = middle["clock"][0] / middle["clock"][1]
    print(f"{given.orders} orders, {given.workers} processes; load {os.getloadavg()[0]:.1f}")
    print(f"  by the clock {by_clock:.2f}, by processor time {reckoned:.2f}   bar {_BAR} (of two)")
    print(f"  alone: {every[0]:.1f} s of the processor, an order {every[0] / given.orders:.2f}")
    print(f"  side by side: {every[1]:.1f}, of it the run's own {middle['own'][1]:.1f}")
    print(f"    with nothing beside it {alone:.1f}")
    print(f"  most memory: {middle['memory'][0] / 1e6:.0f} and {middle['memory'][1] / 1e6:.0f} MB")
    if given.json:
        told = {"by_clock": by_clock, "reckoned": reckoned, **middle}
        given.json.write_text(json.dumps(told, indent=1) + "\n", "utf-8")


if __name__ == "__main__":
    main()
