"""The models of a proof as files beside its page, and what its page says of them."""

from __future__ import annotations

from typing import TypedDict

from proofgen.proof.content import Picture, ProofContent
from proofgen.say.tongue import Tongue
from proofgen.views.pictures import content_name
from proofgen.views.solid.told import size_told


class OnTable(TypedDict):
    """A model as a page shows it: the `picture` to tap, addresses of both files, what the second
    weighs (MB), how large the thing is, in words."""

    title: str
    picture: Picture
    usdz: str
    glb: str
    megabytes: float
    size: str
    first_of_many: bool


def model_files(content: ProofContent) -> dict[str, bytes]:
    """The files of all models by name; the same bytes have the same name."""
    models = [work.model for work in content.works if work.model]
    both = [(data, end) for m in models for data, end in ((m.glb, "glb"), (m.usdz, "usdz"))]
    return {f"model-{content_name(data, end)}": data for data, end in both}


def on_table(content: ProofContent, tongue: Tongue) -> list[OnTable]:
    """Each model of a published proof."""
    return [
        {
            "title": work.title,
            "picture": work.views[0],
            "usdz": f"model-{content_name(work.model.usdz, 'usdz')}",
            "glb": f"model-{content_name(work.model.glb, 'glb')}",
            "megabytes": max(0.1, round(len(work.model.glb) / 1e6, 1)),
            "size": size_told(work.model, tongue, on_can=work.turntable is not None),
            "first_of_many": bool(work.every),
        }
        for work in content.works
        if work.model
    ]
