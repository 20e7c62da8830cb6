"""What pieces cost, to the cent, from figures that stand in a file of the shop; never a float."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from proofgen.model import Shop

_SECONDS = Decimal(60)  # of a minute


@dataclass(frozen=True, slots=True, kw_only=True)
class Cost:
    """Money for some blanks with paper and time. None: not known, and `lacks` says what to write
    where."""

    blanks: Decimal | None
    paper: Decimal | None
    time: Decimal | None
    lacks: tuple[str, ...] = field(default=())

    @property
    def total(self) -> Decimal | None:
        if self.blanks is None or self.paper is None or self.time is None:
            return None
        return self.blanks + self.paper + self.time


def cost_of(
    shop: Shop,
    blank: str,
    blanks: int,
    seconds: int | None,
    papers: Mapping[str, Decimal] | None,
) -> Cost:
    """What so many blanks of an id, s at the press and papers (sheets; of a roll metres) cost by
    the shop's files of today. None: time and paper are not known."""
    known = shop.blanks.get(blank)
    each = known.cost if known else None
    rate = shop.settings.minute_rate
    lacks = []
    if each is None:
        lacks.append(f"add cost: to blanks/{blank}.yaml")
    if rate is None:
        lacks.append("add rates: {minute: …} to shop.yaml")
    rates = shop.settings.sheet_rates
    unrated = [name for name in papers or () if name not in rates]
    lacks += [f"add rates: {{sheet: {{{name}: …}}}} to shop.yaml" for name in unrated]
    if seconds is None or papers is None:
        lacks.append(f"see what keeps blanks/{blank}.yaml from the press: proofgen check")
    paper = None
    if papers is not None and not unrated:
        paper = sum((amount * rates[name] for name, amount in papers.items()), Decimal(0))
    return Cost(
        blanks=None if each is None else each * blanks,
        paper=paper,
        time=None if seconds is None else time_cost(shop, seconds),
        lacks=tuple(lacks),
    )


def setup_s(shop: Shop, blanks: Collection[str]) -> int:
    """s to warm the press up once, and to change to each further heat that these blanks ask for, by
    the shop's files of today."""
    known = (shop.blanks.get(blank) for blank in blanks)
    heats = {blank.press.heat_c for blank in known if blank and blank.press}
    times = shop.settings.times
    return round(times.warm_up_s + max(0, len(heats) - 1) * times.change_s)


def time_cost(shop: Shop, seconds: int) -> Decimal | None:
    """Money for s at the press; None where the shop does not say what a minute costs."""
    rate = shop.settings.minute_rate
    return None if rate is None else rate * seconds / _SECONDS
