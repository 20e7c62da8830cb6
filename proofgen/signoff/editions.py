"""What the records hold: editions of a proof, answers to them, and events; frozen, no files."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass, field, fields
from datetime import date, datetime
from typing import Any, TypeGuard, cast

from proofgen.errors import UsageError
from proofgen.model.artwork_document import ArtworkDocument
from proofgen.model.asked import AskedChange
from proofgen.model.terms_document import TermsDocument
from proofgen.say import quoted
from proofgen.signoff.digests import canonical, fingerprint
from proofgen.signoff.documents import EditionHead
from proofgen.signoff.kinds import AnswerKind, DayFrom, EventKind, Way, answer_of
from proofgen.signoff.wording import Known, is_plain_name, person_words

MOST_QUOTED = 400  # characters of a customer's words in one sentence; remarks may have ten times

_ORDER_ID = re.compile(r"[a-z0-9-]{1,80}")


def is_order_id(text: object) -> TypeGuard[str]:
    """Whether a text may name an order, and so a folder: a-z, 0-9 and hyphens, 1 to 80 of them."""
    return isinstance(text, str) and _ORDER_ID.fullmatch(text) is not None


def check_order_id(order: str) -> str:
    """The id itself. Errors: UsageError when it could not be a folder's name."""
    if not is_order_id(order):
        raise UsageError(
            f"{quoted(str(order))} cannot name an order",
            "use small letters, digits and hyphens, 80 at most",
        )
    return order


def stamp(when: datetime) -> str:
    """A moment as text, to the second, with its zone. Errors: ValueError without one."""
    if when.tzinfo is None:
        raise ValueError("a time needs its zone")
    return when.isoformat(timespec="seconds")


def moment(text: str) -> datetime:
    """The aware datetime that `stamp` wrote."""
    return datetime.fromisoformat(text)


@dataclass(frozen=True, slots=True, kw_only=True)
class Edition:
    """A numbered state of an order's proof.

    `rasters` maps a raster's name to the digest of its pixels, `files` to the SHA-256 of the kept
    file. `key` is 32 secret bytes that only this edition's page carries. `terms` None: it was made
    before terms were kept. `chosen` are the photos, by line and slot, whose focus the tool chose;
    None: it was made before that was kept.
    """

    order: str
    number: int
    fingerprint: str
    document: ArtworkDocument = field(repr=False)
    rasters: Mapping[str, str] = field(repr=False)
    key: bytes = field(repr=False)
    made: datetime
    answer_by: date
    files: Mapping[str, str] = field(default_factory=dict, repr=False)
    codes: int = 2  # the version of its spoken codes
    terms: TermsDocument | None = field(default=None, repr=False)
    chosen: frozenset[tuple[int, str]] | None = None


def drafted(
    *,
    order: str,
    number: int,
    document: ArtworkDocument,
    rasters: Mapping[str, tuple[str, str]],
    key: bytes,
    made: datetime,
    answer_by: date,
    terms: TermsDocument,
    chosen: Iterable[tuple[int, str]],
) -> Edition:
    """The edition that the records will give back once the same is kept in them; `rasters` are the
    digests of each one's file and pixels by name. Errors: ValueError as `canonical`."""
    pixels = {name: seen for name, (_, seen) in rasters.items()}
    return Edition(
        order=order,
        number=number,
        fingerprint=fingerprint(document, pixels),
        document=cast(ArtworkDocument, json.loads(canonical(document))),
        rasters=pixels,
        files={name: file for name, (file, _) in rasters.items()},
        key=key,
        made=moment(stamp(made)),
        answer_by=answer_by,
        terms=cast(TermsDocument, json.loads(canonical(terms))),
        chosen=frozenset(chosen),
    )


def edition_of(
    head: EditionHead, document: ArtworkDocument, terms: TermsDocument | None
) -> Edition:
    """The edition whose head, description and terms were kept."""
    chosen = head.get("chosen")
    return Edition(
        order=head["order"],
        number=head["edition"],
        fingerprint=head["fingerprint"],
        document=document,
        rasters={name: r["pixels"] for name, r in head["rasters"].items()},
        files={name: r["file"] for name, r in head["rasters"].items()},
        key=bytes.fromhex(head["key"]),
        made=moment(head["made"]),
        answer_by=date.fromisoformat(head["answer_by"]),
        codes=head.get("codes", 1),
        terms=terms,
        chosen=None if chosen is None else frozenset((line, slot) for line, slot in chosen),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """Something that happened to an order; `edition` is 0 before the first proof."""

    order: str
    kind: EventKind
    when: datetime
    edition: int = 0
    data: Mapping[str, object] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What the customer replied to one edition.

    `written` is the customer's clock ('' when not told), `dated` the day it counts for, and
    `dated_by` where that day comes from: 'mail', 'given' or 'received'.
    """

    order: str
    edition: int
    answer: AnswerKind
    fingerprint: str
    received: datetime
    way: Way = "slip"
    changes: tuple[AskedChange, ...] = ()
    wrong: tuple[int, ...] = ()
    marked: tuple[int, ...] = ()  # texts ticked as right, of how many; (): all, or not known
    may_print: bool | None = None  # the shop may use the pictures; None: not said
    may_show: bool | None = None  # the work may be shown to others
    name: str = ""
    remarks: str = ""
    written: str = ""
    dated: date | None = None
    dated_by: DayFrom = "received"
    beside: tuple[str, ...] = ()  # what a person wrote around the slip or the code

    @property
    def day(self) -> date:
        """The day it counts for."""
        return self.dated or self.received.date()

    @property
    def words(self) -> tuple[str, ...]:
        """What a person wrote with this answer and has to be read; mere thanks need not."""
        name = () if is_plain_name(self.name) else (self.name.strip(),)
        manners = Known(names=() if name else (self.name,))
        remarks = (self.remarks.strip(),) if person_words([self.remarks], manners) else ()
        return (*name, *remarks, *self.beside)

    def payload(self) -> dict[str, object]:
        """The answer as it is kept."""
        dated = self.dated.isoformat() if self.dated else ""
        return {**asdict(self), "dated": dated, "received": stamp(self.received)}

    @classmethod
    def of_payload(cls, payload: Mapping[str, Any]) -> Answer:
        """The answer that was kept; what came later than it has its default."""
        kept = {one.name: payload[one.name] for one in fields(cls) if one.name in payload}
        kept |= {
            "answer": answer_of(kept["answer"]),
            "received": moment(kept["received"]),
            "dated": date.fromisoformat(kept["dated"]) if kept["dated"] else None,
            "changes": tuple(map(AskedChange.of, kept.get("changes", ()))),
            "wrong": tuple(kept["wrong"]),
            "marked": tuple(kept.get("marked", ())),
            "beside": tuple(kept.get("beside", ())),
        }
        return cls(**kept)

    @property
    def plain_ok(self) -> bool:
        """OK with nothing marked wrong: the only answer that opens the press."""
        return self.answer is AnswerKind.OK and not self.wrong and not self.changes

    @property
    def unmarked(self) -> str:
        """What was not ticked as right before an OK was given, as a sentence; it holds nothing."""
        if not self.marked:
            return ""
        done, every = self.marked
        if every == 1:
            return "The spelling of its one text was not ticked on the page."
        if not done:
            return f"Of the {every} texts no spelling was ticked on the page."
        return f"Of the {every} texts {done} {'was' if done == 1 else 'were'} ticked on the page."

    @property
    def covers(self) -> str:
        """What the answer does not vouch for, in words; '' for a slip."""
        if self.way == "code":
            return "by code alone, which does not prove who gave it"
        return "given in person" if self.way == "person" else ""

    def agrees(self, other: Answer) -> bool:
        """Whether both ask for the same thing; a code or a word in person tells that alone. Two
        that say OK alone do, whatever is written beside them: it waits to be read (`words`)."""
        if self.plain_ok and other.plain_ok:
            return True
        if self.answer != other.answer:
            return False
        if self.way != "slip" or other.way != "slip":
            return self.plain_ok == other.plain_ok
        mine, others = ((a.wrong, a.changes, a.remarks.strip()) for a in (self, other))
        return mine == others

    def adds(self, other: Answer) -> bool:
        """Whether this answer says anything that `other`, which it agrees with, did not."""
        if self.way == "code" or (self.way == "person" and other.way != "code"):
            return False
        mine, others = (
            (a.changes, a.may_print, a.may_show, a.wrong, a.name, a.remarks) for a in (self, other)
        )
        return mine != others

    def brings_words(self, others: Iterable[Answer]) -> bool:
        """Whether a person wrote anything with it that stands with none of the `others`."""
        known = {text for other in others for text in other.words}
        return any(text not in known for text in self.words)
