"""Check photo/file-name."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.phrases import sentence, visible
from proofgen.checks.registry import Said, check, note
from proofgen.checks.subjects import ReadableSubject, readable_photos


@check(
    "photo/file-name",
    over=readable_photos,
    why="Files are read by what is in them; a name that says something else may trouble other "
    "programs.",
    source="the file's first bytes",
    codes={"another-kind": "the name says another kind of picture than the bytes"},
)
def file_name(subject: ReadableSubject) -> Iterator[Said]:
    """Every photo is the kind of picture its name says."""
    for remark in subject.facts.notes:
        if "name says" in remark:
            yield note("another-kind", sentence(visible(remark)), measure=subject.facts.format)
