"""From spoiled to handed over, counted once: stock, yield, costs, and what is forgotten."""

from __future__ import annotations

import csv
import io
import os
import shutil
import signal
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path
from typing import Any

import pikepdf
import pytest

from proofgen import store
from proofgen.signoff import EventKind, Records, used
from tests.cli.small import files, id_of, make_shop, order_text, reword, run, state, write

BLANK = "cost: 0.80\nstock: {white: 24, counted: 2026-11-20}\n"
RATES = "rates: {minute: 0.40, sheet: {A4: 0.18}}\nspares: 5 %\n"
SPOILED = ("press", "fenn", "--spoiled", "2,5", "--because", "a ghost beside Odalys")


def text(words: str, quantity: int, customer: str = "Odalys Fenn") -> str:
    return order_text(words, customer=customer).replace("quantity: 2", f"quantity: {quantity}")


@pytest.fixture(scope="module")
def ready(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Six coasters that are signed and whose sheets were made, and three more that are open."""
    folder = make_shop(tmp_path_factory.mktemp("ready") / "shop", "fenn", "quill")
    write(folder / "orders" / "fenn" / "order.yaml", text("Odalys & Bram", 6))
    write(folder / "orders" / "quill" / "order.yaml", text("Maren", 3, "Maren Quill"))
    write(folder / "blanks" / "coaster-round.yaml", BLANK)
    write(folder / "shop.yaml", (folder / "shop.yaml").read_text() + RATES)
    run(folder, "proof").ended(0)
    run(folder, "answer", "fenn", "--in-person", "Odalys").ended(0)
    run(folder, "press").ended(0)
    return folder


def tally(shop: Path, *more: str) -> Any:
    return run(shop, "orders", "--tally", "--json", *more).ended(0).document


def stock(shop: Path) -> tuple[int, int, int]:
    """Used, left and to buy of the one blank that is counted."""
    (one,) = tally(shop)["stock"]
    return one["used"], one["left"], one["buy"]


def test_spoil_reprint_done_hand_over_stock_and_yield(shop):
    assert stock(shop) == (0, 24, 0)  # 7 and 4 are needed, spares counted
    before = {path.name for path in (shop / "workroom" / "press").iterdir()}

    told = run(shop, *SPOILED, "--json").ended(0).document
    assert [(p["piece"], p["raster"]) for s in told["sheets"] for p in s["pieces"]] == [
        (2, "line1-a-front.png"),
        (5, "line1-a-front.png"),
    ]
    # Two of them lie on a sheet: 2 on the first, 5 on the third, and so they stay.
    assert [n["number"] for s in told["sheets"] for n in s["numbers"]] == [1, 3]
    assert told["spoiled"][0]["cause"] == "moved" and told["spoiled"][0]["counted"] == 1
    again = {path.name for path in (shop / "workroom" / "press").iterdir()} - before
    assert again == {sheet["file"] for sheet in told["sheets"]}
    (file,) = again
    with pikepdf.open(shop / "workroom" / "press" / file) as pdf:
        assert len(pdf.pages) == 2
    page = (shop / "workroom" / "orders" / "fenn.html").read_text("utf-8")
    assert page.count(f'/{file}"') == 1 and page.count('/fenn-packing.pdf"') == 1
    assert stock(shop) == (2, 22, 0)
    assert tally(shop)["waiting"] == 2

    run(shop, "press", "fenn", "--done").ended(0)
    run(shop, "handed-over", "fenn").ended(0)
    document = tally(shop)
    assert stock(shop) == (8, 16, 0)
    assert document["waiting"] == 0
    (yields,) = document["yields"]
    assert (yields["blanks"], yields["spoiled"], yields["causes"]) == (8, 2, {"moved": 2})
    assert document["spares"]["verdict"] == "not known yet"
    done, open_line = document["lines"]
    assert (done["order"], done["pieces"], done["spoiled_pieces"]) == ("fenn", 6, 2)
    assert (open_line["order"], open_line["record"], open_line["price"]) == ("quill", 0, "15.00")
    # 105 s for two side by side; three sheets, and two once more.
    minutes = Decimal(3 * 105) / 60
    assert Decimal(done["blanks"]) == 6 * Decimal("0.80")
    assert Decimal(done["paper"]) == 3 * Decimal("0.18")
    assert Decimal(done["time"]) == minutes * Decimal("0.40")
    lost = 2 * Decimal("0.80") + 2 * Decimal("0.18") + Decimal(105) / 60 * Decimal("0.40")
    assert Decimal(done["spoiled"]) == lost
    whole = Decimal("4.80") + Decimal("0.54") + minutes * Decimal("0.40") + lost
    assert Decimal(done["cost"]) == whole
    warm = 10 * Decimal("0.40")  # 600 s, once on the one day
    assert Decimal(document["total"]["warming_up"]) == warm
    assert Decimal(document["total"]["left"]) == 30 - whole - warm

    table = shop / "sold.csv"
    run(shop, "orders", "--sold", str(table)).ended(0)
    content = table.read_bytes()
    assert content.startswith(b"\xef\xbb\xbf") and content.endswith(b"\r\n")
    rows = list(csv.DictReader(io.StringIO(content.decode("utf-8-sig"))))
    assert [(r["pieces"], r["price"], r["handed over on"]) for r in rows] == [
        ("6", "30.00", "2026-11-25")
    ]

    # Once more, after it was handed over: the door lets the signed pixels through.
    run(shop, *SPOILED, "--times", "2").ended(0)
    assert stock(shop) == (10, 14, 0)

    seen = tally(shop)
    run(shop, "forget", "fenn", "--sure", "fenn").ended(0)
    after = tally(shop)
    assert {**after["lines"][0], "order": "fenn"} == seen["lines"][0]
    for part in ("stock", "yields", "spares", "total"):
        assert after[part] == seen[part], part
    for name, held in files(shop).items():
        assert b"Odalys" not in held and b"a ghost" not in held, name
    run(shop, "records", "verify").ended(0)
    told_text = run(shop, "orders", "--tally").ended(0).out
    assert "record" in told_text and "not known" not in told_text.split("Not known")[0]


def test_what_one_order_costs(shop: Path) -> None:
    told = run(shop, "orders", "--cost", "quill").ended(0).out
    # Three coasters: 2.40 and two sheets of two, two pressings of 105 s, and 5 in 95 spoiled.
    whole = Decimal("2.40") + 2 * Decimal("0.18") + Decimal(210) / 60 * Decimal("0.40")
    whole += whole * 5 / 95
    words = " ".join(told.split())
    assert f"cost {whole:.2f}, price 15.00, left {15 - whole:.2f}." in words and "fenn" not in told
    document = run(shop, "orders", "--cost", "quill", "--json").ended(0).document
    assert {one["order"] for one in document["lines"]} == {"quill"}
    run(shop, "press", "fenn", "--done").ended(0)
    assert "2026-11-25, line 1" in run(shop, "orders", "--cost", "fenn").ended(0).out
    assert "no order called" in run(shop, "orders", "--cost", "fen").ended(2).err
    run(shop, "orders", "--cost", "fenn", "--tally").ended(2)


def test_what_press_made_is_listed_with_the_contact_sheets(shop):
    told = run(shop, "press", "--contact").ended(0)
    assert "\n  fenn-contact.pdf\n" in told.out


def test_the_same_report_twice_is_one(shop):
    run(shop, *SPOILED).ended(0)
    told = run(shop, *SPOILED).ended(0)
    assert "nothing was counted" in told.out and "--times 2" in told.out
    assert stock(shop)[0] == 2
    run(shop, *SPOILED, "--times", "2").ended(0)
    run(shop, *SPOILED, "--times", "2").ended(0)
    assert stock(shop)[0] == 4
    assert "once" in run(shop, *SPOILED, "--times", "1").ended(0).out  # a slip
    assert stock(shop)[0] == 2
    run(shop, *SPOILED, "--times", "4").ended(2)
    run(shop, "press", "fenn", "--spoiled", "1,2", "--because", "pale").ended(2)
    run(shop, "press", "fenn", "--spoiled", "7", "--because", "pale").ended(2)
    run(shop, "press", "fenn", "--spoiled", "2").ended(2)
    run(shop, "press", "--spoiled", "2", "--because", "pale").ended(2)
    assert stock(shop)[0] == 2


def test_only_what_was_signed_is_printed_again(shop):
    reword(shop, "fenn", "Somebody else")
    told = run(shop, *SPOILED).ended(4)
    assert "changed after proof 1 was signed" in told.err
    run(shop, "press", "quill", "--spoiled", "1", "--because", "pale").ended(4)
    assert used(Records(shop / "records")) == []


def test_done_is_taken_back_and_noted_anew(shop):
    run(shop, "press", "--done").ended(2)  # never all that there are
    run(shop, "press", "fenn", "--done").ended(0)
    run(shop, "handed-over", "fenn").ended(0)
    told = run(shop, "press", "fenn", "--not-done").ended(0)
    assert "the records keep both" in told.out
    assert state(shop, "fenn")["state"] == "signed" and stock(shop)[0] == 0
    again = run(shop, "press", "fenn", "--not-done").ended(4)
    assert "nothing to take back: it is signed and not pressed yet" in again.err
    run(shop, "press", "fenn", "--done").ended(0)
    assert state(shop, "fenn")["state"] == "pressed" and stock(shop)[0] == 6
    kinds = [e.kind for e in Records(shop / "records").events("fenn")]
    assert kinds.count(EventKind.PRESSED) == 2 and kinds.count(EventKind.NOT_PRESSED) == 1
    run(shop, "records", "verify").ended(0)


def test_handed_over_alone_is_taken_back(shop):
    run(shop, "handed-over", "fenn", "--not").ended(4)
    run(shop, "press", "fenn", "--done").ended(0)
    told = run(shop, "handed-over", "fenn").ended(0)
    assert "proofgen handed-over fenn --not" in told.out
    told = run(shop, "handed-over", "fenn", "--not").ended(0)
    assert "the records keep both" in told.out and "handed-over fenn" in told.out
    assert state(shop, "fenn")["state"] == "pressed" and stock(shop)[0] == 6
    run(shop, "handed-over", "fenn").ended(0)
    kinds = [e.kind for e in Records(shop / "records").events("fenn")]
    assert kinds.count(EventKind.HANDED_OVER) == 2
    run(shop, "records", "verify").ended(0)


def test_the_step_knows_the_sheets_and_what_was_spoiled(shop):
    assert state(shop, "fenn")["next"].startswith("Print its sheets and press; then:")
    run(shop, *SPOILED).ended(0)
    said = state(shop, "fenn")["next"]
    assert said.startswith("Pieces 2 and 5 were spoiled; press them again, unless you did. Print")
    for path in (shop / "workroom" / "press").glob("*sheets*"):
        path.unlink()
    assert "Make the press sheets" in state(shop, "fenn")["next"]
    run(shop, "press", "fenn", "--done").ended(0)
    assert "spoiled" not in state(shop, "fenn")["next"]


def test_forgetting_asks_whatever_the_state(shop, monkeypatch):
    told = run(shop, "forget", "quill").ended(2)
    assert "for good: its photos, words, proofs" in told.err
    assert "Where it stands: its proof is not answered yet" in told.err
    assert "proofgen forget quill --sure quill" in told.err
    asked = []
    monkeypatch.setattr("proofgen.cli.running.ask", lambda: lambda q: asked.append(q) or "fenn")
    run(shop, "forget", "quill").ended(2)
    assert asked == ["To forget quill, type its name:"]
    assert state(shop, "quill")["state"] == "ready"
    monkeypatch.setattr("proofgen.cli.running.ask", lambda: lambda q: "quill")
    write(shop / "words" / "names.txt", "Quill\n")
    one = id_of(shop, "quill")
    told = run(shop, "forget", "quill").ended(0)
    assert f"In the records, and so in the list of orders, it is {one} from now on." in told.out
    assert "words/names.txt has “Quill” of the customer’s name" in told.out
    monkeypatch.undo()
    run(shop, "forget", one).ended(0)  # it is gone already


@pytest.mark.parametrize("command", ["forget", "withdraw"])
def test_what_is_signed_and_not_pressed_is_named_twice(shop, command):
    told = run(shop, command, "fenn").ended(2)
    assert f"proofgen {command} fenn --sure fenn" in told.err
    run(shop, command, "fenn", "--sure", "quill").ended(2)
    assert state(shop, "fenn")["state"] == "signed"
    run(shop, command, "quill").ended(2 if command == "forget" else 0)  # nobody signed it
    known_as = id_of(shop, "fenn") if command == "forget" else "fenn"
    run(shop, command, "fenn", "--sure", "fenn").ended(0)
    assert state(shop, known_as)["state"] in ("forgotten", "withdrawn")


@pytest.mark.parametrize("command", ["forget", "withdraw"])
def test_what_must_go_at_the_host_is_said_until_it_is_noted(shop, command):
    page = next(iter(Path(state(shop, "quill")["link"].rstrip("/")).parts[-1:]))
    known_as = id_of(shop, "quill") if command == "forget" else "quill"
    run(shop, command, "quill", "--sure", "quill").ended(0)
    for _ in range(2):
        assert f"site/p/{page}/" in run(shop, "orders").out
        assert f"proofgen orders --cleared {known_as}" in run(shop, "build").out
    assert state(shop, known_as)["clear"] == f"site/p/{page}/"
    run(shop, "orders", "--cleared", "fenn").ended(4)
    run(shop, "orders", "--cleared", known_as).ended(0)
    assert "--cleared" not in run(shop, "build").out
    assert state(shop, known_as)["clear"] == ""
    run(shop, "orders", "--cleared", known_as).ended(4)
    run(shop, "records", "verify").ended(0)


def test_what_is_not_known_is_never_nothing(shop):
    (shop / "blanks" / "coaster-round.yaml").unlink()
    write(shop / "shop.yaml", (shop / "shop.yaml").read_text().replace(RATES, ""))
    run(shop, "press", "fenn", "--done").ended(0)
    document = tally(shop)
    line = document["lines"][0]
    assert [line[k] for k in ("blanks", "paper", "time", "cost")] == [None] * 4
    assert set(line["lacks"]) == {
        "add cost: to blanks/coaster-round.yaml",
        "add rates: {sheet: {A4: …}} to shop.yaml",
        "add rates: {minute: …} to shop.yaml",
    }
    assert document["total"]["cost"] is None
    told = run(shop, "orders", "--tally").ended(0).out
    assert "Not known for fenn, quill: add cost: to blanks/coaster-round.yaml." in told
    assert "how many are there is not known" in told.replace("\n", " ").replace("    ", "")


def test_a_new_count_begins_anew(shop):
    run(shop, "press", "fenn", "--done").ended(0)
    assert stock(shop) == (6, 18, 0)
    path = shop / "blanks" / "coaster-round.yaml"
    write(path, "stock: {white: 3, counted: 2026-11-26}\n")
    assert stock(shop) == (0, 3, 1)  # quill needs 4
    warned = run(shop, "check", "quill").out
    assert "needs 4 of Round coaster, white" in warned and "Order 1 more" in warned
    write(path, "stock: {white: 9}\n")  # of no day: all that was ever recorded is taken off
    assert stock(shop) == (6, 3, 1)


def test_a_count_in_the_evening_is_of_that_moment_and_of_that_cloth(shop):
    run(shop, "press", "fenn", "--done").ended(0)
    path = shop / "blanks" / "coaster-round.yaml"
    write(path, "# ours\ncost: 0.80\nstock: {white: 24, counted: 2026-11-25}\n")
    assert stock(shop) == (6, 18, 0)  # by hand, a day is that morning
    told = run(shop, "blanks", "coaster-round", "--count", "white=40").ended(0).out
    assert "white: 40 counted on 2026-11-25 at 12:00:00" in told
    kept = path.read_text("utf-8")
    assert kept.startswith("# ours\ncost: 0.80\n") and "counted: 2026-11-25}" in kept
    assert stock(shop) == (0, 40, 0)
    said = run(shop, "orders", "--tally").ended(0).out
    assert "coaster-round, white: 40 counted on 2026-11-25 at 12:00:00" in said
    shop_yaml = shop / "shop.yaml"
    write(shop_yaml, shop_yaml.read_text("utf-8").replace("2026-11-25", "2026-11-26"))
    run(shop, *SPOILED).ended(0)
    assert stock(shop)[:2] == (2, 38)
    for typed in ("whit=3", "white=", "white=-3", "40"):
        refused = run(shop, "blanks", "coaster-round", "--count", typed).ended(2)
        assert "white=40" in refused.err, typed
    run(shop, "blanks", "--count", "white=3").ended(2)
    path.unlink()  # of a blank that comes with the tool a line is enough
    run(shop, "blanks", "coaster-round", "--count", "white=7").ended(0)
    assert path.read_text("utf-8").count("\n") == 1 and stock(shop)[:2] == (0, 7)


# -- killed ------------------------------------------------------------------------------------

WALK = (
    SPOILED,
    (*SPOILED, "--times", "2"),
    ("press", "fenn", "--done"),
    ("press", "fenn", "--not-done"),
    ("press", "fenn", "--done"),
    ("handed-over", "fenn"),
)


def _killing(at: int) -> Callable[..., Any]:
    """Wraps a write so that the process is killed before the one of this number, counted from 1."""
    left = at

    def before(work: Callable[..., Any]) -> Callable[..., Any]:
        def counted(*given: Any, **more: Any) -> Any:
            nonlocal left
            left -= 1
            if left == 0:
                os.kill(os.getpid(), signal.SIGKILL)
            return work(*given, **more)

        return counted

    return before


def _survived(shop: Path, command: tuple[str, ...], at: int) -> bool:
    """Whether a process told that a command is done before it was killed."""
    reads, tells = os.pipe()
    child = os.fork()
    if child == 0:
        kill = _killing(at)
        for name in ("write", "remove", "append_line", "saved"):
            setattr(store, name, kill(getattr(store, name)))
        run(shop, *command)
        os.write(tells, b".")
        os._exit(0)
    os.close(tells)
    with os.fdopen(reads, "rb") as told:
        done = told.read()
    os.waitpid(child, 0)
    return bool(done)


@pytest.mark.skipif(not hasattr(os, "fork"), reason="no fork on this system")
def test_killed_between_any_two_writes_nothing_is_counted_twice(shop, tmp_path):
    points = 0
    for number, command in enumerate(WALK):
        for at in range(1, 200):
            copy = Path(shutil.copytree(shop, tmp_path / "killed"))
            if survived := _survived(copy, command, at):
                shutil.rmtree(shop)
                copy.rename(shop)  # for the next command
                break
            points += 1
            run(copy, "records", "verify").ended(0)
            for again in WALK[number:]:  # typed again, from the one that told nothing
                assert run(copy, *again).code in (0, 4), again
            assert state(copy, "fenn")["state"] == "handed over"
            every = used(Records(copy / "records"))
            blanks = [(u.kind, line["blanks"]) for u in every for line in u.tally["lines"]]
            assert sorted(blanks) == [("pressed", 6), ("spoiled", 2), ("spoiled", 2)], at
            run(copy, "records", "verify").ended(0)
            shutil.rmtree(copy)
        assert survived, command
    assert points >= 20
