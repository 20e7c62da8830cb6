"""The season of a shop folder on disk: smallest photos, labels, nothing left of the last one."""

from __future__ import annotations

import contextlib
import math
import re
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PIL import Image

from proofgen.desk.ordering import Wish, new_order
from proofgen.pipeline import season_models
from proofgen.pipeline.publishing import make_catalogue
from proofgen.pipeline.season_days import current_season
from proofgen.pipeline.season_pictures import sample_layout
from proofgen.pipeline.seasons import least_photo, season_content
from proofgen.shop import read_shop
from proofgen.views.solid.made import models_can_be_made
from proofgen.workshop import Workshop
from tests.catalogue.reading import Page, broken, pages

SHOP = """\
name: Pierhead Press
contact: hello@pierhead.example
language: en
zone: Europe/Dublin
currency: EUR
site: https://pierhead.example
limits: {good_ppi: 200}
today: 2026-11-25
"""
QUAY = """\
---
title: Quay photo
occasions: [gift]
offered: {my-wrap: {1: 14.50, 6: 13.00}, coaster-round: 6.50}
faces:
  front:
    - photo: {slot: photo, at: fill}
    - photo: {slot: small, at: [10 %, 10 %, 30 mm, 40 %]}
    - words: {slot: name, at: [10 %, 70 %, 80 %, 20 %], size: 9 mm}
labels: {name: the boat’s name, small: the crew}
sample: {photos: {photo: sample.png, small: sample.png}, words: {name: Wren}}
---
A boat.
"""
ROUND = """\
---
title: Round and round
offered: {my-wrap: 15.00}
faces:
  round:
    - photo: {slot: photo, at: fill}
sample: {photos: {photo: sample.png}}
---
All the way.
"""
WRAP = """\
name: Pier wrap
construction: wrap
vessel: {diameter: 66.1 mm}
length: 240 mm
height: 100 mm
thickness: 3 mm
closure: {width: 30 mm, shortest: 10 mm, on_top: right}
bleed: 6 mm
safe: 5 mm
cloth: {finish: linen-look, polyester: 100 %, colours: {white: "#ffffff"}}
"""
SEASON = "---\ntitle: {0}\nsentence: Small things.\ndesigns: [{1}]\n---\nCome in.\n"


@pytest.fixture
def open_shop(tmp_path: Path) -> Iterator[Callable[[], Workshop]]:
    """The shop of this file on disk; each call reads it again."""
    for name, text in {
        "shop.yaml": SHOP,
        "blanks/my-wrap.yaml": WRAP,
        "designs/quay/design.md": QUAY,
        "designs/round/design.md": ROUND,
        "seasons/spring.md": SEASON.format("Spring", "quay, round"),
        "words/about.md": "We are two.",
        "words/care.md": "Wash it.",
    }.items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(text, "utf-8")
    for design in ("quay", "round"):
        Image.new("RGB", (400, 300), "#7090a8").save(tmp_path / "designs" / design / "sample.png")

    with contextlib.ExitStack() as opened:

        def read() -> Workshop:
            shop = read_shop(tmp_path)
            assert not shop.faults, [str(f) for f in shop.faults]
            return opened.enter_context(Workshop(tmp_path, shop))

        yield read


@pytest.mark.skipif(
    not models_can_be_made(), reason="the extra `table` is not installed: trimesh, usd-core"
)
def test_designs_lead_to_models_where_the_shop_wants_them(
    open_shop: Callable[[], Workshop], monkeypatch: pytest.MonkeyPatch
) -> None:
    workshop = open_shop()
    (season,) = workshop.shop.seasons
    quay, other = (one.model for one in season_content(workshop, season).entries)
    assert quay and other and quay.glb != other.glb
    assert quay.glb.startswith(b"glTF") and quay.usdz.startswith(b"PK")
    assert re.fullmatch(r"pictures/[0-9a-f]{16}\.glb", quay.glb_name)
    assert quay.size.startswith("On its can it is ")
    with monkeypatch.context() as painting:  # what was made is not painted again
        painting.setattr(season_models, "paint", lambda *_: pytest.fail("painted again"))
        assert season_content(open_shop(), season).entries[0].model == quay
    with monkeypatch.context() as lacking:
        lacking.setattr(season_models, "models_can_be_made", lambda: False)
        assert [one.model for one in season_content(open_shop(), season).entries] == [None, None]
    (workshop.folder / "shop.yaml").write_text(SHOP + "models: no\n", "utf-8")
    assert [one.model for one in season_content(open_shop(), season).entries] == [None, None]


def needed(mm: float, ppi: float = 200) -> int:
    """Pixels along a length, rounded up: what the shop's own limit asks for."""
    return math.ceil(mm / 25.4 * ppi - 1e-9)


def test_the_smallest_photo_is_what_the_slots_need(open_shop: Callable[[], Workshop]) -> None:
    workshop = open_shop()
    shop = workshop.shop
    # Reckoned by hand from the blank's measures (design 4): half of pi (66.1 + 3) wide with its
    # bleed, and all of the cloth with bleed where a picture goes all the way round.
    half = math.pi * (66.1 + 3) / 2
    coaster = shop.blanks["coaster-round"]
    disc = coaster.width_mm + 2 * coaster.bleed_mm
    for design, blank, width, height in (
        ("quay", "my-wrap", max(half + 12, 30.0), max(100.0 + 12, 40.0)),
        ("quay", "coaster-round", disc, disc),
        ("round", "my-wrap", 240.0 + 12, 100.0 + 12),
    ):
        layout = sample_layout(workshop, shop.designs[design], shop.blanks[blank])
        assert least_photo(layout, 200) == (needed(width), needed(height)), (design, blank)
        assert least_photo(layout, 150) == (needed(width, 150), needed(height, 150))


def test_a_design_without_a_photo_needs_none(open_shop: Callable[[], Workshop]) -> None:
    workshop = open_shop()
    (workshop.folder / "designs/quay/design.md").write_text(
        QUAY.replace("    - photo: {slot: photo, at: fill}\n", "")
        .replace("    - photo: {slot: small, at: [10 %, 10 %, 30 mm, 40 %]}\n", "")
        .replace(", small: the crew", "")
        .replace("photos: {photo: sample.png, small: sample.png}, ", ""),
        "utf-8",
    )
    shop = open_shop().shop
    layout = sample_layout(workshop, shop.designs["quay"], shop.blanks["my-wrap"])
    assert least_photo(layout, 200) is None


def published(workshop: Workshop) -> dict[str, bytes]:
    site = workshop.site
    return {p.relative_to(site).as_posix(): p.read_bytes() for p in site.rglob("*") if p.is_file()}


def test_a_season_replaces_the_one_before(open_shop: Callable[[], Workshop]) -> None:
    workshop = open_shop()
    told = make_catalogue(workshop)
    assert told[0] == "Catalogue: site/index.html (2 designs)" and not workshop.trouble
    first = published(workshop)
    assert broken(first) == [] and "designs/round.html" in first
    theirs = workshop.site / "p" / "token" / "index.html"
    theirs.parent.mkdir(parents=True)
    theirs.write_text("a proof", "utf-8")

    (workshop.folder / "seasons/spring.md").write_text(SEASON.format("Spring", "quay"), "utf-8")
    (workshop.folder / "words/care.md").unlink()
    make_catalogue(open_shop())
    second = published(workshop)
    assert broken(second) == []
    gone = set(first) - set(second)
    assert "words/care.html" in gone
    # An address that people may have kept still leads on; of what was there it says nothing.
    kept_page = Page(second["designs/round.html"].decode())
    assert "not here any more" in kept_page.words and "../index.html" in kept_page.references
    assert "noindex" in str(kept_page.every("meta"))
    assert {n for n in gone if n.startswith("pictures/")}
    kept = {r.removeprefix("../") for it in pages(second).values() for r in it.references}
    kept |= {
        a["content"].removeprefix("https://pierhead.example/")
        for it in pages(second).values()
        for a in it.every("meta")
        if a.get("property") == "og:image"
    }
    assert {n for n in second if n.startswith("pictures/")} <= kept
    assert all("Round and round" not in it.words for it in pages(second).values())
    assert theirs.read_text("utf-8") == "a proof", "private pages are not the catalogue's to remove"


def test_no_alphabet_chooses_the_season(open_shop: Callable[[], Workshop]) -> None:
    """Where several seasons say no days, the maker is asked; what is published stays."""
    workshop = open_shop()
    make_catalogue(workshop)
    before = published(workshop)
    (workshop.folder / "seasons/summer.md").write_text(SEASON.format("Summer", "quay"), "utf-8")
    again = open_shop()
    assert make_catalogue(again) == [] and published(again) == before
    (fault,) = again.trouble
    assert fault.exit_code == 3 and "“spring” and “summer”" in str(fault)
    assert "season: summer in shop.yaml" in fault.cure


def test_what_somebody_left_in_the_site_is_told_before_it_is_uploaded(
    open_shop: Callable[[], Workshop],
) -> None:
    workshop = open_shop()
    assert not any("not made by" in line for line in make_catalogue(workshop))
    (workshop.site / "customers.xlsx").write_bytes(b"names")
    (workshop.site / "favicon.ico").write_bytes(b"meant")
    told = make_catalogue(open_shop())[-1]
    assert "not made by proofgen: “customers.xlsx”. " in told
    assert (workshop.site / "customers.xlsx").is_file()


# Today is 25 November 2026.
@pytest.mark.parametrize(
    ("days", "named", "chosen", "why"),
    [
        ({"a": ("2026-11-01", "2026-11-25"), "b": ("2027-01-01", None)}, "", "a", "hold today"),
        ({"a": ("2026-11-02", None), "b": ("2026-11-01", None), "z": None}, "", "a", "hold today"),
        ({"a": (None, "2026-11-24"), "b": (None, "2026-11-20"), "z": None}, "", "a", "the last"),
        ({"a": ("2026-12-01", None), "b": None}, "", "b", "without days"),
        ({"a": ("2026-12-01", None), "b": ("2026-12-02", None)}, "", "a", "next to begin"),
        ({"a": ("2026-11-01", None), "b": None}, "b", "b", "shop.yaml names it"),
    ],
)
def test_days_choose_the_season(
    open_shop: Callable[[], Workshop],
    days: dict[str, tuple[str | None, str | None] | None],
    named: str,
    chosen: str,
    why: str,
) -> None:
    folder = open_shop().folder
    for old in (folder / "seasons").iterdir():
        old.unlink()
    for name, both in days.items():
        begins, ends = both or (None, None)
        lines = (f"from: {begins}\n" if begins else "") + (f"until: {ends}\n" if ends else "")
        text = SEASON.format(name, "quay").replace("---\n", f"---\n{lines}", 1)
        (folder / f"seasons/{name}.md").write_text(text, "utf-8")
    if named:
        with (folder / "shop.yaml").open("a", encoding="utf-8") as file:
            file.write(f"season: {named}\n")
    workshop = open_shop()
    assert not workshop.shop.faults
    season, said = current_season(workshop) or pytest.fail("no season")
    assert season.id == chosen and why in said


def test_a_season_that_is_not_there_and_days_that_run_backwards_are_told(
    open_shop: Callable[[], Workshop],
) -> None:
    folder = open_shop().folder
    (name,) = (path.stem for path in (folder / "seasons").iterdir())
    text = SEASON.format("Odd", "quay")
    odd = text.replace("---\n", "---\nfrom: 2026-12-01\nuntil: 2026-11-01\n", 1)
    (folder / "seasons/odd.md").write_text(odd, "utf-8")
    with (folder / "shop.yaml").open("a", encoding="utf-8") as file:
        file.write(f"season: {name}x\n")
    told = [fault.sentence() for fault in read_shop(folder).faults]
    assert len(told) == 2 and "ends before it begins" in told[0], told
    assert f"did you mean “{name}”" in told[1]


def test_labels_are_what_people_are_told(open_shop: Callable[[], Workshop]) -> None:
    workshop = open_shop()
    make_catalogue(workshop)
    said = Page(published(workshop)["designs/quay.html"].decode()).words
    assert "The boat’s name" in said and "A photo for “the crew”" in said
    asked: list[str] = []

    def ask(question: str) -> str:
        asked.append(question)
        return "Wren"

    photo = workshop.folder / "designs/quay/sample.png"
    wish = Wish(
        customer="Odalys Fenn",
        email="odalys@fenn.example",
        due="2026-12-12",
        design="quay",
        blank="coaster-round",
        cloth="white",
        quantity=1,
        photos=(f"photo={photo}", f"small={photo}"),
        may_print="yes",
    )
    new_order(workshop, wish, ask)
    assert any("the boat’s name" in question for question in asked), asked


ORDER = """\
customer: {name: Odalys Fenn}
{rights}lines:
  - {design: round, blank: my-wrap, cloth: white, quantity: 1, photos: {photo: pier.png}}
"""


@pytest.mark.parametrize(
    ("rights", "shown"),
    [("", False), ("rights: {print: yes, show: no}\n", False), ("rights: {show: yes}\n", True)],
)
def test_a_customers_photo_is_shown_by_their_leave_alone(
    open_shop: Callable[[], Workshop], rights: str, shown: bool
) -> None:
    folder = open_shop().folder
    sample = folder / "designs" / "quay" / "sample.png"
    Image.new("RGB", (400, 300), "#8a3f20").save(sample)
    order = folder / "orders" / "fenn"
    order.mkdir(parents=True)
    (order / "pier.png").write_bytes(sample.read_bytes())  # the maker liked it
    (order / "order.yaml").write_text(ORDER.replace("{rights}", rights), "utf-8")
    workshop = open_shop()
    make_catalogue(workshop)
    assert [str(error) for error in workshop.trouble] == [] if shown else workshop.trouble
    assert ("designs/quay.html" in published(workshop)) == shown
    assert "designs/round.html" in published(workshop)
    if not shown:
        assert "photo of fenn" in str(workshop.trouble[0])
        assert "rights: {show: yes}" in workshop.trouble[0].cure


@pytest.mark.parametrize(
    ("rights", "also", "shown"),
    [("", False, True), ("rights: {show: no}\n", False, False), ("", True, False)],
)
def test_a_photo_of_the_shops_own_is_shown_unless_a_customer_has_it_too(
    open_shop: Callable[[], Workshop], rights: str, also: bool, shown: bool
) -> None:
    folder = open_shop().folder
    sample = folder / "designs" / "quay" / "sample.png"
    Image.new("RGB", (400, 300), "#8a3f20").save(sample)
    for name, customer in {
        "stall": "none",
        **({"fenn": "{name: Odalys Fenn}"} if also else {}),
    }.items():
        order = folder / "orders" / name
        order.mkdir(parents=True)
        (order / "pier.png").write_bytes(sample.read_bytes())
        text = ORDER.replace("{name: Odalys Fenn}", customer).replace("{rights}", rights)
        (order / "order.yaml").write_text(text, "utf-8")
    workshop = open_shop()
    make_catalogue(workshop)
    assert ("designs/quay.html" in published(workshop)) == shown, workshop.trouble
    if also:
        assert "photo of fenn" in str(workshop.trouble[0])


def test_nothing_of_an_order_is_in_the_catalogue(open_shop: Callable[[], Workshop]) -> None:
    """Whatever it allows: a catalogue with an order is the catalogue without it."""
    workshop = open_shop()
    make_catalogue(workshop)
    before = published(workshop)
    order = workshop.folder / "orders" / "fenn"
    order.mkdir(parents=True)
    Image.new("RGB", (500, 300), "#8a3f20").save(order / "pier.png")
    (order / "order.yaml").write_text(ORDER.replace("{rights}", "rights: {show: yes}\n"), "utf-8")
    again = open_shop()
    make_catalogue(again)
    assert again.trouble == [] and published(again) == before
