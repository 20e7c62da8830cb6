"""What this machine says of where it stands: its time zone, and the money of that country."""

from __future__ import annotations

import os
from contextlib import suppress

ZONE, CURRENCY = "UTC", "EUR"  # where the machine says nothing
_UTC = ("Etc/UTC", "Etc/GMT", "GMT", "Etc/UCT", "Zulu")


def zone_here() -> str:
    """The time zone of this machine (IANA's name)."""
    from babel.localtime import get_localzone

    found = ""
    with suppress(Exception):  # whatever is wrong with a machine's clock, a shop can begin
        found = str(getattr(get_localzone(), "key", None) or "")
    return ZONE if found in ("", *_UTC) or not _is_zone(found) else found


def _is_zone(name: str) -> bool:
    from proofgen.shop.settings_reader import parse_zone

    try:
        return bool(parse_zone(name))
    except ValueError:
        return False


def currency_here(zone: str) -> str:
    """The money (ISO 4217) of the country that a time zone lies in, else of the country that the
    machine's settings of language name (CLDR, by Babel)."""
    from babel.core import get_global
    from babel.numbers import get_territory_currencies

    said = next((v for k in ("LC_ALL", "LC_MONETARY", "LANG") if (v := os.environ.get(k))), "")
    country = said.partition(".")[0].partition("@")[0].rpartition("_")[2]
    for territory in (get_global("zone_territories").get(zone, ""), country):
        with suppress(Exception):
            if len(territory) == 2 and (found := get_territory_currencies(territory)):
                return str(found[0])
    return CURRENCY
