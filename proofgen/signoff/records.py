"""The records folder: what was shown, what was answered, what was done; files first, line last."""

from __future__ import annotations

import secrets
from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from datetime import date, datetime
from pathlib import Path
from typing import cast

from proofgen import store
from proofgen.errors import MachineError, SignoffError
from proofgen.model.artwork_document import ArtworkDocument
from proofgen.model.terms_document import TermsDocument
from proofgen.signoff.digests import digest_of, fingerprint
from proofgen.signoff.documents import EditionHead, EventPayload, LineKind, Tally, TokenPayload
from proofgen.signoff.editions import (
    Answer,
    Edition,
    Event,
    check_order_id,
    edition_of,
    moment,
    stamp,
)
from proofgen.signoff.journal import Entry, Journal
from proofgen.signoff.keeping import Keeping, named_ids
from proofgen.signoff.kinds import TAKES_BACK, EventKind
from proofgen.signoff.names import Names, random_id, sound_token
from proofgen.store.standing import Stood, look

_EVENTS = frozenset(EventKind)


class Records:
    """All that must never be lost. Everything is flushed to disk before a call returns.

    `journal.jsonl` says that something happened; the words (personal) lie in files of the order's
    own folder, named by their digest, so that they can be deleted and the chain still holds. The
    names of orders lie in `names.json` for the same reason: the journal knows ids, which `fresh`
    makes. What the journal does not mention does not exist. One run at a time: the caller holds
    the lock.
    """

    def __init__(self, folder: Path, fresh: Callable[[str], str] = random_id) -> None:
        self.folder = folder
        self.journal = Journal(folder / "journal.jsonl")
        self.names = Names(
            folder / "names.json",
            lambda: self._keeping.names_of(self.journal.read().by_order),
            lambda: named_ids(self.journal.read().by_order),
            fresh,
        )
        self._keeping = Keeping(folder, self.names.name_of)
        self.drawn: dict[str, str] = {}  # ends of links by the order, not given out yet
        self.finished: set[str] = set()  # orders whose forgetting `tidy` brought to its end

    # -- reading -----------------------------------------------------------------------------

    def orders(self) -> list[str]:
        """Every order the journal speaks of, by name; a forgotten one by its id."""
        return sorted(map(self.names.name_of, self.journal.read().by_order))

    def entries(self, order: str, kind: str = "") -> list[Entry]:
        """The lines of an order, of one kind or all. UsageError for what cannot be its name."""
        entries = self.journal.read().by_order.get(self.names.id_of(check_order_id(order)), ())
        return [e for e in entries if kind in ("", e.head["kind"])]

    def last_line(self, order: str) -> str:
        """The digest of the last line about an order; '' before the first."""
        entries = self.journal.read().by_order.get(self.names.id_of(check_order_id(order)))
        return entries[-1].digest if entries else ""

    def as_it_stands(self, order: str) -> tuple[str, list[tuple[str, Stood]]]:
        """What tells of every change of an order's records: its last line, how its files stand."""
        return self.last_line(order), sorted(look(self.folder / order)[0].items())

    def is_forgotten(self, order: str) -> bool:
        return bool(self.entries(order, EventKind.FORGOTTEN))

    def token(self, order: str) -> str | None:
        """The secret end of the order's link; None before the first proof and after forget."""
        entries = self.entries(order, "token")
        if not entries or self.is_forgotten(order):
            return None
        return cast(TokenPayload, self._keeping.payload(entries[-1]))["token"]

    def tokens(self) -> frozenset[str]:
        """The secret end of every link that was ever given out, as far as that is kept: of a
        forgotten order the last. SignoffError for damaged records."""
        found = {str(e.head.get("page", "")) for e in self.journal.read().entries}
        for order in self.orders():
            if not self.is_forgotten(order):
                kept = (self._keeping.payload(e) for e in self.entries(order, "token"))
                found |= {cast(TokenPayload, payload)["token"] for payload in kept}
        return frozenset(found - {""})

    def editions(self, order: str) -> list[Edition]:
        """Every edition, oldest first; none after forget. SignoffError for damaged records."""
        return [self._edition(h) for h in self.heads(order)]

    def latest(self, order: str) -> Edition | None:
        return next((self._edition(head) for head in reversed(self.heads(order))), None)

    def language(self, order: str) -> str:
        """What the order's latest proof was written in; '' without one, or one older than terms."""
        heads = self.heads(order)
        terms = heads[-1].get("terms") if heads else None
        return self._keeping.terms(order, terms)["language"] if terms else ""

    def heads(self, order: str) -> list[EditionHead]:
        """The editions without their documents, oldest first; none after forget."""
        if self.is_forgotten(order):
            return []
        return [cast(EditionHead, self._keeping.payload(e)) for e in self.entries(order, "edition")]

    def pieces(self, head: EditionHead) -> frozenset[int]:
        """The numbers of the pieces that an edition shows."""
        lines = self._keeping.document(head["order"], head["document"])["lines"]
        return frozenset(n for line in lines for look in line["variants"] for n in look["pieces"])

    def _edition(self, head: EditionHead) -> Edition:
        order, terms = head["order"], head.get("terms")
        document = self._keeping.document(order, head["document"])
        return edition_of(head, document, self._keeping.terms(order, terms) if terms else None)

    def raster(self, edition: Edition, name: str) -> bytes:
        """The kept file of a raster, proved to be the one that was kept.

        Errors: SignoffError when it is missing or was altered; KeyError for a name it never had.
        """
        return self._keeping.raster(edition.order, name, edition.files[name])

    def raster_path(self, order: str, name: str) -> Path:
        """Where a raster of the order's latest edition is kept. KeyError if it has none such."""
        edition = self.latest(order)
        if edition is None:
            raise KeyError(name)
        return self._keeping.raster_path(order, edition.files[name])

    def events(self, order: str, only: EventKind | None = None) -> list[Event]:
        """What happened, oldest first, of one kind or all; after forget the bare kinds and
        times."""
        gone = self.is_forgotten(order)
        return [
            Event(
                order=order,
                kind=EventKind(entry.head["kind"]),
                when=moment(entry.head["at"]),
                edition=entry.head["edition"],
                data={} if gone else cast(EventPayload, self._keeping.payload(entry))["data"],
            )
            for entry in self.entries(order, only or "")
            if entry.head["kind"] in _EVENTS
        ]

    def shown(self, order: str) -> Mapping[str, str]:
        """The files of the latest edition's page by name, with the SHA-256 of each, as the page was
        last set; empty before it first appeared, and for editions older than this was kept."""
        number = len(self.entries(order, "edition"))
        every = self.events(order, EventKind.SHOWN)
        last = [e.data.get("files") for e in every if e.edition == number][-1:]
        return cast(Mapping[str, str], last[0]) if last and isinstance(last[0], dict) else {}

    def sheets(self, order: str) -> object:
        """What was kept of the latest edition's numbered press sheets; None where nothing was."""
        number = len(self.entries(order, "edition"))
        every = reversed(self.events(order, EventKind.SHEETS))
        return next((e.data.get("sheets") for e in every if e.edition == number), None)

    def happened(self, order: str) -> frozenset[EventKind]:
        """The kinds of events since the latest edition; without one, all that there are."""
        number = len(self.entries(order, "edition"))
        found: set[EventKind] = set()
        for event in self.events(order):
            if event.edition == number:
                found -= TAKES_BACK.get(event.kind, frozenset())
                found.add(event.kind)
        return frozenset(found)

    def page_to_clear(self, order: str) -> str:
        """The secret end of the link of a page that went, as long as nobody noted that it was
        cleared where the site is; '' where it was, or where nothing tells which it was."""
        if EventKind.CLEARED in self.happened(order):
            return ""
        gone = self.entries(order, EventKind.FORGOTTEN)
        return gone[-1].head.get("page", "") if gone else self.token(order) or ""

    def answers(self, order: str) -> list[Answer]:
        """Every recorded answer, oldest first; none after forget."""
        if self.is_forgotten(order):
            return []
        return [Answer.of_payload(self._keeping.payload(e)) for e in self.entries(order, "answer")]

    # -- writing -----------------------------------------------------------------------------

    def ensure_token(self, order: str, token: str | None = None, *, bad: str = "") -> str:
        """The order's token, made (or taken as given) the first time, and anew for a `bad` one.

        Errors: SignoffError for a forgotten order; ValueError for a given token that is too short
        or belongs to another order.
        """
        known = self.token(order)
        if known and known != bad:
            return known
        self._refuse_forgotten(order)
        given_to = self.orders() if token else []  # a fresh one cannot be another's
        token = sound_token(token or self.drawn.pop(order, None))
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

        Errors: SignoffError for a forgotten order, ValueError for a key of another length than 32.
        """
        self.refuse_broken()
        self._refuse_forgotten(order)
        key = secrets.token_bytes(32) if key is None else key
        if len(key) != 32:
            raise ValueError("a key has 32 bytes")
        kept = {
            name: {"file": self._keeping.keep_raster(order, content), "pixels": seen}
            for name, (content, seen) in rasters.items()  # each is let go before the next is made
        }
        pixels = {name: digests["pixels"] for name, digests in kept.items()}
        number = len(self.entries(order, "edition")) + 1
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
        return frozenset(self._words(order, edition, EventKind.READ))

    def wrote(self, order: str, edition: int) -> tuple[str, ...]:
        """What people wrote about an edition without answering it."""
        return tuple(self._words(order, edition, EventKind.WROTE))

    def _words(self, order: str, edition: int, kind: EventKind) -> list[str]:
        kept = [e.data.get("words") for e in self.events(order, kind) if e.edition == edition]
        return [str(text) for texts in kept if isinstance(texts, list) for text in texts]

    def mark(
        self,
        order: str,
        event: EventKind,
        when: datetime,
        tally: Tally | None = None,
        **data: object,
    ) -> Event:
        """Note that something happened, of the latest edition. `data` goes with the customer, the
        `tally` stays, in the same line: both are there, or neither.

        Errors: ValueError for an event that is none, SignoffError for a forgotten order.
        """
        if event not in _EVENTS or event == EventKind.FORGOTTEN:
            raise ValueError(f"{event!r} is no event; to forget an order, use forget")
        self._refuse_forgotten(order)
        edition = len(self.entries(order, "edition"))
        self._record(order, event, edition, stamp(when), {"data": data}, tally)
        return Event(order=order, kind=EventKind(event), when=when, edition=edition, data=data)

    def mark_shown(self, order: str, files: Mapping[str, bytes], when: datetime) -> None:
        """Note what the latest edition's page was set as, after its files were written; the same
        again is nothing new."""
        digests = {name: digest_of(content) for name, content in sorted(files.items())}
        if digests != self.shown(order):
            self.mark(order, EventKind.SHOWN, when, files=digests)

    def mark_cleared(self, order: str, when: datetime) -> None:
        """Note that the pages of an order were cleared where the site is; a forgotten one, too."""
        note = self._bare if self.is_forgotten(order) else self.mark
        note(order, EventKind.CLEARED, when)

    def forget(self, order: str, when: datetime, page: str = "") -> None:
        """Delete an order's words, pictures and keys, and its name last; the journal keeps that
        there was an order, by its id, and where its `page` is to be cleared.

        The line comes first here: a run killed half-way is finished by the next call of `forget`
        or `tidy`. An order without records is no error: there is nothing to forget.
        """
        self.refuse_broken()
        if self.entries(order) and not self.is_forgotten(order):
            self._bare(order, EventKind.FORGOTTEN, when, **({"page": page} if page else {}))
        self._clear(order)

    def _bare(self, order: str, kind: EventKind, when: datetime, **more: object) -> None:
        """Add a line that no file belongs to."""
        edition, one = len(self.entries(order, "edition")), self.names.id_of(order)
        head = {"at": stamp(when), "edition": edition, "kind": kind, "order": one}
        self.journal.append({**head, **more})

    def _clear(self, order: str) -> int:
        gone = self._keeping.clear(order)
        self.names.drop(self.names.id_of(order))
        return gone

    def tidy(self) -> int:
        """Finish what a killed run left: half-written files, and orders half forgotten; how many
        files went. What cannot be deleted is told by `verify`."""
        self.refuse_broken()
        self.names.mend()
        gone = store.sweep(self.folder)
        for order in self.orders():
            if self.is_forgotten(order):
                with suppress(MachineError):
                    gone += self._clear(order)
                    self.finished |= {order} - {*self.orders()}
        return gone

    def refuse_broken(self) -> None:
        """SignoffError when the journal is not as it was written: nothing may stand on it."""
        self.journal.sound()

    def verify(self) -> list[str]:
        """What is wrong: the chain, every payload, every kept file. Empty: all is as written."""
        problems = list(self.journal.read().problems)
        for order in self.orders():
            if self.is_forgotten(order):
                problems += self._keeping.leftovers(order, order in self.names.by_id.values())
                continue
            for entry in self.entries(order):
                problems += self._keeping.problems(entry)
        return problems

    def notes(self) -> list[str]:
        """What a stopped run left behind; harmless."""
        return [*self.journal.read().notes, *self.names.notes()]

    def _refuse_forgotten(self, order: str) -> None:
        if self.is_forgotten(order):
            raise SignoffError(
                f"the data of {order} was removed, so it cannot be taken up again",
                "copy the order to a folder with a new name",
            )

    def _record(
        self,
        order: str,
        kind: LineKind,
        edition: int,
        at: str,
        fields: Mapping[str, object],
        tally: Tally | None = None,
    ) -> None:
        self.refuse_broken()  # before any file that nothing would ever speak of
        # The salt keeps a short word from being guessed by its digest once it is forgotten.
        payload = {**fields, "edition": edition, "kind": kind, "order": order}
        payload["salt"] = self._keeping.salt(self._secret(order, fields), payload)
        digest = self._keeping.keep(order, kind, edition, payload)
        known = self.journal.read().by_order
        one = order if order in known else self.names.give_id(order, known)
        line = {"edition": edition, "kind": kind, "order": one, "payload": digest}
        more: dict[str, object] = {"at": at} if at else {}
        if tally is not None:
            more["tally"] = tally
        self.journal.append({**line, **more})

    def _secret(self, order: str, fields: Mapping[str, object]) -> str:
        for known in (fields.get("key"), fields.get("token")):
            if known:
                return str(known)
        heads = self.heads(order)
        return heads[-1]["key"] if heads else self.token(order) or secrets.token_hex(32)
