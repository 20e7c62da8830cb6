"""Editions: when an order needs a new proof, its rasters, and its private page below site/p/."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from PIL import Image

from proofgen import __version__, proof, signoff, store
from proofgen.artwork.raster import paint, pixel_digest, raster_names, raster_png, read_raster
from proofgen.errors import MachineError, Place, ShopError, SignoffError
from proofgen.pipeline.preflight import Prepared, prepare_all, refuse_stops
from proofgen.pipeline.showing import Shown, content_of, told_findings
from proofgen.pipeline.standings import facts_of, link_of
from proofgen.workshop import NO_CONTACT, Workshop

Rasters = Mapping[str, Image.Image]
_PAGE = "proof page"  # what the page of an order showed when it was last set, by order

# An order in one of these is with the customer or done: only the maker's own word, by naming the
# order, makes another edition.
WAITING = ("out", "corrections", "again", "two answers", "signed", "voided", "expired")
CLOSED = ("forgotten",)
DONE = ("pressed", "handed over")
# Answered or past its day: naming the order makes a new edition even of the same artwork.
SETTLED = ("corrections", "again", "two answers", "expired", "withdrawn")


@dataclass(frozen=True, slots=True, kw_only=True)
class MadeProof:
    """A proof that is on disk now."""

    order: str
    edition: int
    page: Path
    why: str
    next: str


def paint_all(prepared: Prepared) -> dict[str, Image.Image]:
    """Every raster of an order at the press resolution."""
    made = {}
    names = raster_names(prepared.variants)
    for variant, name_of in zip(prepared.variants, names, strict=True):
        for panel, image in paint(variant.layout, prepared.ppi).items():
            made[name_of[panel]] = image
    return made


def kept_rasters(workshop: Workshop, edition: signoff.Edition) -> dict[str, Image.Image]:
    """The rasters of an edition as they were kept."""
    return {name: read_raster(workshop.records.raster(edition, name)) for name in edition.rasters}


def _needs_edition(workshop: Workshop, prepared: Prepared, *, named: bool) -> str:
    """Why a new edition is due; '' when the latest stays."""
    facts = facts_of(workshop, prepared.order.id, prepared)
    if facts.edition is None:
        return "the first proof"
    state = signoff.state_of(facts)[0]
    if not facts.current_fingerprint_matches:
        waits = facts.sent or state in WAITING
        return "" if waits and not named else "the order changed"
    return "a new one was asked for" if named and state in SETTLED else ""


def _new_edition(
    workshop: Workshop, prepared: Prepared
) -> tuple[signoff.Edition, dict[str, Image.Image]]:
    if workshop.shop.settings.contact == NO_CONTACT:
        raise ShopError(
            f"the contact is still {NO_CONTACT}, so no answer would reach you",
            "write your own mail address there",
            Place("shop.yaml"),
        )
    rasters = paint_all(prepared)
    edition = workshop.sound_records().new_edition(
        prepared.order.id,
        prepared.document,
        {name: (raster_png(image), pixel_digest(image)) for name, image in rasters.items()},
        workshop.now,
        workshop.answer_by,
        key=workshop.key_for(prepared.order.id),
    )
    return edition, rasters


def publish(workshop: Workshop, folder: Path, files: Mapping[str, bytes]) -> None:
    """Pictures and PDF first, the page by one rename, and only then the files it left behind."""
    for name in sorted(files, key=lambda n: n == "index.html"):
        store.write(folder / name, files[name])
    for path in folder.iterdir():
        if path.name not in files:
            store.remove(path)


def _page_stamp(workshop: Workshop, prepared: Prepared, edition: signoff.Edition) -> bytes:
    """Everything a page shows, in short: while it stays the same the page need not be set again."""
    shop, order = workshop.shop, prepared.order
    blanks = [shop.blanks[line.blank].name for line in order.lines]
    designs = [shop.designs[line.design] for line in order.lines]
    named = [(design.title, dict(design.labels)) for design in designs]
    prices = [
        str(design.price(line.blank, line.quantity))
        for design, line in zip(designs, order.lines, strict=True)
    ]
    words = shop.words.get("proof", "")
    stamp = [
        __version__,
        workshop.theme.digest,
        repr(shop.settings),
        repr((order.customer, order.due, blanks, prices, named, words)),
        edition.fingerprint,
        repr({v.line: v.layout.correction for v in prepared.variants}),
        f"{edition.number} {edition.made} {edition.answer_by}",
        json.dumps([f.as_json() for f in told_findings(prepared.findings)]),
    ]
    return store.dump_json(stamp)


def _is_published(workshop: Workshop, prepared: Prepared, edition: signoff.Edition) -> bool:
    token = workshop.records.token(prepared.order.id)
    known = workshop.store.recall(_PAGE, prepared.order.id)
    letter_there = (workshop.workroom / "letters" / f"{prepared.order.id}.txt").is_file()
    return (
        known == _page_stamp(workshop, prepared, edition)
        and letter_there
        and token is not None
        and (workshop.site / "p" / token / "index.html").is_file()
    )


def _build(content: proof.ProofContent, workshop: Workshop, *, one_file: bool) -> dict[str, bytes]:
    """The proof's files; without the PDF, and with the trouble told, where none can be made."""
    try:
        return proof.build(content, workshop.theme, one_file=one_file)
    except MachineError as error:
        workshop.trouble.append(error)
        return proof.build(content, workshop.theme, one_file=one_file, with_pdf=False)


def make_proof(
    workshop: Workshop, prepared: Prepared, *, named: bool, one_file: bool = False
) -> MadeProof | None:
    """The proof of one order on disk; None when there is nothing to show of it.

    Errors: StopError when a stop stands and the order was named.
    """
    name = prepared.order.id
    state = signoff.state_of(facts_of(workshop, name, prepared))[0]
    if state in CLOSED or (not named and (prepared.order.draft or state == "withdrawn")):
        return None
    if prepared.stops and state not in DONE:
        if named:
            refuse_stops(prepared)
        return None
    why = "" if state in DONE else _needs_edition(workshop, prepared, named=named)
    if why:
        edition, rasters = _new_edition(workshop, prepared)
    else:
        latest = workshop.records.latest(name)
        facts = facts_of(workshop, name, prepared)
        if latest is None or not facts.current_fingerprint_matches or state == "expired":
            return None  # what is on the page is the edition the customer has
        if _is_published(workshop, prepared, latest) and not one_file:
            return None
        edition, rasters = latest, kept_rasters(workshop, latest)
        why = "its page was set again"
    token = workshop.token_of(name)
    before = [e for e in workshop.records.editions(name) if e.number == edition.number - 1]
    shown = Shown(
        prepared=prepared,
        edition=edition,
        rasters=rasters,
        before=before[0] if before else None,
        before_rasters=kept_rasters(workshop, before[0]) if before else {},
        link=link_of(workshop, name),
    )
    folder = workshop.site / "p" / token
    content = content_of(shown, workshop)
    files = _build(content, workshop, one_file=False)
    publish(workshop, folder, files)
    store.write(workshop.site / "p" / "index.html", proof.blank_index(workshop.theme))
    letter = proof.letter(content, workshop.theme)
    store.write(workshop.workroom / "letters" / f"{name}.txt", letter)
    # Without its PDF it is not done: the next run tries again, and says so again.
    whole = any(n.endswith(".pdf") for n in files)
    stamp = _page_stamp(workshop, prepared, edition) if whole else b""
    workshop.store.keep(_PAGE, name, stamp)
    page = folder / "index.html"
    if one_file:
        page = workshop.workroom / "letters" / f"{name}-proof-{edition.number}.html"
        store.write(page, _build(content, workshop, one_file=True)["index.html"])
    step = signoff.state_of(facts_of(workshop, name, prepared))[1]
    return MadeProof(order=name, edition=edition.number, page=page, why=why, next=step)


def make_proofs_of(
    workshop: Workshop, prepared: list[Prepared], *, named: bool, one_file: bool = False
) -> list[MadeProof]:
    """Proofs of several orders; a fault in one is gathered and the others go on."""
    made = []
    for one in prepared:
        with workshop.each(f"proof of {one.order.id}"):
            done = make_proof(workshop, one, named=named, one_file=one_file)
            if done:
                made.append(done)
    return made


def make_proofs(
    workshop: Workshop, names: Sequence[str], *, one_file: bool = False
) -> list[MadeProof]:
    """The command `proof`: of the named orders, or of all that wait for one."""
    prepared = prepare_all(workshop, names)
    if not names:
        for one in prepared:
            if one.stops and not one.order.draft:
                with workshop.each(f"looking at {one.order.id}"):
                    refuse_stops(one)
    return make_proofs_of(workshop, prepared, named=bool(names), one_file=one_file)


def letter(workshop: Workshop, name: str, *, sent: bool) -> str:
    """The letter that brings the customer to the proof; `sent` records that it went out."""
    workshop.order(name)
    path = workshop.workroom / "letters" / f"{name}.txt"
    prepared = prepare_all(workshop, [name])
    if not prepared:
        raise workshop.trouble[-1]
    state = signoff.state_of(facts_of(workshop, name, prepared[0]))[0]
    if state in ("draft", "stopped", "voided", "withdrawn", *CLOSED) or not path.is_file():
        cure = (
            "`proofgen orders` shows where it is" if state in CLOSED else f"proofgen proof {name}"
        )
        raise SignoffError(f"{name} is {state}: there is no proof of it to send", cure)
    if sent:
        workshop.sound_records().mark(name, "sent", workshop.now)
    return path.read_text("utf-8")
