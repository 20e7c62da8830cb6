"""The form of a design's page that puts an order slip together: what its script is given."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal, InvalidOperation
from typing import Literal, TypedDict

from proofgen.model import Blank, Design
from proofgen.model.blank_names import called_in, cloths_in
from proofgen.render import Theme
from proofgen.say.tongue import Tongue, languages, names_of, to_say
from proofgen.signoff.order_slip import MOST_NOTE, MOST_PIECES, MOST_ROWS, MOST_TEXT, OrderPayload

ORDER_STYLES = ("composed", "order-slip")
ORDER_SCRIPTS = (
    "sha256", "coded", "sending", "growing", "remembering", "lettering", "order-slip"
)  # fmt: skip

SUBJECT = to_say("Order: {design}")  # of slips and mails alike

# The words of the slip that is sent, their places filled by the script.
_SLIP: Mapping[str, str] = {
    "title": SUBJECT,
    "greeting": to_say("Hello, I would like to order:"),
    "line": to_say("{many} × {blank}, {cloth}"),
    "slot": to_say("{label}: “{text}”"),
    "list": to_say("{label}, one on each piece ({n}):"),
    "photo": to_say("Photo to attach to this mail: {name}"),
    "coarse": to_say("The page says that it has too few pixels for this piece."),
    "photo_apart": to_say("Photo: I attach it or send it apart."),
    "price": to_say("Price that the page showed: {one} each, {sum} together"),
    "due": to_say("Wanted by: {day}"),
    "print": to_say("You may use these pictures: I made them, or whoever did agrees."),
    "show": to_say("You may show this work to others."),
    "note": to_say("Remark: {note}"),
    "name": to_say("Name: {name}"),
    "mail": to_say("Mail: {mail}"),
    "language": to_say("Please write to me in: {language}"),
    "leave": to_say(
        "The letters below are your order again, for our program. Please let them stay."
    ),
    "keep": to_say("For our program, please let it stay:"),
    "paste": to_say("Please paste your order here, in place of this line."),
}
# What pages said that somebody may still have open, or kept.
_BEFORE = (
    to_say("Please send the lines below just as they are."),
    to_say("(packed in the lines of letters below)"),
)
_ANYBODYS: tuple[Literal["name", "mail", "note"], ...] = ("name", "mail", "note")
_LEAVES: tuple[Literal["print", "show"], ...] = ("print", "show")
_PHOTO_BEFORE = to_say("Photo: {name}, as it was tried on the page")


def slip_told(slip: OrderPayload, design: Design, blank: Blank, tongue: Tongue) -> str:
    """The readable part of a slip as the page's script writes it in a language, so that what a
    person wrote beside it can be told from it. Errors: none; what cannot be said is left out."""
    cloths = zip(blank.cloth.colours, cloths_in(blank, tongue), strict=True)
    cloth = next((called for name, (called, _) in cloths if name == slip["cloth"]), slip["cloth"])
    said: list[tuple[str, dict[str, object]]] = [
        ("title", {"design": design.title}),
        ("line", {"many": slip["many"], "blank": called_in(blank, tongue), "cloth": cloth}),
    ]
    for slot, text in slip.get("words", {}).items():
        said.append(("slot", {"label": _capital(design.label(slot)), "text": text}))
    for slot, texts in slip.get("lists", {}).items():
        said.append(("list", {"label": _capital(design.label(slot)), "n": len(texts)}))
    said += [("photo", {"name": one["name"]}) for one in slip.get("photos", {}).values()]
    said.append(("coarse" if slip.get("photos") else "photo_apart", {}))
    try:
        one, currency = Decimal(slip.get("price", "")), slip.get("currency", "")
        sums = [tongue.money(price, currency) for price in (one, one * slip["many"])]
        said.append(("price", {"one": sums[0], "sum": sums[1]}))
    except (InvalidOperation, ValueError):
        pass
    said += [("due", {"day": day}) for day in _days_told(slip.get("due", ""), tongue)[:1]]
    said += [(key, {key: slip[key]}) for key in _ANYBODYS if slip.get(key)]
    if slip.get("language") in languages():
        said.append(("language", {"language": _capital(names_of(slip["language"])[1])}))
    said += [(key, {}) for key in ("greeting", "leave")]
    said += [(key, {}) for key in _LEAVES if slip.get(key)]
    rows = [tongue(_SLIP[key], **places) for key, places in said]
    return "\n".join([*rows, *(text for texts in slip.get("lists", {}).values() for text in texts)])


def slip_told_else(slip: OrderPayload, tongue: Tongue) -> str:
    """What a page may have written beside that: in a mail with little room, or in pages of before.
    Apart from it, since of a text that came back most lines are there."""
    rows = [tongue(_PHOTO_BEFORE, name=it["name"]) for it in slip.get("photos", {}).values()]
    rows += [tongue(_SLIP["due"], day=day) for day in _days_told(slip.get("due", ""), tongue)[1:]]
    rows += [tongue.message(_SLIP[key]) for key in ("photo_apart", "coarse", "keep", "paste")]
    return "\n".join([*rows, *map(tongue.message, _BEFORE)])


def _days_told(due: str, tongue: Tongue) -> list[str]:
    """The day as the language writes it, and as pages of before had it; none without one."""
    try:
        return [tongue.day(date.fromisoformat(due)), due]
    except ValueError:
        return [due] if due else []


@dataclass(frozen=True, slots=True, kw_only=True)
class FormBlank:
    """A blank to choose: cloths are (id, name, '#rrggbb'), prices (from so many, price of one);
    `told` says of cloths what they make of the design, where that is much."""

    id: str
    name: str
    cloths: tuple[tuple[str, str, str], ...]
    prices: tuple[tuple[int, Decimal], ...]
    told: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class FormSlot:
    """A place of the design; `rows` is how many lines its words may want, `letters` what each font
    that they are set in has."""

    id: str
    label: str
    rows: int = 1
    letters: tuple[frozenset[int], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderForm:
    """What can be asked for of one design."""

    design: str
    title: str
    words: tuple[FormSlot, ...]
    photos: tuple[FormSlot, ...]
    blanks: tuple[FormBlank, ...]


@dataclass(frozen=True, slots=True)
class Suiting:
    """What can be told of a choice: by blank and cloth what becomes of the design, by slot the
    letters of each font."""

    cloths: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    letters: Mapping[str, tuple[frozenset[int], ...]] = field(default_factory=dict)


def order_form(
    design: Design,
    blanks: Mapping[str, Blank],
    tongue: Tongue,
    suiting: Suiting = Suiting(),
) -> OrderForm:
    """The form of a design on those of the shop's blanks that it is offered on."""
    return OrderForm(
        design=design.id,
        title=design.title,
        words=tuple(
            FormSlot(
                id=slot,
                label=_capital(design.label(slot)),
                rows=1 + design.sample_words.get(slot, "").count("\n"),
                letters=suiting.letters.get(slot, ()),
            )
            for slot in design.slots("words")
        ),
        photos=tuple(
            FormSlot(id=slot, label=_capital(design.label(slot))) for slot in design.slots("photo")
        ),
        blanks=tuple(
            FormBlank(
                id=blank.id,
                name=called_in(blank, tongue),
                cloths=tuple(
                    (name, called, shade)
                    for name, (called, shade) in zip(
                        blank.cloth.colours, cloths_in(blank, tongue), strict=True
                    )
                ),
                prices=tuple(sorted(design.offered[blank.id])),
                told=suiting.cloths.get(blank.id, {}),
            )
            for blank in (blanks[name] for name in design.offered if name in blanks)
        ),
    )


def _capital(label: str) -> str:
    return label[:1].upper() + label[1:]


def form_facts(
    form: OrderForm, contact: str, days: int, tongue: Tongue, currency: str
) -> dict[str, object]:
    """What the script must know; prices as decimal text, `days` what the shop usually needs."""
    return {
        "design": form.design,
        "title": form.title,
        "mail": contact if "@" in contact else "",
        "days": days,
        "language": tongue.language,
        "currency": currency,
        "money": tongue.money_form(currency),
        "dates": tongue.day_form(),
        "words": [slot.id for slot in form.words],
        "photos": [slot.id for slot in form.photos],
        "labels": {slot.id: slot.label for slot in (*form.words, *form.photos)},
        "letters": _letters(form),
        "blanks": [
            {
                "id": blank.id,
                "name": blank.name,
                "cloths": blank.cloths,
                "told": dict(blank.told),
                "prices": [[many, str(price)] for many, price in blank.prices],
            }
            for blank in form.blanks
        ],
        "most": {"pieces": MOST_PIECES, "rows": MOST_ROWS, "text": MOST_TEXT, "note": MOST_NOTE},
        "slip": {name: tongue.message(said) for name, said in _SLIP.items()},
    }


def _letters(form: OrderForm) -> dict[str, object]:
    """Of each slot the numbers of its fonts, and of each font its letters as `lettering.js` reads
    them: a font has hundreds, in some dozen runs."""
    fonts = list(dict.fromkeys(letters for slot in form.words for letters in slot.letters))
    return {
        "slots": {slot.id: [fonts.index(one) for one in slot.letters] for slot in form.words},
        "fonts": [_runs(letters) for letters in fonts],
    }


def _runs(letters: frozenset[int]) -> str:
    runs, last = list[str](), 0
    for letter in sorted(letters):
        if runs and letter == last + 1:
            gap, _, more = runs[-1].partition("-")
            runs[-1] = f"{gap}-{int(more or 0) + 1}"
        else:
            runs.append(str(letter - last))
        last = letter
    return " ".join(runs)


class FormParts(TypedDict):
    """What a design's page is given for its form, which may have none."""

    form: OrderForm | None
    facts: dict[str, object]
    form_languages: list[tuple[str, str]]


def order_parts(form: OrderForm | None, contact: str, days: int, theme: Theme) -> FormParts:
    """For a page in the theme's language and currency."""
    if form is None:
        return {"form": None, "facts": {}, "form_languages": []}
    facts = form_facts(form, contact, days, theme.tongue, theme.currency)
    return {"form": form, "facts": facts, "form_languages": form_languages()}


def form_languages() -> list[tuple[str, str]]:
    """The languages that a customer may choose, each by its code and its own name."""
    return [(code, _capital(names_of(code)[1])) for code in languages()]
