"""Killed at any moment, a shop holds no half file, loses nothing it acknowledged, and goes on."""

from __future__ import annotations

import io
import json
import os
import random
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pikepdf
import pytest
from PIL import Image

from proofgen.signoff import Records
from tests.cli.small import code_seen, files, make_shop, order_text, reword, run, state, write

HOUSE = Path(__file__).parents[2]
KILLS = 20

# Imports are done before the clock starts, so that the kill falls into the work itself.
CHILD = """
import contextlib, io, sys
sys.path.insert(0, sys.argv[1])
from proofgen import cli
from proofgen.cli import customers, making
from proofgen.render import html_to_pdf
with contextlib.suppress(Exception):
    html_to_pdf("<!doctype html><html lang=en><title>x</title><p>x</p>", {}, page_title="x")
sys.stdin.readline()
for line in sys.stdin.read().splitlines():
    code = cli.main(["-q", "--shop", sys.argv[2], *line.split("|")])
    print("done", line, code, flush=True)
"""


def start(shop: Path) -> subprocess.Popen[bytes]:
    """A process that is ready to work and waits for the word."""
    return subprocess.Popen(
        [sys.executable, "-c", CHILD, str(HOUSE), str(shop)],
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL,
    )  # fmt: skip


def killed(child: subprocess.Popen[bytes], commands: list[str], after: float) -> list[str]:
    """Let it work, kill it; the commands it had told to be done."""
    assert child.stdin is not None and child.stdout is not None
    child.stdin.write("\n".join(["go", *commands]).encode())
    child.stdin.close()
    time.sleep(after)
    child.send_signal(signal.SIGKILL)
    with child.stdout as told:
        lines = told.read().decode().split("\n")[:-1]  # one cut short was not told
    child.wait()
    return [line for line in lines if line.startswith("done ")]


def children(shop: Path) -> Iterator[subprocess.Popen[bytes]]:
    """One after the other, the next getting ready while the present one works."""
    waiting = start(shop)
    try:
        for _ in range(KILLS):
            present, waiting = waiting, start(shop)
            yield present
    finally:
        waiting.kill()
        waiting.communicate()


def whole(shop: Path) -> None:
    """No published or kept file is half a file."""
    for name, content in files(shop).items():
        if ".part-" in name:
            assert not name.startswith("site/") or name.split("/")[-1].startswith(".part-")
        elif name.endswith(".html"):
            assert content.rstrip().endswith(b"</html>"), name
        elif name.endswith(".pdf"):
            with pikepdf.open(io.BytesIO(content)) as pdf:
                assert len(pdf.pages) > 0
        elif name.endswith((".png", ".jpg")):
            with Image.open(io.BytesIO(content)) as image:
                image.load()
        elif name.endswith(".json"):
            json.loads(content)


def answered(shop: Path) -> int:
    records = Records(shop / "records")
    return sum(len(records.answers(name)) for name in records.orders())


@pytest.mark.skipif(os.name == "nt", reason="no SIGKILL on this system")
def test_killed_over_build_answer_and_press(tmp_path):
    shop = make_shop(tmp_path / "shop", "fenn", season=True)
    lot = random.Random(7)
    acknowledged, interrupted = 0, 0
    for number, child in enumerate(children(shop)):
        reword(shop, "fenn", f"Odalys {number}")
        commands = ["proof|fenn", "answer|fenn|--in-person|Odalys", "press", "build"]
        told = killed(child, commands, lot.uniform(0.02, 0.9))
        interrupted += len(told) < len(commands)
        acknowledged += sum("|--in-person|" in line and line.endswith(" 0") for line in told)
        whole(shop)
        run(shop, "records", "verify").ended(0)
        assert answered(shop) >= acknowledged
    assert interrupted >= KILLS // 2, "most kills came too late to prove anything"

    run(shop, "build").ended(0)
    run(shop, "proof", "fenn").ended(0)
    whole(shop)
    assert not [name for name in files(shop) if ".part-" in name]
    run(shop, "records", "verify").ended(0)
    if state(shop, "fenn")["state"] != "signed":
        run(shop, "answer", "fenn", "--in-person", "Odalys").ended(0)
    run(shop, "press", "fenn").ended(0)
    assert "fenn-ticket.pdf" in files(shop / "workroom" / "press")


@pytest.mark.skipif(os.name == "nt", reason="no SIGKILL on this system")
@pytest.mark.parametrize("command", ["withdraw", "forget"])
def test_killed_while_a_customer_is_taken_out(tmp_path, command, monkeypatch):
    """Stopped after each step in turn, the next run of the same leaves nothing of the customer."""
    from proofgen import store

    ready = make_shop(tmp_path / "ready", "fenn")
    text = order_text("Maren", customer="Maren Quill")
    write(ready / "orders" / "quill" / "order.yaml", text)
    run(ready, "proof").ended(0)
    for number in range(1, 80, 2):
        shop = tmp_path / f"{command}-{number}"
        shutil.copytree(ready, shop)
        steps = _Stopper(number)
        with monkeypatch.context() as patch:
            for name in ("write", "remove", "append_line"):
                patch.setattr(store, name, steps.before(getattr(store, name)))
            told = _stopped(shop, command)
        if told:
            assert number > 3, "too few steps were tried"
            return
        run(shop, command, "fenn").ended(0)
        run(shop, "build").ended(0)
        run(shop, "records", "verify").ended(0)
        left = {n for n, content in files(shop / "site").items() if b"Odalys" in content}
        assert left == set()
        if command == "forget":
            everything = {n for n, content in files(shop).items() if b"Odalys" in content}
            assert everything == set()
            assert state(shop, "fenn")["state"] == "forgotten"
        assert state(shop, "quill")["state"] == "ready"
    raise AssertionError("the command never came to its end")


class _Killed(BaseException):
    """Stands for a power cut: nothing catches it."""


class _Stopper:
    """Lets so many file operations pass and then stops everything."""

    def __init__(self, number: int) -> None:
        self.left = number

    def before(self, work):
        def counted(*given, **more):
            self.left -= 1
            if self.left <= 0:
                raise _Killed
            return work(*given, **more)

        return counted


def _stopped(shop: Path, command: str) -> bool:
    """Run it under the stopper; whether it came to its end."""
    try:
        run(shop, command, "fenn").ended(0)
    except _Killed:
        return False
    return True


def test_a_code_for_a_proof_that_a_kill_swallowed_is_still_good(tmp_path):
    shop = make_shop(tmp_path / "shop", "fenn")
    run(shop, "proof").ended(0)
    for name in files(shop / "site"):
        (shop / "site" / name).unlink()  # site/ need not survive a power cut
    run(shop, "build").ended(0)
    run(shop, "answer", "-", typed=code_seen(shop, "ok")).ended(0)
    assert state(shop, "fenn")["edition"] == 1
    assert state(shop, "fenn")["state"] == "signed"
