"""Speed as ratios to a floor measured in the same run: a full Pillow decode, a bare Python start.

    python tests/bench/ratios.py

Prints a table; nothing here passes or fails, because machines differ and are shared.
"""

from __future__ import annotations

import io
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np
from PIL import Image

HOUSE = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(HOUSE))

from proofgen.artwork.rasters import raster_png  # noqa: E402
from proofgen.geometry import Size, cover_crop  # noqa: E402
from proofgen.photo.measures import measure_picture  # noqa: E402
from proofgen.photo.opening import Pictures  # noqa: E402
from proofgen.store import NoStore, Store  # noqa: E402
from proofgen.views.ink import on_cloth  # noqa: E402

ROUNDS = 5


def taken(work: Callable[[], object], rounds: int = ROUNDS) -> float:
    """Median seconds of a few runs, after one that does not count."""
    work()
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def by_turns(floor: Callable[[], object], work: Callable[[], object], rounds: int = 9) -> float:
    """How many times the processor time of the floor some work takes, both done by turns."""
    times: dict[Callable[[], object], list[float]] = {floor: [], work: []}
    for _ in range(rounds):
        for one, seconds in times.items():
            start = time.process_time()
            one()
            seconds.append(time.process_time() - start)
    return statistics.median(times[work]) / statistics.median(times[floor])


def photo(folder: Path) -> Path:
    """A 12-megapixel JPEG with soft shapes and fine grain, as a camera makes."""
    rng = np.random.default_rng(7)
    small = rng.integers(0, 255, (30, 40, 3), dtype=np.uint8)
    soft = Image.fromarray(small).resize((4000, 3000), Image.Resampling.BICUBIC)
    grain = rng.normal(0, 6, (3000, 4000, 1))
    pixels = np.clip(np.asarray(soft) + grain, 0, 255).astype(np.uint8)
    path = folder / "photo.jpg"
    Image.fromarray(pixels).save(path, quality=90)
    return path


def decode(path: Path) -> None:
    with Image.open(path) as image:
        image.load()


def run(*arguments: str) -> None:
    subprocess.run(
        [sys.executable, *arguments], check=False, cwd=HOUSE, capture_output=True, timeout=600
    )


def pictures(folder: Path) -> None:
    path = photo(folder)
    floor = taken(lambda: decode(path))
    store = Store(folder / "store")

    def proved() -> None:
        with Pictures(NoStore()) as fresh:
            fresh.inspect(path)

    def remembered() -> None:
        Pictures(store).inspect(path)

    raster = Image.open(io.BytesIO(path.read_bytes())).convert("RGB").resize((2835, 1300))
    png = io.BytesIO()
    default = taken(lambda: raster.save(png, "PNG"), 2)
    whole = Image.open(path).convert("RGB")
    around = cover_crop(Size(*whole.size), Size(252, 112), (0.5, 0.5), 1.0)
    measuring = by_turns(lambda: decode(path), lambda: measure_picture(whole, around, (2976, 1323)))
    with Pictures(store) as opened:
        facts = opened.inspect(path)
        rows = [
            (
                "photo looked at, header only",
                taken(lambda: Pictures(NoStore()).inspect(path, decode=False)),
            ),
            ("photo looked at, every pixel proved, the process started", taken(proved)),
            ("photo looked at again, remembered", taken(remembered)),
            (
                "pixels for a raster 2835 px wide, decoded before",
                taken(lambda: opened.open_pixels(facts, (2835, 2126))),
            ),
            (
                "ink on coloured cloth, 2835 × 1300",
                taken(lambda: on_cloth(raster, "#6fb7e9")),
            ),
        ]
    print(f"full decode of a 12-megapixel JPEG: 1 ({floor * 1000:.0f} ms here)")
    for name, seconds in rows:
        print(f"  {name}: {seconds / floor:.2f}")
    print(f"  a print round a can measured, processor time by turns: {measuring:.2f}")
    print("Pillow's default PNG of the raster: 1")
    print(f"  the kept raster's PNG: {taken(lambda: raster_png(raster)) / default:.2f}")


def commands(folder: Path) -> None:
    bare = taken(lambda: run("-c", "pass"))
    shop = folder / "demo"
    start = time.perf_counter()
    run("-m", "proofgen", "-q", "demo", str(shop))
    first = time.perf_counter() - start
    print(f"bare Python start: 1 ({bare * 1000:.0f} ms here)")
    print(f"  proofgen --version: {taken(lambda: run('-m', 'proofgen', '--version')) / bare:.1f}")
    for command in (["orders"], ["check"], ["build"]):
        again = taken(lambda c=command: run("-m", "proofgen", "-q", "--shop", str(shop), *c), 3)
        print(f"  {command[0]}, nothing changed, demo shop: {again / bare:.1f}")
    print(f"  the demo built from nothing: {first / bare:.0f}")


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as scratch:
        pictures(Path(scratch))
        commands(Path(scratch))
