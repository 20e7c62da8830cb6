"""The shape of proofgen/terms/1: what an edition's customer was told beside the picture, and what
its maker would have pressed it with. Money as decimal text, days as in 2026-12-04."""

from __future__ import annotations

from typing import Literal, NotRequired, TypedDict

TERMS_SCHEMA: Literal["proofgen/terms/1"] = "proofgen/terms/1"


class BillLine(TypedDict):
    """One line of the order as the bill has it: names as customers read them; no prices where the
    design names none. `total` is what is left of them after its `discount`, which stands only where
    there is one. `labels`: what each place for words is called."""

    line: int
    design: str
    blank: str
    cloth: str
    quantity: int
    unit_price: str | None
    total: str | None
    labels: dict[str, str]
    discount: NotRequired[str]
    note: NotRequired[str]


class ToldOfWord(TypedDict):
    """A sentence that belongs beside one word of a line: its slot, and the pieces that show it."""

    line: int
    slot: str
    pieces: list[int]
    says: str


class ToldFinding(TypedDict):
    """What the customer was told of a finding, and why it was let through ('': it was not);
    `word` where it is said beside the word too."""

    says: str
    accepted: str
    word: NotRequired[ToldOfWord]


class KeptRights(TypedDict):
    """What the customer allows with their pictures; None: nobody said."""

    print: bool | None
    show: bool | None


class PressFacts(TypedDict):
    """How one line would have been pressed: °C, s, shares. None where the blank's file tells no
    heat. It changes no pixel, so the fingerprint does not hold it."""

    line: int
    heat_c: float | None
    time_s: float | None
    preheat_s: float | None
    pressure: str
    sides: int
    shrink: list[float]


class OrderedWords(TypedDict):
    """What a customer typed for one place of a design: one text for all pieces, or one for each."""

    label: str
    texts: list[str]


class OrderedSlip(TypedDict):
    """What the customer's order slip asked for, in names that customers read; `day` is when it was
    put together. It is shown to compare: nothing that is pressed hangs on it."""

    day: str
    design: str
    blank: str
    cloth: str
    quantity: int
    words: list[OrderedWords]
    note: NotRequired[str]


class AtThePress(TypedDict):
    """What of the terms the person at the press works by, and no pixel shows."""

    due: str | None
    press: list[PressFacts]
    printer_scale: list[float]


class BillExtras(TypedDict, total=False):
    """What an order says beside the prices of its pieces; each only where it does, so that records
    of before stay what they are. `discount`: the money it takes off; `paid`: so far; `paying`: the
    shop's own Markdown on how an order is paid and sent."""

    discount: str
    postage: str
    paid: str
    note: str
    paying: str


class TermsDocument(AtThePress, BillExtras):
    """The terms of an edition."""

    schema: Literal["proofgen/terms/1"]
    order: str
    language: str
    shop: str
    contact: str
    telephone: str
    keep_days: int | None
    customer: str
    bill: list[BillLine]
    total: str | None
    currency: str
    answer_by: str
    in_time: NotRequired[bool]  # whether that leaves the days that making takes
    house_words: str
    findings: list[ToldFinding]
    rights: KeptRights
    ordered: NotRequired[OrderedSlip]  # of an order that was taken from a slip
