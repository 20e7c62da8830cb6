"""Map and structured data, judged by schemas of others; the feed, by a reader of others."""

from __future__ import annotations

import functools
import html
import io
import json
import re
import tarfile
from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from typing import Any

import feedparser
import pytest
from lxml import etree

from proofgen.catalogue import Issue, build
from proofgen.render import Theme
from tests.catalogue.season import KNIT, QUAY, TILE, entry, season
from tests.real_photos import Package, archive_of

SITE = "https://pierhead.example/shop"
_MAPS = Package(
    "sitemap",
    "9.0.1",
    "sitemap-9.0.1.tgz",
    "413c182add50ef752a3a700a406eb3d8f0ef06bb4b80868563cea7d3ea620575",
)  # MIT; carries the schema of sitemaps.org
_VOCABULARY = Package(
    "schema-dts",
    "2.1.0",
    "schema-dts-2.1.0.tgz",
    "120408039b33cba2e9fa4a9f85a867ab6df059240c5b7111ea480118b8ea8ebb",
)  # Apache-2.0; schema.org's classes and properties as TypeScript


def member(package: Package, name: str) -> bytes:
    with tarfile.open(fileobj=io.BytesIO(archive_of(package)), mode="r:gz") as archive:
        file = archive.extractfile(name)
        assert file
        return file.read()


@pytest.fixture(scope="module")
def files() -> dict[str, bytes]:
    hostile = entry("bad", "Tea & <b>“toast”</b> ]]> für Zoë 👩‍🍳")
    old = Issue(id="autumn", title="Autumn", sentence="Late.", text="", when="past",
                entries=(entry("leaf", "Leaf"),))  # fmt: skip
    now = Issue(id="spring", title="Spring", sentence="Light.", text="", when="now",
                entries=(QUAY, KNIT, TILE, hostile))  # fmt: skip
    content = season(now.entries, site=SITE, today=date(2026, 11, 25), issues=(now, old))
    return build(replace(content, currency="EUR"), Theme("quay"), with_pdf=False)


# -- the map ---------------------------------------------------------------------------------


def test_the_map_holds_to_the_schema_of_maps(files: Mapping[str, bytes]) -> None:
    schema = etree.XMLSchema(etree.fromstring(member(_MAPS, "package/schema/sitemap.xsd")))
    schema.assertValid(etree.fromstring(files["sitemap.xml"]))
    wrong = files["sitemap.xml"].replace(b"<loc>", b"<where>").replace(b"</loc>", b"</where>")
    assert not schema.validate(etree.fromstring(wrong))


# -- the feed --------------------------------------------------------------------------------


def test_a_reader_of_feeds_reads_all_of_it(files: Mapping[str, bytes]) -> None:
    read = feedparser.parse(files["feed.xml"])
    assert not read.bozo and read.version == "atom10" and read.feed.language == "en"
    assert read.feed.title and read.feed.author_detail.name == "Pierhead Press"
    homes = {one.rel: one.href for one in read.feed.links}
    assert homes["self"] == f"{SITE}/feed.xml" and homes["alternate"] == f"{SITE}/"
    designs = [one for one in read.entries if "/designs/" in one.link]
    assert {one.title for one in designs} >= {"Quay photo", "Knitted cup", "Gull tile"}
    assert "Tea & <b>“toast”</b> ]]> für Zoë 👩‍🍳" in {html.unescape(one.title) for one in designs}
    for one in read.entries:
        assert one.link.removeprefix(f"{SITE}/") in files, "an entry leads to a page that is there"
        assert one.updated_parsed[:3] == (2026, 11, 25) and one.summary
    broken = feedparser.parse(files["feed.xml"].replace(b"</entry>", b"", 1))
    assert broken.bozo, "the reader says so where something is wrong"


# -- structured data -------------------------------------------------------------------------


@functools.cache
def vocabulary() -> dict[str, tuple[tuple[str, ...], frozenset[str]]]:
    """Of each class what it is a kind of, and the properties that it brings."""
    text = member(_VOCABULARY, "package/dist/schema.d.ts").decode()
    found = {}
    pattern = r"interface (\w+?)(?:Base|Leaf) extends ([^{]+)\{(.*?)\n\}"
    for name, kinds, body in re.findall(pattern, text, re.S):
        of = tuple(k.removesuffix("Base") for k in re.findall(r"\w+Base", kinds))
        properties = frozenset(re.findall(r'^\s+"(\w+)"\?:', body, re.M))
        before = found.get(name, ((), frozenset[str]()))
        found[name] = ((*before[0], *of), before[1] | properties)
    return found


def properties_of(kind: str) -> frozenset[str]:
    kinds, own = vocabulary()[kind]
    return own.union(*(properties_of(one) for one in kinds if one != kind))


def strange(data: Any, at: str = "") -> list[str]:
    """What of structured data is no class or property of schema.org's."""
    if isinstance(data, list):
        return [said for one in data for said in strange(one, at)]
    if not isinstance(data, dict):
        return []
    kind = data.get("@type", "")
    if kind not in vocabulary():
        return [f"{at}: no class {kind!r}"]
    known = properties_of(kind)
    told = [f"{kind}.{k}" for k in data if not k.startswith("@") and k not in known]
    return told + [said for key, one in data.items() for said in strange(one, f"{at}.{key}")]


def data_on(page: bytes) -> dict[str, Any]:
    found = re.search(rb'<script type="application/ld\+json">(.*?)</script>', page, re.S)
    assert found
    read: dict[str, Any] = json.loads(found[1])
    return read


def test_structured_data_has_schema_org_s_words(files: Mapping[str, bytes]) -> None:
    read = {
        name: data_on(page)
        for name, page in files.items()
        if name == "index.html" or name.startswith(("designs/", "for/"))
    }
    assert {one["@type"] for one in read.values()} == {"Product", "CollectionPage"}
    assert [said for one in read.values() for said in strange(one)] == []
    assert {one["@context"] for one in read.values()} == {"https://schema.org"}
    offers = read["designs/quay-photo.html"]["offers"]["offers"]
    assert all({"price", "priceCurrency", "availability"} <= set(one) for one in offers)
    assert strange({"@type": "Product", "cost": "1", "offers": {"@type": "Bargain"}}) == [
        "Product.cost",
        ".offers: no class 'Bargain'",
    ]
