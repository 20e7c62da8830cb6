"""The files under an order's folder in the records: named by digest, checked whenever read."""

from __future__ import annotations

import hmac
from collections.abc import Callable, Mapping, Sequence
from functools import partial
from pathlib import Path
from typing import cast

from proofgen import store
from proofgen.errors import SignoffError
from proofgen.model.artwork_document import ArtworkDocument
from proofgen.model.terms_document import TermsDocument
from proofgen.signoff.digests import canonical, digest_of, read_canonical
from proofgen.signoff.documents import EditionHead, Payload
from proofgen.signoff.editions import check_order_id, is_order_id
from proofgen.signoff.journal import Entry
from proofgen.signoff.kinds import EventKind
from proofgen.signoff.names import is_made_up

_HELD = 4  # documents in memory: those of the last edition or two
_HELD_PAYLOADS = 20_000  # of some 2 kB; a season has six of each order, asked for often
_RESTORE = "put the records folder back from your last backup"


class Keeping:
    """Writes and reads the payload, document and raster files of orders below `folder`; `name_of`
    gives an order's name by its id in the journal."""

    def __init__(self, folder: Path, name_of: Callable[[str], str]) -> None:
        self.folder = folder
        self._name_of = name_of
        self._read: store.Recent[object] = store.Recent(_HELD)
        self._payloads: store.Recent[object] = store.Recent(_HELD_PAYLOADS)

    # -- where things lie --------------------------------------------------------------------

    def _payload_path(self, order: str, kind: str, edition: int, digest: str) -> Path:
        return self.folder / check_order_id(order) / f"{kind}-{edition}-{digest[:16]}.json"

    def _document_path(self, order: str, digest: str) -> Path:
        return self.folder / check_order_id(order) / f"document-{digest[:16]}.json"

    def _terms_path(self, order: str, digest: str) -> Path:
        return self.folder / check_order_id(order) / f"terms-{digest[:16]}.json"

    def raster_path(self, order: str, digest: str) -> Path:
        return self.folder / check_order_id(order) / "rasters" / f"{digest[:32]}.png"

    # -- writing -----------------------------------------------------------------------------

    def keep(self, order: str, kind: str, edition: int, payload: Mapping[str, object]) -> str:
        """Write a payload; its digest."""
        return _keep(
            canonical(payload), lambda digest: self._payload_path(order, kind, edition, digest)
        )

    def keep_document(self, order: str, document: ArtworkDocument) -> str:
        return _keep(canonical(document), lambda digest: self._document_path(order, digest))

    def keep_terms(self, order: str, terms: TermsDocument) -> str:
        return _keep(canonical(terms), lambda digest: self._terms_path(order, digest))

    def keep_raster(self, order: str, content: bytes) -> str:
        """Write a raster's file; editions that share it share the file."""
        return _keep(content, lambda digest: self.raster_path(order, digest))

    @staticmethod
    def salt(secret: str, payload: Mapping[str, object]) -> str:
        """16 bytes, hex, that only the holder of the secret can work out; the same every time."""
        return hmac.digest(secret.encode(), canonical(payload), "sha256")[:16].hex()

    def clear(self, order: str) -> int:
        """Delete every file of an order; how many."""
        home = self.folder / check_order_id(order)
        files = [p for p in sorted(home.rglob("*")) if p.is_file() or p.is_symlink()]
        for path in files:
            store.remove(path)
        store.remove_folder(home)
        return len(files)

    # -- reading -----------------------------------------------------------------------------

    def _content(self, path: Path, digest: str, what: str) -> bytes:
        if not path.is_file():
            raise SignoffError(f"{what} is missing from the records", _RESTORE, path)
        content = path.read_bytes()
        if digest_of(content) != digest:
            raise SignoffError(f"{what} in the records was altered", _RESTORE, path)
        return content

    def payload(self, entry: Entry) -> Payload:
        """What a journal line speaks of. Errors: SignoffError when missing or altered."""
        head = entry.head
        order, kind = self._name_of(head["order"]), head["kind"]
        number, digest = head["edition"], head["payload"]
        path = self._payload_path(order, kind, number, digest)
        what = f"the file of journal line {entry.line}"
        payload = cast(Payload, self._once(self._payloads, path, digest, what))
        if (payload["order"], payload["kind"], payload["edition"]) != (order, kind, number):
            raise SignoffError(f"{what} belongs to another line", _RESTORE, path)
        return payload

    def _once(self, held: store.Recent[object], path: Path, digest: str, what: str) -> object:
        """A document that is asked for several times in a run; read again if its file changed."""

        def read() -> object:
            return read_canonical(self._content(path, digest, what))

        try:
            seen = path.stat()
        except (OSError, ValueError):
            return read()  # which says what is missing
        key = (str(path), digest, seen.st_mtime_ns, seen.st_ctime_ns, seen.st_size)
        return held.remember(key, read)

    def document(self, order: str, digest: str) -> ArtworkDocument:
        path = self._document_path(order, digest)
        return cast(
            ArtworkDocument, self._once(self._read, path, digest, "the description of a proof")
        )

    def terms(self, order: str, digest: str) -> TermsDocument:
        path = self._terms_path(order, digest)
        return cast(TermsDocument, self._once(self._read, path, digest, "the terms of a proof"))

    def raster(self, order: str, name: str, digest: str) -> bytes:
        return self._content(self.raster_path(order, digest), digest, f"the kept picture {name}")

    # -- checking ----------------------------------------------------------------------------

    def problems(self, entry: Entry) -> list[str]:
        """What is wrong with the files one journal line depends on."""
        try:
            payload = self.payload(entry)
        except SignoffError as error:
            return [_short(error)]
        except (KeyError, TypeError, ValueError):
            return [f"journal line {entry.line} cannot be understood"]
        if payload["kind"] != "edition":
            return []
        head = cast(EditionHead, payload)
        order, terms = head["order"], head.get("terms")
        reads: list[Callable[[], object]] = [lambda: self.document(order, head["document"])]
        if terms:
            reads.append(lambda: self.terms(order, terms))
        for name, kept in head["rasters"].items():
            reads.append(partial(self.raster, order, name, kept["file"]))
        problems = []
        for read in reads:
            try:
                read()
            except SignoffError as error:
                problems.append(_short(error))
        return problems

    def names_of(self, by_order: Mapping[str, Sequence[Entry]]) -> dict[str, str]:
        """The names of the journal's orders by their ids, as the folders of their payloads tell."""
        ids = [one for one in by_order if is_made_up(one)]
        homes = [home for home in self.folder.glob("*") if ids and is_order_id(home.name)]
        lie_in = {p.stem[-16:]: home.name for home in homes for p in home.glob("*.json")}
        found = {
            one: lie_in[entry.head["payload"][:16]]
            for one in ids
            for entry in by_order[one]
            if entry.head.get("payload", "")[:16] in lie_in
        }
        return {one: name for one, name in found.items() if name != one}

    def leftovers(self, order: str, named: bool) -> list[str]:
        """What a forgotten order's folder still holds, or that it is still `named`."""
        home = self.folder / check_order_id(order)
        if not named and not any(p.is_file() for p in home.rglob("*")):
            return []
        return [f"{order} was forgotten, yet files of it are left: proofgen forget {order}"]


def named_ids(by_order: Mapping[str, Sequence[Entry]]) -> list[str]:
    """The ids of the journal's orders that have another name: all made-up ones, but for those that
    are forgotten."""
    return [
        one
        for one, entries in by_order.items()
        if is_made_up(one) and not any(e.head["kind"] == EventKind.FORGOTTEN for e in entries)
    ]


def _keep(content: bytes, path_of: Callable[[str], Path]) -> str:
    digest = digest_of(content)
    store.write(path_of(digest), content, durable=True)
    return digest


def _short(error: SignoffError) -> str:
    return f"{error.place}: {error.problem}" if error.place else error.problem
