"""What becomes of a design's colours on a cloth, and which cloths suit the design."""

from __future__ import annotations

from dataclasses import dataclass

# Keeps: hardly another colour. Shifts: seen to be another, still the same name for most. Turns: a
# different colour. Vanishes: hardly to be told from the bare cloth.
FATES = ("keeps", "shifts", "turns", "vanishes")


@dataclass(frozen=True, slots=True, kw_only=True)
class InkLook:
    """One main colour: as ink on white, and on the cloth. Colours are '#rrggbb'."""

    ink: str
    on_cloth: str
    source: str  # 'words', 'colour' (a plain one of the design) or 'picture'
    slot: str = ""  # of words
    share: float  # of the inked area, 0 to 1
    difference: float  # CIEDE2000 between the two
    lightness_lost: float  # CIE L*, 0 to 100
    fate: str  # one of FATES
    contrast: float | None = None  # words: to what is behind them on this cloth, 1 to 21
    contrast_on_white: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ClothFit:
    """One of the blank's cloths: how far the design's colours move on it (CIEDE2000, mean over the
    inked area), and the words' weakest contrast there."""

    name: str
    colour: str
    difference: float
    contrast: float | None
    suits: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ColourReport:
    """A design's main colours on one cloth, largest first; the blank's cloths, best first."""

    cloth: str
    cloth_hex: str
    inks: tuple[InkLook, ...]
    cloths: tuple[ClothFit, ...]

    @property
    def fit(self) -> ClothFit:
        """The cloth that was asked for."""
        return next(fit for fit in self.cloths if fit.name == self.cloth)
