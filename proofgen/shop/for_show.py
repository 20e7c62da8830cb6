"""Whether a shop that says `demo: yes` is one: its keys and links can be worked out by anybody."""

from __future__ import annotations

import re
from urllib.parse import urlsplit

from proofgen.errors import Place, ShopError
from proofgen.model import Shop

# Names that lead to nobody (RFC 2606, 2 and 3).
_NOBODY = re.compile(r"(?i)(.*\.)?(example(\.(com|net|org))?|test|invalid|localhost)")


def _reaches_somebody(host: str) -> bool:
    return bool(host) and not _NOBODY.fullmatch(host)


def _why_real(shop: Shop) -> str:
    settings = shop.settings
    if _reaches_somebody(settings.contact.rpartition("@")[2]):
        return f"its contact {settings.contact} can be a real one"
    if _reaches_somebody(urlsplit(settings.site).hostname or ""):
        return f"its site {settings.site} can be a real one"
    mails = (order.customer.email.rpartition("@")[2] for order in shop.orders.values())
    if any(map(_reaches_somebody, mails)):
        return "a customer’s mail address in it can be a real one"
    return "" if settings.today else "its calendar does not stand still (today:)"


def refuse_real_demo(shop: Shop) -> None:
    """ShopError for `demo: yes` in a shop in which somebody can be reached, or whose days go by:
    whoever knows the name of an order could answer in its customer's name, and see its page."""
    why = _why_real(shop) if shop.settings.demo else ""
    if why:
        raise ShopError(
            f"demo: yes makes keys and links that anybody can work out, and this is no demo: {why}",
            "take the line out; proofs that were made with it are then made anew, at other links",
            Place("shop.yaml", shop.settings.lines.get("demo")),
        )
