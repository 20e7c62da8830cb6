"""`order`: from options, from questions in a terminal, and from another order."""

from __future__ import annotations

import os
import select
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from PIL import Image

from proofgen.shop import read_shop
from tests.cli.small import make_shop, order_text, paint, run, state, write

pty = pytest.importorskip("pty", reason="no terminals to play with on this system")
HOUSE = Path(__file__).parents[2]
TAG = ("--design", "tag", "--blank", "coaster-round", "--cloth", "white")


def order_of(shop: Path, name: str):
    found = read_shop(shop)
    assert found.faults == ()
    return found.orders[name]


def test_words_in_one_slot(shop):
    told = run(
        shop, "order", "--customer", "Åsa Lind", *TAG, "--words", "Åsa", "--quantity", "3",
        "--email", "asa@lind.example", "--due", "2026-12-12", "--language", "de",
    ).ended(0)  # fmt: skip
    assert "orders/asa-lind" in told.out and "proofgen check asa-lind" in told.out
    order = order_of(shop, "asa-lind")
    assert order.customer.name == "Åsa Lind" and order.customer.email == "asa@lind.example"
    assert order.customer.language == "de"
    assert str(order.due) == "2026-12-12"
    assert order.lines[0].words == {"name": "Åsa"} and order.lines[0].quantity == 3
    run(shop, "check", "asa-lind").ended(0)


def test_photo(shop, tmp_path):
    photo = paint(tmp_path / "My Pier (2).JPG", format="JPEG")
    run(
        shop, "order", "--customer", "Jo", "--design", "snap", "--cloth", "white",
        "--photo", photo, "--quantity", "1",
    ).ended(0)  # fmt: skip
    use = order_of(shop, "jo").lines[0].photos["photo"]
    assert use.file == shop / "orders" / "jo" / "photos" / "my-pier-2.jpg"
    assert use.file.read_bytes() == photo.read_bytes()
    run(shop, "proof", "jo").ended(0)


def test_guest_list_with_words_by_slot(shop, tmp_path):
    guests = write(tmp_path / "list of all.csv", "guest\nImke\nD’Arcy\nZoë\n")
    run(
        shop, "order", "--customer", "Imke", "--design", "place", "--cloth", "white",
        "--list", guests, "--words", "couple=Imke & Jos", "--words", "day=June 2027",
    ).ended(0)  # fmt: skip
    line = order_of(shop, "imke").lines[0]
    assert [dict(p.words)["guest"] for p in line.pieces] == ["Imke", "D’Arcy", "Zoë"]
    assert line.words == {"couple": "Imke & Jos", "day": "June 2027"}
    run(shop, "proof", "imke").ended(0)
    assert state(shop, "imke")["state"] == "ready"


def test_an_order_typed_twice_is_told(shop, tmp_path):
    guests = write(tmp_path / "guests.csv", "guest\nImke\nZoë\n")
    photo = paint(tmp_path / "pier.jpg", format="JPEG")
    listed = (
        "order", "--customer", "Imke", "--design", "place", "--cloth", "white", "--list", guests,
        "--words", "couple=Imke & Jos", "--words", "day=June 2027",
    )  # fmt: skip
    pictured = (
        "order", "--customer", "Jo", "--design", "snap", "--cloth", "white",
        "--photo", photo, "--quantity", "1",
    )  # fmt: skip
    for typed, name in ((listed, "imke"), (pictured, "jo")):
        assert "asks for the same" not in run(shop, *typed).ended(0).out
        told = run(shop, *typed).ended(0).out
        assert f"asks for the same as {name}." in told and f"folder orders/{name}-2;" in told
    write(guests, "guest\nImke\nZoe\n")
    paint(tmp_path / "pier.jpg", 300, format="JPEG")
    for typed in (listed, pictured, (*pictured, "--due", "2027-01-01")):
        assert "asks for the same" not in run(shop, *typed).ended(0).out


HARD = [
    "O'Neil & D’Arcy",
    'Tern "Row": #1 {x: [y]}',
    "NO",
    "12:30",
    "0123",
    "null",
    "=SUM(A1)",
    "- yes",
    "a = b",
    "👩‍👧 Mia",
    "محمد",
    "two\nlines",
    "name=value",
    " C:\\pier ",
    "%",
]


@pytest.mark.parametrize("words", HARD)
def test_words_read_back_as_they_were_given(shop, words):
    name = " ".join(words.split())
    run(
        shop, "order", "--customer", name, *TAG, "--words", f"name={words}", "--name", "hard",
        "--quantity", "1",
    ).ended(0)  # fmt: skip
    order = order_of(shop, "hard")
    assert order.lines[0].words == {"name": words} and order.customer.name == name
    told = run(shop, "check", "hard", "--json")
    assert told.code in (0, 1) and told.document["orders"][0]["order"] == "hard"


@pytest.mark.parametrize(
    ("customer", "words"),
    [("Jo", "\udcff"), ("Jo", "x" * 100_000), ("Jo\x07", "x"), ("Jo\nDoe", "x"), ("\udcff", "x")],
)
def test_what_no_order_can_hold_is_refused(shop, customer, words):
    before = sorted(p.name for p in (shop / "orders").iterdir())
    told = run(shop, "order", "--customer", customer, *TAG, "--words", words).ended(2)
    assert told.err.count("To mend it") == 1
    assert sorted(p.name for p in (shop / "orders").iterdir()) == before


@pytest.mark.parametrize(
    ("given", "option"),
    [
        ([*TAG, "--words", "x"], "--customer"),
        (["--customer", "Jo", *TAG], "--words name="),
        (["--customer", "Jo", *TAG[2:], "--words", "x"], "--design with one of: place, snap, tag"),
        (
            ["--customer", "Jo", "--design", "tag", "--cloth", "white"],
            "--blank with one of: coaster-round, pouch-flat",
        ),
        (["--customer", "Jo", *TAG[:4], "--words", "x"], "--cloth with one of: white"),
        (["--customer", "Jo", "--design", "snap", "--cloth", "white"], "--photo photo=FILE"),
        (
            ["--customer", "Jo", "--design", "snap", "--cloth", "white", "--photo", "nix.jpg"],
            "name",
        ),
        (["--customer", "Jo", *TAG, "--words", "x", "--quantity", "0"], "--quantity"),
        (["--customer", "Jo", *TAG, "--words", "x", "--due", "Friday"], "write it as 20"),
        (["--customer", "Jo", *TAG, "--words", "x", "--due", "2026-11-24"], "is over"),
        (["--customer", "Jo", *TAG, "--words", "x", "--list", "nix.csv"], "name of the list"),
        (["--customer", "Jo", "--design", "tagg"], "did you mean tag?"),
        (["--customer", "Jo", "--design", "place", "--cloth", "white", "--words", "x"], "guest=x"),
        (["--like", "fen"], "did you mean fenn?"),
    ],
)
def test_what_is_missing_is_named_with_its_option(shop, given, option):
    before = sorted(p.name for p in (shop / "orders").iterdir())
    told = run(shop, "order", *given).ended(2)
    assert option in told.err, told.err
    assert sorted(p.name for p in (shop / "orders").iterdir()) == before


def test_words_that_are_missing_are_all_named_at_once(shop):
    place = ("--design", "place", "--blank", "coaster-round", "--cloth", "white")
    told = run(shop, "order", "--customer", "Bo", *place, "--words", "day=Monday").ended(2)
    for slot in ("guest", "couple"):
        assert f'--words {slot}="…"' in told.err, told
    assert not (shop / "orders" / "bo").exists()


def test_photos_that_are_missing_are_all_named_at_once(shop):
    both = """\
---
title: Pair
occasions: [gift]
offered: {pouch-flat: 9.00}
faces:
  front:
    - photo: {slot: left, at: [0 %, 0 %, 50 %, 100 %]}
    - photo: {slot: right, at: [50 %, 0 %, 50 %, 100 %]}
---
Two photos.
"""
    write(shop / "designs" / "pair" / "design.md", both)
    start = ("order", "--customer", "Jo", "--design", "pair", "--cloth", "white")
    told = run(shop, *start).ended(2).err
    assert "--photo left=FILE" in told and "--photo right=FILE" in told
    told = run(shop, *start, "--photo", "left=a.jpg", "--photo", "right=b.jpg").ended(2).err
    assert "“a.jpg” for “left”" in told and "“b.jpg” for “right”" in told
    assert told.count("drag the file here") == 1


def test_shop_without_designs_says_so(tmp_path):
    run(tmp_path, "start", tmp_path / "new", "--contact", "a@new.example").ended(0)
    shutil.rmtree(tmp_path / "new" / "designs")
    told = run(tmp_path / "new", "order").ended(3)
    assert "no design yet" in told.err


@pytest.mark.parametrize("how", ["given", "blank", "only"])
def test_a_design_or_blank_whose_file_has_a_fault_says_that_fault(shop, how):
    if how == "blank":
        write(shop / "blanks" / "mat.yaml", "construction: flatt\n")
        told = run(shop, "order", "--customer", "Bo", *TAG[:2], "--blank", "mat").ended(3).err
        assert "blanks/mat.yaml:1: " in told and "did you mean “flat”?" in told
        return
    if how == "only":
        for folder in (shop / "designs").iterdir():
            shutil.rmtree(folder) if folder.name != "tag" else None
    file = shop / "designs" / "tag" / "design.md"
    write(file, file.read_text("utf-8").replace("title:", "titel:"))
    line = next(n for n, s in enumerate(file.read_text("utf-8").splitlines(), 1) if "titel" in s)
    named = ("--customer", "Bo", *TAG) if how == "given" else ()
    told = run(shop, "order", *named).ended(3).err
    assert f"designs/tag/design.md:{line}: " in told and "did you mean “title”?" in told
    assert "there is no design" not in told and "no design yet" not in told


# in a terminal


def converse(shop: Path, command: list[str], answers: list[tuple[str, str]]) -> tuple[int, str]:
    """Run the command in a terminal and answer each question as it comes up."""
    ours, theirs = pty.openpty()
    child = subprocess.Popen(
        [sys.executable, "-m", "proofgen", "--shop", str(shop), *command],
        stdin=theirs, stdout=theirs, stderr=theirs, cwd=HOUSE, start_new_session=True,
    )  # fmt: skip
    os.close(theirs)
    heard, fresh, left = "", "", list(answers)
    try:
        while True:
            try:
                waits = select.select([ours], [], [], 30)[0]
                assert waits, f"stands still before: {left[:1]}\n{heard}"
                part = os.read(ours, 4096)
            except OSError:  # Linux says so when the other side is gone
                break
            if not part:
                break
            said = part.decode("utf-8", "replace")
            heard, fresh = heard + said, fresh + said
            if left and left[0][0] in fresh:
                os.write(ours, left.pop(0)[1].encode() + b"\n")
                fresh = ""
    finally:
        os.close(ours)
        code = child.wait(timeout=30)  # without its terminal it ends
    assert not left, f"never asked: {left[0][0]}\n{heard}"
    return code, heard


def test_asked_for_all_that_is_missing(shop):
    code, heard = converse(
        shop,
        ["order"],
        [
            ("The customer’s name?", "Zoë O’Neil"),
            ("The customer’s mail address? (Enter: none)", "zoe at home"),
            ("“zoe at home” is not a mail address", "zoe@oneil.example"),
            ("Which day is it due, as 20", "Friday"),
            ("“Friday” is not a day; write it as 20", "12-11-2026"),
            ("may be 12 November 2026 or 11 December 2026", "24 November 2026"),
            ("24 November 2026 is over; write a day that is still to come", "18 december 2026"),
            ("Which design?", "tagg"),
            ("did you mean tag? Which design?", "tag"),
            ("Which blank?", "coaster-round"),
            ("Which cloth?", "white"),
            ("How many pieces?", "four"),
            ("“four” is not a number of pieces", "4"),
            ("Has each piece its own words?", ""),
            ("What words for “name”?", "NO: 12:30"),
        ],
    )
    assert code == 0, heard
    order = order_of(shop, "zoe-oneil")
    assert (order.customer.email, str(order.due)) == ("zoe@oneil.example", "2026-12-18")
    line = order.lines[0]
    assert line.words == {"name": "NO: 12:30"} and line.quantity == 4


SNAP = ("order", "--customer", "Jo", "--design", "snap")
OFFERED = "offered: {coaster-round: 6.00}"


def test_a_blank_that_is_not_offered_yet_is_offered_with_its_price(shop, tmp_path):
    photo = paint(tmp_path / "pier.jpg", format="JPEG")
    file = shop / "designs" / "snap" / "design.md"
    before = file.read_text("utf-8")
    code, heard = converse(
        shop,
        [*SNAP, "--blank", "pouch-flat", "--photo", str(photo)],
        [
            ("mail address?", ""),
            ("Which day is it due", ""),
            ("snap is not offered on pouch-flat yet. What does one cost?", "a lot"),
            ("“a lot” is not an amount; write it like 14.50", "14,5"),
            ("Which cloth?", "natural"),
            ("How many pieces?", "2"),
            ("May you print their pictures?", "perhaps"),
            ("“perhaps” is neither yes nor no", "yes"),
        ],
    )
    assert code == 0, heard
    offered = "offered: {coaster-round: 6.00, pouch-flat: 14.50}"
    assert file.read_text("utf-8") == before.replace(OFFERED, offered)
    order = order_of(shop, "jo")
    assert (order.lines[0].blank, order.rights.print) == ("pouch-flat", True)


def test_the_offer_and_the_right_to_print_as_options(shop, tmp_path):
    photo = paint(tmp_path / "pier.jpg", format="JPEG")
    file = shop / "designs" / "snap" / "design.md"
    before = file.read_bytes()
    typed = (*SNAP, "--blank", "pouch-flat", "--cloth", "natural", "--photo", photo)
    assert "--offer 14.50" in run(shop, *typed).ended(2).err
    told = run(shop, *typed, "--offer", "dear").ended(2)
    assert "--offer" in told.err and "14.50" in told.err
    told = run(shop, *typed, "--offer", "9.50", "--rights-print", "si no").ended(2)
    assert "neither yes nor no" in told.err and file.read_bytes() == before
    run(shop, *typed, "--offer", "9.50", "--rights-print", "no").ended(0)
    assert b"{coaster-round: 6.00, pouch-flat: 9.50}" in file.read_bytes()
    assert order_of(shop, "jo").rights.print is False
    told = run(shop, *typed, "--offer", "9.50").ended(2)
    assert "offered on pouch-flat already" in told.err


def test_blanks_are_offered_with_what_they_are_and_their_size(shop):
    code, heard = converse(
        shop,
        ["order", "--customer", "Jo", "--design", "tag"],
        [
            ("mail address?", ""),
            ("Which day is it due", ""),
            ("Which blank?", "pouch-flat"),
            ("Which cloth?", "natural"),
            ("How many pieces?", "1"),
            ("What words", "Jo"),
        ],
    )
    assert code == 0 and "May you print" not in heard, heard
    rows = [line.strip() for line in heard.splitlines()]
    for name in ("coaster-round", "pouch-flat"):
        (row,) = [row for row in rows if row.startswith(f"{name}: ")]
        assert " mm finished" in row and "(flat)" in row


def test_several_pieces_are_asked_for_a_list(shop, tmp_path):
    """One that is none, one whose columns are no words of the design, and the right one; Enter for
    mail and day; one piece is asked for no list."""
    wrong = write(tmp_path / "wrong.csv", "seat\n4\n")
    guests = write(tmp_path / "the guests.csv", "name\nImke\nZoë\n")
    picture = tmp_path / "dogs.jpg"
    Image.new("RGB", (8, 8)).save(picture)
    code, heard = converse(
        shop,
        ["order", "--customer", "Imke", *TAG, "--quantity", "2"],
        [
            ("mail address?", ""),
            ("Which day is it due", ""),
            ("Has each piece its own words?", str(picture)),
            ("That is a picture; press Enter", "nix.csv"),
            ("nix.csv", str(wrong)),
            ("names no word of the design", f"'{guests}'"),
        ],
    )
    assert code == 0 and "What words" not in heard, heard
    order = order_of(shop, "imke")
    assert (order.customer.email, order.due) == ("", None)
    assert [dict(p.words)["name"] for p in order.lines[0].pieces] == ["Imke", "Zoë"]
    code, heard = converse(
        shop,
        ["order", "--customer", "Jo", *TAG, "--quantity", "1", "--due", "2026-12-12"],
        [("mail address?", ""), ("What words for “name”?", "Jo")],
    )
    assert code == 0 and "Has each piece" not in heard, heard


def test_a_new_shop_is_asked_for_its_name_and_mail_address(tmp_path):
    photo = paint(tmp_path / "the pier.jpg")
    dragged = str(photo).replace(" ", "\\ ")  # as macOS and some others put it
    code, heard = converse(
        tmp_path,
        ["start", str(tmp_path / "mine")],
        [
            ("What is your shop called?", "Wren & Daughters"),
            ("A photo of your own to try", "peer.jpg"),
            ("no file “peer.jpg”", dragged),
            ("Which words shall stand on it?", "Wren & Bo"),
            ("Shall the catalogue of what you offer show this photo", ""),
            ("Which mail address", "wren at home"),
            ("“wren at home” is not a mail address", "wren@wren.example"),
            ("Where on the web will you upload", "wren.example"),
            ("wren.example", "https://wren.example"),
            ("Which language do your customers read?", "Deutsh"),
            ("did you mean de? Which", "de"),
            ("How shall your pages look?", "kit"),
            ("did you mean kite?", "kite"),
            ("photos kept after hand-over", "a while"),
            ("“a while” is not a number of days", "60 days"),
            ("In which time zone is your shop", "Europe/Wren"),
            ("time zone “Europe/Wren” is not known", "Europe/Berlin"),
            ("Which money are your prices in, like EUR, GBP or USD? (Enter: EUR)", ""),
        ],
    )
    assert code == 0, heard
    settings = read_shop(tmp_path / "mine").settings
    assert (settings.telephone, settings.keep_days) == ("", 60)
    assert (settings.site, settings.language, settings.theme) == (
        "https://wren.example",
        "de",
        "kite",
    )
    assert (settings.zone, settings.currency) == ("Europe/Berlin", "EUR")
    assert not read_shop(tmp_path / "mine").designs["first-design"].sample_photos
    line = order_of(tmp_path / "mine", "first-try").lines[0]
    assert line.words == {"name": "Wren & Bo"}
    kept = line.photos["photo"].file
    assert [p.name for p in tmp_path.iterdir() if p.name.startswith(".")] == []  # no draft is left
    assert kept.read_bytes() == photo.read_bytes()
    assert (tmp_path / "mine" / "workroom" / "findings.html").is_file()
    assert (settings.name, settings.contact) == ("Wren & Daughters", "wren@wren.example")


def test_asking_ends_when_nobody_answers(shop):
    code, heard = converse(
        shop, ["order", "--design", "tag"], [("The customer’s name?", "\x04" * 8)]
    )
    assert code == 2 and "Traceback" not in heard


def test_photo_dragged_into_the_terminal_comes_quoted(shop, tmp_path):
    photo = paint(tmp_path / "the pier.jpg")
    note = write(tmp_path / "note.txt", "the pier, please\n")
    code, heard = converse(
        shop,
        ["order", "--design", "snap", "--cloth", "white", "--customer", "Jo", "--quantity", "1"],
        [
            ("mail address?", ""),
            ("is it due", ""),
            ("Which photo for “photo”?", "peer.jpg"),
            ("no file “peer.jpg”", str(note)),
            ("“note.txt” is not a picture: it begins like a text file", f"'{photo}'"),
            ("May you print their pictures?", ""),
        ],
    )
    assert code == 0, heard
    assert order_of(shop, "jo").rights.print is None  # the proof asks
    assert order_of(shop, "jo").lines[0].photos["photo"].file.name == "the-pier.jpg"


# the same again


def test_like_copies_all_but_the_date(shop):
    write(
        shop / "orders" / "pic" / "order.yaml",
        order_text(design="snap").replace(
            "{file: photos/pier.jpg}", "{file: photos/pier.jpg, focus: [0.25, 0.75], zoom: 1.3}"
        ),
    )
    paint(shop / "orders" / "pic" / "photos" / "pier.jpg")
    run(shop, "order", "--like", "pic").ended(0)
    old, new = order_of(shop, "pic"), order_of(shop, "odalys-fenn")
    assert new.customer == old.customer and new.due is None
    one, two = old.lines[0], new.lines[0]
    assert (one.design, one.blank, one.cloth, one.quantity) == (
        two.design, two.blank, two.cloth, two.quantity,
    )  # fmt: skip
    use = two.photos["photo"]
    assert use.focus == (0.25, 0.75) and use.zoom == 1.3
    assert use.file.read_bytes() == one.photos["photo"].file.read_bytes()


def test_like_with_something_else(shop):
    run(shop, "order", "--like", "fenn", "--words", "Wren", "--quantity", "9", "--name", "b").ended(
        0
    )
    line = order_of(shop, "b").lines[0]
    assert line.words == {"name": "Wren"} and line.quantity == 9


def test_like_never_gives_a_mail_address_to_somebody_else(shop):
    run(shop, "order", "--like", "fenn", "--customer", "Bo Quill", "--name", "bo").ended(0)
    customer = order_of(shop, "bo").customer
    assert customer.name == "Bo Quill" and customer.email == ""


def test_like_keeps_the_rights_of_the_same_customer_alone(shop):
    text = order_text().replace("lines:", "rights: {print: yes, show: no}\nlines:")
    write(shop / "orders" / "fenn" / "order.yaml", text)
    run(shop, "order", "--like", "fenn", "--name", "again").ended(0)
    run(shop, "order", "--like", "fenn", "--customer", "Bo Quill", "--name", "bo").ended(0)
    rights = order_of(shop, "again").rights
    assert (rights.print, rights.show) == (True, False)
    assert order_of(shop, "bo").rights.print is None


def test_like_a_list_brings_the_list(shop, tmp_path):
    guests = write(tmp_path / "g.csv", "guest\nImke\nJos\n")
    run(
        shop, "order", "--customer", "Imke", "--design", "place", "--cloth", "white",
        "--list", guests, "--words", "couple=I & J", "--words", "day=June",
    ).ended(0)  # fmt: skip
    run(shop, "order", "--like", "imke", "--name", "again").ended(0)
    line = order_of(shop, "again").lines[0]
    assert [dict(p.words)["guest"] for p in line.pieces] == ["Imke", "Jos"]
    assert line.words == {"couple": "I & J", "day": "June"}
    assert line.list_file == shop / "orders" / "again" / "guests.csv"


def test_like_brings_every_line(shop):
    text = order_text() + order_text("Second").split("lines:\n")[1]
    write(shop / "orders" / "both" / "order.yaml", text)
    run(shop, "order", "--like", "both", "--name", "again").ended(0)
    assert [x.words["name"] for x in order_of(shop, "again").lines] == ["Odalys & Bram", "Second"]
    told = run(shop, "order", "--like", "both", "--quantity", "3").ended(2)
    assert "2 lines" in told.err


def test_like_with_another_design_keeps_what_fits(shop):
    run(
        shop, "order", "--like", "fenn", "--design", "place", "--name", "b",
        "--words", "guest=A", "--words", "couple=B", "--words", "day=C",
    ).ended(0)  # fmt: skip
    assert order_of(shop, "b").lines[0].words == {"guest": "A", "couple": "B", "day": "C"}
    write(
        shop / "orders" / "fenn" / "order.yaml", order_text().replace("coaster-round", "pouch-flat")
    )
    text = (shop / "orders" / "fenn" / "order.yaml").read_text()
    write(shop / "orders" / "fenn" / "order.yaml", text.replace("cloth: white", "cloth: natural"))
    run(shop, "check", "fenn").ended(0)
    told = run(
        shop, "order", "--like", "fenn", "--design", "place", "--name", "c", "--words", "guest=A",
        "--words", "couple=B", "--words", "day=C",
    ).ended(2)  # fmt: skip
    assert "--cloth with one of: " in told.err  # a coaster has no natural cloth
    run(shop, "order", "--like", "fenn", "--name", "d").ended(0)
    assert order_of(shop, "d").lines[0].cloth == "natural"


def test_two_orders_of_one_customer_get_two_folders(shop, tmp_path):
    for _ in range(2):
        run(shop, "order", "--like", "fenn").ended(0)
    assert {"odalys-fenn", "odalys-fenn-2"} <= set(read_shop(shop).orders)
    assert make_shop(tmp_path / "other", "fenn").is_dir()


def test_a_language_that_is_none_is_refused_with_the_ones_there_are(shop):
    told = run(shop, "order", "--customer", "Åsa Lind", *TAG, "--language", "Arabisch").ended(2)
    assert "language “Arabisch” is not known" in told.err and "ar, de, es" in told.err
    assert not (shop / "orders" / "asa-lind").exists()
