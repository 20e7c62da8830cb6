"""What a proof's page is made from: an order's edition, its rasters, what shows them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from PIL import Image

from proofgen.artwork.materials import Materials
from proofgen.artwork.rasters import Rasters
from proofgen.model import Line, Order, Shop, Variant
from proofgen.model.terms_document import TermsDocument
from proofgen.render.look import Strokes
from proofgen.render.mood import USUAL_MOOD, Mood
from proofgen.say.tongue import Tongue
from proofgen.signoff import Edition

if TYPE_CHECKING:
    from proofgen.colour.printer import SoftProof


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """Pieces that look alike, with their rasters; `number` counts the looks of an order from 1."""

    number: int
    variant: Variant
    rasters: Rasters


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """An edition of an order, with its terms; shop and order have the names and words of then.
    `rasters` are those of each variant, `before_pictures` those of the edition `before` by name;
    `plate` is the '#rrggbb' that pictures stand on, `mood` their light and framing, `strokes` how
    blanks are drawn."""

    shop: Shop
    order: Order
    variants: Sequence[Variant]
    terms: TermsDocument
    edition: Edition
    rasters: Sequence[Rasters]
    materials: Materials
    plate: str
    strokes: Strokes
    tongue: Tongue
    mood: Mood = USUAL_MOOD
    printer: SoftProof | None = None
    before: Edition | None = None
    before_pictures: Mapping[str, Image.Image] = field(default_factory=dict)
    link: str = ""

    def looks(self, line: Line) -> list[Look]:
        """The different looks of a line's pieces."""
        both = enumerate(zip(self.variants, self.rasters, strict=True), 1)
        return [
            Look(number=number, variant=variant, rasters=rasters)
            for number, (variant, rasters) in both
            if variant.line == line.number
        ]
