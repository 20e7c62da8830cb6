"""The limits of the checks, as shop.yaml sets them."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from proofgen.model import Limits
from proofgen.shop.getters import Record
from proofgen.shop.parsers import parse_whole
from proofgen.shop.values import (
    Kind,
    Unit,
    exact,
    length,
    plain_number,
    seconds,
    share,
    temperature,
)

_WHOLE: Unit[float] = Unit(parse_whole, 1)
_PPI = plain_number(least=20, most=1200)
_EDGES = plain_number(above=0, most=12)  # px
_LIGHTNESS = plain_number(least=0, most=100)
_PART = share(least=0, most=1)
_TIME = seconds(least=0, most=3600)
_LEAST_C, _MOST_C = 100, 260
_HEAT = temperature(least=_LEAST_C, most=_MOST_C)
_CELSIUS = Kind(
    lambda text: _HEAT.parse(text).celsius,
    _HEAT.stand_in.celsius,
    span=f"at least {_LEAST_C} C, at most {_MOST_C} C",
)
# Each field of `Limits`, in the turn in which faults name them.
KINDS: Mapping[str, Kind[float]] = {
    "good_ppi": _PPI,
    "floor_ppi": _PPI,
    "soft_edges": _EDGES,
    "blurred_edges": _EDGES,
    "jpeg_quality": _WHOLE(least=0, most=100),
    **dict.fromkeys(("dark", "too_dark", "pale", "too_pale", "dull", "flat"), _LIGHTNESS),
    "plain": _PART,
    "strong_colours": _PART,
    "letter_height_mm": length(above=0, most=50),
    "contrast": plain_number(least=1, most=21),
    "polyester": _PART,
    "least_heat_c": _CELSIUS,
    "most_heat_c": _CELSIUS,
    "least_time_s": _TIME,
    "most_time_s": _TIME,
    "dark_cloth": plain_number(least=0, most=1),
    "strong_cloth": plain_number(least=0, most=150),
    "colour_change": plain_number(least=0, most=100),
    "pattern_gap_mm": length(least=0, most=50),
    "busy_join": _PART,
    "face_cut": _PART,
}
# The smaller and the larger of two that belong together.
_PAIRS = (
    ("floor_ppi", "good_ppi"),
    ("soft_edges", "blurred_edges"),
    ("flat", "dull"),
    ("least_heat_c", "most_heat_c"),
    ("least_time_s", "most_time_s"),
)
_make: Callable[..., Limits] = Limits


def read_limits(shop: Record) -> Limits:
    """What the shop asks; the usual where it says nothing."""
    usual = Limits()
    with shop.map("limits", "the limits") as limits:
        amounts: dict[str, float] = {
            name: limits.read(key_of(name), kind, getattr(usual, name))
            for name, kind in KINDS.items()
        }
        for low, high in _PAIRS:
            if amounts[low] > amounts[high]:
                amounts |= {name: getattr(usual, name) for name in (low, high)}
                keys = key_of(low), key_of(high)
                limits.fault(
                    keys[0] if limits.has(keys[0]) else keys[1],
                    f"limits.{keys[0]} is more than limits.{keys[1]}",
                    f"make {keys[0]} the smaller of the two",
                )
    return _make(**amounts)


def key_of(name: str) -> str:
    """What a limit is called in shop.yaml, where its unit is written with its value."""
    return name.removesuffix("_mm").removesuffix("_c").removesuffix("_s")


def usual_text(name: str) -> tuple[str, str]:
    """How a limit is written in shop.yaml, key first, with its usual value."""
    value = getattr(Limits(), name)
    celsius = name.endswith("_c")
    return key_of(name), f"{exact(value)} C" if celsius else KINDS[name].write(value)
