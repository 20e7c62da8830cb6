"""A season of sixty designs on five pieces each: no link broken, and a light first view."""

from __future__ import annotations

import gzip
from dataclasses import replace
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from proofgen.catalogue import Entry, build
from proofgen.render import Theme
from tests.catalogue.reading import broken
from tests.catalogue.season import entry, offer, season
from tests.page_checkers import axe_faults, nu_faults

SITE = "https://pierhead.example/shop"
OCCASIONS = ("wedding", "gift", "winter", "boat", "birthday", "home", "market", "garden")
# The whole first view of a phone may be 900,000 bytes (an aim of ours); pictures are measured on
# real ones (tests/bench), so that this leaves them nearly all.
MOST_HTML, MOST_PACKED = 140_000, 25_000


def _design(number: int) -> Entry:
    title = f"Design number {number}"
    offers = tuple(
        offer(
            title,
            f"blank-{k}",
            f"Sleeve {k}, linen-look",
            prices=((1, f"{9 + number % 7 + k}.50"), (6, f"{8 + number % 7 + k}.20")),
            sides=("Front", "Back") if k == 0 else ("Front",),
        )
        for k in range(5)
    )
    good_for = (OCCASIONS[number % 8], OCCASIONS[(3 * number + 1) % 8])
    return entry(f"d{number}", title, *offers, occasions=good_for)


@pytest.fixture(scope="module")
def files() -> dict[str, bytes]:
    every = tuple(_design(number) for number in range(60))
    return build(season(every, site=SITE), Theme("quay"), with_pdf=False)


def test_no_link_is_broken_from_root_or_below(files: dict[str, bytes]) -> None:
    """Links are relative, so a sub-folder and a file see the same; the page for lost addresses
    alone begins at the host."""
    assert broken(files) == []
    for name, content in files.items():
        if name.endswith(".html") and name != "404.html":
            assert b'href="/' not in content and b'src="/' not in content, name


def test_the_front_is_light(files: dict[str, bytes]) -> None:
    front = files["index.html"]
    assert len(front) <= MOST_HTML and len(gzip.compress(front)) <= MOST_PACKED
    assert front.count(b'loading="lazy"') == 60, "what is below the cover waits until one scrolls"
    assert front.count(b'fetchpriority="high"') == 1


@pytest.mark.parametrize("theme", ["quay", "kite"])
def test_two_checkers_find_nothing(browser: Browser, tmp_path: Path, theme: str) -> None:
    few = tuple(_design(number) for number in range(5))
    gone = replace(
        few[4], offers=tuple(replace(o, gone=frozenset({"white", "sky"})) for o in few[4].offers)
    )
    made = build(season((*few[:4], gone), site=SITE), Theme(theme), with_pdf=False)
    for name, content in made.items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_bytes(content)
    looked_at = ("index.html", "designs/d0.html", "designs/d4.html", "for/gift.html",
                 "blanks.html", "404.html")  # fmt: skip
    for scheme in ("light", "dark"):
        context = browser.new_context(
            bypass_csp=True, color_scheme=scheme, viewport={"width": 390, "height": 844}
        )
        page = context.new_page()
        for name in looked_at:
            page.goto((tmp_path / name).as_uri())
            assert axe_faults(page) == [], f"{name} {scheme}"
        context.close()
    assert nu_faults([tmp_path / name for name in looked_at], tmp_path) == []
