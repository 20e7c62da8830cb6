"""What stopped somebody who used it for the first time; each sentence's cure, followed, works."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from PIL import features

from proofgen.desk.questions import means_no, means_yes
from proofgen.shop import read_shop
from proofgen.units import parse_length
from tests.cli import small
from tests.cli.small import DESIGNS, code_seen, order_text, page, paint, run, write

HOUSE = Path(__file__).parents[2]
TAG = ("--design", "tag", "--blank", "coaster-round", "--cloth", "white")


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("10 7/8 in", 10.875),
        ('9 1/2"', 9.5),
        ("9-1/2 inches", 9.5),
        ("9½ in", 9.5),
        ("7/8 inch", 0.875),
        ("9.5″", 9.5),
        ("3/4”", 0.75),
    ],
)
def test_a_tape_is_read_as_it_stands(text, inches):
    assert parse_length(text) == pytest.approx(inches * 25.4, abs=1e-9)


@pytest.mark.parametrize("text", ["1/0 in", "10 7/8", "1 2 3/4 in", "/2 in", "1/2 apples"])
def test_what_is_no_length_shows_how_a_tape_is_written(text):
    with pytest.raises(ValueError, match=r"9 1/2 in"):
        parse_length(text)


def test_a_spreadsheets_capital_names_the_column(shop, tmp_path):
    """“Name” is name; and what the customer wants otherwise is written into that column."""
    guests = write(tmp_path / "g.csv", "Guest,Seat\nImke,4\nZoë,5\n")
    run(
        shop, "order", "--customer", "Imke", "--design", "place", "--cloth", "white",
        "--list", guests, "--words", "couple=I & J", "--words", "day=June",
    ).ended(0)  # fmt: skip
    (first, second) = read_shop(shop).orders["imke"].lines[0].pieces
    assert (first.words["guest"], second.words["guest"]) == ("Imke", "Zoë")
    assert first.more == {"Seat": "4"}


def design(shop: Path, offered: str) -> None:
    text = DESIGNS["tag"].replace("{coaster-round: {1: 5.00, 10: 4.00}, pouch-flat: 9.00}", offered)
    assert offered in text
    write(shop / "designs" / "tag" / "design.md", text)


def test_a_comma_in_a_price_is_told(shop):
    design(shop, "{coaster-round: {1: 14,50}}")
    told = run(shop, "check").ended(3).err
    assert "a comma parts two prices" in told and "{1: 14.50, 10: 12.00}" in told
    design(shop, "{coaster-round: {1: 14.50, 10: 12.00}}")
    run(shop, "check").ended(0)


def test_a_price_that_rises_with_the_number_is_told(shop):
    design(shop, "{coaster-round: {1: 12.00, 6: 72.00}}")
    told = run(shop, "check").ended(3).err
    assert "from 6 up each piece is dearer (72.00) than from 1 up (12.00)" in told
    assert "the price of one piece" in told


def test_a_blank_that_is_not_offered_says_where_to_offer_it(shop):
    told = run(
        shop, "order", "--customer", "Jo", "--design", "snap", "--blank", "pouch-flat"
    ).ended(2)
    line = "add it in designs/snap/design.md under offered:  pouch-flat: 14.50 (your price)"
    assert line in told.err and "choose one of: coaster-round" in told.err
    text = (shop / "designs" / "snap" / "design.md").read_text("utf-8")
    offered = "{coaster-round: 6.00, pouch-flat: 14.50}"
    write(shop / "designs/snap/design.md", text.replace("{coaster-round: 6.00}", offered))
    photo = paint(shop.parent / "a.jpg")
    run(
        shop, "order", "--customer", "Jo", "--design", "snap", "--blank", "pouch-flat",
        "--cloth", "natural", "--photo", photo,
    ).ended(0)  # fmt: skip
    # The same where the order was written by hand.
    bad = order_text(design="tag").replace("coaster-round", "can-fold")
    write(shop / "orders" / "fenn" / "order.yaml", bad)
    told = run(shop, "check", "fenn").out
    assert re.search(r"designs/tag/design\.md,\s+under offered:", told)


def test_a_photo_with_too_few_pixels_is_printed_as_small_as_is_advised(shop, tmp_path):
    """The advice, written as it stands, opens the way to a proof; what was signed before is told
    to be of another size."""
    photo = paint(tmp_path / "a.jpg", 320)
    run(
        shop, "order", "--customer", "Jo", "--design", "snap", "--cloth", "white",
        "--quantity", "1", "--photo", photo,
    ).ended(0)  # fmt: skip
    told = " ".join(run(shop, "check", "jo").ended(1).out.split())
    size = re.search(r"as (photo: \{file: photos/a\.jpg, size: (\d+) mm\})", told)
    assert size, told
    file = shop / "orders" / "jo" / "order.yaml"
    text = file.read_text("utf-8")
    small = re.sub(r"\"photo\": \{.*\}", size[1], text)
    assert small != text
    write(file, small)
    run(shop, "check", "jo", "--fail-on", "stop").ended(0)
    run(shop, "proof", "jo").ended(0)
    text = file.read_text("utf-8")
    assert f"size: {size[2]} mm" in text and "focus" in text
    write(file, text.replace(f"size: {size[2]} mm", "size: 20 mm"))
    run(shop, "proof", "jo").ended(0)
    assert "another place or size" in page(shop, "jo")


def test_a_size_as_an_option_and_one_that_its_place_does_not_hold(shop, tmp_path):
    photo = paint(tmp_path / "a.jpg", 1600)
    start = ("order", "--design", "snap", "--cloth", "white", "--quantity", "1", "--photo", photo)
    run(shop, *start, "--customer", "Jo", "--size", "2 in").ended(0)
    assert read_shop(shop).orders["jo"].lines[0].photos["photo"].size_mm == (50.8, None)
    assert "asked for" not in run(shop, "check", "jo").out
    run(shop, *start, "--customer", "Bo", "--size", "300mm").ended(0)
    assert "300 mm of width asked for" in run(shop, "check", "bo").out
    assert (
        "write it like 80mm" in run(shop, *start, "--customer", "Di", "--size", "big").ended(2).err
    )


def test_a_slot_is_called_a_place_and_a_line_an_entry(shop):
    text = order_text(design="snap").replace("photos: {photo:", "photos: {pic:")
    write(shop / "orders" / "fenn" / "order.yaml", text)
    told = run(shop, "check", "fenn").ended(3).err
    assert "no place (slot) for a photo called “pic”" in told
    assert "Its places for a photo: photo" in told
    write(shop / "orders" / "fenn" / "order.yaml", order_text().replace("cloth:", "clot:"))
    assert "entry 1 below lines:" in run(shop, "check", "fenn").ended(3).err


@pytest.mark.parametrize(
    ("wrong", "cure"),
    [
        (("due: 2026-12-20", "due: “2026-12-20”"), 'write straight ones: "2026-12-20"'),
        (("design: tag", "design: “tag”"), "write it without them: tag"),
        (("quantity: 2", "quantity: „2“"), 'write straight ones: "2"'),
    ],
)
def test_turned_quotation_marks_are_told(shop, wrong, cure):
    file = shop / "orders" / "fenn" / "order.yaml"
    write(file, order_text().replace(*wrong))
    told = run(shop, "check", "fenn").ended(3).err
    assert "stands in turned quotation marks" in told and cure in told
    right = cure.rpartition(": ")[2]
    write(file, order_text().replace(wrong[0], f"{wrong[0].partition(': ')[0]}: {right}"))
    run(shop, "check", "fenn").ended(0)


def test_press_says_that_what_is_signed_is_pressed(shop):
    assert "No order is signed" in run(shop, "press").ended(0).out
    run(shop, "proof", "fenn").ended(0)
    run(shop, "answer", code_seen(shop, "ok")).ended(0)
    run(shop, "press", "fenn").ended(0)
    run(shop, "press", "fenn", "--done").ended(0)
    told = run(shop, "press").ended(0).out
    assert "What is signed is pressed already: fenn." in told
    assert "proofgen press ORDER --again" in told
    run(shop, "press", "fenn", "--again").ended(0)


def test_an_answer_in_person_says_what_it_stands_for(shop):
    run(shop, "proof", "fenn").ended(0)
    told = run(shop, "answer", "fenn", "--in-person", "Odalys").ended(0).out
    assert "This stands for your word" in told and "Odalys saw this very proof" in told


@pytest.mark.parametrize("part", ["site", "workroom", "records", "orders"])
def test_a_backup_in_what_is_not_there_yet_is_refused_too(shop, part):
    told = run(shop, "backup", shop / part / "b.zip").ended(2).err
    assert f"must not lie in {part}/" in told and not (shop / part / "b.zip").exists()


def test_five_slips_lose_no_answer_of_an_order(shop, monkeypatch):
    """The sixth question's slips end it; the same again takes what was answered before."""
    monkeypatch.setattr(small._Pipe, "isatty", lambda _: True)
    begun = ["Zoë O’Neil", "zoe@oneil.example", "2026-12-12", "tag", "coaster-round", "whit"]
    told = run(shop, "order", typed="\n".join([*begun, *["grene"] * 8]) + "\n").ended(2)
    assert "what you answered is kept" in told.err
    draft = shop / "workroom" / "drafts" / "order.json"
    assert "zoe@oneil.example" in json.loads(draft.read_text("utf-8")).values()
    typed = ["", *[""] * 5, "white", "1", "Zoë"]
    told = run(shop, "order", typed="\n".join(typed) + "\n").ended(0)
    assert "You began this before and stopped (Zoë O’Neil, " in told.err
    order = read_shop(shop).orders["zoe-oneil"]
    assert (order.customer.email, str(order.due)) == ("zoe@oneil.example", "2026-12-12")
    assert order.lines[0].words == {"name": "Zoë"} and not draft.exists()


def test_another_order_begins_without_the_answers_of_the_last(shop, monkeypatch):
    monkeypatch.setattr(small._Pipe, "isatty", lambda _: True)
    run(shop, "order", typed="Zoë\nzoe@oneil.example\n\nnone\n").ended(2)
    typed = ["no", "Jo", "", "", "tag", "coaster-round", "white", "1", "Jo"]
    told = run(shop, "order", typed="\n".join(typed) + "\n").ended(0)
    assert "as before" not in told.err
    assert read_shop(shop).orders["jo"].customer.email == ""


def test_an_order_keeps_the_language_of_its_proof(shop):
    """The shop turns to another language: what is new follows, what is open does not."""
    run(shop, "proof", "fenn").ended(0)
    settings = (shop / "shop.yaml").read_text("utf-8")
    write(shop / "shop.yaml", settings.replace("language: en", "language: de"))
    assert small.state(shop, "fenn")["told"] == []
    write(shop / "orders" / "fenn" / "order.yaml", order_text("Odalys & Bo"))
    run(shop, "proof").ended(0)
    assert '<html lang="en"' in small.page(shop, "fenn")
    assert '<html lang="de"' in small.page(shop, "quill")


def test_the_catalogue_tells_the_sample_that_it_lacks(tmp_path):
    shop = small.make_shop(tmp_path / "shop", "fenn", season=True)
    write(shop / "seasons" / "winter.md", small.SEASON.replace("[tag]", "[tag, snap]"))
    line = "in designs/snap/design.md add to sample:  photos: {photo: FILE}"
    assert line in run(shop, "catalogue").ended(0).out
    assert line not in run(shop, "check").ended(0).err, "which is about orders"
    paint(shop / "designs" / "snap" / "mine.jpg")
    text = (shop / "designs" / "snap" / "design.md").read_text("utf-8")
    sample = "sample:\n  photos: {photo: mine.jpg}\n---\nA photo"
    write(shop / "designs" / "snap" / "design.md", text.replace("---\nA photo", sample))
    assert line not in run(shop, "catalogue").ended(0).out


@pytest.mark.parametrize("typed", ["y", "Yes", "j", "Ja", "sí", " نعم "])
def test_a_plain_yes_is_one_in_the_makers_own_language(typed):
    assert means_yes(typed) and not means_no(typed)
    assert means_no("Nein") and not means_yes("") and not means_yes("yesterday")


def test_a_design_that_cannot_be_shown_keeps_its_page(tmp_path, monkeypatch):
    """A slip in one leaves its page and the pictures on it; where none can be shown, for a slip or
    a library that is missing, no empty catalogue is published."""
    shop = small.make_shop(tmp_path / "shop", season=True)
    write(shop / "seasons" / "winter.md", small.SEASON.replace("[tag]", "[tag, place]"))
    run(shop, "catalogue").ended(0)
    before = small.files(shop / "site")
    file = shop / "designs" / "tag" / "design.md"
    text = file.read_text("utf-8")
    write(file, text.replace("size: 9 mm", "size: nine"))
    told = run(shop, "catalogue").ended(3)
    assert "(1 design)" in told.out and "tag cannot be shown now; its page stays" in told.out
    after = small.files(shop / "site")
    page_ = after["designs/tag.html"]
    assert page_ == before["designs/tag.html"]
    shown = re.findall(r"pictures/[\w.-]+", page_.decode())
    assert shown and set(shown) <= set(after)
    write(shop / "designs" / "place" / "design.md", "---\ntitle: \n---\n")
    told = run(shop, "catalogue").ended(3)
    assert "the catalogue stays as it was" in told.out and "0 designs" not in told.out
    assert small.files(shop / "site") == after
    write(file, text)
    write(shop / "designs" / "place" / "design.md", small.DESIGNS["place"])
    run(shop, "catalogue").ended(0)
    whole = small.files(shop / "site")
    monkeypatch.setattr(features, "check", lambda _: False)
    shutil.rmtree(shop / "workroom" / "store")
    write(file, text.replace("9 mm", "8 mm"))
    told = run(shop, "catalogue").ended(5)
    assert "the catalogue stays as it was" in told.out and small.files(shop / "site") == whole


@pytest.mark.parametrize("page_", ["cp437", "cp1252", "ascii"])
def test_a_code_page_of_the_terminal_breaks_no_sentence(shop, page_):
    """What is said is UTF-8 whatever the system's code page is; what is read is judged."""
    env = {**os.environ, "PYTHONPATH": str(HOUSE), "PYTHONIOENCODING": page_, "PYTHONUTF8": "0"}
    told = subprocess.run(
        [sys.executable, "-m", "proofgen", "-q", "orders", "fenn"],
        cwd=shop, env=env, capture_output=True, check=True,
    )  # fmt: skip
    assert "“Odalys & Bram”" in told.stdout.decode("utf-8")
    write(shop / "orders" / "fenn" / "guests.csv", "")
    (shop / "orders" / "fenn" / "guests.csv").write_bytes("name\nZoë\n".encode("cp1252"))
    text = order_text().replace("    quantity: 2\n", "    list: guests.csv\n")
    write(shop / "orders" / "fenn" / "order.yaml", text)
    told = run(shop, "check", "fenn").ended(3).err
    assert "orders/fenn/guests.csv:2" in told and "CSV UTF-8" in told


def test_a_path_of_windows_is_quoted_and_read_as_it_is(shop):
    told = run(shop, "order", "--customer", "Jo", "--design", "snap", "--cloth", "white",
               "--quantity", "1", "--photo", r"C:\My photos\the pier.jpg").ended(2).err  # fmt: skip
    assert r"there is no file “C:\My photos\the pier.jpg”" in told
