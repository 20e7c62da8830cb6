"""How numbers, sizes, pieces and customers' words are written in a finding."""

from __future__ import annotations

import math
import unicodedata
from collections.abc import Iterable
from datetime import date

from proofgen.say.local import say_date
from proofgen.units import number

_LONGEST = 60  # of a quoted text, characters


def count(value: int) -> str:
    """1867 as '1,867'."""
    return f"{value:,}"


def mm(value: float) -> str:
    """'66.1 mm'."""
    return f"{number(value)} mm"


def size(width_mm: float, height_mm: float) -> str:
    """'237 × 100 mm'; small things keep one decimal."""
    places = 0 if min(width_mm, height_mm) >= 20 else 1
    return f"{number(width_mm, places)} × {number(height_mm, places)} mm"


def at_most(value: float, places: int = 0) -> str:
    """A number rounded down, so that one under a limit never reads as the limit: 119.999, '119'."""
    scale = 10**places
    return f"{math.floor(value * scale + 1e-9) / scale:.{places}f}"


def joined(parts: Iterable[str], last: str = "and") -> str:
    """'a, b and c'."""
    some = list(parts)
    return f" {last} ".join([", ".join(some[:-1]), some[-1]] if len(some) > 1 else some)


def runs(numbers: Iterable[int]) -> str:
    """Numbers with neighbours joined: '1 to 4, 7 and 9'."""
    groups: list[list[int]] = []
    for n in sorted(set(numbers)):
        if groups and n == groups[-1][-1] + 1:
            groups[-1].append(n)
        else:
            groups.append([n])
    parts = []
    for group in groups:
        if len(group) > 2:
            parts.append(f"{group[0]} to {group[-1]}")
        else:
            parts += [str(n) for n in group]
    return joined(parts)


def pieces(numbers: tuple[int, ...]) -> str:
    """'Piece 3' or 'Pieces 1 to 4 and 7'."""
    return f"Piece{'s' if len(set(numbers)) > 1 else ''} {runs(numbers)}"


def plural(many: int, one: str, more: str = "") -> str:
    """'1 name', '12 names'."""
    return f"{count(many)} {one if many == 1 else more or one + 's'}"


def visible(text: str) -> str:
    """A text with what nobody can see written out: no terminal and no page is led astray by it.

    The joiners that Persian, Indic names and emoji need stay as they are.
    """
    return "".join(
        f"⟨U+{ord(c):04X}⟩"
        if unicodedata.category(c) in ("Cc", "Cf", "Cn", "Co", "Cs", "Zl", "Zp")
        and c not in "\n\u200c\u200d"
        else c
        for c in text
    ).replace("\n", " / ")


def quoted(text: str) -> str:
    """A customer's words in quotes, cut when very long."""
    shown = visible(text)
    return f"“{shown if len(shown) <= _LONGEST else shown[: _LONGEST - 1] + '…'}”"


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
