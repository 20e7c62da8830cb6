"""What a customer allows with their pictures, from the order's file and from their answers."""

from __future__ import annotations

from pathlib import Path

from proofgen.errors import ShopError
from proofgen.model import ArtLayer, Design, Order, PatternLayer, Rights
from proofgen.signoff import leave_given
from proofgen.workshop import Workshop


def rights_of(workshop: Workshop, order: Order) -> Rights:
    """What was said of an order's pictures, in its file or in an answer."""
    return leave_given(order.rights, workshop.records.answers(order.id))


def _art(design: Design) -> list[Path]:
    layers = (layer for layers in design.faces.values() for layer in layers)
    return [layer.file for layer in layers if isinstance(layer, ArtLayer | PatternLayer)]


def refuse_unshown(workshop: Workshop, design: Design) -> None:
    """ShopError where a picture of the catalogue is a customer's photo, copied into the design's
    folder, and they did not allow it to be shown. The shop's own order need not say so; what it
    shares with a customer's is refused by theirs."""
    for file in (*design.sample_photos.values(), *_art(design)):
        for order in workshop.twins.orders_with(file):
            said = rights_of(workshop, order)
            if order.is_own and said.show is None:
                continue  # there is no customer whose picture it could be
            if not said.show:
                raise ShopError(
                    f"its picture {file.name} is a photo of {order.id}, whose customer has not "
                    "allowed it to be shown",
                    f"take another picture; or ask, and write rights: {{show: yes}} into "
                    f"orders/{order.id}/order.yaml",
                    design.place,
                )
