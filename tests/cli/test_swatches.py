"""`swatches` and `--readings`: an ink made up here comes back as the correction."""

from __future__ import annotations

import warnings
from pathlib import Path

import numpy as np
import pytest

from proofgen.colour import hex_to_rgb8, linear_to_lab, srgb_to_linear
from proofgen.colour.chart import CHART
from proofgen.desk.swatches import take_readings
from proofgen.workshop import open_workshop
from tests.cli.small import files, make_shop, run

SKY = "#6fb7e9"
# An ink of our own: what it lets through on the sky cloth, in linear light.
INK = np.array([[0.12, 0.02, 0.01], [0.05, 0.36, 0.04], [0.02, 0.08, 0.70]])
BLANK = """\
# Ours.
name: Market patch
construction: flat
width: 150 mm
height: 110 mm
bleed: 4 mm
safe: 6 mm
cloth:
  finish: linen-look  # from the roll
  colours: {white: "#ffffff", sky: "#6fb7e9"}
press: {heat: 196 C, time: 55 s, from: trial}
"""


def pressed(noise: float = 0.0) -> np.ndarray:
    """CIE Lab of every swatch as that ink gives it on sky (n, 3)."""
    asked = srgb_to_linear(np.array([hex_to_rgb8(p.colour) for p in CHART]) / 255)
    bare = srgb_to_linear(np.array(hex_to_rgb8(SKY)) / 255)
    lab = linear_to_lab(bare + (asked - 1) @ INK.T)
    return lab + np.random.default_rng(7).normal(0, noise, lab.shape)


def write_csv(path: Path, lab: np.ndarray) -> Path:
    rows = [
        f"{p.number},{lightness:.4f},{a:.4f},{b:.4f}"
        for p, (lightness, a, b) in zip(CHART, lab, strict=True)
    ]
    path.write_text("\n".join(["number,L,a,b", *rows]) + "\n")
    return path


@pytest.fixture
def own(tmp_path: Path) -> Path:
    shop = make_shop(tmp_path / "shop")
    (shop / "blanks").mkdir(exist_ok=True)
    (shop / "blanks" / "patch.yaml").write_text(BLANK)
    return shop


def test_a_known_ink_comes_back(own: Path, tmp_path: Path) -> None:
    csv = write_csv(tmp_path / "read.csv", pressed())
    told = run(own, "swatches", "patch", "--readings", csv, "--cloth", "sky").ended(0)
    assert "24 swatches on sky" in told.out and "patch.yaml" in told.out
    shop = open_workshop(own).shop
    assert not shop.faults
    fitted = shop.blanks["patch"].cloth.correction("sky")
    assert fitted is not None
    # Readings are kept as 8-bit codes, so the matrix comes back to about half a code.
    assert fitted.mean < 2.5
    text = (own / "blanks" / "patch.yaml").read_text()
    assert text.startswith(BLANK.split("press:")[0]) and text.endswith(
        BLANK.split("bleed")[-1][-46:]
    )
    assert shop.blanks["patch"].cloth.correction("white") is None


def test_what_is_told_is_what_colour_science_says(own: Path, tmp_path: Path) -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import colour

        lab = pressed(noise=2.0)
        csv = write_csv(tmp_path / "read.csv", lab)
        workshop = open_workshop(own)
        read = take_readings(workshop, "patch", csv, "sky")
        fitted = open_workshop(own).shop.blanks["patch"].cloth.correction("sky")
        assert fitted is not None
        asked = np.array([hex_to_rgb8(p.colour) for p in CHART]) / 255
        linear = colour.models.eotf_sRGB(asked)
        shown = np.clip(fitted.light(linear), 0, 1)
        space = colour.RGB_COLOURSPACES["sRGB"]
        xyz = colour.RGB_to_XYZ(shown, space, apply_cctf_decoding=False)
        off = colour.delta_E(colour.XYZ_to_Lab(xyz, space.whitepoint), lab, method="CIE 2000")
    inked = off[:-1]
    assert read.mean == pytest.approx(inked.mean(), abs=0.02)
    assert read.worst == pytest.approx(inked.max(), abs=0.02)
    assert [off for _, off in read.each] == pytest.approx(inked, abs=0.02)
    assert read.bare == pytest.approx(off[-1], abs=0.02)
    assert 1 < read.mean < 5
    assert "8 dark grey " in read.says[2]


def test_readings_in_another_order_are_refused(own: Path, tmp_path: Path) -> None:
    before = files(own / "blanks")
    csv = write_csv(tmp_path / "read.csv", pressed()[::-1])
    told = run(own, "swatches", "patch", "--readings", csv, "--cloth", "sky").ended(3)
    assert "do not belong to these swatches" in told.err and "read.csv:" in told.err
    assert files(own / "blanks") == before


def test_the_odd_swatch_is_named_and_left_out_on_request(own: Path, tmp_path: Path) -> None:
    lab = pressed()
    lab[3] = (56, -38, -40)  # a cyan that no screen shows is not odd
    lab[8] = linear_to_lab(srgb_to_linear(np.array([200, 60, 40]) / 255))  # no middle grey
    csv = write_csv(tmp_path / "read.csv", lab)
    line = ("swatches", "patch", "--readings", csv, "--cloth", "sky")
    told = run(own, *line).ended(0)
    assert "Unlike the rest: 9 middle grey." in told.out and "--leave-out 9" in told.out
    told = run(own, *line, "--leave-out", "9").ended(0)
    assert "23 swatches on sky" in told.out and "Unlike the rest" not in told.out
    assert "#808080" not in (own / "blanks" / "patch.yaml").read_text()
    told = run(own, *line, "--leave-out", "9,77").ended(2)
    assert "--leave-out names 77" in told.err
    told = run(own, "swatches", "patch", "--leave-out", "9").ended(2)
    assert "--leave-out goes with --readings" in told.err


def test_bad_lines_write_nothing(own: Path, tmp_path: Path) -> None:
    before = files(own / "blanks")
    csv = tmp_path / "read.csv"
    csv.write_text("number,hex\n1,#ff0000\n2,greenish\n77,#000000\n")
    told = run(own, "swatches", "patch", "--readings", csv, "--cloth", "sky").ended(3)
    assert "read.csv:3:" in told.err and "read.csv:4:" in told.err
    csv.write_text("number,hex\n1,#ff0000\n2,#00ff00\n")
    told = run(own, "swatches", "patch", "--readings", csv, "--cloth", "sky").ended(3)
    assert "too few" in told.err
    assert files(own / "blanks") == before


def test_a_built_in_blank_is_copied_first(own: Path, tmp_path: Path) -> None:
    csv = write_csv(tmp_path / "read.csv", pressed())
    told = run(own, "swatches", "coaster-round", "--readings", csv, "--cloth", "sky").ended(0)
    assert "blank of your own now" in told.out
    blank = open_workshop(own).shop.blanks["coaster-round"]
    assert not blank.built_in and blank.cloth.correction("sky") is not None


def test_the_sheet_is_drawn_with_and_without_a_shop(own: Path, tmp_path: Path) -> None:
    target = tmp_path / "swatches.pdf"
    run(own, "swatches", "patch", target, "--cloth", "sky").ended(0)
    assert target.read_bytes().startswith(b"%PDF")
    bare = tmp_path / "nowhere"
    bare.mkdir()
    run(bare, "swatches", "pouch-flat", target).ended(0)
    assert not list(bare.iterdir())


@pytest.mark.parametrize(
    ("options", "says"),
    [
        ((), "BLANK is missing"),
        (("patch", "a.txt"), "not a name for a PDF"),
        (("patch", "a.pdf", "--readings", "b.csv"), "comes before"),
        (("patch", "--readings", "absent.csv"), "there is no file"),
        (("pach", "a.pdf"), "did you mean patch?"),
        (("patch", "a.pdf", "--cloth", "skyy"), "did you mean sky?"),
    ],
)
def test_slips_of_the_command(options: tuple[str, ...], says: str, own: Path) -> None:
    told = run(own, "swatches", *options).ended(2)
    assert says in told.err


def test_which_cloth_must_be_said(own: Path, tmp_path: Path) -> None:
    csv = write_csv(tmp_path / "read.csv", pressed())
    told = run(own, "swatches", "patch", "--readings", csv).ended(2)
    assert "white, sky" in told.err
