"""An answer slip: a short summary to read, and the block of letters that alone is believed."""

from __future__ import annotations

import functools
import re
import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from typing import Any, TypeGuard

from proofgen.say.lists import spans
from proofgen.say.tongue import Tongue, languages, to_say
from proofgen.signoff.digests import read_canonical
from proofgen.signoff.documents import SlipPayload
from proofgen.signoff.editions import is_order_id
from proofgen.signoff.kinds import ANSWERS, CHOICES
from proofgen.signoff.packing import contents

# The page's script puts the same words together, so they are given to it from here.
_SENTENCES: Mapping[str, str] = {
    "title": to_say("Answer to proof {edition} of order {order}"),
    **{kind.value: ANSWERS[kind].says for kind in CHOICES},
    "instead": to_say("Instead of “{old}”: “{new}”"),
    "instead_one": to_say("Piece {pieces}: instead of “{old}”: “{new}”"),
    "instead_many": to_say("Pieces {pieces}: instead of “{old}”: “{new}”"),
    "unsaid": to_say("“{old}” is wrong; what it should be is not said"),
    "unsaid_one": to_say("Piece {pieces}: “{old}” is wrong; what it should be is not said"),
    "unsaid_many": to_say("Pieces {pieces}: “{old}” is wrong; what it should be is not said"),
    "wrong": to_say("Marked as wrong, by number: {pieces}"),
    "noted": to_say("Note: {note}"),
    "texts": to_say("Words to change: {n}"),
    "pieces": to_say("Pieces marked wrong: {n}"),
    "note": to_say("A note is with it."),
    "name": to_say("Name: {name}"),
    "leave": to_say("Please send the lines below just as they are."),
    "paste": to_say("Please paste your answer here, in place of this line."),
}
_UNSAID = ("unsaid", "unsaid_one", "unsaid_many")
MOST_SUMMARY = 300  # characters of the readable part, as UTF-16 counts them
MOST_CHANGES, MOST_NEW, MOST_NAME, MOST_NOTE, _MOST_OLD = 500, 400, 200, 4000, 4000
_MOST_INFLATED = 64 * 1024  # bytes
_MAC = 16  # bytes
_TIME = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ")
_MARK = re.compile("(begin|end)[a-z]{0,12}answer[a-z]{0,12}code")  # in small letters alone
_FROM_THE_RIGHT = re.compile("[\u0590-\u08ff]")  # Hebrew to Arabic
_ALWAYS = frozenset(("v", "answer", "edition", "order", "time"))
_CHANGE = frozenset(("pieces", "slot", "line", "old", "new"))


def words_in(tongue: Tongue) -> dict[str, str]:
    """The words of a slip's summary in a language, their places still to be filled."""
    return {name: tongue.message(sentence) for name, sentence in _SENTENCES.items()}


@functools.cache
def words_everywhere() -> tuple[Mapping[str, str], ...]:
    """The same in every language that a customer may have."""
    return tuple(words_in(Tongue(language)) for language in languages())


def title(edition: int, order: str, words: Mapping[str, str]) -> str:
    """The first line of a slip, which is also the subject of the mail that carries it."""
    return words["title"].replace("{edition}", str(edition)).replace("{order}", order)


def titles(edition: int, order: str) -> list[str]:
    """The same in every language that a customer may have."""
    return [title(edition, order, words) for words in words_everywhere()]


def summary(
    payload: SlipPayload, words: Mapping[str, str], pieces: int = 0, whole: bool = False
) -> str:
    """The readable part as the page writes it: all that was written and marked, and where that is
    longer than MOST_SUMMARY and not asked for `whole`, counts of it; a name that is too long even
    for those stands in the block alone. `pieces`: how many the order has, 0 where unknown."""
    name = [_filled(words["name"], name=payload["name"])] if payload.get("name") else []
    forms = (_told(payload, words, pieces) + name, _counted(payload, words) + name)
    for form in forms if _can_be_told(payload) else forms[1:]:
        text = _letter(payload, words, form)
        if (whole and form is forms[0]) or _length(text) <= MOST_SUMMARY:
            return text
    return _letter(payload, words, _counted(payload, words))


def summaries(payload: SlipPayload, words: Mapping[str, str]) -> list[str]:
    """Each way in which it may read: only a text of the most pieces can be one of all of them."""
    most = max((len(change["pieces"]) for change in payload.get("changes", ())), default=0)
    # Pages of before said of a text left empty: instead of “Odalis”: “”.
    older = {**words, **{key: words[key.replace("unsaid", "instead")] for key in _UNSAID}}
    every = (
        summary(payload, said, pieces, whole)
        for said in (words, older)
        for pieces in (0, most)
        for whole in (True, False)
    )
    return list(dict.fromkeys(every))


def _letter(payload: SlipPayload, words: Mapping[str, str], form: Sequence[str]) -> str:
    first = title(payload["edition"], payload["order"], words)
    return "\n".join([first, "", words[payload["answer"]], *form, "", words["leave"], ""])


def _told(payload: SlipPayload, words: Mapping[str, str], pieces: int) -> list[str]:
    """Everything, in full."""
    told = []
    for change in payload.get("changes", ()):
        on, old, new = change["pieces"], change["old"], change["new"]
        key = "instead" if new else "unsaid"
        key += "" if len(on) == pieces else "_one" if len(on) == 1 else "_many"
        if _FROM_THE_RIGHT.search(words[key] + old + new):
            old, new = (f"\u2068{text}\u2069" for text in (old, new))  # each runs its own way
        told.append(_filled(words[key], pieces=_numbers(on), old=old, new=new))
    if wrong := payload.get("wrong"):
        told.append(_filled(words["wrong"], pieces=_numbers(wrong)))
    return told + ([_filled(words["noted"], note=payload["note"])] if payload.get("note") else [])


def _counted(payload: SlipPayload, words: Mapping[str, str]) -> list[str]:
    """How much of it there is."""
    counted = []
    for key, many in (("texts", payload.get("changes")), ("pieces", payload.get("wrong"))):
        counted += [_filled(words[key], n=str(len(many)))] if many else []
    return counted + ([words["note"]] if payload.get("note") else [])


def _can_be_told(payload: SlipPayload) -> bool:
    """Not words that read as a mark of the block: they would hide the block itself."""
    changes = payload.get("changes", ())
    texts = [payload.get("note", ""), *(c[key] for c in changes for key in ("old", "new"))]
    plain = unicodedata.normalize("NFKC", " ".join(texts)).lower()
    return not _MARK.search(re.sub(r"[^a-z]", "", plain))


def _filled(sentence: str, **places: str) -> str:
    return re.sub(r"\{(\w+)\}", lambda place: places.get(place[1], place[0]), sentence)


def _numbers(pieces: Iterable[int]) -> str:
    """'1–4, 7'."""
    return ", ".join(str(a) if a == b else f"{a}–{b}" for a, b in spans(pieces))


def _length(text: str) -> int:
    """As UTF-16 counts."""
    return len(text.encode("utf-16-le", "surrogatepass")) // 2


# -- the block's bytes -----------------------------------------------------------------------


def unpacked(content: bytes) -> tuple[bytes, bytes, SlipPayload] | None:
    """The canonical answer, its code and its fields out of a block's bytes; None when damaged."""
    signed, mac = contents(content, _MAC, _MOST_INFLATED) or (b"", b"")
    fields = read_payload(signed) if signed else None
    return (signed, mac, fields) if signed and fields else None


def read_payload(signed: bytes) -> SlipPayload | None:
    """The fields of a canonical answer; None when one is missing, too much or of a wrong kind."""
    try:
        fields = read_canonical(signed)
    except ValueError:
        return None
    return fields if _is_payload(fields) else None


def _is_payload(fields: Any) -> TypeGuard[SlipPayload]:
    if not isinstance(fields, dict) or fields.keys() - SlipPayload.__annotations__.keys():
        return False
    if _ALWAYS - fields.keys() or fields["v"] != 2:
        return False
    return (
        fields["answer"] in CHOICES
        and is_order_id(fields["order"])
        and are_pieces([fields["edition"]])
        and is_time(fields["time"])
        and _is_text(fields.get("name", ""), MOST_NAME)
        and _is_text(fields.get("note", ""), MOST_NOTE)
        and are_pieces(fields.get("wrong", []))
        and _is_part(fields.get("marked", [0, 1]))
        and all(isinstance(fields.get(key, True), bool) for key in ("print", "show"))
        and _are_changes(fields.get("changes", []))
    )


def _are_changes(given: Any) -> bool:
    return (
        isinstance(given, list)
        and len(given) <= MOST_CHANGES
        and all(isinstance(one, dict) and one.keys() == _CHANGE for one in given)
        and all(
            bool(one["pieces"])
            and are_pieces(one["pieces"])
            and are_pieces([one["line"]])
            and _is_text(one["slot"], MOST_NAME)
            and _is_text(one["old"], _MOST_OLD)
            and _is_text(one["new"], MOST_NEW)
            for one in given
        )
    )


def _is_text(value: Any, most: int) -> bool:
    return isinstance(value, str) and len(value) <= most


def are_pieces(given: Any) -> bool:
    """Whether it is a list of numbers that pieces may have, in order and each once."""
    return (
        isinstance(given, list)
        and all(type(n) is int and 0 < n < 100_000 for n in given)
        and given == sorted(set(given))
    )


def _is_part(given: Any) -> bool:
    """Whether it is how many of how many, and fewer."""
    return (
        isinstance(given, list)
        and len(given) == 2
        and all(type(n) is int for n in given)
        and 0 <= given[0] < given[1] < 100_000
    )


def is_time(text: Any) -> bool:
    """Whether a clock could have shown it, written as the page writes it."""
    try:
        return isinstance(text, str) and bool(
            _TIME.fullmatch(text) and datetime.fromisoformat(text)
        )
    except ValueError:
        return False
