"""Check photo/jpeg-quality."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.registry import PRACTICE, Said, check, warn
from proofgen.checks.subjects import ReadableSubject, readable_photos

# ITU-T T.81, Annex K.1: the brightness table that quality 50 stands for.
_K1 = (
    16, 11, 10, 16, 24, 40, 51, 61, 12, 12, 14, 19, 26, 58, 60, 55,
    14, 13, 16, 24, 40, 57, 69, 56, 14, 17, 22, 29, 51, 87, 80, 62,
    18, 22, 37, 56, 68, 109, 103, 77, 24, 35, 55, 64, 81, 104, 113, 92,
    49, 64, 78, 87, 103, 121, 120, 101, 72, 92, 95, 98, 112, 100, 103, 99,
)  # fmt: skip
LEAST = 60


def table_sum(quality: int) -> int:
    """The sum of the brightness table at a quality of 1 to 100, by the usual scaling (IJG)."""
    scale = 5000 // quality if quality < 50 else 200 - 2 * quality
    return sum(min(max((scale * k + 50) // 100, 1), 255) for k in _K1)


def quality_of(table: tuple[int, ...]) -> int:
    """The quality, 1 to 100, whose table is as coarse as this one.

    Sums are compared, so the order in which a decoder lists the table does not matter.
    """
    total = sum(table)
    return min(range(1, 101), key=lambda q: (abs(table_sum(q) - total), -q))


@check(
    "photo/jpeg-quality",
    over=readable_photos,
    why="Photos sent through messengers are compressed again and again; blocks and halos show on "
    "the pressed piece even where there are pixels enough.",
    source=f"ITU-T T.81, Annex K.1, and the scaling of the IJG's encoder; the limit is {PRACTICE}",
    codes={"strongly-compressed": "the tables in the file are those of a low quality"},
)
def jpeg_quality(subject: ReadableSubject) -> Iterator[Said]:
    """No photo was squeezed hard."""
    table = subject.facts.jpeg_tables.get(0, ())
    if len(table) != len(_K1):
        return
    quality = quality_of(table)
    if quality < LEAST:
        yield warn(
            "strongly-compressed",
            "This photo was squeezed hard to make its file small, as messengers do; blocks may "
            "show in skies and around faces.",
            "Ask for the original, sent by mail or as a file.",
            measure=quality,
            limit=LEAST,
        )
