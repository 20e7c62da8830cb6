"""Whether the records were put back to an older day than the workroom beside them has seen.

Journal and head that were put back together are whole by themselves. The workroom, which lies
beside them and is seldom put back with them, remembers how far they were.
"""

from __future__ import annotations

from contextlib import suppress

from proofgen import store
from proofgen.errors import UsageError
from proofgen.signoff import since, stand
from proofgen.workshop import Workshop

_FILE = "records.txt"  # of the workroom


def note_records(workshop: Workshop) -> None:
    """Remember how far the records are now, unless what was remembered is no longer in them."""
    now = stand(workshop.records)
    if now and now != _noted(workshop) and not older_records(workshop):
        store.write(workshop.workroom / _FILE, now + "\n")


def older_records(workshop: Workshop) -> str:
    """What to tell people where the records lack what the workroom has seen; '' where they hold
    it, or where nothing was remembered."""
    noted = _noted(workshop)
    with suppress(UsageError):  # what stands there was never written by us
        if noted and since(workshop.records, noted) is None:
            path = workshop.workroom / _FILE
            return (
                "The records are not those that were here last: what a command wrote into them "
                "since is missing (were they put back from an older day?). What was answered, "
                "signed, pressed or handed over since then is not known to them, so press nothing "
                "by them.\n    To mend it: put the newest records folder back; the letters and "
                f"receipts in {workshop.workroom / 'letters'} tell what was answered. If "
                f"these are the ones you want, delete {path}."
            )
    return ""


def _noted(workshop: Workshop) -> str:
    try:
        return (workshop.workroom / _FILE).read_text("utf-8").strip()
    except (OSError, ValueError):
        return ""
