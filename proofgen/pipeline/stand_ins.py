"""What stands in a catalogue's pictures where a design has no sample of its own."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from proofgen.model import ColourLayer, Design, PhotoLayer, WordsLayer
from proofgen.model.design import Amount, Box, Layer
from proofgen.say import capital
from proofgen.say.tongue import Tongue

_GROUND, _LINE = "#e4dfd5", "#6b655b"
_LINE_MM = 0.8
_WHOLE = Box(*(Amount(share, True) for share in (0.0, 0.0, 1.0, 1.0)))
# The frame, and the words in it, as shares of the photo's place: left, top, width, height. Of a
# face all the way round a third is seen well at once.
_FRAME, _FRAME_ROUND = (0.14, 0.18, 0.72, 0.64), (0.36, 0.18, 0.28, 0.64)
_LATIN = 0x250  # letters beyond these may be lacking in the usual font


def with_stand_ins(design: Design, tongue: Tongue) -> Design:
    """The design with something in each of its empty places; itself where it has none."""
    bare = [slot for slot in design.slots("photo") if slot not in design.sample_photos]
    untold = [slot for slot in design.slots("words") if not design.sample_words.get(slot)]
    if not bare and not untold:
        return design
    says = tongue.message("Your photo")  # as the page's own button has it
    faces = {
        name: tuple(
            each
            for layer in layers
            for each in (
                _framed(layer, says, name == "round")
                if isinstance(layer, PhotoLayer) and layer.slot in bare
                else (layer,)
            )
        )
        for name, layers in design.faces.items()
    }
    words = {slot: capital(design.label(slot)) for slot in untold}
    return replace(design, faces=faces, sample_words={**design.sample_words, **words})


def _framed(layer: PhotoLayer, says: str, is_round: bool) -> Iterator[Layer]:
    """A ground in the photo's place, with a frame and a few words in it."""
    at = layer.at or _WHOLE
    yield ColourLayer(colour=_GROUND, at=layer.at, place=layer.place)
    left, top, wide, high = _FRAME_ROUND if is_round and layer.at is None else _FRAME
    line = Amount(_LINE_MM, False)
    sides = [
        replace(_part(at, left, top, wide, high), height=line),
        replace(_part(at, left, top + high, wide, high), height=line),
        replace(_part(at, left, top, wide, high), width=line),
        replace(_part(at, left + wide, top, wide, high), width=line),
    ]
    for box in sides:
        if _is_known(at):
            yield ColourLayer(colour=_LINE, at=box, place=layer.place)
    if _is_known(at) and all(ord(letter) < _LATIN for letter in says):
        box = _part(at, left + 0.1 * wide, top + 0.36 * high, 0.8 * wide, 0.28 * high)
        yield WordsLayer(text=says, colour=_LINE, at=box, place=layer.place)


def _is_known(box: Box) -> bool:
    """Whether parts of a box can be told: its left and width, its top and height in one measure."""
    across = box.left.is_share == box.width.is_share or box.left.value == 0
    return across and (box.top.is_share == box.height.is_share or box.top.value == 0)


def _part(box: Box, left: float, top: float, wide: float, high: float) -> Box:
    """A part of a box, by shares of its sides."""
    return Box(
        Amount(box.left.value + left * box.width.value, box.width.is_share),
        Amount(box.top.value + top * box.height.value, box.height.is_share),
        Amount(wide * box.width.value, box.width.is_share),
        Amount(high * box.height.value, box.height.is_share),
    )
