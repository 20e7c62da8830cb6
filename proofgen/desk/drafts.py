"""What somebody answered, kept until the conversation is done: no slip, no Ctrl+C and no power cut
loses any of it."""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from pathlib import Path

from proofgen import store
from proofgen.desk.questions import Ask, Asker, Question, yes_or_no
from proofgen.errors import MachineError, ProofgenError
from proofgen.workshop import DRAFTS

_KEPT = "what you answered is kept: type the same again, and Enter takes each answer"
_MOST_SHOWN = 3
_MOST = 200_000  # bytes: far more than anybody types


@dataclass(slots=True)
class Draft:
    """Answers by their questions: those of the time before, those of now."""

    file: Path
    before: dict[str, str]
    now: dict[str, str] = field(default_factory=dict)

    def answer_to(self, question: str) -> str:
        """What was typed last; '' for nothing."""
        return self.now.get(question, self.before.get(question, ""))

    def note(self, question: str, text: str) -> None:
        """Keep an answer that was taken."""
        self.now[question] = text
        content = json.dumps(self.before | self.now, ensure_ascii=False)
        with suppress(MachineError, OSError):  # who cannot keep it can go on all the same
            store.write(self.file, content, private=True)

    def done(self) -> None:
        """All is written where it belongs."""
        store.remove(self.file)


def _read(file: Path) -> dict[str, str]:
    try:
        if file.stat().st_size > _MOST:
            return {}
        read = json.loads(file.read_text("utf-8"))
    except (OSError, ValueError):
        return {}
    return {str(k): str(v) for k, v in read.items()} if isinstance(read, dict) else {}


def draft_of(workroom: Path, name: str) -> Path:
    """Where the answers of a conversation of this name are kept in a shop."""
    return workroom / DRAFTS / f"{name}.json"


@contextmanager
def drafted(file: Path, ask: Ask | None) -> Iterator[Asker]:
    """Who is asked, for a conversation; what was answered is kept in the file until it ends well.
    An error tells so."""
    if ask is None:
        yield Asker(None)
        return
    draft = Draft(file, _read(file))
    if said := [text for text in draft.before.values() if text][:_MOST_SHOWN]:
        begun = f"You began this before and stopped ({', '.join(said)} …)."
        asks = f"{begun} Take what you answered then? (Enter: yes; no: begin anew)"
        takes = Asker(ask).answer(Question(asks=asks, parse=yes_or_no, enter=""))
        draft.before = {} if takes is False else draft.before
    try:
        yield Asker(ask, draft)
    except ProofgenError as error:
        if any(draft.now.values()):
            error.cure = f"{error.cure}; {_KEPT}" if error.cure else _KEPT
        raise
    draft.done()
