"""YAML that would change words, grow, hide or recurse: text kept as text, the rest refused."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from proofgen.errors import Place, ShopError, ShopFaults
from proofgen.shop import read_shop
from proofgen.shop.nodes import (
    MapNode,
    Source,
    TextNode,
    key_lines,
    parse,
    read_text,
    split_front,
)
from tests.shop.conftest import DESIGN, ORDER, SHOP, MakeShop, the_fault


def text_of(yaml: str) -> str:
    node = parse(f"word: {yaml}\n", Source("x.yaml"))
    assert isinstance(node, MapNode)
    value = node.entries["word"].value
    assert isinstance(value, TextNode)
    return value.text


# YAML 1.1 makes False, 750, 83, a date, None, infinity, 0.1 and 6 of these.
@pytest.mark.parametrize(
    "word", ["NO", "12:30", "0123", "2026-12-12", "~", ".inf", "1e-1", "0b110", "Yes", "null"]
)
def test_words_stay_as_written_quoted_or_not(word: str) -> None:
    assert text_of(word) == text_of(f'"{word}"') == text_of(f"'{word}'") == word


def test_words_of_an_order_never_change_meaning(make_shop: MakeShop) -> None:
    order = ORDER.replace('"Odalys & Bram"', "NO").replace('"Saturday 12 June 2027"', "12:30")
    shop = read_shop(make_shop({"orders/fenn/order.yaml": order}))
    assert shop.faults == ()
    assert dict(shop.orders["fenn"].lines[0].words) == {"name": "NO", "date": "12:30"}


@pytest.mark.parametrize(
    ("yaml", "line", "problem"),
    [
        ("a: 1\nb: &x two\n", 2, "anchor (&x)"),
        ("a: 1\nb: *x\n", 2, "alias (*x)"),
        ("a: 1\nb:\n  <<: {c: 1}\n", 3, "merge key"),
        ("a: 1\nb: !!python/object/apply:os.system [ls]\n", 2, "a tag"),
        ("a: ! x\n", 1, "a tag"),
        ("a: 1\n---\nb: 2\n", 2, "second document"),
        ("%YAML 1.1\n---\na: 1\n", 1, "begin with %"),
        ("a: 1\n? [b, c]\n: 2\n", 2, "must be a word"),
        ("a: 1\nb:\n\t- 2\n", 3, "tab"),
        ("a: 1\nb: x\ty\n", 2, "tab"),
        ("a: 1\nb: \x07\n", 2, "control character"),
        ("a: 1\nb: 'x\nc: 2\n", 2, "not YAML"),
        ("a: 1\nb: [1, 2\nc: 3\n", 3, "not YAML"),
        ("a: b: c\n", 1, "not YAML"),
    ],
)
def test_what_is_refused_names_its_line(yaml: str, line: int, problem: str) -> None:
    with pytest.raises(ShopError) as caught:
        parse(yaml, Source("x.yaml"))
    assert caught.value.place == Place("x.yaml", line)
    assert problem in caught.value.problem
    assert caught.value.cure


def test_double_keys_are_all_noted_with_both_lines() -> None:
    source = Source("x.yaml")
    parse("a: 1\nb: 2\na: 3\nc: {d: 1, d: 2}\n", source)
    assert [f.place for f in source.faults] == [Place("x.yaml", 3), Place("x.yaml", 4)]
    assert "first in line 1" in source.faults[0].problem


@pytest.mark.parametrize(
    "yaml",
    [
        "[" * 20_000,
        "{" * 20_000,
        "- " * 20_000,
        "a: " + "[" * 20_000 + "]" * 20_000,
        "a: &a [x, x, x, x, x, x, x, x, x]\n"
        + "".join(
            f"{chr(98 + i)}: &{chr(98 + i)} [{', '.join(['*' + chr(97 + i)] * 9)}]\n"
            for i in range(20)
        ),
        "x: " + "a" * 300_000,
        "".join(f"k{i}: v\n" for i in range(20_000)),
        "a: 1\n" * 40_000,
        "\n".join(" " * i + f"k{i}:" for i in range(600)),
        "? " * 5_000,
        '"' + "\\" * 9_999,
        "&" * 1_000,
        # Dotted names of keys must not multiply.
        "? " + "k" * 100_000 + "\n:\n" + "".join(f"  a{i}:\n" for i in range(15_000)),
        "lines:\n- photos:\n" + "".join(f"    p{i}: nothing.jpg\n" for i in range(9_000)),
        "lines:\n" + "- {quantity: 5000, words: {name: x}}\n" * 5_000,
        "cloth: {colours: {" + ", ".join(f"c{i}: no" for i in range(20_000)) + "}}",
    ],
    ids=[
        "brackets",
        "braces",
        "dashes",
        "closed brackets",
        "alias bomb",
        "large",
        "unknown keys",
        "double keys",
        "stairs",
        "question marks",
        "backslashes",
        "ampersands",
        "long key",
        "many photos",
        "many lines",
        "many colours",
    ],
)
@pytest.mark.parametrize("file", ["shop.yaml", "orders/fenn/order.yaml", "blanks/my-wrap.yaml"])
def test_hostile_yaml_is_refused_quickly(make_shop: MakeShop, yaml: str, file: str) -> None:
    folder = make_shop({file: yaml})
    start = time.process_time()
    try:
        faults = read_shop(folder).faults
    except ShopFaults as error:
        faults = tuple(error.faults)
    assert time.process_time() - start < 3
    ours = [f for f in faults if isinstance(f.place, Place) and f.place.file == file]
    assert 0 < len(ours) <= 201
    assert all(len(f.sentence()) < 1000 for f in ours)


def test_depth_of_twenty_is_taken_and_of_twenty_one_refused() -> None:
    assert parse("[" * 20 + "]" * 20, Source("x")) is not None
    with pytest.raises(ShopError, match="20 levels"):
        parse("[" * 21 + "]" * 21, Source("x"))


def test_a_file_of_the_largest_size_is_taken(tmp_path: Path) -> None:
    file = tmp_path / "x.yaml"
    file.write_bytes(b"#" * (256 * 1024))
    assert len(read_text(file, "x.yaml")) == 256 * 1024
    file.write_bytes(b"#" * (256 * 1024 + 1))
    with pytest.raises(ShopError, match="larger than 256 KB"):
        read_text(file, "x.yaml")


def test_bad_utf8_names_its_line(make_shop: MakeShop) -> None:
    shop = read_shop(
        make_shop({"orders/fenn/order.yaml": ORDER.encode().replace(b"Bram", b"Zo\xeb")})
    )
    the_fault(shop, "orders/fenn/order.yaml", 9, "UTF-8")


def test_a_mark_at_the_beginning_and_windows_line_ends_are_taken(make_shop: MakeShop) -> None:
    changed = b"\xef\xbb\xbf" + ORDER.replace("\n", "\r\n").encode()
    design = b"\xef\xbb\xbf" + DESIGN.replace("\n", "\r\n").encode()
    shop = read_shop(
        make_shop({"orders/fenn/order.yaml": changed, "designs/harbour/design.md": design})
    )
    assert shop.faults == ()
    assert shop.orders["fenn"].lines[0].lines["words"] == 9
    assert shop.designs["harbour"].faces["round"][1].place.line == 8


def test_something_that_is_no_file_is_refused(make_shop: MakeShop) -> None:
    import os

    folder = make_shop({"orders/fenn/order.yaml": None})
    os.mkfifo(folder / "orders" / "fenn" / "order.yaml")
    the_fault(read_shop(folder), "orders/fenn/order.yaml", None, "not a file")


def test_lines_of_front_matter_are_those_of_the_file() -> None:
    source = Source("d.md")
    front, body = split_front("---\ntitle: x\nfaces: {a: {b: 1}}\n---\n\nText --- here\n", source)
    node = parse(front, source, first_line=2)
    assert node is not None and body == "Text --- here"
    assert key_lines(node) == {"title": 2, "faces": 3, "faces.a": 3, "faces.a.b": 3}


@pytest.mark.parametrize(
    ("text", "problem"), [("title: x\n", "must begin with"), ("---\ntitle: x\n", "no end")]
)
def test_front_matter_needs_both_lines(text: str, problem: str) -> None:
    with pytest.raises(ShopError, match=problem) as caught:
        split_front(text, Source("d.md"))
    assert caught.value.place == Place("d.md", 1)


def test_an_unknown_key_names_the_nearest_and_all_known(make_shop: MakeShop) -> None:
    shop = read_shop(make_shop({"shop.yaml": SHOP.replace("currency:", "curency:")}))
    the_fault(shop, "shop.yaml", 5, "“curency”", "did you mean “currency”?")
    assert "name, contact, paper" in shop.faults[0].cure


@pytest.mark.parametrize("text", ["", "# nothing\n", "- a\n- b\n", "word\n"])
def test_a_file_that_is_no_map(make_shop: MakeShop, text: str) -> None:
    shop = read_shop(make_shop({"orders/fenn/order.yaml": text}))
    the_fault(shop, "orders/fenn/order.yaml", 1, "this file")
