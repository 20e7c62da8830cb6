"""What changed between two proofs, in sentences a customer could be sent."""

from __future__ import annotations

import copy
from typing import Any

import pytest

from proofgen.say import pieces
from proofgen.signoff import changes


def layer(kind: str, **over: Any) -> dict[str, Any]:
    return {"kind": kind, "rect": [0.0, 0.0, 100.0, 80.0], "fill": False, **over}


def variant(numbers: list[int], **words: str) -> dict[str, Any]:
    name = words.get("name", "")
    return {
        "pieces": numbers,
        "words": words,
        "geometry": {
            "panels": {"a": [237.6, 99.5]},
            "faces": [],
            "zones": [{"kind": "closure", "panel": "a", "rect": [0, 0, 22.9, 99.5], "face": None}],
            "canvases": {},
            "bleed": 6.0,
            "safe": 5.0,
            "corner": 0.0,
            "on_top": "right",
            "way_round": 217.084,
        },
        "faces": {
            "round": [
                layer("colour", colour="#fff2cc"),
                layer("pattern", picture="0d" * 32, crop=None, repeat=31.0121),
                layer("art", picture="0a" * 32, crop=None),
                layer("photo", slot="photo", picture="0b" * 32, crop=[0, 10, 4000, 1700], zoom=1.2,
                      focus=[0.5, 0.4]),
                layer("words", slot="name", text=name, font="Caladea", font_file="0c" * 32,
                      size=9.0, align="centre", colour="#1b2a41", runs=[{"text": name, "x": 1.0}]),
                layer("words", slot="", text="with love", font="Caladea", font_file="0c" * 32,
                      size=4.0, align="left", colour="#1b2a41", runs=[]),
            ]
        },
        "drawn": ["round"],
    }  # fmt: skip


def document() -> dict[str, Any]:
    return {
        "schema": "proofgen/artwork/1",
        "order": "fenn",
        "ppi": 300.0,
        "lines": [
            {
                "line": 1,
                "design": "harbour-photo",
                "blank": "can-wrap-linen",
                "construction": "wrap",
                "cloth": "white",
                "cloth_colour": "#ffffff",
                "quantity": 4,
                "variants": [
                    variant([1, 2], name="Odalys", date="12 June"),
                    variant([3], name="Bram", date="12 June"),
                    variant([4], name="Zoë", date="12 June"),
                ],
            }
        ],
    }


def every_layer(line: dict[str, Any], at: int, **over: Any) -> None:
    for one in line["variants"]:
        one["faces"]["round"][at] |= over


def geometry(line: dict[str, Any], **over: Any) -> None:
    for one in line["variants"]:
        one["geometry"] |= over


CASES = [
    (lambda d, x: x["variants"][2]["words"].update(name="Zoe"),
     ["Line 1, piece 4: name was “Zoë”, is now “Zoe”."]),
    (lambda d, x: x["variants"][0]["words"].update(name="Odalis"),
     ["Line 1, pieces 1 and 2: name was “Odalys”, is now “Odalis”."]),
    (lambda d, x: [v["words"].update(date="13 June") for v in x["variants"]],
     ["Line 1: date was “12 June”, is now “13 June”."]),
    (lambda d, x: x["variants"][1]["words"].pop("date"),
     ["Line 1, piece 3: date was “12 June”, is now empty."]),
    (lambda d, x: x["variants"][1]["words"].update(motto="Ahoy\nthere\x1b"),
     ["Line 1, piece 3: motto was empty, is now “Ahoy / there⟨U+001B⟩”."]),
    (lambda d, x: x.update(design="dune"),
     ["Line 1: the design was “harbour-photo”, is now “dune”."]),
    (lambda d, x: x.update(blank="can-fold"),
     ["Line 1: the blank was “can-wrap-linen”, is now “can-fold”."]),
    (lambda d, x: x.update(cloth="sky", cloth_colour="#6fb7e9"),
     ["Line 1: the cloth was “white”, is now “sky”."]),
    (lambda d, x: x.update(cloth_colour="#fdfdfd"),
     ["Line 1: the colour of the cloth was “#ffffff”, is now “#fdfdfd”."]),
    (lambda d, x: x.update(quantity=6), ["Line 1: the quantity was 4, is now 6."]),
    (lambda d, x: x["variants"].pop(), ["Line 1: piece 4 was taken out."]),
    (lambda d, x: x["variants"].append(variant([5, 6, 7, 9])),
     ["Line 1: pieces 5 to 7 and 9 are new."]),
    (lambda d, x: d["lines"].append({**x, "line": 2}),
     ["Line 2 is new (4 × harbour-photo on can-wrap-linen, white)."]),
    (lambda d, x: d["lines"].clear(),
     ["Line 1 was taken out (4 × harbour-photo on can-wrap-linen, white)."]),
    (lambda d, x: d.update(ppi=240.0),
     ["The press picture had 300 pixels per inch, now has 240."]),
    (lambda d, x: every_layer(x, 3, picture="1b" * 32, crop=[0, 0, 1, 1]),
     ["Line 1: the photo is another picture."]),
    (lambda d, x: every_layer(x, 3, picture=None), ["Line 1: the photo is missing."]),
    (lambda d, x: every_layer(x, 3, crop=[0, 20, 4000, 1700]),
     ["Line 1: the photo is cut differently."]),
    (lambda d, x: every_layer(x, 3, zoom=1.5, crop=[9, 20, 4000, 1700]),
     ["Line 1: the photo is cut differently.",
      "Line 1: the zoom of the photo was 1.2, is now 1.5."]),
    (lambda d, x: x["variants"][1]["faces"]["round"][3].update(focus=[0.1, 0.4]),
     ["Line 1, piece 3: the photo is cut differently."]),
    (lambda d, x: every_layer(x, 2, picture="1a" * 32),
     ["Line 1: the art is another picture."]),
    (lambda d, x: every_layer(x, 1, picture="1d" * 32),
     ["Line 1: the pattern is another picture."]),
    (lambda d, x: every_layer(x, 1, repeat=36.2),
     ["Line 1: the repeat of the pattern was 31.0121 mm, is now 36.2 mm."]),
    (lambda d, x: every_layer(x, 1, lay="brick"),
     ["Line 1: the pattern was laid straight, is now laid brick."]),
    (lambda d, x: every_layer(x, 0, colour="#000000"),
     ["Line 1: the plain colour was #fff2cc, is now #000000."]),
    (lambda d, x: every_layer(x, 4, font="Manrope", font_file="1c" * 32),
     ["Line 1: the font of the words “name” was Caladea, is now Manrope."]),
    (lambda d, x: every_layer(x, 4, font_file="1c" * 32),
     ["Line 1: the font of the words “name” is another version of Caladea."]),
    (lambda d, x: every_layer(x, 4, size=8.0),
     ["Line 1: the letters of the words “name” were set 9 mm high, are now 8 mm."]),
    (lambda d, x: every_layer(x, 4, align="left"),
     ["Line 1: the words “name” were set centre, are now set left."]),
    (lambda d, x: every_layer(x, 4, colour="#ff0000"),
     ["Line 1: the colour of the words “name” was #1b2a41, is now #ff0000."]),
    (lambda d, x: every_layer(x, 4, runs=[]),
     ["Line 1: the words “name” lie a little differently."]),
    (lambda d, x: every_layer(x, 4, rect=[1.0, 0.0, 9.0, 9.0], runs=[]),
     ["Line 1: the words “name” lie elsewhere or have another size."]),
    (lambda d, x: [v["faces"]["round"].pop(4) for v in x["variants"]],
     ["Line 1: the words “name” were taken out."]),
    (lambda d, x: every_layer(x, 5, text="with joy"),
     ["Line 1: the words of the design were “with love”, are now “with joy”."]),
    (lambda d, x: every_layer(x, 3, rect=[1.0, 0.0, 100.0, 80.0]),
     ["Line 1: the photo lies elsewhere or has another size."]),
    (lambda d, x: [v["faces"]["round"].pop(2) for v in x["variants"]],
     ["Line 1: the art was taken out."]),
    (lambda d, x: [v["faces"]["round"].append(layer("art", picture="a")) for v in x["variants"]],
     ["Line 1: the art is new."]),
    (lambda d, x: [v["faces"]["round"].reverse() for v in x["variants"]],
     ["Line 1: what lies over what changed."]),
    (lambda d, x: [v.update(drawn=["front"]) for v in x["variants"]],
     ["Line 1: the order in which its faces are drawn changed."]),
    (lambda d, x: geometry(x, panels={"a": [240.0, 99.5]}),
     ["Line 1: the blank's size was 237.6 × 99.5 mm, is now 240 × 99.5 mm."]),
    (lambda d, x: geometry(x, bleed=4.0),
     ["Line 1: the ink beyond the edge was 6 mm, is now 4 mm."]),
    (lambda d, x: geometry(x, way_round=210.5),
     ["Line 1: the way round the can was 217.084 mm, is now 210.5 mm."]),
    (lambda d, x: geometry(x, on_top="left"),
     ["Line 1: the end on top was “right”, is now “left”."]),
    (lambda d, x: geometry(x, zones=[]), ["Line 1: the closure strip moved or resized."]),
    (lambda d, x: geometry(x, faces=["other"]), ["Line 1: the measures of the blank changed."]),
    (lambda d, x: x.update(construction="flat"),
     ["Line 1: something in its layout changed."]),
    (lambda d, x: d.update(schema="proofgen/artwork/2"),
     ["Something in how the artwork is described changed."]),
]  # fmt: skip


@pytest.mark.parametrize(("change", "told"), CASES)
def test_a_change_is_told(change, told):
    old, new = document(), document()
    change(new, new["lines"][0])
    before = copy.deepcopy(old)
    assert changes(old, new) == told
    assert changes(new, old), "the other way round there is something to tell as well"
    assert old == before


def test_no_change_tells_nothing():
    assert changes(document(), document()) == []
    assert changes({}, {}) == []


def test_another_blank_does_not_drown_the_rest():
    old, new = document(), document()
    line = new["lines"][0]
    line["blank"] = "can-fold"
    geometry(line, panels={"a": [120.0, 214.0]}, way_round=None, on_top=None)
    every_layer(line, 3, rect=[0.0, 0.0, 50.0, 40.0], crop=[0, 0, 9, 9])
    every_layer(line, 4, rect=[0.0, 0.0, 50.0, 40.0], runs=[])
    assert changes(old, new) == [
        "Line 1: the blank was “can-wrap-linen”, is now “can-fold”.",
        "Line 1: the photo is cut differently.",
    ]


def test_faces_are_named_where_there_are_two():
    old, new = document(), document()
    for doc in (old, new):
        for one in doc["lines"][0]["variants"]:
            one["faces"]["back"] = copy.deepcopy(one["faces"]["round"][2:3])
    for one in new["lines"][0]["variants"]:
        one["faces"]["back"][0]["picture"] = "1a" * 32
    assert changes(old, new) == ["Line 1: the art is another picture on the face “back”."]


def test_a_long_list_is_counted():
    old, new = document(), document()
    old["lines"][0]["variants"] = [variant([n], name=f"Guest {n}") for n in range(1, 101)]
    new["lines"][0]["variants"] = [variant([n], name=f"guest {n}") for n in range(1, 101)]
    told = changes(old, new)
    assert len(told) == 13
    assert told[0] == "Line 1, piece 1: name was “Guest 1”, is now “guest 1”."
    assert told[-1] == "Line 1: and 88 more changes."


@pytest.mark.parametrize(
    ("numbers", "told"),
    [
        ([3], "piece 3"),
        ([1, 2], "pieces 1 and 2"),
        ([4, 1, 2, 3], "pieces 1 to 4"),
        ([1, 2, 5, 7, 8, 9], "pieces 1, 2, 5 and 7 to 9"),
    ],
)
def test_pieces_are_listed_as_people_do(numbers, told):
    assert pieces(numbers) == told
