"""Editions: when an order needs a new proof, its rasters, and its private page below site/p/."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from PIL import Image

from proofgen import __version__, proof, store
from proofgen.artwork.painting import paint_by_name
from proofgen.artwork.rasters import (
    kept_rasters,
    pixel_digest,
    raster_png,
    read_raster,
)
from proofgen.errors import MachineError, Place, ShopError, SignoffError
from proofgen.pipeline.orders import facts_of, link_of
from proofgen.pipeline.preflight import Prepared, prepare_all, refuse_stops
from proofgen.proof.customer_findings import for_customer
from proofgen.proof.page import content_of
from proofgen.proof.shown import Shown
from proofgen.render import Theme
from proofgen.signoff import Edition, EventKind, OrderFacts, Page, When
from proofgen.store import Lazy
from proofgen.workshop import NO_CONTACT, Workshop

_PAGE = "proof page"  # what the page of an order showed when it was last set, by order


@dataclass(frozen=True, slots=True, kw_only=True)
class MadeProof:
    """A proof that is on disk now."""

    order: str
    edition: int
    page: Path
    why: str
    next: str


_HELD = 2  # kept rasters in memory at once: the panels of one look


def kept_pictures(workshop: Workshop, edition: Edition) -> Lazy[Image.Image]:
    """The rasters of an edition by name, as they were kept; each is read when it is asked for."""
    records = workshop.records
    return Lazy(edition.rasters, lambda name: read_raster(records.raster(edition, name)), _HELD)


def _why_new(facts: OrderFacts, *, named: bool) -> str:
    """Why a new edition is due; '' when the latest stays."""
    if not facts.new_edition_is_due(named=named):
        return ""
    if not facts.edition:
        return "the first proof"
    return "a new one was asked for" if facts.is_current else "the order changed"


def _new_edition(workshop: Workshop, prepared: Prepared) -> Edition:
    if workshop.shop.settings.contact == NO_CONTACT:
        raise ShopError(
            f"the contact is still {NO_CONTACT}, so no answer would reach you",
            "write your own mail address there",
            Place("shop.yaml"),
        )
    pictures = paint_by_name(prepared.variants, prepared.ppi, workshop.materials)

    def kept(name: str) -> tuple[bytes, str]:
        image = pictures[name]
        return raster_png(image), pixel_digest(image)

    return workshop.sound_records().new_edition(
        prepared.order.id,
        prepared.document,
        Lazy(pictures, kept),
        workshop.now,
        workshop.answer_by,
        key=workshop.key_for(prepared.order.id),
    )


def _page_stamp(workshop: Workshop, prepared: Prepared, edition: Edition) -> bytes:
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
        workshop.theme_for(order).digest,
        repr(shop.settings),
        repr((order.customer, order.due, blanks, prices, named, words)),
        edition.fingerprint,
        repr({v.line: v.layout.correction for v in prepared.variants}),
        f"{edition.number} {edition.made} {edition.answer_by}",
        repr(for_customer(prepared.findings, workshop.theme_for(order).tongue)),
    ]
    return store.dump_json(stamp)


def _is_published(workshop: Workshop, prepared: Prepared, edition: Edition) -> bool:
    token = workshop.records.token(prepared.order.id)
    known = workshop.store.recall(_PAGE, prepared.order.id)
    letter_there = (workshop.workroom / "letters" / f"{prepared.order.id}.txt").is_file()
    return (
        known == _page_stamp(workshop, prepared, edition)
        and letter_there
        and token is not None
        and (workshop.site / "p" / token / "index.html").is_file()
    )


def _build(
    content: proof.ProofContent, workshop: Workshop, theme: Theme, *, one_file: bool
) -> dict[str, bytes]:
    """The proof's files; without the PDF, and with the trouble told, where none can be made."""
    try:
        return proof.build(content, theme, one_file=one_file)
    except MachineError as error:
        workshop.trouble.append(error)
        return proof.build(content, theme, one_file=one_file, with_pdf=False)


def _to_show(
    workshop: Workshop, prepared: Prepared, *, named: bool, anew: bool
) -> tuple[Edition, str] | None:
    """The edition to set a page of, and why; None when what is there stays. `anew`:
    also when nothing on the page changed. StopError when a stop stands and the order was named."""
    name = prepared.order.id
    facts = facts_of(workshop, name, prepared)
    if prepared.order.draft and not named:
        return None
    if prepared.stops and facts.rules.proof is not When.NEVER:
        if named:
            refuse_stops(prepared)
        return None
    why = _why_new(facts, named=named)
    if why:
        return _new_edition(workshop, prepared), why
    latest = workshop.records.latest(name)
    if latest is None or not facts.is_current or facts.rules.page is not Page.FORM:
        return None  # what is on the page is the edition the customer has
    if _is_published(workshop, prepared, latest) and not anew:
        return None
    return latest, "its page was set again"


def make_proof(
    workshop: Workshop, prepared: Prepared, *, named: bool, one_file: bool = False
) -> MadeProof | None:
    """The proof of one order on disk; None when there is nothing to show of it.

    Errors: StopError when a stop stands and the order was named.
    """
    name = prepared.order.id
    to_show = _to_show(workshop, prepared, named=named, anew=one_file)
    if to_show is None:
        return None
    edition, why = to_show
    token = workshop.token_of(name)
    theme = workshop.theme_for(prepared.order)
    before = [e for e in workshop.records.editions(name) if e.number == edition.number - 1]
    shown = Shown(
        shop=workshop.shop,
        order=prepared.order,
        variants=prepared.variants,
        findings=prepared.findings,
        edition=edition,
        rasters=kept_rasters(prepared.variants, prepared.ppi, kept_pictures(workshop, edition)),
        materials=workshop.materials,
        plate=theme.plate,
        tongue=theme.tongue,
        printer=workshop.printer,
        before=before[0] if before else None,
        before_pictures=kept_pictures(workshop, before[0]) if before else {},
        link=link_of(workshop, name),
    )
    folder = workshop.site / "p" / token
    content = content_of(shown)
    files = _build(content, workshop, theme, one_file=False)
    store.write_folder(folder, files, last="index.html")
    store.write(workshop.site / "p" / "index.html", proof.blank_index(workshop.theme_for(None)))
    letter = proof.letter(content, theme)
    store.write(workshop.workroom / "letters" / f"{name}.txt", letter)
    # Without its PDF it is not done: the next run tries again, and says so again.
    whole = any(n.endswith(".pdf") for n in files)
    stamp = _page_stamp(workshop, prepared, edition) if whole else b""
    workshop.store.keep(_PAGE, name, stamp)
    page = folder / "index.html"
    if one_file:
        page = workshop.workroom / "letters" / f"{name}-proof-{edition.number}.html"
        store.write(page, _build(content, workshop, theme, one_file=True)["index.html"])
    step = facts_of(workshop, name, prepared).step
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
    facts = facts_of(workshop, name, prepared[0])
    if not facts.rules.has_letter or not path.is_file():
        raise SignoffError(
            f"{name} is {facts.state}: there is no proof of it to send",
            f"proofgen proof {name}"
            if facts.rules.can_be_shown
            else "`proofgen orders` shows where it is",
        )
    if sent:
        workshop.sound_records().mark(name, EventKind.SENT, workshop.now)
    return path.read_text("utf-8")
