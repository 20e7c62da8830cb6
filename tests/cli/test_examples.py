"""Every help text ends with an example, and that very example works in the demo shop."""

from __future__ import annotations

import contextlib
import importlib
import io
import re
import shlex
import shutil
import urllib.request
from pathlib import Path

import pytest

from proofgen import cli
from proofgen.cli.parser import COMMANDS
from proofgen.signoff import Records
from tests.cli.small import paint, run, write
from tests.order_slips import order_slip
from tests.serving import served
from tests.slips import compose_slip, facts_on

HOUSE = Path(__file__).parents[2]
DEMO = importlib.import_module("proofgen.pipeline.demo_shop")  # the name also is a function
NEEDED = ("fenn-harbour", "lindqvist-lamp", "quill-wedding", "thistle-sill")
# The demo has an order with a stop, on purpose.
ENDS_WITH = {"check": 1, "build": 1, "proof": 1}
SAYS = {
    "demo": "Now walk it yourself",
    "start": "shop.yaml",
    "look": "can-wrap-linen",
    "order": "orders/odalys-fenn",
    "take": "draft of the order is in orders/odalys-fenn|photos/photo.jpg",
    "change": "Odalys & Bran|Connor O’Neil",
    "check": "thistle-sill: 1 stop",
    "proof": "",
    "letter": "fenn-harbour: |Dear ",
    "answer": "fenn-harbour is recorded",
    "press": "quill-wedding-(ticket|sheets-A3)",
    "catalogue": "site/index.html",
    "publish": r"\d+ files? to upload|Noted: ",
    "build": "nothing of it is to be uploaded",
    "orders": "fenn-harbour",
    "blanks": "can-wrap-linen",
    "measure": "stall-mat",
    "truesize": "wrap.pdf",
    "swatches": "swatches.pdf",
    "handed-over": "lindqvist-lamp is (not )?handed over",
    "completion": "_proofgen",
    "guide": "The guide is in .*index.html",
    "trial": "can-wrap-linen-trial.pdf|Time: 60 s",
    "ready": "Python",
    "withdraw": "is withdrawn",
    "forget": "is forgotten",
    "backup": "files are in b.zip",
    "restore": "files are back in my-shop",
    "records": "The records are whole",
}


def examples(*command: str) -> list[list[str]]:
    """The commands below 'example:' in a help text, as they would be typed."""
    out = io.StringIO()
    with contextlib.redirect_stdout(out), pytest.raises(SystemExit) as ended:
        cli.main([*command, "--help"])
    assert ended.value.code == 0
    _, sign, shown = out.getvalue().partition("example:\n")
    assert sign, f"{command} has no example"
    typed = [shlex.split(line) for line in shown.splitlines() if line.strip()]
    assert typed and all(line[0] == "proofgen" for line in typed)
    return [line[1:] for line in typed]


@pytest.fixture(scope="session")
def carried_part(tmp_path_factory: pytest.TempPathFactory, demo_content: Path) -> Path:
    """The demo shop with a few of its orders and a short season, so that it is built quickly."""
    folder = tmp_path_factory.mktemp("carried") / "content"
    shutil.copytree(demo_content, folder)
    for order in (folder / "orders").iterdir():
        if order.name not in NEEDED:
            shutil.rmtree(order)
    for season in (folder / "seasons").iterdir():
        text = season.read_text("utf-8")
        season.write_text(re.sub(r"(?m)^designs:.*(\n  .*)*", "designs: [gull-coaster]", text))
    return folder


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory, carried_part: Path) -> Path:
    """The part built once, with the files that the examples name."""
    folder = tmp_path_factory.mktemp("built") / "shop"
    shutil.copytree(carried_part, folder)
    run(folder, "build").ended(1)
    paint(folder / "photo.jpg", 1400)
    run(folder, "backup", folder / "friday.zip").ended(0)
    token = Records(folder / "records").token("fenn-harbour")
    proof = facts_on(folder / "site" / "p" / str(token) / "index.html")
    write(
        folder / "order-slip.txt",
        order_slip(
            design="gull-coaster",
            blank="coaster-round",
            photos=None,
            words={"name": "Gull Cottage"},
            price="6.50",
        ),
    )
    write(folder / "slip.txt", compose_slip(proof, name="Odalys Fenn"))
    return folder


@pytest.fixture
def here(built: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of the built shop, and this process in it."""
    folder = tmp_path / "shop"
    shutil.copytree(built, folder)
    monkeypatch.chdir(folder)
    return folder


def test_every_command_is_known_here():
    assert set(SAYS) == set(COMMANDS) - {"serve"}


@pytest.mark.parametrize("command", sorted(set(COMMANDS) - {"serve"}))
def test_example_works(command, here, carried_part, monkeypatch):
    monkeypatch.setattr(DEMO, "carried", lambda _: carried_part)
    for typed in examples(command):
        assert typed[0] == command
        told = run(Path(), *typed).ended(ENDS_WITH.get(command, 0))
        said = told.out or told.err  # who has no letter to write says so aside
        assert re.search(SAYS[command], said), said


def test_first_examples_work_one_after_the_other(tmp_path, carried_part, monkeypatch):
    monkeypatch.setattr(DEMO, "carried", lambda _: carried_part)
    monkeypatch.chdir(tmp_path)
    for typed in examples():
        told = run(Path(), *typed)
        assert told.code in (0, 1), f"{typed}: {told.err}"
        assert "is not a shop" not in told.err


def test_serve_shows_the_site_to_this_machine_until_stopped(here):
    (typed,) = examples("serve")
    assert typed[:2] == ["serve", "--port"]
    with served(here) as (address, _):
        with urllib.request.urlopen(f"{address}/", timeout=60) as answer:
            shown = answer.read()
        file = (here / "site" / "index.html").read_bytes()
        head, _, rest = file.partition(b"<head>")
        assert shown.startswith(head) and shown.endswith(rest)
        taken = run(here, "serve", "--port", address.split(":")[-1]).ended(5)
        assert "proofgen serve --port" in taken.err
