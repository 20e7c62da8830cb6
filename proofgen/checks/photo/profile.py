"""Check photo/profile."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.phrases import sentence, visible
from proofgen.checks.registry import Said, check, note, warn
from proofgen.checks.subjects import ReadableSubject, readable_photos


@check(
    "photo/profile",
    over=readable_photos,
    why="The same numbers mean different colours under another profile (the file's own key to its "
    "colours); converting may calm the strongest ones.",
    source="ICC.1:2022 (ISO 15076-1), from memory; IEC 61966-2-1 for sRGB",
    codes={
        "converted": "another profile than sRGB was converted",
        "broken-profile": "the profile cannot be read and was left out",
        "four-inks": "stored in printing inks (CMYK) without saying which",
    },
)
def profile(subject: ReadableSubject) -> Iterator[Said]:
    """Every photo's colours are plain sRGB."""
    facts = subject.facts
    faults = [n for n in facts.notes if "profile" in n.lower()]
    for fault in faults:
        yield note("broken-profile", sentence(visible(fault)), "Compare its colours on the proof.")
    for doubt in (n for n in facts.notes if "printing inks" in n):
        yield warn(
            "four-inks",
            sentence(visible(doubt)),
            "Look at its colours on the proof, or ask for it in RGB, as cameras and phones do.",
            measure=facts.mode,
        )
    if facts.profile and "srgb" not in facts.profile.lower() and not faults:
        yield note(
            "converted",
            f"This photo’s colours were made for {visible(facts.profile)}; we converted them for "
            "our press, which may calm very strong colours a little.",
            measure=visible(facts.profile),
        )
