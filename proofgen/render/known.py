"""The themes there are, for a name that is none."""

from __future__ import annotations

from proofgen.errors import Place, ProofgenError, UsageError
from proofgen.render.theme import theme_names
from proofgen.say import did_you_mean, quoted, sentences


def known_theme(
    name: str, kind: type[ProofgenError] = UsageError, place: Place | None = None
) -> None:
    """An error of that kind for a theme that is not there."""
    known = theme_names()
    if name not in known:
        cure = sentences(
            did_you_mean(name, known, typed=True), f"Choose one of: {', '.join(known)}"
        )
        raise kind(f"there is no theme {quoted(name)}", cure, place)
