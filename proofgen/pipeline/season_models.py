"""Models of a season's designs for a phone to set on the table, where the extra is installed."""

from __future__ import annotations

from proofgen import __version__, catalogue
from proofgen.artwork.painting import paint
from proofgen.model import Layout
from proofgen.pipeline.season_pictures import VIEW_PPI
from proofgen.views.pictures import content_name
from proofgen.views.solid.made import models_can_be_made, sample_model
from proofgen.views.solid.told import size_told
from proofgen.workshop import Workshop


def standing_of(workshop: Workshop, layout: Layout) -> catalogue.Standing | None:
    """The model of a design's sample; None where the shop wants none or none can be made."""
    if not (workshop.shop.settings.models and models_can_be_made()):
        return None
    # A layout names its files' digests and every measure, so its own words are its key.
    model = sample_model(
        f"{__version__} {layout!r}",
        lambda: paint(layout, VIEW_PPI, workshop.materials),
        workshop.store,
    )
    on_can = layout.plan.way_round is not None
    return catalogue.Standing(
        glb_name=f"pictures/{content_name(model.glb, 'glb')}",
        usdz_name=f"pictures/{content_name(model.usdz, 'usdz')}",
        glb=model.glb,
        usdz=model.usdz,
        size=size_told(model, workshop.theme_for(None).tongue, on_can=on_can),
    )
