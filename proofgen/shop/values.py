"""What a single value of a file may be: how it is read from its text, and how it is written there.

Each kind refuses a text with a ValueError that reads “what is wrong; what to write”.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Generic, TypeVar

from proofgen.say import number, quoted
from proofgen.shop.parsers import (
    parse_colour,
    parse_date,
    parse_moment,
    parse_number,
    parse_whole,
    parse_yes,
)
from proofgen.shop.yaml_text import as_yaml
from proofgen.units import (
    Temperature,
    f_to_c,
    parse_length,
    parse_share,
    parse_temperature,
    parse_time,
)

T = TypeVar("T")
Number = TypeVar("Number", int, float)


@dataclass(frozen=True, slots=True)
class Kind(Generic[T]):
    """`stand_in` serves after a fault, where nothing usual does; `write` gives YAML that reads
    back as the very value; `cure` is for refusals that say none; `span` says which amounts are
    taken, where that is known."""

    parse: Callable[[str], T]
    stand_in: T
    write: Callable[[T], str] = str
    cure: str = ""
    span: str = ""


def exact(value: float, times: int = 1) -> str:
    """The shortest text that reads back as the very number (times a whole one), never as 1e-07."""
    text = f"{Decimal(repr(value)) * times:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


@dataclass(frozen=True, slots=True)
class Unit(Generic[Number]):
    """How an amount is read and written; with its limits it is a kind of value."""

    parse: Callable[[str], Number]
    one: Number
    suffix: str = ""
    times: int = 1  # what is written for 1

    def __call__(
        self,
        *,
        above: Number | None = None,
        least: Number | None = None,
        most: Number | None = None,
    ) -> Kind[Number]:
        """Amounts of more than `above`, and of `least` to `most`."""

        def parse(text: str) -> Number:
            amount = self.parse(text)
            if above is not None and amount <= above:
                raise ValueError(f"{quoted(text)} is too little; write more than {say(above)}")
            if least is not None and amount < least:
                raise ValueError(f"{quoted(text)} is too little; write at least {say(least)}")
            if most is not None and amount > most:
                raise ValueError(f"{quoted(text)} is too much; write at most {say(most)}")
            return amount

        def say(amount: Number) -> str:
            return f"{number(amount * self.times)}{self.suffix}"

        def write(amount: Number) -> str:
            return f"{exact(amount, self.times)}{self.suffix}"

        stand_in = least if least is not None else self.one if above is None else above + self.one
        bounds = [
            f"{word} {say(bound)}"
            for word, bound in (("more than", above), ("at least", least), ("at most", most))
            if bound is not None
        ]
        return Kind(parse, stand_in, write, span=", ".join(bounds))


length = Unit(parse_length, 1.0, " mm")
share = Unit(parse_share, 1.0, " %", 100)  # 0.05 for 5 %
seconds = Unit(parse_time, 1.0, " s")
plain_number = Unit(parse_number, 1.0)
whole = Unit(parse_whole, 1)


def temperature(*, least: float, most: float) -> Kind[Temperature]:
    """A heat; limits in °C."""

    def parse(text: str) -> Temperature:
        heat = parse_temperature(text)
        if not least <= heat.celsius <= most:
            raise ValueError(
                f"{quoted(text)} is not a heat this can have; "
                f"write {number(least)} C to {number(most)} C"
            )
        return heat

    return Kind(parse, Temperature(least), _heat)


def _heat(heat: Temperature) -> str:
    if heat.fahrenheit is None:
        return f"{exact(heat.celsius)} C"
    if f_to_c(heat.fahrenheit) == heat.celsius:
        return f"{exact(heat.fahrenheit)} F"
    return f"{exact(heat.celsius)} C ({exact(heat.fahrenheit)} F)"


DAY = Kind(parse_date, date(2000, 1, 1))
MOMENT = Kind(parse_moment, date(2000, 1, 1))
YES = Kind(parse_yes, False)
COLOUR = Kind(parse_colour, "#000000", as_yaml, 'write it like "#6fb7e9"')
