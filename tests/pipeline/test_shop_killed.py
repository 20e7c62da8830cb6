"""Stopped between any two steps, what was begun is ended by the next run."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest

from tests.cli.small import (
    code_seen,
    files,
    id_of,
    make_shop,
    order_text,
    run,
    state,
    write,
)


@pytest.mark.skipif(os.name == "nt", reason="no SIGKILL on this system")
@pytest.mark.parametrize("command", ["withdraw", "forget"])
def test_killed_while_a_customer_is_taken_out(tmp_path, command, monkeypatch):
    """Stopped after each step in turn, the next run of the same leaves nothing of the customer."""
    from proofgen import store

    ready = make_shop(tmp_path / "ready", "fenn")
    text = order_text("Maren", customer="Maren Quill")
    write(ready / "orders" / "quill" / "order.yaml", text)
    run(ready, "proof").ended(0)
    one = id_of(ready, "fenn")
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
        once_more = run(shop, command, "fenn", "--sure", "fenn")
        # Stopped after its last step, it has left nothing that could be called so.
        done = command == "forget" and "there is no order called “fenn”" in once_more.err
        once_more.ended(2 if done else 0)
        run(shop, "build").ended(0)
        run(shop, "records", "verify").ended(0)
        left = {n for n, content in files(shop / "site").items() if b"Odalys" in content}
        assert left == set()
        if command == "forget":
            everything = {n for n, content in files(shop).items() if b"Odalys" in content}
            assert everything == set()
            assert state(shop, one)["state"] == "forgotten"
            kept = {n: c.replace(b"fenn.example", b"") for n, c in files(shop).items()}
            assert {n for n, content in kept.items() if b"fenn" in content or "fenn" in n} == set()
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
        run(shop, command, "fenn", "--sure", "fenn").ended(0)
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
