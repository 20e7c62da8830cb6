"""The slow judge of ink on cloth: every colour taken through all 81 wavelengths, one by one."""

import numpy as np

from proofgen.colour import hex_to_rgb8, linear_to_srgb
from proofgen.colour.basis import spectra
from proofgen.colour.fabric import LIGHT, keep_below


def reflectance(linear: np.ndarray) -> np.ndarray:
    """Of linear sRGB (…, 3): (…, 81)."""
    return linear @ spectra()[0].T


def spectral_light(ink_linear: np.ndarray, cloth_hex: str) -> np.ndarray:
    """Linear ink (…, 3) on cloth, in linear sRGB that may leave 0..1."""
    ground = reflectance(LIGHT[np.array(hex_to_rgb8(cloth_hex))])
    return (reflectance(ink_linear) * ground) @ spectra()[1].T


def spectral_ink_on_cloth(rgb8: np.ndarray, cloth_hex: str) -> np.ndarray:
    """What `ink_on_cloth` may miss by one code."""
    cloth = hex_to_rgb8(cloth_hex)
    flat = rgb8.reshape(-1, 3)
    seen = np.clip(spectral_light(LIGHT[flat], cloth_hex), 0, 1)
    codes = keep_below(np.rint(linear_to_srgb(seen) * 255).astype(np.uint8), seen, cloth)
    codes[(flat == 255).all(axis=1)] = cloth
    return codes.reshape(rgb8.shape)
