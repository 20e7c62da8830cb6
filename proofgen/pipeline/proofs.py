"""Editions: when an order needs a new proof, its rasters, and its private page below site/p/."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from PIL import Image

from proofgen import proof, store
from proofgen.artwork.painting import paint_by_name
from proofgen.artwork.rasters import (
    kept_rasters,
    pixel_digest,
    raster_png,
    read_raster,
)
from proofgen.errors import MachineError, Place, ShopError, SignoffError
from proofgen.pipeline import letters
from proofgen.pipeline.chosen import chosen_in
from proofgen.pipeline.focuses import write_chosen
from proofgen.pipeline.orders import facts_of, link_of
from proofgen.pipeline.preflight import Prepared, prepare_all, refuse_stops
from proofgen.pipeline.terms import differing_terms, terms_today
from proofgen.proof.correspondence import Post
from proofgen.proof.page import content_of
from proofgen.proof.shown import Shown
from proofgen.proof.terms import as_told
from proofgen.render import Theme
from proofgen.signoff import Edition, EventKind, OrderFacts, Page, When
from proofgen.store import Lazy
from proofgen.workshop import NO_CONTACT, Workshop


@dataclass(frozen=True, slots=True, kw_only=True)
class MadeProof:
    """A proof that is on disk now."""

    order: str
    edition: int
    page: Path
    why: str
    next: str
    wrote: list[str]  # what was written into its order, in whole sentences


_HELD = 2  # kept rasters in memory at once: the panels of one look


def kept_pictures(workshop: Workshop, edition: Edition) -> Lazy[Image.Image]:
    """The rasters of an edition by name, as they were kept; each is read when it is asked for."""
    records, seen = workshop.records, set[str]()
    one_more = workshop.counted(f"page of {edition.order}", len(edition.rasters))

    def kept(name: str) -> Image.Image:
        if name not in seen:
            seen.add(name)
            one_more()
        return read_raster(records.raster(edition, name))

    return Lazy(edition.rasters, kept, _HELD)


def _why_new(
    workshop: Workshop, prepared: Prepared, facts: OrderFacts, *, named: bool, again: bool
) -> str:
    """Why a new edition is due; '' when the latest stays. SignoffError where an answer asks for a
    change and there is none to be seen, unless the same is wanted `again`."""
    if not facts.edition:
        return "the first proof" if facts.new_edition_is_due(named=named) else ""
    if not facts.is_current:
        return "the order changed" if facts.new_edition_is_due(named=named) else ""
    told_otherwise = differing_terms(workshop, prepared)
    if facts.new_edition_is_due(named=named):
        refusal = facts.rules.unchanged
        if refusal and not told_otherwise and not again:
            raise SignoffError(facts.filled(refusal.problem), facts.filled(refusal.cure))
        return "a new one was asked for"
    may = named or (EventKind.SENT not in facts.happened and not facts.answered)
    if told_otherwise and may and facts.rules.page is Page.FORM and not facts.rules.closed:
        return "what its customer is told changed"
    return ""


def _new_edition(workshop: Workshop, prepared: Prepared) -> Edition:
    if workshop.shop.settings.contact == NO_CONTACT:
        raise ShopError(
            f"the contact is still {NO_CONTACT}, so no answer would reach you",
            "write your own mail address there",
            Place("shop.yaml"),
        )
    pictures = paint_by_name(prepared.variants, prepared.ppi, workshop.materials)
    one_more = workshop.counted(f"painting {prepared.order.id}", len(pictures))

    def kept(name: str) -> tuple[bytes, str]:
        one_more()
        image = pictures[name]
        return raster_png(image), pixel_digest(image)

    return workshop.sound_records().new_edition(
        prepared.order.id,
        prepared.document,
        Lazy(pictures, kept),
        workshop.now,
        workshop.answer_by,
        key=workshop.key_for(prepared.order.id),
        terms=terms_today(workshop, prepared, None),
        chosen=chosen_in(prepared.order, prepared.variants),
    )


def _home(workshop: Workshop, name: str) -> Path:
    """The folder of an order's page."""
    return workshop.site / "p" / workshop.token_of(name)


def _is_published(workshop: Workshop, edition: Edition) -> bool:
    """Whether what an edition's customer was shown lies at its link; then it stays as it is."""
    folder, shown = _home(workshop, edition.order), workshop.records.shown(edition.order)
    page = folder / proof.PAGE
    if not page.is_file():
        return False
    if not shown:  # cut off before it was noted; or older than that is kept, and then it may stay
        return edition.terms is None and edition.key.hex().encode() in page.read_bytes()
    whole = all((folder / file).is_file() for file in shown)
    as_set = proof.without_standing(page.read_bytes())
    return whole and hashlib.sha256(as_set).hexdigest() == shown[proof.PAGE]


def _build(
    content: proof.ProofContent, workshop: Workshop, theme: Theme, *, one_file: bool
) -> dict[str, bytes]:
    """The proof's files; without the PDF, and with the trouble told, where none can be made."""
    try:
        return proof.build(content, theme, one_file=one_file)
    except MachineError as error:
        workshop.trouble.append(error)
        return proof.build(content, theme, one_file=one_file, with_pdf=False)


_WITHOUT_TERMS = "; it is older than prices are kept, so it shows today’s"


def _to_show(
    workshop: Workshop, prepared: Prepared, *, named: bool, again: bool
) -> tuple[Edition, str] | None:
    """The edition to show, and why; None when what is there stays. Errors: StopError when a stop
    stands and the order was named, SignoffError as `_why_new`."""
    name = prepared.order.id
    facts = facts_of(workshop, name, prepared)
    if prepared.order.draft and not named:
        return None
    if prepared.stops and facts.rules.proof is not When.NEVER:
        if named:
            refuse_stops(prepared)
        return None
    why = _why_new(workshop, prepared, facts, named=named, again=again)
    if why:
        return _new_edition(workshop, prepared), why
    latest = workshop.records.latest(name)
    if latest is None or not facts.is_current or facts.rules.page is not Page.FORM:
        return None  # what is on the page is the edition the customer has
    why = "its page was set again" + ("" if latest.terms else _WITHOUT_TERMS)
    return latest, why


def _content(
    workshop: Workshop, prepared: Prepared, edition: Edition
) -> tuple[proof.ProofContent, Theme, Post]:
    """What an edition's page says and shows, from its own terms and rasters, its dress, and who
    writes to whom about it."""
    name = prepared.order.id
    # One that keeps none is older than terms are: today's stand in for them.
    terms = edition.terms or terms_today(workshop, prepared, edition)
    shop, order = as_told(workshop.shop, prepared.order, terms)
    theme = workshop.theme_for(order)
    before = [e for e in workshop.records.editions(name) if e.number == edition.number - 1]
    shown = Shown(
        shop=shop,
        order=order,
        variants=prepared.variants,
        terms=terms,
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
    return content_of(shown), theme, replace(letters.post_of(workshop, order), shop=shop)


def _publish(workshop: Workshop, name: str, content: proof.ProofContent, theme: Theme) -> None:
    """Page and PDF on disk, and then, in the records, that they were: a run killed before
    is done again from the same terms and rasters."""
    workshop.say_more(f"page of {name}: setting it and its PDF")
    files = _build(content, workshop, theme, one_file=False)
    store.write_folder(_home(workshop, name), files, last=proof.PAGE)
    store.write(workshop.site / "p" / proof.PAGE, proof.blank_index(workshop.theme_for(None)))
    # Without its PDF it is not done: the next run tries again, and says so again.
    if any(file.endswith(".pdf") for file in files):
        workshop.sound_records().mark_shown(name, files, workshop.now)


def make_proof(
    workshop: Workshop,
    prepared: Prepared,
    *,
    named: bool,
    one_file: bool = False,
    again: bool = False,
) -> MadeProof | None:
    """The proof of one order on disk; None when there is nothing to show of it, or nothing new.

    Errors: StopError when a stop stands and the order was named; SignoffError when its customer
    asked for a change and nothing changed, unless it is wanted `again`.
    """
    name = prepared.order.id
    to_show = _to_show(workshop, prepared, named=named, again=again)
    if to_show is None:
        return None
    edition, why = to_show
    lies_there = _is_published(workshop, edition)
    stale = not lies_there or letters.is_stale(workshop, edition)
    if not stale and not one_file:
        return None
    content, theme, post = _content(workshop, prepared, edition)
    if not lies_there:
        _publish(workshop, name, content, theme)
    page = _home(workshop, name) / proof.PAGE
    if one_file or not workshop.shop.settings.site:  # else the letter would lead nowhere
        page = letters.page_path(workshop, edition)
        store.write(page, _build(content, workshop, theme, one_file=True)[proof.PAGE])
    if stale:
        letters.keep_proof_letter(workshop, post, edition, content)
    step = facts_of(workshop, name, prepared).step
    return MadeProof(
        order=name,
        edition=edition.number,
        page=page,
        why=why,
        next=step,
        wrote=write_chosen(prepared),
    )


def make_proofs_of(
    workshop: Workshop,
    prepared: list[Prepared],
    *,
    named: bool,
    one_file: bool = False,
    again: bool = False,
) -> list[MadeProof]:
    """Proofs of several orders; a fault in one is gathered and the others go on."""
    made = []
    for one in prepared:
        with workshop.each(f"proof of {one.order.id}"):
            done = make_proof(workshop, one, named=named, one_file=one_file, again=again)
            if done:
                made.append(done)
    return made


def make_proofs(
    workshop: Workshop, names: Sequence[str], *, one_file: bool = False, again: bool = False
) -> list[MadeProof]:
    """The command `proof`: of the named orders, or of all that wait for one; `again`: also of
    artwork that its customer sent back and that nobody changed since."""
    prepared = prepare_all(workshop, names)
    if not names:
        for one in prepared:
            if one.stops and not one.order.draft:
                with workshop.each(f"looking at {one.order.id}"):
                    refuse_stops(one)
    return make_proofs_of(workshop, prepared, named=bool(names), one_file=one_file, again=again)
