"""What programs read of the catalogue: the feed (Atom, RFC 4287) and the map of the site
(sitemaps.org, protocol 0.9). Both name public pages alone, and need the site's address."""

from __future__ import annotations

import contextlib
import xml.etree.ElementTree as ET
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from proofgen.catalogue.content import Entry, SeasonContent
from proofgen.catalogue.told import description, url_of

FEED, MAP = "feed.xml", "sitemap.xml"
OURS = "Written by proofgen; without this line it is yours, and stays as it is."
_ATOM = "{http://www.w3.org/2005/Atom}"
_SITEMAP = "{http://www.sitemaps.org/schemas/sitemap/0.9}"
_NOT_LISTED = ("404.html",)


@dataclass(frozen=True, slots=True)
class _News:
    """An entry of the feed, as it was told before or is told now."""

    id: str
    title: str
    summary: str

    def updated(self, before: Mapping[_News, str], today: str) -> str:
        """When it last changed: what is told as before keeps its day."""
        return before.get(self, today)


def _told_before(feed: bytes) -> dict[_News, str]:
    """The entries of an older feed of ours, each with its moment."""
    told = {}
    with contextlib.suppress(ET.ParseError):
        for entry in ET.fromstring(feed).iter(f"{_ATOM}entry"):  # a file of our own
            texts = (entry.findtext(f"{_ATOM}{name}") or "" for name in ("id", "title", "summary"))
            told[_News(*texts)] = entry.findtext(f"{_ATOM}updated") or ""
    return {news: moment for news, moment in told.items() if moment}


def _news(content: SeasonContent) -> list[_News]:
    """The seasons, then the designs of the one that is shown."""
    seasons = [
        _News(url_of(content, one.address), one.title, description((one.sentence, one.text)))
        for one in content.issues
    ]
    designs = [
        _News(_design_url(content, entry), entry.title, description((entry.text, entry.title)))
        for entry in content.entries
    ]
    return [*seasons, *designs]


def _design_url(content: SeasonContent, entry: Entry) -> str:
    return url_of(content, f"designs/{entry.id}.html")


def _written(root: ET.Element) -> bytes:
    ET.indent(root, "")
    body = ET.tostring(root, encoding="unicode")
    return f'<?xml version="1.0" encoding="utf-8"?>\n<!-- {OURS} -->\n{body}\n'.encode()


def feed(content: SeasonContent, language: str, before: bytes = b"") -> bytes:
    """The feed. `before` is the last one: what did not change keeps its moment there."""
    ET.register_namespace("", _ATOM.strip("{}"))
    today, known = f"{content.today.isoformat()}T00:00:00Z", _told_before(before)
    every = _news(content)
    moments = [news.updated(known, today) for news in every]
    root = ET.Element(f"{_ATOM}feed", {"xml:lang": language})

    def add(parent: ET.Element, name: str, text: str = "", **said: str) -> ET.Element:
        made = ET.SubElement(parent, f"{_ATOM}{name}", said)
        made.text = text or None
        return made

    add(root, "id", f"{content.site}/")
    add(root, "title", content.shop_name)
    add(root, "subtitle", content.sentence)
    add(root, "updated", max(moments, default=today))
    add(root, "link", rel="self", type="application/atom+xml", href=f"{content.site}/{FEED}")
    add(root, "link", rel="alternate", type="text/html", href=f"{content.site}/")
    add(add(root, "author"), "name", content.shop_name)
    for news, moment in zip(every, moments, strict=True):
        entry = add(root, "entry")
        add(entry, "id", news.id)
        add(entry, "title", news.title)
        add(entry, "updated", moment)
        add(entry, "link", rel="alternate", type="text/html", href=news.id)
        add(entry, "summary", news.summary)
    return _written(root)


def sitemap(content: SeasonContent, addresses: Iterable[str], elsewhere: Iterable[str]) -> bytes:
    """The map of the catalogue's pages; those `elsewhere` are shown at another address too and not
    listed. No private page comes in here: only what the catalogue itself has made does."""
    ET.register_namespace("", _SITEMAP.strip("{}"))
    left_out = {*_NOT_LISTED, *elsewhere}
    root = ET.Element(f"{_SITEMAP}urlset")
    for address in sorted(addresses, key=lambda name: (name != "index.html", name)):
        if address.endswith(".html") and address not in left_out:
            page = ET.SubElement(root, f"{_SITEMAP}url")
            ET.SubElement(page, f"{_SITEMAP}loc").text = url_of(content, address)
    return _written(root)
