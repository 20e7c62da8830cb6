"""Colour as numbers: sRGB, XYZ and Lab, differences, contrast, and ink on coloured cloth."""

from proofgen.colour.correction import (
    Correction,
    correction_from,
    fit_correction,
    lab_to_linear,
)
from proofgen.colour.difference import ciede2000, contrast_ratio, luminance, luminance_of
from proofgen.colour.fabric import cloth_matrix, ink_on_cloth, spectral_ink_on_cloth
from proofgen.colour.naming import plain_name
from proofgen.colour.spaces import (
    hex_to_rgb8,
    linear_to_srgb,
    rgb8_to_hex,
    srgb_to_lab,
    srgb_to_linear,
    srgb_to_xyz,
    xyz_to_lab,
)

__all__ = [
    "Correction",
    "ciede2000",
    "cloth_matrix",
    "contrast_ratio",
    "correction_from",
    "fit_correction",
    "hex_to_rgb8",
    "ink_on_cloth",
    "lab_to_linear",
    "linear_to_srgb",
    "luminance",
    "luminance_of",
    "plain_name",
    "rgb8_to_hex",
    "spectral_ink_on_cloth",
    "srgb_to_lab",
    "srgb_to_linear",
    "srgb_to_xyz",
    "xyz_to_lab",
]
