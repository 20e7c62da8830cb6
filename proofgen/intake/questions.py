"""A mail that answers the questions of the catalogue's order button, line by line, whatever mail
programs did to it. Nothing is guessed: what is not plainly there stays open."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from proofgen.catalogue.order_form import SUBJECT
from proofgen.catalogue.ordering import OrderQuestion, questions
from proofgen.intake.asked import Asked
from proofgen.model import Blank, Design, Shop
from proofgen.model.blank_names import called_in, cloths_in
from proofgen.say import quoted
from proofgen.say.tongue import Tongue, languages
from proofgen.shop.parsers import parse_date

_LEAST = 3  # questions of a mail that answers them; fewer may be anybody's words
_MOST = 100_000  # letters of a mail that are looked through
_QUOTE = re.compile(r"^[ \t]*(?:[>|][ \t]?)+", re.MULTILINE)
_UNSEEN = re.compile("[\u00ad\u200b\u200e\u200f\u2060-\u2069\ufeff]")
# What may be offered in brackets behind a question, brackets of a name in it included.
_CHOICES = r"(?:\s*\((?:[^()]|\([^()]*\)){0,2000}\))?"
_SIGNATURE = re.compile(r"^-- ?$", re.MULTILINE)
_DOTTED = re.compile(r"(\d{1,2})\.\s?(\d{1,2})\.\s?(\d{4})")


@dataclass(frozen=True, slots=True)
class Answered:
    """What was answered, and what stands there that is none of the shop's: sentences. `left` is
    the text without questions and what was taken as their answers."""

    asked: Asked
    told: tuple[str, ...]
    left: str


def answered(text: str, subject: str, shop: Shop) -> Answered | None:
    """None where it answers nothing of ours."""
    plain = _UNSEEN.sub("", _QUOTE.sub("", unicodedata.normalize("NFC", text[:_MOST])))
    best: tuple[int, Design, Tongue, _Found] | None = None
    for design in _designs(plain, subject, shop):
        for language in languages():
            tongue = Tongue(language)
            found = _answers(plain, _questions(design, tongue))
            many = len(found.answers)
            if many >= _LEAST and (best is None or many > best[0]):
                best = many, design, tongue, found
    return _read(best[1], best[2], best[3], shop) if best else None


@dataclass(frozen=True, slots=True)
class _Found:
    answers: dict[OrderQuestion, str]
    left: str


def _key(text: str) -> str:
    plain = unicodedata.normalize("NFC", _UNSEEN.sub("", text))
    return " ".join(plain.casefold().split())


def _designs(text: str, subject: str, shop: Shop) -> Iterator[Design]:
    """Those that the mail names as the catalogue's button does, in any language."""
    said = {_key(line) for line in text.splitlines()[:200]} | {_key(subject)}
    for design in shop.designs.values():
        titles = [_key(Tongue(one)(SUBJECT, design=design.title)) for one in languages()]
        if any(line.endswith(title) for title in titles for line in said):
            yield design


def _questions(design: Design, tongue: Tongue) -> list[OrderQuestion]:
    words = tuple(design.label(slot) for slot in design.slots("words"))
    photos = tuple(design.label(slot) for slot in design.slots("photo"))
    return list(questions(words, photos, tongue))


def _asks(question: OrderQuestion) -> re.Pattern[str]:
    """A question as it may stand in a mail, with what was offered behind it."""
    words = r"\s+".join(map(re.escape, _UNSEEN.sub("", question.asks).split()))
    return re.compile(rf"^[ \t*]*{words}{_CHOICES}[ \t*]*[:：]", re.MULTILINE | re.I)


def _answers(text: str, asks: list[OrderQuestion]) -> _Found:
    """What stands behind each question that is there, up to the next; and the rest."""
    found: list[tuple[int, int, OrderQuestion]] = []
    for question in asks:
        seen = _asks(question).search(text)
        if seen:
            found.append((seen.start(), seen.end(), question))
    found.sort(key=lambda one: one[0])
    if not found:
        return _Found({}, text)
    ends = [start for start, _, _ in found[1:]] + [len(text)]
    answers = {
        question: _one_answer(text[start:end], is_last=end == len(text))
        for (_, start, question), end in zip(found, ends, strict=True)
    }
    behind = text[found[-1][1] :].strip().partition("\n")[2]
    for question in asks:  # asked once more in what was quoted below
        behind = _asks(question).sub("", behind)
    photos = [said for question, said in answers.items() if question.of == "photo"]
    return _Found(answers, "\n\n".join([text[: found[0][0]], *photos, behind]))


def _one_answer(text: str, *, is_last: bool) -> str:
    """The lines of an answer; behind the last one stand greetings and signatures."""
    lines = [line.strip(" \t*") for line in _SIGNATURE.split(text)[0].strip().splitlines()]
    if is_last:
        return lines[0] if lines else ""
    return "\n".join(line for line in lines if line)


def _read(design: Design, tongue: Tongue, seen: _Found, shop: Shop) -> Answered:
    told: list[str] = []
    found = seen.answers
    said = {one.of: text for one, text in found.items() if one.of not in ("words", "photo")}
    blanks = {name: shop.blanks[name] for name in design.offered if name in shop.blanks}
    blank = _named(said.get("piece", ""), _blank_names(blanks), "the piece", told)
    cloths = _cloth_names([blanks[blank]] if blank else [*blanks.values()])
    cloth = _named(said.get("cloth", ""), cloths, "the cloth", told)
    slots = design.slots("words")
    asked = Asked(
        design=design.id,
        blank=blank or (next(iter(blanks)) if len(blanks) == 1 else ""),
        cloth=cloth,
        many=_number(said.get("many", ""), told),
        words=_words(found, slots, told),
        due=_day(said.get("due", ""), told),
        language=tongue.language,
        name=said.get("name", "").split("\n")[0],
    )
    return Answered(asked, tuple(told), seen.left)


def _blank_names(blanks: Mapping[str, Blank]) -> dict[str, set[str]]:
    return {
        name: {_key(name), *(_key(called_in(blank, Tongue(one))) for one in languages())}
        for name, blank in blanks.items()
    }


def _cloth_names(blanks: list[Blank]) -> dict[str, set[str]]:
    names: dict[str, set[str]] = {}
    for blank in blanks:
        for one in languages():
            cloths = zip(blank.cloth.colours, cloths_in(blank, Tongue(one)), strict=True)
            for name, (called, _) in cloths:
                names.setdefault(name, {_key(name)}).add(_key(called))
    return names


def _named(said: str, names: Mapping[str, set[str]], what: str, told: list[str]) -> str:
    """The one thing of that very name; '' where there is none."""
    if not said.strip():
        return ""
    meant = [name for name, called in names.items() if _key(said) in called]
    if len(meant) == 1:
        return meant[0]
    told.append(f"{what} that the mail names is none of the design’s: {quoted(said)}")
    return ""


def _number(said: str, told: list[str]) -> int | None:
    """A whole number that stands there alone or with a word: '12', '12 Stück'."""
    numbers = re.findall(r"[\d.,]+", said)
    if len(numbers) == 1 and numbers[0].isdecimal() and 0 < int(numbers[0]) < 10**6:
        return int(numbers[0])
    if said.strip():
        told.append(f"how many is written as {quoted(said)}")
    return None


def _words(
    found: Mapping[OrderQuestion, str], slots: tuple[str, ...], told: list[str]
) -> dict[str, str]:
    """To the letter; where a mail program may have parted the line, nobody knows what was meant."""
    words = {}
    for question, text in found.items():
        if question.of != "words" or not text:
            continue
        if "\n" in text:
            told.append(f"“{question.asks}” came in several lines, so it is left to you: asked.txt")
        else:
            words[slots[question.slot]] = text
    return words


def _day(said: str, told: list[str]) -> str:
    """A day as the files have it; one that can be read in two ways is left to the maker."""
    said = said.strip()
    try:
        if dotted := _DOTTED.fullmatch(said):
            day, month, year = map(int, dotted.groups())
            return date(year, month, day).isoformat()
        return parse_date(said).isoformat() if said else ""
    except ValueError:
        told.append(f"the wish day is written as {quoted(said)}: write it as due: 2026-12-12")
        return ""
