"""Table of the checks of photos."""

from __future__ import annotations

from dataclasses import replace

from proofgen.geometry import Rect
from proofgen.model import Limits, PhotoUse
from tests.checks.case import NOT_NEEDED, PASS, Case
from tests.checks.factory import (
    FILE,
    design,
    facts,
    given,
    layer,
    layout,
    line,
    order,
    photo,
    words,
)

# ITU-T T.81, Annex K.1, as libjpeg writes it at quality 50.
K1 = (
    16, 11, 10, 16, 24, 40, 51, 61, 12, 12, 14, 19, 26, 58, 60, 55,
    14, 13, 16, 24, 40, 57, 69, 56, 14, 17, 22, 29, 51, 87, 80, 62,
    18, 22, 37, 56, 68, 109, 103, 77, 24, 35, 55, 64, 81, 104, 113, 92,
    49, 64, 78, 87, 103, 121, 120, 101, 72, 92, 95, 98, 112, 100, 103, 99,
)  # fmt: skip


def scaled(quality: int) -> tuple[int, ...]:
    """The table libjpeg writes at a quality of 50 or more."""
    return tuple(max(1, ((200 - 2 * quality) * k + 50) // 100) for k in K1)


def _file(**changes):
    return given(photos={str(FILE): facts(**changes)})


def _ppi(ppi, **changes):
    return given(layout(photo(ppi=ppi, **changes)))


RESOLUTION = [
    Case("photo/effective-resolution", label, _ppi(ppi), wants)
    for label, ppi, wants in [
        ("sharp", 300.0, (PASS,)),
        ("at the good limit", 200.0, (PASS,)),
        ("a hair under the good limit", 199.999, (("warn", "soft"),)),
        ("between", 160.0, (("warn", "soft"),)),
        ("at the floor", 120.0, (("warn", "soft"),)),
        ("a hair under the floor", 119.999, (("stop", "too-coarse"),)),
    ]
] + [
    Case(
        "photo/effective-resolution",
        "the sentence",
        given(layout(photo(Rect(1, 0, 237, 100), photo=facts(859, 645)))),
        (("stop", "too-coarse"),),
        (
            "At 237 × 100 mm this photo gives 92 pixels per inch; below 120 it looks coarse.",
            "Ask for the original, at least 1,867 × 788 pixels; or use it at most 181 mm wide "
            "(109 mm for enough pixels): in order.yaml, as photo: {file: photos/pier.jpg, "
            "size: 181 mm}.",
        ),
    ),
    Case(
        "photo/effective-resolution",
        "a way round is what it is",
        given(layout(photo(Rect(0, 0, 252, 112), photo=facts(859, 645)))),
        (("stop", "too-coarse"),),
        ("at least 1,985 × 882 pixels; or show it on the front alone, where it has 146 ppi.",),
    ),
    Case(
        "photo/effective-resolution",
        "too few for anything",
        given(layout(photo(Rect(1, 0, 237, 100), photo=facts(20, 10)))),
        (("stop", "too-coarse"),),
        ("Ask for the original, at least 1,867 × 788 pixels.",),
    ),
    Case(
        "photo/effective-resolution",
        "never reads as the limit",
        _ppi(119.999),
        (("stop", "too-coarse"),),
        ("gives 119 pixels per inch; below 120",),
    ),
    Case(
        "photo/effective-resolution",
        "zoom costs pixels",
        _ppi(100.0, zoom=1.5),
        (("stop", "too-coarse"),),
        ("at least 2,800 × 1,182 pixels", "without zoom it gives 150"),
    ),
    Case(
        "photo/effective-resolution",
        "the shop's own limits",
        given(layout(photo(ppi=90.0)), limits=Limits(good_ppi=90.0, floor_ppi=60.0)),
        (PASS,),
    ),
    Case(
        "photo/effective-resolution",
        "not measured",
        given(layout(replace(photo(), ppi=None))),
        (("skipped", "unmeasured"),),
    ),
    Case(
        "photo/effective-resolution",
        "a photo nobody can open",
        given(layout(photo(photo=facts(problem="it is empty", problem_code="empty")))),
        (NOT_NEEDED,),
    ),
    Case("photo/effective-resolution", "no photo", given(layout()), (NOT_NEEDED,)),
]

READABLE = [
    Case("photo/readable", "good", _file(), (PASS,)),
    Case("photo/readable", "no photo asked", given(of=order(line(photos={}))), (NOT_NEEDED,)),
    Case("photo/readable", "not read", given(photos={}), (("skipped", "not-looked-at"),)),
    *(
        Case(
            "photo/readable",
            code,
            _file(problem="“pier.jpg” is empty", problem_code=code, cure="Ask for it again"),
            (("stop", code),),
            ("“pier.jpg” is empty.", "Ask for it again."),
        )
        for code in (
            "missing",
            "unreadable",
            "empty",
            "not-a-picture",
            "too-big",
            "damaged",
            "unsupported",
            "slow",
        )
    ),
    Case(
        "photo/readable",
        "a code nobody knows",
        _file(problem="it is odd", problem_code="brand-new"),
        (("stop", "unusable"),),
        ("It is odd.",),
    ),
    Case(
        "photo/readable",
        "a name that would steer the terminal",
        _file(problem="“\x1b[2Jpier.jpg” is empty", problem_code="empty"),
        (("stop", "empty"),),
        ("“⟨U+001B⟩[2Jpier.jpg”",),
    ),
]

ABOUT_THE_FILE = [
    Case("photo/orientation", "upright", _file(orientation=1), (PASS,)),
    *(
        Case("photo/orientation", f"mark {mark}", _file(orientation=mark), (("note", code),))
        for mark, code in [
            (2, "mirrored"),
            (3, "turned"),
            (4, "mirrored"),
            (5, "mirrored"),
            (6, "turned"),
            (7, "mirrored"),
            (8, "turned"),
        ]
    ),
    Case("photo/location", "nothing private", _file(), (PASS,)),
    Case(
        "photo/location",
        "place and camera",
        _file(private=("place", "camera", "time")),
        (("note", "location"), ("note", "private")),
        ("says where it was taken", "(camera and time)"),
    ),
    Case("photo/profile", "none", _file(), (PASS,)),
    Case("photo/profile", "sRGB", _file(profile="sRGB IEC61966-2.1"), (PASS,)),
    Case(
        "photo/profile",
        "wide",
        _file(profile="Display P3"),
        (("note", "converted"),),
        ("made for Display P3;",),
    ),
    Case(
        "photo/profile",
        "broken",
        _file(profile="?", profile_fault="broken"),
        (("note", "broken-profile"),),
        ("Its colour profile is broken and was left out.",),
    ),
    Case(
        "photo/profile",
        "printing inks that do not say which",
        _file(mode="CMYK", ink_doubts=("unknown",)),
        (("warn", "four-inks"),),
        ("It holds printing inks and does not say which; its colours are a guess.",),
    ),
    Case(
        "photo/profile",
        "an oversized one",
        _file(profile_fault="oversized"),
        (("note", "broken-profile"),),
        ("Its colour profile is oversized and was left out.",),
    ),
    Case(
        "photo/profile",
        "printing inks without a mark",
        _file(mode="CMYK", ink_doubts=("unmarked",)),
        (("warn", "four-inks"),),
        ("It holds printing inks without a maker’s mark; it may look like a negative.",),
    ),
    Case("photo/frames", "one", _file(), (PASS,)),
    Case("photo/frames", "many", _file(frames=1200), (("note", "several"),), ("1,200 pictures",)),
    Case("photo/clear-areas", "none", _file(), (PASS,)),
    Case("photo/clear-areas", "some", _file(has_alpha=True), (("note", "clear"),)),
    Case("photo/file-name", "true", _file(), (PASS,)),
    Case(
        "photo/file-name",
        "another",
        _file(format="PNG"),
        (("note", "another-kind"),),
        ("It is really a PNG picture whatever its name says; that does no harm.",),
    ),
    Case("photo/strong-colours", "not counted", _file(), (PASS,)),
    Case("photo/strong-colours", "at the limit", _file(clipped=0.01), (PASS,)),
    Case("photo/strong-colours", "over", _file(clipped=0.125), (("note", "clipped"),), ("12.5 %",)),
]

JPEG = [
    Case("photo/jpeg-quality", "no table", _file(), (PASS,)),
    Case(
        "photo/jpeg-quality",
        "Annex K itself is quality 50",
        _file(jpeg_tables={0: K1}),
        (("warn", "strongly-compressed"),),
    ),
    Case("photo/jpeg-quality", "60", _file(jpeg_tables={0: scaled(60)}), (PASS,)),
    Case(
        "photo/jpeg-quality",
        "59",
        _file(jpeg_tables={0: scaled(59)}),
        (("warn", "strongly-compressed"),),
    ),
    Case("photo/jpeg-quality", "a table of another shape", _file(jpeg_tables={0: (1,)}), (PASS,)),
]

PRESENT = [
    Case("photo/present", "there", given(layout(photo())), (PASS,)),
    Case(
        "photo/present",
        "two lacking",
        given(designs=(design(photos=("photo", "inside", "lid")),)),
        (("stop", "no-photo"), ("stop", "no-photo")),
        ("(“inside”)", "(“lid”)"),
    ),
    Case(
        "photo/present",
        "no design",
        given(of=order(line(design="gone"))),
        (("skipped", "no-design"),),
    ),
]


def _asked(width, height=None, above=(), **changes):
    """A photo whose order asks for so many mm; its place is the whole face, or `rect`."""
    use = PhotoUse(file=FILE, size_mm=(width, height) if width else None)
    return given(layout(photo(**changes), *above), of=order(line(photos={"photo": use})))


_PLACE = {"rect": Rect(20, 20, 60, 45), "fill": False}
ASKED_SIZE = [
    Case("layout/photo-size", "no size asked for", _asked(None), (PASS,)),
    Case("layout/photo-size", "as wide as its place", _asked(60.0, **_PLACE), (PASS,)),
    Case("layout/photo-size", "smaller both ways", _asked(40.0, 30.0, **_PLACE), (PASS,)),
    Case(
        "layout/photo-size",
        "behind the words",
        _asked(60.0, above=(words(ink=Rect(22, 22, 56, 20)),), **_PLACE),
        (("warn", "behind"),),
        ("behind the words of “name”", "photos/pier.jpg}"),
    ),
    Case(
        "layout/photo-size",
        "behind a board",
        _asked(60.0, above=(layer("colour", Rect(10, 10, 80, 40)),), **_PLACE),
        (("warn", "behind"),),
        ("behind what the design draws over it",),
    ),
    Case(
        "layout/photo-size",
        "words beside it",
        _asked(60.0, above=(words(ink=Rect(22, 60, 56, 10)),), **_PLACE),
        (PASS,),
    ),
    Case(
        "layout/photo-size",
        "behind a board, as the design has it",
        _asked(None, above=(layer("colour", Rect(10, 10, 80, 40)),), **_PLACE),
        (PASS,),
    ),
    Case(
        "layout/photo-size",
        "wider than its place",
        _asked(80.0, **_PLACE),
        (("warn", "larger"),),
        ("80 mm of width asked for, but the photo’s place here is 60 × 45 mm", "size: 60 mm}"),
    ),
    Case(
        "layout/photo-size",
        "higher than its place",
        _asked(60.0, 50.0, **_PLACE),
        (("warn", "larger"),),
        ("60 × 50 mm asked for",),
    ),
    Case(
        "layout/photo-size", "larger than the face it fills", _asked(400.0), (("warn", "larger"),)
    ),
    Case("layout/photo-size", "no photo", given(layout()), (NOT_NEEDED,)),
]

CASES = [*ASKED_SIZE, *RESOLUTION, *READABLE, *ABOUT_THE_FILE, *JPEG, *PRESENT]
