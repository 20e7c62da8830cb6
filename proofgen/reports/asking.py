"""The letter that asks a customer for a better photo."""

from __future__ import annotations

from dataclasses import dataclass

from proofgen.render import Theme


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedPhoto:
    """A photo to ask for: the file's name as the customer knows it ('' if none came), what is
    wrong with it, its pixels and those it needs at least (0: not known), all upright."""

    name: str
    says: tuple[str, ...]
    width_px: int = 0
    height_px: int = 0
    needs_width_px: int = 0
    needs_height_px: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoLetter:
    """What the letter says. `how` is the shop's own text on sending photos, '' for ours."""

    order: str
    customer: str
    photos: tuple[AskedPhoto, ...]
    shop_name: str
    contact: str
    how: str = ""


def photo_letter(it: PhotoLetter, theme: Theme) -> str:
    """The mail: its subject on the first line, then plain text."""
    return theme.text("photo-letter.txt", it=it, how=it.how.strip())
