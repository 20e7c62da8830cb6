"""press --plan in a small shop: what is late comes first, what the door refuses is listed."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.cli.small import Ran, make_shop, order_text, run, write


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """A signed order, due on 20 December, and one without a proof."""
    shop = make_shop(tmp_path / "shop", "fenn", "moor")
    run(shop, "proof", "fenn").ended(0)
    run(shop, "answer", "fenn", "--in-person", "Odalys").ended(0)
    return shop


def today(shop: Path, day: str) -> None:
    text = (shop / "shop.yaml").read_text("utf-8")
    write(shop / "shop.yaml", re.sub(r"today: .*", f"today: {day}", text))


def flat(told: Ran) -> str:
    """What was said, whatever its lines."""
    return " ".join(told.out.split())


def page(shop: Path) -> str:
    return (shop / "workroom" / "evening.html").read_text("utf-8")


def test_one_order_that_need_not_be_pressed_yet(shop):
    told = run(shop, "press", "--plan").ended(0)
    assert "1 order, 1 heat, 1 sheet to print: 14 of your 180 minutes." in told.out
    assert "None of it must be pressed tonight." in told.out
    assert "practice, no source" in told.out and "moor" not in told.out
    # 2 good, 3 to start; two at once: 2 pressings of 10 + 50 + 45 s after 10 min
    assert "2 pressings of 10 + 50 + 45 s, 2 at once: 3.5 min, done at 14 min" in flat(told)
    assert told.out.rstrip().endswith("Next: proofgen press")
    assert (shop / "workroom" / "evening.pdf").read_bytes().startswith(b"%PDF")
    assert not (shop / "workroom" / "press").exists()


def test_it_must_be_pressed_once_the_days_for_making_have_begun(shop):
    today(shop, "2026-12-10")
    assert (
        "Must be pressed tonight: fenn (due 20 December 2026)." in run(shop, "press", "--plan").out
    )
    today(shop, "2026-12-12")
    said = "fenn (due 20 December 2026, in 8 days; 2 of your 10 days for making are gone)"
    assert said in flat(run(shop, "press", "--plan"))


def test_what_is_late_is_said_before_everything(shop):
    today(shop, "2026-12-24")
    told = run(shop, "press", "--plan").ended(0)
    assert told.out.startswith("Late: fenn was due 4 days ago. It is not pressed tonight:")
    assert "Not pressed" in told.out and "This order was due on 20 December 2026" in told.out
    plain = page(shop)
    assert plain.index("fenn was due 4 days ago") < plain.index("<h1")
    document = run(shop, "press", "--plan", "--json").ended(0).document
    assert document["late"] == {"fenn": 4} and "proofgen check fenn" in document["left_out"]["fenn"]
    assert document["tonight"] == document["prints"] == document["picks"] == []


def test_late_and_pressed_all_the_same(shop):
    today(shop, "2026-12-24")
    told = run(shop, "check", "moor", "--json").document["orders"][0]["findings"]
    (key,) = (f["check"] + ":" + f["code"] for f in told if f["code"] == "past")
    run(shop, "check", "moor", "--accept", key, "--because", "she waits for it").ended(0)
    run(shop, "proof", "moor").ended(0)
    run(shop, "answer", "moor", "--in-person", "Odalys").ended(0)
    told = run(shop, "press", "--plan")
    assert "Late: moor was due 4 days ago. It is pressed tonight." in told.out
    assert "moor (due 20 December 2026, 4 days late)" in flat(told)


def test_a_list_longer_than_an_evening_begins_earlier(shop):
    text = (shop / "shop.yaml").read_text("utf-8")
    write(shop / "shop.yaml", text + "evening: {warm_up: 8 min, minutes: 10}\n")
    (one,) = run(shop, "press", "--plan", "--json").document["another"]
    # 8 min and 3.5 min are two evenings of 10: a day more than the ten for making
    assert (one["minutes"], one["evenings"], one["start_by"]) == (11.5, 2, "2026-12-09")
    waits = flat(run(shop, "press", "--plan"))
    assert "Nothing must be pressed tonight, and what waits takes more than your 10" in waits
    assert "12 min alone, 2 evenings" in waits
    today(shop, "2026-12-09")
    told = flat(run(shop, "press", "--plan"))
    assert "12 of your 10 minutes. That is 2 minutes more than you have." in told
    # 8 min and a pressing of 1 min 45 s; the same again for the spare
    assert "It takes 2 evenings; what is due first is pressed first." in told
    assert "Tonight: 10 min, of fenn only pieces 1 and 2." in told
    assert "Evening 2: warm up again, 10 min, of fenn only spares." in told
    assert "Tonight: 10 min, of fenn only pieces 1 and 2." in page(shop)
    assert page(shop).count("Warm up and lay out") == 2


def test_what_the_door_refuses_is_listed_with_its_next_step(shop):
    write(shop / "orders" / "fenn" / "order.yaml", order_text("Odalys & Brom"))
    told = run(shop, "press", "--plan").ended(0)
    assert "No order is signed and ready to be pressed." in told.out
    assert "fenn changed after proof 1 was signed." in told.out
    assert "proofgen proof fenn" in told.out and "proofgen proof fenn" in page(shop)
    named = run(shop, "press", "fenn", "--plan").ended(4)
    assert "fenn" in named.err and "signed" in page(shop)


def test_nothing_signed(tmp_path):
    shop = make_shop(tmp_path / "shop", "fenn")
    told = run(shop, "press", "--plan").ended(0)
    assert "No order is signed and ready to be pressed." in told.out and "Next:" not in told.out


@pytest.mark.parametrize("other", ["--done", "--png", "--contact"])
def test_a_plan_makes_nothing_so_it_stands_alone(shop, other):
    told = run(shop, "press", "fenn", "--plan", other).ended(2)
    assert "proofgen press --plan" in told.err


def test_forget_takes_the_plan_away(shop):
    run(shop, "press", "--plan").ended(0)
    run(shop, "forget", "fenn", "--sure", "fenn")
    assert not list((shop / "workroom").glob("evening.*"))
