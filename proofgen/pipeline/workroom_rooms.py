"""What the maker's page of an order tells: gathered from what `orders`, `check` and the workroom
know."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import cast

from proofgen import proof, reports
from proofgen.errors import ProofgenError, SignoffError
from proofgen.model import Finding, OrderFindings
from proofgen.model.documents import StandingEntry
from proofgen.pipeline.orders import standing
from proofgen.pipeline.preflight import is_closed, prepare
from proofgen.pipeline.workroom_pictures import pictures_of
from proofgen.reports import Group, Room, RoomLink
from proofgen.say import quoted_whole
from proofgen.signoff import RULES, EventKind, State, When
from proofgen.workshop import Workshop

_LETTERS = {  # by their kind, the part of the file's name after the order's
    "": "The letter with the proof",
    "photo": "The letter that asks for a better photo",
    "ready": "The letter that says it can be collected",
    "reminder": "A reminder",
    "receipt": "The receipt for the answer",
}
_REMARK = "order/remark"
_PRESS = (  # by a part of the file's name
    ("-ticket.", "The ticket"),
    ("-packing.", "Packing slip, care card, name tags"),
    ("-contact.", "Every piece small, with its number"),
    ("-sheets-", "Press sheets"),
    ("-again-", "Papers of spoiled pieces, once more"),
    ("-picture-", "A mirrored picture"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """Names of the files of the workroom that are about an order, by the folder they lie in."""

    pages: Sequence[str]
    letters: Sequence[str]
    press: Sequence[str]


def room_of(workshop: Workshop, name: str, beside: Beside) -> Room:
    """All that an order's page tells. Errors: MachineError of the one writer, for its pictures."""
    order, prepared, faults = workshop.shop.orders.get(name), None, []
    try:
        if order and not is_closed(workshop, name):
            try:
                prepared = prepare(workshop, order)
            except SignoffError:
                raise
            except ProofgenError as error:
                workshop.trouble.append(error)
                faults.append(error.sentence())
        row = standing(workshop, name, prepared)
        pictures = pictures_of(workshop, name, prepared, beside.pages)
    except SignoffError as error:
        row, pictures = _damaged(name), []
        faults.append(error.sentence())
    findings, advice = _told_above(prepared.findings if prepared else [], row["words"])
    found = OrderFindings(order=name, edition=0, findings=findings)
    tally, worst = reports.tally_of(found)
    return {
        "standing": row,
        "group": _group(row),
        "lines": _lines(workshop, name),
        "faults": faults,
        "advice": advice,
        "findings": reports.findings_shown(name, found.findings),
        "tally": tally,
        "worst": worst,
        "pictures": pictures,
        "links": _links(workshop, name, row, beside),
    }


def _told_above(
    findings: Sequence[Finding], words: Sequence[str]
) -> tuple[list[Finding], dict[str, str]]:
    """The findings without those that say again what stands above as the customer's words, and
    what these advise, by the words."""
    left, advice = list[Finding](), dict[str, str]()
    for one in findings:
        said = [text for text in words if one.check == _REMARK and quoted_whole(text) in one.says]
        if said:
            advice[said[0]] = one.cure
        else:
            left.append(one)
    return left, advice


def _damaged(name: str) -> StandingEntry:
    """The row of an order whose records cannot be read."""
    return cast(
        StandingEntry,
        {
            **dict.fromkeys(("customer", "fingerprint", "link", "unmarked"), ""),
            **dict.fromkeys(("due", "days_left", "waits_since", "forget_since"), None),
            **dict.fromkeys(("words", "asked", "earlier", "why", "told", "since"), ()),
            "order": name,
            "state": "damaged",
            "edition": 0,
            "waits_for": "",
            "next": "See what is damaged: proofgen records verify",
        },
    )


def _group(row: StandingEntry) -> Group:
    """Who is to move."""
    rules = RULES[State(row["state"])] if row["state"] in list(State) else None
    if rules is None:
        return "you"
    if rules.waits:
        return "customers"
    if rules.press is When.UNASKED:
        return "press"
    if EventKind.HANDED_OVER in rules.notes:
        return "pressed"
    return "done" if rules.closed else "you"


def _lines(workshop: Workshop, name: str) -> list[str]:
    """What is made: '2 × Harbour photo on a wrap of linen, white cloth'."""
    order, shop = workshop.shop.orders.get(name), workshop.shop
    said = []
    for line in order.lines if order else ():
        design, blank = shop.designs.get(line.design), shop.blanks.get(line.blank)
        title, on = design.title if design else line.design, blank.name if blank else line.blank
        said.append(f"{line.quantity} × {title} on {on}, {line.cloth} cloth")
    return said


def _links(workshop: Workshop, name: str, row: StandingEntry, beside: Beside) -> list[RoomLink]:
    """The order's files that are there, as its page leads to them."""
    links: list[RoomLink] = []
    token = workshop.records.token(name) if row["link"] else None
    if token and (workshop.site / "p" / token / proof.PAGE).is_file():
        home = f"../../site/p/{token}"
        links.append({"says": "What the customer sees", "href": f"{home}/{proof.PAGE}"})
        papers = [file for file in workshop.records.shown(name) if file.endswith(".pdf")]
        links += [
            {"says": "The proof on paper", "href": f"{home}/{file}"}
            for file in papers
            if (workshop.site / "p" / token / file).is_file()
        ]
    for file in beside.letters:
        kind, _, ending = file.removeprefix(name).lstrip(".").rpartition(".")
        says = _LETTERS.get(kind.split("-")[0])
        if says and ending in ("eml", "txt"):
            form = "as a mail to open and send" if ending == "eml" else "as text"
            links.append({"says": f"{says}, {form}", "href": f"../letters/{file}"})
        elif ending == "html":
            links.append({"says": "The proof as one file", "href": f"../letters/{file}"})
    for part, says in _PRESS:
        own = [file for file in beside.press if part in file.removeprefix(name)]
        links += [{"says": f"{says}: {file}", "href": f"../press/{file}"} for file in own]
    return links
