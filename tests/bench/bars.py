"""What a bar is, and how its row is measured: by turns with its floor, medians of processor time.

The rows stand in `bars_shop.py`, `bars_photos.py` and `bars_papers.py`; `table.py` prints them all.
"""

from __future__ import annotations

import contextlib
import ctypes
import gc
import os
import re
import resource
import statistics
import sys
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path

from PIL import Image

HOUSE = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(HOUSE))

from tests.bench.photo_set import path_of  # noqa: E402

# Baseline JPEGs of 12 megapixels as telephones wrote them: one without a profile, held upright and
# stored on its side; two in Display P3, which an opener must turn into sRGB and a plain decode not.
CAMERA = ("detour-sign.jpg", "canyon-rim.jpg", "highland-rocks.jpg")
RASTER = (2835, 1300)  # px, round a can at 300 ppi


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """How much is measured. `home` is a folder that rows may fill; the counts are what the bars
    ask for, and smaller ones are told in the row."""

    home: Path
    rounds: int = 7
    orders: int = 1000
    first_orders: int = 60  # of a build side by side
    names: int = 120
    pages: int = 10_000
    sheets: int = 100  # of the season on paper
    lines: int = 10_000  # of the journal
    shrink: int = 1  # by which photographs are made smaller, for tests of the table alone


@dataclass(frozen=True, slots=True, kw_only=True)
class Took:
    """What was measured. `ours` and `floor` are in one unit, mostly seconds; `memory` is the most
    that ours held (bytes; 0: not asked), `of` says what of, `fault` what is wrong beside the
    number: a row with a fault misses its bar."""

    ours: float
    floor: float
    memory: int = 0
    of: str = ""
    fault: str = ""

    @property
    def ratio(self) -> float:
        return self.ours / self.floor


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """One row. `limit` is the most the ratio may be, with `least` the least; `takes` says why a row
    is only measured when it is asked for; `careless` what the variant does that must miss."""

    key: str
    row: str
    floor: str
    limit: float
    measure: Callable[[Scale, bool], Took]
    careless: str
    least: bool = False
    takes: str = ""

    def met(self, took: Took) -> bool:
        inside = took.ratio >= self.limit if self.least else took.ratio <= self.limit
        return inside and not took.fault


def _used() -> float:
    """Processor seconds so far, of this process and of all it started and that have ended."""
    both = (resource.getrusage(w) for w in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    return sum(one.ru_utime + one.ru_stime for one in both)


def in_turn(
    works: Mapping[str, Callable[[], object]],
    rounds: int,
    before: Callable[[], object] = lambda: None,
) -> dict[str, float]:
    """Median processor seconds of each work, run one after the other, after a run of each that does
    not count; `before` is done before each of them and does not count either."""
    times: dict[str, list[float]] = {name: [] for name in works}
    for number in range(rounds + 1):
        for name, work in works.items():
            before()
            gc.collect()
            began = _used()
            work()
            took = _used() - began
            if number:
                times[name].append(took)
    return {name: statistics.median(every) for name, every in times.items()}


def _status(field: str, pid: str = "self") -> int:
    """Bytes that Linux tells of a process under a field; 0 elsewhere."""
    try:
        told = Path(f"/proc/{pid}/status").read_text("ascii", "replace")
    except OSError:
        return 0
    found = re.search(rf"^{field}:\s+(\d+) kB", told, re.MULTILINE)
    return int(found[1]) * 1024 if found else 0


def held(work: Callable[[], object]) -> int:
    """The most bytes that work needs beyond what the process held before; 0 where Linux's account
    is missing. Done once more in a process of its own, which takes no time from the others."""
    if not Path("/proc/self/clear_refs").exists():
        return 0
    reader, writer = os.pipe()
    child = os.fork()
    if not child:
        try:
            gc.collect()
            with contextlib.suppress(OSError, AttributeError):  # another C library
                ctypes.CDLL(None).malloc_trim(0)  # what earlier work left free would hide ours
            Path("/proc/self/clear_refs").write_text("5")  # the peak begins anew (proc(5))
            before = _status("VmRSS")
            work()
            os.write(writer, str(max(0, _status("VmHWM") - before)).encode())
        finally:
            os._exit(0)
    os.close(writer)
    with os.fdopen(reader) as told:
        most = told.read()
    os.waitpid(child, 0)
    return int(most or 0)


def camera_photo(scale: Scale, name: str = CAMERA[0]) -> Path:
    """A photograph of 12 megapixels; smaller only where the table itself is tried."""
    path = path_of(name)
    if scale.shrink == 1:
        return path
    small = scale.home / f"{path.stem}-{scale.shrink}.jpg"
    if not small.exists():
        with Image.open(path) as photo:
            photo.convert("RGB").reduce(scale.shrink).save(small, quality=92)
    return small


def raster(scale: Scale) -> Image.Image:
    """A press raster round a can, of that photograph."""
    with Image.open(camera_photo(scale)) as photo:
        wide, high = RASTER[0] // scale.shrink, RASTER[1] // scale.shrink
        return photo.convert("RGB").resize((wide, high), Image.Resampling.LANCZOS)
