"""What a customer typed on the page goes into the order by one command, and nothing else does."""

from __future__ import annotations

import html
import json
import re
import shutil
from pathlib import Path
from typing import Any

import pytest
import yaml

from proofgen.press import ticket
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


# -- wrong, and not said what it should be -------------------------------------------------------


def test_wrong_without_what_it_should_be_is_to_be_asked(shop):
    told = answer(
        shop,
        asked(shop, "guest", "Bram", ""),
        asked(shop, "name", "Odalis", "Odalys", line=2),
    )
    says = "guest, piece 2: “Bram” is wrong, and it does not say what it should be"
    assert says in told.out and "“”" not in told.out
    assert says in " ".join(run(shop, "orders").out.split())
    assert says in state(shop, "fenn")["asked"]
    ran = run(shop, "answer", "--apply", "fenn").ended(1)
    assert f"Left for you: {says}; ask the customer what it should be." in ran.err
    order, guests = files(shop)
    assert "'name': \"Odalys\"" in order and guests == GUESTS.encode()


def test_where_nothing_says_what_it_should_be_the_next_step_is_to_ask(shop):
    told = answer(shop, asked(shop, "guest", "Bram", ""))
    ask = "sk the customer what it should be"
    assert ask in told.out and ask in state(shop, "fenn")["next"]
    assert "--apply" not in told.out + state(shop, "fenn")["next"]


def test_a_yes_whose_spellings_were_not_ticked_says_so_and_opens_the_press(shop):
    facts = facts_on(page_of(shop))
    write(shop / "slip.txt", compose_slip(facts, name="Odalys Fenn", marked=[0, 2]))
    says = "Of the 2 texts no spelling was ticked on the page."
    assert says in run(shop, "answer", shop / "slip.txt").ended(0).out
    assert state(shop, "fenn")["unmarked"] == says
    assert says in " ".join(run(shop, "orders").out.split())
    assert says in (shop / "workroom" / "orders" / "fenn.html").read_text("utf-8")
    run(shop, "press", "fenn").ended(0)
    run(shop, "press", "fenn", "--done").ended(0)
    run(shop, "handed-over", "fenn").ended(0)
    assert state(shop, "fenn")["unmarked"] == ""


def test_a_slip_of_an_older_page_that_left_it_empty_is_ours(shop):
    on_page = facts_on(page_of(shop))
    words = dict(on_page["words"])
    for key in ("unsaid", "unsaid_one", "unsaid_many"):
        words[key] = words[key.replace("unsaid", "instead")]
    slip = compose_slip(
        {**on_page, "words": words}, "change", changes=[asked(shop, "guest", "Bram", "")]
    )
    assert "instead of “Bram”: “”" in slip
    write(shop / "slip.txt", slip)
    run(shop, "answer", shop / "slip.txt").ended(0)
    assert state(shop, "fenn")["words"] == []


# -- what became of it on the next proof ---------------------------------------------------------


def test_what_was_asked_stands_on_the_next_letter_and_on_the_ticket(shop, monkeypatch):
    note = "A lighter sky, please" + ", lighter still" * 40  # no letter of theirs is cut
    slip = compose_slip(
        facts_on(page_of(shop)),
        "change",
        name="Odalys Fenn",
        note=note,
        wrong=[6],
        changes=[
            asked(shop, "guest", "Bram", "Bramm"),
            asked(shop, "guest", 'Zo"e"', "Zoë"),
            asked(shop, "guest", "Wren", ""),
            asked(shop, "name", "Odalis", "Odalys", line=2),
        ],
    )
    write(shop / "slip.txt", slip)
    run(shop, "answer", shop / "slip.txt").ended(0)
    order, guests = files(shop)
    write(shop / "orders" / "fenn" / "order.yaml", order.replace('"Odalis"', '"Odalyss"'))
    list_of = shop / "orders" / "fenn" / "guests.csv"
    list_of.write_bytes(guests.replace(b"Bram ", b"Bramm ").replace(b"Wren", b"Wrenna"))
    run(shop, "proof", "fenn").ended(0)
    letter = (shop / "workroom" / "letters" / "fenn.txt").read_text("utf-8")
    said = " ".join(letter.split())
    for one in (
        "What you asked for at proof 1:",
        "“Bramm” instead of “Bram”: it is changed.",
        '“Zoë” instead of “Zo"e"”: it stands as it was.',
        "You marked “Wren” as wrong: it now reads “Wrenna”.",
        "“Odalys” instead of “Odalis”: it now reads “Odalyss”.",
        "You marked piece 6 as wrong: please look at it once more.",
        f"You wrote “{note}”: please look whether it is as you wish.",
    ):
        assert one in said, one
    earlier = state(shop, "fenn")["earlier"]
    assert "guest, piece 2: “Bram” → “Bramm”; it is changed" in earlier
    assert 'guest, piece 3: “Zo"e"” → “Zoë”; it stands as it was' in earlier
    assert "piece 6 marked as wrong" in earlier and f"“{note}”" in earlier
    run(shop, "answer", "fenn", "--in-person", "Odalys Fenn").ended(0)
    seen: list[str] = []
    true_one = ticket.html_to_pdf
    monkeypatch.setattr(
        ticket,
        "html_to_pdf",
        lambda html, *rest, **more: (seen.append(html), true_one(html, *rest, **more))[1],
    )
    run(shop, "press", "fenn").ended(0)
    on_ticket = " ".join(re.sub(r"<[^>]+>", "", html.unescape(seen[-1])).split())
    for text in earlier:
        assert f"Asked at an earlier proof: {text}" in on_ticket


def test_what_was_asked_comes_back_quoted_and_is_nobody_s_word(shop):
    """The letter repeats a wish; who quotes the letter says nothing by it, who writes it does."""
    slip = compose_slip(facts_on(page_of(shop)), "change", note="Please write Willy with y")
    write(shop / "slip.txt", slip)
    run(shop, "answer", shop / "slip.txt").ended(0)
    order, _ = files(shop)
    write(shop / "orders" / "fenn" / "order.yaml", order.replace('"Odalis"', '"Odalys"'))
    run(shop, "proof", "fenn").ended(0)
    letter = (shop / "workroom" / "letters" / "fenn.txt").read_text("utf-8")
    assert "Willy with y" in letter
    quoted = "\n".join(f"> {line}" for line in letter.splitlines()[2:])
    code = code_seen(shop, "ok")
    run(shop, "answer", "-", typed=f"{code}\n\n{quoted}\n")
    assert state(shop, "fenn")["state"] == "signed"
    again = f"{code}\n\nPlease write Willy with y\n\n{quoted}\n"
    run(shop, "answer", "-", typed=again)
    assert state(shop, "fenn")["state"] == "words"


def test_what_a_yes_is_given_for_is_no_word_of_the_customers(shop):
    """Its mail said neither what nor how many nor by when."""
    facts = facts_on(page_of(shop))
    lines = facts["given_for"]
    assert len(lines) == 4 and lines[-1].endswith("ready on Sunday 20 December")
    assert lines[1].startswith("2 × ") and lines[1].endswith(", white")
    slip = compose_slip(facts, name="Odalys Fenn")
    assert all(line in slip.splitlines() for line in lines)
    write(shop / "slip.txt", slip)
    told = run(shop, "answer", shop / "slip.txt").ended(0)
    assert "wrote" not in told.out and "ready on" not in told.out
    write(shop / "slip.txt", slip.replace("20 December", "22 December"))
    assert "22 December" in run(shop, "answer", shop / "slip.txt").out, "a changed line is theirs"


def test_a_proof_that_nobody_was_shown_hides_nothing_of_what_was_asked(shop):
    """Between the proof that was answered and the next one that is sent, the maker made another."""
    facts = facts_on(page_of(shop))
    slip = compose_slip(facts, "change", name="Odalys Fenn", note="A lighter sky, please")
    write(shop / "slip.txt", slip)
    run(shop, "answer", shop / "slip.txt").ended(0)
    home = shop / "orders" / "fenn"
    for old, new in (("Odalis &", "Ody &"), ('"Odalis"', '"Ody"')):
        write(home / "order.yaml", (home / "order.yaml").read_text("utf-8").replace(old, new))
        made = run(shop, "proof", "fenn").ended(0).out
        assert "The customer said of proof 1" in made and "A lighter sky, please" in made
    assert state(shop, "fenn")["edition"] == 3 and state(shop, "fenn")["earlier"]
    letter = (shop / "workroom" / "letters" / "fenn.txt").read_text("utf-8")
    for said in ("What changed since proof 1:", "Ody & Bram", "What you asked for at proof 1:"):
        assert said in letter, said
    page = page_of(shop).read_text("utf-8")
    assert "What changed since proof 1" in page and "What changed since proof 2" not in page
    run(shop, "letter", "fenn", "--sent").ended(0)
    write(home / "order.yaml", (home / "order.yaml").read_text("utf-8").replace("Ody &", "Od &"))
    run(shop, "proof", "fenn").ended(0)
    assert "What changed since proof 3" in page_of(shop).read_text("utf-8")


# -- what else the same answer asked for ---------------------------------------------------------


def test_what_else_was_asked_for_is_told_until_it_is_done(shop):
    facts = facts_on(page_of(shop))
    slip = compose_slip(
        facts,
        "change",
        name="Odalys Fenn",
        wrong=[2],
        note="The lantern is too dark for me",
        changes=[asked(shop, "couple", "Odalis & Bram", "Odalys & Bram")],
    )
    write(shop / "slip.txt", slip)
    run(shop, "answer", shop / "slip.txt").ended(0)
    receipt = (shop / "workroom" / "letters" / "fenn.receipt-1.txt").read_text("utf-8")
    assert "What the proof shows" in receipt and "What is pressed" not in receipt
    told = run(shop, "answer", "--apply", "fenn").ended(1)
    assert "Odalys & Bram" in told.out and "Written into" in told.out
    for said in ("piece 2 marked as wrong", "“The lantern is too dark for me”"):
        assert said in told.err
    assert "Odalys & Bram" not in told.err
    assert "Next: Put what was asked for into orders/fenn/order.yaml, line" in told.out

    made = run(shop, "proof", "fenn").ended(0).out
    assert "The customer said of proof 1; look whether it is done:" in made
    assert "piece 2 marked as wrong" in made and "too dark for me" in made
    assert "Odalys & Bram" not in made  # that one is seen to be changed


def test_a_word_that_stands_as_it_was_is_told_with_the_next_proof(shop):
    answer(
        shop,
        asked(shop, "couple", "Odalis & Bram", "Odalys & Bram"),
        asked(shop, "guest", "Bram", "Brom"),
    )
    home = shop / "orders" / "fenn"
    write(
        home / "order.yaml", (home / "order.yaml").read_text("utf-8").replace("Odalis &", "Ody &")
    )
    made = run(shop, "proof", "fenn").ended(0).out
    assert "“Bram” → “Brom”; it stands as it was" in made
    assert "“Odalis & Bram” → “Odalys & Bram”; it now reads “Ody & Bram”" in made
    page = (shop / "site" / "p").glob("*/index.html")
    assert len(list(page)) == 1
