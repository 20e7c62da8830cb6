"""Cloths as matrices: reflectances multiplied wavelength by wavelength, seen under D65."""

from __future__ import annotations

import functools
from pathlib import Path

import numpy as np

from proofgen.colour.spaces import LINEAR_FROM_XYZ, Floats, hex_to_rgb8, srgb_to_linear

_DATA = Path(__file__).parent / "data"


def _table(name: str) -> Floats:
    return np.loadtxt(
        (line for line in (_DATA / name).read_text().splitlines() if line[0].isdigit()),
        delimiter=",",
    )


@functools.cache
def spectra() -> tuple[Floats, Floats]:
    """What takes linear sRGB to wavelengths (380 to 780 nm by 5) and back.

    (81, 3): reflectances of red, green and blue (Mallett & Yuksel 2019). (3, 81): reflectance to
    linear sRGB with CIE 1931 2° and D65; Y of a perfect white is 1.
    """
    data = _table("cie1931_2deg_d65_5nm.csv")
    weighted = data[:, 1:4] * data[:, 4:5]
    observer = LINEAR_FROM_XYZ @ (weighted / weighted[:, 1].sum()).T
    return _table("mallett2019_srgb_basis.csv")[:, 1:], np.asarray(observer)


def cloth_matrix(cloth_hex: str) -> Floats:
    """The (3, 3) matrix that takes an ink on white to the same ink on this cloth.

    Both are linear-light sRGB: `seen = matrix @ ink`. For white cloth it is the identity to 3e-4
    (what the basis loses on its way through 81 wavelengths). ValueError for a bad colour.
    """
    basis, observer = spectra()
    ground = srgb_to_linear(np.array(hex_to_rgb8(cloth_hex)) / 255) @ basis.T
    return np.asarray((observer * ground) @ basis)
