"""The limits of the checks, as shop.yaml sets them."""

from __future__ import annotations

from typing import Any

from proofgen.model import Limits
from proofgen.shop.getters import Record
from proofgen.units import Temperature

# The smaller and the larger of two that belong together.
_PAIRS = (
    ("floor_ppi", "good_ppi"),
    ("soft_edges", "blurred_edges"),
    ("flat", "dull"),
    ("least_heat", "most_heat"),
    ("least_time", "most_time"),
)


def read_limits(shop: Record) -> Limits:
    """What the shop asks; the usual where it says nothing."""
    usual = Limits()
    with shop.map("limits", "the limits") as limits:

        def light(key: str) -> float:
            return limits.decimal(key, getattr(usual, key), least=0, most=100)

        def heat(key: str) -> float:
            default = Temperature(getattr(usual, f"{key}_c"))
            return limits.temperature(key, default, least=100, most=260).celsius

        found: dict[str, Any] = {
            "good_ppi": limits.decimal("good_ppi", usual.good_ppi, least=20, most=1200),
            "floor_ppi": limits.decimal("floor_ppi", usual.floor_ppi, least=20, most=1200),
            "soft_edges": limits.decimal("soft_edges", usual.soft_edges, above=0, most=12),
            "blurred_edges": limits.decimal("blurred_edges", usual.blurred_edges, above=0, most=12),
            "jpeg_quality": limits.whole("jpeg_quality", usual.jpeg_quality, most=100),
            **{k: light(k) for k in ("dark", "too_dark", "pale", "too_pale", "dull", "flat")},
            "plain": limits.share("plain", usual.plain),
            "strong_colours": limits.share("strong_colours", usual.strong_colours),
            "letter_height_mm": limits.length(
                "letter_height", usual.letter_height_mm, above=0, most=50
            ),
            "contrast": limits.decimal("contrast", usual.contrast, least=1, most=21),
            "polyester": limits.share("polyester", usual.polyester),
            "least_heat_c": heat("least_heat"),
            "most_heat_c": heat("most_heat"),
            "least_time_s": limits.seconds("least_time", usual.least_time_s, least=0),
            "most_time_s": limits.seconds("most_time", usual.most_time_s, least=0),
            "dark_cloth": limits.decimal("dark_cloth", usual.dark_cloth, least=0, most=1),
            "strong_cloth": limits.decimal("strong_cloth", usual.strong_cloth, least=0, most=150),
            "colour_change": limits.decimal(
                "colour_change", usual.colour_change, least=0, most=100
            ),
            "pattern_gap_mm": limits.length("pattern_gap", usual.pattern_gap_mm, least=0, most=50),
            "busy_join": limits.share("busy_join", usual.busy_join),
            "face_cut": limits.share("face_cut", usual.face_cut),
        }
        name_of = {key_of(name): name for name in found}
        for low, high in _PAIRS:
            pair = name_of[low], name_of[high]
            if found[pair[0]] > found[pair[1]]:
                found |= {name: getattr(usual, name) for name in pair}
                limits.fault(
                    low if low in limits.names() else high,
                    f"limits.{low} is more than limits.{high}",
                    f"make {low} the smaller of the two",
                )
    return Limits(**found)


def key_of(name: str) -> str:
    """What a limit is called in shop.yaml, where its unit is written with its value."""
    return name.removesuffix("_mm").removesuffix("_c").removesuffix("_s")
