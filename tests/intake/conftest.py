"""A shop to take orders in: the designs and blanks of the demo, and no order."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
import yaml

from proofgen.intake import Taken, take
from proofgen.intake.asked import TurnedAway
from proofgen.workshop import Workshop, at_work, open_workshop

CONTENT = Path(__file__).resolve().parents[2] / "content"


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    folder = tmp_path / "shop"
    for part in ("designs", "blanks", "words", "shop.yaml"):
        if (CONTENT / part).is_dir():
            shutil.copytree(CONTENT / part, folder / part)
        else:
            folder.mkdir(exist_ok=True)
            shutil.copy(CONTENT / part, folder / part)
    return folder


@pytest.fixture
def workshop(shop: Path) -> Iterator[Workshop]:
    with open_workshop(shop) as opened, at_work(opened):
        yield opened


def all_of(workshop: Workshop, given: str | bytes) -> list[Taken | TurnedAway]:
    raw = given.encode("utf-8", "surrogatepass") if isinstance(given, str) else given
    return list(take(workshop, raw))


def one_of(workshop: Workshop, given: str | bytes) -> Taken:
    """What was taken of a single slip or mail."""
    (one,) = all_of(workshop, given)
    assert isinstance(one, Taken), one
    return one


def away(workshop: Workshop, given: str | bytes) -> TurnedAway:
    """Why it was turned away; nothing was written."""
    (one,) = all_of(workshop, given)
    assert isinstance(one, TurnedAway), one
    assert orders(workshop) == []
    return one


def orders(workshop: Workshop) -> list[str]:
    home = workshop.folder / "orders"
    return sorted(path.name for path in home.iterdir()) if home.is_dir() else []


def order_of(workshop: Workshop, name: str) -> dict[str, object]:
    """An order's file, its values as the very texts that stand there."""
    text = (workshop.folder / "orders" / name / "order.yaml").read_text("utf-8")
    read = yaml.load(text, Loader=yaml.BaseLoader)
    assert isinstance(read, dict)
    return read
