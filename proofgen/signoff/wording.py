"""What a person wrote in an answer: all of a mail that is not our own text, and says something.

The coded block says what was chosen; what stands beside it is an answer too. So everything that
cannot be shown to be ours (the quoted letter, the slip's readable part), a mail program's
furniture, a greeting or a signature counts as a person's words. A changed line of our own text
does too: only what is unchanged is ours.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache

from proofgen.signoff import manners
from proofgen.signoff.headers import without_headers

QUOTE = re.compile(r"^[ \t]*(?:[A-Za-z]{0,3}>|\|)(?:[ \t]*[>|])*[ \t]?")
_SOFT_BREAK = re.compile(r"=[ \t]*\r?\n")
_MARKUP = "*_`"
_ALIKE = str.maketrans(
    {
        "\\": "",
        "’": "'",
        "‘": "'",
        "“": '"',
        "”": '"',
        "„": '"',
        "–": "-",
        "—": "-",
        "‑": "-",
        "…": "...",
    }
)
_LEAST_TOKENS = 3  # a shorter line of ours could be anybody's
_LEAST_OF_SUBJECT = 2
_SIGNATURE_LINES = 8  # RFC 3676 4.3 sets them off with '-- '; longer ones are letters
_NAME_WORDS = 5
_CLOCK = re.compile(r"\b\d{1,2}[:.]\d{2}\b")
_YEAR = re.compile(r"\b20\d{2}\b")
_AS_PICTURE = re.compile("[\ufe00-\ufe0f]")  # chooses how the letter before it looks
_ADDRESS = re.compile(r"https?://\S+")
_MOST = 200_000  # letters of one reading; of a longer one the rest is counted


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """What we know of an answer's surroundings.

    `texts` are ours and may come back quoted (letter, slip as it was composed); `choices` are the
    sentences of the answers: one that was not `chosen` is a person's word wherever it stands alone.
    """

    texts: Sequence[str] = ()
    choices: Sequence[str] = ()
    chosen: Collection[str] = ()
    names: Sequence[str] = ()  # of the customer, the shop, and who signed the slip
    marks: Sequence[str] = ()  # the link's secret part, the codes: ours wherever they stand
    address: str = ""  # the customer's mail
    named: Sequence[str] = ()  # what an order is called by: its id, the number of its proof


def person_words(readings: Iterable[str], known: Known) -> tuple[str, ...]:
    """A person's words in the readings of one mail (plain, HTML), as paragraphs, in their order.

    Never raises; nothing is shortened, but of a reading of more than 200,000 letters the rest is
    counted. What a second reading only repeats is given once.
    """
    paragraphs: list[str] = []
    for reading in readings:
        for paragraph in _of_one(reading, known):
            if not any(_folded(paragraph) in _folded(other) for other in paragraphs):
                paragraphs.append(paragraph)
    return tuple(paragraphs)


def without_ours(reading: str, known: Known) -> str:
    """A reading without the marks of quoting, and without the lines that are ours."""
    lines = [QUOTE.sub("", line).rstrip() for line in reading.splitlines()]
    return "\n".join(_without_ours(lines, known))


def _of_one(reading: str, known: Known) -> list[str]:
    if len(reading) > _MOST:
        return [reading[:_MOST], f"({len(reading) - _MOST:,} more letters)"]
    text = unicodedata.normalize("NFC", _SOFT_BREAK.sub("", reading))
    lines = [QUOTE.sub("", line).rstrip() for line in text.splitlines()]
    names = {token for name in known.names for token in _plain(name).split()}
    bare = manners.REPLY_INTRO.sub(
        lambda intro: "" if _is_intro(intro[0], names) else intro[0], "\n".join(lines)
    )
    left = _without_ours(_without_cut_subjects(bare.split("\n"), known), known)
    return _paragraphs(_without_manners(left, names))


# -- our subjects, cut short -----------------------------------------------------------------


def cut_subject(subject: str, known: Known) -> bool:
    """Whether a mail's subject is one of ours that a mail program cut short: its first words, two
    at least, the last of them whole or not, and nothing behind them."""
    said = _tokens(manners.ANSWERING.sub("", subject))
    if said and said[-1].endswith("..."):
        said[-1] = said[-1].rstrip(".")
        said = said if said[-1] else said[:-1]
    return len(said) >= _LEAST_OF_SUBJECT and any(
        ours[: len(said) - 1] == said[:-1] and ours[len(said) - 1].startswith(said[-1])
        for ours in _subjects(known)
        if len(ours) >= len(said)
    )


def _subjects(known: Known) -> Iterator[list[str]]:
    for text in known.texts:
        lines = text.splitlines()
        for line in lines:
            if len(lines) == 1 or manners.SUBJECT_LINE.match(line):
                yield _tokens(manners.SUBJECT_LINE.sub("", line))


def _without_cut_subjects(lines: Sequence[str], known: Known) -> list[str]:
    """The same where a subject of ours stands cut among the header lines of a quoted mail."""
    left = []
    for line in lines:
        label = manners.SUBJECT_LINE.match(line)
        cut = label is not None and cut_subject(line[label.end() :], known)
        left.append(line[: label.end()] if label and cut else line)
    return left


# -- our own text ----------------------------------------------------------------------------


def _token(text: str) -> str:
    """A word as it is compared: case, quotes, dashes, a chat's marks and what cannot be seen do not
    count."""
    plain = unicodedata.normalize("NFKC", text).translate(_ALIKE).casefold()
    plain = "".join(c for c in plain if unicodedata.category(c) != "Cf") or plain
    return plain.strip(_MARKUP) or plain


def _tokens(line: str) -> list[str]:
    return [_token(word) for word in line.split()]


def _folded(text: str) -> str:
    return " ".join(_tokens(text))


def _without_ours(lines: Sequence[str], known: Known) -> list[str]:
    """The lines without every run of words that is a whole line of ours, wrapped as it may be."""
    words = [(word, number) for number, line in enumerate(lines) for word in line.split()]
    flat = [_token(word) for word, _ in words]
    mine = [False] * len(flat)
    starts: dict[str, list[int]] = {}
    for at, token in enumerate(flat):
        starts.setdefault(token, []).append(at)
    others = {_folded(choice) for choice in known.choices if choice not in known.chosen}
    texts = [_lines_of(text) for text in known.texts]
    sure = [[line for line in own if _is_sure(line, others)] for own in texts]
    # The longest first, whichever text has it: part of a line may be a line of another text.
    for each in sorted({tuple(it) for own in sure for it in own}, key=lambda it: (-len(it), it)):
        _take(each, flat, starts, mine)
    for own, certain in zip(texts, sure, strict=True):
        found = [line for line in certain if _take(line, flat, starts, mine)]
        if len(found) * 2 >= len(certain):  # the text came back: then its short lines are ours too
            for line in own:
                said = " ".join(line)  # thanks stay: a name may follow them (`_without_manners`)
                if line not in certain and said not in others and _plain(said) not in _phrases():
                    _take(line, flat, starts, mine)
    for chosen in known.chosen:
        _take(_tokens(chosen), flat, starts, mine)
    marks = [_token(mark) for mark in known.marks if mark]
    for at, token in enumerate(flat):
        if any(mark in token for mark in marks) and _is_bare_mark(token, marks):
            mine[at] = True
    left: list[list[str]] = [[] for _ in lines]
    for (word, number), ours in zip(words, mine, strict=True):
        if not ours:
            left[number].append(word)
    return [" ".join(row) for row in left]


def _lines_of(text: str) -> list[list[str]]:
    """The lines of a text of ours as they are compared, longest first."""
    plain = (QUOTE.sub("", line) for line in text.splitlines())  # a note may begin so
    own = [_tokens(manners.SUBJECT_LINE.sub("", line)) for line in plain]
    return sorted((line for line in own if line), key=len, reverse=True)


def _is_sure(line: Sequence[str], others: Collection[str]) -> bool:
    """Whether a line is ours wherever it stands."""
    return len(line) >= _LEAST_TOKENS and " ".join(line) not in others


def _take(
    line: Sequence[str], flat: Sequence[str], starts: dict[str, list[int]], mine: list[bool]
) -> bool:
    """Marks every place where the line's words stand in a row; whether there was one."""
    found = False
    for at in starts.get(line[0], ()):
        end = at + len(line)
        if list(flat[at:end]) == list(line):
            found = True  # whether or not another text of ours has the line as well
            if not any(mine[at:end]):
                mine[at:end] = [True] * len(line)
    return found


def _is_bare_mark(token: str, marks: Sequence[str]) -> bool:
    """A link or a code and nothing typed onto its end."""
    return "://" in token or token.strip(".,;:!?()[]<>\"'") in marks


# -- manners ---------------------------------------------------------------------------------


def _plain(line: str) -> str:
    """A line folded, without punctuation and pictures: 'Many thanks!' as 'many thanks'."""
    line = _AS_PICTURE.sub("", line)
    kept = "".join(c if c.isalnum() or unicodedata.category(c)[0] == "M" else " " for c in line)
    return " ".join(unicodedata.normalize("NFC", kept).casefold().split())


def is_plain_name(text: str) -> bool:
    """Whether a name field holds a name and no sentence."""
    few = len(text.split()) <= _NAME_WORDS
    return few and not any(c.isdigit() for c in text) and not manners.TELLING.search(text)


_READ = ("en", "de", "es", "fr", "ar")  # the languages of `manners`
_SEEN_IN_INTROS = ("cs", "da", "it", "nb", "nl", "pl", "pt", "sv", "tr")


@cache
def _calendar(languages: tuple[str, ...] = _READ) -> frozenset[str]:
    """Names of days, months and halves of a day."""
    from babel import Locale  # only mails need it

    names: set[str] = set()
    for language in languages:
        locale = Locale(language)
        for table in (locale.days, locale.months, locale.day_periods):
            for width in ("wide", "abbreviated"):
                names |= {str(name) for name in table["format"].get(width, {}).values()}
    return frozenset(word for name in names for word in _plain(name).split())


def _is_known(text: str, names: set[str]) -> bool:
    """Nothing but known names and addresses, days and times."""
    known = names | _calendar() | manners.INTRO_WORDS
    return all(word in known or word.isdigit() for word in _plain(text).split())


def _is_intro(text: str, names: set[str]) -> bool:
    """The line above a quoted letter: a time or a year, and nothing that we do not know."""
    if not (_CLOCK.search(text) or _YEAR.search(text)):
        return False
    return _is_known(text, names | manners.ONLY_INTRO_WORDS | _calendar(_SEEN_IN_INTROS))


def _without_manners(lines: Sequence[str], names: set[str]) -> list[str]:
    """The lines with greetings, closings, signatures and a mail program's own lines made empty."""
    left: list[str] = []
    closed = False  # a closing stood just above: a name may follow
    signature = 0
    for line in without_headers(lines, lambda v: _is_known(v, names) or _is_intro(v, names)):
        if line.strip() in ("--", "—"):
            signature = _SIGNATURE_LINES + 1
            left.append("")
            continue
        # A signature ends at its first empty line, and where a line speaks.
        signature = signature - 1 if signature and _signs(line, names) else 0
        if signature:
            left.append("")
            continue
        plain = _plain(line)
        if _speaks_without_letters(line):
            left.append(line)
            closed = False
            continue
        if not plain:
            left.append("")
            continue
        empty = _is_manner(line, plain, names) or (closed and _is_of_a_person(line, names))
        closed = _closes(plain) or (closed and empty)
        left.append("" if empty else line)
    return left


def _closes(plain: str) -> bool:
    """Thanks or a closing at the end of a row of manners, and nothing behind them."""
    words = plain.split()
    ends = any(" ".join(words[at:]) in _phrases() for at in range(len(words)))
    return ends and _behind_phrases(words) == []


def _signs(line: str, names: set[str]) -> bool:
    """A line as signatures have them: known names and addresses, a telephone number, a firm."""
    if not line.strip() or manners.TELLING.search(line) or _speaks_without_letters(line):
        return False
    if _is_of_a_person(line, names):
        return True
    return bool(manners.COMPANY.search(line)) and not any(c.isdigit() for c in line)


def _is_of_a_person(line: str, names: set[str]) -> bool:
    """A known name or address, a telephone number, a street, a town behind its code: what stands
    below a closing."""
    bare = "".join(c for c in line if c not in manners.KIND_PICTURES)
    if manners.TELLING.search(line):
        return False
    shapes = (manners.TELEPHONE, manners.STREET, manners.TOWN)
    return _is_name(_plain(line), names) or any(shape.match(bare) for shape in shapes)


def speaks(char: str) -> bool:
    """A picture such as a thumb turned down says something, and so does a question mark."""
    if char in manners.KIND_PICTURES:
        return False
    return char in "?؟" or (not char.isascii() and unicodedata.category(char) in ("So", "Sk"))


def _speaks_without_letters(line: str) -> bool:
    bare = _ADDRESS.sub("", line)
    return any(map(speaks, manners.SKIN.sub("", bare) if len(bare.strip()) > 1 else bare))


@cache
def _phrases() -> frozenset[str]:
    """Thanks and closings as `_plain` makes them."""
    return frozenset(_plain(phrase) for phrase in (*manners.THANKS, *manners.CLOSINGS))


@cache
def _greetings() -> frozenset[str]:
    return frozenset(_plain(phrase) for phrase in manners.SALUTATIONS) | _phrases()


def _is_manner(line: str, plain: str, names: set[str]) -> bool:
    """A greeting, thanks or a closing with nothing but names behind it; a mail program's line; a
    chat's stamp of who wrote when."""
    if manners.FURNITURE.match(line):
        return True
    if set(plain.split()) <= manners.YES_WORDS:
        return True
    if sent := manners.SENT_FROM.match(line):
        return _are_devices(_plain(sent[1]).split())
    words = plain.split()
    if (left := _behind_phrases(words)) is not None:
        return _is_name(" ".join(left), names)
    stamped = _CLOCK.search(line) and any(word in names for word in words)
    return bool(stamped) and _is_known(line, names)


def _behind_phrases(words: Sequence[str]) -> Sequence[str] | None:
    """What stands behind greetings, thanks and closings in a row; None where none stands first."""
    for end in range(len(words), 0, -1):
        if " ".join(words[:end]) not in _greetings():
            continue
        left = words[end:]
        joined = left[1:] if left and left[0] in manners.JOINING else left
        further = _behind_phrases(joined)
        return left if further is None else further
    return None


def _are_devices(words: Sequence[str]) -> bool:
    """Names of devices and mail programs, with what stands beside them, and nothing else."""
    for before, word in zip(["", *words], words, strict=False):
        known = word in manners.DEVICES or word in manners.BESIDE_DEVICES
        model = manners.MODEL.fullmatch(word) is not None
        number = word.isdigit() and len(word) <= 2 and before in manners.NUMBERED
        if not (known or model or number):
            return False
    return any(word in manners.DEVICES for word in words)


def _is_name(plain: str, names: set[str]) -> bool:
    """Nothing but known names: of the customer, of the shop, of who signed."""
    return all(word in names or word in manners.TO_ALL for word in plain.split())


def _paragraphs(lines: Sequence[str]) -> list[str]:
    found: list[list[str]] = [[]]
    for line in lines:
        if line.strip():
            found[-1].append(line.strip())
        elif found[-1]:
            found.append([])
    return ["\n".join(rows) for rows in found if rows]
