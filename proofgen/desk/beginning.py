"""A new shop: the few things that are asked, and a first order of the maker's own photo."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

from proofgen import shop as shop_room
from proofgen.desk.drafts import drafted
from proofgen.desk.dragged import typed_path
from proofgen.desk.ordering import Wish, new_order
from proofgen.desk.pictured import to_be_a_picture
from proofgen.desk.questions import Ask, Asker, Question, Refused, yes_or_no
from proofgen.desk.whereabouts import currency_here, zone_here
from proofgen.errors import UsageError
from proofgen.model import Rights
from proofgen.render import theme_names
from proofgen.render.known import known_theme
from proofgen.say import did_you_mean, joined, visible
from proofgen.say.tongue import languages, names_of
from proofgen.workshop import NO_CONTACT, Workshop

FIRST_ORDER = "first-try"
_BLANK, _DESIGN = "can-wrap-linen", "first-design"
_PLAIN_NAME = "My press room"
_NAME = f"What is your shop called? (Enter: {_PLAIN_NAME})"
_MAIL = "Which mail address should customers’ answers come to? (Enter: write it later)"
_A_MAIL = re.compile(r"[^@\s]+@[^@\s]+\.[^@\s]+")
_SITE = (
    "Where on the web will you upload your pages, as https://example.org? (Enter: nowhere yet; "
    "proofs then go along with their letters as files)"
)
_LANGUAGE = "Which language do your customers read? ({known}; Enter: en)"
_THEME = "How shall your pages look? ({known}; Enter: {usual}: calm. kite is festive)"
_KEEP = "How long are a customer’s photos kept after hand-over, as 90 days? (Enter: write it later)"
_PHOTO = (
    "A photo of your own to try, as a first order? Drag it into this window, or type its name "
    "(Enter: none)"
)
_WORDS = "Which words shall stand on it? (Enter: those of the sample, to be written over later)"
_SHOW = (
    "Shall the catalogue of what you offer show this photo, too, to everybody who looks at it? "
    "(yes / Enter: no)"
)
_ZONE = "In which time zone is your shop, like Europe/Dublin? (Enter: {here})"
_MONEY = "Which money are your prices in, like EUR, GBP or USD? (Enter: {here})"


@dataclass(frozen=True, slots=True, kw_only=True)
class Beginning:
    """What was given of a new shop; None or empty where it was left out."""

    name: str = ""
    contact: str = ""
    theme: str | None = None
    telephone: str | None = None
    site: str | None = None
    language: str | None = None
    zone: str | None = None
    currency: str | None = None
    keep: str | None = None
    photo: Path | None = None
    words: str | None = None  # on the first order
    show: bool = False  # the photo in the catalogue, too


@dataclass(frozen=True, slots=True, kw_only=True)
class Begun:
    """A shop that was made: its files; the photo for a first order, its words ('': the sample's)
    and whether the catalogue shows it."""

    made: list[Path]
    photo: Path | None
    words: str
    show: bool
    contact: str  # '' for none yet


def start(folder: Path, given: Beginning, ask: Ask | None) -> Begun:
    """Make a new shop folder. Without a contact the shop cannot make proofs yet. What was answered
    is kept beside the folder until it is there. UsageError, and nothing made, for what cannot
    be."""
    known_theme(given.theme or "quay")
    shop_room.free_for_shop(folder)  # nobody should answer questions for nothing
    whole = folder.absolute()
    with drafted(whole.parent / f".{whole.name}-start.json", ask) as asker:
        return _start(folder, given, asker)


def _start(folder: Path, given: Beginning, asker: Asker) -> Begun:
    name = asker.answer(Question(asks=_NAME, parse=_shop_name, enter=""), given.name or None)
    # First what shows most: whoever stops early has seen their own photo judged.
    photo = _photo(asker, given.photo)
    words, show = "", False
    if photo:
        words = asker.answer(Question(asks=_WORDS, parse=str, enter=""), given.words)
        # It may be a customer's: only a plain yes shows it to everybody.
        show = given.show or bool(asker.answer(Question(asks=_SHOW, parse=yes_or_no, enter="")))
    contact = asker.for_later(_MAIL, shop_room.parse_mail, given.contact or None)
    site = asker.for_later(_SITE, shop_room.parse_site, given.site)
    known = ", ".join(f"{code} {names_of(code)[0]}" for code in languages())
    asks = _LANGUAGE.format(known=known)
    language = asker.for_later(asks, _shop_language, given.language)
    asks = _THEME.format(known=", ".join(theme_names()), usual="quay")
    theme = asker.for_later(asks, _theme, given.theme)
    telephone = Asker(None).for_later("", shop_room.parse_telephone, given.telephone)
    keep = asker.for_later(_KEEP, lambda text: f"{shop_room.parse_keep(text)} days", given.keep)
    here = zone_here()
    asks = _ZONE.format(here=here)
    zone = asker.for_later(asks, shop_room.parse_zone, given.zone) or here
    here = currency_here(zone)
    asks = _MONEY.format(here=here)
    currency = asker.for_later(asks, shop_room.parse_currency, given.currency) or here
    made = shop_room.start(
        folder,
        name or _PLAIN_NAME,
        contact or NO_CONTACT,
        theme or "quay",
        telephone=telephone,
        keep=keep,
        site=site,
        language=language or "en",
        zone=zone,
        currency=currency,
        sample=photo if show else None,
    )
    return Begun(made=made, photo=photo, words=words, show=show, contact=contact)


def _shop_name(text: str) -> str:
    """What a shop is called; a mail address is asked for later. Refused."""
    if _A_MAIL.fullmatch(text.strip()):
        said = f"“{visible(text)}” is a mail address, not what a shop is called"
        raise Refused(
            UsageError(
                f"--name: {said}", "write --name with its name, and --contact with the mail"
            ),
            f"{said}; the address is asked for below. ",
        )
    return text


def _shop_language(text: str) -> str:
    """A language of which proofgen knows the sentences. ValueError."""
    language = shop_room.parse_language(text)
    if language.split("-")[0] not in languages():
        known = joined(languages(), "or")
        raise ValueError(f"pages cannot be made in “{text}” yet; write {known}")
    return language


def _theme(text: str) -> str:
    names = theme_names()
    if text not in names:
        meant = did_you_mean(text, names, typed=True) or f"choose one of: {', '.join(names)}"
        raise ValueError(f"there is no look “{text}”; {meant}")
    return text


def _photo(asker: Asker, given: Path | None) -> Path | None:
    """The maker's own photo, given or asked for; None: no first order."""

    def parse(text: str) -> Path | None:
        path = typed_path(text)
        if not text or path.is_file():
            return to_be_a_picture(path) if text else None
        cure = "check its name, or leave --photo out"
        error = UsageError(f"there is no file “{visible(text)}”", cure)
        raise Refused(error, f"There is no file “{visible(text)}”; check its name. ")

    return asker.answer(
        Question(asks=_PHOTO, parse=parse, enter=""), None if given is None else str(given)
    )


def first_order(workshop: Workshop, photo: Path, words: str, *, show: bool) -> str:
    """An order of the maker's own photo, to look at what is found in it and what a customer sees;
    its name. `words` '': those of the sample; `show`: the catalogue shows it."""
    settings = workshop.shop.settings
    first = workshop.shop.designs[_DESIGN]
    wish = Wish(
        customer=settings.name,
        email="" if settings.contact == NO_CONTACT else settings.contact,
        design=_DESIGN,
        blank=_BLANK,
        cloth=next(iter(workshop.shop.blanks[_BLANK].cloth.colours)),
        quantity=1,
        photos=(str(photo),),
        words=tuple(f"{slot}={words or text}" for slot, text in first.sample_words.items()),
        name=FIRST_ORDER,
        rights=Rights(print=True, show=show or None),  # it is the maker's own photo
    )
    return new_order(workshop, wish, None)[0]
