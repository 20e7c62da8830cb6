"""The shapes of what the records keep as JSON: journal lines, payloads, slips.

What older versions wrote has these shapes too; what came later is NotRequired or read by `get`.
"""

from __future__ import annotations

from typing import Literal, NotRequired, TypedDict

from proofgen.signoff.kinds import AnswerKind, EventKind

LineKind = Literal["edition", "token", "answer"] | EventKind


class UsedLine(TypedDict):
    """What one line of an order took at the press: blanks (below 0: taken back), s, and of each
    paper the sheets, or the metres of a roll, as decimal text; None: nobody can tell today. `price`
    is what one piece brings by what was signed, discounts off (older records: before them)."""

    line: int
    design: str
    blank: str
    cloth: str
    blanks: int
    seconds: int | None
    papers: dict[str, str] | None
    price: str | None


class Tally(TypedDict):
    """What was used, in the journal's own line: nobody's data, and so there for ever. Of spoiled
    pieces also which, how often by then, and the kind of cause."""

    currency: str
    lines: list[UsedLine]
    pieces: NotRequired[list[int]]
    times: NotRequired[int]
    own: NotRequired[bool]  # the shop made it for itself: stock, nothing sold
    apart: NotRequired[bool]  # `seconds` are of pressings alone, without warming up
    cause: NotRequired[str]


class JournalLine(TypedDict):
    """One line of the journal: what happened, and the digest of the line before."""

    order: str
    kind: LineKind
    edition: int
    before: str
    at: NotRequired[str]
    payload: NotRequired[str]  # digest; a forgotten order's last line has none
    torn: NotRequired[list[str]]  # digests of half-written lines before this one
    tally: NotRequired[Tally]
    page: NotRequired[str]  # of a forgotten order: the secret end of a link that still leads there
    lost: NotRequired[str]  # digest of a head that named a line which was no longer there


class Payload(TypedDict):
    """What every payload says about itself."""

    order: str
    kind: LineKind
    edition: int
    salt: str


class KeptRaster(TypedDict):
    file: str  # SHA-256 of the kept file
    pixels: str  # digest of its pixels


class EditionHead(Payload):
    """An edition without its description: that is a file of its own, named by digest."""

    answer_by: str
    document: str
    fingerprint: str
    key: str  # hex
    made: str
    rasters: dict[str, KeptRaster]
    codes: NotRequired[int]  # 2: two of eight symbols; older heads have three of sixteen
    terms: NotRequired[str]  # digest of the second document, proofgen/terms/1
    chosen: NotRequired[list[tuple[int, str]]]  # line and slot of photos whose focus the tool chose


class TokenPayload(Payload):
    token: str


class EventPayload(Payload):
    data: dict[str, object]


class AskedText(TypedDict):
    """One text that the customer wants otherwise: `old` as it was shown."""

    pieces: list[int]
    slot: str
    line: int
    old: str
    new: str


class SlipPayload(TypedDict):
    """What the coded block of a slip carries."""

    v: int
    answer: AnswerKind
    edition: int
    order: str
    time: str
    name: NotRequired[str]
    note: NotRequired[str]
    changes: NotRequired[list[AskedText]]
    wrong: NotRequired[list[int]]
    marked: NotRequired[list[int]]  # with an OK: texts ticked as right, and of how many; not if all
    print: NotRequired[bool]  # the shop may use the pictures
    show: NotRequired[bool]  # the work may be shown to others


class OldPayload(TypedDict):
    """What a slip of version 1 carries."""

    answer: str
    edition: int
    fingerprint: str
    may_show: bool
    name: str
    order: str
    remarks: str
    ticks: list[str]
    time: str
    wrong: list[int]
