"""What the lines of a design and of a season are for."""

from __future__ import annotations

from collections.abc import Mapping

from proofgen.shop.told.line import LineTold, needed

_AT = "where it lies: fill, or left, top, width and height, in % of the face or in mm"
_BOX = "[10 %, 70 %, 80 %, 20 %]"


def _layers(face: str) -> Mapping[str, LineTold]:
    """What each kind of layer may have, on one face."""
    return {
        f"faces.{face}.{key}": told
        for key, told in {
            "at": LineTold("where a plain ground lies", _BOX, "fill", of=("plain",)),
            "colour": LineTold("a plain ground, as a colour alone", '"#dfe9dc"', of=("plain",)),
            "colour.colour": needed("the colour of a plate", '"#fdf6e6"', "colour"),
            "colour.at": LineTold(_AT, _BOX, "fill", of=("colour",)),
            "photo.slot": needed("the slot for a photo of the customer", "photo", "photo"),
            "photo.at": LineTold(_AT, "fill", "fill", of=("photo",)),
            "art.file": needed("a picture of yours, in the design’s folder", "art.png", "art"),
            "art.at": LineTold(_AT, _BOX, "fill", of=("art",)),
            "pattern.file": needed("one repeat of a pattern", "art.png", "pattern"),
            "pattern.repeat": needed("how wide one repeat is", "30 mm", "pattern"),
            "pattern.lay": LineTold("how repeats lie", "half-drop", "straight", of=("pattern",)),
            "pattern.at": LineTold(_AT, "fill", "fill", of=("pattern",)),
            "words.slot": needed("the slot for words of the customer", "name", "words"),
            "words.text": needed(
                "instead of a slot: words that are always there", '"est. 2019"', "text"
            ),
            "words.at": needed("the place words stand in, as above", _BOX, "words", "text"),
            "words.font": LineTold(
                "the typeface, by its name", "Caladea", "Caladea", of=("words", "text")
            ),
            "words.size": needed("the size of the type, at most", "9 mm", "words", "text"),
            "words.colour": LineTold(
                "their colour", '"#1b2a41"', '"#000000"', of=("words", "text")
            ),
            "words.align": LineTold(
                "how lines stand in their place", "left", "centre", of=("words", "text")
            ),
        }.items()
    }


DESIGN: Mapping[str, LineTold] = {
    "title": needed("what it is called, in catalogue and proof", "Harbour photo"),
    "occasions": LineTold(
        "what it is good for; the catalogue sorts by them", "[anniversary, gift]"
    ),
    "offered.*": needed("its price on a blank, by the blank’s short name", "14.50"),
    "offered.*.*": LineTold("its price from a quantity up", "12.00"),
    **_layers("front"),
    **_layers("back"),
    **_layers("round"),
    "labels.*": LineTold("what you and your customers call a slot", "the name below it"),
    "sample.photos.*": LineTold("what the catalogue shows in a slot for a photo", "art.png"),
    "sample.words.*": LineTold("what it shows in a slot for words", '"Your name"'),
    "sample.cloth": LineTold("the cloth it is shown on", "white"),
}

SEASON: Mapping[str, LineTold] = {
    "title": needed("what the season is called", "Winter"),
    "sentence": LineTold("one sentence for its cover", "Small warm things for cold hands."),
    "colour": LineTold("its own colour, for cover, rule and button", '"#1f6b45"'),
    "designs": needed("which designs, in their order", "[sample]"),
    "from": LineTold("the day it begins", "2026-11-01"),
    "due.*": LineTold("a day that people want things by, by your own name for it", "2026-12-24"),
    "until": LineTold("the day it ends; the last day to order follows from it", "2027-02-28"),
}
