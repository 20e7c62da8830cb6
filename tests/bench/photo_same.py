"""Whether a change to the measures of photos leaves every finding as it was.

    python tests/bench/photo_same.py --keep FILE [--photos N] [--rows NAME,…]
    python tests/bench/photo_same.py --against FILE

The first, run before the change, measures and judges prints of real photographs as they came and
spoilt in every way of `photo_rows`; the second does the same again and prints each finding that is
another, and how far each value has moved. It ends with 1 where any finding moved. Only photographs
that were fetched before are asked.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import sys
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path

HOUSE = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(HOUSE))

from tests.bench.photo_rows import Seen, spoilt  # noqa: E402
from tests.bench.photo_set import names  # noqa: E402
from tests.real_photos import EXTRA, PHOTOS, cache  # noqa: E402

Kept = dict[str, dict[str, object]]


def here() -> list[str]:
    """Photographs that need no fetching, in an order that mixes their sources."""
    listed = PHOTOS | EXTRA
    found = [
        name
        for name in names()
        if name in listed and (cache() / listed[name].sha256[:12] / name).is_file()
    ]
    return sorted(found, key=lambda name: hashlib.sha256(name.encode()).digest())


def _values(of: object, name: str = "") -> Iterator[tuple[str, object]]:
    """The single values of measures, each by its place."""
    if isinstance(of, dict):
        for key, value in of.items():
            yield from _values(value, f"{name}.{key}" if name else str(key))
    elif isinstance(of, list | tuple):
        for number, value in enumerate(of):
            yield from _values(value, f"{name}[{number}]")
    else:
        yield name, of


def told(seen: Seen) -> dict[str, object]:
    """What is kept of a picture: what the checks said, and every value measured."""
    measures = dict(_values(asdict(seen.measures))) if seen.measures else {}
    return {"said": {check: list(said) for check, said in seen.said.items()}, "measures": measures}


def measured(photos: list[str], rows: tuple[str, ...]) -> Iterator[tuple[str, Kept]]:
    """Of each photograph all that is kept, by row and print."""
    for name in photos:
        yield name, {f"{seen.label} | {seen.place}": told(seen) for seen in spoilt(name, rows)}


def compare(name: str, old: Kept, new: Kept, moved: dict[str, list[float]]) -> list[str]:
    """Every finding of a photograph that is another than before, in words; how far values moved
    goes into `moved`, by their names."""
    out = [f"{name}: {key}: there only once" for key in sorted(old.keys() ^ new.keys())]
    for key in old.keys() & new.keys():
        before, after = (json.loads(json.dumps(one[key])) for one in (old, new))
        for check in sorted(before["said"].keys() | after["said"].keys()):
            was, now = (one["said"].get(check) for one in (before, after))
            if was != now:
                out.append(f"{name}: {key}: {check}: {was} -> {now}")
        values = before["measures"]
        for place, now in after["measures"].items():
            was = values.get(place)
            if isinstance(was, bool) or not (
                isinstance(was, int | float) and isinstance(now, int | float)
            ):
                moved[place].append(0.0 if was == now else float("inf"))
            else:
                moved[place].append(abs(now - was) / max(abs(was), 1e-3))
    return out


def main() -> None:
    """Keep, or compare; see above."""
    asked = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    asked.add_argument("--photos", type=int, default=40)
    asked.add_argument("--rows", default="", help="only rows whose names begin so, with commas")
    to = asked.add_mutually_exclusive_group(required=True)
    to.add_argument("--keep", type=Path)
    to.add_argument("--against", type=Path)
    given = asked.parse_args()
    if given.keep:
        rows = tuple(part.strip() for part in given.rows.split(",") if part.strip())
        kept: dict[str, Kept] = {}
        for name, seen in measured(here()[: given.photos], rows):
            kept[name] = seen
            given.keep.write_text(json.dumps({"rows": rows, "photos": kept}), "utf-8")
            print(name, len(seen), flush=True)
        return
    before = json.loads(given.against.read_text("utf-8"))
    moved: dict[str, list[float]] = defaultdict(list)
    others, pictures = 0, 0
    photos = list(before["photos"])[: given.photos]
    for name, seen in measured(photos, tuple(before["rows"])):
        found = compare(name, before["photos"][name], seen, moved)
        others, pictures = others + len(found), pictures + len(seen)
        print(name, len(seen), *found, sep="\n  ", flush=True)
    print(f"{pictures} pictures of {len(photos)} photographs; other findings: {others}")
    for place, far in sorted(moved.items()):
        if any(far):
            far.sort()
            most = f"99 % by at most {far[int(0.99 * len(far))]:.2g}, the most {far[-1]:.2g}"
            print(f"  {place:28} moved in {sum(map(bool, far)):5d} of {len(far)}: {most}")
    sys.exit(others > 0)


if __name__ == "__main__":
    main()
