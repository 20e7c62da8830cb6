"""What changed between two proofs, in sentences a customer could be sent."""

from __future__ import annotations

import copy
from typing import Any

import pytest

from proofgen.say import pieces
from proofgen.say.tongue import Tongue
from proofgen.signoff import changes, differences, in_words
from proofgen.signoff.layers import text_was

ENGLISH = Tongue()


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
     ["Piece 4 · Name was “Zoë”, is now “Zoe”."]),
    (lambda d, x: x["variants"][0]["words"].update(name="Odalis"),
     ["Pieces 1 and 2 · Name was “Odalys”, is now “Odalis”."]),
    (lambda d, x: [v["words"].update(date="13 June") for v in x["variants"]],
     ["Date was “12 June”, is now “13 June”."]),
    (lambda d, x: x["variants"][1]["words"].pop("date"),
     ["Piece 3 · Date was “12 June”, is empty now."]),
    (lambda d, x: x["variants"][1]["words"].update(motto="Ahoy\nthere\x1b"),
     ["Piece 3 · Motto was empty, is now “Ahoy / there⟨U+001B⟩”."]),
    (lambda d, x: x.update(design="dune"),
     ["The design was “harbour-photo”, is now “dune”."]),
    (lambda d, x: x.update(blank="can-fold"),
     ["The blank was “can-wrap-linen”, is now “can-fold”."]),
    (lambda d, x: x.update(cloth="sky", cloth_colour="#6fb7e9"),
     ["The cloth was “white”, is now “sky”."]),
    (lambda d, x: x.update(cloth_colour="#fdfdfd"),
     ["The colour of the cloth was “#ffffff”, is now “#fdfdfd”."]),
    (lambda d, x: x.update(quantity=6), ["The number of pieces was 4, is now 6."]),
    (lambda d, x: x["variants"].pop(), ["Piece 4: taken out."]),
    (lambda d, x: x["variants"].append(variant([5, 6, 7, 9])),
     ["Pieces 5 to 7 and 9: new."]),
    (lambda d, x: d["lines"].append({**x, "line": 2}),
     ["Line 2 is new: 4 × harbour-photo on can-wrap-linen, white."]),
    (lambda d, x: d["lines"].clear(),
     ["Line 1 was taken out: 4 × harbour-photo on can-wrap-linen, white."]),
    (lambda d, x: d.update(ppi=240.0),
     ["The number of pixels per inch was 300, is now 240."]),
    (lambda d, x: every_layer(x, 3, picture="1b" * 32, crop=[0, 0, 1, 1]),
     ["Photo: another picture than before."]),
    (lambda d, x: every_layer(x, 3, picture=None), ["Photo: missing."]),
    (lambda d, x: every_layer(x, 3, crop=[0, 20, 4000, 1700]),
     ["Photo: cut differently."]),
    (lambda d, x: every_layer(x, 3, zoom=1.5, crop=[9, 20, 4000, 1700]),
     ["Photo: cut differently.",
      "Photo: the zoom was 1.2, is now 1.5."]),
    (lambda d, x: every_layer(x, 3, turn=90, crop=[9, 20, 4000, 1700]),
     ["Photo: turned another way."]),
    (lambda d, x: x["variants"][1]["faces"]["round"][3].update(focus=[0.1, 0.4]),
     ["Piece 3 · Photo: cut differently."]),
    (lambda d, x: every_layer(x, 2, picture="1a" * 32),
     ["Drawing: another picture than before."]),
    (lambda d, x: every_layer(x, 1, picture="1d" * 32),
     ["Pattern: another picture than before."]),
    (lambda d, x: every_layer(x, 1, repeat=36.2),
     ["Pattern: the repeat was 31.0121\N{NO-BREAK SPACE}mm, is now 36.2\N{NO-BREAK SPACE}mm."]),
    (lambda d, x: every_layer(x, 1, lay="brick"),
     ["Pattern: the way it is laid was straight, is now brick."]),
    (lambda d, x: every_layer(x, 0, colour="#000000"),
     ["Plain colour was #fff2cc, is now #000000."]),
    (lambda d, x: every_layer(x, 4, font="Manrope", font_file="1c" * 32),
     ["Name: the font was Caladea, is now Manrope."]),
    (lambda d, x: every_layer(x, 4, font_file="1c" * 32),
     ["Name: another version of the font Caladea."]),
    (lambda d, x: every_layer(x, 4, size=8.0),
     ["Name: the size of its letters was 9\N{NO-BREAK SPACE}mm, is now 8\N{NO-BREAK SPACE}mm."]),
    (lambda d, x: every_layer(x, 4, align="left"),
     ["Name: the side it is set to was centred, is now left."]),
    (lambda d, x: every_layer(x, 4, colour="#ff0000"),
     ["Name: the colour was #1b2a41, is now #ff0000."]),
    (lambda d, x: every_layer(x, 4, runs=[]),
     ["Name: set a little differently."]),
    (lambda d, x: every_layer(x, 4, rect=[1.0, 0.0, 9.0, 9.0], runs=[]),
     ["Name: another place or size."]),
    (lambda d, x: [v["faces"]["round"].pop(4) for v in x["variants"]],
     ["Name: taken out."]),
    (lambda d, x: every_layer(x, 5, text="with joy"),
     ["Text of the design was “with love”, is now “with joy”."]),
    (lambda d, x: every_layer(x, 3, rect=[1.0, 0.0, 100.0, 80.0]),
     ["Photo: another place or size."]),
    (lambda d, x: [v["faces"]["round"].pop(2) for v in x["variants"]],
     ["Drawing: taken out."]),
    (lambda d, x: [v["faces"]["round"].append(layer("art", picture="a")) for v in x["variants"]],
     ["Drawing: new."]),
    (lambda d, x: [v["faces"]["round"].reverse() for v in x["variants"]],
     ["What lies over what changed."]),
    (lambda d, x: [v.update(drawn=["front"]) for v in x["variants"]],
     ["The order in which its faces are drawn changed."]),
    (lambda d, x: geometry(x, panels={"a": [240.0, 99.5]}),
     ["The size of the blank was 237.6 × 99.5 mm, is now 240 × 99.5 mm."]),
    (lambda d, x: geometry(x, bleed=4.0),
     ["The ink beyond the edge was 6\N{NO-BREAK SPACE}mm, is now 4\N{NO-BREAK SPACE}mm."]),
    (lambda d, x: geometry(x, way_round=210.5),
     ["The way round the can was 217.084\N{NO-BREAK SPACE}mm, is now 210.5\N{NO-BREAK SPACE}mm."]),
    (lambda d, x: geometry(x, on_top="left"),
     ["The end on top was right, is now left."]),
    (lambda d, x: geometry(x, zones=[]),
     ["A strip that no eye sees later lies elsewhere or has another size."]),
    (lambda d, x: geometry(x, faces=["other"]), ["The measures of the blank changed."]),
    (lambda d, x: x.update(construction="flat"),
     ["Something in its layout changed."]),
    (lambda d, x: d.update(schema="proofgen/artwork/2"),
     ["Something in how the artwork is described changed."]),
]  # fmt: skip


@pytest.mark.parametrize(("change", "told"), CASES)
def test_a_change_is_told(change, told):
    old, new = document(), document()
    change(new, new["lines"][0])
    before = copy.deepcopy(old)
    assert changes(old, new, ENGLISH) == told
    assert changes(new, old, ENGLISH), "the other way round there is something to tell as well"
    assert old == before


def test_no_change_tells_nothing():
    assert changes(document(), document(), ENGLISH) == []
    assert changes({}, {}, ENGLISH) == []


def test_another_blank_does_not_drown_the_rest():
    old, new = document(), document()
    line = new["lines"][0]
    line["blank"] = "can-fold"
    geometry(line, panels={"a": [120.0, 214.0]}, way_round=None, on_top=None)
    every_layer(line, 3, rect=[0.0, 0.0, 50.0, 40.0], crop=[0, 0, 9, 9])
    every_layer(line, 4, rect=[0.0, 0.0, 50.0, 40.0], runs=[])
    assert changes(old, new, ENGLISH) == [
        "The blank was “can-wrap-linen”, is now “can-fold”.",
        "Photo: cut differently.",
    ]


def test_faces_are_named_where_there_are_two():
    old, new = document(), document()
    for doc in (old, new):
        for one in doc["lines"][0]["variants"]:
            one["faces"]["back"] = copy.deepcopy(one["faces"]["round"][2:3])
    for one in new["lines"][0]["variants"]:
        one["faces"]["back"][0]["picture"] = "1a" * 32
    assert changes(old, new, ENGLISH) == ["Drawing (back): another picture than before."]


def test_a_long_list_is_counted():
    old, new = document(), document()
    old["lines"][0]["variants"] = [variant([n], name=f"Guest {n}") for n in range(1, 101)]
    new["lines"][0]["variants"] = [variant([n], name=f"guest {n}") for n in range(1, 101)]
    told = changes(old, new, ENGLISH)
    assert len(told) == 13
    assert told[0] == "Piece 1 · Name was “Guest 1”, is now “guest 1”."
    assert told[-1] == "And 88 more changes."


def test_the_line_is_named_where_there_are_several():
    old, new = document(), document()
    for doc in (old, new):
        doc["lines"].append({**copy.deepcopy(doc["lines"][0]), "line": 2})
    new["lines"][1]["quantity"] = 6
    new["lines"][1]["variants"][2]["words"]["name"] = "Zoe"
    assert changes(old, new, ENGLISH) == [
        "Line 2 · The number of pieces was 4, is now 6.",
        "Line 2, Piece 4 · Name was “Zoë”, is now “Zoe”.",
    ]


# Texts that look the same, and how each is told.
UNSEEN = [
    ("Marek", "M\u0430rek", "M⟨U+0061 latin small letter a⟩rek",
     "M⟨U+0430 cyrillic small letter a⟩rek"),
    ("Zoë", "Zoe\u0308", "Zo⟨U+00EB latin small letter e with diaeresis⟩",
     "Zo⟨U+0065 latin small letter e⟩⟨U+0308 combining diaeresis⟩"),
    ("Ann Lee", "Ann\u00a0Lee", "Ann⟨U+0020 space⟩Lee", "Ann⟨U+00A0 no-break space⟩Lee"),
    ("Ann", "Ann ", "Ann", "Ann⟨U+0020 space⟩"),
    ("Ann", "A\u200dnn", "Ann", "A⟨U+200D zero width joiner⟩nn"),
    ("Marek", "Marec", "Marek", "Marec"),
]  # fmt: skip


@pytest.mark.parametrize(("then", "now", "said", "says"), UNSEEN)
def test_what_nobody_can_see_is_written_out(then, now, said, says):
    old, new = document(), document()
    old["lines"][0]["variants"][1]["words"]["name"] = then
    new["lines"][0]["variants"][1]["words"]["name"] = now
    (told,) = differences(old, new, ENGLISH)
    assert told.says == f"Piece 3 · Name was “{said}”, is now “{says}”."
    assert (told.slot, told.pieces, told.old, told.new) == ("name", (3,), then, now)


def test_a_difference_tells_its_pieces_and_texts_apart_from_its_sentence():
    old, new = document(), document()
    for one in new["lines"][0]["variants"]:
        one["words"]["date"] = "13 June"
    every_layer(new["lines"][0], 3, zoom=2.0)
    words, zoom = differences(old, new, ENGLISH)
    assert (words.slot, words.old, words.new) == ("date", "12 June", "13 June")
    assert words.pieces == () and words.line == 1
    assert zoom.slot == zoom.old == zoom.new == ""


def test_titles_and_labels_stand_for_ids(tmp_path):
    from proofgen.shop import read_shop
    from tests.cli.small import make_shop

    folder = make_shop(tmp_path / "shop", "fenn")
    design = folder / "designs" / "tag" / "design.md"
    design.write_text(design.read_text().replace("sample:", "labels: {name: Whose}\nsample:"))
    old, new = document(), document()
    for doc in (old, new):
        doc["lines"][0] |= {"design": "tag", "blank": "coaster-round"}
    new["lines"][0]["variants"][2]["words"]["name"] = "Zoe"
    every_layer(new["lines"][0], 4, size=8.0)
    worded = [in_words(doc, read_shop(folder)) for doc in (old, new)]
    told = changes(*worded, ENGLISH)
    assert told[0] == "Piece 4 · Whose was “Zoë”, is now “Zoe”."
    assert told[1].startswith("Whose: the size of its letters was 9")
    assert worded[0]["lines"][0]["design"] == "Plain tag"


def test_what_is_no_longer_in_the_shop_keeps_its_id(tmp_path):
    from proofgen.shop import read_shop
    from tests.cli.small import make_shop

    shop = read_shop(make_shop(tmp_path / "shop", "fenn"))
    old = document()
    old["lines"][0] |= {"design": "tag", "blank": "gone-sleeve"}
    (line,) = in_words(old, shop)["lines"]
    assert (line["design"], line["blank"]) == ("Plain tag", "gone-sleeve")
    old["lines"][0] |= {"design": "gone-tag", "blank": "coaster-round"}
    (line,) = in_words(old, shop)["lines"]
    assert (line["design"], line["blank"]) == ("gone-tag", shop.blanks["coaster-round"].name)
    assert line["variants"] == old["lines"][0]["variants"]


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


@pytest.mark.parametrize(
    ("language", "marks"), [("en", "“{}”"), ("de", "„{}“"), ("es", "«{}»"), ("ar", "«{}»")]
)
@pytest.mark.parametrize("new", ["Marec", "Mar\u00a0ek"])
def test_texts_stand_in_the_marks_of_the_language(language, marks, new):
    old = "Marek" if new == "Marec" else "Mar ek"
    tongue = Tongue(language)
    says = "".join(clause.says for clause in text_was(tongue, "name", old, new))
    says = says.replace("\u2068", "").replace("\u2069", "")
    for text in (old, new) if new == "Marec" else ("Mar⟨U+0020 space⟩ek",):
        assert marks.format(text) in says
    assert "“" not in says or language in ("en", "de")
