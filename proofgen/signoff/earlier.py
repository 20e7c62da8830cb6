"""What was said of the proof before, and what the latest one makes of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from proofgen.model.artwork_document import ArtworkDocument
from proofgen.say import pieces, quoted, quoted_whole
from proofgen.say.safe import respaced
from proofgen.signoff.editions import MOST_QUOTED, Answer, AskedChange

# Of a text that was to be another: it is that, or as it was, or a third one, or its place is gone.
Became = Literal["changed", "as it was", "other", "gone"]
_SAYS = {
    "changed": "it is changed",
    "as it was": "it stands as it was",
    "other": "it now reads {now}",
    "gone": "it is no longer there",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Earlier:
    """One thing that was said of proof `edition`: a text that was to be another and what became of
    it (`now`: as it reads), or pieces marked as wrong, or words."""

    edition: int
    asked: AskedChange | None = None
    became: Became = "as it was"
    now: str = ""
    wrong: tuple[int, ...] = ()
    words: str = ""

    @property
    def said(self) -> str:
        """For the maker: 'Name, piece 12: “Odalis” → “Odalys”; it is changed'."""
        if self.asked:
            now = quoted(self.now, MOST_QUOTED)
            return f"{self.asked.said}; {_SAYS[self.became].format(now=now)}"
        if self.wrong:
            return f"{pieces(self.wrong)} marked as wrong"
        return quoted_whole(self.words)


def earlier_of(
    answers: Sequence[Answer], wrote: Sequence[str], number: int, document: ArtworkDocument | None
) -> list[Earlier]:
    """What was said of proof `number`, each thing once, and what `document`, which describes a
    later one, makes of it."""
    given = [a for a in answers if a.edition == number]
    found = [
        _followed(one, number, document)
        for one in dict.fromkeys(one for a in given for one in a.changes)
    ]
    marked = tuple(sorted({n for a in given for n in a.wrong}))
    if marked:
        found.append(Earlier(edition=number, wrong=marked))
    words = dict.fromkeys([*(text for a in given for text in a.words), *wrote])
    return [*found, *(Earlier(edition=number, words=text) for text in words)]


def _followed(asked: AskedChange, number: int, document: ArtworkDocument | None) -> Earlier:
    texts = {
        variant["words"].get(asked.slot, "")
        for line in (document["lines"] if document else ())
        if line["line"] == asked.line
        for variant in line["variants"]
        if set(variant["pieces"]) & set(asked.pieces)
    }
    plain = {respaced(text) for text in texts}
    if not any(plain):
        became: Became = "gone"
    elif respaced(asked.old) in plain:
        became = "as it was"  # of several pieces even where one of them was forgotten
    else:
        became = "changed" if plain == {respaced(asked.new)} else "other"
    return Earlier(edition=number, asked=asked, became=became, now=" / ".join(sorted(texts)))
