"""One of several: a design, a cloth; a blank, also one that the design is not offered on yet."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence

from proofgen import shop as shop_room
from proofgen.desk.questions import Asker, Question, Refused
from proofgen.errors import Place, ShopError, ShopFaults, UsageError
from proofgen.model import Blank, Design, Shop
from proofgen.say import did_you_mean, number, visible

_COST = (
    "{design} is not offered on {blank} yet. What does one cost? It is written into its design.md. "
    "(Enter: leave it as it is)"
)


def one_of(
    asker: Asker,
    what: str,
    known: Sequence[str],
    given: str | None,
    usual: str = "",
    to_have: Mapping[str, str] | None = None,
    also: Collection[str] = (),
    listing: str = "",
) -> str:
    """A choice from `known`: given, the usual or only one, or asked for; `to_have` says of some
    others how they would become one. `also` may be chosen too; `listing` shows the choice to a
    person in more than names."""
    if given is None and usual in known:
        return usual
    if given is None and len(known) == 1:
        return known[0]
    listed = ", ".join(known)

    def refusal(text: str) -> Refused:
        cure = f"choose one of: {listed}"
        if to_have and text in to_have:
            cure = f"{to_have[text]}; or {cure}"
        else:
            cure = did_you_mean(text, known, typed=True) or cure
        error = UsageError(f"there is no {what} “{text}” for this", cure)
        return Refused(error, f"There is no {what} “{text}”; {cure} ")

    def parse(text: str) -> str:
        if text not in known and text not in also:
            raise refusal(text)
        return text

    needed = UsageError(f"which {what}?", f"add --{what} with one of: {listed}")
    return asker.answer(
        Question(
            asks=f"Which {what}?",
            first=f"Which {what}?{listing or f' ({listed})'}",
            parse=parse,
            enter=Refused(needed, refusal("").again),
            gave_up=UsageError(f"no {what} was chosen", f"choose one of: {listed}"),
        ),
        given,
    )


def can_be_chosen(shop: Shop, design: str, blank: str) -> None:
    """That the shop has designs, and the files of these two no fault: another one would be chosen
    for nothing. ShopFaults or ShopError."""
    files = (f"designs/{design}/design.md", f"blanks/{blank}.yaml")
    faults = [f for f in shop.faults if f.place and f.place.file in files]
    if not shop.designs:
        faults += [f for f in shop.faults if f.place and f.place.file.startswith("designs/")]
    if faults:
        raise ShopFaults(list(dict.fromkeys(faults)))
    if not shop.designs:
        raise ShopError(
            "this shop has no design yet",
            "write one in designs/NAME/design.md; `proofgen start` and `proofgen demo` make shops "
            "to copy one from",
            Place("designs"),
        )


def faulty_designs(shop: Shop) -> dict[str, str]:
    """What is to be mended first, by the designs whose files have faults."""
    told = dict[str, str]()
    for fault in shop.faults:
        folder, _, rest = fault.place.file.partition("/") if fault.place else ("", "", "")
        if folder == "designs":
            told.setdefault(rest.partition("/")[0], f"{fault.place}: {fault.problem}; {fault.cure}")
    return told


def blank_of(
    asker: Asker,
    shop: Shop,
    design: Design,
    given: str | None,
    *,
    usual: str,
    price: str | None,
) -> tuple[str, shop_room.Offer | None]:
    """The blank of a line; with it the offer to write, where it is one that the design is not
    offered on yet and the `price` of one is given or asked for."""
    offered = [b for b in design.offered if b in shop.blanks]
    others = [b for b in shop.blanks if b not in offered]
    cure = (
        f"add it in designs/{visible(design.id)}/design.md under offered:  {{}}: 14.50 (your "
        "price), or with --offer 14.50"
    )
    can_offer = price is not None or asker.ask is not None
    mine = [b for b in others if not shop.blanks[b].built_in]
    blank = one_of(
        asker,
        "blank",
        offered,
        given,
        usual,
        {one: cure.format(one) for one in others},
        also=others if can_offer else (),
        listing=_listing(shop, offered, mine),
    )
    if blank in offered and price is None:
        return blank, None
    if blank in offered:
        raise UsageError(
            f"{design.id} is offered on {blank} already",
            f"leave --offer out; its price stands in designs/{visible(design.id)}/design.md",
        )
    if cost := _cost(asker, shop, design, blank, price):
        offer = shop_room.Offer(design=design, blank=blank, price=cost)
        offer.text()  # nobody should answer questions for nothing
        return blank, offer
    return blank, None


def to_offer(designs: Iterable[Design], blank: str) -> tuple[str, ...]:
    """How to offer a design on this blank: the line for its file, and what to type instead. Nothing
    where every design is offered on it."""
    lacking = [visible(design.id) for design in designs if blank not in design.offered]
    if not lacking:
        return ()
    return (
        f"in designs/{lacking[0]}/design.md, under offered:  {blank}: 14.50 (your price)",
        "or with its next order: "
        f"proofgen order --design {lacking[0]} --blank {blank} --offer 14.50",
    )


def _cost(asker: Asker, shop: Shop, design: Design, blank: str, given: str | None) -> str:
    """What one piece costs, as a design writes it; '' for nothing said."""

    def parse(text: str) -> str:
        try:
            return shop_room.price_text(text, shop.settings.currency) if text else ""
        except ValueError as error:
            problem, _, cure = str(error).partition("; ")
            refused = UsageError(f"--offer: {problem}", cure or "write it like 14.50")
            raise Refused(refused, f"{problem}; write it like 14.50. ") from None

    asks = _COST.format(design=visible(design.id), blank=visible(blank))
    return asker.answer(Question(asks=asks, parse=parse, enter=""), given)


def _listing(shop: Shop, offered: Sequence[str], mine: Sequence[str]) -> str:
    """The choice of blanks, a line each: short name, what it is, finished size."""
    lines = [_row(shop.blanks[b]) for b in offered]
    lines += [f"{_row(shop.blanks[b])}; your own, not offered yet" for b in mine]
    return "".join(f"\n    {line}" for line in lines) + "\n   "


def _row(blank: Blank) -> str:
    size = next(iter(blank.plan().panels.values()))
    return (
        f"{blank.id}: {visible(blank.name)} ({blank.construction}), "
        f"{number(size.width)} × {number(size.height)} mm finished"
    )
