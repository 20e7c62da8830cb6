"""The only place that knows inches, Fahrenheit and how people write amounts."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from fractions import Fraction
from unicodedata import normalize

# The international inch (1959) is exactly 25.4 mm; PDF's unit is 1/72 inch (ISO 32000-1, 8.3.2.3).
MM_PER_INCH = 25.4
ROUND = "round"  # “round 207.6 mm”: a tape laid once round a can
PT_PER_MM = 72 / MM_PER_INCH

# How many mm one of each unit is. As fractions, so that 9.5 in is 241.3 mm and not a hair more.
_LENGTHS = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": Fraction(127, 5),
    "inch": Fraction(127, 5),
    "inches": Fraction(127, 5),
    '"': Fraction(127, 5),
    "pt": Fraction(127, 360),
}
_TIMES = {
    "s": Fraction(1),
    "sec": Fraction(1),
    "seconds": Fraction(1),
    "min": Fraction(60),
    "minutes": Fraction(60),
}
# A tape's inches: 10 7/8 in, 9 1/2", 7/8 in; some keyboards turn the marks and set whole fractions.
_TAPE = re.compile(r"\s*(?:(\d+)[ -]\s*)?(\d+)\s*/\s*([1-9]\d*)\s*([^\d\s].*?)\s*")
_MARKS = str.maketrans({"”": '"', "″": '"', "“": '"', "⁄": "/"})
_AMOUNT = re.compile(r"\s*([+-]?\d+(?:[.,]\d+)?)\s*([^\d\s].*?)?\s*")


@dataclass(frozen=True, slots=True)
class Temperature:
    """A heat in °C; `fahrenheit` is what was written beside it, for the check that both agree."""

    celsius: float
    fahrenheit: float | None = None

    @property
    def agrees(self) -> bool:
        """Whether both written figures mean the same heat, to 1 °C."""
        return self.fahrenheit is None or abs(f_to_c(self.fahrenheit) - self.celsius) <= 1


def c_to_f(celsius: float) -> float:
    """°C to °F."""
    return celsius * 9 / 5 + 32


def f_to_c(fahrenheit: float) -> float:
    """°F to °C."""
    return (fahrenheit - 32) * 5 / 9


def pixels(mm: float, ppi: float) -> int:
    """Whole pixels that cover `mm` at `ppi`: rounded up, but never for a float's last digit."""
    return math.ceil(round(mm * ppi / MM_PER_INCH, 6))


def ppi_of(px: float, mm: float) -> float:
    """Pixels per inch when `px` pixels are spread over `mm`."""
    return px * MM_PER_INCH / mm


def px_to_mm(px: float, ppi: float) -> float:
    """The mm that `px` pixels cover at `ppi`."""
    return px * MM_PER_INCH / ppi


def mm_to_pt(mm: float) -> float:
    """mm to PDF points."""
    return mm * PT_PER_MM


def _amount(text: str, what: str, example: str) -> tuple[Fraction, str]:
    match = _AMOUNT.fullmatch(text)
    if not match:
        raise ValueError(f"“{text}” is not {what}; write it like {example}")
    return Fraction(match[1].replace(",", ".")), (match[2] or "").strip()


def _in_units(text: str, what: str, example: str, units: Mapping[str, Fraction]) -> float:
    amount, unit = _amount(text, what, example)
    if unit not in units:
        raise ValueError(f"“{text}” needs a unit; write it like {example}")
    return float(amount * units[unit])


def _plain_fractions(text: str) -> str:
    """'9½"' as '9 1/2"'."""
    spread = "".join(f" {normalize('NFKC', c)}" if c in "½¼¾⅛⅜⅝⅞" else c for c in text)
    return spread.translate(_MARKS)


def parse_length(text: str) -> float:
    """A length with its unit ('66.1 mm', '6.6 cm', '9.5 in') in mm. ValueError tells what to
    write. Inches may be a tape's ('10 7/8 in', '9 1/2"').

    >>> parse_length("66.1 mm"), parse_length("9.5 in"), parse_length('9 1/2"')
    (66.1, 241.3, 241.3)
    """
    if tape := _TAPE.fullmatch(_plain_fractions(text)):
        whole, part, of, unit = tape.groups()
        if unit in _LENGTHS:
            return float((int(whole or 0) + Fraction(int(part), int(of))) * _LENGTHS[unit])
    text = text.translate(_MARKS)
    return _in_units(text, "a length", "66.1 mm, 6.6 cm, 9.5 in or 9 1/2 in", _LENGTHS)


class Across(float):
    """How wide (mm) a can is by a tape laid round it, which showed `round_mm`: a file keeps what
    was read off the tape."""

    round_mm: float

    def __new__(cls, across: float, round_mm: float = 0.0) -> Across:
        made = super().__new__(cls, across)
        made.round_mm = round_mm
        return made


def parse_across(text: str) -> float:
    """How wide a can is, in mm: a length, or “round” and what a tape laid round it shows; to a
    thousandth then, which is finer than any tape. ValueError tells what to write.

    >>> parse_across("66.1 mm"), parse_across("round 220 mm")
    (66.1, 70.028)
    """
    plain = text.strip()
    if not plain.lower().startswith(f"{ROUND} "):
        return parse_length(text)
    taped = parse_length(plain[len(ROUND) :])
    return Across(round(taped / math.pi, 3), taped)


def parse_share(text: str) -> float:
    """A percentage ('5 %') as 0.05. ValueError says what to write.

    >>> parse_share("5 %")
    0.05
    """
    amount, unit = _amount(text, "a share", "5 %")
    if unit != "%":
        # The very figure: an example of 5 % would be taken for what is right here.
        like = "5" if unit else text.strip()
        raise ValueError(f"“{text}” needs a percent sign; write it like {like} %")
    return float(amount / 100)


def parse_time(text: str) -> float:
    """A time ('60 s', '1 min') in seconds. ValueError says what to write.

    >>> parse_time("1 min")
    60.0
    """
    return _in_units(text, "a time", "60 s", _TIMES)


def parse_temperature(text: str) -> Temperature:
    """A heat ('196 C', '385 F', '200 C (392 F)'), °C before °F. ValueError if unclear."""
    match = re.fullmatch(
        r"\s*([+-]?\d+(?:[.,]\d+)?)\s*°?\s*([CF])\s*"
        r"(?:[(/,]?\s*([+-]?\d+(?:[.,]\d+)?)\s*°?\s*([CF])\s*\)?)?\s*",
        text,
        re.IGNORECASE,
    )
    if not match or (match[4] and match[4].upper() == match[2].upper()):
        raise ValueError(f"“{text}” is not a temperature; write it like 196 C, 385 F or both")
    given = {match[2].upper(): float(match[1].replace(",", "."))}
    if match[4]:
        given[match[4].upper()] = float(match[3].replace(",", "."))
    if "C" in given:
        return Temperature(given["C"], given.get("F"))
    return Temperature(f_to_c(given["F"]), given["F"])


def parse_money(text: str) -> Decimal:
    """An amount of money ('14.50'), kept exactly. ValueError says what to write."""
    try:
        amount = Decimal(text.strip().replace(",", "."))
    except InvalidOperation:
        raise ValueError(f"“{text}” is not an amount; write it like 14.50") from None
    # Larger than any order; quantize has no room for a number of thirty digits.
    small = amount.is_finite() and 0 <= amount < 10**9
    if not small or amount != amount.quantize(Decimal("0.01")):
        raise ValueError(f"“{text}” is not an amount; write it like 14.50")
    return amount.quantize(Decimal("0.01"))
