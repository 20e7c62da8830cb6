"""The press evening: a party of 120 names and five other orders, held to a reckoning of its own.

The reckoning reads the shop's YAML files and knows the rules; of the program it imports nothing.
"""

from __future__ import annotations

import functools
import math
import re
import subprocess
from datetime import date, timedelta
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
import yaml

from tests.cli.small import SHOP, make_shop, run, write

TODAY = date(2026, 11, 25)
PARTY_SHOP = (
    SHOP.replace("paper: [A4]", "paper: [A4, A3]")
    + """\
platen: {width: 380 mm, height: 380 mm}
cover: 10 mm
spares: 5 %
rates: {sheet: {A4: 0.18, A3: 0.36}}
evening: {warm_up: 12 min, change: 7 min, handling: 50 s, minutes: 200}
demo: true
"""
)
CLOTH = "cloth: {finish: %s, polyester: 100 %%, colours: {white: '#fff', sky: '#6fb7e9'}}\n"
BLANKS = {
    "stall-wrap": """\
construction: wrap
vessel: {diameter: 66.1 mm}
length: 242 mm
height: 100 mm
thickness: 4 mm
closure: {width: 30 mm, shortest: 10 mm, on_top: right}
bleed: 6 mm
safe: 6 mm
press: {heat: 400 F, time: 65 s, preheat: 10 s, from: practice}
"""
    + CLOTH % "foam",
    "stall-fold": """\
construction: fold
vessel: {diameter: 66.1 mm}
width: 120 mm
height: 214 mm
thickness: 3 mm
seam: 6 mm
fold: 4 mm
hem: 5 mm
bleed: 6 mm
safe: 5 mm
press: {heat: 385 F, time: 50 s, preheat: 10 s, from: maker}
"""
    + CLOTH % "smooth",
    "stall-sewn": """\
construction: sewn
vessel: {diameter: 66.1 mm}
width: 108 mm
height: 100 mm
thickness: 3 mm
gap: 4 mm
bleed: 6 mm
safe: 5 mm
press: {heat: 200 C, time: 60 s, preheat: 10 s, sides: 2, from: trial}
"""
    + CLOTH % "linen-look",
    "stall-mat": """\
construction: flat
width: 200 mm
height: 130 mm
thickness: 2 mm
bleed: 4 mm
safe: 6 mm
press: {heat: 180 C, time: 45 s, from: trial}
"""
    + CLOTH % "linen-look",
    "stall-round": """\
construction: flat
shape: round
diameter: 100 mm
thickness: 4 mm
bleed: 4 mm
safe: 6 mm
press: {heat: 385 F, time: 55 s, preheat: 10 s, from: practice}
"""
    + CLOTH % "smooth",
}
WORDS = (
    '    - colour: "#f3d9a4"\n    - words: {slot: name, at: [20 %%, 35 %%, 60 %%, 30 %%], '
    'font: Caladea, size: 8 mm, colour: "#112233"}\n'
)
DESIGNS = {
    "wrapped": (["round"], ["stall-wrap"]),
    "faced": (["front"], ["stall-fold", "stall-mat", "stall-round"]),
    "both": (["front", "back"], ["stall-sewn"]),
}
# order: design, blank, cloth, pieces, due
ORDERS = {
    "party": ("wrapped", "stall-wrap", "white", 120, "2026-12-05"),
    "rings": ("faced", "stall-round", "sky", 8, "2026-11-30"),
    "sleeves": ("both", "stall-sewn", "white", 10, "2026-12-20"),
    "kiln": ("wrapped", "stall-wrap", "sky", 5, "2026-12-28"),
    "folds": ("faced", "stall-fold", "sky", 30, "2027-01-15"),
    "mats": ("faced", "stall-mat", "white", 9, None),
}


def party(shop: Path) -> Path:
    make_shop(shop)
    write(shop / "shop.yaml", PARTY_SHOP)
    for name, text in BLANKS.items():
        write(shop / "blanks" / f"{name}.yaml", f"name: {name.replace('-', ' ')}\n{text}")
    for name, (faces, blanks) in DESIGNS.items():
        drawn = "".join(f"  {face}:\n{WORDS.replace('%%', '%')}" for face in faces)
        offered = ", ".join(f"{blank}: 5.00" for blank in blanks)
        write(
            shop / "designs" / name / "design.md",
            f"---\ntitle: {name}\noccasions: [gift]\noffered: {{{offered}}}\nfaces:\n{drawn}"
            "---\nPlain.\n",
        )
    for order, (design, blank, cloth, count, due) in ORDERS.items():
        text = "customer: {name: Odalys Fenn, email: o@fenn.example}\n"
        text += f"due: {due}\n" if due else ""
        text += f"lines:\n  - design: {design}\n    blank: {blank}\n    cloth: {cloth}\n"
        text += f"    quantity: {count}\n"
        if order == "party":
            names = "\n".join(["name", *(f"Guest {n}" for n in range(1, count + 1))])
            write(shop / "orders" / order / "guests.csv", names + "\n")
            text += "    list: guests.csv\n"
        else:
            text += f"    words: {{name: {order}}}\n"
        write(shop / "orders" / order / "order.yaml", text)
    return shop


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    shop = party(tmp_path_factory.mktemp("evening") / "shop")
    run(shop, "proof").ended(0)
    for order in ORDERS:
        run(shop, "answer", order, "--in-person", "Odalys").ended(0)
    return shop


@pytest.fixture(scope="module")
def journal(shop: Path) -> bytes:
    """What the records said before anything was planned."""
    return (shop / "records" / "journal.jsonl").read_bytes()


@pytest.fixture(scope="module")
def plan(shop: Path, journal: bytes) -> Any:
    return run(shop, "press", "--plan", "--json").ended(0).document


# the reckoning


def told(shop: Path, file: str) -> Any:
    return yaml.safe_load((shop / file).read_text("utf-8"))


def mm(text: str) -> float:
    return float(text.removesuffix(" mm"))


def seconds(text: str) -> float:
    amount, unit = text.split()
    return float(amount) * {"s": 1, "min": 60}[unit]


class Reckoned:
    """One order by plain arithmetic from the shop's files."""

    def __init__(self, shop: Path, order: str) -> None:
        settings, one = told(shop, "shop.yaml"), told(shop, f"orders/{order}/order.yaml")
        (line,) = one["lines"]
        blank = told(shop, f"blanks/{line['blank']}.yaml")
        press, times = blank["press"], settings["evening"]
        self.order, self.blank, self.cloth = order, line["blank"], line["cloth"]
        self.good, self.due = line["quantity"], one.get("due")
        spoiled = Fraction(settings["spares"].split()[0]) / 100
        self.start = math.ceil(self.good / (1 - spoiled))
        wide = mm(blank.get("width") or blank.get("length") or blank.get("diameter"))
        high = mm(blank.get("height") or blank.get("diameter"))
        beyond = max(mm(settings["cover"]), mm(blank["bleed"]) + 3.5)  # 3.5: the marks' strip
        self.paper = (wide + 2 * beyond, high + 2 * beyond)
        self.sides = press.get("sides", 1)
        self.papers = self.good * self.sides
        across, down = mm(settings["platen"]["width"]), mm(settings["platen"]["height"])
        grids = [(across // w) * (down // h) for w, h in (self.paper, self.paper[::-1])]
        self.at_once = int(min(2, max(grids)))
        self.pressings = math.ceil(self.start / self.at_once) * self.sides
        amount, unit = press["heat"].split()
        self.heat = float(amount) if unit == "C" else (float(amount) - 32) / 1.8
        self.time = seconds(press["time"])
        cycle = seconds(press.get("preheat", "0 s")) + self.time + seconds(times["handling"])
        self.seconds = self.pressings * cycle


def whole(orders: list[Reckoned], times: dict[str, str]) -> float:
    """An evening of some orders, s: each heat once."""
    heats = len({one.heat for one in orders})
    setting_up = seconds(times["warm_up"]) + (heats - 1) * seconds(times["change"])
    return setting_up + sum(one.seconds for one in orders)


@functools.cache
def most(wide: float, high: float, a: float, b: float) -> int:
    """How many a × b straight cuts can free from a sheet, by trying every first cut."""
    fits = max((min(a, b) <= min(wide, high) + 1e-9) and (max(a, b) <= max(wide, high) + 1e-9), 0)
    best = int(fits)
    for size in (a, b):
        for n in range(1, int(wide // size) + 1):
            if n * size < wide:
                best = max(best, most(n * size, high, a, b) + most(wide - n * size, high, a, b))
        for n in range(1, int(high // size) + 1):
            if n * size < high:
                best = max(best, most(wide, n * size, a, b) + most(wide, high - n * size, a, b))
    return best


def cheapest(count: int, paper: tuple[float, float], rates: dict[str, float]) -> tuple[float, int]:
    """Cost and number of sheets for so many pieces: every pair of counts is tried."""
    a4, a3 = (most(w - 10, h - 10, *paper) for w, h in ((210, 297), (297, 420)))
    ways = []
    for large in range(count + 1):
        for small in range(count + 1):
            if large * a3 + small * a4 >= count:
                ways.append((large * rates["A3"] + small * rates["A4"], large + small))
                break
    cost = min(way[0] for way in ways)
    return cost, min(way[1] for way in ways if way[0] < cost + 1e-9)


@pytest.fixture(scope="module")
def reckoned(shop: Path) -> dict[str, Reckoned]:
    return {order: Reckoned(shop, order) for order in ORDERS}


def tonight(shop: Path, every: dict[str, Reckoned]) -> list[str]:
    """What must be, then by the day whatever fits."""
    settings = told(shop, "shop.yaml")
    lead, times = settings["days"]["lead"], settings["evening"]
    has = 60 * times["minutes"]

    def start_by(one: Reckoned) -> date:
        if not one.due:
            return date.max
        return one.due - timedelta(lead + math.ceil(whole([one], times) / has) - 1)

    by_day = sorted(every.values(), key=lambda o: (start_by(o) > TODAY, o.due or date.max, o.order))
    chosen: list[Reckoned] = []
    for one in by_day:
        if start_by(one) <= TODAY or whole([*chosen, one], times) <= has:
            chosen.append(one)
    return [one.order for one in chosen]


def test_what_is_pressed_tonight_and_what_another_evening(shop, plan, reckoned):
    chosen = tonight(shop, reckoned)
    assert [one["order"] for one in plan["tonight"]] == chosen
    assert {one["order"] for one in plan["another"]} == set(ORDERS) - set(chosen) != set()
    must = {one["order"]: one["must"] for one in plan["tonight"]}
    assert must["party"] and must["rings"] and not must["sleeves"]
    assert [one["start_by"] for one in plan["tonight"][:2]] == ["2026-11-20", "2026-11-25"]


def test_minutes(shop, plan, reckoned):
    times = told(shop, "shop.yaml")["evening"]
    chosen = [reckoned[order] for order in tonight(shop, reckoned)]
    assert plan["minutes"] == pytest.approx(whole(chosen, times) / 60, abs=0.051)
    assert plan["has_minutes"] == times["minutes"] and plan["minutes"] <= times["minutes"]
    for one in (*plan["tonight"], *plan["another"]):
        alone = whole([reckoned[one["order"]]], times) / 60
        assert one["minutes"] == pytest.approx(alone, abs=0.051)
    clock, before, done = 0.0, None, []
    for heat in plan["heats"]:
        here = [one for one in chosen if (one.heat, one.time) == near(heat, chosen)]
        assert before is None or heat["heat_c"] >= before  # from the coolest to the hottest
        setup = "warm_up" if before is None else "change" if heat["heat_c"] > before else None
        assert heat["setup_minutes"] == (seconds(times[setup]) / 60 if setup else 0)
        assert heat["begins_minute"] == pytest.approx(clock / 60, abs=0.051)
        clock += 60 * heat["setup_minutes"]
        assert [task["order"] for task in heat["tasks"]] == [one.order for one in here]
        for task, one in zip(heat["tasks"], here, strict=True):
            clock += one.seconds
            assert (task["pressings"], task["at_once"]) == (one.pressings, one.at_once)
            assert (task["good"], task["spares"]) == (one.good, one.start - one.good)
            assert task["minutes"] == pytest.approx(one.seconds / 60, abs=0.051)
            assert task["done_minute"] == pytest.approx(clock / 60, abs=0.051)
            assert task["papers"] == one.papers
            done.append(one.order)
        before = heat["heat_c"]
    assert sorted(done) == sorted(one.order for one in chosen)
    assert len({heat["heat_c"] for heat in plan["heats"]}) >= 3


def near(heat: dict[str, Any], every: list[Reckoned]) -> tuple[float, float]:
    """The reckoned heat and time that a stage of the plan stands for."""
    pairs = {(one.heat, one.time) for one in every}
    return min(pairs, key=lambda p: (abs(p[0] - heat["heat_c"]), abs(p[1] - heat["time_s"])))


def test_papers_are_the_cheapest(shop, plan, reckoned):
    rates = told(shop, "shop.yaml")["rates"]["sheet"]
    chosen = tonight(shop, reckoned)
    for heat in plan["heats"]:
        orders = {task["order"] for task in heat["tasks"]}
        sharing = [
            o
            for o in reckoned.values()
            if any(
                (o.heat, o.time, o.blank) == (p.heat, p.time, p.blank)
                for p in map(reckoned.get, orders)
            )
        ]
        assert {one.order for one in sharing} == orders <= set(chosen)  # none waits on their sheets
        prints = [one for one in plan["prints"] if orders & set(one["numbers"])]
        cost = sum(rates[one["paper"]] * len(one["pages"]) for one in prints)
        count = sum(one.papers for one in sharing)
        sheets = sum(len(one["pages"]) for one in prints)
        assert (pytest.approx(cost), sheets) == cheapest(count, sharing[0].paper, rates), orders
    (wraps,) = (one for one in plan["prints"] if "party" in one["numbers"])
    assert (wraps["paper"], len(wraps["pages"])) == ("A3", math.ceil(125 / 3))
    assert (wraps["width_mm"], set(wraps["heights_mm"])) == (297, {420})


def test_the_picking_list(shop, plan, reckoned):
    wanted: dict[tuple[str, str], list[int]] = {}
    for order in tonight(shop, reckoned):
        one = reckoned[order]
        pair = wanted.setdefault((one.blank, one.cloth), [0, 0])
        pair[0] += one.good
        pair[1] += one.start - one.good
    picks = {(p["blank"], p["cloth"]): [p["good"], p["spares"]] for p in plan["picks"]}
    assert picks == wanted and len(picks) == len(plan["picks"])
    assert picks["stall-wrap", "white"] == [120, 7]


def test_each_figure_stands_in_the_line_it_names(shop, plan):
    for one in plan["figures"]:
        file, _, line = one["where"].split(",")[0].partition(":")
        if not line:
            assert (one["what"], one["where"]) == ("side by side", "practice, no source")
            continue
        text = (shop / file).read_text("utf-8").splitlines()[int(line) - 1]
        if one["what"] in ("stall wrap", "stall round"):  # written in °F
            assert "(400 °F)" in one["value"] or "(385 °F)" in one["value"]
            assert f"{one['value'].split(' °F')[0].split('(')[1]} F" in text
        else:
            assert re.search(r"[A-Z]?\d+", one["value"])[0] in text, one
    asked = {one["what"] for one in plan["figures"]}
    assert {"stall wrap", "warming up, laying out", "spares", "party is due"} <= asked


def test_what_is_printed_then_is_what_the_plan_says(shop, plan, journal):
    assert (shop / "records" / "journal.jsonl").read_bytes() == journal
    assert not (shop / "workroom" / "press").exists()
    made = run(shop, "press", "--json").ended(0).document
    sheets = {(Path(s["file"]).name, s["page"]): s for s in made["sheets"]}
    seen = set()
    for one in plan["prints"]:
        assert one["whole"] == sum(file == Path(one["file"]).name for file, _ in sheets)
        of: dict[str, list[int]] = {}
        for page in one["pages"]:
            sheet = sheets[Path(one["file"]).name, page]
            assert sheet["paper"] == one["paper"]
            assert sheet["height_mm"] in one["heights_mm"]
            for numbered in sheet["numbers"]:
                of.setdefault(numbered["order"], []).append(numbered["number"])
            seen.add((sheet["file"], page))
        assert of == one["numbers"]
    chosen = {one["order"] for one in plan["tonight"]}
    assert seen == {
        (s["file"], s["page"])
        for s in made["sheets"]
        if chosen & {numbered["order"] for numbered in s["numbers"]}
    }
    again = run(shop, "press", "--plan", "--json").ended(0).document
    assert again == plan  # the numbers are for ever


def test_on_paper_it_is_one_page_with_heat_and_time_to_read_at_arms_length(shop, plan):
    pdf = shop / "workroom" / "evening.pdf"
    read = subprocess.run(["pdftotext", "-bbox", pdf, "-"], capture_output=True, check=True)
    pages = read.stdout.decode().split("<page ")[1:]
    assert len(pages) == 1
    word = re.compile(r'yMin="([\d.]+)" xMax="[\d.]+" yMax="([\d.]+)">([^<]+)<')
    sizes: dict[str, float] = {}
    for low, high, text in word.findall(pages[0]):
        sizes[text] = max(sizes.get(text, 0), float(high) - float(low))
    for heat in plan["heats"]:
        for figure in (f"{heat['heat_c']:.0f}", f"{heat['time_s']:.0f}"):
            assert sizes[figure] >= 24, figure
    for order in ORDERS:
        assert order in pages[0]


def test_the_page_has_a_box_for_each_sheet_and_step(shop, plan):
    page = (shop / "workroom" / "evening.html").read_text("utf-8")
    tasks = [task for heat in plan["heats"] for task in heat["tasks"]]
    boxes = len(plan["prints"]) + len(plan["picks"]) + len(plan["heats"])
    boxes += sum(1 + len(task["sheets"]) for task in tasks)
    assert page.count('class="box"') == boxes
    assert "<script" not in page and "://" not in page


def test_orders_that_are_named_are_pressed_tonight(shop, plan):
    waiting = plan["another"][0]["order"]
    named = run(shop, "press", "--plan", "party", waiting, "--json").ended(0).document
    assert {one["order"] for one in named["tonight"]} == {"party", waiting}
    assert named["next"] == f"proofgen press party {waiting}"
