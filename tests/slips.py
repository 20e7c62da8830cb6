"""Composes answer slips as the proof page's script does, for tests and for the demo's walk, and
reads mails."""

from __future__ import annotations

import base64
import re
from collections.abc import Iterable, Mapping
from datetime import UTC, date, datetime
from typing import Any

from proofgen.signoff import SLIP_WORDS, Edition
from proofgen.signoff.digests import canonical
from proofgen.signoff.mail import open_mail
from proofgen.signoff.slip import mac_of, read_payload, summary

BEGIN = "BEGIN ANSWER CODE"
END = "END ANSWER CODE"
WIDTH = 60  # under the 78 characters of RFC 5322 2.1.1, with room for a quote mark


def say_time(written: datetime | str) -> str:
    """'2026-11-25T14:03:00Z', from an aware datetime or as it is. Errors: ValueError."""
    if isinstance(written, datetime):
        if written.tzinfo is None:
            raise ValueError("a time needs its zone")
        written = written.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
    if not re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ", written):
        raise ValueError(f"{written!r} is not a time such as 2026-11-25T14:03:00Z")
    return written


def make_payload(
    edition: Edition,
    answer: str,
    ticks: Iterable[str],
    may_show: bool,
    wrong: Iterable[int],
    name: str,
    remarks: str,
    written: datetime | str,
) -> dict[str, Any]:
    """What the block carries. Errors: ValueError for an answer, tick or piece that is none."""
    payload = {
        "answer": answer,
        "edition": edition.number,
        "fingerprint": edition.fingerprint,
        "may_show": may_show,
        "name": name,
        "order": edition.order,
        "remarks": remarks,
        "ticks": sorted(set(ticks)),
        "time": say_time(written),
        "wrong": sorted(set(wrong)),
    }
    if read_payload(canonical(payload)) is None:
        raise ValueError("this is not an answer that the page could give")
    return payload


def coded_block(signed: bytes, mac: bytes) -> str:
    """The block with its first and last line, wrapped at 60; base64url of RFC 4648 section 5."""
    coded = f"{unpadded(signed)}.{unpadded(mac)}"
    lines = [coded[i : i + WIDTH] for i in range(0, len(coded), WIDTH)]
    return "\n".join([BEGIN, *lines, END])


def compose_slip(
    edition: Edition,
    answer: str,
    ticks: Iterable[str],
    may_show: bool,
    wrong: Iterable[int],
    name: str,
    remarks: str,
    written: datetime | str,
    words: Mapping[str, str] = SLIP_WORDS,
) -> str:
    """The slip as the page's script composes it. Errors: ValueError as make_payload."""
    payload = make_payload(edition, answer, ticks, may_show, wrong, name, remarks, written)
    signed = canonical(payload)
    return summary(payload, words) + coded_block(signed, mac_of(edition.key, signed)) + "\n"


def unpadded(content: bytes) -> str:
    return base64.urlsafe_b64encode(content).decode().rstrip("=")


def read_mail(content: bytes) -> tuple[str, date | None]:
    """The words of an .eml, read at its best, and its own day."""
    mail = open_mail(content)
    return (mail.texts[0] if mail.texts else ""), mail.day
