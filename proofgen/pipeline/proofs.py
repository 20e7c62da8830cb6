"""Editions: when an order needs a new proof, its rasters, and its private page below site/p/."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from contextlib import suppress
from dataclasses import replace

from PIL import Image

from proofgen import proof, store
from proofgen.artwork.painting import paint_by_name
from proofgen.artwork.rasters import (
    kept_rasters,
    pixel_digest,
    raster_png,
    read_raster,
)
from proofgen.errors import MachineError, Place, ProofgenError, ShopError, SignoffError
from proofgen.pipeline import letters, pages
from proofgen.pipeline.chosen import chosen_in
from proofgen.pipeline.crew import LEAST, Ahead, crew_for, crew_there
from proofgen.pipeline.focuses import write_chosen
from proofgen.pipeline.made import MadeProof
from proofgen.pipeline.orders import earlier_in, facts_of, link_of
from proofgen.pipeline.preflight import Prepared, prepare_all, refuse_stops
from proofgen.pipeline.standing import say_standing
from proofgen.pipeline.terms import differing_terms, terms_today
from proofgen.proof.correspondence import Post
from proofgen.proof.page import content_of
from proofgen.proof.shown import Shown
from proofgen.proof.terms import as_told
from proofgen.render import Theme
from proofgen.signoff import Edition, EventKind, OrderFacts, Page, When, new_key, seen_before
from proofgen.store import Lazy
from proofgen.workshop import NO_CONTACT, Workshop

HELD = 2  # kept rasters in memory at once: the panels of one look


def kept_pictures(workshop: Workshop, edition: Edition) -> Lazy[Image.Image]:
    """The rasters of an edition by name, as they were kept; each is read when it is asked for."""
    records, seen = workshop.records, set[str]()
    one_more = workshop.counted(f"page of {edition.order}", len(edition.rasters))

    def kept(name: str) -> Image.Image:
        if name not in seen:
            seen.add(name)
            one_more()
        return read_raster(records.raster(edition, name))

    return Lazy(edition.rasters, kept, HELD)


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


def _new_edition(workshop: Workshop, prepared: Prepared, ahead: Ahead | None) -> Edition:
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
        if ahead and ahead.document == prepared.digest and (there := ahead.raster(name)):
            return there
        image = pictures[name]
        return raster_png(image), pixel_digest(image)

    return workshop.sound_records().new_edition(
        prepared.order.id,
        prepared.document,
        Lazy(pictures, kept),
        workshop.now,
        workshop.answer_by(prepared.order),
        key=ahead.edition.key if ahead else workshop.key_for(prepared.order.id),
        terms=terms_today(workshop, prepared, None),
        chosen=chosen_in(prepared.order, prepared.variants),
    )


def _is_published(workshop: Workshop, edition: Edition) -> bool:
    """Whether what an edition's customer was shown lies at its link; then it stays as it is."""
    shown = workshop.records.shown(edition.order)
    if shown:
        return not pages.damaged(workshop, edition.order, shown)
    # Cut off before it was noted; or older than that is kept, and then it may stay.
    page = pages.home(workshop, workshop.token_of(edition.order)) / proof.PAGE
    old = edition.terms is None and page.is_file()
    return old and edition.key.hex().encode() in page.read_bytes()


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


def _due(workshop: Workshop, prepared: Prepared, *, named: bool, again: bool) -> str | None:
    """Why a new edition is due, '' where the latest stays; None where none may be made or shown.
    Errors: StopError when a stop stands and the order was named, SignoffError as `_why_new`."""
    facts = facts_of(workshop, prepared.order.id, prepared)
    if prepared.order.draft and not named:
        return None
    if prepared.stops and facts.rules.proof is not When.NEVER:
        if named:
            refuse_stops(prepared)
        return None
    return _why_new(workshop, prepared, facts, named=named, again=again)


def _to_show(
    workshop: Workshop, prepared: Prepared, ahead: Ahead | None, why: str | None
) -> tuple[Edition, str] | None:
    """The edition to show, and why, where `_due` told why; None when what is there stays."""
    name = prepared.order.id
    if why is None:
        return None
    if why:
        return _new_edition(workshop, prepared, ahead), why
    latest, facts = workshop.records.latest(name), facts_of(workshop, name, prepared)
    if latest is None or not facts.is_current or facts.rules.page is not Page.FORM:
        return None  # what is on the page is the edition the customer has
    why = "its page was set again" + ("" if latest.terms else _WITHOUT_TERMS)
    return latest, why


def set_content(
    workshop: Workshop,
    prepared: Prepared,
    edition: Edition,
    link: str,
    pictures: Mapping[str, Image.Image],
) -> tuple[proof.ProofContent, Theme]:
    """What an edition's page says and shows, from its own terms and rasters, and its dress."""
    # One that keeps none is older than terms are: today's stand in for them.
    terms = edition.terms or terms_today(workshop, prepared, edition)
    shop, order = as_told(workshop.shop, prepared.order, terms)
    theme, before = workshop.theme_for(order), before_it(workshop, edition)
    shown = Shown(
        shop=shop,
        order=order,
        variants=prepared.variants,
        terms=terms,
        edition=edition,
        rasters=kept_rasters(prepared.variants, prepared.ppi, pictures),
        materials=workshop.materials,
        plate=theme.plate,
        mood=theme.look.mood,
        strokes=theme.look.strokes,
        tongue=theme.tongue,
        printer=workshop.printer,
        before=before,
        before_pictures=kept_pictures(workshop, before) if before else {},
        link=link,
    )
    return content_of(shown), theme


def before_it(workshop: Workshop, edition: Edition) -> Edition | None:
    """The edition that the customer saw before the order's latest, or before one that is not
    recorded yet."""
    number = seen_before(workshop.records, edition.order, edition.number)
    every = workshop.records.editions(edition.order)
    return next((one for one in every if one.number == number), None)


def _post(workshop: Workshop, prepared: Prepared, edition: Edition) -> Post:
    """Who writes to whom about an edition."""
    terms = edition.terms or terms_today(workshop, prepared, edition)
    shop, order = as_told(workshop.shop, prepared.order, terms)
    return replace(letters.post_of(workshop, order), shop=shop)


def _set(
    workshop: Workshop, prepared: Prepared, edition: Edition, ahead: Ahead | None
) -> tuple[proof.ProofContent, Callable[[bool], dict[str, bytes]]]:
    """What an edition's page says, and its files (True: as one file), set now if they were not
    ahead."""
    link = link_of(workshop, edition.order)
    if ahead and ahead.is_of(edition, before_it(workshop, edition), link):
        content, made = ahead.content, ahead.files
        if made.get(False) and (made.get(True) or workshop.shop.settings.site):
            return content, lambda one_file: made[one_file]
    content, theme = set_content(
        workshop, prepared, edition, link, kept_pictures(workshop, edition)
    )
    return content, lambda one_file: _build(content, workshop, theme, one_file=one_file)


def _publish(workshop: Workshop, name: str, files: dict[str, bytes]) -> None:
    """Page and PDF on disk, and then, in the records, that they were: a run killed before
    is done again from the same terms and rasters."""
    pages.publish(workshop, name, files)
    # Without its PDF it is not done: the next run tries again, and says so again.
    if any(file.endswith(".pdf") for file in files):
        workshop.sound_records().mark_shown(name, files, workshop.now)
        pages.keep_beside(workshop, name, files)


def make_proof(
    workshop: Workshop,
    prepared: Prepared,
    *,
    named: bool,
    one_file: bool = False,
    again: bool = False,
    due: Mapping[str, str | None] | None = None,
) -> MadeProof | None:
    """The proof of one order on disk; None when there is nothing to show of it, or nothing new.
    `due`: what `_due` told of some orders in this run.

    Errors: StopError when a stop stands and the order was named; SignoffError when its customer
    asked for a change and nothing changed, unless it is wanted `again`.
    """
    name = prepared.order.id
    crew = crew_there(workshop)
    ahead = crew.take(name) if crew and not one_file else None
    known = due if due and name in due else None
    why = known[name] if known else _due(workshop, prepared, named=named, again=again)
    to_show = _to_show(workshop, prepared, ahead, why)
    if to_show is None:
        return None
    edition, why = to_show
    moved = pages.leave_open_link(workshop, name)
    lies_there = _is_published(workshop, edition)
    is_own = prepared.order.is_own  # nobody to write to
    stale = not lies_there or (not is_own and letters.is_stale(workshop, edition))
    if not stale and not one_file:
        return None
    content, files = _set(workshop, prepared, edition, ahead)
    post = _post(workshop, prepared, edition)
    if not lies_there:
        workshop.say_more(f"page of {name}: setting it and its PDF")
        _publish(workshop, name, files(False))
    page = pages.home(workshop, workshop.token_of(name)) / proof.PAGE
    if one_file or not workshop.shop.settings.site:  # else the letter would lead nowhere
        page = letters.page_path(workshop, edition)
        store.write(page, files(True)[proof.PAGE])
    if stale and not is_own:
        letters.keep_proof_letter(workshop, post, edition, content)
    facts = facts_of(workshop, name, prepared)
    return MadeProof(
        order=name,
        edition=edition.number,
        page=page,
        why=why,
        next=facts.step,
        wrote=[*moved, *write_chosen(prepared)],
        findings=prepared.findings,
        before=earlier_in(workshop, facts),
    )


def _set_ahead(
    workshop: Workshop, prepared: Sequence[Prepared], *, named: Collection[str], again: bool
) -> dict[str, str | None]:
    """Ask for new editions to be painted and set, side by side, where there are enough; what `_due`
    told of each order then, if it could."""
    due: dict[str, str | None] = {}
    for one in prepared if len(prepared) >= LEAST else ():
        with suppress(ProofgenError):  # told where the proof is made
            name = one.order.id
            due[name] = _due(workshop, one, named=name in named, again=again)
    wanted = [name for name, why in due.items() if why]
    if crew := crew_for(workshop, len(wanted)):
        crew.to_come = 0
        for name in wanted:
            key = workshop.key_for(name) or new_key()
            crew.add("proof", name, key=key, token=workshop.token_to_be(name))
    return due


def make_proofs_of(
    workshop: Workshop,
    prepared: list[Prepared],
    *,
    named: Collection[str] = (),
    one_file: bool = False,
    again: bool = False,
) -> list[MadeProof]:
    """Proofs of several orders, of which the maker asked for those `named`; a fault in one is
    gathered and the others go on."""
    made = []
    due = _set_ahead(workshop, prepared, named=named, again=again)
    for one in prepared:
        with workshop.each(f"proof of {one.order.id}"):
            is_named = one.order.id in named
            done = make_proof(
                workshop, one, named=is_named, one_file=one_file, again=again, due=due
            )
            if done:
                made.append(done)
    return made


def _changed(workshop: Workshop, prepared: Sequence[Prepared]) -> dict[str, OrderFacts]:
    """The facts of open orders that would be pressed otherwise than their latest proof shows, and
    can have a new one."""
    every = {p.order.id: facts_of(workshop, p.order.id, p) for p in prepared if not p.stops}
    return {
        name: facts
        for name, facts in every.items()
        if facts.edition and not facts.is_current and facts.rules.proof is not When.NEVER
    }


def _to_be_named(workshop: Workshop, changed: Mapping[str, OrderFacts]) -> list[str]:
    """Sentences about changed orders that get no new proof unless the maker names them."""
    return [
        f"{name} is not as proof {facts.edition} any more, and gets a new proof only when you name "
        f"it, because {facts.rules.stands}: proofgen proof {name}"
        for name, facts in changed.items()
        if not facts.new_edition_is_due(named=False)
    ]


def make_proofs(
    workshop: Workshop, names: Sequence[str], *, one_file: bool = False, again: bool = False
) -> tuple[list[MadeProof], list[str]]:
    """The command `proof`: of the named orders, or of all that wait for one; `again`: also of
    artwork that its customer sent back and that nobody changed since. And what became of damaged
    pages and which changed orders are to be named, for people."""
    prepared = prepare_all(workshop, names)
    changed = {} if names else _changed(workshop, prepared)
    # What its customer sent back and the maker changed since is what the command is typed for.
    asked = [name for name, facts in changed.items() if facts.rules.sent_back]
    if not names:
        for one in prepared:
            if one.stops and not one.order.draft:
                with workshop.each(f"looking at {one.order.id}"):
                    refuse_stops(one)
    known = {one.order.id: one for one in prepared}
    mending = pages.mend(workshop, names or workshop.records.orders(), known)
    wanted = [one.order.id for one in prepared] if names else asked
    made = make_proofs_of(workshop, prepared, named=wanted, one_file=one_file, again=again)
    say_standing(workshop, known, [one.order for one in made])
    # What is pressed is not looked at by this command; `build` does.
    later = {name for name in mending.left if name not in known and name in workshop.shop.orders}
    done = {one.order for one in made}
    rest = {name: facts for name, facts in changed.items() if name not in done}
    return made, [*pages.mended(workshop, mending, later), *_to_be_named(workshop, rest)]
