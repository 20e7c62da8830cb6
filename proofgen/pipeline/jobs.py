"""What a process does that works beside a run: read, measure, draw, set; nothing is noted."""

from __future__ import annotations

import pickle
import threading
from collections.abc import Callable, Mapping
from hashlib import sha256

from PIL import Image

from proofgen import proof
from proofgen.artwork.painting import paint_by_name
from proofgen.artwork.rasters import kept_rasters, pixel_digest, raster_png, read_raster
from proofgen.pipeline.chosen import chosen_in
from proofgen.pipeline.crew import OF_ORDERS, Ahead, Job, Kind, left_in, stands
from proofgen.pipeline.findings import prints_of
from proofgen.pipeline.orders import address_of
from proofgen.pipeline.preflight import Prepared, prepare
from proofgen.pipeline.proofs import HELD, before_it, set_content
from proofgen.pipeline.seasons import entry, season_content, season_files
from proofgen.pipeline.terms import terms_today
from proofgen.pipeline.workroom_pictures import in_the_round, without_proof
from proofgen.proof.content import without_bytes
from proofgen.signoff import drafted
from proofgen.store import Lazy, Store
from proofgen.workshop import Workshop, open_workshop

_ONE = threading.Lock()  # a cluster's process may be given several jobs at once
_open: dict[str, Workshop] = {}  # the shop of the run that was served last


def do(job: Job) -> str:
    """Do a job: '' where it failed, or where the shop is not as the run has read it; of a proof the
    digest of what is left for the run. Whatever fails here the run meets, and tells."""
    with _ONE:
        try:
            workshop = _workshop_of(job)
            if workshop is None:
                return ""
            return _DOES[job.kind](workshop, job)
        except Exception:
            return ""


def _workshop_of(job: Job) -> Workshop | None:
    """The run's shop, opened once; None where it is another by now, or not to be seen from here."""
    workshop = _open.get(job.run)
    if workshop is None:
        for before in _open.values():
            before.materials.close()
        _open.clear()
        workshop = _open[job.run] = open_workshop(job.folder)
        workshop.now = job.now
    workshop.materials.pictures.let_go(everything=True)
    order = job.name if job.kind in OF_ORDERS else ""
    return workshop if stands(workshop, order) == job.stands else None


def _check(workshop: Workshop, job: Job) -> str:
    prints_of(workshop, [prepare(workshop, workshop.shop.orders[job.name])])
    return "done"


def _picture(workshop: Workshop, job: Job) -> str:
    for _ in without_proof(workshop, prepare(workshop, workshop.shop.orders[job.name])):
        pass  # remembered for the maker's own pages
    return "done"


def _design(workshop: Workshop, job: Job) -> str:
    entry(workshop, workshop.shop.designs[job.name])
    return "done"


def _booklet(workshop: Workshop, job: Job) -> str:
    (season,) = (one for one in workshop.shop.seasons if one.id == job.name)
    season_files(workshop, season_content(workshop, season))
    return "done"


def _proof(workshop: Workshop, job: Job) -> str:
    """An edition as the run will record it, and its page, left for it."""
    prepared = prepare(workshop, workshop.shop.orders[job.name])
    painted = _Painted(prepared, workshop, left_in(job.left))
    edition = drafted(
        order=job.name,
        number=len(workshop.records.entries(job.name, "edition")) + 1,
        document=prepared.document,
        rasters=painted.digests,
        key=job.key,
        made=workshop.now,
        answer_by=workshop.answer_by(prepared.order),
        terms=terms_today(workshop, prepared, None),
        chosen=chosen_in(prepared.order, prepared.variants),
    )
    link = address_of(workshop, job.token)
    pictures = Lazy(painted.digests, painted.picture, HELD)
    content, theme = set_content(workshop, prepared, edition, link, pictures)
    every = kept_rasters(prepared.variants, prepared.ppi, pictures)
    for _ in in_the_round(workshop, edition, prepared.variants, every):
        pass  # remembered for the maker's own pages
    forms = (False,) if workshop.shop.settings.site else (False, True)
    ahead = Ahead(
        left=job.left,
        edition=edition,
        document=prepared.digest,
        before=before_it(workshop, edition),
        link=link,
        content=without_bytes(content),
        files={form: proof.build(content, theme, one_file=form) for form in forms},
    )
    made = pickle.dumps(ahead)
    left_in(job.left).keep("proof", job.name, made)
    return sha256(made).hexdigest()


class _Painted:
    """The rasters of an order, painted one look after the other and left for the run."""

    def __init__(self, prepared: Prepared, workshop: Workshop, left: Store) -> None:
        self._order, self._left = prepared.order.id, left
        self._last: dict[str, Image.Image] = {}
        self.digests: dict[str, tuple[str, str]] = {}  # of file and pixels, by name
        every = paint_by_name(prepared.variants, prepared.ppi, workshop.materials)
        for name, image in every.items():
            png, seen = raster_png(image), pixel_digest(image)
            left.keep("raster", f"{self._order} {name}", seen.encode() + png)
            self.digests[name] = sha256(png).hexdigest(), seen
            self._last[name] = image
            if len(self._last) > HELD:
                del self._last[next(iter(self._last))]

    def picture(self, name: str) -> Image.Image:
        if name in self._last:
            return self._last[name]
        content = self._left.recall("raster", f"{self._order} {name}")
        return read_raster((content or b"")[64:])


_DOES: Mapping[Kind, Callable[[Workshop, Job], str]] = {
    "check": _check,
    "design": _design,
    "booklet": _booklet,
    "proof": _proof,
    "picture": _picture,
}
