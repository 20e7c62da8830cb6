"""How different two colours look, and how well one reads on the other."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from proofgen.colour.spaces import Floats, srgb_to_linear

# WCAG 2.2, "relative luminance": the published weights, four digits.
_WCAG_WEIGHTS = (0.2126, 0.7152, 0.0722)


def ciede2000(
    lab1: ArrayLike, lab2: ArrayLike, k_L: float = 1.0, k_C: float = 1.0, k_H: float = 1.0
) -> Floats:
    """CIEDE2000 difference of Lab colours (…, 3), one number per pair; shapes may broadcast.

    About 1 is just visible side by side. Textile practice takes k_L = 2 (CIE 142-2001).
    Source: CIE 142-2001, worked as in Sharma, Wu & Dalal (2005), doi:10.1002/col.20070.
    """
    one, two = np.asarray(lab1, dtype=np.float64), np.asarray(lab2, dtype=np.float64)
    L1, a1, b1 = one[..., 0], one[..., 1], one[..., 2]
    L2, a2, b2 = two[..., 0], two[..., 1], two[..., 2]
    c_bar7 = ((np.hypot(a1, b1) + np.hypot(a2, b2)) / 2) ** 7
    g = 1 + 0.5 * (1 - np.sqrt(c_bar7 / (c_bar7 + 25.0**7)))
    c1, c2 = np.hypot(a1 * g, b1), np.hypot(a2 * g, b2)
    h1 = np.degrees(np.arctan2(b1, a1 * g)) % 360
    h2 = np.degrees(np.arctan2(b2, a2 * g)) % 360

    grey = c1 * c2 == 0  # a grey has no hue: its hue difference is nought, its mean the other's
    turn = h2 - h1
    turn = np.where(grey, 0.0, turn - 360 * (turn > 180) + 360 * (turn < -180))
    total = h1 + h2
    wraps = np.abs(h1 - h2) > 180
    mean = np.where(wraps, np.where(total < 360, total + 360, total - 360), total) / 2
    h_bar = np.where(grey, total, mean)

    d_L, d_C = L2 - L1, c2 - c1
    d_H = 2 * np.sqrt(c1 * c2) * np.sin(np.radians(turn / 2))
    lift = ((L1 + L2) / 2 - 50) ** 2
    c_bar = (c1 + c2) / 2
    s_L = 1 + 0.015 * lift / np.sqrt(20 + lift)
    s_C = 1 + 0.045 * c_bar
    s_H = 1 + 0.015 * c_bar * _hue_weight(h_bar)
    t_L, t_C, t_H = d_L / (k_L * s_L), d_C / (k_C * s_C), d_H / (k_H * s_H)
    square = t_L**2 + t_C**2 + t_H**2 + _rotation(c_bar, h_bar) * t_C * t_H
    return np.asarray(np.sqrt(np.maximum(square, 0.0)))


def _hue_weight(h: Floats) -> Floats:
    """T of the formula: the eye minds some hues more (h in degrees)."""
    return np.asarray(
        1
        - 0.17 * np.cos(np.radians(h - 30))
        + 0.24 * np.cos(np.radians(2 * h))
        + 0.32 * np.cos(np.radians(3 * h + 6))
        - 0.20 * np.cos(np.radians(4 * h - 63))
    )


def _rotation(c_bar: Floats, h_bar: Floats) -> Floats:
    """R_T of the formula: chroma and hue are not independent for blues."""
    theta = 30 * np.exp(-(((h_bar - 275) / 25) ** 2))
    return np.asarray(-2 * np.sqrt(c_bar**7 / (c_bar**7 + 25.0**7)) * np.sin(np.radians(2 * theta)))


def luminance(rgb8: ArrayLike) -> Floats:
    """Relative luminance (0..1) of sRGB codes (…, 3). WCAG 2.2, relative luminance."""
    return np.asarray(srgb_to_linear(np.asarray(rgb8) / 255) @ np.array(_WCAG_WEIGHTS))


def contrast_ratio(rgb8: ArrayLike, other: ArrayLike) -> Floats:
    """Contrast ratios, 1..21, of sRGB codes (…, 3), not rounded (4.499 is not 4.5); shapes may
    broadcast. WCAG 2.2."""
    one, two = luminance(rgb8), luminance(other)
    return np.asarray((np.maximum(one, two) + 0.05) / (np.minimum(one, two) + 0.05))
