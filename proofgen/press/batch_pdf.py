"""One PDF for each paper and batch, a page for each sheet, written picture by picture."""

from __future__ import annotations

import contextlib
import io
import re
from collections.abc import Callable, Iterator, Sequence
from typing import BinaryIO

import pikepdf

from proofgen.press.pieces import InkKey
from proofgen.press.planning import SheetPlan
from proofgen.press.sheet import Ink, add_sheet, finish, picture_of

# The furniture of so many sheets is set at once. Ours, see tests/bench/presses.py.
_SHEETS = 16
# What stands in a picture's place until its turn comes, and where that and its length are told.
_STAND_IN = re.compile(rb"stream\nINK(\d{6})\nendstream")
_LENGTH = b"/Length 9"

Sized = Callable[[InkKey], tuple[int, int]]
Inks = Callable[[InkKey], Ink]
Furnish = Callable[[Sequence[SheetPlan]], bytes]


def save_batch(
    stream: BinaryIO,
    *,
    sheets: Sequence[SheetPlan],
    sized: Sized,
    inks: Inks,
    furnish: Furnish,
    title: str,
) -> None:
    """Write sheets as one PDF, the same bytes for the same input.

    The whole is set first with nine bytes for each picture, and the pictures are put in while it
    is written: memory holds one of them, and each is in the file once. `sized` tells the pixels of
    one before it is made.
    """
    order: list[InkKey] = []
    with contextlib.ExitStack() as held:
        pdf = held.enter_context(pikepdf.new())
        pictures: dict[InkKey, pikepdf.Stream] = {}

        def picture(key: InkKey) -> pikepdf.Stream:
            if key not in pictures:
                pictures[key] = picture_of(pdf, Ink(b"INK%06d" % len(order), *sized(key)))
                order.append(key)
            return pictures[key]

        for sheet, drawing in zip(sheets, _drawings(sheets, furnish, held), strict=True):
            add_sheet(pdf, sheet, drawing, picture)
        finish(pdf, title)
        whole = io.BytesIO()
        pdf.save(whole, deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.disable)
    _with_pictures(stream, whole.getvalue(), lambda number: inks(order[number]).data)


def _drawings(
    sheets: Sequence[SheetPlan], furnish: Furnish, held: contextlib.ExitStack
) -> Iterator[pikepdf.Page]:
    """The furniture of each sheet, made for some of them at a time; it is light, and all of it is
    held open until the pages that it is copied to are saved."""
    for start in range(0, len(sheets), _SHEETS):
        made = io.BytesIO(furnish(sheets[start : start + _SHEETS]))
        yield from held.enter_context(pikepdf.open(made)).pages


def _with_pictures(stream: BinaryIO, whole: bytes, picture: Callable[[int], bytes]) -> None:
    """Copy a PDF object by object, each picture in its place, with a new table of where objects
    lie (ISO 32000-1, 7.5.4: lines of twenty bytes)."""
    table = whole.rindex(b"xref\n0 ", 0, whole.rindex(b"startxref"))
    first, trailer = whole.index(b"\n", table + 5) + 1, whole.index(b"trailer", table)
    lines = [whole[at : at + 20] for at in range(first, trailer, 20)]
    starts = {int(line[:10]): at for at, line in enumerate(lines) if line[17:18] == b"n"}
    ends = [*sorted(starts)[1:], table]
    stream.write(whole[: min(starts)])
    done = min(starts)
    for start, end in zip(sorted(starts), ends, strict=True):
        lines[starts[start]] = b"%010d 00000 n \n" % done
        done += stream.write(_filled(whole[start:end], picture))
    tail = whole[trailer : whole.rindex(b"startxref")]
    stream.write(whole[table:first] + b"".join(lines) + tail)
    stream.write(b"startxref\n%d\n%%%%EOF\n" % done)


def _filled(part: bytes, picture: Callable[[int], bytes]) -> bytes:
    """An object with its picture, if it stands for one."""
    found = _STAND_IN.search(part)
    if found is None:
        return part
    data = picture(int(found[1]))
    head = part[: found.start()].replace(_LENGTH, b"/Length %d" % len(data))
    return head + b"stream\n" + data + b"\nendstream" + part[found.end() :]
