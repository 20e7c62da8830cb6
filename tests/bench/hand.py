"""What a picture in the hand costs: a new print on a kept map, against the same sums in straight
numpy and against a full decode of a 12-megapixel photo; and what a map costs that is made anew.

    python tests/bench/hand.py

Processor time, medians, by turns with the floor; nothing here passes or fails.
"""

from __future__ import annotations

import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np
from PIL import Image

HOUSE = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(HOUSE))

from proofgen.artwork.painting import paint  # noqa: E402
from proofgen.model import ColourLayer  # noqa: E402
from proofgen.store import Store  # noqa: E402
from proofgen.views.hand import maps  # noqa: E402
from proofgen.views.hand.maps import RoundMap, map_of  # noqa: E402
from proofgen.views.hand.picture import printed, strip_of  # noqa: E402
from proofgen.views.hand.sleeve import frame_of, sleeve_of  # noqa: E402
from proofgen.views.inround import round_views  # noqa: E402
from tests.artwork.scenes import CAN_WRAP, laid  # noqa: E402
from tests.bench.ratios import by_turns, decode, photo  # noqa: E402
from tests.materials import MATERIALS  # noqa: E402

WIDTHS = (640, 1280)  # px


def straight(strip: np.ndarray, seen: RoundMap) -> np.ndarray:
    """The same look-up and product, whole arrays of numpy: columns' means by sums, the nearest of
    rows made `finer`, times the light, over the ground."""
    at = (seen.edges + 0.5) * len(strip)
    first, last = int(at[0]) - 1, int(at[-1]) + 2
    part = strip[first:last].reshape(last - first, -1).astype(np.float32)
    total = np.vstack([np.zeros((1, part.shape[1]), np.float32), np.cumsum(part, axis=0)])
    whole = (at - first).astype(int)
    rest = (at - first - whole)[:, None].astype(np.float32)
    means = np.diff(total[whole] + rest * part[whole], axis=0) / np.diff(at)[:, None]
    rows = np.clip(np.arange(seen.tall) * strip.shape[1] // seen.tall, 0, strip.shape[1] - 1)
    tall = means.reshape(len(means), *strip.shape[1:])[:, rows].astype(np.uint8)
    looked = tall.reshape(-1, 3)[seen.look]
    ground = np.array([247, 244, 238], np.float32)
    shares = seen.shares.astype(np.float32) / 255
    out = shares[1, ..., None] * 255 + shares[2, ..., None] * ground + shares[3, ..., None] * 252
    (top, bottom), (left, right) = seen.rows, seen.cols
    ink = shares[0, top:bottom, left:right, None]
    out[top:bottom, left:right] += looked * ink
    return np.clip(out + 0.5, 0, 255).astype(np.uint8)


def seconds(work: Callable[[], object], rounds: int = 3) -> float:
    """Median processor time of a few runs."""
    times = []
    for _ in range(rounds):
        start = time.process_time()
        work()
        times.append(time.process_time() - start)
    return statistics.median(times)


def main(folder: Path) -> None:
    path = photo(folder)
    blank = replace(CAN_WRAP, cloth=replace(CAN_WRAP.cloth, finish="linen-look"))
    layout = laid(blank, {"round": (ColourLayer(colour="#6f9fb7"),)})
    rasters, sleeve = paint(layout, 300, MATERIALS), sleeve_of(layout)
    around = Image.effect_noise((2564, 1181), 60).convert("RGB")
    for width in WIDTHS:
        frame, store = frame_of(sleeve, width), Store(folder / str(width))

        def anew(frame: object = frame, store: Store = store) -> RoundMap:
            maps._round.cache_clear()
            return map_of(sleeve, frame, 0.0, store)  # type: ignore[arg-type]

        made = seconds(anew, 1)
        kept = seconds(anew)
        seen = anew()
        strip = strip_of(around, seen)
        one = by_turns(
            lambda strip=strip, seen=seen: straight(strip, seen),
            lambda strip=strip, seen=seen: printed(strip, seen, 0.5, "#ffffff", "#f7f4ee"),
        )
        four = by_turns(
            lambda: decode(path),
            lambda width=width, store=store: round_views(rasters, width, store=store),
        )
        print(f"{width} px: a print on its map, {one:.2f} times the floor in straight numpy")
        print(f"  four views from press rasters: {four:.2f} full decodes of 12 megapixels")
        print(f"  the map made: {made:.2f} s; read back: {kept * 1000:.0f} ms")


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as scratch:
        main(Path(scratch))
