"""Check of what is made against what was ordered: design, piece, colour of the cloth, how many."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from proofgen.checks.frame import Remarks, check, warn
from proofgen.checks.subjects import CheckInput, Spot
from proofgen.model import Limits, Line, Order
from proofgen.model.called import to_accept
from proofgen.say import joined, plural, quoted
from proofgen.signoff.order_slip import OrderPayload

SINCE = "if the customer asked otherwise since, accept it with that reason"


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderedGoods:
    """A slip, and the lines of its order."""

    slip: OrderPayload
    order: Order

    @property
    def meant(self) -> Sequence[Line]:
        """The lines that would be what was ordered: of its design, if one is, and of its piece.
        What a shop adds besides is none of them."""
        lines: Sequence[Line] = self.order.lines
        for alike in (self._designed, self._shaped):
            lines = [line for line in lines if alike(line)] or lines
        return lines

    def _designed(self, line: Line) -> bool:
        return line.design == self.slip["design"]

    def _shaped(self, line: Line) -> bool:
        return line.blank == self.slip["blank"]


def _with_slip(given: CheckInput) -> Iterator[tuple[Spot, OrderedGoods]]:
    if given.slip is not None and given.order.lines:
        spot = Spot(where=str(given.order.place))
        yield spot, OrderedGoods(slip=given.slip, order=given.order)


@check(
    "order/as-ordered",
    _with_slip,
    why="A white sleeve instead of the blue one, or five instead of six, is right by every other "
    "check; only the customer's eye would find it.",
    source="the order slip kept in asked.txt beside the order",
    codes={
        "design": "the design is not the one that the customer ordered",
        "blank": "the piece is not the one that the customer ordered",
        "cloth": "the cloth has not the colour that the customer ordered",
        "quantity": "there are not as many pieces as the customer ordered",
    },
)
def as_ordered(goods: OrderedGoods, _: Limits) -> Remarks:
    """What is made is what the customer ordered."""
    slip, lines = goods.slip, goods.meant
    for key, wanted, made in (
        ("design", slip["design"], [line.design for line in lines]),
        ("blank", slip["blank"], [line.blank for line in lines]),
        ("cloth", slip["cloth"], [line.cloth for line in lines]),
    ):
        if others := [one for one in dict.fromkeys(made) if one != wanted]:
            line = next(line for line, one in zip(lines, made, strict=True) if one in others)
            yield warn(
                key,
                f"The customer ordered the {key} {quoted(wanted)}, and the order has "
                f"{joined(map(quoted, others))}.",
                f"Write {key}: {wanted} there; {_since(goods, key)}",
                about=f"{key}-{wanted}-{'-'.join(others)}",
                where=str(line.place_of(key)),
            )
    many = sum(line.quantity for line in lines)
    if many != slip["many"]:
        yield warn(
            "quantity",
            f"The customer ordered {plural(slip['many'], 'piece')}, and the order has {many}.",
            f"Write quantity: {slip['many']} there, or as many rows in its list; "
            f"{_since(goods, 'quantity')}",
            measure=many,
            limit=slip["many"],
            about=f"quantity-{many}",
            where=str(lines[0].place_of("quantity", "list")),
        )


def _since(goods: OrderedGoods, code: str) -> str:
    """What to do where the customer thought better of it, with the command."""
    return f"{SINCE}: {to_accept(goods.order.id, f'{as_ordered.id}:{code}')}"
