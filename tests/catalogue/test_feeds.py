"""Feed and map of the site, read by the standard's own rules and a reader of somebody else's."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from dataclasses import replace
from datetime import date, datetime
from urllib.parse import urlsplit

from proofgen.catalogue import build
from proofgen.catalogue.content import Issue
from proofgen.catalogue.feeds import feed, sitemap
from proofgen.render import Theme
from tests.catalogue.season import KNIT, QUAY, TILE, entry, season

SITE = "https://pierhead.example/shop"
ATOM = {"a": "http://www.w3.org/2005/Atom"}
MAP = {"m": "http://www.sitemaps.org/schemas/sitemap/0.9"}


def content(day: date = date(2026, 11, 25), **other: object):  # type: ignore[no-untyped-def]
    now = Issue(id="spring", title="Spring", sentence="Light.", text="", when="now",
                entries=(QUAY, KNIT, TILE))  # fmt: skip
    old = Issue(id="autumn", title="Autumn", sentence="Late.", text="", when="past",
                entries=(entry("leaf", "Leaf"),))  # fmt: skip
    return season(site=SITE, today=day, issues=(now, old), **other)


def test_the_feed_holds_what_atom_asks_for() -> None:
    """RFC 4287, 4.1.1 and 4.1.2: exactly one id, title and updated; an author; a self link."""
    root = ET.fromstring(feed(content(), "en"))
    assert root.tag == f"{{{ATOM['a']}}}feed"
    for name in ("id", "title", "updated"):
        assert len(root.findall(f"a:{name}", ATOM)) == 1
    assert root.findtext("a:author/a:name", "", ATOM)
    (self_link,) = [e for e in root.findall("a:link", ATOM) if e.get("rel") == "self"]
    assert self_link.get("href") == f"{SITE}/feed.xml"
    entries = root.findall("a:entry", ATOM)
    ids = [e.findtext("a:id", "", ATOM) for e in entries]
    assert len(ids) == len(set(ids)) == 5 and all(urlsplit(i).scheme == "https" for i in ids)
    for one in entries:
        moment = one.findtext("a:updated", "", ATOM)
        assert datetime.fromisoformat(moment).tzinfo is not None
        assert one.findtext("a:title", "", ATOM) and one.findtext("a:summary", "", ATOM)


def test_what_did_not_change_keeps_its_day() -> None:
    first = feed(content(), "en")
    other = replace(QUAY, text="Now in three inks.")
    later = content(date(2026, 12, 1), entries=(other, KNIT, TILE))
    again = ET.fromstring(feed(later, "en", first))
    days = {
        e.findtext("a:title", "", ATOM): e.findtext("a:updated", "", ATOM)[:10]
        for e in again.findall("a:entry", ATOM)
    }
    assert days.pop("Quay photo") == "2026-12-01"
    assert set(days.values()) == {"2026-11-25"}
    assert again.findtext("a:updated", "", ATOM).startswith("2026-12-01")
    assert feed(content(date(2026, 12, 1)), "en", first) == first, "nothing new, the same bytes"
    assert feed(content(), "en", b"<broken") == first


def test_hostile_words_stay_words_in_the_feed() -> None:
    bad = "</title><script>x()</script>&amp; ]]>"
    made = feed(replace(content(), shop_name=bad, entries=(entry("bad", bad),)), "en")
    root = ET.fromstring(made)
    assert root.findtext("a:title", "", ATOM) == bad
    assert root.findall("a:entry", ATOM)[-1].findtext("a:title", "", ATOM) == bad


def test_the_map_lists_every_public_page_once() -> None:
    made = build(content(), Theme("quay"), with_pdf=False)
    root = ET.fromstring(made["sitemap.xml"])
    listed = [e.text or "" for e in root.findall("m:url/m:loc", MAP)]
    assert listed[0] == f"{SITE}/" and len(listed) == len(set(listed))
    addresses = {url.removeprefix(f"{SITE}/") or "index.html" for url in listed}
    left_out = {"404.html", "seasons/spring.html"}  # the last is the front once more
    assert addresses == {name for name in made if name.endswith(".html")} - left_out
    assert "seasons/autumn.html" in addresses and "designs/leaf.html" in addresses
    assert b"p/x" in sitemap(content(), ["p/x.html"], ()), "the test can see a private page"
    assert "/p/" not in made["sitemap.xml"].decode()


def test_a_past_season_stays_to_look_at() -> None:
    made = build(content(), Theme("quay"), with_pdf=False)
    from tests.catalogue.reading import Page, broken

    assert broken(made) == []
    autumn, leaf = (Page(made[n].decode()) for n in ("seasons/autumn.html", "designs/leaf.html"))
    assert "This season is over" in autumn.words and "../designs/leaf.html" in autumn.references
    assert "From a season that is over: Autumn" in leaf.words
    assert not [r for r in leaf.references if "subject=" in r]
    assert '"availability": "https://schema.org/Discontinued"' in made["designs/leaf.html"].decode()
    assert "Leaf" not in Page(made["index.html"].decode()).words
    assert "seasons/autumn.html" in Page(made["index.html"].decode()).references


def test_a_season_to_come_shows_its_words_alone() -> None:
    soon = Issue(id="summer", title="Summer", sentence="Warm.", text="Soon.", when="soon",
                 begins=date(2027, 6, 1))  # fmt: skip
    base = content()
    made = build(replace(base, issues=(*base.issues, soon)), Theme("quay"), with_pdf=False)
    from tests.catalogue.reading import Page

    page = Page(made["seasons/summer.html"].decode())
    assert "This season begins on Tuesday 1 June" in page.words and "Soon." in page.words
    assert page.every("img") == []
