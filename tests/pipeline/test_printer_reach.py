"""A shop that names its printer's profile: what the proof shows of it, and what stays as it was."""

from __future__ import annotations

import re
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from proofgen.colour.printer import SoftProof
from proofgen.views.pair import hatched
from proofgen.workshop import open_workshop
from tests.cli.small import SHOP, make_shop, run
from tests.colour.made_profile import made_profile


@pytest.fixture(scope="module")
def profile() -> bytes:
    return made_profile()


def loud(folder: Path) -> Path:
    """A shop whose one design is a green that no ink reaches."""
    shop = make_shop(folder, "fenn")
    for design in (shop / "designs").glob("*/design.md"):
        design.write_text(design.read_text("utf-8").replace("#f3d9a4", "#00f020"), "utf-8")
    return shop


def with_profile(folder: Path, data: bytes, name: str = "our.icc") -> Path:
    shop = loud(folder)
    (shop / name).write_bytes(data)
    (shop / "shop.yaml").write_text(SHOP.replace("margin: 5 mm", f"margin: 5 mm, icc: {name}"))
    return shop


def page_of(shop: Path) -> tuple[str, Path]:
    run(shop, "proof", "fenn").ended(0)
    page = next((shop / "site" / "p").glob("*/index.html"))
    return page.read_text("utf-8"), page.parent


def test_the_proof_shows_and_the_press_does_not(tmp_path: Path, profile: bytes) -> None:
    plain_page, _ = page_of(loud(tmp_path / "plain"))
    shop = with_profile(tmp_path / "shop", profile)
    page, folder = page_of(shop)
    assert "as the printer gives it" in page and "as the printer gives it" not in plain_page
    said = re.search(r"(\d+) % of the picture holds colours this printer cannot reach", page)
    assert said and "Hatched" in page and "Hatched" not in plain_page
    picture = next(p for p in folder.iterdir() if p.name.startswith("reach-"))
    with Image.open(picture) as opened:
        assert opened.convert("RGB").size[0] > 100
    editions = [open_workshop(tmp_path / n).records.latest("fenn") for n in ("plain", "shop")]
    assert editions[0] is not None and editions[1] is not None
    assert editions[0].fingerprint == editions[1].fingerprint
    assert editions[0].rasters == editions[1].rasters


def test_hatching_marks_what_is_out_of_reach_and_nothing_else(profile: bytes) -> None:
    codes = np.full((60, 80, 3), 255, np.uint8)
    codes[:30, :40] = (128, 120, 125)
    codes[30:, :40] = (0, 255, 0)
    printer = SoftProof(profile)
    told, share = hatched(Image.fromarray(codes), printer)
    changed = (np.asarray(told) != codes).any(axis=2)
    assert share == 0.5
    assert not changed[:30].any() and not changed[:, 40:].any()
    # Lines of both tones all over the part, with its own colour between them.
    part = np.asarray(told)[30:, :40].reshape(-1, 3)
    assert 0.3 < changed[30:, :40].mean() < 0.6
    assert {tuple(int(v) for v in c) for c in part} == {(0, 0, 0), (255, 255, 255), (0, 255, 0)}


@pytest.mark.parametrize(
    ("name", "data", "says"),
    [
        ("our.icc", b"not a profile", "it is not an ICC profile"),
        ("our.icc", b" " * (4 * 1024 * 1024 + 1), "larger than 4 MB"),
        ("our.icc", made_profile(kind=b"scnr"), "not a printer’s profile"),
    ],
)
def test_a_bad_profile_is_told_at_its_line(
    name: str, data: bytes, says: str, tmp_path: Path
) -> None:
    shop = with_profile(tmp_path / "shop", data, name)
    told = run(shop, "check").ended(3)
    assert f"shop.yaml:{line_of(shop)}: printer.icc “our.icc”: it is" in told.err
    assert says in told.err


@pytest.mark.parametrize(
    ("written", "says"),
    [
        ("nowhere.icc", "no such file in the shop folder"),
        ("ours.icc", "did you mean “our.icc”?"),
        ("../our.icc", "outside this folder"),
        ("/etc/passwd", "outside this folder"),
        ("[a, b]", "single value"),
    ],
)
def test_the_file_must_lie_in_the_shop(
    written: str, says: str, tmp_path: Path, profile: bytes
) -> None:
    shop = with_profile(tmp_path / "shop", profile)
    text = (shop / "shop.yaml").read_text()
    (shop / "shop.yaml").write_text(text.replace("our.icc", written))
    told = run(shop, "check").ended(3)
    assert f"shop.yaml:{line_of(shop)}:" in told.err and says in told.err


def line_of(shop: Path) -> int:
    lines = (shop / "shop.yaml").read_text().splitlines()
    return next(i for i, line in enumerate(lines, 1) if "icc:" in line)


def test_swatches_of_the_cloth_hold_the_printer_already(tmp_path: Path, profile: bytes) -> None:
    shop = with_profile(tmp_path / "shop", profile)
    inks = ("#ff0000", "#00ff00", "#0000ff", "#000000", "#808080")
    csv = tmp_path / "read.csv"
    rows = zip((1, 2, 3, 7, 9), inks, strict=True)
    csv.write_text("number,hex\n" + "".join(f"{n},{ink}\n" for n, ink in rows))
    order = open_workshop(shop).shop.orders["fenn"].lines[0]
    run(shop, "swatches", order.blank, "--readings", csv, "--cloth", order.cloth).ended(0)
    page, _ = page_of(shop)
    # What was read of real cloth is shown, not once more by way of the profile; the reach is told.
    assert "as the printer gives it" not in page
    assert "colours this printer cannot reach" in page
    # On white cloth too, once it was read, ink is not what was asked.
    assert "The ink on your cloth, white<" in page
