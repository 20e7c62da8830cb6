"""A printer's profile: what it gives and cannot reach, judged by a formula and by the library."""

from __future__ import annotations

import io
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageCms

from proofgen.colour import ciede2000, lab_of, linear_to_srgb, srgb_to_linear
from proofgen.colour.printer import MOST_BYTES, SoftProof
from tests.colour.made_profile import device_for, made_profile, weaken
from tests.real_photos import real_photo

COLOURS = np.random.default_rng(11).integers(0, 256, (120, 120, 3), dtype=np.uint8)


@pytest.fixture(scope="module")
def made() -> bytes:
    return made_profile()


def test_what_the_formula_says_is_what_is_shown(made: bytes) -> None:
    got = np.asarray(SoftProof(made).printed(Image.fromarray(COLOURS)))
    device = np.clip(device_for(srgb_to_linear(COLOURS / 255)), 0, 1)
    wanted = linear_to_srgb(np.clip(weaken(device), 0, 1))
    off = ciede2000(lab_of(got), lab_of(wanted * 255))
    assert off.mean() < 0.5 and off.max() < 3  # 33 steps of a table, 8 bits each way


def test_colours_in_reach_stay_and_far_ones_are_told(made: bytes) -> None:
    device = device_for(srgb_to_linear(COLOURS / 255))
    inside = ((device >= 0) & (device <= 1)).all(axis=2)
    beyond = np.abs(device - 0.5).max(axis=2) > 0.9
    outside = SoftProof(made).outside(Image.fromarray(COLOURS))
    assert 0.1 < inside.mean() < 0.5 and beyond.mean() > 0.05
    assert not outside[inside].any()
    assert outside[beyond].mean() > 0.99


def gamut_check(data: bytes, codes: np.ndarray) -> np.ndarray:
    """The colour library's own word: LittleCMS paints what it takes for out of gamut grey."""
    srgb = ImageCms.createProfile("sRGB")
    flags = ImageCms.Flags.SOFTPROOFING | ImageCms.Flags.GAMUTCHECK
    intent = ImageCms.Intent.RELATIVE_COLORIMETRIC

    def done(flags: ImageCms.Flags) -> np.ndarray:
        transform = ImageCms.buildProofTransform(
            srgb, srgb, ImageCms.ImageCmsProfile(io.BytesIO(data)), "RGB", "RGB",
            intent, intent, flags,
        )  # fmt: skip
        return np.asarray(ImageCms.applyTransform(Image.fromarray(codes), transform))

    checked, plain = done(flags), done(ImageCms.Flags.SOFTPROOFING)
    painted = checked[0, 0]
    assert (codes[0, 0] == (0, 255, 0)).all()  # which no printer here reaches
    return (checked == painted).all(axis=2) & (checked != plain).any(axis=2)


@pytest.mark.parametrize("which", ["made", "four inks"])
def test_the_colour_library_judges_alike(which: str, made: bytes) -> None:
    data = made if which == "made" else real_photo("four-inks.icc").read_bytes()
    # Not the dark: with black point compensation a printer's black stands for black, and the
    # library's check does without.
    codes = COLOURS.reshape(-1, 3)
    codes = codes[lab_of(codes)[:, 0] > 35][:8000].reshape(80, 100, 3).copy()
    codes[0, 0] = (0, 255, 0)
    ours = SoftProof(data).outside(Image.fromarray(codes))
    theirs = gamut_check(data, codes)
    assert 0.1 < theirs.mean() < 0.95
    # They look closer and measure in another formula (CIE 1976): what they pass, we pass.
    assert (ours & ~theirs).mean() < 0.01
    assert (ours == theirs).mean() > 0.8
    given = np.asarray(SoftProof(data).printed(Image.fromarray(codes)))
    off = np.linalg.norm(lab_of(given) - lab_of(codes), axis=2)
    assert ours[theirs & (off > 12)].mean() > 0.99
    assert not ours[~theirs & (off < 3)].any()


def test_white_is_bare_cloth_and_the_picture_is_kept(made: bytes) -> None:
    codes = COLOURS.copy()
    codes[:5] = 255
    image = Image.fromarray(codes)
    proof = SoftProof(made)
    assert (np.asarray(proof.printed(image))[:5] == 255).all()
    assert not proof.outside(image)[:5].any()
    assert (np.asarray(image) == codes).all()


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "not an ICC profile"),
        (b"\x00" * 300, "not an ICC profile"),
        (b"\x89PNG" * 100, "not an ICC profile"),
        (b" " * (MOST_BYTES + 1), "larger than 4 MB"),
        (made_profile(kind=b"mntr"), "not a printer’s profile"),
        (made_profile().replace(b"prtrRGB ", b"prtrGRAY"), "its colours are “GRAY”, not RGB"),
        (made_profile(tags=("A2B0",)), "both ways"),
        (made_profile(tags=("B2A0",)), "both ways"),
        (made_profile()[:4000], "."),
        (ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes(), "not a printer’s"),
    ],
)
def test_what_is_no_printers_profile_is_refused(data: bytes, says: str) -> None:
    with pytest.raises(ValueError, match=says):
        SoftProof(data)


def test_a_profile_of_real_inks_is_taken() -> None:
    data = Path(real_photo("four-inks.icc")).read_bytes()
    got = np.asarray(SoftProof(data).printed(Image.fromarray(COLOURS)))
    # Inks are weaker than a screen: the strongest green of all is far out of reach.
    chroma = np.hypot(lab_of(got)[..., 1], lab_of(got)[..., 2])
    assert chroma.mean() < np.hypot(lab_of(COLOURS)[..., 1], lab_of(COLOURS)[..., 2]).mean()
