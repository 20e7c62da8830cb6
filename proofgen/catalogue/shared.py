"""What every page of the catalogue is given."""

from __future__ import annotations

import hashlib
import re
import unicodedata
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import TypedDict
from urllib.parse import quote

from proofgen.catalogue.content import Entry, Plate, SeasonContent
from proofgen.catalogue.told import policy
from proofgen.render.house_text import own_heading
from proofgen.say.tongue import Tongue, to_say

FONTS = "fonts/"


# What the house texts that most shops have are called, where they have no heading of their own.
_TITLES: Mapping[str, str] = {
    "about": to_say("About us"),
    "care": to_say("Washing"),
    "paying": to_say("Paying and delivery"),
    "photo": to_say("Your photo"),
}


def text_title(name: str, text: str, tongue: Tongue) -> tuple[str, str]:
    """A house text's own first heading and the rest, or a title made of its file's name."""
    heading, rest = own_heading(text)
    if heading:
        return heading, rest
    if name in _TITLES:
        return tongue(_TITLES[name]), text
    return name.replace("-", " ").capitalize(), text


@dataclass(frozen=True, slots=True)
class Occasion:
    """What some designs are good for, its page's address below the site's root, and these."""

    name: str
    address: str
    entries: tuple[Entry, ...]


class Shared(TypedDict):
    """What every page is given. `root` leads from it to the site's root, `here` is its address;
    `texts` are names and titles of the house texts, `paying` is the one on how an order is paid and
    sent ('' where there is none), `occasions` what its designs are good for,
    `seen` turns a plate into what it shows, `fonts`, `season_colour` and `allow` are
    Theme.render's."""

    season: SeasonContent
    root: str
    here: str
    mail: str
    shop_name: str
    demo: bool
    texts: list[tuple[str, str]]
    paying: str
    occasions: list[Occasion]
    seen: Callable[[Plate], dict[str, object]]
    fonts: str
    season_colour: str
    allow: Mapping[str, str]


def _seen(plate: Plate, root: str) -> dict[str, object]:
    """A plate as a page at `root` shows it."""
    sizes = ", ".join(f"{root}{one.name} {one.width_px}w" for one in plate.scaled)
    return {
        "src": root + plate.address,
        "alt": plate.alt,
        "width_px": plate.width_px,
        "height_px": plate.height_px,
        "label": plate.label,
        "sizes": sizes,
    }


def shared(
    content: SeasonContent,
    tongue: Tongue,
    root: str,
    here: str = "",
    every: list[Occasion] | None = None,
    *,
    on_paper: bool = False,
) -> Shared:
    """On paper pictures have one size. `every` are the season's occasions where they were worked
    out before: for each page anew they would cost the square of the number of pages in all."""
    return {
        "season": content,
        "root": root,
        "here": here,
        "mail": quote(content.contact, safe="@") if "@" in content.contact else "",
        "shop_name": content.shop_name,
        "demo": content.demo,
        "texts": [
            (name, text_title(name, text, tongue)[0]) for name, text in content.texts.items()
        ],
        "paying": own_heading(content.texts.get("paying", ""))[1],
        "occasions": occasions(content) if every is None else every,
        "seen": lambda plate: _seen(replace(plate, scaled=()) if on_paper else plate, root),
        "fonts": root + FONTS,
        "season_colour": content.colour,
        "allow": policy(content),
    }


def _plain_name(text: str) -> str:
    """Words as a file's name: plain small letters, figures and hyphens; what has none of these is
    named by its digest."""
    bare = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode().lower()
    name = re.sub(r"[^a-z0-9]+", "-", bare).strip("-")[:60]
    return name or hashlib.sha256(text.encode()).hexdigest()[:8]


def occasions(content: SeasonContent) -> list[Occasion]:
    """Each occasion in the order of the alphabet, with its designs. Two whose names come out alike
    are told apart by a number."""
    designs: dict[str, list[Entry]] = {}
    for entry in content.entries:
        for occasion in entry.occasions:
            designs.setdefault(occasion, []).append(entry)
    made, taken = [], set()
    for name, entries in sorted(designs.items(), key=lambda item: (item[0].casefold(), item[0])):
        plain = wanted = _plain_name(name)
        number = 1
        while plain in taken:
            number += 1
            plain = f"{wanted}-{number}"
        taken.add(plain)
        made.append(Occasion(name, f"for/{plain}.html", tuple(entries)))
    return made
