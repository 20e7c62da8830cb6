"""What a season of many orders costs: to list, to check, to build again.

    python tests/bench/season.py [--orders 10,100] [--keep FOLDER] [--json FILE]

Makes a shop of so many orders through the real commands: each has a photograph of its own (a part
of a real one, small, so that the shop is made soon), a quarter of them is new, a quarter proofed, a
quarter signed, a quarter pressed. Prints processor time (own and children's) as a ratio to a bare
interpreter start, medians of interleaved runs, the bytes of orders' photos that were read, and the
most memory. Nothing here passes or fails, because machines differ and are shared.
"""

from __future__ import annotations

import argparse
import json
import os
import re
import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path

from PIL import Image

HOUSE = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(HOUSE))

from tests.real_photos import real_photo  # noqa: E402

_PHOTOS = ("seeding.jpg", "sunset.jpg", "dragonfly.jpg", "wine.jpg")
_SIDE = 640  # px
_DESIGN = """\
---
title: Round window
offered: {coaster-round: {1: 6.50}}
faces:
  front:
    - photo: {slot: photo, at: fill}
sample: {photos: {photo: sample.jpg}, cloth: white}
---
A picture of yours, round as a porthole.
"""
_ORDER = """\
customer: {{name: Ada Fenwick {number}, email: ada{number}@fenwick.example, language: en}}
due: 2026-12-19
rights: {{print: yes, show: no}}
lines:
  - design: round-window
    blank: coaster-round
    cloth: white
    quantity: 1
    photos: {{photo: {{file: photos/photo.jpg, focus: [0.5, 0.5]}}}}
"""
ROUNDS = 7


def shop_of(folder: Path, count: int) -> Path:
    """A shop with so many orders, no two with the same photograph; nothing is built yet."""
    shutil.copytree(HOUSE / "content", folder, ignore=shutil.ignore_patterns("records", "orders"))
    settings = (folder / "shop.yaml").read_text("utf-8")
    settings = settings.replace("ppi: 150", "ppi: 100").replace("good_ppi: 200", "good_ppi: 120")
    settings = settings.replace("demo: true\n", "")  # whose links are compared with all others
    (folder / "shop.yaml").write_text(settings.replace("floor_ppi: 120", "floor_ppi: 80"), "utf-8")
    design = folder / "designs" / "round-window"
    design.mkdir()
    (design / "design.md").write_text(_DESIGN, "utf-8")
    for number in range(count):
        add_order(folder, number)
    shutil.copy(folder / "orders/o0000/photos/photo.jpg", design / "sample.jpg")
    return folder


def add_order(folder: Path, number: int) -> None:
    """One more order, with the next part of one of the photographs."""
    order = folder / "orders" / f"o{number:04}"
    (order / "photos").mkdir(parents=True)
    with Image.open(real_photo(_PHOTOS[number % len(_PHOTOS)])) as photo:
        photo.draft("RGB", (photo.width // 2, photo.height // 2))
        across = (photo.width - _SIDE) // 16
        at = number // len(_PHOTOS)
        left, top = at % 16 * across, at // 16 % 16 * (photo.height - _SIDE) // 16
        part = photo.convert("RGB").crop((left, top, left + _SIDE, top + _SIDE))
    part.save(order / "photos" / "photo.jpg", quality=92)
    (order / "order.yaml").write_text(_ORDER.format(number=number), "utf-8")


def answered(folder: Path) -> None:
    """A quarter of the orders stays as it is, a quarter was sent, one signed, one pressed."""
    from proofgen import pipeline
    from proofgen.signoff import EventKind
    from proofgen.workshop import at_work, open_workshop

    with open_workshop(folder) as workshop, at_work(workshop):
        for number, name in enumerate(sorted(workshop.shop.orders)):
            if number % 4:
                workshop.records.mark(name, EventKind.SENT, workshop.now)
            if number % 4 > 1:
                pipeline.answer_in_person(workshop, name, "Ada", "ok", None)
            if number % 4 > 2:
                workshop.records.mark(name, EventKind.PRESSED, workshop.now)


def spent(*command: str) -> float:
    """Seconds of processor time of a command and all that it starts."""
    environment = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run(command, check=False, cwd=HOUSE, capture_output=True, env=environment)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def proofgen(shop: Path, *arguments: str) -> tuple[str, ...]:
    return (sys.executable, "-m", "proofgen", "-q", "--shop", str(shop), *arguments)


def watched(command: Sequence[str], shop: Path) -> tuple[int, int]:
    """How many photos of orders a command (and what it starts) opened, and the most memory that
    one of its processes held (bytes); -1 photos where strace is missing."""
    with tempfile.TemporaryDirectory() as scratch:
        log = Path(scratch) / "log"
        tracer = ["strace", "-f", "-qq", "-e", "trace=openat,open", "-o", str(log)]
        opened = -1
        if shutil.which("strace"):
            subprocess.run([*tracer, *command], check=False, cwd=HOUSE, capture_output=True)
            opened = len(re.findall(r"orders/[^/\"]+/photos/[^\"]+\.jpg", log.read_text()))
        timed = "import resource, subprocess, sys; subprocess.run(sys.argv[1:], capture_output=True"
        timed += "); print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)"
        ran = subprocess.run(
            [sys.executable, "-c", timed, *command], capture_output=True, text=True, cwd=HOUSE
        )
    return opened, int(ran.stdout) * 1024


def _rows(shop: Path) -> list[tuple[str, float, tuple[int, int] | None]]:
    """What was measured of a shop that is built: processor seconds (medians), and what was read."""
    bare = (sys.executable, "-c", "pass")
    runs = {
        "a bare start": bare,
        "--help": (sys.executable, "-m", "proofgen", "--help"),
        **{command: proofgen(shop, command) for command in ("orders", "check", "build")},
    }
    for command in runs.values():  # once without counting: what is new is worked out
        spent(*command)
    times: dict[str, list[float]] = {name: [] for name in runs}
    for _ in range(ROUNDS):
        for name, command in runs.items():
            times[name].append(spent(*command))
    return [
        (
            name,
            statistics.median(times[name]),
            watched(command, shop) if command[1] == "-m" and name != "--help" else None,
        )
        for name, command in runs.items()
    ]


def one_changed(shop: Path) -> float:
    """Seconds of a build after one order (a new one) was changed; the median of three."""
    order = shop / "orders" / "o0000" / "order.yaml"
    times = []
    for quantity in (2, 3, 1):
        text = re.sub(r"quantity: \d+", f"quantity: {quantity}", order.read_text("utf-8"))
        order.write_text(text, "utf-8")
        times.append(spent(*proofgen(shop, "build")))
    return statistics.median(times)


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--orders", default="10,100", help="sizes of shops, by commas")
    asked.add_argument("--keep", type=Path, help="leave the shops here for the next time")
    asked.add_argument("--json", type=Path, help="write what was measured here, too")
    given = asked.parse_args()
    told: dict[str, object] = {}
    with tempfile.TemporaryDirectory() as scratch:
        home = given.keep or Path(scratch)
        for count in [1, *map(int, given.orders.split(","))]:
            shop, first = home / f"shop-{count}", 0.0
            if not shop.exists():
                shop_of(shop, count)
                first = spent(*proofgen(shop, "build"))
                answered(shop)
                spent(*proofgen(shop, "build"))
            rows = _rows(shop)
            bare = rows[0][1]
            print(f"{count} orders; a bare start: 1 ({bare * 1000:.1f} ms of processor time)")
            if first:
                print(f"  built from nothing: {first / bare:.0f}, an order {first / count:.2f} s")
            for name, seconds, read in rows[1:]:
                more = f"; photos opened {read[0]}, {read[1] / 1e6:.0f} MB" if read else ""
                print(f"  {name}: {seconds / bare:.1f}{more}")
            changed = one_changed(shop)
            print(f"  build after one order changed: {changed / bare:.1f}")
            told[str(count)] = {
                "bare_s": bare,
                "first_s": first,
                "changed_s": changed,
                "rows": {name: {"seconds": s, "read": r} for name, s, r in rows},
            }
    if given.json:
        given.json.write_text(json.dumps(told, indent=1) + "\n", "utf-8")


if __name__ == "__main__":
    main()
