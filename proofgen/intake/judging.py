"""A wish held against the shop's own files: what of it can be an order, and what is missing."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal, InvalidOperation

from proofgen import shop as shop_room
from proofgen.intake.asked import Asked, TurnedAway
from proofgen.model import Blank, Customer, Design, Rights, Shop
from proofgen.say import did_you_mean, is_seen, joined, quoted
from proofgen.say.tongue import Tongue, languages
from proofgen.shop import LineDraft
from proofgen.shop.parsers import parse_date
from proofgen.shop.yaml_text import as_yaml
from proofgen.signoff.order_slip import MOST_PIECES, MOST_ROWS

NAMELESS = "(name not told)"  # stands for a customer until somebody knows
PHOTO_FILE = "photos/FILE"  # of a photo that came, in lines that a person fills in
_DESIGNS = 8  # whose places are shown
_FARTHEST = timedelta(days=3 * 366)  # a wish day beyond is a slip of the hand
_ASK = "ask the customer which one is meant"


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """What of a wish can be an order: `missing` is what nobody said, `told` what the maker should
    know, `changed` that the price is another by now. Without `line` too little was said; then
    `remarks` is what was, as lines of order.yaml to be filled in."""

    customer: Customer
    design: Design | None
    line: LineDraft | None
    due: date | None
    rights: Rights
    missing: tuple[str, ...]
    told: tuple[str, ...]
    changed: bool = False
    remarks: tuple[str, ...] = ()


def judge(asked: Asked, shop: Shop, today: date) -> Judged:
    """Errors: TurnedAway, in one sentence, for what no page of this shop would put together."""
    _refuse_hidden(asked)
    _refuse_formulas(asked)
    design = _design(asked, shop)
    blank = _blank(asked, design, shop)
    cloth = _cloth(asked, blank)
    many = _many(asked)
    _refuse_strange_slots(asked, design)
    told: list[str] = []
    changed = _price_told(asked, design, many, shop, told)
    missing = [
        f"words for “{design.label(slot)}”"
        for slot in design.slots("words")
        if not asked.words.get(slot, "").strip() and slot not in asked.lists
    ]
    return Judged(
        customer=customer_of(asked, missing),
        design=design,
        line=LineDraft(
            design=design.id,
            blank=blank.id,
            cloth=cloth,
            quantity=many,
            words={slot: text for slot, text in asked.words.items() if text.strip()},
            listed=asked.lists,
        ),
        due=_due(asked, today, told),
        rights=Rights(print=asked.may_print or None, show=asked.may_show or None),
        missing=tuple(missing),
        told=tuple(told),
        changed=changed,
    )


def judge_part(asked: Asked, shop: Shop, today: date) -> Judged:
    """The same of a mail that does not say all that a line needs. Errors: TurnedAway."""
    _refuse_hidden(asked)
    design = shop.designs.get(asked.design)
    blank = shop.blanks.get(asked.blank)
    told: list[str] = []
    missing = [
        what
        for what, said in (
            ("which design", design),
            ("which piece", blank),
            ("which cloth", asked.cloth),
            ("how many", asked.many),
        )
        if not said
    ]
    return Judged(
        customer=customer_of(asked, missing),
        design=design,
        line=None,
        due=_due(asked, today, told),
        rights=Rights(),
        missing=tuple(missing),
        told=tuple(told),
        remarks=_to_fill_in(asked, design, blank, shop),
    )


def _to_fill_in(
    asked: Asked, design: Design | None, blank: Blank | None, shop: Shop
) -> tuple[str, ...]:
    """A line of an order with what is known in it, and what there is to choose from."""
    offered = [name for name in design.offered if name in shop.blanks] if design else []
    shades = [*blank.cloth.colours] if blank else []
    few = [design] if design else [*shop.designs.values()][:_DESIGNS]
    return (
        "What is ordered is not known yet; asked.txt has what was written. Once it is, take away",
        "the # of these lines and fill in what is empty:",
        "lines:",
        f"  - design: {asked.design if design else _one_of([*shop.designs])}",
        f"    blank: {asked.blank if blank else _one_of(offered)}",
        f"    cloth: {asked.cloth or _one_of(shades)}",
        f"    quantity: {asked.many or ''}",
        *([] if len(few) < 2 else ["    # of these keep the lines of the design that is meant:"]),
        *(
            f"    {line}{'' if design else f' # of {one.id}'}"
            for one in few
            for line in _places(one, asked)
        ),
        *([] if asked.due else ["due:  # the day it is to be ready, such as 2026-12-20"]),
    )


def _places(design: Design, asked: Asked) -> Iterator[str]:
    """A design's places for photos and words, as an order fills them."""
    photos, slots = design.slots("photo"), design.slots("words")
    if photos:
        files = (f"{as_yaml(slot)}: {{file: {PHOTO_FILE}}}" for slot in photos)
        yield f"photos: {{{', '.join(files)}}}"
    if slots:
        texts = (f"{as_yaml(slot)}: {as_yaml(asked.words.get(slot, ''))}" for slot in slots)
        yield f"words: {{{', '.join(texts)}}}"


def _one_of(names: Sequence[str]) -> str:
    return f" # one of: {joined(names[:20], 'or')}" if names else ""


def customer_of(asked: Asked, missing: list[str]) -> Customer:
    """Who it is for, as far as it was said; what was not is added to `missing`."""
    name, mail = asked.name.strip(), ""
    if not name or not is_seen(name):
        name = ""
        missing.append("the customer’s name")
    try:
        mail = shop_room.parse_mail(asked.mail)
    except ValueError:
        missing.append("the customer’s mail address")
    language = asked.language if asked.language in languages() else ""
    return Customer(name=name or mail or NAMELESS, email=mail, language=language)


def _refuse_hidden(asked: Asked) -> None:
    """Words with letters that nobody can type: they steer terminals and files."""
    texts = [asked.name, asked.mail, *asked.words.values()]
    texts += [text for one in asked.lists.values() for text in one]
    for text in texts:
        strange = next((c for c in text if unicodedata.category(c) == "Cc" and c != "\n"), "")
        if strange:
            raise TurnedAway(
                f"{quoted(text)} holds a control character, which nobody types",
                "ask the customer to write it again",
            )


def _refuse_formulas(asked: Asked) -> None:
    """A list is a table that the maker may open in a spreadsheet (OWASP, CSV Injection). A sign
    before a bare word or number, as “+1”, does nothing there."""
    for text in (text for one in asked.lists.values() for text in one):
        plain = unicodedata.normalize("NFKC", text).lstrip()
        if plain.startswith(("=", "@")) or (
            plain.startswith(("+", "-")) and set(plain) & set("(|!")
        ):
            raise TurnedAway(
                f"{quoted(text)} in the list reads as a formula, and a spreadsheet would run it",
                "ask the customer what is meant, then type the order: proofgen order",
            )


def _design(asked: Asked, shop: Shop) -> Design:
    if asked.design not in shop.designs:
        raise TurnedAway(
            f"this shop has no design {quoted(asked.design)}",
            did_you_mean(asked.design, shop.designs) or _ASK,
        )
    return shop.designs[asked.design]


def _blank(asked: Asked, design: Design, shop: Shop) -> Blank:
    offered = [name for name in design.offered if name in shop.blanks]
    if asked.blank not in offered:
        raise TurnedAway(
            f"{design.id} is not offered on {quoted(asked.blank)}",
            f"ask the customer which piece is meant: {joined(offered)}",
        )
    return shop.blanks[asked.blank]


def _cloth(asked: Asked, blank: Blank) -> str:
    if asked.cloth not in blank.cloth.colours:
        raise TurnedAway(
            f"{blank.id} has no cloth {quoted(asked.cloth)}",
            f"ask the customer which one is meant: {joined([*blank.cloth.colours])}",
        )
    return asked.cloth


def _many(asked: Asked) -> int:
    many = asked.many or 0
    if many > MOST_PIECES:
        raise TurnedAway(f"{many} pieces are asked for, {MOST_PIECES} are the most", _ASK)
    for texts in asked.lists.values():
        if len(texts) > MOST_ROWS:
            raise TurnedAway(
                f"the slip holds a list of {len(texts)} names, {MOST_ROWS} are the most",
                "ask for the list as a file",
            )
        if len(texts) != many:
            raise TurnedAway(f"the slip asks for {many} pieces and lists {len(texts)} names", _ASK)
    return many


def _refuse_strange_slots(asked: Asked, design: Design) -> None:
    words, photos = design.slots("words"), design.slots("photo")
    for given, known in (
        (asked.words, words), (asked.lists, words), (asked.tried, photos),
    ):  # fmt: skip
        for slot in given:
            if slot not in known:
                raise TurnedAway(f"{design.id} has no place {quoted(slot)}", _ASK)
    if twice := [slot for slot in asked.words if slot in asked.lists]:
        raise TurnedAway(f"the slip says {quoted(twice[0])} in two ways", _ASK)


def _price_told(asked: Asked, design: Design, many: int, shop: Shop, told: list[str]) -> bool:
    """Whether the page showed the customer another price than today's; it is told."""
    today, currency = design.price(asked.blank, many), shop.settings.currency
    if today is None:
        least = min(start for start, _ in design.offered[asked.blank])
        told.append(f"{design.id} is sold on {asked.blank} from {least} pieces on, not {many}")
        return True
    if not asked.price:
        return False
    try:
        shown = Decimal(asked.price)
        same = shown == today and asked.currency in ("", currency)
    except InvalidOperation:
        same = False
    if same:
        return False
    tongue = Tongue()
    told.append(
        f"the slip names {quoted(f'{asked.price} {asked.currency}'.strip(), 40)} each, today’s "
        f"price is {tongue.money(today, currency)}: tell the customer before the proof does"
    )
    return True


def _due(asked: Asked, today: date, told: list[str]) -> date | None:
    if not asked.due.strip():
        return None
    try:
        day = parse_date(asked.due.strip())
    except ValueError:
        told.append(f"the wish day {quoted(asked.due, 40)} is no day that can be read")
        return None
    if day < today or day > today + _FARTHEST:
        told.append(f"the wish day {day.isoformat()} is not one that can be kept")
        return None
    return day
