"""Designs: layers, boxes, prices, samples and files that must stay inside."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from proofgen.shop import read_shop
from tests.shop.conftest import DESIGN, MakeShop, the_fault, told

FILE = "designs/harbour/design.md"
PHOTO = "    - photo: {slot: photo, at: fill}\n"


WRONG_DESIGNS = [
    ("title: Harbour photo\n", "", 2, "lacks title"),
    ("offered: {my-wrap: 14.50", "offered: {my-warp: 14.50", 4, "did you mean “my-wrap”?"),
    ("14.50", "free", 4, "not an amount"),
    ("14.50", "{0: 14.50}", 4, "not a quantity"),
    ("14.50", "{ten: 14.50}", 4, "not a quantity"),
    ("14.50", "{1: 14.50, 01: 13}", 4, "stands here twice"),
    ("14.50", "{}", 4, "no price"),
    ("  round:", "  around:", 6, "did you mean “round”?"),
    ('colour: "#fff"', "colour: white", 7, "not a colour"),
    ('colour: "#fff"', "colour: #fff", 7, "no value"),
    ('colour: "#fff"', 'color: "#fff"', 7, "of no known kind"),
    (PHOTO, "    - {photo: {slot: photo}, art: {file: x.png}}\n", 8, "must be one thing"),
    (PHOTO, "    - photo: photo\n", 8, "takes lines of its own"),
    (PHOTO, "    - photo: {slot: photo, zoom: 2}\n", 8, "“zoom” is not known"),
    (PHOTO, "    - photo: {slot: a.b}\n", 8, "cannot name a place for words"),
    (PHOTO, "    - photo\n", 8, "takes lines of its own"),
    (PHOTO, "    - art: {file: gull.png}\n", 8, "is not in designs/harbour"),
    (PHOTO, "    - art: {file: ../x.png}\n", 8, "outside this folder"),
    (PHOTO, "    - pattern: {file: wave.png}\n", 8, "lacks repeat"),
    (PHOTO, "    - pattern: {file: wave.png, repeat: 0 mm}\n", 8, "at least 0.5 mm"),
    (PHOTO, "    - pattern: {file: wav.png, repeat: 24 mm}\n", 8, "did you mean “wave.png”?"),
    (PHOTO, "    - pattern: {file: a.png, repeat: 9 mm, lay: brik}\n", 8, "mean “brick”?"),
    ("at: [10 %, 70 %, 80 %, 20 %]", "at: fill", 9, "need a box"),
    ("at: [10 %, 70 %, 80 %, 20 %]", "at: [10 %, 70 %, 80 %]", 9, "four amounts"),
    ("at: [10 %, 70 %, 80 %, 20 %]", "at: [10, 70 %, 80 %, 20 %]", 9, "not an amount"),
    ("at: [10 %, 70 %, 80 %, 20 %]", "at: [10 %, 70 %, 0 %, 20 %]", 9, "no width or height"),
    ("at: [10 %, 70 %, 80 %, 20 %]", "at: [10 %, 70 %, 80 %, -2 mm]", 9, "no width or height"),
    ("at: [10 %, 70 %, 80 %, 20 %]", "at: [9 m, 70 %, 80 %, 2 mm]", 9, "far outside"),
    ("size: 9 mm, ", "", 9, "lacks size"),
    ("size: 9 mm", "size: 0 pt", 9, "more than 0 mm"),
    ("slot: name", "slot: name, text: hi", 9, "both slot and text"),
    ("align: left", "align: center", 10, "did you mean “centre”?"),
    ("align: left", "allign: left", 10, "did you mean “align”?"),
]


@pytest.mark.parametrize(("old", "new", "line", "words"), WRONG_DESIGNS)
def test_a_fault_is_told_at_its_line(
    make_shop: MakeShop, old: str, new: str, line: int, words: str
) -> None:
    assert old in DESIGN
    shop = read_shop(
        make_shop(
            {
                FILE: DESIGN.replace(old, new),
                "designs/harbour/wave.png": b"x",
                "orders/": None,
            }
        )
    )
    ours = [t for t in told(shop) if t[0] == FILE]
    said = [f"{f.problem} {f.cure}" for f in shop.faults]
    assert any(words in s for s in said), said
    assert {t[1] for t in ours} == {line}, ours
    assert "harbour" not in shop.designs


@pytest.mark.parametrize("kind", ["pattern", "art", "photo", "words"])
def test_the_layer_that_a_cure_shows_reads(make_shop: MakeShop, kind: str) -> None:
    files = {"designs/harbour/dots.png": b"x", "designs/harbour/frame.png": b"x", "orders/": None}
    shop = read_shop(make_shop({FILE: DESIGN.replace(PHOTO, f"    - {kind}: fill\n"), **files}))
    cures = [f.cure for f in shop.faults if f.problem.endswith("takes lines of its own")]
    shown = cures[0].removeprefix("write it like ")
    mended = DESIGN.replace(PHOTO, f"{PHOTO}    - {shown}\n")
    shop = read_shop(make_shop({FILE: mended, **files}))
    assert shop.faults == ()
    assert kind in [layer.kind for layer in shop.designs["harbour"].faces["round"]]


def test_no_face_and_empty_face(make_shop: MakeShop) -> None:
    head = DESIGN.split("faces:")[0]
    shop = read_shop(make_shop({"designs/bare/design.md": head + "faces: {}\n---\n"}))
    the_fault(shop, "designs/bare/design.md", 5, "no face is drawn")
    shop = read_shop(make_shop({"designs/bare/design.md": head + "faces: {front: []}\n---\n"}))
    the_fault(shop, "designs/bare/design.md", 5, "face front has no layer")


def test_art_pattern_and_placed_colour(make_shop: MakeShop) -> None:
    text = DESIGN.replace(
        PHOTO,
        '    - colour: {colour: "#ABC", at: [0 %, 0 %, 50 %, 100 %]}\n'
        '    - {colour: "#123456", at: [0 mm, 0 mm, 5 mm, 5 mm]}\n'
        "    - pattern: {file: wave.png, repeat: 24 mm, at: fill}\n"
        "    - pattern: {file: wave.png, repeat: 24 mm, lay: half-drop}\n"
        "    - art: {file: art/gull.png, at: [-5 mm, 0 %, 50 %, 50 %]}\n"
        "    - words: {text: '12:30', at: [0 %, 0 %, 10 %, 10 %], size: 12 pt}\n",
    )
    shop = read_shop(
        make_shop(
            {
                "designs/art/design.md": text,
                "designs/art/wave.png": b"x",
                "designs/art/art/gull.png": b"x",
            }
        )
    )
    assert shop.faults == ()
    design = shop.designs["art"]
    _, placed, beside, pattern, dropped, art, words = design.faces["round"][:7]
    assert (placed.colour, beside.colour) == ("#aabbcc", "#123456")
    assert placed.at is not None and beside.at is not None and beside.at.width.value == 5
    assert (pattern.file, pattern.repeat_mm) == (design.folder / "wave.png", 24)
    assert (pattern.lay, dropped.lay, dropped.at) == ("straight", "half-drop", None)
    assert art.file == design.folder / "art" / "gull.png"
    assert art.at is not None and art.at.left.value == -5
    assert (words.text, words.slot, words.font) == ("12:30", "", "Caladea")
    assert words.size_mm == pytest.approx(12 * 25.4 / 72)


SAMPLE = "sample: {photos: {photo: pier.jpg}, words: {name: NO}, cloth: sky}\n---\nA "


def test_the_sample_is_read(make_shop: MakeShop) -> None:
    shop = read_shop(
        make_shop({FILE: DESIGN.replace("---\nA ", SAMPLE), "designs/harbour/pier.jpg": b"x"})
    )
    assert shop.faults == ()
    design = shop.designs["harbour"]
    assert dict(design.sample_photos) == {"photo": design.folder / "pier.jpg"}
    assert (dict(design.sample_words), design.sample_cloth) == ({"name": "NO"}, "sky")


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("{photo: pier.jpg}", "{phot: pier.jpg}", "did you mean “photo”?"),
        ("{photo: pier.jpg}", "{photo: peir.jpg}", "did you mean “pier.jpg”?"),
        ("{name: NO}", "{nam: NO}", "did you mean “name”?"),
        ("cloth: sky", "cloth: skye", "did you mean “sky”?"),
        ("cloth: sky", "colour: sky", "not known in the sample"),
    ],
)
def test_a_wrong_sample(make_shop: MakeShop, old: str, new: str, words: str) -> None:
    shop = read_shop(
        make_shop(
            {
                FILE: DESIGN.replace("---\nA ", SAMPLE.replace(old, new)),
                "designs/harbour/pier.jpg": b"x",
                "orders/": None,
            }
        )
    )
    the_fault(shop, FILE, 11, words)


def test_prices_are_exact(make_shop: MakeShop) -> None:
    shop = read_shop(
        make_shop({FILE: DESIGN.replace("14.50", "{10: 10.1, 1: '12', 100: 9,90}")}),
    )
    # A comma in a flow map parts the entries: 9 and a key 90 without a value.
    assert [t[:2] for t in told(shop)] == [(FILE, 4), ("orders/fenn/order.yaml", 4)]
    shop = read_shop(make_shop({FILE: DESIGN.replace("14.50", "{10: 10.1, 1: '12'}")}))
    assert shop.designs["harbour"].offered["my-wrap"] == (
        (1, Decimal("12.00")),
        (10, Decimal("10.10")),
    )


def test_a_link_that_leaves_the_design_is_refused(make_shop: MakeShop, tmp_path: Path) -> None:
    outside = tmp_path / "secret.png"
    outside.write_bytes(b"x")
    folder = make_shop(
        {
            FILE: DESIGN.replace(PHOTO, "    - art: {file: gull.png}\n"),
            "orders/": None,
        }
    )
    (folder / "designs" / "harbour" / "gull.png").symlink_to(outside)
    the_fault(read_shop(folder), FILE, 8, "link that leads out")


def with_labels(labels: str) -> str:
    return DESIGN.replace("---\nA ", f"labels: {labels}\n---\nA ")


def test_labels_are_what_people_call_a_place(make_shop: MakeShop) -> None:
    shop = read_shop(make_shop({FILE: with_labels("{name: the boat’s name, photo: NO}")}))
    assert shop.faults == ()
    design = shop.designs["harbour"]
    assert (design.label("name"), design.label("photo")) == ("the boat’s name", "NO")
    assert design.label("second-line") == "second line", "a place without a label says its name"


@pytest.mark.parametrize(
    ("labels", "said"),
    [
        ("{nmae: the name}", "did you mean “name”"),
        ("{name: here, photo: here}", "two places are called “here”"),
        ("{name: ''}", "is empty"),
        ("[name]", "labels"),
    ],
)
def test_a_label_that_names_nothing_is_told(make_shop: MakeShop, labels: str, said: str) -> None:
    shop = read_shop(make_shop({FILE: with_labels(labels), "orders/": None}))
    line = with_labels(labels).split("labels:")[0].count("\n") + 1
    the_fault(shop, FILE, line, said)
