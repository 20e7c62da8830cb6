"""A long proof says how far it is to a person at a terminal, and nothing more to a file."""

from __future__ import annotations

import io
import re
from pathlib import Path

import pytest

from tests.cli import small
from tests.cli.small import make_shop, run, write

NAMES = 24
ORDER = f"""\
customer: {{name: Odalys Fenn, email: someone@fenn.example}}
due: 2026-12-20
lines:
  - design: place
    blank: coaster-round
    cloth: white
    quantity: {NAMES}
    words: {{couple: Odalys & Bram, day: 12 June 2027}}
    list: guests.csv
"""
STEP = re.compile(r"(painting|page of) fenn: (\d+) of 24")


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    made = make_shop(tmp_path / "shop", "fenn")
    write(made / "orders" / "fenn" / "order.yaml", ORDER)
    guests = "\n".join(["guest", *(f"Guest {n}" for n in range(1, NAMES + 1))])
    write(made / "orders" / "fenn" / "guests.csv", guests + "\n")
    return made


def test_how_far_it_is_is_told_at_a_terminal(shop, monkeypatch):
    monkeypatch.setattr(small, "_Aside", Terminal)
    told = run(shop, "proof", "fenn").ended(0).err
    seen = STEP.findall(told)
    assert [(what, int(n)) for what, n in seen] == [
        (what, n) for what in ("painting", "page of") for n in (5, 10, 15, 20)
    ]
    assert "\r" not in told and "\x1b" not in told
    assert told.index("proof of fenn") < told.index("painting fenn") < told.index("setting it")


def test_a_file_hears_the_step_alone(shop):
    told = run(shop, "proof", "fenn").ended(0).err
    assert "proof of fenn …" in told and not STEP.search(told) and "setting it" not in told


def test_quiet_is_quiet(shop, monkeypatch):
    monkeypatch.setattr(small, "_Aside", Terminal)
    assert run(shop, "-q", "proof", "fenn").ended(0).err == ""
