"""The records that travel between rooms: frozen, typed, no input or output."""

from proofgen.model.blank import (
    FINISHES,
    HEAT_SOURCES,
    Blank,
    Closure,
    Cloth,
    PressSetting,
)
from proofgen.model.colours import FATES, ClothFit, ColourReport, InkLook
from proofgen.model.design import (
    ALIGNMENTS,
    LAYER_KINDS,
    PATTERN_LAYS,
    Amount,
    Box,
    Design,
    Layer,
)
from proofgen.model.finding import BLOCKING, STATUSES, Finding, OrderFindings, beyond, blocks, worst
from proofgen.model.layout import Join, Layout, Placed, TextRun, Variant
from proofgen.model.limits import Limits
from proofgen.model.measures import (
    FINEST_PPI,
    LIGHTNESS,
    MeasureKey,
    PhotoMeasures,
    key_of,
    measure_key,
    measures_from,
)
from proofgen.model.order import Customer, Line, Order, PhotoUse, Piece
from proofgen.model.photo import PhotoFacts
from proofgen.model.shop import Paper, Printer, Season, Settings, Shop

__all__ = [
    "ALIGNMENTS",
    "BLOCKING",
    "FATES",
    "FINEST_PPI",
    "FINISHES",
    "HEAT_SOURCES",
    "LAYER_KINDS",
    "LIGHTNESS",
    "PATTERN_LAYS",
    "STATUSES",
    "Amount",
    "Blank",
    "Box",
    "Closure",
    "Cloth",
    "ClothFit",
    "ColourReport",
    "Customer",
    "Design",
    "Finding",
    "InkLook",
    "Join",
    "Layer",
    "Layout",
    "Limits",
    "Line",
    "MeasureKey",
    "Order",
    "OrderFindings",
    "Paper",
    "PhotoFacts",
    "PhotoMeasures",
    "PhotoUse",
    "Piece",
    "Placed",
    "PressSetting",
    "Printer",
    "Season",
    "Settings",
    "Shop",
    "TextRun",
    "Variant",
    "beyond",
    "blocks",
    "key_of",
    "measure_key",
    "measures_from",
    "worst",
]
