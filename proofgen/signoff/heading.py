"""What a mail is headed by: a subject that only names the order says nothing beside an answer."""

from __future__ import annotations

import re
import unicodedata

from proofgen.signoff import manners
from proofgen.signoff.wording import Known, cut_subject, speaks

# What an answer is about, and what stands beside it, in the languages of `manners`. No word here
# can be a wish; whatever is not here counts as one, as in a mail itself.
_ABOUT = frozenset((
    "proof", "proofs", "order", "reply", "response", "answer",
    "bestellung", "auftrag", "korrekturabzug", "probeabzug", "abzug", "freigabe", "antwort",
    "pedido", "encargo", "prueba", "respuesta",
    "commande", "épreuve", "réponse",
    "طلب", "الطلب", "طلبي", "طلبنا", "طلبية", "الطلبية", "رد", "الرد", "جواب",
))  # fmt: skip
_BESIDE = frozenset((
    "a", "an", "the", "our", "my", "your", "to", "for", "of", "about", "number", "no", "nr", "on",
    "unsere", "unser", "meine", "mein", "ihre", "ihr", "eure", "zu", "zur", "zum", "für", "von",
    "die", "der", "den", "auf", "nummer",
    "nuestro", "nuestra", "mi", "su", "el", "la", "de", "del", "al", "para", "sobre", "número",
    "notre", "ma", "votre", "le", "du", "pour", "numéro", "n",
    "على", "عن", "رقم",
))  # fmt: skip
# "No" may say no: it counts as “number” only between such a word and what the order is called.
_NUMBER = frozenset(("no", "nr", "n", "number", "nummer", "número", "numéro", "رقم"))
_FACE = re.compile(r"[:;=][-o^']?[()\[\]|/\\DPpOo3]|<3")  # ":(" says something
_PLAIN_MARKS = frozenset(" .,:;!#&/()[]\"'-_") | frozenset("’‘“”„«»–—№º°،؛")


def only_names(subject: str, known: Known) -> bool:
    """Whether a mail's subject is ours, whole or cut, or says nothing but what it is about: our
    “Proof”, “Our order”, the order's number. A subject that holds anything else, a question mark or
    a face is its writer's word."""
    if cut_subject(subject, known):
        return True
    bare = manners.ANSWERING.sub("", unicodedata.normalize("NFC", subject)).strip()
    if _FACE.search(bare) or not all(c.isalnum() or c in _PLAIN_MARKS or _marks(c) for c in bare):
        return False
    words, about = _words(bare), False
    for name in sorted(map(_words, known.named), key=len, reverse=True):
        while name and (at := _find(words, name)) is not None:
            numbered = at > 1 and words[at - 1] in _NUMBER and words[at - 2] in _ABOUT
            words[at - numbered : at + len(name)] = [""]  # it stands in their place
            called = "".join(name)
            alone = len(called) > 2 and any(map(str.isdigit, called))
            about = about or alone  # words without a digit may be a name, put right
    left = [word for word in words if word]
    about = about or bool(_ABOUT.intersection(left))
    return about and all(word in _ABOUT or word in _BESIDE - _NUMBER for word in left)


def _marks(char: str) -> bool:
    """A letter's own mark, such as a vowel sign."""
    return unicodedata.category(char)[0] == "M" and not speaks(char)


def _words(text: str) -> list[str]:
    kept = "".join(c if c.isalnum() or unicodedata.category(c)[0] == "M" else " " for c in text)
    return kept.casefold().split()


def _find(words: list[str], name: list[str]) -> int | None:
    """Where the words of a name stand in a row."""
    ends = range(len(words) - len(name) + 1)
    return next((at for at in ends if words[at : at + len(name)] == name), None)
