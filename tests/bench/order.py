"""What one order costs, step by step, as ratios to a floor measured in the same run.

    python tests/bench/order.py [--rounds 7] [--json FILE]

Processor time of every process, medians of interleaved runs. D is Pillow's full decode of the same
photograph; the floor under `proof` is `floor_proof.py`, which uses no code of ours. The photographs
are real; the one of 48 megapixels is real ones side by side. Nothing here passes or fails, because
machines differ and are shared.
"""

from __future__ import annotations

import argparse
import io
import json
import os
import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from urllib.parse import quote

from PIL import Image

HOUSE = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(HOUSE))

from proofgen.photo.opening import Pictures  # noqa: E402
from proofgen.render.fonts import Fonts  # noqa: E402
from proofgen.store import NoStore  # noqa: E402
from tests.bench.proofs import shop_of  # noqa: E402
from tests.photo.picture_files import segment, with_segments  # noqa: E402
from tests.real_photos import real_photo  # noqa: E402

_RASTER = (2835, 1300)  # px
_BARS = {
    "raster 12": 3.8,
    "raster 48": 1.6,
    "proof": 1.5,
    "press": 1.5,
}  # at most


def child_seconds(pid: int) -> float:
    """Processor time (s) of a running process, by Linux's account."""
    told = Path(f"/proc/{pid}/stat").read_text("ascii").rsplit(")", 1)[1].split()
    return (int(told[11]) + int(told[12])) / os.sysconf("SC_CLK_TCK")


def rasters(data: bytes, folder: Path, rounds: int) -> tuple[list[float], list[float]]:
    """Seconds of a full decode, and of a photo's part fitted to a press raster, each photo new."""
    floor, ours = [], []
    with Pictures(NoStore()) as pictures:
        for number in range(rounds + 1):
            began = time.process_time()
            image = Image.open(io.BytesIO(data))
            image.load()
            floor.append(time.process_time() - began)
            (wide, high), image = image.size, None
            path = folder / f"{number}.jpg"
            path.write_bytes(with_segments(data, segment(0xFE, b"%d" % number)))
            facts = pictures.inspect(path, decode=False)
            process = pictures._worker._process
            assert process is not None
            share = _RASTER[1] / _RASTER[0] * wide / high / 2
            box = (0.0, 0.5 - share, 1.0, 0.5 + share)
            wanted = (_RASTER[0], -(-high * _RASTER[0] // wide))
            before, began = child_seconds(process.pid), time.process_time()
            pictures.open_part(facts, wanted, {"box": box, "size": _RASTER})
            own = time.process_time() - began
            ours.append(own + child_seconds(process.pid) - before)
    return floor[1:], ours[1:]


def tiled(names: tuple[str, ...], size: tuple[int, int]) -> bytes:
    """Photographs side by side, as a JPEG of this size."""
    whole, number = Image.new("RGB", size), 0
    for left in range(0, size[0], size[0] // 2):
        for top in range(0, size[1], size[1] // 2):
            with Image.open(real_photo(names[number % len(names)])) as photo:
                whole.paste(photo.convert("RGB"), (left, top))
            number += 1
    out = io.BytesIO()
    whole.save(out, "JPEG", quality=92)
    return out.getvalue()


def spent(command: list[str], **more: str) -> float:
    """Processor seconds of a command and all it starts."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    # As on anybody's machine, where Python keeps what it compiled.
    environment = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"} | more
    done = subprocess.run(command, check=False, cwd=HOUSE, capture_output=True, env=environment)
    assert done.returncode == 0, done.stderr.decode()[-2000:]
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def proof_and_floor(
    folder: Path, rounds: int, *, careless: bool = False
) -> tuple[list[float], list[float], float]:
    """Seconds of the floor and of `proof` of an order that was checked, in a shop that made a proof
    of another photo and name before; and of a bare start. A careless run has forgotten all that
    was worked out."""
    shop = folder / "shop"
    shop_of(shop, real_photo("sunset.jpg"), {"one": 1})
    ours = [sys.executable, "-m", "proofgen", "-q", "--shop"]
    shutil.copytree(shop / "orders" / "one", shop / "orders" / "before")
    shutil.copy(real_photo("dragonfly.jpg"), shop / "orders" / "before" / "photos" / "sunset.jpg")
    (shop / "orders" / "before" / "guests.csv").write_text("guest\nWenhal Somebody\n", "utf-8")
    spent([*ours, str(shop), "proof", "before"])
    spent([*ours, str(shop), "check", "one"])
    floor_times, times, bare = [], [], []
    texts = folder / "texts"
    texts.mkdir()
    shutil.copytree(shop, folder / "first")
    as_templates(folder / "first", texts)
    for number in range(rounds + 1):
        copy, out = folder / f"copy{number}", folder / f"out{number}"
        shutil.copytree(shop, copy)
        shutil.copytree(texts, out)
        if careless:
            shutil.rmtree(copy / "workroom")
        times.append(spent([*ours, str(copy), "proof", "one"]))
        floor = [sys.executable, str(Path(__file__).with_name("floor_proof.py"))]
        where = [copy / "orders" / "one", texts / "page.html", texts / "pdf.html", out]
        font = str(Fonts().files["Caladea Italic"])
        floor_times.append(spent([*floor, *map(str, where)], FLOOR_FONT=font))
        bare.append(spent([sys.executable, "-c", "pass"]))
        shutil.rmtree(copy)
    return floor_times[1:], times[1:], statistics.median(bare)


# Runs the command and leaves what it set on paper, as it was set in the end, for the floor.
_AS_SET = """
import json, sys
from pathlib import Path
from PIL import Image
from weasyprint.document import Document
from proofgen import pipeline
from proofgen.cli import main
from proofgen.render.fonts import Fonts
pdf, out = sys.modules["proofgen.render.pdf"], Path(sys.argv[1])
plain_set, plain_write, sizes = pdf._set, Document.write_pdf, {}
def seen(html, files):
    document = plain_set(html, files)
    document.was_set_from = html, files
    return document
def write_pdf(document, *given, **named):
    html, files = document.was_set_from
    (out / f"pdf-{len(list(out.glob('pdf-*')))}.html").write_text(html, "utf-8")
    for name in files:
        (out / name).write_bytes(files[name])
        with Image.open(out / name) as picture:
            sizes[name] = picture.size
        (out / name).unlink()
    (out / "pictures.json").write_text(json.dumps(sizes))
    (out / "fonts.json").write_text(json.dumps({k: str(v) for k, v in Fonts().files.items()}))
    return plain_write(document, *given, **named)
pdf._set, Document.write_pdf = seen, write_pdf
main(sys.argv[2:])
"""


def as_set(shop: Path, folder: Path, *command: str) -> list[str]:
    """Run a command once and leave, for the floor, what it set on paper, as pdf-0.html and so on,
    what pictures these show, and the fonts that they name; the texts."""
    spent([sys.executable, "-c", _AS_SET, str(folder), "-q", "--shop", str(shop), *command])
    papers = [path.read_text("utf-8") for path in sorted(folder.glob("pdf-*.html"))]
    (folder / "fonts").mkdir()
    for name, file in json.loads((folder / "fonts.json").read_text("utf-8")).items():
        if any(f"fonts/{name}" in p or f"fonts/{quote(name)}" in p for p in papers):
            shutil.copy(file, folder / "fonts" / name)
    return papers


def as_templates(shop: Path, folder: Path) -> None:
    """Make the proof once and leave its page and its page on paper as templates."""
    before = set(shop.glob("site/p/*/index.html"))
    (paper,) = as_set(shop, folder, "proof", "one")
    (made,) = set(shop.glob("site/p/*/index.html")) - before
    for name, text in {"page.html": made.read_text("utf-8"), "pdf.html": paper}.items():
        (folder / name).write_text("{% raw %}" + text + "{% endraw %}{{ words }}", "utf-8")


def press_and_floor(
    folder: Path, rounds: int, *, careless: bool = False
) -> tuple[list[float], list[float]]:
    """Seconds of the floor and of `press` of a signed piece, in a shop that made another's sheets
    before. A careless run has forgotten all that was worked out."""
    shop, texts = folder / "shop", folder / "texts"
    shop_of(shop, real_photo("sunset.jpg"), {"one": 1, "before": 1})
    ours = [sys.executable, "-m", "proofgen", "-q", "--shop"]
    for name in ("one", "before"):
        spent([*ours, str(shop), "proof", name])
        spent([*ours, str(shop), "answer", name, "--in-person", "Ada Fenwick"])
    spent([*ours, str(shop), "press", "before"])
    texts.mkdir()
    shutil.copytree(shop, folder / "first")
    as_set(folder / "first", texts, "press", "one")
    floor_times, times = [], []
    for number in range(rounds + 1):
        copy, out = folder / f"copy{number}", folder / f"out{number}"
        shutil.copytree(shop, copy)
        out.mkdir()
        if careless:
            shutil.rmtree(copy / "workroom")
        times.append(spent([*ours, str(copy), "press", "one"]))
        (raster,) = copy.glob("records/one/rasters/*.png")
        floor = [sys.executable, str(Path(__file__).with_name("floor_press.py"))]
        where = [copy / "orders" / "one", raster, texts, out]
        floor_times.append(spent([*floor, *map(str, where)]))
        shutil.rmtree(copy)
    return floor_times[1:], times[1:]


def row(name: str, bar: str, floor: list[float], ours: list[float]) -> dict[str, object]:
    low, high = statistics.median(floor), statistics.median(ours)
    print(f"{name:<44} {high:7.3f} {low:7.3f} {high / low:6.2f}   bar {_BARS[bar]}", flush=True)
    return {"row": name, "ours_s": high, "floor_s": low, "ratio": high / low, "bar": _BARS[bar]}


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked.add_argument("--rounds", type=int, default=7)
    asked.add_argument("--json", type=Path)
    given = asked.parse_args()
    photos: dict[str, Callable[[], bytes]] = {
        "12": lambda: real_photo("sunset.jpg").read_bytes(),
        "48": lambda: tiled(("dragonfly.jpg", "sunset.jpg", "wine.jpg"), (8000, 6000)),
    }
    print(f"{'':<44} {'ours s':>7} {'floor s':>7} {'ratio':>6}")
    rows = []
    with tempfile.TemporaryDirectory() as scratch:
        for size, data in photos.items():
            times = rasters(data(), Path(scratch), given.rounds)
            rows.append(row(f"press raster, {size} megapixels, to D", f"raster {size}", *times))
        floor, ours, bare = proof_and_floor(Path(scratch), given.rounds)
        rows.append(row("proof of an order, to a straight script", "proof", floor, ours))
    with tempfile.TemporaryDirectory() as scratch:
        times = press_and_floor(Path(scratch), given.rounds)
        rows.append(row("press of a signed piece, to a straight script", "press", *times))
    print(f"a bare interpreter start: {bare:.3f} s")
    if given.json:
        given.json.write_text(json.dumps({"rows": rows, "bare_s": bare}, indent=1), "utf-8")


if __name__ == "__main__":
    main()
