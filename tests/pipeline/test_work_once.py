"""What is remembered from run to run never changes what a command says or leaves on the disk."""

from __future__ import annotations

import os
import random
import re
import secrets
import shutil
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from proofgen import again
from tests.cli.small import make_shop, order_text, paint, run, write

HOUSE = Path(__file__).resolve().parents[2]
HEAVY = ("numpy", "PIL", "jinja2", "yaml", "weasyprint", "babel", "argparse", "json", "pathlib")
STORE = Path("workroom/store")
COMMANDS = (
    ("build",),
    ("build",),
    ("orders",),
    ("check",),
    ("orders", "--json"),
    ("build", "--explain"),
)

pytestmark = pytest.mark.usefixtures("remembers")


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    shop = make_shop(tmp_path / "shop")
    write(shop / "orders" / "fenn" / "order.yaml", order_text())
    write(shop / "orders" / "reed" / "order.yaml", order_text("Reed", customer="Ida Reed"))
    write(shop / "orders" / "guest" / "order.yaml", order_text(design="snap", customer="Bo Moss"))
    paint(shop / "orders" / "guest" / "photos" / "pier.jpg", side=400)
    table = order_text(design="place", customer="Vi Marl").replace("someone@", "vi@")
    table = re.sub(r" +quantity: 2\n", "    list: guests.csv\n", table)
    table = re.sub(r"words: .*", "words: {couple: Vi & Ry, day: 4 May}", table)
    write(shop / "orders" / "table" / "order.yaml", table)
    write(shop / "orders" / "table" / "guests.csv", "guest,seat\nIvo,4\nUna,5\n")
    return shop


class _Dice:
    """The secrets of a run: others in each, the same in two shops."""

    def __init__(self, lot: int) -> None:
        self._dice = random.Random(lot)

    def __getattr__(self, name: str) -> object:
        return getattr(secrets, name)

    def token_bytes(self, count: int) -> bytes:
        return self._dice.randbytes(count)

    def token_hex(self, count: int) -> str:
        return self._dice.randbytes(count).hex()

    def choice(self, of: str) -> str:
        return self._dice.choice(of)


def left(shop: Path) -> dict[str, bytes]:
    """All files of a shop but the store; what names the shop it was copied from names it, too."""
    homes = re.compile(
        rb"|".join(re.escape(str(shop.parent / n).encode()) for n in ("shop", "fresh"))
    )
    every = (path for path in shop.rglob("*") if path.is_file())
    named = {path.relative_to(shop).as_posix(): path for path in every}
    return {
        name: homes.sub(b"SHOP", path.read_bytes())
        for name, path in named.items()
        if not name.startswith((STORE.as_posix(), "workroom/orders/"))
        or name.endswith((".html", ".jpg"))  # beside each page lies when its files changed
    }


def edit(path: Path, pattern: str, to: str) -> None:
    path.write_text(re.sub(pattern, to, path.read_text("utf-8"), count=1), "utf-8")


def put_back(path: Path, content: bytes) -> None:
    """Other content in place, of the same size, with the time it had."""
    was = path.stat()
    with path.open("r+b") as stream:
        stream.write(content[: was.st_size].ljust(was.st_size, b"#"))
    os.utime(path, ns=(was.st_atime_ns, was.st_mtime_ns))


def a_page(shop: Path, dice: random.Random) -> Path | None:
    pages = sorted(shop.glob("site/p/*/index.html"))
    return dice.choice(pages) if pages else None


def damage_page(shop: Path, dice: random.Random) -> None:
    page = a_page(shop, dice)
    if page:
        put_back(page, b"<!doctype html><title>other</title>")


def drop_page(shop: Path, dice: random.Random) -> None:
    page = a_page(shop, dice)
    if page:
        page.unlink()


def order_of(shop: Path, name: str = "fenn") -> Path:
    return shop / "orders" / name / "order.yaml"


def own_blank(shop: Path, dice: random.Random) -> None:
    """The blank that all orders name, measured anew, or no longer."""
    path, plain = shop / "blanks" / "coaster-round.yaml", HOUSE / "proofgen/shop/blanks"
    if path.exists() and dice.random() < 0.3:
        path.unlink()
        return
    write(path, (plain / path.name).read_text("utf-8"))
    edit(path, r"diameter: \d+", f"diameter: {dice.randint(96, 101)}")
    edit(path, r"time: \d+", f"time: {dice.randint(45, 60)}")


def line_of_shop(shop: Path, key: str, value: str) -> None:
    """A line of shop.yaml, changed or added."""
    path = shop / "shop.yaml"
    kept = [line for line in path.read_text("utf-8").splitlines() if not line.startswith(f"{key}:")]
    path.write_text("\n".join([*kept, f"{key}: {value}", ""]), "utf-8")


_GUESTS = ("Ivo,4", "Una,5", "Ines,6", "Bo,", "Sá,7")
_WORDS = ("Ada & Bo", "Cy & Di", "Ed & Flo")
EDITS: dict[str, Callable[[Path, random.Random], object]] = {
    "nothing": lambda shop, dice: None,
    "nothing again": lambda shop, dice: None,
    "words": lambda shop, dice: edit(
        order_of(shop), r'name: "[^"]*"', f'name: "{dice.choice(_WORDS)}"'
    ),
    "words, and the time set back": lambda shop, dice: put_back(
        order_of(shop, "reed"),
        order_of(shop, "reed").read_bytes().replace(b'"Reed"', b'"Weed"'),
    ),
    "guests": lambda shop, dice: write(
        shop / "orders/table/guests.csv",
        "guest,seat\n" + "\n".join(dice.sample(_GUESTS, dice.randint(1, 3))) + "\n",
    ),
    "guests gone": lambda shop, dice: (shop / "orders/table/guests.csv").unlink(missing_ok=True),
    "a blank": own_blank,
    "a blank again": own_blank,
    "theme": lambda shop, dice: line_of_shop(shop, "theme", dice.choice(("quay", "quay", "reef"))),
    "rates": lambda shop, dice: line_of_shop(
        shop,
        "rates",
        f"{{minute: 0.{dice.randint(10, 90)}, sheet: {{A4: 0.{dice.randint(1, 9)}}}}}",
    ),
    "day of an order": lambda shop, dice: edit(
        order_of(shop), r"due: \S+", f"due: 2026-12-{dice.randint(10, 28)}"
    ),
    "photo": lambda shop, dice: paint(
        shop / "orders/guest/photos/pier.jpg", side=400, lot=dice.randint(1, 9)
    ),
    "photo too small": lambda shop, dice: paint(shop / "orders/guest/photos/pier.jpg", side=60),
    "photo of another order": lambda shop, dice: edit(
        order_of(shop, "guest"), r"customer: .*", "customer: {name: Bo, email: bo@moss.example}"
    ),
    "price": lambda shop, dice: edit(
        shop / "designs/tag/design.md", r"\{1: [\d.]+", f"{{1: {dice.randint(5, 9)}.00"
    ),
    "colour": lambda shop, dice: edit(
        shop / "designs/tag/design.md", r'"#f\w{5}"', f'"#f{dice.randint(10000, 99999)}"'
    ),
    "fault": lambda shop, dice: edit(order_of(shop, "reed"), r"quantity: \d+", "quantity: many"),
    "no fault": lambda shop, dice: edit(order_of(shop, "reed"), r"quantity: \w+", "quantity: 2"),
    "shop's name": lambda shop, dice: edit(
        shop / "shop.yaml", r"name: .*", f"name: Yard {dice.randint(1, 9)}"
    ),
    "another day": lambda shop, dice: edit(
        shop / "shop.yaml", r"today: .*", f"today: 2026-11-{dice.randint(25, 30)}"
    ),
    "signed": lambda shop, dice: run(
        shop, "answer", dice.choice(["fenn", "reed"]), "--in-person", "Ada"
    ),
    "a page damaged": damage_page,
    "a page gone": drop_page,
    "a letter gone": lambda shop, dice: (shop / "workroom/letters/fenn.txt").unlink(
        missing_ok=True
    ),
    "sheets gone": lambda shop, dice: shutil.rmtree(shop / "workroom/press", ignore_errors=True),
    "records damaged": lambda shop, dice: [
        put_back(path, b"{}") for path in sorted(shop.glob("records/reed/document-*"))[:1]
    ],
    "store gone": lambda shop, dice: shutil.rmtree(shop / STORE, ignore_errors=True),
    "store damaged": lambda shop, dice: [
        put_back(path, b"damage" * 9)
        for path in sorted((shop / STORE).rglob("*"))
        if path.is_file() and dice.random() < 0.3
    ],
}


def fresh_copy(shop: Path, to: Path) -> Path:
    shutil.rmtree(to, ignore_errors=True)
    shutil.copytree(shop, to, symlinks=True)
    shutil.rmtree(to / STORE, ignore_errors=True)
    return to


@pytest.mark.parametrize("seed", range(3))
def test_a_run_that_remembers_says_and_leaves_what_one_without_a_store_does(
    shop: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, seed: int
) -> None:
    dice = random.Random(seed)
    did: list[str] = []
    for step in range(14):
        name = dice.choice(sorted(EDITS)) if step > 1 else "nothing"
        EDITS[name](shop, dice)
        command = dice.choice(COMMANDS) if step else ("build",)
        did.append(f"{name}: {' '.join(command)}")
        ran = []
        for home in (fresh_copy(shop, tmp_path / "fresh"), shop):
            monkeypatch.setattr("proofgen.signoff.records.secrets", _Dice(step))
            said = run(home, "-q", *command)
            ran.append((said.code, *(t.replace(str(home), "SHOP") for t in (said.out, said.err))))
        assert ran[0] == ran[1], did
        one, other = left(tmp_path / "fresh"), left(shop)
        differ = {name for name in one.keys() | other.keys() if one.get(name) != other.get(name)}
        assert not differ, did


def loaded(*arguments: object) -> tuple[str, list[str]]:
    """What a command printed in a process of its own, and which heavy modules it loaded."""
    code = (
        "import sys; from proofgen.cli import main\n"
        "try: main(sys.argv[2:])\n"
        "except SystemExit: pass\n"
        "print(*(m for m in sys.argv[1].split() if m in sys.modules), file=sys.stderr)"
    )
    typed = [sys.executable, "-S", "-c", code, " ".join(HEAVY), *map(str, arguments)]
    paths = os.pathsep.join(path for path in [str(HOUSE), *sys.path] if path)
    ran = subprocess.run(
        typed, capture_output=True, text=True, check=True, env={**os.environ, "PYTHONPATH": paths}
    )
    return ran.stdout, ran.stderr.splitlines()[-1].split()


@pytest.mark.parametrize("command", ["orders", "check", "build"])
def test_nothing_heavy_is_loaded_where_nothing_changed(shop: Path, command: str) -> None:
    run(shop, "build")
    time.sleep(2.1)  # what was written just now is looked at by its content, and noted as such
    loaded("--shop", shop, command)  # notes it otherwise now, below workroom/
    time.sleep(2.1)  # and what it wrote is as fresh; once it is not, a run notes that, and loads
    second, _ = loaded("--shop", shop, command)
    third, heavy = loaded("--shop", shop, command)
    assert third == second
    assert heavy == []
    edit(order_of(shop), "Odalys & Bram", "Odalys & Finn")
    _, heavy = loaded("--shop", shop, command)
    assert "numpy" in heavy


def said_again(shop: Path, capsys: pytest.CaptureFixture[str], *command: str) -> str | None:
    """What is printed without a run; None where there has to be one."""
    capsys.readouterr()
    code = again.say_again(["--shop", str(shop), "-q", *command])
    told = capsys.readouterr().out.replace(f"proofgen --shop {shop} ", "proofgen ")  # as `run` does
    return None if code is None else told


def test_the_second_build_is_instant_and_says_what_it_would_say(
    shop: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert "Private proof pages" in run(shop, "-q", "build").out
    was = left(shop)
    second = said_again(shop, capsys, "build")
    assert second is not None
    other = fresh_copy(shop, tmp_path / "fresh")
    assert second == run(other, "-q", "build").out.replace(str(other), str(shop))
    assert left(other) == was, "and the run that is left out would have written nothing"
    edit(order_of(shop), "Odalys & Bram", "Odalys & Finn")
    assert said_again(shop, capsys, "build") is None


def test_what_is_changed_while_a_build_works_is_built_the_next_time(
    shop: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    from proofgen import pipeline

    keep = pipeline.keep_workroom

    def meanwhile(workshop: object) -> list[str]:
        edit(order_of(shop), "Odalys & Bram", "Odalys & Finn")
        return keep(workshop)  # type: ignore[arg-type]

    monkeypatch.setattr(pipeline, "keep_workroom", meanwhile)
    run(shop, "-q", "build")
    assert said_again(shop, capsys, "build") is None


def test_help_loads_no_libraries() -> None:
    said, heavy = loaded("--help")
    assert "proofgen COMMAND" in said
    assert not {*heavy} & {"numpy", "PIL", "jinja2", "yaml", "weasyprint", "babel"}


def test_a_change_within_one_tick_of_the_clock_is_told_by_content(
    shop: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As where a file system notes times by the second: all four marks of the file stay."""
    monkeypatch.setattr(again, "WINDOW_NS", 600_000_000_000)  # however busy the machine is
    run(shop, "orders")
    run(shop, "orders")
    target = order_of(shop)
    was = target.stat()
    plain = os.stat

    def coarse(path: object, *more: object, **named: object) -> object:
        found = plain(path, *more, **named)  # type: ignore[call-overload]
        return was if os.fsdecode(path).endswith("fenn/order.yaml") else found  # type: ignore[arg-type]

    put_back(target, target.read_bytes().replace(b"Fenn", b"Fern"))
    key = again.key_of(["--shop", str(shop), "orders"])
    assert (shop / again.HOME / again.file_of(key)).is_file()
    monkeypatch.setattr(again.os, "stat", coarse)
    assert again.say_again(["--shop", str(shop), "orders"]) is None


def test_what_was_said_is_said_on_its_day_only(
    shop: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    edit(shop / "shop.yaml", r"today: .*\ndemo: true\n", "")
    for _ in range(3):
        run(shop, "orders")
    typed = ["--shop", str(shop), "orders"]
    assert again.say_again(typed) == 0
    now = time.time()
    for days, code in ((-1, None), (0, 0), (1, None)):
        monkeypatch.setattr(again.time, "time", lambda then=now + days * 86_400: then)
        assert again.say_again(typed) == code
