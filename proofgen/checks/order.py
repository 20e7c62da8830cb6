"""Checks of the order: has it all that its design asks, can it be made in time, is it the right
photo."""

from __future__ import annotations

from datetime import date, timedelta
from unicodedata import category

from proofgen.checks.frame import Remarks, check, note, skipped, stop, warn
from proofgen.checks.phrases import day
from proofgen.checks.places import photo_where
from proofgen.checks.prices import no_design
from proofgen.checks.subjects import (
    LaidVariant,
    OrderedLine,
    WholeOrder,
    lines,
    variants,
    whole_order,
)
from proofgen.errors import Place
from proofgen.model import Limits, Settings, about_of, blanks_needed
from proofgen.say import count, joined, plural, quoted, visible
from proofgen.say.parts import ON_FACES
from proofgen.say.shell import for_shell
from proofgen.say.tongue import Tongue, languages, names_of


@check(
    "order/limits-read",
    whole_order,
    why="With a slip in a limit the usual value would stand in for it, and something would be "
    "pressed that the shop meant to be stopped.",
    source="shop.yaml",
    codes={"not-read": "a limit of shop.yaml is not what it should be"},
)
def limits_read(whole: WholeOrder, _: Limits) -> Remarks:
    """The shop’s own limits are known."""
    if not whole.shop.settings.limits_sound:
        yield stop(
            "not-read",
            "There is a slip in the limits of shop.yaml, so the usual ones were asked here.",
            "Mend shop.yaml; its line is told with every command.",
            where="shop.yaml",
        )


@check(
    "order/ordered",
    whole_order,
    why="An order that came by mail may not say yet what is wanted; nothing can be shown of it.",
    source="order.yaml",
    codes={"none": "nothing is ordered yet"},
)
def ordered(whole: WholeOrder, _: Limits) -> Remarks:
    """The order says what is ordered."""
    if not whole.order.lines:
        yield stop(
            "none",
            "This order does not say yet what is ordered.",
            "Write it under lines: in order.yaml; what the customer wrote stands in asked.txt.",
        )


@check(
    "order/due",
    whole_order,
    why="A proof takes days to be answered and pieces take days to be made; a date that is too "
    "near should be talked about now.",
    source="days in shop.yaml, counted by the calendar",
    codes={
        "past": "the day is over",
        "tight": "less time than answering and making take",
        "no-date": "the order names no day",
    },
)
def due(whole: WholeOrder, _: Limits) -> Remarks:
    """There is time to answer and to make the pieces."""
    order, settings = whole.order, whole.shop.settings
    where = str(Place(order.place.file, order.keys.get("due", order.place.line)))
    need = settings.answer_days + settings.lead_days
    earliest = whole.today + timedelta(days=need)
    if order.due is None:
        yield skipped(
            "no-date",
            "This order does not say when it is due.",
            "If there is a day, write it into order.yaml, as due: "
            f"{earliest.isoformat()} or later.",
            where=where,
        )
        return
    left = (order.due - whole.today).days
    if left < 0:
        yield stop(
            "past",
            f"This order was due on {day(order.due)}, {plural(-left, 'day')} ago.",
            "Agree on a later day with the customer, and write it into order.yaml, as due: "
            f"{earliest.isoformat()}",
            measure=left,
            limit=0,
            where=where,
        )
    elif left < need:
        yield warn(
            "tight",
            f"This order is due on {day(order.due)}, in {plural(left, 'day')}; answering the proof "
            f"({settings.answer_days}) and making ({settings.lead_days}) take {need}.",
            f"{_hurry(settings, whole.today, order.due)}, or agree on {day(earliest)} or later.",
            measure=left,
            limit=need,
            where=where,
        )


def _hurry(settings: Settings, today: date, due: date) -> str:
    """What is left to do for a day that is near."""
    by = settings.answer_by(today, due)
    if by + timedelta(days=settings.lead_days) <= due:
        return f"A proof made today asks for its answer by {day(by)}; have it by then"
    return "Even an answer of today leaves too few days for making; make it in fewer"


@check(
    "order/stock",
    whole_order,
    why="Blanks that are not there have to be ordered before the day is promised.",
    source="stock of the blank's file, less what the records hold as used; start "
    "quantity Q / (1 - q): Groover, Fundamentals of Modern "
    "Manufacturing, from memory",
    codes={
        "short": "fewer blanks in stock than this and the other open orders need, spares counted",
        "not-told": "the blank's file has no figure for this cloth",
    },
)
def stock(whole: WholeOrder, _: Limits) -> Remarks:
    """There are blanks enough in stock, for the other open orders, too."""
    needed = blanks_needed(whole.order.lines, whole.shop.settings.spares)
    for (name, cloth), (_good, need) in needed.items():
        blank = whole.shop.blanks.get(name)
        if blank is None or not blank.stock.pieces:
            continue  # this shop does not count these blanks
        there = whole.in_stock.get((name, cloth))
        have = there.left if there else None
        label = f"{visible(blank.name)}, {visible(cloth)}"
        if there is None or have is None:
            yield skipped(
                "not-told",
                f"The stock of {label} is not told.",
                about=f"{name}-{cloth}",
            )
            continue
        need = there.needs.get(whole.order.id, need)
        others = sum(n for order, n in there.needs.items() if order != whole.order.id)
        if have < need + others:
            too = f", the other open orders {count(others)}" if others else ""
            used = f", with {count(there.used)} used since they were counted" if there.used else ""
            yield warn(
                "short",
                f"This order needs {count(need)} of {label} (spares counted){too}; {count(have)} "
                f"{'is' if have == 1 else 'are'} in stock{used}.",
                f"Order {count(need + others - have)} more blanks; or count those that are there, "
                f"then: proofgen blanks {name} --count " + for_shell(f"{cloth}=NUMBER"),
                measure=have,
                limit=need + others,
                about=f"{name}-{cloth}",
            )


_MOST = 2000  # photos of other customers that are looked at: a stat each, bytes if sizes agree


@check(
    "order/same-photo",
    whole_order,
    why="The same photo for two customers is mostly a file saved into the wrong folder; one of "
    "them would get the other's picture.",
    source="the bytes of the photos of all orders",
    codes={
        "two-customers": "another customer's order uses the same photo",
        "too-many": "there are too many other photos to compare with",
    },
)
def same_photo(whole: WholeOrder, _: Limits) -> Remarks:
    """No photo is used for another customer too."""
    if whole.twins.photos_of_others(whole.order) > _MOST:
        yield skipped(
            "too-many", "There are too many photos of other customers to compare these with."
        )
        return
    for line in whole.order.lines:
        for slot, use in line.photos.items():
            facts = whole.photos.get(str(use.file))
            if facts is None or not facts.sha256:
                continue
            orders = whole.twins.orders_of_others(facts.sha256, whole.order)
            if orders:
                yield warn(
                    "two-customers",
                    "This very photo is used for another customer too: order "
                    f"{joined(visible(name) for name in orders)}.",
                    "Please check that each order has its own photo.",
                    where=photo_where(line, slot),
                    about=about_of(slot, facts.sha256),
                )


@check(
    "order/language",
    whole_order,
    why="A customer who does not read the language of a proof signs what they cannot check.",
    source="the catalogues of sentences that this proofgen carries",
    codes={"no-sentences": "there are no sentences in the customer’s language yet"},
)
def language(whole: WholeOrder, _: Limits) -> Remarks:
    """The customer is spoken to in their language."""
    order = whole.order
    wished = order.customer.language or whole.shop.settings.language
    spoken = Tongue.of(wished, whole.shop.settings.language)
    if spoken.language != Tongue(wished).language:
        known = joined(sorted(f"{names_of(code)[0]} ({code})" for code in languages()), "or")
        yield note(
            "no-sentences",
            f"There are no sentences in {names_of(wished)[0]} yet; this customer’s pages are in "
            f"{names_of(spoken.tag)[0]}.",
            f"If they read another one better, write it as customer’s language: {known}.",
            where=str(Place(order.place.file, order.keys.get("customer", order.place.line))),
        )


@check(
    "order/rights",
    whole_order,
    why="A photo belongs to who took it; printed without leave, it is the shop that copied it.",
    source="rights of the order’s file, and what the customer answered",
    codes={
        "not-said": "nobody said whether the customer’s pictures may be printed",
        "refused": "the customer does not allow it",
    },
)
def rights(whole: WholeOrder, _: Limits) -> Remarks:
    """The customer’s pictures may be printed."""
    order = whole.order
    if order.is_own or not order.has_photos:
        return
    where = str(Place(order.place.file, order.keys.get("rights", order.place.line)))
    if whole.rights.print is None:
        yield warn(
            "not-said",
            "Nobody has said yet that this customer’s pictures may be printed.",
            "The proof asks for it; if you know, write rights: {print: yes} into order.yaml.",
            where=where,
        )
    elif not whole.rights.print:
        yield stop(
            "refused",
            "This customer does not allow these pictures to be printed.",
            "Ask for pictures that may be; or mend rights in order.yaml and ask once more.",
            where=where,
        )


@check(
    "order/list-length",
    lines,
    why="A list that is one name short leaves somebody without a gift, or a blank without a name.",
    source="the order's own quantity and list",
    codes={"differs": "the list has more or fewer rows than pieces are ordered"},
)
def list_length(ordered: OrderedLine, _: Limits) -> Remarks:
    """Every list has as many names as pieces are ordered."""
    line = ordered.line
    rows = len(line.pieces)
    if line.list_file is not None and rows != line.quantity:
        yield stop(
            "differs",
            f"The list has {plural(rows, 'name')}, but {plural(line.quantity, 'piece')} "
            f"{'is' if line.quantity == 1 else 'are'} ordered.",
            f"Complete the list, or write quantity: {rows} into order.yaml.",
            measure=rows,
            limit=line.quantity,
            where=str(line.place_of("quantity", "list")),
        )


@check(
    "layout/face-there",
    lines,
    why="What a design draws on a face the blank does not have would silently not be pressed.",
    source="the design's faces against the blank's own",
    codes={"lacking": "the design draws on a face this blank does not have"},
)
def face_there(ordered: OrderedLine, _: Limits) -> Remarks:
    """The blank has every face the design draws on."""
    design, blank = ordered.design, ordered.blank
    if design is None or blank is None:
        return
    have = list(blank.plan().canvases)
    for face in design.faces:
        if face in have:
            continue
        at = design.lines.get(f"faces.{face}") or design.lines.get("faces") or design.place.line
        yield stop(
            "lacking",
            f"The design {quoted(design.title)} draws on {ON_FACES[face]}; "
            f"{blank.name} has only {joined(ON_FACES[name] for name in have)}.",
            "Choose another blank, or give the design a face this one has.",
            about=face,
            where=str(Place(design.place.file, at)),
        )


@check(
    "photo/present",
    lines,
    why="A place for a photo without one would be pressed bare.",
    source="the design's slots",
    codes={
        "no-photo": "the design has a place for a photo and the order has none for it",
        "no-design": "the shop has no such design",
    },
)
def present(ordered: OrderedLine, _: Limits) -> Remarks:
    """Every place for a photo has one."""
    if ordered.design is None:
        yield skipped("no-design", no_design(ordered))
        return
    for slot in ordered.design.slots("photo"):
        if slot not in ordered.line.photos:
            yield stop(
                "no-photo",
                f"This design has a place for a photo (“{slot}”) and none was sent yet.",
                "Please send the photo, or choose a design without one.",
                about=slot,
            )


@check(
    "words/empty",
    variants,
    why="A place for a name without one is pressed bare.",
    source="the design's slots",
    codes={
        "no-words": "the design has a place for words and the piece has none for it",
        "no-design": "the shop has no such design",
    },
)
def empty(laid: LaidVariant, _: Limits) -> Remarks:
    """Every place for words has some."""
    design = laid.line.design
    if design is None:
        yield skipped("no-design", no_design(laid.line))
        return
    for slot in design.slots("words"):
        if _says_nothing(laid.variant.words.get(slot, "")):
            yield stop(
                "no-words",
                f"This design has a place for words (“{slot}”), and nothing stands there.",
                "Please send the words, or choose a design without them.",
                about=slot,
            )


def _says_nothing(text: str) -> bool:
    """Whether a text holds only spaces and characters nobody sees."""
    return all(category(char)[0] in "ZC" for char in text)
