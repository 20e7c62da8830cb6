"""What the maker changed since an edition was made and no pixel shows: its terms, and how it is
pressed. In the maker's English."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from datetime import date
from decimal import Decimal

from proofgen.model.terms_document import (
    AtThePress,
    BillLine,
    KeptRights,
    PressFacts,
    TermsDocument,
    ToldFinding,
)
from proofgen.say import heat, number, plural, quoted
from proofgen.say.tongue import Tongue

_ENGLISH = Tongue()
_MOST = 200  # letters of the maker's own words in one sentence


def _text(value: object) -> str:
    return quoted(str(value), _MOST) if value else "not told"


def _day(value: object) -> str:
    return _ENGLISH.date(date.fromisoformat(str(value)), False) if value else "none"


def _share(value: object) -> str:
    return " × ".join(f"{number(v * 100, 3)} %" for v in value) if isinstance(value, list) else "—"


def _seconds(value: object) -> str:
    return f"{number(value)} s" if isinstance(value, int | float) else "not told"


def _heat(value: object) -> str:
    return "{} ({})".format(*heat(value)) if isinstance(value, int | float) else "not told"


# What is compared as it stands, and how it is said.
_TERMS: Mapping[str, tuple[str, Callable[[object], str]]] = {
    "due": ("day", _day),
    "language": ("language", str),
    "shop": ("name of the shop", _text),
    "contact": ("address for answers", _text),
    "telephone": ("telephone", _text),
    "keep_days": ("number of days that photos are kept", str),
    "customer": ("name of the customer", _text),
    "currency": ("currency", str),
    "printer_scale": ("printer's scale", _share),
}
_PRESS: Mapping[str, tuple[str, Callable[[object], str]]] = {
    "heat_c": ("heat", _heat),
    "time_s": ("time", _seconds),
    "preheat_s": ("preheating", _seconds),
    "pressure": ("pressure", _text),
    "sides": ("number of sides to press", str),
    "shrink": ("shrinking (width × height)", _share),
}
_AT_THE_PRESS = ("due", "printer_scale")  # of the terms, what the person at the press should know


def _was(what: str, old: str, new: str) -> list[str]:
    return [] if old == new else [f"{what} was {old}, is {new}"]


def _fields(
    table: Mapping[str, tuple[str, Callable[[object], str]]],
    then: Mapping[str, object],
    now: Mapping[str, object],
    names: Iterable[str],
    of: str = "",
) -> list[str]:
    says = []
    for name in names:
        what, said = table[name]
        if then.get(name) != now.get(name):
            says += _was(what + of, said(then.get(name)), said(now.get(name)))
    return says


def terms_changes(then: TermsDocument, now: TermsDocument) -> list[str]:
    """What a customer was told then and would be told otherwise today: 'price was €13.00, is
    €14.00'. It goes out with a new edition only."""
    names = [name for name in _TERMS if name != "printer_scale"]
    says = _bill_changes(then, now) + _fields(_TERMS, then, now, names)
    says += _rights_changes(then["rights"], now["rights"])
    if then["house_words"] != now["house_words"]:
        says.append("your words about the order (words/proof.md) are others")
    if then.get("paying", "") != now.get("paying", ""):
        says.append("your words about paying and sending (words/paying.md) are others")
    return says + _told_changes(then["findings"], now["findings"])


def press_changes(then: AtThePress, now: AtThePress) -> list[str]:
    """What the person at the press should know: 'heat was 204 °C (400 °F), is 196 °C (385 °F)'."""
    says = []
    before = {line["line"]: line for line in then["press"]}
    several = len(now["press"]) > 1
    for line in now["press"]:
        old = before.get(line["line"])
        if old:
            says += _fields(_PRESS, old, line, _PRESS, _of(line, several))
    return says + _fields(_TERMS, then, now, _AT_THE_PRESS)


def _of(line: BillLine | PressFacts, several: bool) -> str:
    return f" of line {line['line']}" if several else ""


def promises(then: TermsDocument, now: TermsDocument) -> list[str]:
    """What the customer signed and the shop's files say otherwise today, and which of them holds:
    whole sentences about price and day."""
    says = []
    signed, today = (_money(terms["total"], terms["currency"]) for terms in (then, now))
    if then["total"] is not None and signed != today:
        says.append(
            f"The customer signed {signed}; today’s price is {today}: charge what was signed."
        )
    if then["due"] and then["due"] != now["due"]:
        says.append(
            f"The customer signed for {_day(then['due'])}; the order’s day is {_day(now['due'])} "
            "today: keep the day that was signed, or agree on another."
        )
    return says


def _money(amount: str | None, currency: str) -> str:
    return "none" if amount is None else _ENGLISH.money(Decimal(amount), currency)


def _bill_changes(then: TermsDocument, now: TermsDocument) -> list[str]:
    """Prices, and what designs and blanks are called; what is ordered is told with the artwork."""
    says = []
    before = {line["line"]: line for line in then["bill"]}
    for line in now["bill"]:
        old, of = before.get(line["line"]), _of(line, len(now["bill"]) > 1)
        if old is None:
            continue
        prices = (
            _money(old["unit_price"], then["currency"]),
            _money(line["unit_price"], now["currency"]),
        )
        says += _was(f"price{of}", *prices)
        off = (
            _money(old.get("discount"), then["currency"]),
            _money(line.get("discount"), now["currency"]),
        )
        says += _was(f"discount{of}" if of else "discount of the line", *off)
        says += _was(f"name of the design{of}", _text(old["design"]), _text(line["design"]))
        says += _was(f"name of the blank{of}", _text(old["blank"]), _text(line["blank"]))
        if old["labels"] != line["labels"]:
            says.append(f"what its places for words are called{of} is other")
    for key, what in _BESIDE.items():
        says += _was(
            what,
            _money(then.get(key), then["currency"]),  # type: ignore[arg-type]
            _money(now.get(key), now["currency"]),  # type: ignore[arg-type]
        )
    says += _was("note under the bill", _text(then.get("note", "")), _text(now.get("note", "")))
    sums = _money(then["total"], then["currency"]), _money(now["total"], now["currency"])
    return says + _was("total", *sums)


# What is paid is no promise: it goes on.
_BESIDE = {"discount": "discount", "postage": "postage"}


def _rights_changes(then: KeptRights, now: KeptRights) -> list[str]:
    """What nobody had said then may be said since, by an answer."""
    says = {True: "yes", False: "no", None: "not told"}
    names = ("permission to print", "permission to show")
    both = ((then["print"], now["print"]), (then["show"], now["show"]))
    return [
        f"{name} was {says[old]}, is {says[new]}"
        for name, (old, new) in zip(names, both, strict=True)
        if old is not None and old != new
    ]


def _told_changes(then: list[ToldFinding], now: list[ToldFinding]) -> list[str]:
    before, after = ([(f["says"], f["accepted"]) for f in told] for told in (then, now))
    says = [
        f"the page tells what holds no longer: {_text(told)}"
        for told, reason in before
        if (told, reason) not in after
    ]
    fresh = [f for f, of in zip(now, after, strict=True) if of not in before]
    if fresh:
        found = plural(len(fresh), "finding")
        says.append(f"the page does not tell {found}: {_text(fresh[0]['says'])}")
    return says
