"""The colour report in plain sentences."""

from __future__ import annotations

from proofgen.colour import plain_name
from proofgen.model import ClothFit, ColourReport, InkLook
from proofgen.proof.colour_words import NAMES, say_colours
from proofgen.say.tongue import Tongue


def told(colours: ColourReport) -> tuple[str, ...]:
    return say_colours(colours, Tongue())


def ink(colour: str, there: str, fate: str, **more: float) -> InkLook:
    return InkLook(
        ink=colour,
        on_cloth=there,
        source="words" if more else "picture",
        share=0.2,
        difference=9.0,
        lightness_lost=9.0,
        fate=fate,
        **more,  # type: ignore[arg-type]
    )


def report(*inks: InkLook, cloth: str = "#6fb7e9", weakest: float | None = None) -> ColourReport:
    fit = ClothFit(name="sky", colour=cloth, difference=9.0, contrast=weakest, suits=False)
    return ColourReport(cloth="sky", cloth_hex=cloth, inks=inks, cloths=(fit,))


NAVY = ink("#1d2f4f", "#041e46", "shifts")
CREAM = ink("#fbeed3", "#6fabc2", "turns")
SEA = ink("#4a97ae", "#076a9d", "turns")
MADDER = ink("#9a3324", "#462324", "turns")
PALE = ink("#bfe3d0", "#bfe3d0", "vanishes")


def test_what_stays_is_told_first_then_what_turns_then_what_vanishes() -> None:
    assert told(report(CREAM, NAVY, SEA, MADDER, PALE)) == (
        "Dark blue stays much as on white.",
        "Cream turns blue.",
        "Blue gets darker.",
        "Red turns dark brown.",
        "Pale green can hardly be told from the bare cloth.",
    )


def test_colours_that_become_one_are_told_together_and_a_name_once() -> None:
    grey = ink("#c9ccd1", "#6fabc2", "turns")
    assert told(report(CREAM, NAVY, NAVY, grey, CREAM)) == (
        "Dark blue stays much as on white.",
        "Cream and pale grey turn blue.",
    )


def test_words_tell_how_they_stand_out_by_the_weakest_of_them() -> None:
    words = ink("#1d2f4f", "#041e46", "keeps", contrast=2.999, contrast_on_white=12.44)
    better = ink("#9a3324", "#462324", "keeps", contrast=5.0, contrast_on_white=6.0)
    weak = report(better, words, weakest=2.999)
    assert told(weak)[-1] == "Your words are hard to read on this cloth."
    assert told(report(better, weakest=5.0))[-1] == "Your words read well on this cloth."


def test_words_left_bare_count_though_they_are_no_ink() -> None:
    # White words on a photo, 1.9 to 1, beside dark ones that read well.
    dark = ink("#1d2f4f", "#041e46", "keeps", contrast=8.0, contrast_on_white=12.44)
    said = told(report(dark, weakest=1.9))
    assert said[-1] == "Your words are hard to read on this cloth."
    assert told(report(NAVY, weakest=1.9))[-1] == "Your words are hard to read on this cloth."


def test_every_name_that_a_colour_may_get_can_be_said_in_other_languages() -> None:
    steps = range(0, 256, 15)
    every = {plain_name(f"#{r:02x}{g:02x}{b:02x}") for r in steps for g in steps for b in steps}
    assert {name.removeprefix("greyish ") for name in every} <= set(NAMES)


def test_nothing_is_said_of_white_cloth_or_of_nothing() -> None:
    assert told(report(NAVY, cloth="#FFFFFF")) == ()
    assert told(report()) == ()
