"""shop.yaml: who the shop is, its papers, printer, platen, limits, days and rates."""

from __future__ import annotations

import contextlib
import functools
import re
import zoneinfo
from decimal import Decimal
from pathlib import Path

from proofgen import store
from proofgen.errors import ShopError
from proofgen.model import Paper, PressTimes, Printer, Settings
from proofgen.render.wordmark import MOST_BYTES as MOST_DRAWN
from proofgen.render.wordmark import safe_wordmark
from proofgen.say import did_you_mean, near_names, quoted
from proofgen.say.tongue import languages, names_of
from proofgen.shop.getters import Record, named, or_meant
from proofgen.shop.limits_reader import read_limits
from proofgen.shop.money import money
from proofgen.shop.papers import read_papers
from proofgen.shop.paths import inside, is_id, near
from proofgen.shop.values import (
    DAY,
    YES,
    Kind,
    exact,
    length,
    plain_number,
    seconds,
    share,
    whole,
)

# An address that can stand in a mailto link as it is; stricter than RFC 5322 on purpose.
_MAIL = re.compile(r"[A-Za-z0-9._%+'-]+@[A-Za-z0-9-]+(\.[A-Za-z0-9-]+)+")
# As numbers are written anywhere: + and digits, with spaces and marks between (ITU-T E.123).
_TELEPHONE = re.compile(r"\+?[0-9(][0-9 ()/.\u2011-]{3,28}[0-9]")
_DAYS = re.compile(r"([0-9]{1,5})(?: *(day|week|month|year)s?)?")
# A month counts as 30 days and a year as 365: what is promised to be gone is gone by then.
_DAYS_OF = {"day": 1, "week": 7, "month": 30, "year": 365}
_ROOM = re.compile(r"([0-9]{1,7}(?:\.[0-9]{1,3})?) *([MGmg][Bb])")
_UNITS = {"MB": 10**6, "GB": 10**9}
_LEAST_ROOM, _MOST_ROOM = 10**8, 10**12
_SITE = re.compile(r"https?://[A-Za-z0-9.-]+(:[0-9]{1,5})?(/[A-Za-z0-9._~/-]*)?")


def parse_mail(text: str) -> str:
    """A plain mail address. ValueError says what to write."""
    if not _MAIL.fullmatch(text.strip()):
        raise ValueError(f"“{text}” is not a mail address; write it like hello@example.org")
    return text.strip()


def parse_language(text: str) -> str:
    """A language as BCP 47 writes it ('en', 'pt-BR'), also by its name, in English or in itself.
    ValueError says what to write."""
    from babel import Locale, UnknownLocaleError

    try:
        return str(Locale.parse(text.strip().replace("_", "-"), sep="-")).replace("_", "-")
    except (UnknownLocaleError, ValueError, TypeError):
        if code := _language_called(text.strip().casefold()):
            return code
        names = {name: code for code in languages() for name in names_of(code)}
        meant = near_names(text.strip(), names)
        hint = f"did you mean {names[meant[0]]}?" if meant else "write it like en, de or es-MX"
        raise ValueError(f"language “{text}” is not known; {hint}") from None


@functools.cache
def _language_called(name: str) -> str:
    """The code of the one language of that name (in small letters); '' for none."""
    from babel import Locale, UnknownLocaleError

    english = {str(code): str(called) for code, called in Locale("en").languages.items()}
    for code, called in english.items():
        if called.casefold() == name and "_" not in code:
            return code
    for code in english:
        with contextlib.suppress(UnknownLocaleError, ValueError):
            if len(code) == 2 and (Locale(code).get_language_name() or "").casefold() == name:
                return code
    return ""


def parse_currency(text: str) -> str:
    """An ISO 4217 code. ValueError says what to write."""
    from babel.numbers import list_currencies

    code = text.strip().upper()
    if code not in list_currencies():
        raise ValueError(f"currency “{text}” is not known; write its code, like EUR, GBP or USD")
    return code


def parse_zone(text: str) -> str:
    """A time zone of the IANA list. ValueError names the nearest."""
    try:
        return zoneinfo.ZoneInfo(text.strip()).key
    except (zoneinfo.ZoneInfoNotFoundError, ValueError, OSError):
        meant = did_you_mean(text, zoneinfo.available_timezones(), typed=True)
        hint = meant or "write it like Europe/Dublin"
        raise ValueError(f"time zone “{text}” is not known; {hint}") from None


def parse_site(text: str) -> str:
    """The web address of site/, without a slash at its end. ValueError says what to write."""
    if not _SITE.fullmatch(text.strip()):
        whole = f"https://{text.strip()}"
        meant = whole if "." in text and _SITE.fullmatch(whole) else "https://example.org"
        raise ValueError(f"“{text}” is not a web address; write it like {meant}")
    return text.strip().rstrip("/")


def parse_telephone(text: str) -> str:
    """A telephone number as people write it. ValueError says what to write."""
    if not _TELEPHONE.fullmatch(text.strip()):
        raise ValueError(f"“{text}” is not a telephone number; write it like +353 20 913 0148")
    return text.strip()


def parse_keep(text: str) -> int:
    """Days a customer's photos are kept, of days, weeks, months or years. ValueError says what to
    write."""
    said = _DAYS.fullmatch(text.strip().lower())
    days = int(said[1]) * _DAYS_OF[said[2] or "day"] if said else 0
    if not 1 <= days <= _MOST_KEPT:
        raise ValueError(f"“{text}” is not a number of days; write it like 90 days or 3 months")
    return days


def parse_room(text: str) -> int:
    """Bytes of a disk, in the units disks are sold in. ValueError says what to write."""
    room = _ROOM.fullmatch(text.strip())
    size = Decimal(room[1]) * _UNITS[room[2].upper()] if room else Decimal(0)
    if not _LEAST_ROOM <= size <= _MOST_ROOM:
        raise ValueError(f"“{text}” is no room for a store; write 100 MB to 1000 GB, like 2 GB")
    return int(size)


MAIL = Kind(parse_mail, "")
LANGUAGE = Kind(parse_language, "en")
TELEPHONE = Kind(parse_telephone, "")
KEEP = Kind(parse_keep, 1, "{} days".format)
_STORE = Kind(parse_room, 2 * 10**9, lambda size: f"{exact(size / 10**9)} GB")
_SITE_ADDRESS = Kind(parse_site, "")
_ZONE = Kind(parse_zone, "UTC")
_CURRENCY = Kind(parse_currency, "EUR")
_MOST_KEPT = 3650  # days
_PLATEN = length(least=50, most=3000)
_SETTING_UP = seconds(least=0, most=7200)
_MINUTES = plain_number(least=10, most=1440)
_ICC_CURE = "take the profile made for this printer, ink and paper, or take the line out"


def _file_of_shop(folder: Path, name: str, most: int) -> tuple[Path, bytes]:
    """A file below the shop folder and at most one byte more than `most` of it. OSError, or
    ValueError that says what to do."""
    path = inside(folder, name)
    if not path.is_file():
        meant = near(folder, name)
        hint = f"; did you mean “{meant}”?" if meant else "; put it there"
        raise ValueError(f"there is no such file in the shop folder{hint}")
    with path.open("rb") as stream:
        return path, stream.read(most + 1)


def _wordmark(shop: Record, folder: Path | None, name: str) -> str:
    """The shop's name as a drawing, made safe; a bad one is a fault."""
    node = shop.scalar("wordmark")
    if node is None or folder is None:
        return ""
    try:
        _, data = _file_of_shop(folder, node.text, MOST_DRAWN)
        return safe_wordmark(data, node.text, name)
    except ShopError as error:
        shop.fault("wordmark", f"{error.place}: {error.problem}", error.cure)
    except (OSError, ValueError) as error:
        why = (error.strerror or "").lower() if isinstance(error, OSError) else str(error)
        problem, _, cure = why.partition("; ")
        shop.fault("wordmark", f"{quoted(node.text)}: {problem}", cure or "take the line out")
    return ""


def _profile(printer: Record, folder: Path | None) -> tuple[Path | None, str]:
    """The printer's ICC profile, below the shop folder, and its digest; a bad one is a fault."""
    node = printer.scalar("icc")
    if node is None or folder is None:
        return None, ""
    from proofgen.colour.printer import MOST_BYTES, SoftProof  # only shops with one wait for it

    try:
        path, data = _file_of_shop(folder, node.text, MOST_BYTES)
        SoftProof(data)
    except (OSError, ValueError) as error:
        why = (error.strerror or "").lower() if isinstance(error, OSError) else str(error)
        problem, _, cure = why.partition("; ")
        printer.fault("icc", f"printer.icc {quoted(node.text)}: {problem}", cure or _ICC_CURE)
        return None, ""
    return path, store.digest(data)


def _printer(shop: Record, folder: Path | None) -> Printer:
    usual = Printer()
    with shop.map("printer", "the printer") as printer:
        ppi = printer.read("ppi", plain_number(least=72, most=1200), usual.ppi)
        margin = printer.read("margin", length(least=0, most=50), usual.margin_mm)
        # 100 mm ruler: a printer that is off by more than a tenth was told to fit the page.
        with printer.map("scale", "the printer's scale") as scale:
            x, y = (scale.read(axis, share(least=0.9, most=1.1), 1.0) for axis in "xy")
        icc, digest = _profile(printer, folder)
        return Printer(
            ppi=ppi,
            margin_mm=margin,
            scale=(x, y),
            profile=printer.text("profile", ""),
            side=printer.text("side", ""),
            icc=icc,
            icc_digest=digest,
        )


def _sheet_rates(rates: Record, papers: tuple[Paper, ...]) -> dict[str, Decimal]:
    known = {p.name.casefold(): p.name for p in papers}
    prices = {}
    with rates.map("sheet", "the price of a sheet") as sheet:
        for name in sheet.names():
            price = sheet.read(name, money(sheet.source.currency))
            if name.casefold() in known:
                prices[known[name.casefold()]] = price
                continue
            sheet.fault(
                name,
                f"rates.sheet names {quoted(name)}, which is not a paper of this shop",
                or_meant(name, known.values(), f"Papers: {named(known.values())}"),
            )
    return prices


def _times(shop: Record) -> PressTimes:
    """evening: of shop.yaml; `minutes` is how long the maker has."""
    usual = PressTimes()
    with shop.map("evening", "the evening") as evening:
        return PressTimes(
            warm_up_s=evening.read("warm_up", _SETTING_UP, usual.warm_up_s),
            change_s=evening.read("change", _SETTING_UP, usual.change_s),
            handling_s=evening.read("handling", _SETTING_UP, usual.handling_s),
            evening_s=60 * evening.read("minutes", _MINUTES, usual.evening_s / 60),
        )


def _theme(shop: Record, usual: str) -> str:
    theme = shop.text("theme", usual, most=40)
    if not is_id(theme):
        shop.fault(
            "theme",
            f"{quoted(theme)} cannot be a theme's name",
            "take the line out, or write theme: quay",
        )
    return theme


def read_settings(shop: Record, folder: Path | None = None) -> Settings:
    """The settings; a bad value is noted in the record's source and its default is used.

    Files that are named lie below `folder`; without one they are not looked at.
    """
    usual = Settings(name="", contact="")
    name = shop.text("name", most=80)
    contact = shop.read("contact", MAIL)
    papers = read_papers(shop)
    language = shop.read("language", LANGUAGE, usual.language)
    with shop.map("platen", "the platen") as platen:
        wide, high = usual.platen_mm
        platen_mm = platen.read("width", _PLATEN, wide), platen.read("height", _PLATEN, high)
    with shop.map("days", "the days") as days:
        answer = days.read("answer", whole(least=1, most=365), usual.answer_days)
        lead = days.read("lead", whole(least=0, most=365), usual.lead_days)
    shop.source.currency = shop.read("currency", _CURRENCY, usual.currency)
    with shop.map("rates", "the rates") as rates:
        minute = rates.read("minute", money(shop.source.currency)) if rates.has("minute") else None
        sheets = _sheet_rates(rates, papers)
    site = shop.read_filled("site", _SITE_ADDRESS, "")
    theme = _theme(shop, usual.theme)
    before = len(shop.source.faults)
    limits = read_limits(shop)
    sound = len(shop.source.faults) == before
    settings = Settings(
        name=name,
        contact=contact,
        telephone=shop.read_filled("telephone", TELEPHONE, ""),
        keep_days=shop.read("keep", KEEP) if shop.has("keep") else None,
        site=site,
        language=language,
        zone=shop.read("zone", _ZONE, usual.zone),
        currency=shop.source.currency,
        theme=theme,
        models=shop.read("models", YES, usual.models),
        wordmark=_wordmark(shop, folder, name),
        season=shop.text("season", usual.season, most=40),
        papers=papers,
        printer=_printer(shop, folder),
        platen_mm=platen_mm,
        cover_mm=shop.read("cover", length(least=0, most=100), usual.cover_mm),
        limits=limits,
        limits_sound=sound,
        answer_days=answer,
        lead_days=lead,
        spares=shop.read("spares", share(least=0, most=0.5), usual.spares),
        times=_times(shop),
        minute_rate=minute,
        sheet_rates=sheets,
        store_bytes=shop.read("store", _STORE, usual.store_bytes),
        today=shop.read("today", DAY) if shop.has("today") else None,
        demo=shop.read("demo", YES, False),
        place=shop.source.place(None),
        lines=shop.lines(),
    )
    shop.finish()
    return settings
