"""Sheets and tickets that lie there as an earlier run made them, of what it made them from, are not
made again."""

from __future__ import annotations

import json
from collections.abc import Collection, Sequence
from typing import TypedDict, cast

from proofgen import press, store
from proofgen.pipeline.preflight import Prepared
from proofgen.pipeline.remembered import contents_of
from proofgen.pipeline.surroundings import surroundings
from proofgen.pipeline.tickets import as_it_lies
from proofgen.store.standing import Stood, look
from proofgen.workshop import Workshop

_KIND = "press run/2"


class _Kept(TypedDict):
    """What a run told, its files as they stood, and what those held that were fresh then."""

    key: str
    document: press.PressDocument
    files: dict[str, Stood]
    contents: dict[str, str]


def run_key(
    workshop: Workshop, due: Sequence[Prepared], named: Sequence[str], options: Sequence[bool]
) -> str:
    """All that a run of the press hangs on, as the records and the workroom stand now."""
    around = surroundings(workshop)
    orders = [
        (one.order.id, around.of(one.order.id), as_it_lies(workshop, one.order.id)) for one in due
    ]
    return store.digest(store.dump_json([orders, [*named], [*options]]))


def as_made_before(
    workshop: Workshop, key: str
) -> tuple[press.PressDocument, Collection[str]] | None:
    """What an earlier run told and the names of its files, while every one of them lies there as it
    was made; else None."""
    content = workshop.store.recall(_KIND, "")  # the last run alone
    try:
        kept = cast(_Kept, json.loads(content)) if content else None
        if kept is None or kept["key"] != key or not kept["files"]:
            return None
        home = workshop.workroom / "press"
        files, contents = kept["files"], kept["contents"]
        there = {name: one for name, one in look(home)[0].items() if name in files}
        same = {name: [*one] for name, one in there.items()} == files
        fresh = {name: one for name, one in there.items() if name in contents}
        same = same and contents_of(home, fresh) == contents
        return (kept["document"], [*files]) if same else None
    except (ValueError, LookupError, TypeError, AttributeError):
        return None


def keep_made(
    workshop: Workshop, key: str, document: press.PressDocument, names: Collection[str], at_ns: int
) -> None:
    """Remember what this run made, before `at_ns`."""
    home = workshop.workroom / "press"
    files = {name: one for name, one in look(home)[0].items() if name in names}
    if len(files) == len(names):
        contents = contents_of(home, files, at_ns)
        kept: _Kept = {"key": key, "document": document, "files": files, "contents": contents}
        workshop.store.keep(_KIND, "", json.dumps(kept).encode())
