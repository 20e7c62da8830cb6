"""What a command refuses, mended as its cure says: a hand that knows the sentence alone types what
it names, and the command is taken."""

from __future__ import annotations

import ast
import re
import shlex
import shutil
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from proofgen import errors
from proofgen.workshop import NO_CONTACT
from tests.cli.refusals import NOT_TYPED, REFUSALS, ROUND, Refusal
from tests.cli.small import code_seen, make_shop, order_text, paint, run, write
from tests.cli.test_swatches import pressed, write_csv

STEPS = 4
# What a maker puts in the place of what a cure leaves open.
KNOWN = {
    "ORDER": "fenn",
    "NAME": "coaster-round",
    "FILE": "photo.jpg",
    "CSV": "read.csv",
    "PHOTO": "photo.jpg",
    "PLACE": "photo",
    "DAY": "2026-11-01",
    "LENGTH": "90mm",
    "FOLDER": "../elsewhere",
    "N,N": "1",
    "12,37": "1,2",
    "…": "we talked",
}
_OPEN = re.compile("|".join(rf"(?<![\w-]){re.escape(one)}(?![\w-])" for one in KNOWN))


# -- shops -----------------------------------------------------------------------------------


def _plain(shop: Path) -> None:
    make_shop(shop, "fenn")
    write(shop / "orders" / "snap" / "order.yaml", order_text(design="snap"))
    for file in ("orders/snap/photos/pier.jpg", "photo.jpg"):
        paint(shop / file)
    write(shop / "guests.csv", "name\nAda\n")
    write(shop / "slip.txt", "hello")
    write_csv(shop / "read.csv", pressed())
    (shop.parent / "elsewhere").mkdir(exist_ok=True)
    run(shop, "backup", shop.parent / "kept.zip").ended(0)


def _stopped(shop: Path) -> None:
    write(shop / "orders" / "fenn" / "order.yaml", order_text("Ada Ж"))


def _contactless(shop: Path) -> None:
    text = (shop / "shop.yaml").read_text("utf-8")
    (shop / "shop.yaml").write_text(re.sub("contact: .*", f"contact: {NO_CONTACT}", text))


def _small(shop: Path) -> None:
    write(shop / "orders" / "fenn" / "order.yaml", order_text("Ada " * 12))


# Each state: the one before, and what is done.
STATES: dict[str, tuple[str, Callable[[Path], object]]] = {
    "stopped": ("plain", _stopped),
    "small": ("plain", _small),
    "contactless": ("plain", _contactless),
    "measured": ("plain", lambda shop: run(shop, *shlex.split(f"{ROUND} --name patch")).ended(0)),
    "built": ("plain", lambda shop: run(shop, "build")),
    "proofed": ("plain", lambda shop: run(shop, "proof", "fenn").ended(0)),
    "signed": ("proofed", lambda shop: run(shop, "answer", code_seen(shop, "ok")).ended(0)),
    "sheets": ("signed", lambda shop: run(shop, "press", "fenn").ended(0)),
    "pressed": ("sheets", lambda shop: run(shop, "press", "fenn", "--done").ended(0)),
}
Shops = Callable[[str], Path]


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Shops:
    """A shop in a state, made once: not to be written to."""
    root = tmp_path_factory.mktemp("states")

    def of(state: str) -> Path:
        shop = root / state / "shop"
        if not shop.exists():
            if state == "plain":
                _plain(shop)
            else:
                before, do = STATES[state]
                shutil.copytree(of(before).parent, shop.parent)
                do(shop)
        return shop

    return of


# -- the hand --------------------------------------------------------------------------------


def _filled(text: str) -> str:
    return _OPEN.sub(lambda found: KNOWN[found[0]], text)


def _wrong(typed: list[str], problem: str) -> int:
    """Which word of what was typed a problem speaks of."""
    for quoted in re.findall("“([^”]+)”(?! has no)", problem):
        for at, word in enumerate(typed):
            if word == quoted or word.endswith(f"={quoted}"):
                return at
    option = re.search(r"--[\w-]+", problem)
    assert option, problem
    return typed.index(option[0]) + 1


def _put(typed: list[str], at: int, problem: str, value: str) -> list[str]:
    """The same with a value in the place of what is wrong."""
    value = value.strip('"')
    quoted = re.findall("“([^”]+)”", problem)
    place, sign, text = typed[at].partition("=")
    kept = f"{place}=" if sign and text in quoted and "=" not in value else ""
    return [*typed[:at], kept + value, *typed[at + 1 :]]


def _given(typed: list[str], option: str, value: str, problem: str) -> list[str]:
    """The same with an option's value, in the place of its own where it has one; what belongs to a
    place is given for each."""
    at = typed.index(option) if option in typed else 0
    if at and ("=" not in value or typed[at + 1] in problem):
        return [*typed[: at + 1], value, *typed[at + 2 :]]
    return [*typed, option, value]


_ADDS = re.compile(
    r"\b(?:add|write|write who gave it:) (--[\w-]+)(?: with (?:one of: )?(?:the one you pressed)?"
    r"([\w-]*)| (\"[^\"]+\"|[^\s;,]+))?"
)
_PUTS = (
    r"did you mean ([^?]+)\?",
    r"(?:write|choose|Choose) one of: ([\w-]+)",
    r"(?:the ones that stop it are|name one): ([\w-]+)",
    r"write (?:it|them) (?:like|as) (\d+,\d+|\"[^\"]+\")",
    r"write (?:it|them) (?:like|as) ([^;,]+?)(?:[;,]| or | both|$)",
    r"write at (?:most|least) ([^;,]+)",
    r"write (\S+\.pdf)",
    r"write (yes|en),? ",
)


def followed(shop: Path, typed: str, problem: str, cure: str) -> str:
    """What is typed next by who reads problem and cure; '' where that is a person's to know."""
    words = shlex.split(typed)
    _, _, cure = cure.rpartition("with the customer before you: ")
    if named := re.search(r"(`?)proofgen ((?:[a-z-]+)(?: [^;`()]+)?)", cure):
        command = _filled(re.sub(r", (?:or|and) .*|\.? *$", "", named[2]))
        if shlex.split(command)[0] == words[0] and not named[1]:
            return command
        if command == "order":  # which asks for all of it
            return ""
        assert run(shop, *shlex.split(command)).ended(0).out
        return "" if named[1] else typed  # in quotes it shows what a person chooses from
    if "write your own mail address there" in cure:
        file = shop / problem.partition(":")[0]
        file.write_text(file.read_text("utf-8").replace(NO_CONTACT, "hello@quay.example"), "utf-8")
        return typed
    if (found := _ADDS.search(cure)) and "did you mean" not in cure:
        value = _filled(found[2] or found[3] or "white")
        return shlex.join(_given(words, found[1], *shlex.split(value), problem))
    if found := re.search(r"leave (--[\w-]+) out", cure):
        at = words.index(found[1])
        return shlex.join(words[:at] + words[at + 2 :])
    for pattern in _PUTS:
        if found := re.search(pattern, cure):
            at = _wrong(words, problem)
            return shlex.join(_put(words, at, problem, _filled(found[1])))
    return ""


def _told(err: str) -> tuple[str, str]:
    """The problem and the cure of what was refused."""
    parts = re.split(r"\n    (?:To mend it|Next): ", err.rstrip("\n"))
    assert len(parts) > 1, err
    return parts[-2].rpartition(" …\n")[2], parts[-1].partition("\n")[0]


@pytest.fixture
def sites(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Where faults were made since: room, file and function."""
    seen: list[str] = []
    init = errors.ProofgenError.__init__

    def noting(self: errors.ProofgenError, *told: object, **more: object) -> None:
        frame = sys._getframe(1)
        while "<genexpr>" in frame.f_code.co_qualname or frame.f_code.co_name == "__init__":
            assert frame.f_back
            frame = frame.f_back
        file = Path(frame.f_code.co_filename)
        room = "" if file.parent.name == "proofgen" else f"{file.parent.name}/"
        name = frame.f_code.co_qualname.partition(".<locals>")[0].rpartition(".")[2]
        seen.append(f"{room}{file.stem}:{name}")
        init(self, *told, **more)  # type: ignore[arg-type]

    monkeypatch.setattr(errors.ProofgenError, "__init__", noting)
    return seen


@pytest.mark.parametrize("row", REFUSALS, ids=lambda row: f"{row.shop}: {row.typed}")
def test_the_cure_of_a_refusal_is_followed_until_it_is_taken(
    row: Refusal,
    made: Shops,
    sites: list[str],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    shutil.copytree(made(row.shop).parent, tmp_path / "at")
    shop = tmp_path / "at" / "shop"
    monkeypatch.chdir(shop)
    sites.clear()
    typed, then, seen = row.typed, row.then, list[str]()
    for step in range(STEPS + 1):
        told = run(shop, *shlex.split(typed))
        if told.code == 0:
            break
        assert step or row.site in sites, (told, sites)
        problem, cure = _told(told.err)
        typed = "" if problem in seen else followed(shop, typed, problem, cure)
        seen.append(problem)
        if not typed:
            assert then, f"nothing to type: {problem} / {cure}"
            typed, then = then, ""
    told.ended(0)
    assert seen, f"it was not refused: {row.typed}"


# -- none is left out ------------------------------------------------------------------------

_FAULTS = {"UsageError", "SignoffError", "MachineError", "StopError", "ShopError", "TurnedAway"}


def _made_in(node: ast.AST, function: str) -> Iterator[str]:
    """The outermost function of each fault that is made below a node."""
    for below in ast.iter_child_nodes(node):
        inside = below.name if isinstance(below, ast.FunctionDef) and not function else function
        called = below.func if isinstance(below, ast.Call) else None
        if getattr(called, "id", "") in _FAULTS:
            yield function
        yield from _made_in(below, inside)


def test_every_refusal_of_a_command_is_met_or_is_no_thing_to_type() -> None:
    house = Path(errors.__file__).parent
    files = [house / "workshop.py"]
    for room in ("cli", "desk", "pipeline", "signoff", "press", "intake"):
        files += sorted((house / room).rglob("*.py"))
    made = {
        f"{'' if file.parent == house else f'{file.parent.name}/'}{file.stem}:{function or None}"
        for file in files
        for function in _made_in(ast.parse(file.read_text("utf-8")), "")
    }
    met = {row.site for row in REFUSALS}
    left = {site for sites in NOT_TYPED.values() for site in sites}
    assert met | left == made and not met & left
