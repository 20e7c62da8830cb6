"""What a picture of a piece shows, said for those who cannot see it: whole sentences."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from PIL import Image

from proofgen.geometry import FaceName, Rect, ZoneKind
from proofgen.model import (
    Layout,
    Placed,
    PlacedArt,
    PlacedPattern,
    PlacedPhoto,
    PlacedWords,
)
from proofgen.proof.colour_words import colour_name
from proofgen.say import sentences
from proofgen.say.parts import VIEWS
from proofgen.say.tongue import Tongue, to_say
from proofgen.views.colours import dominant
from proofgen.views.cut import on_face

_ORDINALS = (
    to_say("{side}: your first photo."),
    to_say("{side}: your second photo."),
    to_say("{side}: your third photo."),
)
_PLACES = (
    (
        to_say("“{text}” stands at the top left."),
        to_say("“{text}” stands at the top, in the middle."),
        to_say("“{text}” stands at the top right."),
    ),
    (
        to_say("“{text}” stands half-way down, on the left."),
        to_say("“{text}” stands in the middle."),
        to_say("“{text}” stands half-way down, on the right."),
    ),
    (
        to_say("“{text}” stands at the bottom left."),
        to_say("“{text}” stands at the bottom, in the middle."),
        to_say("“{text}” stands at the bottom right."),
    ),
)
_HIDDEN: Mapping[ZoneKind, str] = {
    "closure": to_say("Part of “{text}” is hidden where it closes."),
    "seam": to_say("The seam takes in part of “{text}”."),
    "fold": to_say("Part of “{text}” lies on the fold."),
    "hem": to_say("The hem takes in part of “{text}”."),
    "base": to_say("Part of “{text}” lies under the can."),
    "gap": to_say("No ink reaches a part of “{text}”."),
    "hole": to_say("Part of “{text}” lies where the hole is."),
}
_MOST = 3  # colours named


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """What is seen of a face: all of it, or from `start` (a share of the way round) half-way round,
    as a turned body shows itself."""

    face: FaceName
    start: float | None = None

    def of(self, rect: Rect, width: float) -> Rect | None:
        """A rectangle of the face (`width` mm wide) in the window's own frame, from its left edge;
        None where it is on the far side."""
        if self.start is None:
            return rect
        x = (rect.centre_x - self.start * width) % width
        if x > width / 2 + rect.width / 2 and x < width - rect.width / 2:
            return None
        return Rect(x - rect.width / 2, rect.y, rect.width, rect.height)


def _photo(layout: Layout, seen: list[Placed], side: str, tongue: Tongue) -> str:
    """Which of the customer's photos are seen; '' for none."""
    slots = [p.slot for p in layout.layers if isinstance(p, PlacedPhoto) and p.crop]
    numbers = {slot: number for number, slot in enumerate(dict.fromkeys(slots), 1)}
    here = sorted({numbers[p.slot] for p in seen if isinstance(p, PlacedPhoto) and p.crop})
    if not here:
        return ""
    if len(numbers) == 1:
        return tongue("{side}: your photo.", side=side)
    if len(here) == 1 and here[0] <= len(_ORDINALS):
        return tongue(_ORDINALS[here[0] - 1], side=side)
    return tongue("{side}: your photos {numbers}.", side=side, numbers=tongue.runs_of(here))


def _what(layout: Layout, seen: list[Placed], side: str, tongue: Tongue) -> str:
    photo = _photo(layout, seen, side, tongue)
    if photo:
        return photo
    if any(isinstance(p, PlacedPattern) for p in seen):
        return tongue("{side}: a pattern.", side=side)
    if any(isinstance(p, PlacedArt) for p in seen):
        return tongue("{side}: a drawing.", side=side)
    if seen:
        return tongue("{side}: no picture.", side=side)
    return tongue("{side}: nothing is printed here; the cloth is bare.", side=side)


def _third(at: float, length: float) -> int:
    return min(max(int(3 * at / length), 0), 2)


def _words(
    layout: Layout, seen: list[tuple[Placed, Rect]], width: float, height: float, tongue: Tongue
) -> list[str]:
    """Each text and where it stands."""
    said = []
    for placed, rect in seen:
        if not isinstance(placed, PlacedWords) or not placed.printed.strip():
            continue
        across, down = _third(rect.centre_x, width), _third(rect.centre_y, height)
        text = " ".join(placed.printed.split())
        said.append(tongue(_PLACES[down][across], text=text))
        said += [tongue(_HIDDEN[kind], text=text) for kind in hiding(layout, placed)]
    return list(dict.fromkeys(said)) or [tongue("No words.")]


def hiding(layout: Layout, placed: PlacedWords) -> list[ZoneKind]:
    """The kinds of strips that take something of the ink of placed words."""
    if placed.ink is None:
        return []
    lying = layout.on_panel(placed, placed.ink)
    return list(
        dict.fromkeys(
            zone.kind
            for panel, rect in lying
            for zone in layout.plan.zones_on(panel)
            if zone.rect.overlap(rect)
        )
    )


def colours_of(image: Image.Image, tongue: Tongue) -> str:
    """The main colours of a picture, in a sentence."""
    small = image.resize((64, 48), Image.Resampling.BOX)
    found = dominant(np.asarray(small).reshape(-1, 3), _MOST)
    names = [colour_name("#{:02x}{:02x}{:02x}".format(*rgb), tongue) for rgb in found]
    return tongue("Mostly {colours}.", colours=tongue.joined(list(dict.fromkeys(names))))


def said_of(
    layout: Layout, window: Window, side: str, tongue: Tongue, image: Image.Image | None = None
) -> str:
    """What is seen in a window of a face: which photo, which words and where, what of them is
    hidden, and the main colours of `image`, the picture of it. `side` is a key of VIEWS."""
    size = layout.plan.canvases[window.face].size
    seen: list[tuple[Placed, Rect]] = []
    for placed in layout.layers:
        rect = on_face(layout, window.face, placed)
        inside = window.of(rect, size.width) if rect else None
        if inside is not None:
            seen.append((placed, inside))
    width = size.width if window.start is None else size.width / 2
    return sentences(
        _what(layout, [placed for placed, _ in seen], tongue(VIEWS[side]), tongue),
        *_words(layout, seen, width, size.height, tongue),
        colours_of(image, tongue) if image is not None and seen else "",
    )
