"""The top of a proof's page says how its order stands; where no answer counts, none is asked."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from proofgen.signoff import RULES, State
from tests.cli.small import files, make_shop, page, run
from tests.slips import compose_slip, facts_on


def page_file(shop: Path) -> Path:
    (found,) = (shop / "site" / "p").glob("*/index.html")
    return found


def answer(shop: Path, kind: str, note: str = "") -> None:
    slip = compose_slip(facts_on(page_file(shop)), kind, name="Odalys Fenn", note=note)
    (shop / "slip.txt").write_text(slip, "utf-8")
    run(shop, "answer", str(shop / "slip.txt")).ended(0)


def said(shop: Path) -> str:
    """What the top of the page says after a build."""
    run(shop, "-q", "build")
    found = re.search(r'<div id="standing">(.*?)</div>', page(shop, "fenn"), re.DOTALL)
    assert found
    return re.sub("<[^>]+>", "", found[1]).strip()


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    made = make_shop(tmp_path / "shop", "fenn")
    run(made, "proof", "fenn").ended(0)
    return made


def test_a_proof_that_waits_says_nothing(shop: Path) -> None:
    assert said(shop) == "" == RULES[State.READY].banner


def test_each_state_is_said_and_taken_back_with_it(shop: Path, browser: Browser) -> None:
    answer(shop, "ok")
    assert said(shop) == RULES[State.SIGNED].banner
    order = shop / "orders" / "fenn" / "order.yaml"
    text = order.read_text("utf-8")
    order.write_text(text.replace("Odalys & Bram", "Odalys & Bran"), "utf-8")
    assert order.read_text("utf-8") != text
    assert said(shop) == RULES[State.VOIDED].banner
    view = browser.new_page(java_script_enabled=False)
    view.goto(page_file(shop).as_uri())
    assert view.is_visible("#standing p") and not view.is_visible(".codes")
    view.close()
    order.write_text(text, "utf-8")
    assert said(shop) == RULES[State.SIGNED].banner
    run(shop, "press", "fenn").ended(0)
    run(shop, "press", "fenn", "--done").ended(0)
    assert said(shop) == RULES[State.PRESSED].banner
    before = files(shop / "site")
    run(shop, "-q", "build")
    assert files(shop / "site") == before
    view = browser.new_page()
    view.goto(page_file(shop).as_uri())
    assert not view.is_visible("#answer-form") and not view.is_visible(".codes")
    view.close()


def test_changes_that_were_asked_for_are_said(shop: Path) -> None:
    answer(shop, "change", "Larger, please.")
    assert said(shop) == RULES[State.CHANGES].banner


def test_words_beside_a_yes_are_said(shop: Path) -> None:
    answer(shop, "ok", "But with a y!")
    assert said(shop) == RULES[State.WORDS].banner


def test_every_state_whose_page_stays_and_is_settled_has_its_sentence() -> None:
    settled = {State.CHANGES, State.TWO_ANSWERS, State.WORDS, State.SIGNED, State.VOIDED,
               State.PRESSED, State.HANDED_OVER}  # fmt: skip
    assert {state for state, rules in RULES.items() if rules.banner} == settled
    assert {s for s in settled if not RULES[s].answerable} == {
        State.VOIDED,
        State.PRESSED,
        State.HANDED_OVER,
    }
