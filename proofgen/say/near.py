"""Did you mean: the known name that is nearest to one that was written."""

from __future__ import annotations

from collections.abc import Iterable

_LONGEST = 80  # letters; what is longer is no slip of the pen, and slow to compare
_ALIKE = 0.6  # share of letters in common from which a name is near; ours, no source


def near_names(name: str, known: Iterable[str], count: int = 1) -> list[str]:
    """At most `count` of the known names that were probably meant, nearest first, whatever their
    capitals. Likeness is the longest common subsequence's (rapidfuzz, normalized Indel)."""
    from rapidfuzz import process  # takes as long as three starts of Python; only a slip needs it
    from rapidfuzz.distance import Indel

    if not name or len(name) > _LONGEST:
        return []
    by_fold = {one.casefold(): one for one in known}
    nearest = process.extract(
        name.casefold(),
        sorted(by_fold, reverse=True),
        scorer=Indel.normalized_similarity,
        score_cutoff=_ALIKE,
        limit=count,
    )
    return [by_fold[fold] for fold, _, _ in nearest]


def begun_by(name: str, known: Iterable[str]) -> list[str]:
    """The one known name that begins so, whatever its capitals; none where several do."""
    begun = [one for one in known if name and one.casefold().startswith(name.casefold())]
    return begun if len(begun) == 1 else []


def did_you_mean(
    name: str, known: Iterable[str], *, typed: bool = False, begins: bool = False
) -> str:
    """The question, or '' where none is near; bare of quotes for what will be typed. `begins`: the
    one that begins so is meant, however long it is.

    >>> did_you_mean("ski", ["sky", "white"]), did_you_mean("press", ["orders"])
    ('did you mean “sky”?', '')
    """
    every = list(known)
    near = (begun_by(name, every) if begins else []) or near_names(name, every)
    if not near:
        return ""
    return f"did you mean {near[0]}?" if typed else f"did you mean “{near[0]}”?"
