"""Letters to customers: composed here, kept in workroom/letters/, sent by the maker."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import timedelta
from decimal import Decimal
from pathlib import Path

from proofgen import store
from proofgen.errors import SignoffError
from proofgen.model import NOBODY, Order
from proofgen.pipeline.orders import earlier_in, facts_of, link_of
from proofgen.pipeline.preflight import Prepared, prepare, prepare_all
from proofgen.pipeline.rights import rights_of
from proofgen.proof.content import ProofContent
from proofgen.proof.correspondence import Asked, Post, proof_letter, reminder_letter
from proofgen.proof.mails import Attached, Letter, mail_file, plain_text
from proofgen.proof.receipts import AnswerKept, ready_letter, receipt
from proofgen.proof.terms import as_told
from proofgen.say import count
from proofgen.signoff import (
    Edition,
    EventKind,
    Outcome,
    When,
    canonical,
    read_facts,
    spoken_codes,
    stand,
)
from proofgen.signoff.outcome import Taken
from proofgen.workshop import Workshop

# What mail servers take as a rule, less what the coding of files adds (a third); common practice,
# no source.
MOST_ATTACHED = 15_000_000  # bytes
_NO_MAIL = "{order} has no mail address, so the mail names none."
_GOES_ALONG = (
    "shop.yaml names no site:, so the proof goes along as a file. The mail carries it; if you copy "
    "the text instead, attach {page}."
)
_EARLIER = "\f\n"  # between letters that others took the place of
# Facts are known as one line each, so that a choice that somebody writes is never taken for ours;
# labels, which end in no full stop, alone as well.
_FACT = re.compile(r"\n {4}(?=\S)")
_LABEL = re.compile(r"(?m)^(.*[^.\s])\n {4}(?=\S)")
_MARKED = re.compile(r"(?m)^(?:\d+\.|-) ")


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """A letter that lies in the workroom: its text, the mail, and what the maker should know."""

    text: str
    mail: Path
    says: tuple[str, ...] = ()


# -- the files -------------------------------------------------------------------------------


def _folder(workshop: Workshop) -> Path:
    return workshop.workroom / "letters"


def _path(workshop: Workshop, name: str, kind: str, ending: str) -> Path:
    """An order's name holds no dot, so no letter can be taken for another order's."""
    return _folder(workshop) / f"{name}{f'.{kind}' if kind else ''}.{ending}"


def page_path(workshop: Workshop, edition: Edition) -> Path:
    """Where the proof lies as one file."""
    return _folder(workshop) / f"{edition.order}-proof-{edition.number}.html"


def keep(workshop: Workshop, order: Order, letter: Letter, kind: str = "") -> Written:
    """Write a letter as text and as a mail. The text that stood there before is kept as well:
    its customer may quote it yet."""
    path, text = _path(workshop, order.id, kind, "txt"), plain_text(letter)
    before = path.read_text("utf-8") if path.is_file() else text
    if before != text:
        earlier = _path(workshop, order.id, "earlier", "txt")
        older = earlier.read_text("utf-8") + _EARLIER if earlier.is_file() else ""
        store.write(earlier, older + before)
    mail = _path(workshop, order.id, kind, "eml")
    store.write(mail, mail_file(letter, workshop.theme_for(order)))
    store.write(path, text)
    says = () if letter.to[1] else (_NO_MAIL.format(order=order.id),)
    return Written(text=text, mail=mail, says=says)


def all_of(workshop: Workshop, name: str) -> tuple[str, ...]:
    """Every letter that was written for an order, as plain text and as its page reads."""
    folder = _folder(workshop)
    paths = [_path(workshop, name, "", "txt"), *sorted(folder.glob(f"{name}.*.txt"))]
    whole = [path.read_text("utf-8") for path in paths if path.is_file()]
    letters = [text for one in whole for text in one.split(_EARLIER)]
    labels = "\n".join(label for text in letters for label in _LABEL.findall(text))
    letters = [*(_FACT.sub(" ", text) for text in letters), labels]
    return tuple(form for text in letters for form in (text, _MARKED.sub("", text)))


_AFTER_NAME = re.compile(r"\..+|-photo\.txt|-proof-\d+\.html")


def is_of(file: str, name: str) -> bool:
    """Whether a file of the letters' folder is about an order."""
    return file.startswith(name) and _AFTER_NAME.fullmatch(file, len(name)) is not None


# -- the proof -------------------------------------------------------------------------------


def post_of(workshop: Workshop, order: Order) -> Post:
    """Who writes to an order's customer, in their language."""
    sign = workshop.records.token(order.id) or ""
    tongue = workshop.theme_for(order).tongue
    recorded = stand(workshop.records, order.id)
    return Post(shop=workshop.shop, order=order, tongue=tongue, sign=sign, recorded=recorded)


def _asked(workshop: Workshop, edition: Edition) -> Asked:
    """The way to a proof: its address, else the file that lies beside the letters."""
    page, file = page_path(workshop, edition), None
    link = link_of(workshop, edition.order) if workshop.shop.settings.site else ""
    if not link and page.is_file() and not _is_too_large(page):
        file = Attached(name=page.name, content=page.read_bytes(), subtype="html")
    return Asked(
        edition=edition.number,
        answer_by=edition.answer_by,
        codes=spoken_codes(edition),
        link=link,
        file=file,
        earlier=tuple(earlier_in(workshop, read_facts(workshop.records, edition.order))),
    )


def keep_proof_letter(
    workshop: Workshop, post: Post, edition: Edition, content: ProofContent
) -> Written:
    """Write the letter of a proof. Where there is no site the page must lie there as one file."""
    letter = proof_letter(post, _asked(workshop, edition), content)
    return keep(workshop, post.order, letter)


def letter(workshop: Workshop, name: str, *, sent: bool) -> Written:
    """The letter that brings the customer to the proof; `sent` records that it went out.

    Errors: SignoffError where there is no proof to send, or no working way to it.
    """
    order = _written_to(workshop, name)
    facts = facts_of(workshop, name, _prepared(workshop, name))
    edition, path = workshop.records.latest(name), _path(workshop, name, "", "txt")
    if facts.rules.has_letter and edition and not path.is_file():
        raise SignoffError(
            f"the letter of proof {edition.number} of {name} is not in {_folder(workshop)}",
            f"write it anew: proofgen proof {name}",
        )
    if not facts.rules.has_letter or edition is None:
        raise SignoffError(
            f"no proof of {name} is to be sent: {facts.rules.stands}",
            f"proofgen proof {name}"
            if facts.rules.can_be_shown
            else f"`proofgen orders {name}` shows where it is",
        )
    trouble = _no_way(workshop, edition)
    if sent and trouble:
        raise trouble
    if sent:
        workshop.sound_records().mark(name, EventKind.SENT, workshop.now)
    says = [_NO_MAIL.format(order=name)] if not order.customer.email else []
    if trouble:
        says.append(trouble.sentence())
    elif not workshop.shop.settings.site:
        page = page_path(workshop, edition)
        says.append(_GOES_ALONG.format(page=page.relative_to(workshop.folder).as_posix()))
    mail = _path(workshop, name, "", "eml")
    return Written(text=path.read_text("utf-8"), mail=mail, says=tuple(says))


def is_stale(workshop: Workshop, edition: Edition) -> bool:
    """Whether the letter of a proof is missing, or leads to where the proof no longer is."""
    path, page = _path(workshop, edition.order, "", "txt"), page_path(workshop, edition)
    text = path.read_text("utf-8") if path.is_file() else ""
    if workshop.shop.settings.site:
        return link_of(workshop, edition.order) not in text.split()
    return not text or not page.is_file() or (page.name not in text and not _is_too_large(page))


def _is_too_large(page: Path) -> bool:
    return page.stat().st_size > MOST_ATTACHED


def _no_way(workshop: Workshop, edition: Edition) -> SignoffError | None:
    """Why a proof's letter leads nowhere; None where it leads to the proof."""
    name, page = edition.order, page_path(workshop, edition)
    if is_stale(workshop, edition):
        return SignoffError(
            f"the letter of {name} does not lead to its proof, because site: in shop.yaml changed "
            "since or a file is gone",
            f"write it anew: proofgen proof {name}",
        )
    if workshop.shop.settings.site or not _is_too_large(page):
        return None
    size = count(round(page.stat().st_size / 1_000_000))
    return SignoffError(
        f"shop.yaml names no site:, and as one file the proof of {name} has {size} MB, which is "
        "too much for a mail",
        f"upload site/, write site: into shop.yaml, then: proofgen proof {name}; or bring the "
        f"customer workroom/letters/{page.name} in another way",
    )


def _written_to(workshop: Workshop, name: str) -> Order:
    """An order that has a customer to write to. SignoffError for one of the shop's own."""
    order = workshop.order(name)
    if order.is_own:
        raise SignoffError(
            f"{name} is the shop’s own (customer: {NOBODY}): there is nobody to write to",
            facts_of(workshop, name, None).step,
        )
    return order


def _prepared(workshop: Workshop, name: str) -> Prepared:
    prepared = prepare_all(workshop, [name])
    if not prepared:
        raise workshop.trouble[-1]
    return prepared[0]


# -- reminders -------------------------------------------------------------------------------


def reminders(workshop: Workshop) -> Iterator[tuple[str, Written | None, str]]:
    """For each order its name, the reminder if it is due, and why or why not: a proof is reminded
    of when half the time from the letter to its last day has gone by."""
    for order in workshop.shop.orders.values():
        with workshop.each(f"looking at {order.id}"):
            yield order.id, *_reminder(workshop, order)


def _reminder(workshop: Workshop, order: Order) -> tuple[Written | None, str]:
    facts = facts_of(workshop, order.id, prepare(workshop, order))
    edition = workshop.records.latest(order.id)
    if not facts.rules.waits or edition is None:
        return None, f"none, {facts.rules.stands}"
    events = workshop.records.events(order.id, EventKind.SENT)
    sent = max(e.when for e in events if e.edition == edition.number)
    half = sent.date() + timedelta(days=(edition.answer_by - sent.date()).days / 2)
    if workshop.today < half:
        return None, f"none yet, half of its time is over on {half.isoformat()}"
    asked = _asked(workshop, edition)
    if not asked.link and not asked.file:
        return None, f"none, there is no way to its proof: proofgen letter {order.id} says why"
    written = keep(
        workshop,
        order,
        reminder_letter(post_of(workshop, order), asked),
        f"reminder-{edition.number}",
    )
    return written, f"to be answered until {edition.answer_by.isoformat()}"


# -- what comes after ------------------------------------------------------------------------


def ready_to_collect(workshop: Workshop, name: str) -> Written:
    """The letter that says an order can be fetched. SignoffError before it was pressed."""
    order = _written_to(workshop, name)
    facts = facts_of(workshop, name, _prepared(workshop, name))
    if EventKind.HANDED_OVER not in facts.rules.notes:
        raise SignoffError(
            f"{name} is not ready to collect: {facts.rules.stands}",
            facts.step,
        )
    post, total = _as_signed(workshop, order, workshop.records.latest(name))
    letter = ready_letter(post, total, workshop.shop.settings.keep_days)
    return keep(workshop, order, letter, "ready")


def _as_signed(
    workshop: Workshop, order: Order, edition: Edition | None
) -> tuple[Post, Decimal | None]:
    """A letter's frame in the words of what was told with an edition, and the price of it; of one
    older than terms, or without a price, None."""
    terms = edition.terms if edition else None
    if not terms:
        return post_of(workshop, order), None
    shop, then = as_told(workshop.shop, order, terms)
    total = Decimal(terms["total"]) if terms["total"] else None
    return replace(post_of(workshop, then), shop=shop), total


def answer_receipt(workshop: Workshop, outcome: Outcome) -> Written | None:
    """The letter that thanks for an answer which the records hold; None where there is none, or
    nobody to thank."""
    order = workshop.shop.orders.get(outcome.order)
    if outcome.status not in (Taken.RECORDED, Taken.TWO):
        return None
    given = [a for a in workshop.records.answers(outcome.order) if a.edition == outcome.edition]
    edition = workshop.records.latest(outcome.order)
    if (
        order is None
        or order.is_own
        or not given
        or edition is None
        or edition.number != outcome.edition
    ):
        return None
    facts, terms = read_facts(workshop.records, order.id, workshop.today), edition.terms
    post, total = _as_signed(workshop, order, edition)
    kept = AnswerKept(
        answer=given[-1],
        made=edition.made.date(),
        thanks=facts.rules.thanks,
        to_press=facts.rules.press is When.UNASKED,
        total=post.tongue.money(total, post.settings.currency) if total is not None else "",
        due=post.order.due,
        rights=rights_of(workshop, order),
        terms=store.digest(canonical(terms)) if terms else "",
    )
    letter = receipt(post, kept)
    return keep(workshop, order, letter, f"receipt-{edition.number}")
