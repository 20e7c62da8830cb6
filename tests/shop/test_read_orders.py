"""Orders: names that must be known, photos that must be there, and lists of guests."""

from __future__ import annotations

import unicodedata
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from proofgen.errors import Place
from proofgen.model import Rights
from proofgen.shop import photo_line, read_shop
from proofgen.shop.paths import inside
from tests.shop.conftest import DESIGN, ORDER, MakeShop, the_fault, told

FILE = "orders/fenn/order.yaml"
LIST = "orders/fenn/guests.csv"
WITH_LIST = ORDER + "    list: guests.csv\n"


WRONG_ORDERS = [
    ("name: Odalys Fenn, ", "", 1, "lacks name"),
    ("odalys@example.org", "odalys", 1, "not a mail address"),
    ("odalys@example.org", "a@b.example?cc=x@y.example", 1, "not a mail address"),
    ("language: en", "language: klingonish", 1, "not known"),
    ("due: 2026-12-12", "due: 12.12.2026", 2, "write it like 2026-12-12"),
    ("due: 2026-12-12", "due: 2026-02-30", 2, "not a date"),
    ("due: 2026-12-12", "dew: 2026-12-12", 2, "did you mean “due”?"),
    ("design: harbour", "design: harbor", 4, "did you mean “harbour”?"),
    ("  - design: harbour\n    blank", "  - blank", 4, "lacks design"),
    ("blank: my-wrap", "blank: mywrap", 5, "did you mean “my-wrap”?"),
    ("blank: my-wrap", "blank: teapot", 5, "can-wrap-linen"),
    ("cloth: white", "cloth: whyte", 6, "did you mean “white”?"),
    ("cloth: white", "cloth: [white]", 6, "single value"),
    ("    cloth: white\n", "", 4, "lacks cloth"),
    ("quantity: 3", "quantity: 0", 7, "at least 1"),
    ("quantity: 3", "quantity: 2.5", 7, "not a whole number"),
    ("quantity: 3", "quantity: 1_0", 7, "not a whole number"),
    ("quantity: 3", "quantity: 5001", 7, "at most 5000"),
    ("    quantity: 3\n", "", 4, "lacks quantity"),
    ("photos/pier.jpg", "photos/peir.jpg", 8, "did you mean “photos/pier.jpg”?"),
    ("photos/pier.jpg", "photos", 8, "is not in orders/fenn"),
    ("photos/pier.jpg", "../../shop.yaml", 8, "outside this folder"),
    ("photos/pier.jpg", "/etc/hostname", 8, "outside this folder"),
    ("photos/pier.jpg", "C:/pier.jpg", 8, "colon"),
    ("photos/pier.jpg", '"photos\\\\pier.jpg"', 8, "backslash"),
    ("photos/pier.jpg", '"pier\\0.jpg"', 8, "cannot be seen"),
    ("photos/pier.jpg", '"pier\\u202Egpj.exe"', 8, "cannot be seen"),
    ("photos/pier.jpg", "photos/CON.jpg", 8, "Windows"),
    ("photos: {photo: {", "photos: {foto: {", 8, "did you mean “photo”?"),
    ("file: photos/pier.jpg, ", "", 8, "lacks file"),
    ("focus: [0.5, 0.4]", "focus: [0.5]", 8, "two shares"),
    ("focus: [0.5, 0.4]", "focus: [1.5, 0.4]", 8, "two shares"),
    ("focus: [0.5, 0.4]", "focus: [[1], 0.4]", 8, "two shares"),
    ("zoom: 1.2", "zoom: 0.9", 8, "at least 1"),
    ("zoom: 1.2", "zoom: big", 8, "not a number"),
    ("zoom: 1.2", "turn: 45", 8, "write by how many degrees to turn the photo clockwise"),
    ("zoom: 1.2", "turn: left", 8, "is no quarter turn"),
    ("zoom: 1.2", "size: big", 8, "not a length"),
    ("zoom: 1.2", "size: 4 mm", 8, "at least 10 mm"),
    ("zoom: 1.2", "size: [80 mm]", 8, "write size: 80 mm, or size: [80 mm, 60 mm]"),
    ("zoom: 1.2", "size: [80 mm, tall]", 8, "“tall” is not a length"),
    ("words: {name", "words: {nmae", 9, "did you mean “name”?"),
    ("words: {name", "wrds: {name", 9, "did you mean “words”?"),
    ("Odalys & Bram", "x" * 201, 9, "200 is the most"),
    ("customer: {name: Odalys Fenn", 'customer: {name: "Odalys\\nFenn"', 1, "line break"),
]


@pytest.mark.parametrize(("old", "new", "line", "words"), WRONG_ORDERS)
def test_a_fault_is_told_at_its_line(
    make_shop: MakeShop, old: str, new: str, line: int, words: str
) -> None:
    assert old in ORDER
    shop = read_shop(make_shop({FILE: ORDER.replace(old, new)}))
    the_fault(shop, FILE, line, words)
    assert shop.orders == {}


def test_a_line_may_begin_anywhere_and_lines_must_be_there(make_shop: MakeShop) -> None:
    head = ORDER.split("lines:")[0]
    the_fault(read_shop(make_shop({FILE: head})), FILE, 1, "lacks lines")
    the_fault(read_shop(make_shop({FILE: head + "lines:\n"})), FILE, 3, "no line")
    the_fault(read_shop(make_shop({FILE: head + "lines: harbour\n"})), FILE, 3, "must be a list")
    the_fault(read_shop(make_shop({FILE: head + "lines:\n  - harbour\n"})), FILE, 4, "takes lines")


def test_all_faults_of_one_order_at_once(make_shop: MakeShop) -> None:
    text = (
        ORDER.replace("white", "whyte").replace("quantity: 3", "quantity: x").replace("pier", "q")
    )
    assert [n for _, n, _ in told(read_shop(make_shop({FILE: text})))] == [6, 7, 8]


def test_a_link_that_leaves_the_order_is_refused(make_shop: MakeShop, tmp_path: Path) -> None:
    (tmp_path / "secret.jpg").write_bytes(b"x")
    folder = make_shop({"orders/fenn/photos/pier.jpg": None})
    (folder / "orders" / "fenn" / "photos").mkdir()
    (folder / "orders" / "fenn" / "photos" / "pier.jpg").symlink_to(tmp_path / "secret.jpg")
    the_fault(read_shop(folder), FILE, 8, "link that leads out")


@pytest.mark.parametrize(
    "name",
    ["..", "a/../b", "./a", "a//b", "a/", "~/a", "", "nul", "a/COM1.txt", "a.", "a /b", "x" * 201],
)
def test_names_that_no_folder_keeps_inside(tmp_path: Path, name: str) -> None:
    with pytest.raises(ValueError):
        inside(tmp_path, name)


@pytest.mark.parametrize("name", ["a.jpg", "a/b c.jpg", "..a", "Zoë/été.png", "console.png"])
def test_names_that_stay_inside(tmp_path: Path, name: str) -> None:
    assert inside(tmp_path, name) == tmp_path / name


def test_a_photo_may_be_named_shortly_and_focused_in_percent(make_shop: MakeShop) -> None:
    text = ORDER.replace("{file: photos/pier.jpg, focus: [0.5, 0.4], zoom: 1.2}", "photos/pier.jpg")
    line = read_shop(make_shop({FILE: text})).orders["fenn"].lines[0]
    assert (line.photos["photo"].focus, line.photos["photo"].zoom) == (None, 1.0)
    text = ORDER.replace("zoom: 1.2", "turn: 270")
    line = read_shop(make_shop({FILE: text})).orders["fenn"].lines[0]
    assert line.photos["photo"].turn == 270
    for said, size in (("80 mm", (80.0, None)), ("[4 in, 60 mm]", (101.6, 60.0))):
        text = ORDER.replace("zoom: 1.2", f"size: {said}")
        line = read_shop(make_shop({FILE: text})).orders["fenn"].lines[0]
        assert line.photos["photo"].size_mm == size
    text = ORDER.replace("[0.5, 0.4]", "[25 %, 100 %]")
    line = read_shop(make_shop({FILE: text})).orders["fenn"].lines[0]
    assert line.photos["photo"].focus == (0.25, 1.0)


@pytest.mark.parametrize(
    ("written", "says"),
    [
        (
            "photos: {photo: photos/pier.jpg}",
            "photos: {photo: {file: photos/pier.jpg, turn: 90}}",
        ),
        (
            "photos:\n      photo: {file: photos/pier.jpg, focus: auto}",
            "photo: {file: photos/pier.jpg, focus: auto, turn: 90}",
        ),
    ],
)
def test_the_line_to_write_is_shown_as_it_must_read(
    make_shop: MakeShop, written: str, says: str
) -> None:
    whole = next(line for line in ORDER.splitlines() if "photos:" in line).strip()
    text = ORDER.replace(whole, written)
    [line] = read_shop(make_shop({FILE: text})).orders["fenn"].lines
    meant = photo_line(line, "photo", replace(line.photos["photo"], turn=90))
    assert meant == says
    kept = text.replace(written.partition("\n      ")[2] or written, meant)
    [line] = read_shop(make_shop({FILE: kept})).orders["fenn"].lines
    assert line.photos["photo"].turn == 90


def test_the_line_to_write_reads_the_same_from_within_the_shop(
    make_shop: MakeShop, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(make_shop({FILE: ORDER}))
    [line] = read_shop(Path()).orders["fenn"].lines
    meant = photo_line(line, "photo", replace(line.photos["photo"], turn=90))
    assert "file: photos/pier.jpg" in meant


def test_a_draft_says_so(make_shop: MakeShop) -> None:
    assert read_shop(make_shop({FILE: "draft: yes\n" + ORDER})).orders["fenn"].draft


def test_what_is_paid_is_money(make_shop: MakeShop) -> None:
    shop = read_shop(make_shop({FILE: "paid: 12.50\n" + ORDER}))
    assert shop.orders["fenn"].paid == Decimal("12.50")
    the_fault(read_shop(make_shop({FILE: "paid: half\n" + ORDER})), FILE, 1, "half")


def test_a_folder_without_its_file_says_which_and_where(make_shop: MakeShop) -> None:
    folder = make_shop({FILE: ORDER})
    (folder / FILE).unlink()
    (fault,) = read_shop(folder).faults
    assert fault.cure == "put order.yaml into orders/fenn, or move that folder out of orders"


def test_words_the_design_has_no_place_for_may_stay(make_shop: MakeShop) -> None:
    shop = read_shop(make_shop({FILE: ORDER.replace("words: {", "words: {greeting: Hello, ")}))
    assert shop.faults == ()
    assert shop.orders["fenn"].lines[0].words["greeting"] == "Hello"


def test_words_come_in_nfc_and_keep_their_spaces(make_shop: MakeShop) -> None:
    name = unicodedata.normalize("NFD", " Zoë  ")
    shop = read_shop(make_shop({FILE: ORDER.replace("Odalys & Bram", name)}))
    assert shop.orders["fenn"].lines[0].words["name"] == " Zo\u00eb  "


# Lists


def test_each_row_is_a_piece_and_columns_override(make_shop: MakeShop) -> None:
    rows = 'name\r\nAda \r\n,\r\n\r\n"Bo ""B"" Lund"\r\n"two\nlines"\r\n Zoe\u0308\r\n'
    text = WITH_LIST + ORDER.split("lines:\n")[1]
    shop = read_shop(make_shop({FILE: text, LIST: rows.replace(",\r\n", "")}))
    assert shop.faults == ()
    first, second = shop.orders["fenn"].lines
    assert [(p.number, p.words["name"], p.place.line) for p in first.pieces] == [
        (1, "Ada ", 2),
        (2, 'Bo "B" Lund', 4),
        (3, "two\nlines", 5),
        (4, " Zo\u00eb", 7),
    ]
    assert {p.words["date"] for p in first.pieces} == {"Saturday 12 June 2027"}
    assert first.quantity == 3  # a check speaks about it
    assert first.pieces[0].place == Place(LIST, 2)
    # Pieces are numbered through the whole order.
    assert [p.number for p in second.pieces] == [5, 6, 7]


@pytest.mark.parametrize(
    "rows",
    [
        "\ufeffname;date\nAda;NO\n",
        'name,date\n"Ada","NO"\n',
        " name , date \nAda,NO",
        "\nname,date,,\nAda,NO,,\n",
    ],
)
def test_commas_semicolons_and_marks(make_shop: MakeShop, rows: str) -> None:
    text = WITH_LIST.replace("    quantity: 3\n", "")
    shop = read_shop(make_shop({FILE: text, LIST: rows}))
    assert shop.faults == ()
    (line,) = shop.orders["fenn"].lines
    assert dict(line.pieces[0].words) == {"name": "Ada", "date": "NO"}
    assert line.quantity == 1


def test_names_of_slots_agree_in_any_form_of_unicode(make_shop: MakeShop) -> None:
    composed, decomposed = "pr\u00e9nom", "pre\u0301nom"
    shop = read_shop(
        make_shop(
            {
                "designs/harbour/design.md": DESIGN.replace("slot: name", f"slot: {decomposed}"),
                FILE: ORDER.replace('name: "Od', f'{decomposed}: "Od') + "    list: guests.csv\n",
                LIST: f"{decomposed}\nAda\n",
            }
        )
    )
    assert shop.faults == ()
    (line,) = shop.orders["fenn"].lines
    assert line.words[composed] == "Odalys & Bram"
    assert line.pieces[0].words[composed] == "Ada"


@pytest.mark.parametrize(
    ("code", "line"), [("utf-8-sig", 0), ("utf-8", 0), ("cp1252", 3), ("utf-16", None)]
)
def test_a_list_in_another_code_is_told_and_never_guessed_at(
    make_shop: MakeShop, code: str, line: int | None
) -> None:
    """What spreadsheets save: “CSV UTF-8”, plain “CSV” and “Unicode text” of Windows."""
    shop = read_shop(make_shop({FILE: WITH_LIST, LIST: "name\nAda\nZoë\n".encode(code)}))
    if line != 0:
        the_fault(shop, LIST, line, "CSV UTF-8")
    else:
        assert [p.words["name"] for p in shop.orders["fenn"].lines[0].pieces] == ["Ada", "Zoë"]


def test_an_empty_cell_is_empty_words(make_shop: MakeShop) -> None:
    shop = read_shop(make_shop({FILE: WITH_LIST, LIST: "date,name\nx\n,Bo\n"}))
    pieces = shop.orders["fenn"].lines[0].pieces
    assert [dict(p.words) for p in pieces] == [
        {"name": "", "date": "x"},
        {"name": "Bo", "date": ""},
    ]


@pytest.mark.parametrize(
    ("rows", "line", "words"),
    [
        ("nam\nAda\n", 1, "did you mean “name”?"),
        ("guest\nAda\n", 1, "name, date"),
        ("name,dat\nAda,x\n", 1, "did you mean “date”?"),
        ("name,,table\nAda,x,4\n", 1, "has no name"),
        ("name,name\nAda,Bo\n", 1, "two columns"),
        (",".join(f"c{i}" for i in range(400_000)), 1, "more than 50 columns"),
        ("\n , \n", 1, "must name the columns"),
        ("", 1, "must name the columns"),
        ("\n\nname\n", 3, "no row"),
        ("name\n", 1, "no row"),
        ("name\n ,\n \n", 1, "no row"),
        ("name\nAda\nFenn, Odalys\n", 3, "double quotes"),
        ('name\nAda\n"Bo\nCy\n', 3, "cannot be read"),
        ('name\n"Ada"x\n', 2, "cannot be read"),
        ("name\nAda\n" + "x" * 201 + "\n", 3, "more than 200"),
        ("name\n" + "Ada\n" * 5001, 5002, "more than 5000 rows"),
        ("name\nAda\nZo\udceb\n", 3, "CSV UTF-8"),
    ],
)
def test_a_wrong_list_is_told_with_its_own_line(
    make_shop: MakeShop, rows: str, line: int, words: str
) -> None:
    shop = read_shop(
        make_shop({FILE: WITH_LIST, LIST: rows.encode("utf-8", errors="surrogateescape")})
    )
    the_fault(shop, LIST, line, words)
    assert shop.orders == {}


def test_columns_that_are_no_words_go_with_the_piece(make_shop: MakeShop) -> None:
    """A table's number is nobody's word to print; it never reaches the artwork."""
    rows = "name,table,=note\nAda,4,\nBo,,<b>by the door</b>\n"
    shop = read_shop(make_shop({FILE: WITH_LIST, LIST: rows}))
    assert shop.faults == ()
    pieces = shop.orders["fenn"].lines[0].pieces
    assert [set(p.words) for p in pieces] == [{"name", "date"}] * 2
    assert [dict(p.more) for p in pieces] == [
        {"table": "4", "=note": ""},
        {"table": "", "=note": "<b>by the door</b>"},
    ]


def test_a_column_like_a_word_the_list_has_already_is_no_slip(make_shop: MakeShop) -> None:
    rows = "name,nam2,date\nAda,x,y\n"
    shop = read_shop(make_shop({FILE: WITH_LIST, LIST: rows}))
    assert shop.faults == () and shop.orders["fenn"].lines[0].pieces[0].more == {"nam2": "x"}


def test_five_thousand_rows_are_taken(make_shop: MakeShop) -> None:
    shop = read_shop(make_shop({FILE: WITH_LIST, LIST: "name\n" + "Ada\n" * 5000}))
    assert len(shop.orders["fenn"].lines[0].pieces) == 5000


def test_a_missing_list_is_told_in_the_order(make_shop: MakeShop) -> None:
    shop = read_shop(make_shop({FILE: WITH_LIST}))
    the_fault(shop, FILE, 10, "guests.csv")
    assert "or take this line away" in shop.faults[0].cure


@pytest.mark.parametrize(
    ("line", "rights"),
    [
        ("", Rights()),
        ("rights:\n", Rights()),
        ("rights: {print: yes, show: no}\n", Rights(print=True, show=False)),
        ("rights: {show: Yes}\n", Rights(show=True)),
    ],
)
def test_what_the_customer_allows(make_shop: MakeShop, line: str, rights: Rights) -> None:
    shop = read_shop(make_shop({FILE: line + ORDER}))
    assert shop.faults == () and shop.orders["fenn"].rights == rights


def test_rights_are_yes_or_no(make_shop: MakeShop) -> None:
    shop = read_shop(make_shop({FILE: "rights: {print: perhaps}\n" + ORDER}))
    the_fault(shop, FILE, 1, "rights.print", "write yes or no")


@pytest.mark.parametrize("sign", ["\\u202E", "\\u2066", "\\u200B", "\\uFEFF"])
def test_a_customer_s_name_holds_nothing_that_nobody_sees(make_shop, sign):
    text = ORDER.replace("name: Odalys Fenn", f'name: "Odalys {sign}nneF"')
    assert text != ORDER
    shop = read_shop(make_shop({FILE: text}))
    the_fault(shop, FILE, 1, "that nobody can see", f"⟨U+{sign[2:]}⟩")
    assert "fenn" not in shop.orders


@pytest.mark.parametrize("name", ["دنيا \\u200Fعلي", "می\\u200Cخواهم", "Zoë O’Neil"])
def test_what_joins_letters_and_marks_of_direction_are_names(make_shop, name):
    text = ORDER.replace("name: Odalys Fenn", f'name: "{name}"')
    assert read_shop(make_shop({FILE: text})).orders["fenn"].customer.name


def test_a_link_on_the_way_is_followed_wherever_it_stands(tmp_path: Path) -> None:
    home, away = tmp_path / "orders" / "fenn", tmp_path / "away"
    for folder in (home / "photos", home / "scans", away):
        folder.mkdir(parents=True)
    for path in (home / "scans" / "pier.jpg", away / "pier.jpg", home / "photos" / "own.jpg"):
        path.write_bytes(b"")
    assert inside(home, "photos/own.jpg") == home / "photos" / "own.jpg"
    assert inside(home, "photos/none.jpg") == home / "photos" / "none.jpg"
    (home / "near").symlink_to(home / "scans")
    assert inside(home, "near/pier.jpg") == home / "near" / "pier.jpg"
    (home / "far").symlink_to(away)
    with pytest.raises(ValueError, match="leads out"):
        inside(home, "far/pier.jpg")
    with pytest.raises(ValueError, match="leads out"):
        inside(home, "far/none.jpg")
