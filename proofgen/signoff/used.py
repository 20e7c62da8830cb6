"""What was used at the press, as the journal's lines tell it: of forgotten orders, too."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from zoneinfo import ZoneInfo

from proofgen.model import Shop, blanks_needed
from proofgen.signoff.documents import Tally
from proofgen.signoff.editions import moment
from proofgen.signoff.facts import read_facts
from proofgen.signoff.kinds import TAKES_BACK, EventKind
from proofgen.signoff.records import Records
from proofgen.signoff.states import Notice

BlankCloth = tuple[str, str]  # a blank's id and the colour of its cloth


@dataclass(frozen=True, slots=True, kw_only=True)
class Used:
    """One line of the journal, by its number: an order pressed, or pieces of it spoiled."""

    record: int
    order: str
    kind: EventKind
    when: datetime
    edition: int
    tally: Tally


def used(records: Records, order: str = "") -> list[Used]:
    """All that holds, or that of one order, oldest first: what was taken back is left out. One line
    is one event, so a run killed at any moment leaves it counted once or not at all."""
    found: list[Used] = []
    for entry in records.entries(order) if order else records.journal.read().entries:
        head = entry.head
        name = records.names.name_of(head["order"])
        back = TAKES_BACK.get(EventKind(head["kind"]), ()) if head["kind"] in _KINDS else ()
        if back:
            found = [u for u in found if u.order != name or u.kind not in back]
        if "tally" in head:
            one = Used(
                record=entry.line,
                order=name,
                kind=EventKind(head["kind"]),
                when=moment(head["at"]),
                edition=head["edition"],
                tally=head["tally"],
            )
            found.append(one)
    return found


_KINDS = frozenset(EventKind)


def times_spoiled(every: Sequence[Used], order: str, edition: int) -> dict[int, int]:
    """How often each piece of an edition was spoiled, as noted last."""
    times: dict[int, int] = {}
    for one in every:
        if (one.order, one.edition, one.kind) == (order, edition, EventKind.SPOILED):
            times |= dict.fromkeys(one.tally.get("pieces", ()), one.tally.get("times", 0))
    return times


def spoiled_since(records: Records, order: str, edition: int) -> list[int]:
    """The pieces of an edition that were spoiled and not noted as pressed after that."""
    every = used(records, order)
    done = [at for at, one in enumerate(every) if one.kind is EventKind.PRESSED]
    before = times_spoiled(every[: done[-1]] if done else (), order, edition)
    now = times_spoiled(every, order, edition)
    return sorted(n for n, times in now.items() if times > before.get(n, 0))


@dataclass(frozen=True, slots=True, kw_only=True)
class InStock:
    """One blank in one cloth: what its file says was there (None: nothing) on the day it was
    counted (None: the file does not say), what was used since, and what each open order needs."""

    counted: int | None
    counted_on: date | None  # a day: that morning; a datetime: that moment by the shop's clock
    used: int
    needs: Mapping[str, int]

    @property
    def left(self) -> int | None:
        """What is there now; below 0 where more was used than was counted."""
        return None if self.counted is None else self.counted - self.used

    @property
    def buy(self) -> int | None:
        """What open orders need beyond what is there; None where nothing was counted."""
        left = self.left
        return None if left is None else max(0, sum(self.needs.values()) - left)


def is_to_press(records: Records, name: str, today: date) -> bool:
    """Whether blanks are kept for an order: it is neither pressed nor at an end. SignoffError where
    its records are damaged."""
    rules = read_facts(records, name, today).rules
    return not (rules.closed or isinstance(rules.page, Notice))


def stock_of(shop: Shop, records: Records, open_orders: Sequence[str]) -> dict[BlankCloth, InStock]:
    """Every blank and cloth that was counted or is needed. A count of a day is of its
    morning: what is used on the day itself is taken off. One of a moment is of what lay there when
    all that was noted until then had been used."""
    taken = _taken(records, ZoneInfo(shop.settings.zone))
    needs: dict[BlankCloth, dict[str, int]] = defaultdict(dict)
    for name in open_orders:
        order = shop.orders[name]
        gone = _spoiled(used(records, name))
        for key, (good, start) in blanks_needed(order.lines, shop.settings.spares).items():
            needs[key][name] = max(good, start - gone.get(key, 0))
    counts = {
        (blank.id, cloth): (count, blank.stock.counted_at(cloth))
        for blank in shop.blanks.values()
        for cloth, count in blank.stock.pieces.items()
    }
    return {
        key: InStock(
            counted=count,
            counted_on=day,
            used=sum(blanks for when, blanks in taken.get(key, ()) if _is_since(when, day)),
            needs=needs.get(key, {}),
        )
        for key in sorted({*counts, *needs})
        for count, day in [counts.get(key, (None, None))]
    }


def _taken(records: Records, zone: ZoneInfo) -> dict[BlankCloth, list[tuple[datetime, int]]]:
    """The blanks that each line of the journal took, and when by the shop's clock."""
    taken: dict[BlankCloth, list[tuple[datetime, int]]] = defaultdict(list)
    for one in used(records):
        when = one.when.astimezone(zone)
        for line in one.tally["lines"]:
            taken[line["blank"], line["cloth"]].append((when, line["blanks"]))
    return taken


def _spoiled(own: Sequence[Used]) -> dict[BlankCloth, int]:
    """Blanks of an order that is not pressed yet which were spoiled: of its spares."""
    gone: dict[BlankCloth, int] = defaultdict(int)
    for one in own:
        if one.kind is EventKind.SPOILED:
            for line in one.tally["lines"]:
                gone[line["blank"], line["cloth"]] += line["blanks"]
    return gone


def _is_since(when: datetime, counted: date | None) -> bool:
    if isinstance(counted, datetime):
        return when.replace(tzinfo=None) > counted
    return counted is None or when.date() >= counted
