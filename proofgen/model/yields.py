"""How many spare blanks a season asks for: spoiled pieces counted, small numbers as such."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal
from typing import Literal

Verdict = Literal["enough", "too few", "not known yet", "nothing pressed"]

# Two-sided 90 %, so that either end is passed in one case of twenty.
_Z = Decimal("1.6449")
_FEWEST = 20  # pressed; fewer are one bad evening. Ours.
_PERCENT = Decimal("0.01")


@dataclass(frozen=True, slots=True, kw_only=True)
class Spoilage:
    """Blanks that went under the press, and those of them that were spoiled."""

    pressed: int
    spoiled: int

    @property
    def share(self) -> Decimal | None:
        """As `spares:` means it: of all blanks, not of the good ones. None before the first."""
        return Decimal(self.spoiled) / self.pressed if self.pressed else None

    @property
    def between(self) -> tuple[Decimal, Decimal]:
        """Where the true share lies in nine cases of ten: the score interval of E. B. Wilson (1927,
        Probable inference, the law of succession, and statistical inference; from memory)."""
        if not self.pressed:
            return Decimal(0), Decimal(1)
        n, p = Decimal(self.pressed), Decimal(self.spoiled) / self.pressed
        middle = p + _Z * _Z / (2 * n)
        reach = _Z * (p * (1 - p) / n + _Z * _Z / (4 * n * n)).sqrt()
        whole = 1 + _Z * _Z / n
        return max(Decimal(0), (middle - reach) / whole), min(Decimal(1), (middle + reach) / whole)

    def verdict(self, spares: Decimal) -> Verdict:
        """Whether a rate of spares is enough: all of the interval lies below, or above, or the
        numbers are too small to tell."""
        least, most = self.between
        if self.pressed < _FEWEST:
            return "not known yet" if self.pressed else "nothing pressed"
        if most <= spares:
            return "enough"
        return "too few" if least > spares else "not known yet"

    def suggested(self, spares: Decimal) -> Decimal | None:
        """A rate in whole percents, rounded up: of one that is enough the upper end, where that is
        less; of one that is too little the share that was spoiled. None: keep the one there is."""
        verdict = self.verdict(spares)
        if verdict == "enough":
            return min(spares, self.between[1].quantize(_PERCENT, ROUND_CEILING))
        if verdict == "too few" and self.share is not None:
            return self.share.quantize(_PERCENT, ROUND_CEILING)
        return None
