"""How much of a picture its reader filled in or left out, because bytes of it were lost.

Readers of JPEGs go on after a gap: from there they repeat one colour to the end. That shows as a
row of blocks that breaks off somewhere and is even from there to the picture's lower right corner,
beneath blocks that are not. A picture's own even ground begins at no such step.
"""

from __future__ import annotations

from PIL import Image

_SOFT = 2  # px inside a block's edges that colours from beyond may reach into


def filled_share(image: Image.Image, block: tuple[int, int]) -> float:
    """The share (0 to 1) of rows filled in, 0 where there is no sign of it. `block`: width and
    height in px of what the file holds together."""
    if min(block) <= 2 * _SOFT + 1 or image.width < 4 * block[0] or image.height < 4 * block[1]:
        return 0.0
    fill = image.getpixel((image.width - 1, image.height - 1))
    columns, rows = (-(-side // step) for side, step in zip(image.size, block, strict=True))

    def even(first: int, last: int, row: int) -> bool:
        """Whether the blocks from `first` to before `last` in a row are all of the fill."""
        box = (
            first * block[0] + _SOFT,
            row * block[1] + _SOFT,
            min(last * block[0], image.width) - _SOFT,
            min((row + 1) * block[1], image.height) - _SOFT,
        )
        if box[2] <= box[0] or box[3] <= box[1]:
            return True  # too narrow a rest to tell
        ends = image.crop(box).getextrema()
        pairs = ends if isinstance(ends[0], tuple) else (ends,)
        values = fill if isinstance(fill, tuple) else (fill,)
        return all(pair == (value, value) for pair, value in zip(pairs, values, strict=True))

    row = rows - 1
    while row >= 0 and even(0, columns, row):
        row -= 1
    if row < 1 or row > rows - 3:
        return 0.0
    column = columns
    while column > 0 and even(column - 1, column, row):
        column -= 1
    breaks_off = 0 < column < columns - 1
    if not breaks_off or any(even(c, c + 1, row - 1) for c in range(column, columns - 1)):
        return 0.0
    return 1 - row * block[1] / image.height


def held_together(image: Image.Image) -> tuple[int, int]:
    """Width and height (px) of what an opened JPEG holds together (ITU-T T.81, A.2): blocks of
    eight for a single component, else as many as the finest has; none for several scans."""
    layers = getattr(image, "layer", [])
    if image.info.get("progressive") or not layers:
        return 0, 0
    wide, high = (1 if len(layers) == 1 else max(one[k] for one in layers) for k in (1, 2))
    return 8 * wide, 8 * high


def rows_missing(image: Image.Image) -> float:
    """The share of rows that a truncated file left black; 0.0 where it cannot be told."""
    core = getattr(image, "_im", None)
    box = core.getbbox() if core is not None else None
    return 1 - box[3] / image.height if box and image.height else 0.0
