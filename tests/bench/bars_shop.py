"""Bars of commands on a whole shop: nothing changed, one order changed, a proof, many orders."""

from __future__ import annotations

import importlib.util
import re
import shutil
import statistics
import sys
import tempfile
from collections.abc import Callable
from functools import partial
from pathlib import Path

from tests.bench import cores, order, orders, proofs, season
from tests.bench.bars import Bar, Scale, Took, camera_photo, in_turn

_BARE = (sys.executable, "-c", "pass")
_HELP = (sys.executable, "-m", "proofgen", "--help")
# What a command would load if it loaded all that any command may need.
_ALL_LOADED = """
import sys
import babel.dates, jinja2, markdown, numpy, weasyprint, yaml
from PIL import Image
sys.argv = ["proofgen", "--help"]
from proofgen.cli import main
main(["--help"])
"""


def _memory(command: tuple[str, ...]) -> int:
    """The most that one process of a command held, bytes."""
    timed = "import resource, subprocess, sys; subprocess.run(sys.argv[1:], capture_output=True)"
    timed += "; print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)"
    ran = season.subprocess.run(
        [sys.executable, "-c", timed, *command], capture_output=True, text=True, cwd=season.HOUSE
    )
    return int(ran.stdout) * 1024


def asked_for_help(scale: Scale, careless: bool) -> Took:
    ours = (sys.executable, "-c", _ALL_LOADED) if careless else _HELP
    works = {"floor": partial(season.spent, *_BARE), "ours": partial(season.spent, *ours)}
    return Took(**in_turn(works, scale.rounds), memory=_memory(ours))


def built_shop(home: Path, count: int) -> Path:
    """A season of so many orders, built, a quarter of them in each of four states; kept for the
    other rows of a run."""
    shop = home / f"shop-{count}"
    if not (shop / "site").exists():
        shutil.rmtree(shop, ignore_errors=True)
        season.shop_of(shop, count)
        season.spent(*season.proofgen(shop, "build"))
        season.answered(shop)
        for _ in range(2):  # the second notes that nothing is left to do
            season.spent(*season.proofgen(shop, "build"))
    return shop


def _forget_work(shop: Path) -> None:
    shutil.rmtree(shop / "workroom" / "store", ignore_errors=True)


def unchanged(command: str, scale: Scale, careless: bool) -> Took:
    """A command where nothing changed; the careless variant keeps nothing of what it worked out."""
    shop = built_shop(scale.home, scale.orders)
    ours = season.proofgen(shop, command)
    season.spent(*ours)
    before = partial(_forget_work, shop) if careless else lambda: None
    works = {"floor": partial(season.spent, *_BARE), "ours": partial(season.spent, *ours)}
    took = in_turn(works, scale.rounds, before)
    fault = ""
    if not careless:
        opened, memory = season.watched(ours, shop)
        fault = f"{opened} photos of orders opened" if opened > 0 else ""
        return Took(**took, memory=memory, of=f"{scale.orders} orders", fault=fault)
    return Took(**took, of=f"{scale.orders} orders")


def _plain_pages(folder: Path, count: int) -> Path:
    """So many plain pages for a general site generator."""
    (folder / "docs").mkdir(parents=True)
    (folder / "mkdocs.yml").write_text("site_name: pages\nplugins: []\nuse_directory_urls: false\n")
    for number in range(count):
        text = f"# Page {number}\n\nA page of plain words, and [the next](p{number + 1}.md).\n"
        (folder / "docs" / f"p{number}.md").write_text(text)
    return folder


def rebuilt(scale: Scale, careless: bool) -> Took:
    """`build` where nothing changed, beside the rebuild of as many plain pages by a general site
    generator (`pip install mkdocs`), which is no package of ours: OSError where it is missing."""
    if importlib.util.find_spec("mkdocs") is None:
        raise OSError("needs a site generator: pip install mkdocs")
    shop = built_shop(scale.home, scale.orders)
    ours = season.proofgen(shop, "build")
    season.spent(*ours)
    with tempfile.TemporaryDirectory() as scratch:
        pages = _plain_pages(Path(scratch) / "pages", scale.orders)
        generator = (sys.executable, "-m", "mkdocs", "-q", "build", "-f", str(pages / "mkdocs.yml"))
        works = {"floor": partial(season.spent, *generator), "ours": partial(season.spent, *ours)}
        before = partial(_forget_work, shop) if careless else lambda: None
        took = in_turn(works, scale.rounds, before)
        fault = "" if (pages / "site" / "p0.html").exists() else "the generator made nothing"
    return Took(**took, of=f"{scale.orders} orders and pages", fault=fault)


def _build_after(shop: Path, quantity: int) -> float:
    """Seconds of a build after one order changed to so many pieces, which it never was before."""
    path = shop / "orders" / "o0000" / "order.yaml"
    text = re.sub(r"quantity: \d+", f"quantity: {quantity}", path.read_text("utf-8"))
    path.write_text(text, "utf-8")
    return season.spent(*season.proofgen(shop, "build"))


def one_changed(scale: Scale, careless: bool) -> Took:
    """One order of many changed, less a build without change, beside the same order alone in its
    shop; by turns, each time to a number of pieces that it never had."""
    shop, single = built_shop(scale.home, scale.orders), built_shop(scale.home, 1)
    path = shop / "orders" / "o0000" / "order.yaml"
    told = re.search(r"quantity: (\d+)", path.read_text("utf-8"))
    first = int(told[1]) + 1 if told else 2
    changed, still, alone = [], [], []
    for quantity in range(first, first + scale.rounds):
        if careless:
            _forget_work(shop)
        changed.append(_build_after(shop, quantity))
        still.append(season.spent(*season.proofgen(shop, "build")))
        alone.append(_build_after(single, quantity))
    ours = statistics.median(changed) - statistics.median(still)
    return Took(ours=ours, floor=statistics.median(alone), of=f"one of {scale.orders} orders")


def proof(scale: Scale, careless: bool) -> Took:
    """The proof of an order that was checked; the careless variant forgot what the check found."""
    with tempfile.TemporaryDirectory() as scratch:
        floor, ours, _ = order.proof_and_floor(Path(scratch), scale.rounds, careless=careless)
        memory = 0 if careless else proofs.measured(Path(scratch) / "shop", "proof", "one")[1]
    return Took(ours=statistics.median(ours), floor=statistics.median(floor), memory=memory)


def pressed(scale: Scale, careless: bool) -> Took:
    """The sheets of a signed order; the careless variant forgot all that was worked out."""
    with tempfile.TemporaryDirectory() as scratch:
        floor, ours = order.press_and_floor(Path(scratch), scale.rounds, careless=careless)
    return Took(ours=statistics.median(ours), floor=statistics.median(floor))


def side_by_side(scale: Scale, careless: bool) -> Took:
    """A first build by one process and by two, once each: `ours` is what two take of one's time
    (`cores`: by processor time, since other programs spoil the clock); the careless variant has a
    single process do both shares."""
    with tempfile.TemporaryDirectory() as scratch:
        shop = cores.shop_of(Path(scratch) / "shop", scale.first_orders)
        took = []
        for workers in (1, 1 if careless else 2):
            copy = Path(scratch) / "copy"
            shutil.copytree(shop, copy)
            took.append(cores.build(copy, workers))
            shutil.rmtree(copy)
    one, two = took
    many = 1 if careless else 2
    shared = (two.every - two.alone) / many + two.alone
    return Took(
        ours=one.every, floor=shared, memory=two.memory, of=f"{scale.first_orders} orders, once"
    )


def growth(scale: Scale, careless: bool) -> Took:
    """First builds of so many orders and of a tenth of them, an order of each, once; the careless
    variant starts the command anew for each order that comes in."""
    cost = []
    few = max(1, scale.orders // 10)
    for count in (few, scale.orders):
        with tempfile.TemporaryDirectory() as scratch:
            shop = season.shop_of(Path(scratch) / "shop", count)
            if careless and count > few:
                spent = sum(_arriving(shop, count))
            else:
                spent = season.spent(*season.proofgen(shop, "build"))
            cost.append(spent / count)
    return Took(ours=cost[1], floor=cost[0], of=f"an order of {scale.orders} and of {few}, once")


def _arriving(shop: Path, count: int) -> list[float]:
    """Seconds of a build after each of so many orders came in, nothing being kept between them."""
    aside = shop.with_name("aside")
    (shop / "orders").rename(aside)
    (shop / "orders").mkdir()
    spent = []
    for path in sorted(aside.iterdir())[:count]:
        shutil.move(path, shop / "orders" / path.name)
        _forget_work(shop)
        spent.append(season.spent(*season.proofgen(shop, "build")))
    return spent


# A builder that lets go of no picture.
_HOARDING = """
import sys
from proofgen.store import results
from proofgen.cli import main
plain = results.Lazy.__init__
def hoarding(self, names, make, most=0):
    plain(self, names, make, 10_000)
results.Lazy.__init__ = hoarding
main(sys.argv[1:])
"""


# A check that keeps every photo's pixels.
_KEEPING = """
import sys
from proofgen.cli import main
from proofgen.photo.opening import Pictures
plain, kept = Pictures.open_pixels, []
def keeping(self, *given):
    kept.append(plain(self, *given))
    return kept[-1]
Pictures.open_pixels = keeping
main(sys.argv[1:])
"""
_CHECKED = 200  # orders


def _peak(shop: Path, careless: bool, *arguments: str, program: str = _HOARDING) -> int:
    if not careless:
        return proofs.measured(shop, *arguments, may_find=True)[1]
    command = (sys.executable, "-c", program, "-q", "--shop", str(shop), *arguments)
    return _memory(command)


def names(scale: Scale, careless: bool) -> Took:
    """The most memory of a proof of many names; the careless variant lets no picture go."""
    with tempfile.TemporaryDirectory() as scratch:
        shop = Path(scratch) / "shop"
        proofs.shop_of(shop, camera_photo(scale), {"many": scale.names})
        proofs.measured(shop, "check", "many", may_find=True)
        peak = _peak(shop, careless, "proof", "many")
    return Took(ours=peak / 1e6, floor=500, memory=peak, of="MB")


def many_photos(scale: Scale, careless: bool) -> Took:
    """The most memory of a check of many orders, one photo of 48 megapixels among them."""
    with tempfile.TemporaryDirectory() as scratch:
        shop = orders.shop_of(Path(scratch) / "shop", scale.orders)
        large = order.tiled(("dragonfly.jpg", "sunset.jpg", "wine.jpg"), (8000, 6000))
        orders._add(shop, "large", "large.jpg", large)
        peak = _peak(shop, careless, "build")
    return Took(ours=peak / 1e6, floor=1200, memory=peak, of="MB")


def checked(scale: Scale, careless: bool) -> Took:
    """The most memory of one check of 200 orders, each with a whole photograph of its own."""
    count = min(scale.orders, _CHECKED)
    with tempfile.TemporaryDirectory() as scratch:
        shop = orders.shop_of(Path(scratch) / "shop", count)
        peak = _peak(shop, careless, "check", program=_KEEPING)
    return Took(ours=peak / 1e6, floor=700, memory=peak, of="MB")


_FORGETS = "nothing kept of what was worked out"
_RARELY = "a shop of 1,000 orders, which takes about an hour to build (less with --orders)"


def _still(command: str) -> Bar:
    return Bar(
        key=command,
        row=f"`{command}`, nothing changed",
        floor="a bare interpreter start",
        limit=10,
        measure=partial(unchanged, command),
        careless=_FORGETS,
        takes=_RARELY,
    )


def _bar(
    key: str,
    row: str,
    floor: str,
    limit: float,
    measure: Callable[[Scale, bool], Took],
    **more: str,
) -> Bar:
    careless, takes = more["careless"], more.get("takes", "")
    return Bar(
        key=key, row=row, floor=floor, limit=limit, measure=measure, careless=careless, takes=takes
    )


BARS = (
    _bar(
        *("help", "`--help`", "a bare interpreter start", 5, asked_for_help),
        careless="all libraries loaded first",
    ),
    _still("orders"),
    _still("build"),
    _bar(
        *("generator", "`build`, nothing changed", "plain pages by a site generator"),
        *(0.1, rebuilt),
        careless=_FORGETS,
        takes=f"{_RARELY}, and mkdocs, installed beside",
    ),
    _bar(
        *("changed", "`build`, one order changed, less one unchanged", "the same order alone"),
        *(1.3, one_changed),
        careless=_FORGETS,
        takes=_RARELY,
    ),
    _bar(
        *("growth", "a first build, by order", "a tenth of the orders", 1.15, growth),
        careless="built anew for each order",
        takes="about an hour at 1,000 orders",
    ),
    _bar(
        *("proof", "`proof` of an order", "a straight script of the same steps", 1.5, proof),
        careless="what the check found is forgotten",
    ),
    _bar(
        *("press", "`press` of a signed piece", "a straight script of the same steps"),
        *(1.5, pressed),
        careless="what was worked out is forgotten",
    ),
    Bar(
        key="cores",
        row="a first build, two processes",
        floor="two cores’ share of it",
        limit=1.7,
        least=True,
        measure=side_by_side,
        careless="one process does both shares",
        takes="about ten minutes at 60 orders; once, not seven times",
    ),
    _bar(
        *("names", "most memory, a proof of 120 names", "500 MB", 1, names),
        careless="no picture is let go",
        takes="some minutes",
    ),
    _bar(
        *("check-photos", "most memory, one check of 200 orders", "700 MB", 1, checked),
        careless="every photo’s pixels are kept",
        takes="about ten minutes",
    ),
    _bar(
        *("photos", "most memory, orders with photos to 48 megapixels", "1,200 MB", 1, many_photos),
        careless="no picture is let go",
        takes="over an hour at 1,000 orders",
    ),
)
