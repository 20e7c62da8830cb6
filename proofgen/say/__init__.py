"""How things are said to people: whole sentences from numbers, lists, near names and safe text.

Nothing here joins halves of sentences: a sentence is written whole, with named places.
"""

from proofgen.say.lists import capital, joined, pieces, runs, sentences, spans
from proofgen.say.near import did_you_mean, near_names
from proofgen.say.numbers import at_most, count, from_to, heat, mm, number, plural, size
from proofgen.say.plain import plain_letters
from proofgen.say.safe import cut, file_name, is_seen, quoted, quoted_file, quoted_whole, visible

__all__ = [
    "at_most",
    "capital",
    "count",
    "cut",
    "did_you_mean",
    "file_name",
    "from_to",
    "heat",
    "is_seen",
    "joined",
    "mm",
    "near_names",
    "number",
    "pieces",
    "plain_letters",
    "plural",
    "quoted",
    "quoted_file",
    "quoted_whole",
    "runs",
    "sentences",
    "size",
    "spans",
    "visible",
]
