"""Blanks that would read alike to customers, from a measured one to the pages and notes."""

from __future__ import annotations

from pathlib import Path

from proofgen.model.blank_names import called_in
from proofgen.say.tongue import Tongue
from proofgen.shop import read_shop
from tests.cli.small import DESIGNS, SEASON, make_shop, run, write

WRAP = (
    "--construction wrap --vessel 66.1mm --height 101mm --thickness 3mm --closure 30mm "
    "--finish linen-look"
)


def _offered_beside(shop: Path, name: str) -> None:
    text = DESIGNS["tag"].replace("pouch-flat: 9.00", f"can-wrap-linen: 9.00, {name}: 9.00")
    write(shop / "designs" / "tag" / "design.md", text)


def _names(shop: Path) -> list[str]:
    blanks = read_shop(shop).blanks
    both = (blanks["can-wrap-linen"], blanks["renske-linen-wrap"])
    return [called_in(one, Tongue()).replace("\N{NO-BREAK SPACE}", " ") for one in both]


def test_a_measured_blank_beside_the_built_in_one(tmp_path: Path) -> None:
    shop = make_shop(tmp_path / "shop")
    run(shop, "measure", "--name", "Renske linen wrap", "--length", "230mm", *WRAP.split()).ended(0)
    assert len({*_names(shop)}) == 1  # nothing offers it yet
    _offered_beside(shop, "renske-linen-wrap")
    assert _names(shop)[1] == "Wrap sleeve, linen-look, 230 × 101 mm"
    assert len({*_names(shop)}) == 2
    assert "one name for customers" not in run(shop, "check").err


def test_twins_as_large_as_each_other_are_noted(tmp_path: Path) -> None:
    shop = make_shop(tmp_path / "shop")
    size = WRAP.replace("101mm", "100mm").split()
    run(shop, "measure", "--name", "Renske linen wrap", "--length", "240mm", *size).ended(0)
    _offered_beside(shop, "renske-linen-wrap")
    said = "can-wrap-linen and renske-linen-wrap have one name for customers"
    assert said in run(shop, "check").err
    write(shop / "seasons" / "winter.md", SEASON)
    assert said in run(shop, "catalogue").out
    own = shop / "blanks" / "renske-linen-wrap.yaml"
    write(own, f"{own.read_text('utf-8')}called: Renske’s wrap\n")
    assert said not in run(shop, "check").err
