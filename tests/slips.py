"""Answer slips as a customer sends them: composed by the page's own script in a browser.

What a test signs with goes this way or is read off a page; nothing here asks proofgen to sign.
"""

from __future__ import annotations

import functools
import json
import re
from collections.abc import Iterable, Mapping
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

from playwright.sync_api import Page

from proofgen.signoff import Edition
from proofgen.signoff.mail import open_mail, plain_from_html
from tests.browsers import NoBrowser, running_browser

THEME = Path(__file__).resolve().parents[1] / "themes" / "base"
WRITTEN = "2026-11-25T14:03:00Z"
WORDS: Mapping[str, str] = {
    "title": "Answer to proof {edition} of order {order}",
    "ok": "Yes. Press it exactly as shown.",
    "change": "Not yet. Change what I write and show me again.",
    "instead": "Instead of “{old}”: “{new}”",
    "instead_one": "Piece {pieces}: instead of “{old}”: “{new}”",
    "instead_many": "Pieces {pieces}: instead of “{old}”: “{new}”",
    "unsaid": "“{old}” is wrong; what it should be is not said",
    "unsaid_one": "Piece {pieces}: “{old}” is wrong; what it should be is not said",
    "unsaid_many": "Pieces {pieces}: “{old}” is wrong; what it should be is not said",
    "wrong": "Marked as wrong, by number: {pieces}",
    "noted": "Note: {note}",
    "texts": "Words to change: {n}",
    "pieces": "Pieces marked wrong: {n}",
    "note": "A note is with it.",
    "name": "Name: {name}",
    "leave": "Please send the lines below just as they are.",
    "paste": "Please paste your answer here, in place of this line.",
}


@functools.cache
def _script() -> Page:
    """A page with the scripts that compose slips; skips the test where there is no browser."""
    try:
        page = running_browser().new_page()
    except NoBrowser as error:
        from tests.lacking import lacking  # pytest is not there when the demo is walked

        lacking(f"{error}, so no slip can be composed", module=True)
    for name in ("sha256.js", "coded.js", "slip.js"):
        page.add_script_tag(content=(THEME / name).read_text("utf-8"))
    return page


def script_says(expression: str, given: Any = None) -> Any:
    """What the page's script makes of something."""
    return _script().evaluate(expression, given)


@functools.cache
def _composed(given: str) -> str:
    return str(script_says("given => composeSlip(...JSON.parse(given))", given))


def say_time(written: datetime | str) -> str:
    """'2026-11-25T14:03:00Z', from an aware datetime or as it is. Errors: ValueError."""
    if not isinstance(written, datetime):
        return written
    if written.tzinfo is None:
        raise ValueError("a time needs its zone")
    return written.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


def facts_of(edition: Edition, words: Mapping[str, str] = WORDS) -> dict[str, Any]:
    """What the page of an edition tells its script, for tests that make no page."""
    return {
        "order": edition.order,
        "edition": edition.number,
        "fingerprint": edition.fingerprint,
        "key": edition.key.hex(),
        "words": dict(words),
    }


def facts_on(page: Path) -> dict[str, Any]:
    """What a page tells its script."""
    found = re.search(r'id="proof-facts">(.*?)</script>', page.read_text("utf-8"), re.DOTALL)
    assert found, f"{page} has no facts"
    return dict(json.loads(found[1]))


def payload_of(
    facts: Mapping[str, Any], answer: str, written: datetime | str = WRITTEN, **given: Any
) -> dict[str, Any]:
    """What a form hands to the script; empty fields are left out, as the script does."""
    payload = {
        "v": 2,
        "answer": answer,
        "edition": facts["edition"],
        "order": facts["order"],
        "time": say_time(written),
        **given,
    }
    return {key: value for key, value in payload.items() if value not in ("", None, [])}


def signed(payload: Mapping[str, Any], facts: Mapping[str, Any], whole: bool = False) -> str:
    """The slip that the page's script makes of a payload; `whole` as it is copied, not mailed."""
    given = [dict(payload), facts["words"], facts["key"], facts["fingerprint"]]
    return _composed(
        json.dumps([*given, facts.get("pieces", 0), whole, facts.get("given_for", [])])
    )


def compose_slip(
    proof: Edition | Mapping[str, Any],
    answer: str = "ok",
    *,
    name: str = "",
    note: str = "",
    wrong: Iterable[int] = (),
    changes: Iterable[Mapping[str, Any]] = (),
    written: datetime | str = WRITTEN,
    whole: bool = False,
    **more: Any,
) -> str:
    """The slip of a form that was filled in so, from an edition or from what its page tells its
    script. `more`: print, show."""
    facts = facts_of(proof) if isinstance(proof, Edition) else proof
    payload = payload_of(
        facts,
        answer,
        written,
        name=name,
        note=note,
        wrong=sorted(set(wrong)),
        changes=[dict(one) for one in changes],
        **more,
    )
    return signed(payload, facts, whole)


def code_on(page: Path, answer: str) -> str:
    """The code that a page shows beside an answer."""
    return code_beside(plain_from_html(page.read_text("utf-8")), facts_on(page)["words"][answer])


def code_beside(text: str, sentence: str) -> str:
    """The code that stands after a sentence in what a page or a paper says."""
    group = "[0-9A-HJKMNP-TV-Z]{4}"  # Crockford's alphabet
    found = re.search(rf"{re.escape(sentence)}\s*({group}(?:-{group})+)\b", text)
    assert found, text
    return found[1]


def read_mail(content: bytes) -> tuple[str, date | None]:
    """The words of an .eml, read at its best, and its own day."""
    mail = open_mail(content)
    return (mail.texts[0] if mail.texts else ""), mail.day
