"""What goes into the press room and what comes out: signed jobs in, files and a document out."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import BinaryIO

from PIL import Image

from proofgen.artwork.rasters import pixel_digest, read_raster
from proofgen.errors import SignoffError
from proofgen.model import Finding, Layout, Order, Variant
from proofgen.press.documents import PressDocument
from proofgen.press.numbering import KeptSheet
from proofgen.signoff import Signed


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """One signed order. `rasters` are the kept PNG bytes by raster name; `since` says what the
    maker changed after the signed proof was made and no pixel shows, `promised` what of price and
    day was signed and reads otherwise today, `earlier` what was asked of the proof before,
    `remarks` what the customer wrote with the order. `sheets` are those that the records know of
    its edition; `only` names pieces to print again: the others are left out, and no sheet gets
    another number. `recorded` tells how far the order's records are, once its sheets are in
    them."""

    signed: Signed
    order: Order
    variants: list[Variant]
    rasters: Mapping[str, bytes] = field(repr=False)
    accepted: Sequence[Finding] = ()
    since: Sequence[str] = ()
    promised: Sequence[str] = ()
    earlier: Sequence[str] = ()
    remarks: Sequence[str] = ()
    sheets: Sequence[KeptSheet] = ()
    only: frozenset[int] | None = None
    recorded: Callable[[], str] = str

    def raster(self, name: str) -> Image.Image:
        """A signed raster's pixels, upright. SignoffError unless they are what was signed."""
        if self.signed.order != self.order.id:
            raise SignoffError(
                f"the sign-off is for {self.signed.order}, not for {self.order.id}",
                "make a new proof and have it signed",
            )
        kept = self.rasters.get(name)
        signed = self.signed.rasters.get(name)
        if kept is None or signed is None:
            raise SignoffError(
                f"order {self.order.id}: the picture {name} was not signed",
                f"proofgen proof {self.order.id}, and have the new proof signed",
            )
        image = read_raster(kept)
        if pixel_digest(image) != signed:
            raise SignoffError(
                f"order {self.order.id}: the kept picture {name} is not the one that was signed",
                "put records/ back from your backup, or make a new proof and have it signed",
            )
        return image

    def leads(self, piece: int) -> bool:
        """Whether a piece looks like the first of its line."""
        own = next(variant for variant in self.variants if piece in variant.pieces)
        return own is next(variant for variant in self.variants if variant.line == own.line)

    def layout_of(self, piece: int) -> Layout:
        """How the piece of that number is laid out."""
        return next(variant.layout for variant in self.variants if piece in variant.pieces)


Save = Callable[[BinaryIO], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class PressRun:
    """Files by relative name, each to be saved when it is its turn (see `store.saved`); the
    document of them; and by order the numbered sheets that its records must keep before any is
    printed."""

    files: Mapping[str, Save] = field(repr=False)
    document: PressDocument
    numbered: Mapping[str, Sequence[KeptSheet]] = field(default_factory=dict)
