"""Which part of a photo a slot shows: cover, never stretch."""

from __future__ import annotations

from proofgen.geometry.plane import Rect, Size


def within(slot: Rect, width: float, height: float | None, about: tuple[float, float]) -> Rect:
    """A rectangle of that size (mm), or the slot where it is no larger; its middle as near to
    `about` as the slot lets. Without a height it has the slot's shape."""
    width = min(width, slot.width)
    height = slot.height * (width / slot.width) if height is None else min(height, slot.height)
    x = min(max(about[0] - width / 2, slot.x), slot.right - width)
    y = min(max(about[1] - height / 2, slot.y), slot.bottom - height)
    return Rect(x, y, width, height)


def cover_crop(
    photo: Size,
    slot: Size,
    focus: tuple[float, float],
    zoom: float = 1.0,
    aim: tuple[float, float] | None = None,
) -> Rect:
    """The part of a photo (px, upright) that covers a slot (mm).

    `focus` is the photo's point of interest as shares of its sides; it goes to `aim` (mm from the
    slot's top left, by default its centre), then the crop is pushed back inside the photo.
    `zoom` >= 1 multiplies the scale that just covers. Returns a rectangle in px, as floats.
    """
    scale = max(slot.width / photo.width, slot.height / photo.height) * max(zoom, 1.0)  # mm a px
    width = min(slot.width / scale, photo.width)
    height = min(slot.height / scale, photo.height)
    aim_x, aim_y = aim or (slot.width / 2, slot.height / 2)
    x = focus[0] * photo.width - aim_x / scale
    y = focus[1] * photo.height - aim_y / scale
    x = min(max(x, 0.0), photo.width - width)
    y = min(max(y, 0.0), photo.height - height)
    return Rect(x, y, width, height)
