"""Heat and time where a blank's maker says none: common practice, no source."""

from __future__ import annotations

from collections.abc import Mapping

from proofgen.geometry import Construction
from proofgen.model import PressSetting
from proofgen.model.blank import Finish
from proofgen.units import f_to_c

# °F and s; what is not named is pressed as polyester in general.
_FIGURES: Mapping[tuple[Construction, Finish], tuple[float, float]] = {
    ("sewn", "linen-look"): (400, 60),
    ("fold", "foam"): (385, 60),
    ("fold", "linen-look"): (400, 60),
    ("wrap", "linen-look"): (400, 60),
    ("wrap", "foam"): (400, 65),
}
_GENERAL = 385, 50
_PREHEAT_S = 10.0


def practice_press(construction: Construction, finish: Finish) -> PressSetting:
    """What is usual for such a blank: a setting whose source is practice."""
    # A sleeve whose cloth nobody described is taken for the usual one.
    fahrenheit, seconds = _FIGURES.get((construction, finish or "linen-look"), _GENERAL)
    return PressSetting(
        heat_c=f_to_c(fahrenheit),
        heat_f_written=fahrenheit,
        time_s=seconds,
        preheat_s=_PREHEAT_S,
    )
