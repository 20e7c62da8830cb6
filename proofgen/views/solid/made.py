"""Models kept from run to run, where what makes them is installed: the extra `table`."""

from __future__ import annotations

import importlib.util
import json
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cache
from importlib.metadata import PackageNotFoundError, version

from proofgen.artwork.rasters import Rasters
from proofgen.store import Store, digest
from proofgen.views.hand.lying import piece_of
from proofgen.views.hand.sleeve import sleeve_of
from proofgen.views.solid.glb import glb_of
from proofgen.views.solid.thing import picture_of, thing_of
from proofgen.views.solid.usdz import usdz_of

EXTRA = ("trimesh", "usd-core")  # packages of the extra `table`
_IMPORTED = ("trimesh", "pxr")
_KIND = "model/1"  # raise when a model changes


@dataclass(frozen=True, slots=True, kw_only=True)
class Model:
    """The files of one model, and what all of it measures (width, height, depth), mm."""

    glb: bytes = field(repr=False)
    usdz: bytes = field(repr=False)
    size_mm: tuple[float, float, float]


@cache  # nothing is installed while it runs
def models_can_be_made() -> bool:
    """Whether what writes models is installed."""
    try:
        return all(importlib.util.find_spec(name) for name in _IMPORTED)
    except (ImportError, ValueError):
        return False


def _releases() -> list[str]:
    """What writes them, so that another release makes them anew."""
    try:
        return [version(name) for name in EXTRA]
    except PackageNotFoundError:
        return []


def _dump(model: Model) -> bytes:
    head = json.dumps([len(model.glb), *model.size_mm]).encode()
    return head + b"\n" + model.glb + model.usdz


def _load(content: bytes) -> Model:
    head, _, both = content.partition(b"\n")
    first, wide, high, deep = json.loads(head)
    return Model(glb=both[:first], usdz=both[first:], size_mm=(wide, high, deep))


def model_of(rasters: Rasters, kept: Store) -> Model:
    """The model of a layout as it was painted, made now or before. Errors: ImportError where
    `models_can_be_made` says no."""
    layout, flat = rasters.layout, picture_of(rasters)
    numbers = piece_of(layout) if layout.plan.way_round is None else sleeve_of(layout)
    key = json.dumps([repr(numbers), layout.cloth_hex, digest(flat), _releases()])

    def make() -> Model:
        thing = thing_of(layout, flat)
        return Model(glb=glb_of(thing), usdz=usdz_of(thing), size_mm=thing.size)

    return kept.remember(_KIND, key, make, _load, _dump)


def sample_model(told: str, paint: Callable[[], Rasters], kept: Store) -> Model:
    """The same of what is painted only where that was not done before: `told` says all that its
    picture hangs on. Errors: as `model_of`."""
    key = json.dumps([told, _releases()])
    return kept.remember(f"sample {_KIND}", key, lambda: model_of(paint(), kept), _load, _dump)
