"""Whether a file that was named at the desk is a picture, told by how it begins."""

from __future__ import annotations

from pathlib import Path

from proofgen.desk.questions import Refused
from proofgen.errors import UsageError
from proofgen.photo.kinds import Kind, kind_of
from proofgen.photo.troubles import not_opened
from proofgen.say import capital

_KIND_BYTES = 4096


def kind_at(path: Path) -> Kind:
    """What a file is; as much of it is read as tells its kind. Errors: OSError."""
    with path.open("rb") as file:
        return kind_of(file.read(_KIND_BYTES))


def to_be_a_picture(path: Path) -> Path:
    """The file, where it is a picture. Of what kind, and whether it is whole, the checks tell, and
    what to ask the customer for. Errors: Refused, for any other file."""
    kind = kind_at(path)
    if kind.picture:
        return path
    trouble = not_opened(path, kind)
    again = f"{capital(trouble.problem)}. {trouble.cure}. "
    raise Refused(UsageError(trouble.problem, trouble.cure), again)
