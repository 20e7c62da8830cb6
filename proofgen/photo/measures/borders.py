"""Even bars and lines along the sides of a photo, and the strip along the top as phones draw it."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from proofgen.model import Frame

_COLUMNS = 512  # px of each row that are looked at
_SAME = 8  # codes of 255 by which a bar may vary: a JPEG rings a little at its end
_BAR = 0.8  # share of a row that must be bar; the rest may be a screen's buttons
_LEAST, _MOST = 0.02, 0.45  # of the side, for a bar
_THIN = 0.0025  # of the side, two px at least, for the line that a scanner leaves beside a print
_EVEN_LINE, _CLEAR = 12, 24  # codes by which it may vary, and by which what lies beside it differs
_WHOLE = 0.85  # share of its length that must do so
_INK = 40  # codes by which a screen's clock and signs stand out
_WHITE, _BLACK = 244, 6  # codes of signs drawn over a photo; a JPEG blurs them a little

Grey = NDArray[np.uint8]


def frame_of(plane: Grey, printed: tuple[int, int, int, int]) -> Frame:
    """Of a whole photo's grey plane; `printed` is the box (left, top, right, bottom, px) of its
    printed part."""
    around = bars(plane)
    return Frame(
        bars=around,
        bars_shown=reach_into(around, printed, (plane.shape[1], plane.shape[0])),
        status_line=status_line(plane),
        lines=_lines(plane, printed),
    )


def _lines(plane: Grey, box: tuple[int, int, int, int]) -> tuple[float, float, float, float]:
    """Depths of thin even lines along the left, top, right and bottom, that end in a straight line
    and reach into the printed part; 0.0 for none."""
    high, wide = plane.shape
    left, top = _line(plane.T), _line(plane)
    right, bottom = _line(plane[:, ::-1].T), _line(plane[::-1])
    return (
        left if box[0] < left * wide else 0.0,
        top if box[1] < top * high else 0.0,
        right if wide - box[2] < right * wide else 0.0,
        bottom if high - box[3] < bottom * high else 0.0,
    )


def _line(plane: Grey) -> float:
    """Depth, as a share of the height, of the line at the first rows."""
    high, far = len(plane), int(_LEAST * len(plane)) + 4
    rows = plane[:far, :: max(1, plane.shape[1] // _COLUMNS)].astype(np.int16)
    away = np.abs(rows - np.median(rows[0]))
    depth = int(np.argmax(np.append((away <= _EVEN_LINE).mean(axis=1) < _BAR, True)))
    if not max(2, _THIN * high) <= depth <= _LEAST * high or depth + 2 >= len(rows):
        return 0.0
    return depth / high if (away[depth + 2] > _CLEAR).mean() > _WHOLE else 0.0


def reach_into(
    around: tuple[float, float, float, float],
    box: tuple[int, int, int, int],
    size: tuple[int, int],
) -> bool:
    """Whether the printed part (a box, px) holds some of what stands along the sides of a photo of
    that size, by more than a hair."""
    left, top, right, bottom = around
    return bool(
        (left and box[0] < (left - 0.002) * size[0])
        or (top and box[1] < (top - 0.002) * size[1])
        or (right and box[2] > (1 - right + 0.002) * size[0])
        or (bottom and box[3] > (1 - bottom + 0.002) * size[1])
    )


def bars(plane: Grey) -> tuple[float, float, float, float]:
    """Depth of the bars at left, top, right and bottom, as shares of the sides; 0.0 for none.

    A bar is even, ends in one straight line from side to side, and has its like across the
    picture. A white ground behind a thing ends nowhere in a straight line and is none.
    """
    top, bottom = _pair(plane)
    left, right = _pair(plane.T)
    return left, top, right, bottom


def _pair(plane: Grey) -> tuple[float, float]:
    rows = plane[:, :: max(1, plane.shape[1] // _COLUMNS)]
    far = int(_MOST * len(rows)) + 4  # no bar reaches further
    one, colour = _bar(rows[:far], len(rows))
    other, like = _bar(rows[: -far - 1 : -1], len(rows))
    if one and other and abs(colour - like) <= 2 * _SAME:
        return one, other
    return 0.0, 0.0


def _bar(rows: Grey, high: int) -> tuple[float, float]:
    """Depth, as a share of `high`, and colour of the bar at the first rows."""
    colour = int(np.median(rows[0]))
    lowest, highest = max(colour - _SAME, 0), min(colour + _SAME, 255)
    even = ((rows >= lowest) & (rows <= highest)).mean(axis=1)
    depth = int(np.argmax(even < _BAR)) if (even < _BAR).any() else high
    if not max(4, _LEAST * high) <= depth <= _MOST * high:
        return 0.0, colour
    # One straight line: most of the row changes at once (within two px of blending).
    return (depth / high, colour) if even[min(depth + 2, len(even) - 1)] < 0.5 else (0.0, colour)


def status_line(plane: Grey) -> bool:
    """Whether an upright picture of a phone's shape has a strip of small signs along its top.

    Signs stand at the left and at the right within the first 6 % of the height, in one line that is
    0.6 % to 3 % of the height tall, with nothing of their kind above and below: on an even ground,
    or plain white or plain black on a photo that reaches to the top.
    """
    high, wide = plane.shape
    if high < 1.7 * wide or high < 400:
        return False
    head = plane[: int(high * 0.08), :: max(1, wide // (2 * _COLUMNS))].astype(np.int16)
    ground = np.abs(head - float(np.median(head))) > _INK
    return _is_line(ground, high) or any(
        _is_line(ink, high) and not _middle(ink).any() for ink in (head >= _WHITE, head <= _BLACK)
    )


def _is_line(ink: NDArray[np.bool_], high: int) -> bool:
    busy = ink.mean(axis=1) > 0.002
    starts = np.flatnonzero(np.diff(busy.astype(np.int8), prepend=0) == 1)
    ends = np.flatnonzero(np.diff(busy.astype(np.int8), append=0) == -1) + 1
    if not len(starts) or starts[0] == 0 or ends[0] > 0.06 * high or ends[0] + 2 >= len(ink):
        return False
    tall = (ends[0] - starts[0]) / high
    signs = ink[starts[0] : ends[0]]
    third = signs.shape[1] // 3
    sides = signs[:, :third].any() and signs[:, -third:].any()
    return bool(0.006 <= tall <= 0.03 and sides and signs.mean() < 0.3)


def _middle(ink: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """The fifth in the middle, where phones' lenses are and no signs."""
    return ink[:, int(0.4 * ink.shape[1]) : int(0.6 * ink.shape[1])]
