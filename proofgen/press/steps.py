"""What to do at the press, step by step for each construction, and what can hurt there."""

from __future__ import annotations

from dataclasses import dataclass

from proofgen.model import Blank
from proofgen.press.pieces import Setting, press_of
from proofgen.say import number
from proofgen.units import c_to_f

# Where a blank's figures come from, said to the person at the press.
SOURCES = {
    "maker": "These figures are from the blank’s own maker.",
    "trial": "These figures are from your own press trial.",
    "practice": "These figures are common practice, with no source. The blank’s own maker comes "
    "first: if its sheet says otherwise, follow that and write it in the blank’s file.",
}


@dataclass(frozen=True, slots=True)
class Step:
    """One numbered step: a few words, what to do, and the name of its small drawing."""

    title: str
    says: str
    drawing: str


@dataclass(frozen=True, slots=True)
class Caution:
    """A signal word of ANSI Z535.4, what can happen, and how to keep it from happening."""

    word: str
    title: str
    says: str


def heat(setting: Setting) -> str:
    """'204 °C (400 °F)'."""
    return f"{number(setting.heat_c, 0)} °C ({number(c_to_f(setting.heat_c), 0)} °F)"


def steps(blank: Blank, setting: Setting, panels: list[str]) -> list[Step]:
    """The steps for one blank; `panels` are those that get ink.

    Order and advice: common practice, no source, unless the blank's maker says otherwise.
    """
    press = press_of(blank)
    both = len(panels) > 1 or press.sides > 1
    found = [
        Step(
            "Heat up",
            f"Set {heat(setting)}, {number(setting.time_s)} s, {setting.pressure} pressure. Wait "
            "until the heat is steady.",
            "heat",
        ),
        Step("Clean", "Roll every thread and speck of lint off the cloth.", "clean"),
    ]
    if press.preheat_s:
        side = "each side that will be pressed" if both else "the side that will be pressed"
        found.append(
            Step(
                "Preheat",
                f"Press {side} bare for {number(press.preheat_s)} s. Damp leaves, and the cloth "
                "shrinks before the print and not under it.",
                "preheat",
            )
        )
    found += [_lay(blank), _protect(blank), _keep_off(blank)]
    found.append(
        Step(
            "Press",
            f"Close the press for {number(setting.time_s)} s. Open it, hold the blank, and lift "
            "the paper straight up: if it slides, the picture doubles.",
            "press",
        )
    )
    if both:
        found.append(_other_side(setting, panels))
    return [*found, _after(blank)]


def _lay(blank: Blank) -> Step:
    says = (
        "Ink side to the cloth, number for number: paper 7 is for piece 7. The corner marks are "
        "the blank’s corners, the small arrow its top. "
    )
    if blank.cloth.finish == "foam":
        says += (
            "Foam keeps the mark of a paper edge or of tape: the paper must reach past the blank "
            "on every side. Tape it at the back only."
        )
    else:
        says += "Tape it beyond the blank or at the back, not on the face."
    return Step("Lay the paper", says, "lay")


def _protect(blank: Blank) -> Step:
    says = "Fresh protective paper under the blank and over it, larger than the printed paper."
    if blank.construction == "flat" and blank.bleed_mm > 0:
        says += (
            f" The ink runs {number(blank.bleed_mm)} mm past the cut edge and would stain the "
            "pad: change the lower sheet every time."
        )
    if blank.construction == "sewn":
        says += " Put a sheet inside too, so that ink cannot reach the other face."
    return Step("Protect", says, "protect")


def _keep_off(blank: Blank) -> Step:
    what = {
        "wrap": "Keep the hook-and-loop off the platen: let that end hang over the pad’s edge, "
        "or lay the rest on a pad that stops short of it.",
        "fold": "Nothing is sewn yet, so it lies flat. Thick hems hang over the pad’s edge.",
        "sewn": "Keep thick seams off the platen: lay the face on a pad a little smaller than "
        "it, so that the seams hang over the edge and the pressure is even.",
        "flat": "Keep zips, rings and thick seams off the platen: let them hang over the pad’s "
        "edge.",
    }
    return Step("Thick parts off the platen", what[blank.construction], "edge")


def _other_side(setting: Setting, panels: list[str]) -> Step:
    says = "Turn the blank over. "
    if len(panels) > 1:
        says += "Lay on the paper marked “back” with the same number; "
    says += (
        f"take fresh protective paper and press this side for the full {number(setting.time_s)} s "
        "too."
    )
    return Step("The other side", says, "turn")


def _after(blank: Blank) -> Step:
    if blank.construction == "wrap":
        return Step(
            "Cool and close",
            "Let it cool lying flat. Close it round a can and look at the join.",
            "wrap",
        )
    if blank.construction == "fold":
        return Step(
            "Cool, fold, sew, turn",
            "Let it cool. Fold it right sides together, sew both sides "
            f"{number(blank.seam_mm)} mm from the edge, turn it out.",
            "sew",
        )
    return Step("Cool", "Let it cool lying flat before you stack it.", "cool")


def cautions(constructions: set[str]) -> list[Caution]:
    """Cautions for what is pressed. Signal words: ANSI Z535.4-2007, 4.14 (WARNING: could result in
    death or serious injury; CAUTION: could result in minor or moderate injury). The sentences are
    ours. That skin burns at far less than a platen's heat: ISO 13732-1:2006.
    """
    found = [
        Caution(
            "WARNING",
            "Hot platen",
            "The platen burns skin at a touch. Keep hands, hair and sleeves clear, wear "
            "heat-proof gloves, and never leave the press closed and alone.",
        ),
        Caution(
            "WARNING",
            "Spray adhesive near heat",
            "Many spray adhesives and their gas burn or explode near heat. Spray in another, "
            "aired place, let it dry, and keep the can away from the press. Read the can’s label.",
        ),
        Caution(
            "CAUTION",
            "Fumes",
            "Hot ink, paper and cloth give off fumes. Open a window or run an extractor, and stop "
            "if your eyes or throat sting.",
        ),
    ]
    if constructions & {"fold", "sewn"}:
        found.append(
            Caution(
                "CAUTION",
                "Needles",
                "Needles and pins go through fingers. Switch the machine off before you thread "
                "it, and count pins before a blank goes under the press: metal in it gets hot.",
            )
        )
    return found


DEFERS = (
    "The instructions of the makers of press, blank, ink and spray, the rules where you work, "
    "and the practice of licensed people come before anything on this page."
)
