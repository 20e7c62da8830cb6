"""What a reader of YAML stumbled over, in words, and where."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import yaml


def slip_of(error: yaml.MarkedYAMLError) -> tuple[str, int]:
    """The problem as a sentence, and how many lines stand before it; 0 where that is not known."""
    mark = error.problem_mark or error.context_mark
    if "quoted" in (error.context or ""):
        mark = error.context_mark  # where the quote begins, not where the file ends
    return f"this line is not YAML ({error.problem or error.context})", mark.line if mark else 0
