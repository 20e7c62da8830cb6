"""Whatever stands in the files, reading ends in faults that can be mended, never in a crash."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from proofgen.errors import Place, ShopFaults
from proofgen.shop import read_shop
from tests.shop.conftest import FILES

FILES_READ = [name for name in FILES if not name.endswith(".jpg")]
ODD = """
~ {} [] [[]] {a:1} -1 0 1e999mm ٣mm 0% nan inf -0mm 1/0 \ufeff "\\0" "\\ud800" ' & *a
200C(0F) 0000-00-00 9999-12-31 #fff "#fff" <<: --- \u2028x .. CON
"""
VALUES = st.one_of(
    st.sampled_from(["", "\r", "9" * 150 + " mm", "a: 1", *ODD.split()]), st.text(max_size=8)
)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    base = tmp_path_factory.mktemp("fuzz")
    for name, content in FILES.items():
        path = base / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content.encode() if isinstance(content, str) else content)
    yield base


def read_changed(folder: Path, name: str, content: bytes) -> None:
    """Read the shop with one file changed; every fault is one that a person can act on."""
    path = folder / name
    before = path.read_bytes()
    path.write_bytes(content)
    try:
        faults = read_shop(folder).faults
    except ShopFaults as error:
        faults = tuple(error.faults)
    finally:
        path.write_bytes(before)
    for fault in faults:
        assert isinstance(fault.place, Place) and fault.place.file
        assert fault.problem and fault.cure
        assert fault.sentence().replace("\n", "").isprintable(), fault.sentence()
        if fault.place.line is not None and fault.place.file == name:
            text = content.decode("utf-8", "replace")
            assert 1 <= fault.place.line <= len(text.splitlines()) + 1


@given(st.sampled_from(FILES_READ), st.binary(max_size=200))
@settings(max_examples=30, deadline=None)
def test_any_bytes(folder: Path, name: str, content: bytes) -> None:
    read_changed(folder, name, content)


@given(st.sampled_from(FILES_READ), st.data())
@settings(max_examples=120, deadline=None)
def test_any_value_anywhere(folder: Path, name: str, data: st.DataObject) -> None:
    text = FILES[name]
    assert isinstance(text, str)
    cuts = [i for i, letter in enumerate(text) if letter in ":,[]{}\n"]
    start = data.draw(st.sampled_from(cuts)) + 1
    end = next((i for i in cuts if i >= start), len(text))
    value = data.draw(VALUES)
    changed = f"{text[:start]} {value}{text[end:]}"
    read_changed(folder, name, changed.encode("utf-8", "surrogatepass"))


@pytest.mark.parametrize("hidden", ["\U00018cd6", "x\u202ey", '"a\\x07"'])
@pytest.mark.parametrize(
    ("name", "key"),
    [
        ("designs/harbour/design.md", "my-wrap: 14.50"),
        ("blanks/my-wrap.yaml", "white: 24"),
        ("orders/fenn/order.yaml", "photo: {file"),
    ],
)
def test_a_hidden_letter_in_a_name_of_ones_own_is_shown(
    folder: Path, name: str, key: str, hidden: str
) -> None:
    """A key stood in its fault as it was, and could have turned the sentence round."""
    text = FILES[name]
    assert isinstance(text, str) and key in text
    read_changed(folder, name, text.replace(key, hidden + key[key.index(":") :]).encode())


@given(st.text(max_size=300))
@settings(max_examples=30, deadline=None)
def test_any_list(folder: Path, text: str) -> None:
    order = FILES["orders/fenn/order.yaml"]
    assert isinstance(order, str)
    (folder / "orders" / "fenn" / "guests.csv").write_bytes(
        ("name\n" + text).encode("utf-8", "surrogatepass")
    )
    read_changed(folder, "orders/fenn/order.yaml", f"{order}    list: guests.csv\n".encode())
