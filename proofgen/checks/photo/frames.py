"""Check photo/frames."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.phrases import count
from proofgen.checks.registry import Said, check, note
from proofgen.checks.subjects import ReadableSubject, readable_photos


@check(
    "photo/frames",
    over=readable_photos,
    why="Moving pictures and files with several pictures open as the first one without a word.",
    source="the file's own count of pictures",
    codes={"several": "the file holds several pictures; the first is used"},
)
def frames(subject: ReadableSubject) -> Iterator[Said]:
    """Every file holds one picture."""
    if subject.facts.frames > 1:
        yield note(
            "several",
            f"This file holds {count(subject.facts.frames)} pictures; the first one is used.",
            "If another one is meant, please send that one by itself.",
            measure=subject.facts.frames,
            limit=1,
        )
