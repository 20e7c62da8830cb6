"""The records folder: what was shown, what was answered, what was done; files first, line last."""

from __future__ import annotations

import re
import secrets
from collections.abc import Iterable, Mapping
from datetime import date, datetime
from pathlib import Path
from typing import cast

from proofgen import store
from proofgen.errors import SignoffError
from proofgen.model.artwork_document import ArtworkDocument
from proofgen.model.terms_document import TermsDocument
from proofgen.signoff.digests import digest_of, fingerprint
from proofgen.signoff.documents import (
    EditionHead,
    EventPayload,
    LineKind,
    TokenPayload,
)
from proofgen.signoff.editions import Answer, Edition, Event, check_order_id, moment, stamp
from proofgen.signoff.journal import Entry, Journal
from proofgen.signoff.keeping import Keeping
from proofgen.signoff.kinds import EventKind

_TOKEN_LETTERS = "0123456789abcdefghjkmnpqrstvwxyz"  # nothing to misread; one case for every disk
_TOKEN_LENGTH = 28  # 140 bits; W3C TAG Good Practices for Capability URLs asks for 120
_EVENTS = frozenset(EventKind)
_TOKEN = re.compile(r"[A-Za-z0-9_-]{22,80}")


class Records:
    """All that must never be lost. Everything is flushed to disk before a call returns.

    `journal.jsonl` says that something happened; the words (personal) lie in files of the order's
    own folder, named by their digest, so that they can be deleted and the chain still holds. What
    the journal does not mention does not exist. One run at a time: the caller holds the lock.
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.journal = Journal(folder / "journal.jsonl")
        self._keeping = Keeping(folder)

    # -- reading -----------------------------------------------------------------------------

    def orders(self) -> list[str]:
        """Every order the journal speaks of, by name."""
        return sorted(self.journal.read().by_order)

    def _entries(self, order: str, kind: str = "") -> list[Entry]:
        entries = self.journal.read().by_order.get(check_order_id(order), ())
        return [e for e in entries if kind in ("", e.head["kind"])]

    def is_forgotten(self, order: str) -> bool:
        return bool(self._entries(order, EventKind.FORGOTTEN))

    def token(self, order: str) -> str | None:
        """The secret end of the order's link; None before the first proof and after forget."""
        entries = self._entries(order, "token")
        if not entries or self.is_forgotten(order):
            return None
        return cast(TokenPayload, self._keeping.payload(entries[-1]))["token"]

    def editions(self, order: str) -> list[Edition]:
        """Every edition, oldest first; none after forget. SignoffError for damaged records."""
        return [self._edition(h) for h in self.heads(order)]

    def latest(self, order: str) -> Edition | None:
        heads = self.heads(order)
        return self._edition(heads[-1]) if heads else None

    def heads(self, order: str) -> list[EditionHead]:
        """The editions without their documents, oldest first; none after forget."""
        if self.is_forgotten(order):
            return []
        return [
            cast(EditionHead, self._keeping.payload(e)) for e in self._entries(order, "edition")
        ]

    def pieces(self, head: EditionHead) -> frozenset[int]:
        """The numbers of the pieces that an edition shows."""
        lines = self._keeping.document(head["order"], head["document"])["lines"]
        return frozenset(n for line in lines for look in line["variants"] for n in look["pieces"])

    def _edition(self, head: EditionHead) -> Edition:
        terms, chosen = head.get("terms"), head.get("chosen")
        return Edition(
            order=head["order"],
            number=head["edition"],
            fingerprint=head["fingerprint"],
            document=self._keeping.document(head["order"], head["document"]),
            rasters={name: r["pixels"] for name, r in head["rasters"].items()},
            files={name: r["file"] for name, r in head["rasters"].items()},
            key=bytes.fromhex(head["key"]),
            made=moment(head["made"]),
            answer_by=date.fromisoformat(head["answer_by"]),
            codes=head.get("codes", 1),
            terms=self._keeping.terms(head["order"], terms) if terms else None,
            chosen=None if chosen is None else frozenset((line, slot) for line, slot in chosen),
        )

    def raster(self, edition: Edition, name: str) -> bytes:
        """The kept file of a raster, proved to be the one that was kept.

        Errors: SignoffError when it is missing or was altered; KeyError for a name it never had.
        """
        return self._keeping.raster(edition.order, name, edition.files[name])

    def events(self, order: str) -> list[Event]:
        """What happened, oldest first; after forget the bare kinds and times."""
        gone = self.is_forgotten(order)
        return [
            Event(
                order=order,
                kind=EventKind(entry.head["kind"]),
                when=moment(entry.head["at"]),
                edition=entry.head["edition"],
                data={} if gone else cast(EventPayload, self._keeping.payload(entry))["data"],
            )
            for entry in self._entries(order)
            if entry.head["kind"] in _EVENTS
        ]

    def shown(self, order: str) -> Mapping[str, str]:
        """The files of the latest edition's page by name, with the SHA-256 of each, as the page was
        last set; empty before it first appeared, and for editions older than this was kept."""
        number = len(self._entries(order, "edition"))
        every = (e for e in self.events(order) if e.kind is EventKind.SHOWN)
        last = [e.data.get("files") for e in every if e.edition == number][-1:]
        return cast(Mapping[str, str], last[0]) if last and isinstance(last[0], dict) else {}

    def sheets(self, order: str) -> object:
        """What was kept of the latest edition's numbered press sheets; None where nothing was."""
        number = len(self._entries(order, "edition"))
        every = (e for e in self.events(order) if e.kind is EventKind.SHEETS)
        return next((e.data.get("sheets") for e in reversed([*every]) if e.edition == number), None)

    def happened(self, order: str) -> frozenset[EventKind]:
        """The kinds of events since the latest edition; without one, all that there are."""
        number = len(self._entries(order, "edition"))
        return frozenset(e.kind for e in self.events(order) if e.edition == number)

    def answers(self, order: str) -> list[Answer]:
        """Every recorded answer, oldest first; none after forget."""
        if self.is_forgotten(order):
            return []
        return [Answer.of_payload(self._keeping.payload(e)) for e in self._entries(order, "answer")]

    # -- writing -----------------------------------------------------------------------------

    def ensure_token(self, order: str, token: str | None = None) -> str:
        """The order's token, made (or taken as given) the first time and never changed.

        Errors: SignoffError for a forgotten order; ValueError for a given token that is too short
        or belongs to another order.
        """
        known = self.token(order)
        if known:
            return known
        self._refuse_forgotten(order)
        given_to = self.orders() if token else []  # a fresh one cannot be another's
        if token is None:
            token = "".join(secrets.choice(_TOKEN_LETTERS) for _ in range(_TOKEN_LENGTH))
        if not _TOKEN.fullmatch(token):
            raise ValueError("a token has 22 to 80 letters, digits, _ or -")
        if any(self.token(other) == token for other in given_to):
            raise ValueError("this token belongs to another order")
        self._record(order, "token", 0, "", {"token": token})
        return token

    def new_edition(
        self,
        order: str,
        document: ArtworkDocument,
        rasters: Mapping[str, tuple[bytes, str]],
        made: datetime,
        answer_by: date,
        key: bytes | None = None,
        terms: TermsDocument | None = None,
        chosen: Iterable[tuple[int, str]] = (),
    ) -> Edition:
        """Keep a new edition: its description, every raster as (file bytes, pixel digest), its key,
        its terms, and the photos (line and slot) whose focus the tool chose.

        Errors: SignoffError for a forgotten order, ValueError for a key that is not 32 bytes,
        MachineError of the one writer.
        """
        self._refuse_forgotten(order)
        key = secrets.token_bytes(32) if key is None else key
        if len(key) != 32:
            raise ValueError("a key has 32 bytes")
        kept = {
            name: {"file": self._keeping.keep_raster(order, content), "pixels": seen}
            for name, (content, seen) in rasters.items()  # each is let go before the next is made
        }
        pixels = {name: digests["pixels"] for name, digests in kept.items()}
        number = len(self._entries(order, "edition")) + 1
        self._record(
            order,
            "edition",
            number,
            stamp(made),
            {
                "answer_by": answer_by.isoformat(),
                "chosen": [[*one] for one in sorted(chosen)],
                "codes": 2,
                "document": self._keeping.keep_document(order, document),
                "fingerprint": fingerprint(document, pixels),
                "key": key.hex(),
                "made": stamp(made),
                "rasters": kept,
                **({"terms": self._keeping.keep_terms(order, terms)} if terms else {}),
            },
        )
        return self._edition(self.heads(order)[-1])

    def record_answer(self, answer: Answer) -> None:
        """Keep an answer. Whether it may count is for answers.py to say."""
        self._record(
            answer.order, "answer", answer.edition, stamp(answer.received), answer.payload()
        )

    def read_words(self, order: str, edition: int) -> frozenset[str]:
        """The words beside answers to an edition that the maker read, as `words_key` names them."""
        reads = (e for e in self.events(order) if e.kind is EventKind.READ)
        kept = [e.data.get("words") for e in reads if e.edition == edition]
        return frozenset(str(key) for keys in kept if isinstance(keys, list) for key in keys)

    def wrote(self, order: str, edition: int) -> tuple[str, ...]:
        """What people wrote about an edition without answering it."""
        every = (e for e in self.events(order) if e.kind is EventKind.WROTE)
        kept = [e.data.get("words") for e in every if e.edition == edition]
        return tuple(str(text) for texts in kept if isinstance(texts, list) for text in texts)

    def mark(self, order: str, event: EventKind, when: datetime, **data: object) -> Event:
        """Note that something happened, of the latest edition.

        Errors: ValueError for an event that is none, SignoffError for a forgotten order.
        """
        if event not in _EVENTS or event == EventKind.FORGOTTEN:
            raise ValueError(f"{event!r} is no event; to forget an order, use forget")
        self._refuse_forgotten(order)
        edition = len(self._entries(order, "edition"))
        self._record(order, event, edition, stamp(when), {"data": data})
        return Event(order=order, kind=EventKind(event), when=when, edition=edition, data=data)

    def mark_shown(self, order: str, files: Mapping[str, bytes], when: datetime) -> None:
        """Note what the latest edition's page was set as, after its files were written; the same
        again is nothing new."""
        digests = {name: digest_of(content) for name, content in sorted(files.items())}
        if digests != self.shown(order):
            self.mark(order, EventKind.SHOWN, when, files=digests)

    def forget(self, order: str, when: datetime) -> None:
        """Delete an order's words, pictures and keys; the journal keeps that there was an order.

        The line comes first here: a run killed half-way is finished by the next call of `forget`
        or `tidy`. An order without records is no error: there is nothing to forget.
        """
        if self._entries(order) and not self.is_forgotten(order):
            number = len(self._entries(order, "edition"))
            self.journal.append(
                {
                    "at": stamp(when),
                    "edition": number,
                    "kind": EventKind.FORGOTTEN,
                    "order": order,
                }
            )
        self._keeping.clear(order)

    def tidy(self) -> int:
        """Finish what a killed run left: half-written files, and orders half forgotten; how many
        files went."""
        gone = store.sweep(self.folder)
        return gone + sum(self._keeping.clear(o) for o in self.orders() if self.is_forgotten(o))

    # -- checking ----------------------------------------------------------------------------

    def refuse_broken(self) -> None:
        """SignoffError when the journal is not as it was written: nothing may stand on it."""
        problems = self.journal.read().problems
        if problems:
            raise SignoffError(
                problems[0],
                "look at all of it with `proofgen records verify`, then put the records folder "
                "back from your last backup; without one, set it aside and make new proofs",
            )

    def verify(self) -> list[str]:
        """What is wrong: the chain, every payload, every kept file. Empty: all is as written."""
        problems = list(self.journal.read().problems)
        for order in self.orders():
            if self.is_forgotten(order):
                problems += self._keeping.leftovers(order)
                continue
            for entry in self._entries(order):
                problems += self._keeping.problems(entry)
        return problems

    def notes(self) -> list[str]:
        """What a stopped run left behind; harmless."""
        return list(self.journal.read().notes)

    # -- inside ------------------------------------------------------------------------------

    def _refuse_forgotten(self, order: str) -> None:
        if self.is_forgotten(order):
            raise SignoffError(
                f"the data of {order} was removed, so it cannot be taken up again",
                "copy the order to a folder with a new name",
            )

    def _record(
        self, order: str, kind: LineKind, edition: int, at: str, fields: Mapping[str, object]
    ) -> None:
        # The salt keeps a short word from being guessed by its digest once it is forgotten.
        payload = {**fields, "edition": edition, "kind": kind, "order": order}
        payload["salt"] = self._keeping.salt(self._secret(order, fields), payload)
        digest = self._keeping.keep(order, kind, edition, payload)
        line = {"edition": edition, "kind": kind, "order": order, "payload": digest}
        self.journal.append({**line, "at": at} if at else line)

    def _secret(self, order: str, fields: Mapping[str, object]) -> str:
        for known in (fields.get("key"), fields.get("token")):
            if known:
                return str(known)
        heads = self.heads(order)
        return heads[-1]["key"] if heads else self.token(order) or secrets.token_hex(32)
