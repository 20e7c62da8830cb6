"""What a design's page needs to show a customer's own photo on its pieces, wholly in the browser.

The document stands in the page (schema proofgen/fitting/1, read by try-photo.js); its pictures are
fetched when a photo was chosen, by their addresses below the site's root.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass, field

from proofgen.colour import Law
from proofgen.views.fitting import Spot
from proofgen.views.hand.planes import Wall
from proofgen.views.hand.turntable import Turntable

SCHEMA = "proofgen/fitting/1"


@dataclass(frozen=True, slots=True, kw_only=True)
class Cloth:
    """A colour of a piece: its name in the order, what customers call it and '#rrggbb'; `does` says
    what it makes of a photo, '' where that is little."""

    name: str
    called: str
    shade: str
    law: Law
    does: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A layer of the fitting: a photo's place (`spot`, its number), or a picture of what the design
    has there, for each cloth in turn."""

    spot: int | None = None
    pictures: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """A side of the piece: what it is called and its shares of light (`hand.planes`)."""

    called: str
    planes: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FittingOffer:
    """A design on one blank. `surface` (mm) is what is seen of it, `strip` the px of its pictures;
    of a sleeve `wall`, `turntable`, and `front` the share of the way round that faces the first
    view; of a flat piece `lies`, where a mm of it lands. `bare` are rectangles without ink, mm."""

    blank: str
    called: str
    cloths: tuple[Cloth, ...]
    surface: tuple[float, float]
    strip: tuple[int, int]
    size: tuple[int, int]  # px of a view
    spots: tuple[Spot, ...]
    sheets: tuple[Sheet, ...]
    views: tuple[View, ...]
    bare: tuple[tuple[float, float, float, float], ...] = ()
    wall: Wall | None = None
    turntable: Turntable | None = None
    front: float = 0.0
    lies: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitting:
    """A design's fitting. `slots` are names and what people call them, `limits` the shop's good and
    floor ppi; `files` are its pictures by address."""

    slots: tuple[tuple[str, str], ...]
    limits: tuple[float, float]
    ground: str
    offers: tuple[FittingOffer, ...]
    files: Mapping[str, bytes] = field(default_factory=dict, repr=False)

    def document(self, root: str) -> dict[str, object]:
        """What the script reads; `root` leads from the page to the site's root."""
        return {
            "schema": SCHEMA,
            "root": root,
            "slots": self.slots,
            "good_ppi": self.limits[0],
            "floor_ppi": self.limits[1],
            "ground": self.ground,
            "offers": [asdict(offer) for offer in self.offers],
        }
