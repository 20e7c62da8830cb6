"""What a printer can reach, by its ICC profile: a soft proof, and the colours outside."""

from __future__ import annotations

import io

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageCms

from proofgen.colour.difference import ciede2000
from proofgen.colour.spaces import lab_of

MOST_BYTES = 4 * 1024 * 1024
# CIEDE2000 between a colour and what the printer makes of it. Ours: 1 is just seen side by side,
# and tables of 8 bits lose up to about 2 on the way there and back.
REACHED = 3.0
_MODES = {"RGB ": "RGB", "CMYK": "CMYK"}
_INTENT = ImageCms.Intent.RELATIVE_COLORIMETRIC
_FLAGS = ImageCms.Flags.BLACKPOINTCOMPENSATION


class SoftProof:
    """sRGB to the printer's own colours and back, relative colorimetric with black point
    compensation (ICC.1:2022, 6.2.2; ISO 18619). White stays white: no ink is bare cloth.

    ValueError says in plain words why the bytes are no profile for a printer.
    """

    def __init__(self, data: bytes) -> None:
        if len(data) > MOST_BYTES:
            raise ValueError(f"it is larger than {MOST_BYTES // 1024**2} MB")
        try:
            profile = ImageCms.ImageCmsProfile(io.BytesIO(data))
            kind = profile.profile.device_class.strip()
            space = profile.profile.xcolor_space
        except (ImageCms.PyCMSError, OSError, ValueError, AttributeError):
            raise ValueError("it is not an ICC profile") from None
        if kind != "prtr":
            raise ValueError(f"it is not a printer’s profile (its kind is “{kind}”)")
        if space not in _MODES:
            raise ValueError(f"its colours are “{space.strip()}”, not RGB or CMYK")
        srgb, mode = ImageCms.createProfile("sRGB"), _MODES[space]
        try:
            self._there = ImageCms.buildTransform(srgb, profile, "RGB", mode, _INTENT, _FLAGS)
            self._back = ImageCms.buildTransform(profile, srgb, mode, "RGB", _INTENT, _FLAGS)
            self.printed(Image.new("RGB", (2, 1), (200, 30, 30)))
        except (ImageCms.PyCMSError, OSError, ValueError):
            raise ValueError("it cannot be used both ways, to the printer and back") from None

    def printed(self, image: Image.Image) -> Image.Image:
        """An RGB picture as the printer would give it on white; a new picture of the same size."""
        inks = ImageCms.applyTransform(image, self._there)
        assert inks is not None  # only an in-place transform returns nothing
        seen = ImageCms.applyTransform(inks, self._back)
        assert seen is not None
        bare = np.asarray(image).min(axis=2) == 255
        seen.paste((255, 255, 255), mask=Image.fromarray(bare))
        return seen

    def outside(self, image: Image.Image) -> NDArray[np.bool_]:
        """Where an RGB picture holds colours that the printer cannot reach: (height, width)."""
        codes = np.asarray(image)
        flat = (codes.astype(np.uint32) @ np.array([65536, 256, 1], np.uint32)).ravel()
        several, where = np.unique(flat, return_inverse=True)
        asked = np.stack([several >> 16, several >> 8 & 255, several & 255], axis=1)
        strip = Image.fromarray(np.ascontiguousarray(asked.astype(np.uint8)[None]))
        given = np.asarray(self.printed(strip))[0]
        off = ciede2000(lab_of(asked), lab_of(given))
        return np.asarray((off > REACHED)[where].reshape(codes.shape[:2]))
