"""Fine texture of a picture: how it falls from octave to octave, and how much of it is left beside
sharp edges.

A picture that is out of focus, or was blurred, gets sharp when it is made smaller: below the blur’s
own size its detail falls off ever more steeply, above that hardly at all. Clouds, mist and plain
surfaces fall alike from octave to octave, and are soft at every size. (Power laws of natural
pictures: Field 1987, Relations between the statistics of natural images and the response properties
of cortical cells, J. Opt. Soc. Am. A 4(12), from memory; the comparison is our own.)

What a telephone takes for noise it wipes out: broad faint texture stays, its fine part goes, and
edges beside it stay sharp. A ground out of focus has no fine texture either, so that only
squares are asked that hold sharp edges themselves, and none where those are few. (Our own.)
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from proofgen.photo.measures.edges import SIDE, Edges, blurred, halved

_FIRST, _SECOND = 1.0, 2.0  # px: an octave is what the second blur takes of the first
_OCTAVES = 4
_RIM = 4  # px at a plane's own edge that are not asked
_LEAST = 96  # px of a side, so that the broadest octave is seen

# Squares with so many steps as sharp as this (px) are asked, spread over the picture.
_STEPS, _SHARP = 8, 0.8
_SQUARES = 64
_SHARE = 0.1  # of all squares: where fewer are sharp, the others are out of focus before or behind
_BLOCK = 8  # px of a side of the blocks whose texture is read
_BLURS = (0.7, 1.4, 2.8)  # px: up to the first is fine, from the second to the third broad
_REACH = math.ceil(4 * _BLURS[-1])
_FAINT = (1 / 255, 4 / 255)  # of full scale: broad texture that noise reduction works on
_INSIDE = (0.1, 0.9)  # of full scale: nearer to black or white texture is cut off
_ROUNDING = 0.02 / 255
_ENOUGH = 100  # blocks

Plane = NDArray[np.float32]


def falls_of(plane: Plane) -> tuple[float, tuple[float, ...]]:
    """How strong the finest octave of a grey plane (0 to 1) is, of full scale, and by how many
    powers of two each of the next three is stronger than the one before. (0.0, ()) below 96 px."""
    if min(plane.shape) < _LEAST:
        return 0.0, ()
    powers = []
    for _ in range(_OCTAVES):
        first = blurred(plane, _FIRST)
        octave = first - blurred(first, math.sqrt(_SECOND**2 - _FIRST**2))
        powers.append(max(float(np.square(octave[_RIM:-_RIM, _RIM:-_RIM]).mean()), 1e-12))
        plane = halved(plane)
    falls = tuple(round(float(one), 3) for one in np.diff(np.log2(powers)))
    return round(math.sqrt(powers[0]), 6), falls


def smoothed(plane: Plane, edges: Edges) -> float | None:
    """Of faint texture beside sharp edges: the power of two by which its fine part is weaker than
    its broad one, in the middle block. None where there is too little of it."""
    counts = edges.sharp_steps(_SHARP)
    wide = plane.shape[1] // SIDE + 1
    rows, columns = np.divmod(np.flatnonzero(counts >= _STEPS), wide)
    high, broad = plane.shape
    whole = (rows + 1) * SIDE <= high
    whole &= (columns + 1) * SIDE <= broad
    corners = np.stack([rows[whole], columns[whole]], axis=1) * SIDE
    if len(corners) < _SHARE * (high // SIDE) * (broad // SIDE):
        return None
    if len(corners) > _SQUARES:
        corners = corners[np.linspace(0, len(corners) - 1, _SQUARES).astype(np.intp)]
    if len(corners) * (SIDE // _BLOCK) ** 2 < _ENOUGH:
        return None
    around = np.pad(plane, _REACH, mode="symmetric")
    side = SIDE + 2 * _REACH
    tall = np.concatenate([around[y : y + side, x : x + side] for y, x in corners])
    softer = [blurred(tall, sigma) for sigma in _BLURS]

    def blocks(some: Plane) -> Plane:
        """(squares, blocks down, blocks across): means."""
        own = some.reshape(-1, side, side)[:, _REACH:-_REACH, _REACH:-_REACH]
        cut = own.reshape(len(own), SIDE // _BLOCK, _BLOCK, SIDE // _BLOCK, _BLOCK)
        return np.asarray(cut.mean(axis=(2, 4)), dtype=np.float32)

    fine = np.sqrt(blocks(np.square(tall - softer[0])))
    coarse = np.sqrt(blocks(np.square(softer[1] - softer[2])))
    light = blocks(tall)
    asked = (coarse > _FAINT[0]) & (coarse < _FAINT[1])
    asked &= (light > _INSIDE[0]) & (light < _INSIDE[1])
    if asked.sum() < _ENOUGH:
        return None
    ratio = np.log2(coarse[asked] / (fine[asked] + np.float32(_ROUNDING)))
    return round(float(np.median(ratio)), 3)
