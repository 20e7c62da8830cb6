"""A chosen focus is put into order.yaml whatever way it is written, and nothing else changes."""

from __future__ import annotations

from pathlib import Path

import pytest

from proofgen.errors import Place, ShopError
from proofgen.model import Customer, Order
from proofgen.shop.focus_writer import PhotoAt, write_focuses

HEAD = "lines:\n- design: snap\n  quantity: 2\n  "
TAIL = "\n  words: {name: Odalys}   # as she wrote it\n"
AT, FOCUS = PhotoAt(1, "photo"), (0.5, 0.3825)

FORMS = {
    "in one line": (
        "photos: {photo: {file: a.jpg}}",
        "photos: {photo: {file: a.jpg, focus: [0.5, 0.3825]}}",
    ),
    "with more": (
        "photos: {photo: {file: 'a, b.jpg', zoom: 1.2}} # near",
        "photos: {photo: {file: 'a, b.jpg', zoom: 1.2, focus: [0.5, 0.3825]}} # near",
    ),
    "the name alone": (
        "photos: {photo: a.jpg, other: b.jpg}",
        'photos: {photo: {file: "a.jpg", focus: [0.5, 0.3825]}, other: b.jpg}',
    ),
    "the name alone, in a block": (
        "photos:\n    photo: a, [b].jpg  # hers\n    other: b.jpg",
        'photos:\n    photo: {file: "a, [b].jpg", focus: [0.5, 0.3825]}  # hers\n    other: b.jpg',
    ),
    "in a block": (
        "photos:\n    photo:\n      file: a.jpg # hers\n      zoom: 2\n    other: b.jpg",
        "photos:\n    photo:\n      file: a.jpg # hers\n      zoom: 2\n"
        "      focus: [0.5, 0.3825]\n    other: b.jpg",
    ),
    "auto": (
        "photos: {photo: {focus: auto, file: a.jpg}}",
        "photos: {photo: {focus: [0.5, 0.3825], file: a.jpg}}",
    ),
    "left empty": (
        "photos:\n    photo:\n      focus:\n      file: a.jpg",
        "photos:\n    photo:\n      focus: [0.5, 0.3825]\n      file: a.jpg",
    ),
}


def order(folder: Path, text: str) -> Order:
    (folder / "order.yaml").write_bytes(text.encode())
    return Order(
        id="fenn",
        folder=folder,
        customer=Customer(name="Odalys Fenn"),
        lines=(),
        place=Place("orders/fenn/order.yaml", 1),
    )


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_only_the_focus_is_written(tmp_path: Path, form: str, end: str) -> None:
    before, after = ((HEAD + part + TAIL).replace("\n", end) for part in FORMS[form])
    made = order(tmp_path, "\ufeff" + before)
    assert write_focuses(made, {AT: FOCUS}, {}) == [AT]
    assert (tmp_path / "order.yaml").read_bytes().decode() == "\ufeff" + after
    assert write_focuses(made, {AT: (0.1, 0.1)}, {}) == []


@pytest.mark.parametrize(
    "photos",
    [
        "photos: {photo: {file: a.jpg, focus: [0.2, 0.9]}}",
        "photos: {other: a.jpg}",
        "photos: []",
        "photos:",
        "words: {}",
    ],
)
def test_what_the_maker_changed_meanwhile_stays(tmp_path: Path, photos: str) -> None:
    made = order(tmp_path, HEAD + photos + "\n")
    assert write_focuses(made, {AT: FOCUS, PhotoAt(2, "photo"): FOCUS}, {}) == []
    assert (tmp_path / "order.yaml").read_text("utf-8") == HEAD + photos + "\n"


def test_two_photos_are_written_at_once(tmp_path: Path) -> None:
    made = order(tmp_path, HEAD + "photos: {photo: a.jpg, other: {file: b.jpg}}\n")
    assert write_focuses(made, {AT: FOCUS, PhotoAt(1, "other"): (0, 1)}, {}) != []
    assert (tmp_path / "order.yaml").read_text("utf-8") == (
        HEAD + 'photos: {photo: {file: "a.jpg", focus: [0.5, 0.3825]}, '
        "other: {file: b.jpg, focus: [0, 1]}}\n"
    )


def test_a_file_that_would_read_otherwise_stays_as_it_is(tmp_path: Path) -> None:
    text = HEAD + "photos:\n    ? photo\n    : file: a.jpg\n      ? focus\n      : auto\n"
    made = order(tmp_path, text)
    with pytest.raises(ShopError, match="as it is written"):
        write_focuses(made, {AT: FOCUS}, {})
    assert (tmp_path / "order.yaml").read_text("utf-8") == text
