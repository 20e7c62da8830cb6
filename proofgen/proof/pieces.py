"""All the pieces of a list, each as it is held: those set differently from the others first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from proofgen.geometry import FaceName
from proofgen.model import PlacedWords
from proofgen.model.name_lists import are_names
from proofgen.proof.content import Piece, picture
from proofgen.proof.said import Window, said_of
from proofgen.proof.shown import Look, Shown
from proofgen.say import sentences
from proofgen.say.parts import VIEWS
from proofgen.say.tongue import Tongue
from proofgen.views.cut import face_picture, on_face, shown_faces
from proofgen.views.ink import on_its_cloth
from proofgen.views.pictures import fitted

PIECE_WIDTH = 320  # px: twice what a page or a contact sheet gives each
_QUALITY = 70
_EXCEPTIONS = 0.25  # of all pieces: more than that are none
_EVEN = 0.005  # mm between sizes that are the same

Sizes = dict[tuple[str, str], tuple[float, int]]  # by face and slot: type size in mm, lines


def _sizes(look: Look) -> Sizes:
    return {
        (placed.face, placed.slot): (placed.size_mm, len(placed.runs))
        for placed in look.variant.layout.layers
        if isinstance(placed, PlacedWords) and placed.slot and placed.runs
    }


def _differs(sizes: Sizes, usual: Sizes, shown: Shown) -> str:
    """How words are set that had no room as the others have; '' where they are set alike."""
    smaller = any(size < usual[key][0] - _EVEN for key, (size, _) in sizes.items())
    broken = any(lines > usual[key][1] for key, (_, lines) in sizes.items())
    if smaller and broken:
        return shown.tongue("Set smaller than the others and on more lines, so that it fits.")
    if smaller:
        return shown.tongue("Set smaller than the others so that it fits.")
    return shown.tongue("Set on more lines than the others.") if broken else ""


def _usual(every: Sequence[Sizes]) -> Sizes:
    """The largest size and the fewest lines of each place for words."""
    usual: Sizes = {}
    for sizes in every:
        for key, (size, lines) in sizes.items():
            most, fewest = usual.get(key, (size, lines))
            usual[key] = max(most, size), min(fewest, lines)
    return usual


def _faces(looks: Sequence[Look]) -> list[FaceName]:
    """Where the pieces differ: of a wrap whose words all stand on the front the front, larger than
    all the way round; else each face that carries something."""
    first = looks[0].variant.layout
    if first.plan.construction != "wrap":
        return shown_faces(first)
    for layout in (look.variant.layout for look in looks):
        for placed in layout.layers:
            if not isinstance(placed, PlacedWords) or placed.ink is None or not placed.slot:
                continue
            seen = on_face(layout, "front", placed)
            if seen is None or seen.width < placed.ink.width - _EVEN:
                return ["round"]
    return ["front"]


def _piece(look: Look, faces: Sequence[FaceName], shown: Shown, says: str) -> Piece:
    tongue, layout, numbers = shown.tongue, look.rasters.layout, look.variant.pieces
    drawn = []
    for face in faces:
        small = fitted(face_picture(look.rasters, face, cloth=False), PIECE_WIDTH)
        alt = sentences(
            tongue("{pieces}.", pieces=tongue.pieces(numbers)),
            said_of(layout, Window(face=face), face, tongue),
        )
        drawn.append(
            picture(
                f"piece-{look.number}-{face}",
                on_its_cloth(small, layout),
                alt,
                tongue(VIEWS[face]),
                quality=_QUALITY,
            )
        )
    return Piece(pieces=numbers, numbers=tongue.runs_of(numbers), faces=tuple(drawn), differs=says)


def in_order(pieces: Sequence[Piece], tongue: Tongue) -> tuple[tuple[Piece, ...], str]:
    """Those set differently first, and nothing said of all; where many are, they are no
    exceptions: the list keeps its order, and one sentence says so."""
    unusual = sum(piece.count for piece in pieces if piece.differs)
    if unusual > _EXCEPTIONS * sum(piece.count for piece in pieces):
        says = tongue("Names are set in different sizes so that each fits.")
        return tuple(replace(piece, differs="") for piece in pieces), says
    return tuple(sorted(pieces, key=lambda piece: not piece.differs)), ""


def same_on(pieces: Sequence[int], piece: int, tongue: Tongue) -> str:
    """Which of `pieces` are like one of them: 'The same as on piece 84.'"""
    others = [number for number in pieces if number != piece]
    return tongue.several(
        "The same as on piece {numbers}.",
        "The same as on pieces {numbers}.",
        len(others),
        numbers=tongue.runs_of(others),
    )


def one_by_one(pieces: Sequence[Piece], tongue: Tongue) -> list[Piece]:
    """Of a list of names each piece by itself, also where two look alike: one can be wrong, and the
    other right. They share their picture."""
    if not are_names(len(pieces), sum(piece.count for piece in pieces)):
        return list(pieces)
    single = [
        replace(
            piece,
            pieces=(number,),
            numbers=tongue.runs_of([number]),
            also=same_on(piece.pieces, number, tongue) if piece.count > 1 else "",
        )
        for piece in pieces
        for number in piece.pieces
    ]
    return sorted(single, key=lambda piece: piece.pieces)


def pieces_of(shown: Shown, looks: Sequence[Look]) -> tuple[tuple[Piece, ...], str]:
    """The looks of one line, drawn small, and what is said of all of them; none where all its
    pieces look alike."""
    if len(looks) < 2:
        return (), ""
    every = [_sizes(look) for look in looks]
    usual = _usual(every)
    faces = _faces(looks)
    pieces = [
        _piece(look, faces, shown, _differs(sizes, usual, shown))
        for look, sizes in zip(looks, every, strict=True)
    ]
    return in_order(one_by_one(pieces, shown.tongue), shown.tongue)
