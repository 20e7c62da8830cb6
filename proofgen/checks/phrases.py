"""What findings alone say: letters by their names, days, clauses as sentences."""

from __future__ import annotations

import unicodedata
from datetime import date

from proofgen.say.local import say_date


def letter(char: str) -> str:
    """'“漢” (CJK unified ideograph-6F22)': a letter with its Unicode name in plain writing."""
    name = unicodedata.name(char, "").lower() or "no name"
    name = name.replace("cjk", "CJK") + f", U+{ord(char):04X}"
    if unicodedata.category(char)[0] in "CZ":
        return name
    return f"“{'◌' if unicodedata.combining(char) else ''}{char}” ({name})"


def day(when: date) -> str:
    """'12 December 2026'."""
    return say_date(when, "en", long=False)


def sentence(text: str) -> str:
    """A clause as a sentence: capital first, full stop last."""
    text = text.strip()
    if not text:
        return ""
    return text[0].upper() + text[1:] + ("" if text[-1] in ".?…" else ".")
