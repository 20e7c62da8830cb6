"""Colour as numbers: sRGB, light and Lab, differences, contrast, and ink on coloured cloth."""

from proofgen.colour.correction import Correction, correction_from, judge_readings
from proofgen.colour.difference import (
    ciede2000,
    contrast_ratio,
    luminance,
)
from proofgen.colour.fabric import Law, ink_on_cloth, law_of
from proofgen.colour.naming import plain_name
from proofgen.colour.readable import readable_on
from proofgen.colour.spaces import (
    hex_to_rgb8,
    lab_of,
    lab_to_linear,
    linear_to_lab,
    linear_to_srgb,
    rgb8_to_hex,
    srgb_to_linear,
)

__all__ = [
    "Correction",
    "Law",
    "ciede2000",
    "contrast_ratio",
    "correction_from",
    "hex_to_rgb8",
    "ink_on_cloth",
    "judge_readings",
    "lab_of",
    "lab_to_linear",
    "law_of",
    "linear_to_lab",
    "linear_to_srgb",
    "luminance",
    "plain_name",
    "readable_on",
    "rgb8_to_hex",
    "srgb_to_linear",
]
