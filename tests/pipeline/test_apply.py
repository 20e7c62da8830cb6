"""What a customer typed on the page goes into the order by one command, and nothing else does."""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from typing import Any

import pytest
import yaml

from tests.cli.small import code_seen, make_shop, run, state, write
from tests.slips import compose_slip, facts_on

GUESTS = (
    '\ufeffguest,day\r\n"Odalis, Fenn",12 June\r\nBram ,12 June\r\n\r\n'
    '"Zo""e""",13 June\r\nWren,13 June\r\n'
)
ORDER = """\
# Taken at the counter
customer: {name: Odalys Fenn, email: someone@fenn.example}   # by telephone
due: 2026-12-20

lines:
  - design: place
    blank: coaster-round
    cloth: white
    list: guests.csv
    words:
      couple: Odalis & Bram   # read it twice
  - design: tag
    blank: coaster-round
    cloth: white
    quantity: 2
    words: {'name': "Odalis"}
  - design: tag
    blank: coaster-round
    cloth: white
    quantity: 1
    words:
      name: |
        Odalis
        and Bram
"""


@pytest.fixture(scope="module")
def proved(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = make_shop(tmp_path_factory.mktemp("proved") / "shop")
    home = folder / "orders" / "fenn"
    write(home / "order.yaml", ORDER)
    (home / "guests.csv").write_bytes(GUESTS.encode())
    run(folder, "proof").ended(0)
    return folder


@pytest.fixture
def shop(proved: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(proved, tmp_path / "shop"))


def page_of(shop: Path) -> Path:
    (lies,) = (shop / "site" / "p").glob("*/index.html")
    return lies


def text_on(shop: Path, slot: str, text: str, line: int = 1) -> dict[str, Any]:
    """A text as the page hands it to its script."""
    texts = facts_on(page_of(shop))["texts"]
    return next(t for t in texts if (t["slot"], t["text"], t["line"]) == (slot, text, line))


def asked(shop: Path, slot: str, old: str, new: str, line: int = 1, **over: Any) -> dict[str, Any]:
    on_page = text_on(shop, slot, old, line)
    kept = {key: on_page[key] for key in ("pieces", "slot", "line")}
    return {**kept, "old": on_page["text"], "new": new, **over}


def answer(shop: Path, *changes: dict[str, Any]) -> Any:
    """The customer sends the slip that the page's script made."""
    slip = compose_slip(facts_on(page_of(shop)), "change", name="Odalys Fenn", changes=changes)
    write(shop / "slip.txt", slip)
    return run(shop, "answer", shop / "slip.txt").ended(0)


def files(shop: Path) -> tuple[str, bytes]:
    home = shop / "orders" / "fenn"
    return (home / "order.yaml").read_text("utf-8"), (home / "guests.csv").read_bytes()


def test_old_and_new_are_listed_and_written_by_one_command(shop):
    told = answer(
        shop,
        asked(shop, "guest", "Odalis, Fenn", "Odalys, Fenn"),
        asked(shop, "guest", "Bram", "Bram “the Cup” Okoro; Esq"),
        asked(shop, "guest", 'Zo"e"', "Zoë"),
        asked(shop, "couple", "Odalis & Bram", "Odalys & Bram"),
        asked(shop, "name", "Odalis", "Odalys", line=2),
        asked(shop, "name", "Odalis\nand Bram", "Odalys\nand Bram", line=3),
    )
    assert "guest, piece 1: “Odalis, Fenn” → “Odalys, Fenn”" in told.out
    assert "name, pieces 5 and 6: “Odalis” → “Odalys”" in told.out
    assert "6 texts are to change" in told.out and "proofgen answer --apply fenn" in told.out
    assert state(shop, "fenn")["state"] == "changes"
    assert "proofgen answer --apply fenn" in state(shop, "fenn")["next"]
    assert len(state(shop, "fenn")["asked"]) == 6
    assert "To change: guest, piece 1" in run(shop, "orders").out
    order, guests = files(shop)
    assert (order, guests) == (ORDER, GUESTS.encode())  # never by itself

    told = run(shop, "answer", "--apply", "fenn").ended(0)
    assert told.out.index("→") < told.out.index("Written into")
    assert "orders/fenn/guests.csv" in told.out and "orders/fenn/order.yaml" in told.out
    assert "proofgen check fenn" in told.out and "proofgen proof fenn" in told.out
    order, guests = files(shop)
    assert order == ORDER.replace("couple: Odalis & Bram ", 'couple: "Odalys & Bram" ').replace(
        "{'name': \"Odalis\"}", "{'name': \"Odalys\"}"
    ).replace("|\n        Odalis\n        and Bram\n", '"Odalys\\nand Bram"\n')
    assert (
        guests
        == GUESTS.replace("Odalis, Fenn", "Odalys, Fenn")
        .replace("Bram ,", "Bram “the Cup” Okoro; Esq,")
        .replace('"Zo""e"""', '"Zoë"')
        .encode()
    )

    run(shop, "check", "fenn").ended(0)
    run(shop, "proof", "fenn").ended(0)
    assert state(shop, "fenn")["state"] == "ready" and state(shop, "fenn")["edition"] == 2
    for text in ("Odalys, Fenn", "Odalys & Bram", "Zoë"):
        assert any(t["text"] == text for t in facts_on(page_of(shop))["texts"]), text


def test_once_more_writes_nothing(shop):
    answer(shop, asked(shop, "couple", "Odalis & Bram", "Odalys & Bram"))
    run(shop, "answer", "--apply", "fenn").ended(0)
    before = files(shop)
    told = run(shop, "answer", "--apply", "fenn").ended(1)
    assert "Nothing was written" in told.out and "reads “Odalys & Bram” already" in told.err
    assert files(shop) == before


def test_what_no_longer_reads_as_it_was_shown_is_named_and_left(shop):
    answer(
        shop,
        asked(shop, "guest", "Odalis, Fenn", "Odalys, Fenn"),
        asked(shop, "guest", "Bram", "Brom"),
    )
    home = shop / "orders" / "fenn"
    (home / "guests.csv").write_bytes(GUESTS.replace("Bram ,", "Brahms,").encode())
    told = run(shop, "answer", "--apply", "fenn").ended(1)
    assert "guest, piece 2: “Bram” → “Brom”; it reads “Brahms” now" in told.err
    assert "Odalys, Fenn" in files(shop)[1].decode() and "Brahms," in files(shop)[1].decode()


@pytest.mark.parametrize(
    ("changes", "why"),
    [
        ([{"line": 9}], "line 9 has no pieces"),
        ([{"pieces": [5]}], "once, for piece 6 as well"),
        ([{"slot": "title"}], "it reads “” now"),
        ([{"old": "Odaliss"}], "it reads “Odalis” now"),
        ([{}, {"new": "Odyssey"}], "asked for in two ways"),
    ],
)
def test_what_does_not_fit_is_named_and_left(shop, changes, why):
    one = asked(shop, "name", "Odalis", "Odalys", line=2)
    answer(shop, *({**one, **over} for over in changes))
    told = run(shop, "answer", "--apply", "fenn").ended(1)
    assert why in told.err
    assert ("Odalys" in files(shop)[0].split("lines:")[1]) == (len(changes) > 1)


@pytest.mark.parametrize("new", ["=HYPERLINK(1)", "+1", "-2", "@me"])
def test_no_formula_goes_into_a_list(shop, new):
    answer(shop, asked(shop, "guest", "Bram", new))
    told = run(shop, "answer", "--apply", "fenn").ended(1)
    assert "a spreadsheet would take" in told.err and files(shop)[1] == GUESTS.encode()


@pytest.mark.parametrize(
    "new",
    ["a: b # c", '"', "'", "\\n", "- x", "{}", "Zoë\u202e", "no", "a\tb", "א", "12:30", "&a *b"],
)
def test_whatever_is_typed_reads_back_and_changes_nothing_else(shop, new):
    answer(
        shop,
        asked(shop, "name", "Odalis", new, line=2),
        asked(shop, "guest", "Wren", new.replace("- x", "x")),
    )
    run(shop, "answer", "--apply", "fenn").ended(0)
    order, guests = files(shop)
    then, now = (yaml.load(text, yaml.BaseLoader) for text in (ORDER, order))
    assert now["lines"][1]["words"].pop("name") == new
    del then["lines"][1]["words"]["name"]
    assert then == now
    assert order.count("\n") == ORDER.count("\n") and guests.count(b"\r\n") == GUESTS.count("\r\n")


def test_a_cell_that_a_spreadsheet_left_out_is_put_in(shop):
    """A row may end before its last column: then its words are empty."""
    home = shop / "orders" / "fenn"
    (home / "guests.csv").write_bytes(GUESTS.replace("Wren,13 June", "Wren").encode())
    answer(shop, {"pieces": [4], "slot": "day", "line": 1, "old": "", "new": "14 June"})
    run(shop, "answer", "--apply", "fenn").ended(0)
    assert files(shop)[1].endswith(b"\r\nWren,14 June\r\n")


def test_without_typed_changes_there_is_nothing_to_apply(shop):
    told = run(shop, "answer", "--apply", "fenn").ended(4)
    assert "says which words are to change" in told.err
    run(shop, "answer", "-", typed=code_seen(shop, "change")).ended(0)
    run(shop, "answer", "--apply", "fenn").ended(4)
    run(shop, "answer", "--apply", "nobody").ended(2)


def test_two_answers_in_one_mail_name_one_next_step(shop):
    facts = facts_on(page_of(shop))
    both = compose_slip(facts, "ok", name="A") + compose_slip(facts, "change", note="darker")
    write(shop / "slip.txt", both)
    told = run(shop, "answer", shop / "slip.txt").ended(4)
    assert told.err.count("Next:") == 1 and "ask which one holds" in told.err
    assert "proofgen press" not in told.err


def test_json_of_the_page_has_what_the_order_says(shop):
    """The page's texts are those of the order, by slot and line, so that they find their place."""
    texts = facts_on(page_of(shop))["texts"]
    found = {(t["line"], t["slot"], t["text"]) for t in texts}
    assert (1, "guest", "Odalis, Fenn") in found and (3, "name", "Odalis\nand Bram") in found
    json.dumps(texts)
