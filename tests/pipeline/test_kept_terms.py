"""What an edition's customer was told stays as it was: page, PDF and letter are never set again
with other prices, days or words; what differs is told, and goes out with a new edition only."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path

import pytest

from proofgen.proof import without_standing
from proofgen.signoff import Records
from proofgen.signoff.asked import ASKED_HEAD, mark_of
from proofgen.signoff.order_slip import slips_in
from tests.cli.small import files, make_shop, page, run, state, write
from tests.order_slips import order_slip

# What is changed after the sign-off: file, from, to, and how `orders` tells it.
CHANGES = {
    "the price": (
        "designs/tag/design.md",
        "{1: 13.00, 10: 4.00}",
        "{1: 99.00, 10: 4.00}",
        ["price was €13.00, is €99.00", "total was €78.00, is €594.00"],
    ),
    "the day": (
        "orders/fenn/order.yaml",
        "2026-12-20",
        "2026-12-21",
        ["day was 20 December 2026, is 21 December 2026"],
    ),
    "the house words": (
        "words/proof.md",
        "You may cancel until it is pressed.",
        "No order can be cancelled.",
        ["your words about the order (words/proof.md) are others"],
    ),
    "a design's title": (
        "designs/tag/design.md",
        "Plain tag",
        "Plainer tag",
        ["name of the design was “Plain tag”, is “Plainer tag”"],
    ),
    "a slot's label": (
        "designs/tag/design.md",
        "sample:",
        "labels: {name: Whose}\nsample:",
        ["what its places for words are called is other"],
    ),
    "the customer": (
        "orders/fenn/order.yaml",
        "name: Odalys Fenn",
        "name: Odalys Finn",
        ["name of the customer was “Odalys Fenn”, is “Odalys Finn”"],
    ),
    "the shop's name": (
        "shop.yaml",
        "Puffin Yard",
        "Puffin Yards",
        ["name of the shop was “Puffin Yard”, is “Puffin Yards”"],
    ),
    "the address for answers": (
        "shop.yaml",
        "hello@puffinyard",
        "hullo@puffinyard",
        ["address for answers was “hello@puffinyard.example”, is “hullo@puffinyard.example”"],
    ),
}


def change(shop: Path, name: str, old: str, new: str) -> None:
    path = shop / name
    text = path.read_text("utf-8")
    assert old in text, f"{name} does not say {old}"
    path.write_text(text.replace(old, new), "utf-8")


def shown(shop: Path) -> dict[str, bytes]:
    """All that a customer has or may be sent of a proof: page, pictures, PDF, letter; without the
    line at the page's top that says how the order stands."""
    letters = {
        f"letter {name}": content
        for name, content in files(shop / "workroom" / "letters").items()
        if "receipt" not in name
    }
    pages = files(shop / "site" / "p")
    return {**{name: without_standing(content) for name, content in pages.items()}, **letters}


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """An order of six at 13 euros, its proof made and not sent."""
    made = make_shop(tmp_path / "shop", "fenn")
    change(made, "orders/fenn/order.yaml", "quantity: 2", "quantity: 6")
    change(made, "designs/tag/design.md", "{1: 5.00, ", "{1: 13.00, ")
    write(made / "words" / "proof.md", "You may cancel until it is pressed.\n")
    run(made, "proof", "fenn").ended(0)
    assert "€78.00" in page(made, "fenn") and "You may cancel" in page(made, "fenn")
    return made


@pytest.fixture
def signed(shop: Path) -> Path:
    run(shop, "letter", "fenn", "--sent").ended(0)
    run(shop, "answer", "fenn", "--in-person", "Odalys Fenn").ended(0)
    assert state(shop, "fenn")["state"] == "signed"
    run(shop, "-q", "build").ended(0)  # the page may say how the order stands
    return shop


def test_nothing_new_sets_no_page(shop):
    before = files(shop / "site")
    lines = (shop / "records" / "journal.jsonl").read_text().count("\n")
    run(shop, "-q", "build").ended(0)
    assert files(shop / "site") == before
    assert run(shop, "proof").ended(0).out.count("set again") == 0
    assert (shop / "records" / "journal.jsonl").read_text().count("\n") == lines


@pytest.mark.parametrize("what", CHANGES)
def test_what_was_signed_stays_as_signed(signed, what):
    name, old, new, told = CHANGES[what]
    before = shown(signed)
    change(signed, name, old, new)
    run(signed, "-q", "build").ended(0)
    run(signed, "proof").ended(0)
    assert shown(signed) == before, "page, PDF and letter are as the customer has them"
    row = state(signed, "fenn")
    assert row["state"] == "signed" and row["told"] == told and row["why"] == []
    for command in ("orders", "check"):
        said = " ".join(run(signed, command).ended(0).out.split())
        for one in told:
            assert f"Since proof 1: {one}." in said, command
        assert "a new proof only: proofgen proof fenn" in said


def test_it_goes_out_with_a_new_edition(signed):
    change(signed, *CHANGES["the price"][:3])
    told = run(signed, "proof", "fenn").ended(0)
    assert "proof 2" in told.out and "€594.00" in page(signed, "fenn")
    row = state(signed, "fenn")
    assert row["edition"] == 2 and row["state"] == "ready" and row["told"] == []


def test_not_sent_yet_it_goes_out_by_itself(shop):
    change(shop, *CHANGES["the price"][:3])
    run(shop, "-q", "build").ended(0)
    assert state(shop, "fenn")["edition"] == 2 and "€594.00" in page(shop, "fenn")


def slip_beside_it(shop: Path) -> None:
    """As if the order had been taken from a slip."""
    text = order_slip(design="tag", words={"name": "Odalyss & Bram"}, photos=None)
    (slip,) = slips_in(text)
    assert slip
    write(shop / "orders" / "fenn" / "asked.txt", f"{ASKED_HEAD} {mark_of(slip)}\n\n{text}")


def test_what_was_ordered_stands_beside_it_and_is_no_part_of_what_is_signed(signed):
    before = shown(signed)
    slip_beside_it(signed)
    run(signed, "-q", "build").ended(0)
    run(signed, "proof").ended(0)
    assert shown(signed) == before and state(signed, "fenn")["state"] == "signed"
    change(signed, *CHANGES["the day"][:3])
    run(signed, "proof", "fenn").ended(0)
    first, second = Records(signed / "records").editions("fenn")
    assert first.fingerprint == second.fingerprint
    assert second.terms and "ordered" in second.terms
    said = page(signed, "fenn")
    assert "What you ordered on 25 November 2026" in said and "Odalyss &amp; Bram" in said
    assert "Please wrap them as gifts." in said
    shown_then = shown(signed)
    run(signed, "letter", "fenn", "--sent").ended(0)  # else what no longer differs is proved anew
    (signed / "orders" / "fenn" / "asked.txt").unlink()
    shutil.rmtree(signed / "site")
    shutil.rmtree(signed / "workroom")
    run(signed, "-q", "build").ended(0)
    assert page(signed, "fenn") and "Odalyss &amp; Bram" in page(signed, "fenn")
    assert without_their_day(shown(signed)).keys() <= shown_then.keys()


def without_their_day(files: dict[str, bytes]) -> dict[str, bytes]:
    """A letter that is written again says how far the records are now (and the marks between the
    parts of a mail hang on what is in them)."""
    code = re.compile(rb"[0-9a-f]{5}\.[0-9a-f]{5}\.[0-9a-f]{5}|=\d=[0-9a-f]{24}=")
    letters = {name for name in files if name.startswith("letter ")}
    assert all(code.search(files[name]) for name in letters)
    return {name: code.sub(b"", had) if name in letters else had for name, had in files.items()}


def test_what_is_lost_is_set_again_from_what_is_kept(signed):
    before = shown(signed)
    for what in CHANGES:
        change(signed, *CHANGES[what][:3])
    shutil.rmtree(signed / "site")
    shutil.rmtree(signed / "workroom")
    run(signed, "-q", "build").ended(0)
    after = shown(signed)
    assert without_their_day(after) == without_their_day(before)
    assert state(signed, "fenn")["state"] == "signed"


TWIN = """\
name: {0}
called: Round tag
construction: flat
shape: round
diameter: {1} mm
bleed: 3 mm
safe: 4 mm
cloth: {{finish: smooth, polyester: 100 %, colours: {{white: "#ffffff"}}}}
press: {{heat: 200 C, time: 60 s, pressure: medium}}
"""


def test_a_twin_offered_later_renames_nothing_that_was_signed(tmp_path):
    """Two blanks of one name are told apart by their sizes, on all that comes from then on."""
    shop = make_shop(tmp_path / "shop", "fenn")
    write(shop / "blanks" / "first.yaml", TWIN.format("First", 95))
    write(shop / "blanks" / "second.yaml", TWIN.format("Second", 80))
    change(shop, "designs/tag/design.md", "coaster-round: ", "first: ")
    change(shop, "orders/fenn/order.yaml", "coaster-round", "first")
    run(shop, "proof", "fenn").ended(0)
    run(shop, "letter", "fenn", "--sent").ended(0)
    run(shop, "answer", "fenn", "--in-person", "Odalys Fenn").ended(0)
    run(shop, "-q", "build").ended(0)
    before = shown(shop)
    assert "Round tag" in page(shop, "fenn") and "95 mm" not in page(shop, "fenn")
    change(shop, "designs/tag/design.md", "pouch-flat: 9.00", "second: 9.00")
    shutil.rmtree(shop / "site")
    shutil.rmtree(shop / "workroom")
    run(shop, "-q", "build").ended(0)
    assert without_their_day(shown(shop)) == without_their_day(before)
    row = state(shop, "fenn")
    assert row["state"] == "signed" and row["why"] == []
    assert row["told"] == ["name of the blank was “Round tag”, is “Round tag, 95\xa0mm”"]


def test_a_spoiled_page_is_put_back(signed):
    before = shown(signed)
    folder = next(p for p in (signed / "site" / "p").iterdir() if p.is_dir())
    (folder / "index.html").write_text("spoiled", "utf-8")
    run(signed, "-q", "build").ended(0)
    assert shown(signed) == before


def test_the_terms_are_part_of_the_chain(signed):
    run(signed, "records", "verify").ended(0)
    (kept,) = (signed / "records" / "fenn").glob("terms-*.json")
    terms = json.loads(kept.read_text("utf-8"))
    assert terms["schema"] == "proofgen/terms/1" and terms["total"] == "78.00"
    kept.write_text(kept.read_text("utf-8").replace("78.00", "79.00"), "utf-8")
    told = run(signed, "records", "verify").ended(3)
    assert "terms" in told.out and "altered" in told.out
    assert run(signed, "press", "fenn").code != 0


class Killed(BaseException):
    """Stands for the end of the process."""


def test_the_page_is_noted_after_its_files(tmp_path, monkeypatch):
    """Killed between the two, the next run sets it again, the same, and notes it then."""
    made = make_shop(tmp_path / "shop", "fenn")

    def killed(*_: object) -> None:
        raise Killed

    with monkeypatch.context() as moment:
        moment.setattr(Records, "mark_shown", killed)
        with pytest.raises(Killed):
            run(made, "proof", "fenn")
    before = shown(made)
    assert any(name.endswith("index.html") for name in before)
    assert not Records(made / "records").shown("fenn")
    run(made, "answer", "fenn", "--in-person", "Odalys Fenn").ended(0)
    change(made, "designs/tag/design.md", "{1: 5.00, ", "{1: 99.00, ")
    run(made, "-q", "build").ended(0)
    after = shown(made)
    assert {name: after[name] for name in before} == before
    assert "€10.00" in page(made, "fenn") and "€198.00" not in page(made, "fenn")
    assert Records(made / "records").shown("fenn")
    run(made, "records", "verify").ended(0)


def test_an_edition_older_than_terms_is_left_alone(tmp_path, monkeypatch):
    """Nobody knows what it said, so a page that is there stays, and nothing false is told."""
    true_one = Records.new_edition
    made = make_shop(tmp_path / "shop", "fenn")
    with monkeypatch.context() as old:
        old.setattr(
            Records,
            "new_edition",
            lambda *given, **over: true_one(*given, **{**over, "terms": None}),
        )
        old.setattr(Records, "mark_shown", lambda *_: None)
        run(made, "proof", "fenn").ended(0)
        run(made, "answer", "fenn", "--in-person", "Odalys Fenn").ended(0)
        run(made, "-q", "build").ended(0)
    assert not list((made / "records" / "fenn").glob("terms-*"))
    before = shown(made)
    change(made, "designs/tag/design.md", "{1: 5.00, ", "{1: 99.00, ")
    change(made, "orders/fenn/order.yaml", "2026-12-20", "2026-12-21")
    run(made, "-q", "build").ended(0)
    assert shown(made) == before
    row = state(made, "fenn")
    assert row["state"] == "signed" and row["told"] == [] and row["since"] == []
    run(made, "records", "verify").ended(0)
    shutil.rmtree(made / "site")
    told = run(made, "-q", "build", "--explain").ended(0)
    assert "older than prices are kept" in told.out and "€198.00" in page(made, "fenn")
