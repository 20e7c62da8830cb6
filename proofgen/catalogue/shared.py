"""What every page of the catalogue is given."""

from __future__ import annotations

import hashlib
import re
import unicodedata
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any, NamedTuple, TypedDict, TypeVar
from urllib.parse import quote

from markupsafe import Markup

from proofgen.catalogue.content import Entry, Plate, SeasonContent
from proofgen.catalogue.told import policy
from proofgen.render import Theme
from proofgen.render.house_text import own_heading
from proofgen.say.tongue import Tongue, to_say

FONTS = "fonts/"
T = TypeVar("T")


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


class Seen(NamedTuple):
    """A plate as a page shows it; `sizes` is what `srcset` says."""

    src: str
    alt: str
    width_px: int
    height_px: int
    label: str
    sizes: str


def _is_plain(one: object) -> bool:
    """Whether it is known by what it holds; Markup is not, which equals a text."""
    return type(one) is str or isinstance(one, tuple | frozenset)


class Same:
    """Says what a macro said before where it is given the very same: texts and tuples that are
    equal, or one and the same thing. For macros that hang on nothing else, and things that never
    change."""

    def __init__(self) -> None:
        # What was given is kept, so that no other thing comes to be known by its number.
        self._said: dict[tuple[object, ...], tuple[tuple[object, ...], Any]] = {}

    def __call__(self, macro: Callable[..., T], *given: object) -> T:
        told = [one if _is_plain(one) else id(one) for one in given]
        key = (macro, *told)
        if key not in self._said:
            self._said[key] = given, macro(*given)
        said: T = self._said[key][1]
        return said


class Plates:
    """Plates as the pages show them from which `root` leads to the site's; a page shows a dozen,
    and each stands on several pages."""

    def __init__(self, root: str, on_paper: bool) -> None:
        self._root, self._on_paper = root, on_paper
        # A plate is kept, so that no other comes to be known by its number.
        self._known: dict[int, tuple[Plate, Seen]] = {}

    def __call__(self, plate: Plate) -> Seen:
        known = self._known.get(id(plate))
        if known is None:
            known = self._known[id(plate)] = plate, self._seen(plate)
        return known[1]

    def _seen(self, plate: Plate) -> Seen:
        root, shown = self._root, replace(plate, scaled=()) if self._on_paper else plate
        sizes = ", ".join(f"{root}{one.name} {one.width_px}w" for one in shown.scaled)
        return Seen(
            *(root + shown.address, plate.alt, plate.width_px, plate.height_px, plate.label, sizes)
        )


class Shared(TypedDict):
    """What every page is given. `root` leads from it to the site's root; `here` is its address
    where all pages lead to it, else '', so that they have one head; `texts` are names and titles of
    the house texts, `paying` is the one on how an order is paid and sent ('' where there is none),
    `occasions` what its designs are good for, `seen` turns a plate into what it shows, `same` is
    Same, for macros, `fonts`, `season_colour` and `allow` are Theme.render's."""

    season: SeasonContent
    root: str
    here: str
    mail: str
    shop_name: str
    demo: bool
    texts: list[tuple[str, str]]
    paying: str
    occasions: list[Occasion]
    seen: Callable[[Plate], Seen]
    same: Same
    fonts: str
    season_colour: str
    allow: Mapping[str, str]


class Setting:
    """A season while its pages are set, and what they have in common, worked out once for all of
    them. On paper pictures have one size."""

    def __init__(self, content: SeasonContent, theme: Theme, *, on_paper: bool = False) -> None:
        self.content, self.theme, self.tongue = content, theme, theme.tongue
        self._on_paper = on_paper
        self.occasions = occasions(content)
        # Where a blank is drawn among what is printed on.
        self.drawn = {blank: card.id for card in content.blanks for blank in card.blanks}
        self._named = {one.name: at for at, one in enumerate(self.occasions)}
        self._same = Same()
        self._others: dict[tuple[object, str], list[str]] = {}
        self._rooted: dict[str, Shared] = {}
        texts = (f"words/{name}.html" for name in content.texts)
        self._ways = {"index.html", "blanks.html", *texts}

    def good_for(self, entry: Entry) -> list[Occasion]:
        """The occasions of a design, in the order of all; one of another season may have others."""
        places = {self._named[name] for name in entry.occasions if name in self._named}
        return [self.occasions[at] for at in sorted(places)]

    def others(self, macro: Callable[[Occasion, str, bool], str], but: Occasion, root: str) -> str:
        """What a macro says of all occasions but one, in their order; the last is told so. Each is
        said once for all pages, since each page names all the others."""
        if (macro, root) not in self._others:
            self._others[macro, root] = [macro(one, root, False) for one in self.occasions]
        every = self._others[macro, root]
        at = self._named[but.name]
        last = self.occasions[-2 if at == len(every) - 1 else -1]
        return Markup("".join([*every[:at], *every[at + 1 :]][:-1])) + macro(last, root, True)

    def shared(self, root: str, here: str = "") -> Shared:
        """What the page at the address `here` is given, from which `root` leads to the site's."""
        if root not in self._rooted:
            self._rooted[root] = self._shared(root)
        shared = self._rooted[root].copy()
        shared["here"] = here if here in self._ways else ""
        return shared

    def _shared(self, root: str) -> Shared:
        content = self.content
        return {
            "season": content,
            "root": root,
            "here": "",
            "mail": quote(content.contact, safe="@") if "@" in content.contact else "",
            "shop_name": content.shop_name,
            "demo": content.demo,
            "texts": [
                (name, text_title(name, text, self.tongue)[0])
                for name, text in content.texts.items()
            ],
            "paying": own_heading(content.texts.get("paying", ""))[1],
            "occasions": self.occasions,
            "seen": Plates(root, self._on_paper),
            "same": self._same,
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
