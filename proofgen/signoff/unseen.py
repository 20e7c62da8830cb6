"""Two texts that differ, quoted so that the difference can be seen."""

from __future__ import annotations

import re
import unicodedata
from difflib import SequenceMatcher

from proofgen.say import quoted
from proofgen.say.safe import visible
from proofgen.say.tongue import Tongue, to_say


def _plain(text: str) -> str:
    """What an eye makes of a text: no joiners, one kind of space, letters put together."""
    kept = "".join(
        c for c in unicodedata.normalize("NFKC", text) if unicodedata.category(c) != "Cf"
    )
    return re.sub(r"\s+", " ", kept).strip()


def _script(char: str) -> str:
    return unicodedata.name(char, "").split(" ")[0] if char.isalpha() else ""


def _alike(old: str, new: str) -> bool:
    """Whether two texts look the same, or a letter of one is of another alphabet in the other."""
    if _plain(old) == _plain(new):
        return True
    if len(old) != len(new):
        return False
    swapped = [(a, b) for a, b in zip(old, new, strict=True) if a != b]
    return any(_script(a) != _script(b) and _script(a) and _script(b) for a, b in swapped)


def _named(part: str) -> str:
    return "".join(
        f"⟨U+{ord(c):04X} {unicodedata.name(c, '').lower()}".rstrip() + "⟩" for c in part
    )


def _quoted(tongue: Tongue, text: str, most: int) -> str:
    """As `say.quoted`, in the marks of the language."""
    return tongue(to_say("“{text}”"), text=quoted(text, most)[1:-1])


def told_apart(tongue: Tongue, old: str, new: str, most: int) -> tuple[str, str]:
    """Both in the language's quotation marks, cut to `most` letters; where they look alike, the
    letters that differ are written out by number and name."""
    if not old or not new or not _alike(old, new):
        return _quoted(tongue, old, most), _quoted(tongue, new, most)
    steps = SequenceMatcher(None, old, new, autojunk=False).get_opcodes()
    before = "".join(
        _named(old[a:b]) if op != "equal" else visible(old[a:b]) for op, a, b, *_ in steps
    )
    after = "".join(
        _named(new[c:d]) if op != "equal" else visible(new[c:d]) for op, _, _, c, d in steps
    )
    return _quoted(tongue, before, 2 * most), _quoted(tongue, after, 2 * most)
