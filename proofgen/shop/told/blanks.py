"""What the lines of a blank are for."""

from __future__ import annotations

from collections.abc import Mapping

from proofgen.shop.told.line import LineTold, needed

_WIDE = ("fold", "sewn", "rectangle", "rounded")
_HIGH = ("wrap", *_WIDE)

BLANK: Mapping[str, LineTold] = {
    "name": needed("what you call it", "Standard can wrap, linen-look"),
    "called": LineTold("what customers read", "Wrap sleeve, linen-look"),
    "construction": needed("how it is made: wrap, fold, sewn or flat", "wrap"),
    "vessel.diameter": needed(
        "how wide the can is, or `round 207.6 mm` for a tape laid round it", "66.1 mm", "wrap"
    ),
    "shape": LineTold(
        "of a flat one: rectangle, rounded or round", "rounded", "rectangle", of=("flat",)
    ),
    "length": needed("of the cloth lying flat, from end to end", "240 mm", "wrap"),
    "width": needed("of the flat cloth, or of one face", "120 mm", *_WIDE),
    "diameter": needed("across the middle", "90 mm", "round"),
    "height": needed(
        "of the cloth; of a fold the whole flat cloth, front and back", "214 mm", *_HIGH
    ),
    "corner": needed("the radius of a corner", "8 mm", "rounded"),
    "thickness": LineTold("of the cloth; a wrap must have it", "3 mm", "0 mm"),
    "closure.width": needed("how wide the hook-and-loop strip is, across it", "30 mm", "wrap"),
    "closure.shortest": needed(
        "the least overlap that holds; under a strip, the least of each end", "10 mm", "wrap"
    ),
    "closure.on_top": needed(
        "the end that lies on top, seen print side up; neither: they meet under a strip",
        "right",
        "wrap",
    ),
    "closure.on": LineTold(
        "the side the hook-and-loop is on, seen print side up: back or front", "back", of=("wrap",)
    ),
    "seam": LineTold("cloth that goes into the seam, at each side", "6 mm", "0 mm", of=("fold",)),
    "fold": LineTold(
        "the strip round the bottom, between front and back", "4 mm", "0 mm", of=("fold",)
    ),
    "hem": LineTold("what is turned over at each opening", "5 mm", "0 mm", of=("fold",)),
    "base": LineTold("the part of each face that lies under the can", "2 mm", "0 mm", of=("fold",)),
    "gap": LineTold(
        "how far from the seam the press stops, or from the edge of a flat one, at each side",
        "4 mm",
        "0 mm",
        of=("sewn", "rectangle", "rounded"),
    ),
    "holes": LineTold(
        "punched holes, one entry for each", "[{x: 45 mm, y: 12 mm, diameter: 5 mm}]"
    ),
    "holes.x": needed("its middle, from the left of the blank lying print side up", "45 mm"),
    "holes.y": needed("its middle, from the top", "12 mm"),
    "holes.diameter": needed("how wide it is", "5 mm"),
    "bleed": needed("how far ink may run past the edge", "6 mm"),
    "safe": needed("how far from the edge words stay", "5 mm"),
    "shrink.x": LineTold("what the press takes from its width; a trial finds it", "1 %", "0 %"),
    "shrink.y": LineTold("the same of its height", "0.5 %", "0 %"),
    "cloth.finish": LineTold("how it looks: linen-look, foam or smooth", "linen-look"),
    "cloth.polyester": LineTold("share of the fibre that takes the dye", "100 %"),
    "cloth.colours.*": needed("a colour of the cloth, by a name of yours", '"#6fb7e9"'),
    "cloth.correction.*.*": LineTold(
        "what was read off a pressed swatch, by the colour asked for", '"#7a1f2a"'
    ),
    "press.heat": needed("of the press, in C or F or both", "200 C (392 F)"),
    "press.time": needed("under the press", "60 s"),
    "press.pressure": LineTold("light, medium or firm", "firm", "medium"),
    "press.sides": LineTold(
        "how many sides are pressed, of a wrap or fold; of a sewn one those that get ink",
        "2",
        "1",
        of=("wrap", "fold", "sewn"),
    ),
    "press.preheat": LineTold("bare cloth under the press, before", "10 s", "0 s"),
    "press.from": LineTold(
        "whose figures these are: maker (of the blank), ink (its maker), trial or practice",
        "maker",
        "practice",
    ),
    "press.tried": LineTold("the day of the trial they come from", "2026-11-20"),
    "press.peel": LineTold("when the paper comes off: hot or cold", "hot"),
    "press.edge": LineTold("the paper’s edges: torn or cut", "torn"),
    "press.hold": LineTold("what holds the paper: spray or tape", "tape"),
    "cost": LineTold("what one costs you", "1.10"),
    "stock.*": LineTold("how many of this cloth lie there", "24"),
    "stock.*.pieces": needed("the same, with a day or moment of its own", "24"),
    "stock.*.counted": LineTold("when this cloth was counted", "2026-11-20 21:40"),
    "stock.counted": LineTold("the day on which all were counted, its morning", "2026-11-20"),
    "note": LineTold("anything you want to remember of it", "Measure each new lot."),
}
