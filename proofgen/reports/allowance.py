"""What a millimetre of error does to a blank, in sentences; from `proofgen/blank/1`."""

from __future__ import annotations

from proofgen.model.documents import BlankDocument, SleeveAllowance, WrapAllowance
from proofgen.say import from_to, number


def allowance_sentences(blank: BlankDocument) -> list[str]:
    """Plain sentences about a wrap's fit, or about a sleeve round its can; [] for other blanks."""
    allowance = blank["allowance"]
    if allowance is None:
        return []
    if "stretch_mm" in allowance:
        return [_stretch(allowance)]
    return _fit(allowance, blank["overlap_mm"])


def _fit(wrap: WrapAllowance, overlap_mm: float | None) -> list[str]:
    thicker, other = wrap["thicker"], wrap["other_can"]
    least, most = wrap["overlap_between_mm"]
    held = wrap["overlap_allowed_mm"]
    low, high = wrap["cans_mm"]
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
    if overlap_mm is not None and held[0] <= overlap_mm <= held[1]:
        between, hold = [number(mm) for mm in (least, most)], [number(mm) for mm in held]
        sentences.append(
            f"With both, the overlap lies between {between[0]} and {between[1]} mm; {hold[0]} to "
            f"{hold[1]} mm hold."
            if held[0] <= least and most <= held[1]
            else f"With both, the overlap lies between {between[0]} and {between[1]} mm; {hold[0]} "
            f"to {hold[1]} mm hold: it can fail, so try one before you press many."
        )
    if high > 0:
        sentences.append(f"It closes round cans {from_to(max(low, 0.0), high)} across.")
    return sentences


def _stretch(sleeve: SleeveAllowance) -> str:
    can, round_can = number(sleeve["can_mm"]), number(sleeve["can_way_round_mm"])
    faces, stretch = number(sleeve["faces_mm"]), sleeve["stretch_mm"]
    by, share = number(abs(stretch)), number(abs(stretch) / sleeve["can_way_round_mm"] * 100)
    if abs(stretch) < 0.05:
        return (
            f"Round a can of {can} mm in this cloth it is {round_can} mm; the two faces are "
            f"{faces} mm."
        )
    if stretch > 0:
        return (
            f"Round a can of {can} mm in this cloth it is {round_can} mm; the two faces are "
            f"{faces} mm, so the cloth stretches by {by} mm ({share} %)."
        )
    return (
        f"Round a can of {can} mm in this cloth it is {round_can} mm; the two faces are "
        f"{faces} mm, so the sleeve is {by} mm loose ({share} %)."
    )
