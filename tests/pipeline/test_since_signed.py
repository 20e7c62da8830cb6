"""After the sign-off: what changed at the press is said, what voids is explained, what shuts the
press takes its sheets away, and what cannot be judged is not called voided."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pikepdf
import pytest

from proofgen import store
from proofgen.artwork import typeface
from tests.cli.small import code_seen, files, make_shop, order_text, reword, run, state, write
from tests.pipeline.test_kept_terms import change

BLANK = """\
name: Market tag, felt
construction: flat
width: 80 mm
height: 60 mm
bleed: 3 mm
safe: 3 mm
shrink: {x: 0 %, y: 0 %}
cloth: {finish: foam, polyester: 100 %, colours: {white: "#ffffff"}}
press: {heat: 400 F, time: 60 s, pressure: medium, from: maker}
cost: 0.40
"""


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """A signed order on a blank of the shop's own, its sheets made."""
    made = make_shop(tmp_path / "shop", "fenn")
    write(made / "blanks" / "market-tag.yaml", BLANK)
    change(made, "designs/tag/design.md", "offered: {", "offered: {market-tag: 5.00, ")
    change(made, "orders/fenn/order.yaml", "coaster-round", "market-tag")
    run(made, "proof", "fenn").ended(0)
    run(made, "answer", "fenn", "--in-person", "Odalys Fenn").ended(0)
    run(made, "press", "fenn").ended(0)
    assert sheets(made) == {
        "fenn-packing.pdf", "fenn-sheets-A4-204C-60s-medium.pdf", "fenn-ticket.pdf",
    }  # fmt: skip
    return made


def sheets(shop: Path) -> set[str]:
    return set(files(shop / "workroom" / "press"))


def said(text: str) -> str:
    return " ".join(text.split())


# -- what does not void ------------------------------------------------------------------------

AT_THE_PRESS = {
    "heat": (
        [("blanks/market-tag.yaml", "heat: 400 F", "heat: 385 F")],
        "heat was 204 °C (400 °F), is 196 °C (385 °F)",
    ),
    "time": (
        [("blanks/market-tag.yaml", "time: 60 s", "time: 45 s")],
        "time was 60 s, is 45 s",
    ),
    "shrink, with measures raised to match": (
        [
            ("blanks/market-tag.yaml", "shrink: {x: 0 %, y: 0 %}", "shrink: {x: 20 %, y: 0 %}"),
            ("blanks/market-tag.yaml", "width: 80 mm", "width: 100 mm"),
        ],
        "shrinking (width × height) was 0 % × 0 %, is 20 % × 0 %",
    ),
    "the printer's scale": (
        [("shop.yaml", "margin: 5 mm", "margin: 5 mm, scale: {x: 99.5 %, y: 100 %}")],
        "printer's scale was 100 % × 100 %, is 99.5 % × 100 %",
    ),
    "the day": (
        [("orders/fenn/order.yaml", "2026-12-20", "2026-12-21")],
        "day was 20 December 2026, is 21 December 2026",
    ),
}


def ticket_words(shop: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    """The ticket's words, as they are handed to the maker of PDFs."""
    seen: list[str] = []
    from proofgen.press import ticket

    true_one = ticket.html_to_pdf

    def caught(html: str, *rest: object, **more: object) -> bytes:
        seen.append(html)
        return true_one(html, *rest, **more)  # type: ignore[arg-type]

    with monkeypatch.context() as moment:
        moment.setattr(ticket, "html_to_pdf", caught)
        run(shop, "press", "fenn").ended(0)
    return said(re.sub(r"<[^>]+>", " ", seen[-1]))


@pytest.mark.parametrize("what", AT_THE_PRESS)
def test_what_changed_at_the_press_is_said(shop, what, monkeypatch):
    edits, told = AT_THE_PRESS[what]
    for edit in edits:
        change(shop, *edit)
    row = state(shop, "fenn")
    assert row["state"] == "signed" and told in row["since"], row
    for command in (["orders"], ["check", "fenn"]):
        assert f"Since proof 1: {told}." in said(run(shop, *command).ended(0).out)
    ran = run(shop, "press", "fenn").ended(0)
    assert f"fenn, since the signed proof: {told}." in said(ran.out)
    assert run(shop, "press", "fenn", "--json").document["since"] == {"fenn": [told]}
    assert f"Since the signed proof: {told}." in ticket_words(shop, monkeypatch).replace(
        "&#39;", "'"
    )


def test_nothing_changed_says_nothing(shop, monkeypatch):
    row = state(shop, "fenn")
    assert row["since"] == row["told"] == row["why"] == []
    assert "Since" not in run(shop, "orders").out
    assert "Since the signed proof" not in ticket_words(shop, monkeypatch)


# -- what voids --------------------------------------------------------------------------------


def test_why_an_order_is_voided(shop):
    order = "orders/fenn/order.yaml"
    change(shop, order, "& Bram", "&\u00a0Bram")  # a space that holds both together
    row = state(shop, "fenn")
    assert row["state"] == "voided"
    assert row["why"] == [
        "Name was “Odalys &⟨U+0020 space⟩Bram”, is now “Odalys &⟨U+00A0 no-break space⟩Bram”."
    ]
    change(shop, order, "&\u00a0Bram", "& Brom")
    why = "Not as proof 1: Name was “Odalys & Bram”, is now “Odalys & Brom”."
    assert why in said(run(shop, "orders").ended(0).out)
    assert why in said(run(shop, "check", "fenn").ended(0).out)
    assert run(shop, "check", "--json").document["orders"][0]["why"]


@pytest.mark.parametrize(
    ("name", "old", "new"),
    [
        ("orders/fenn/order.yaml", "quantity: 2", "quantiti: 2"),
        ("orders/fenn/order.yaml", "lines:", "lines: ["),
        ("designs/tag/design.md", "faces:", "facez:"),
        ("blanks/market-tag.yaml", "width: 80 mm", "width: eighty"),
    ],
)
def test_a_slip_of_the_pen_voids_nothing(shop, name, old, new):
    change(shop, name, old, new)
    ran = run(shop, "orders", "--json")
    assert ran.code == 3
    row = next(o for o in ran.document["orders"] if o["order"] == "fenn")
    assert row["state"] == "signed"
    assert "nothing tells whether it is still what proof 1 shows" in row["why"][0]
    assert "proofgen check fenn" in row["next"]
    assert sheets(shop), "what was made of the signed artwork stays"
    assert run(shop, "press", "fenn").code != 0 and not sheets(shop)
    change(shop, name, new, old)
    assert state(shop, "fenn")["state"] == "signed"


def test_a_missing_library_voids_nothing(shop, monkeypatch):
    monkeypatch.setattr(typeface.features, "check", lambda _: False)
    ran = run(shop, "orders", "--json")
    (row,) = ran.document["orders"]
    assert ran.code == 5 and row["state"] == "signed"
    assert "cannot be worked out here now" in row["why"][0] and "Raqm" in ran.err
    assert sheets(shop), "what was made of the signed artwork stays"
    told = run(shop, "press", "fenn").ended(5)
    assert "No order is signed" not in told.out


def test_a_stop_after_the_sign_off_needs_a_new_proof(shop):
    change(shop, "orders/fenn/order.yaml", "due: 2026-12-20", "due: 2026-11-20")
    assert state(shop, "fenn")["state"] == "stopped"
    found = run(shop, "check", "fenn", "--json").document["orders"][0]["findings"]
    key = next(f["key"] for f in found if f["status"] == "stop")
    run(shop, "check", "fenn", "--accept", key, "--because", "they know").ended(0)
    row = state(shop, "fenn")
    assert row["state"] == "voided"
    assert "was let through after proof 1 was made" in row["why"][0]
    told = run(shop, "press", "fenn").ended(4)
    assert "was let through after proof 1 was made" in told.err and sheets(shop) == set()
    run(shop, "proof", "fenn").ended(0)
    run(shop, "answer", "fenn", "--in-person", "Odalys Fenn").ended(0)
    assert state(shop, "fenn")["state"] == "signed"
    run(shop, "press", "fenn").ended(0)


def test_a_stop_let_through_before_the_proof_was_told_with_it(tmp_path):
    made = make_shop(tmp_path / "shop", "fenn")
    change(made, "orders/fenn/order.yaml", "due: 2026-12-20", "due: 2026-11-20")
    found = run(made, "check", "fenn", "--json").document["orders"][0]["findings"]
    key = next(f["key"] for f in found if f["status"] == "stop")
    for because in ("they know", "they know, really"):
        run(made, "check", "fenn", "--accept", key, "--because", because).ended(0)
        run(made, "proof", "fenn")
    run(made, "answer", "fenn", "--in-person", "Odalys Fenn").ended(0)
    assert state(made, "fenn")["state"] == "signed"


# -- what shuts the press ----------------------------------------------------------------------


def _answer(shop: Path, kind: str, words: str = "") -> str:
    return run(shop, "answer", "-", typed=f"{code_seen(shop, kind)}\n{words}\n").err


SHUT = {
    "words": lambda shop: _answer(shop, "ok", "please write Willy with y"),
    "a differing answer": lambda shop: _answer(shop, "change"),
    "a withdrawal": lambda shop: run(shop, "withdraw", "fenn", "--sure", "fenn").err,
    "a change, seen by check": lambda shop: (
        reword(shop, "fenn", "Odalys & Brom"),
        run(shop, "check", "fenn").err,
    )[1],
    "a change, seen by orders": lambda shop: (
        reword(shop, "fenn", "Odalys & Brom"),
        run(shop, "orders").err,
    )[1],
    "a change, seen by build": lambda shop: (
        reword(shop, "fenn", "Odalys & Brom"),
        run(shop, "build").out,
    )[1],
    "a new proof": lambda shop: (
        change(shop, "orders/fenn/order.yaml", "2026-12-20", "2026-12-21"),
        run(shop, "proof", "fenn").err,
    )[1],
}


@pytest.mark.parametrize("what", SHUT)
def test_what_shuts_the_press_takes_its_sheets_away(shop, what):
    told = said(SHUT[what](shop))
    assert sheets(shop) == set(), what
    assert "fenn may not be pressed as it stands, so this left" in told
    assert "fenn-packing.pdf, fenn-sheets-A4-204C-60s-medium.pdf and fenn-ticket.pdf" in told


def test_what_shuts_no_press_leaves_its_sheets(shop):
    write(shop / "orders" / "quill" / "order.yaml", order_text("Maren"))
    before = sheets(shop)
    run(shop, "proof", "quill").ended(0)
    run(shop, "withdraw", "quill", "--sure", "quill").ended(0)
    for command in ("orders", "check", "build"):
        assert "may not be pressed" not in run(shop, command).err
        assert sheets(shop) == before
    assert _answer(shop, "ok", "thank you!").count("may not be pressed") == 0
    assert sheets(shop) == before


def test_press_gives_the_reason_first(shop):
    _answer(shop, "change")
    told = run(shop, "press", "fenn").ended(4)
    assert "No order is signed" not in told.out + told.err
    assert "two answers" in told.err
    shutil.rmtree(shop / "orders" / "fenn")
    assert "No order is signed" in run(shop, "press").ended(0).out


def test_the_same_is_not_shown_again_after_words(tmp_path):
    made = make_shop(tmp_path / "shop", "fenn")
    run(made, "proof").ended(0)
    _answer(made, "ok", "please write Willy with y")
    told = run(made, "proof", "fenn").ended(4)
    assert "answer --read fenn" in told.err and "--again" in told.err
    assert state(made, "fenn")["edition"] == 1
    change(made, "orders/fenn/order.yaml", "2026-12-20", "2026-12-21")  # the day is enough
    run(made, "proof", "fenn").ended(0)
    assert state(made, "fenn")["edition"] == 2
    run(made, "proof", "--again").ended(2)


def test_the_pdf_of_the_ticket_is_one_that_opens(shop):
    change(shop, *AT_THE_PRESS["heat"][0][0])
    run(shop, "press", "fenn").ended(0)
    with pikepdf.open(shop / "workroom" / "press" / "fenn-ticket.pdf") as ticket:
        assert len(ticket.pages) >= 1


# -- a ticket that no longer says what is in force -----------------------------------------------

SEEN_BY = {
    "check": ("check", "fenn"),
    "orders": ("orders",),
    "press --done": ("press", "fenn", "--done"),
}


@pytest.mark.parametrize("seen_by", SEEN_BY)
@pytest.mark.parametrize("what", AT_THE_PRESS)
def test_a_ticket_of_before_leaves_the_press_room(shop, what, seen_by):
    edits, told = AT_THE_PRESS[what]
    for edit in edits:
        change(shop, *edit)
    ran = run(shop, *SEEN_BY[seen_by])
    assert sheets(shop) == set()
    assert f"Since the ticket of fenn was made, {told}, so this left" in said(ran.err)
    assert "proofgen press fenn" in ran.err
    asked = run(shop, "press", "fenn", "--done").ended(4)  # they may lie printed beside the press
    assert told in said(asked.err) and state(shop, "fenn")["state"] == "signed"
    run(shop, "press", "fenn").ended(0)
    assert {name.split("-sheets-")[0] for name in sheets(shop)} == {
        "fenn", "fenn-packing.pdf", "fenn-ticket.pdf",
    }  # fmt: skip
    run(shop, "press", "fenn", "--done").ended(0)
    assert state(shop, "fenn")["state"] == "pressed" and sheets(shop)


def test_a_ticket_of_an_earlier_proof_marks_no_later_one(shop):
    reword(shop, "fenn", "Odalys & Brom")
    run(shop, "proof", "fenn").ended(0)
    run(shop, "answer", "fenn", "--in-person", "Odalys Fenn").ended(0)
    asked = run(shop, "press", "fenn", "--done").ended(4)
    assert "the proof was 1, is 2" in said(asked.err)
    run(shop, "build").ended(0)  # makes them anew
    run(shop, "press", "fenn", "--done").ended(0)


def test_build_makes_tickets_anew_and_says_no_farewell(shop):
    change(shop, *AT_THE_PRESS["heat"][0][0])
    built = run(shop, "build").ended(0)
    assert "so this left" not in built.out + built.err
    assert f"since the signed proof: {AT_THE_PRESS['heat'][1]}." in said(built.out)
    run(shop, "press", "fenn", "--done").ended(0)


def test_a_lost_or_damaged_memory_of_tickets_asks_nothing(shop):
    change(shop, *AT_THE_PRESS["heat"][0][0])
    (shop / "workroom" / "tickets.json").write_text("{", "utf-8")
    run(shop, "press", "fenn", "--done").ended(0)


def test_another_run_at_work_keeps_the_sheets_for_the_next(shop):
    change(shop, *AT_THE_PRESS["heat"][0][0])
    with store.lock(shop / "records"):
        assert "another run" in run(shop, "check", "fenn").ended(5).err
        assert sheets(shop)
    run(shop, "check", "fenn").ended(0)
    assert sheets(shop) == set()


def test_forget_takes_the_memory_of_the_ticket(shop):
    assert "fenn" in (shop / "workroom" / "tickets.json").read_text("utf-8")
    run(shop, "forget", "fenn", "--sure", "fenn").ended(0)
    assert "fenn" not in (shop / "workroom" / "tickets.json").read_text("utf-8")


# -- what was promised ---------------------------------------------------------------------------

PROMISED = {
    "price": (
        ("designs/tag/design.md", "market-tag: 5.00", "market-tag: 99.00"),
        "The customer signed €10.00; today’s price is €198.00: charge what was signed.",
    ),
    "day": (
        ("orders/fenn/order.yaml", "2026-12-20", "2026-12-21"),
        "The customer signed for 20 December 2026; the order’s day is 21 December 2026 today: "
        "keep the day that was signed, or agree on another.",
    ),
}


@pytest.mark.parametrize("what", PROMISED)
def test_what_was_promised_is_told_at_the_press(shop, what, monkeypatch):
    edit, told = PROMISED[what]
    change(shop, *edit)
    assert state(shop, "fenn")["state"] == "signed"
    assert f"fenn: {told}" in said(run(shop, "press", "fenn").ended(0).out)
    assert run(shop, "press", "fenn", "--json").document["promised"] == {"fenn": [told]}
    assert told in ticket_words(shop, monkeypatch)


# -- what is left out --------------------------------------------------------------------------


def test_a_blank_that_nothing_here_can_press_is_found_before_the_sign_off(tmp_path):
    made = make_shop(tmp_path / "shop", "fenn")
    with (made / "shop.yaml").open("a", encoding="utf-8") as settings:
        settings.write("platen: {width: 60 mm, height: 60 mm}\n")
    told = said(run(made, "check", "fenn").ended(1).out)
    assert "under the press, with its bleed; the platen is 60 × 60 mm." in told
    assert "Press it on a larger platen" in told
    run(made, "proof", "fenn").ended(1)


def test_press_tells_which_signed_orders_it_left_out_and_why(shop):
    write(shop / "orders" / "fenn" / "order.yaml", order_text("Maren"))
    told = said(run(shop, "press").ended(0).out)
    assert "Left out: fenn changed after proof 1 was signed." in told
    assert "Next: put it back as it was, or make a new proof" in told
    assert "No order is signed" not in told


def test_press_names_the_stop_of_a_signed_order(shop):
    with (shop / "shop.yaml").open("a", encoding="utf-8") as settings:
        settings.write("platen: {width: 60 mm, height: 60 mm}\n")
    told = said(run(shop, "press").ended(0).out)
    assert "Left out: fenn has a finding in its way." in told
    assert "the platen is 60 × 60 mm" in told and "No order is signed" not in told
