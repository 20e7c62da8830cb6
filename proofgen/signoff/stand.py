"""How far the records are, in letters short enough to print: to be compared with them later.

Every line's digest covers all lines before it. Printed where no fault of the shop's disk reaches,
it tells when journal and head were put back together to an older day, which they themselves cannot.
"""

from __future__ import annotations

import re
from datetime import datetime
from typing import NamedTuple

from proofgen.errors import UsageError
from proofgen.say import quoted
from proofgen.signoff.editions import moment
from proofgen.signoff.records import Records

_SHOWN, _GROUP = 15, 5  # hexadecimal digits: 60 bits, in groups that no spoken code has
# Between them a dot: mail programs wrap lines after a hyphen, and a quoted letter must stay known.
_LEAST = 10  # of them, when they are typed
_BETWEEN = re.compile(r"[\s.,·:–-]+")


class Since(NamedTuple):
    """Which line of the journal, of how many, was the last one then."""

    line: int
    of: int


def stand(records: Records, order: str = "") -> str:
    """The last line of an order, or of all, as it is printed; '' where there is none."""
    entries = records.entries(order) if order else records.journal.read().entries
    digest = entries[-1].digest[:_SHOWN] if entries else ""
    return ".".join(digest[at : at + _GROUP] for at in range(0, len(digest), _GROUP))


def since(records: Records, typed: str) -> Since | None:
    """The line that was printed so; None where no line is that one (any more).

    Errors: UsageError for what is never printed.
    """
    wanted = _BETWEEN.sub("", typed).casefold()
    if not re.fullmatch(rf"[0-9a-f]{{{_LEAST},64}}", wanted):
        raise UsageError(
            f"{quoted(typed)} does not tell how far records are",
            "type it as it is printed, such as: proofgen records verify --since 0f3a9.7c21e.b58d4",
        )
    entries = records.journal.read().entries
    found = [e.line for e in entries if e.digest.startswith(wanted)]
    return Since(found[0], len(entries)) if found else None


def until(records: Records) -> datetime | None:
    """When the last line of the records was written; None where there is none."""
    entries = records.journal.read().entries
    return moment(entries[-1].head["at"]) if entries else None
