"""What search engines, messengers and other programs are told of the catalogue's pages."""

from __future__ import annotations

import functools
import html
import re
from collections.abc import Iterable
from dataclasses import dataclass
from urllib.parse import urlsplit

import nh3

from proofgen.catalogue.content import Entry, Offer, Plate, SeasonContent
from proofgen.render.house_text import are_words, safe_markdown
from proofgen.say.tongue import Tongue

# What search engines show of a description before they cut it, common practice, no source.
MOST_LETTERS, ENOUGH_LETTERS = 158, 70
_SCHEMA = "https://schema.org"
_PIECE = "C62"  # one of a thing, UN/CEFACT Recommendation 20


@dataclass(frozen=True, slots=True, kw_only=True)
class About:
    """What a page's head says of it. `url` is where it stands for everybody, '' where that is not
    known; `data` its structured data (schema.org, JSON-LD 1.1), None where there is nothing to
    tell."""

    title: str
    description: str
    url: str = ""
    picture: Plate | None = None
    picture_url: str = ""
    feed: str = ""  # the way to the feed, '' where there is none
    data: dict[str, object] | None = None


_TAGLESS = nh3.Cleaner(tags=set())


@functools.lru_cache(maxsize=16_384)  # asked for by a design's page, and once more by the front
def plain(text: str) -> str:
    """The maker's Markdown as one line of words."""
    if are_words(text):
        return " ".join(text.replace("*", "").split())
    apart = re.sub(r"</(p|h[2-4]|li|td|th|blockquote)>|<br>", " ", safe_markdown(text))
    return " ".join(html.unescape(_TAGLESS.clean(apart)).split())


def cut(text: str, most: int = MOST_LETTERS) -> str:
    """At most so many letters of a line: whole sentences where they say enough, else whole words
    and an ellipsis."""
    text = " ".join(text.split())
    if len(text) <= most:
        return text
    whole = max((m.end() for m in re.finditer(r"[.!?…؟。](?=\s)", text[: most + 1])), default=0)
    if whole >= ENOUGH_LETTERS:
        return text[:whole].strip()
    short = text[: most - 1]
    return (short[: short.rfind(" ")] if " " in short else short).rstrip(" ,;:–-") + "…"


def description(parts: Iterable[str]) -> str:
    """A description of the first parts, Markdown, as far as one is."""
    told = ""
    for part in map(plain, parts):
        if len(told) >= ENOUGH_LETTERS:
            break
        closed = not told or told[-1] in ".!?…؟。"
        told = f"{told}{' ' if closed else '. '}{part}".strip() if part else told
    return cut(told)


def url_of(content: SeasonContent, address: str) -> str:
    """Where a file stands for everybody, '' where the site's address is not known. The front is
    the site itself."""
    if not content.site:
        return ""
    return f"{content.site}/{'' if address == 'index.html' else address}"


def root_of(content: SeasonContent) -> str:
    """The way to the site's root from its host's own, for a page that is shown at any address."""
    return f"{urlsplit(content.site).path.rstrip('/')}/"


def policy(content: SeasonContent) -> dict[str, str]:
    """What its pages may ask for besides: what a judge in the browser reads to say whether search
    engines are let in, that one file and nothing else, where the host is known."""
    if not content.site:
        return {}
    parts = urlsplit(content.site)
    return {"connect-src": f"{parts.scheme}://{parts.netloc}/robots.txt"}


def about(
    content: SeasonContent,
    root: str,
    address: str,
    title: str,
    parts: Iterable[str],
    *,
    picture: Plate | None = None,
    data: dict[str, object] | None = None,
    stands: str | None = None,
) -> About:
    """What a page at an address says of itself; `stands` is another address where the same is."""
    shown = picture or content.share
    return About(
        title=title,
        description=description(parts),
        url=url_of(content, address if stands is None else stands),
        picture=shown,
        picture_url=url_of(content, shown.name) if shown else "",
        feed=f"{root}feed.xml" if content.site else "",
        data=data,
    )


def _availability(sold_out: bool) -> str:
    return f"{_SCHEMA}/{'SoldOut' if sold_out else 'InStock'}"


def _offer(content: SeasonContent, entry: Entry, offer: Offer, is_past: bool) -> dict[str, object]:
    steps = [
        {
            "@type": "UnitPriceSpecification",
            "price": str(price),
            "priceCurrency": content.currency,
            "eligibleQuantity": {
                "@type": "QuantitativeValue",
                "minValue": many,
                "unitCode": _PIECE,
            },
        }
        for many, price in offer.prices
    ]
    made: dict[str, object] = {
        "@type": "Offer",
        "name": offer.blank_name,
        "price": str(offer.single_price),
        "priceCurrency": content.currency,
        "availability": f"{_SCHEMA}/Discontinued" if is_past else _availability(offer.sold_out),
        "itemCondition": f"{_SCHEMA}/NewCondition",
        "seller": {"@type": "Organization", "name": content.shop_name},
    }
    if len(steps) > 1:
        made["priceSpecification"] = steps
    if content.site:
        made["url"] = url_of(content, f"designs/{entry.id}.html")
    return made


def product(content: SeasonContent, entry: Entry, is_past: bool = False) -> dict[str, object]:
    """A design as a schema.org Product with an Offer for each piece it goes on. Prices are numbers
    with a point whatever the language, as schema.org asks."""
    offers = [_offer(content, entry, offer, is_past) for offer in entry.offers]
    prices = [price for offer in entry.offers for _, price in offer.prices]
    made: dict[str, object] = {
        "@context": _SCHEMA,
        "@type": "Product",
        "name": entry.title,
        "description": description((entry.text, entry.title)),
        "brand": {"@type": "Brand", "name": content.shop_name},
        "offers": offers[0]
        if len(offers) == 1
        else {
            "@type": "AggregateOffer",
            "priceCurrency": content.currency,
            "lowPrice": str(min(prices)),
            "highPrice": str(max(prices)),
            "offerCount": len(offers),
            "availability": f"{_SCHEMA}/Discontinued" if is_past else _availability(entry.sold_out),
            "offers": offers,
        },
    }
    if content.site:
        made["url"] = url_of(content, f"designs/{entry.id}.html")
        made["image"] = [url_of(content, plate.address) for plate in entry.shown]
    return made


def collection(
    content: SeasonContent, title: str, entries: Iterable[Entry], address: str
) -> dict[str, object] | None:
    """A page of designs as a schema.org CollectionPage, where the designs' addresses are known."""
    if not content.site:
        return None
    listed = [
        {"@type": "ListItem", "position": at, "url": url_of(content, f"designs/{entry.id}.html")}
        for at, entry in enumerate(entries, 1)
    ]
    return {
        "@context": _SCHEMA,
        "@type": "CollectionPage",
        "name": title,
        "url": url_of(content, address),
        "isPartOf": {"@type": "WebSite", "name": content.shop_name, "url": f"{content.site}/"},
        "mainEntity": {"@type": "ItemList", "itemListElement": listed},
    }


def piece_names(content: SeasonContent, tongue: Tongue) -> str:
    """All that is printed on, as one sentence's part."""
    return tongue.joined([card.name for card in content.blanks])
