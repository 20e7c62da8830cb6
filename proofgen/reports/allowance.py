"""What a millimetre of error does to a blank, in sentences; from `proofgen/blank/1`."""

from __future__ import annotations

from typing import Any

from proofgen.say import number


def allowance_sentences(blank: dict[str, Any]) -> list[str]:
    """Plain sentences about a wrap's fit, or about a sleeve round its can; [] for other blanks."""
    told = blank.get("allowance")
    if not told:
        return []
    if "stretch_mm" in told:
        return [_stretch(told)]
    thicker, other = told["thicker"], told["other_can"]
    least, most = told["overlap_between_mm"]
    held = told["overlap_allowed_mm"]
    low, high = told["cans_mm"]
    sentences = [
        f"If the cloth is {number(thicker['by_mm'])} mm thicker than measured, the way round "
        f"grows by {number(thicker['way_round_mm'])} mm, the ends overlap by "
        f"{number(-thicker['overlap_mm'])} mm less, and the middle of the front lies "
        f"{number(abs(thicker['front_centre_mm']))} mm further to the "
        f"{'left' if thicker['front_centre_mm'] < 0 else 'right'}.",
        f"Cans of one kind differ by up to {number(other['by_mm'], 2)} mm across (published for "
        f"the common drinks can), which is {number(other['way_round_mm'])} mm the way round and "
        f"{number(abs(other['front_centre_mm']))} mm at the middle of the front.",
    ]
    if held[0] <= blank["overlap_mm"] <= held[1]:
        safe = held[0] <= least and most <= held[1]
        sentences.append(
            f"With both, the overlap lies between {number(least)} and {number(most)} mm; "
            f"{number(held[0])} to {number(held[1])} mm hold"
            + ("." if safe else ": it can fail, so try one before you press many.")
        )
    if high > 0:
        sentences.append(
            f"It closes round cans from {number(max(low, 0.0))} to {number(high)} mm across."
        )
    return sentences


def _stretch(told: dict[str, Any]) -> str:
    stretch, share = told["stretch_mm"], abs(told["stretch_mm"]) / told["can_way_round_mm"]
    head = (
        f"Round a can of {number(told['can_mm'])} mm in this cloth it is "
        f"{number(told['can_way_round_mm'])} mm; the two faces are {number(told['faces_mm'])} mm"
    )
    if abs(stretch) < 0.05:
        return f"{head}."
    if stretch > 0:
        return f"{head}, so the cloth stretches by {number(stretch)} mm ({number(share * 100)} %)."
    return f"{head}, so the sleeve is {number(-stretch)} mm loose ({number(share * 100)} %)."
