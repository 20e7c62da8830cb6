"""Check photo/readable."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.phrases import sentence, visible
from proofgen.checks.registry import Said, check, skipped, stop
from proofgen.checks.subjects import FileSubject, photo_files

CODES = {
    "missing": "there is no such file",
    "unreadable": "the file may not be read",
    "empty": "the file has no bytes",
    "not-a-picture": "the bytes are no picture",
    "too-big": "more bytes or pixels than we open",
    "damaged": "part of the picture is missing or cannot be decoded",
    "unsupported": "a kind of picture that we do not open",
}


@check(
    "photo/readable",
    over=photo_files,
    why="A photo that is half there, or no photo at all, must be asked for again before anybody "
    "waits for a proof.",
    source="the file's own bytes, read strictly",
    codes={
        **CODES,
        "unusable": "cannot be used for another reason, which is told",
        "not-looked-at": "nobody read the file in this run",
    },
)
def readable(subject: FileSubject) -> Iterator[Said]:
    """Every photo opens, whole."""
    facts = subject.facts
    if facts is None:
        yield skipped("not-looked-at", "This photo was not read in this run.")
    elif not facts.usable:
        code = facts.problem_code if facts.problem_code in CODES else "unusable"
        yield stop(code, sentence(visible(facts.problem)), sentence(visible(facts.cure)))
