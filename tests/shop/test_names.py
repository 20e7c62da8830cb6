"""words/names.txt and fonts/: what a shop brings along beside its orders."""

from __future__ import annotations

from pathlib import Path

from proofgen.shop import read_shop
from tests.shop.conftest import MakeShop, the_fault, told


def test_names_one_a_line_composed_and_without_remarks(make_shop: MakeShop) -> None:
    text = "# of last year\n\nOdalys  Fenn\r\n  Zoe\u0308\n#Bram\nBram\n"
    shop = read_shop(make_shop({"words/names.txt": text}))
    assert shop.names == {"Odalys Fenn", "Zoë", "Bram"}
    assert "names" not in shop.words and shop.faults == ()


def test_no_list_is_not_an_empty_list(make_shop: MakeShop) -> None:
    assert read_shop(make_shop()).names is None
    assert read_shop(make_shop({"words/names.txt": "# none yet\n"})).names == frozenset()


def test_a_list_nobody_can_read_is_told(make_shop: MakeShop) -> None:
    shop = read_shop(make_shop({"words/names.txt": b"Zo\xeb\n"}))
    assert shop.names is None
    the_fault(shop, "words/names.txt", 1, "UTF-8")
    shop = read_shop(make_shop({"words/names.txt": b"Bo\n" * 700_000}))
    the_fault(shop, "words/names.txt", None, "larger than")


def test_fonts_that_cannot_be_used_are_told_and_licences_are_not(make_shop: MakeShop) -> None:
    folder = make_shop({
        "fonts/web.woff2": b"wOF2" + bytes(60),
        "fonts/notes.ttf": "no font at all",
        "fonts/OFL.txt": "a licence",
    })  # fmt: skip
    (folder / "fonts" / "away.ttf").symlink_to(Path("/etc/hostname"))
    shop = read_shop(folder)
    assert [(file, problem.partition(": ")[2][:34]) for file, _, problem in told(shop)] == [
        ("fonts/away.ttf", "it is not a file of its own"),
        ("fonts/notes.ttf", "it is not a TrueType or OpenType f"),
        ("fonts/web.woff2", "it is a font for web pages (WOFF2)"),
    ]
