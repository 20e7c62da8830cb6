"""Check layout/face-there."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.phrases import quoted
from proofgen.checks.registry import Said, check, stop
from proofgen.checks.subjects import LineSubject, lines
from proofgen.errors import Place

_WORDS = {"round": "all the way round", "front": "the front", "back": "the back"}


@check(
    "layout/face-there",
    over=lines,
    why="What a design draws on a face the blank does not have would silently not be pressed.",
    source="the design's faces against the blank's own",
    codes={"lacking": "the design draws on a face this blank does not have"},
)
def face_there(subject: LineSubject) -> Iterator[Said]:
    """The blank has every face the design draws on."""
    if subject.design is None or subject.blank is None:
        return
    design, blank = subject.design, subject.blank
    have = list(blank.plan().canvases)
    for face in design.faces:
        if face in have:
            continue
        named = " and ".join(_WORDS.get(name, name) for name in have)
        at = design.lines.get(f"faces.{face}") or design.lines.get("faces") or design.place.line
        yield stop(
            "lacking",
            f"The design {quoted(design.title)} draws on {_WORDS.get(face, face)}; "
            f"{blank.name} has only {named}.",
            "Choose another blank, or give the design a face this one has.",
            about=face,
            where=str(Place(design.place.file, at)),
        )
